package files

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/internal/outside"
	"stopleaf/internal/worn"
	"stopleaf/recovery"
	"stopleaf/recovery/symbol"
)

// page is a page at 200 dpi that shows a code.
func page(t *testing.T) *image.Gray {
	t.Helper()
	m, err := symbol.Draw(recovery.Text([]byte(title)), 112)
	require.NoError(t, err)
	return worn.NewPage(200, 1, m).Gray
}

// scanned is a part of a PDF that holds a picture.
func scanned(g *image.Gray, keys string, body []byte) []byte {
	return fmt.Appendf(nil, "%%PDF-1.4\n7 0 obj\n<</Type/XObject/Subtype/Image/Width %d/Height %d%s/Length %d>>\nstream\n%s\nendstream\nendobj\n",
		g.Rect.Dx(), g.Rect.Dy(), keys, len(body), body)
}

// rows are the pixels, each as pixel writes it.
func rows(g *image.Gray, pixel func(v uint8) []byte) (out []byte) {
	for y := range g.Rect.Dy() {
		for _, v := range g.Pix[y*g.Stride:][:g.Rect.Dx()] {
			out = append(out, pixel(v)...)
		}
	}
	return out
}

// bits are the pixels at one bit each, rows in whole bytes.
func bits(g *image.Gray, white bool) (out []byte) {
	for y := range g.Rect.Dy() {
		row := make([]byte, (g.Rect.Dx()+7)/8)
		for x, v := range g.Pix[y*g.Stride:][:g.Rect.Dx()] {
			if (v >= 128) == white {
				row[x/8] |= 128 >> (x % 8)
			}
		}
		out = append(out, row...)
	}
	return out
}

// idat are the packed pixels of a PNG, which a PDF can hold as they are.
func idat(t *testing.T, img image.Image) (out []byte) {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, img))
	for data := b.Bytes()[8:]; len(data) > 8; {
		n := int(binary.BigEndian.Uint32(data))
		if string(data[4:8]) == "IDAT" {
			out = append(out, data[8:8+n]...)
		}
		data = data[12+n:]
	}
	return out
}

// What scanners make: the kinds of picture that a PDF can hold (ISO 32000-1, 7.4 and
// 8.9.5).
func TestScannedPDF(t *testing.T) {
	g := page(t)
	colour := image.NewRGBA(g.Rect)
	for y := range g.Rect.Dy() {
		for x := range g.Rect.Dx() {
			v := g.GrayAt(x, y).Y
			colour.SetRGBA(x, y, color.RGBA{v, v / 8 * 7, v / 8 * 6, 255})
		}
	}
	var photo bytes.Buffer
	require.NoError(t, jpeg.Encode(&photo, colour, nil))
	grey := rows(g, func(v uint8) []byte { return []byte{v} })
	deltas := bytes.Clone(grey)
	for i := len(deltas) - 1; i > 0; i-- {
		if i%g.Rect.Dx() != 0 {
			deltas[i] -= deltas[i-1]
		}
	}
	const flat, eight = "/Filter/FlateDecode", "/BitsPerComponent 8"
	for name, file := range map[string][]byte{
		"grey":           scanned(g, eight+"/ColorSpace/DeviceGray"+flat, deflate(grey)),
		"plain":          scanned(g, eight+"/ColorSpace/DeviceGray", grey),
		"inverted":       scanned(g, eight+"/Decode[1 0]"+flat, deflate(rows(g, func(v uint8) []byte { return []byte{255 - v} }))),
		"RGB":            scanned(g, eight+"/ColorSpace 4 0 R"+flat, deflate(rows(g, func(v uint8) []byte { return []byte{v, v, v / 2} }))),
		"inks":           scanned(g, eight+"/ColorSpace/DeviceCMYK"+flat, deflate(rows(g, func(v uint8) []byte { return []byte{0, 0, 0, 255 - v} }))),
		"one bit":        scanned(g, "/BitsPerComponent 1"+flat, deflate(bits(g, true))),
		"mask":           scanned(g, "/ImageMask true/Filter [ /FlateDecode ]", deflate(bits(g, false))),
		"PNG predictor":  scanned(g, eight+flat+"/DecodeParms<</Predictor 15/Columns 99/Colors 1>>", idat(t, g)),
		"RGB predictor":  scanned(g, eight+flat+"/DecodeParms<</Predictor 15/Colors 3>>", idat(t, colour)),
		"TIFF predictor": scanned(g, eight+flat+"/DecodeParms<</Predictor 2/Colors 1>>", deflate(deltas)),
		"JPEG":           scanned(g, eight+"/Filter/DCTDecode", photo.Bytes()),
		"JPEG packed":    scanned(g, eight+"/Filter[/FlateDecode/DCTDecode]", deflate(photo.Bytes())),
		"length aside":   bytes.Replace(scanned(g, eight+flat, deflate(grey)), []byte("/Length "), []byte("/Length 9 0 R /L "), 1),
	} {
		r := Read(file)
		assert.Empty(t, r.Errs, name)
		assert.Equal(t, []string{recovery.Text([]byte(title))}, r.Codes, name)
		assert.True(t, r.Pictured, name)
	}
}

// A fax's packing, by ImageMagick.
func TestScannedFax(t *testing.T) {
	g := page(t)
	dir := t.TempDir()
	name := filepath.Join(dir, "page.png")
	f, err := os.Create(name)
	require.NoError(t, err)
	require.NoError(t, png.Encode(f, g))
	require.NoError(t, f.Close())
	outside.Run(t, "mogrify", "-format", "tif", "-threshold", "50%", "-compress", "Group4", "-define", "tiff:rows-per-strip=99999", name)
	tiff, err := os.ReadFile(filepath.Join(dir, "page.tif"))
	require.NoError(t, err)
	require.Equal(t, "II", string(tiff[:2]))
	tags := map[uint16]uint32{}
	at := binary.LittleEndian.Uint32(tiff[4:])
	for i := range binary.LittleEndian.Uint16(tiff[at:]) {
		e := tiff[at+2+12*uint32(i):]
		v := binary.LittleEndian.Uint32(e[8:])
		if binary.LittleEndian.Uint16(e[2:]) == 3 {
			v &= 0xFFFF
		}
		tags[binary.LittleEndian.Uint16(e)] = v
	}
	require.Equal(t, uint32(4), tags[259], "the packing of ITU-T T.6")
	body := tiff[tags[273]:][:tags[279]]
	keys := fmt.Sprintf("/BitsPerComponent 1/Filter/CCITTFaxDecode/DecodeParms<</K -1/Columns %d/Rows %d>>", g.Rect.Dx(), g.Rect.Dy())
	r := Read(scanned(g, keys, body))
	assert.Empty(t, r.Errs)
	assert.Equal(t, []string{recovery.Text([]byte(title))}, r.Codes)
	assert.NotPanics(t, func() {
		for i := range 8 {
			Read(scanned(g, keys, body[:len(body)*i/8]))
		}
	})
	r = Read(tiff)
	assert.Equal(t, []string{recovery.Text([]byte(title))}, r.Codes, "%v", r.Errs)
}

func TestHostilePictures(t *testing.T) {
	g := page(t)
	small := image.NewGray(image.Rect(0, 0, 40, 40))
	packed := deflate(rows(small, func(v uint8) []byte { return []byte{v} }))
	var whole bytes.Buffer
	require.NoError(t, png.Encode(&whole, g))
	huge := bytes.Clone(whole.Bytes())
	binary.BigEndian.PutUint32(huge[16:], 60_000)
	binary.BigEndian.PutUint32(huge[20:], 60_000)
	binary.BigEndian.PutUint32(huge[29:], crc32.ChecksumIEEE(huge[12:29]))
	image := func(w, h int64, keys string, body []byte) string {
		return fmt.Sprintf("%%PDF-1.4\n7 0 obj\n<</Subtype/Image/Width %d/Height %d%s/Length %d>>\nstream\n%s\nendstream\n", w, h, keys, len(body), body)
	}
	const flat = "/BitsPerComponent 8/Filter/FlateDecode"
	for _, c := range []struct{ file, want string }{
		{image(40, 40, flat, packed), "none of its pictures shows a code"},
		{image(60_000, 60_000, flat, packed), "more than 120 megapixels"},
		{image(9_000_000_000, 9_000_000_000, flat, packed), "megapixels"},
		{image(8000, 8000, flat, packed), "damaged or cut short"},
		{image(0, 40, flat, packed), "damaged or cut short"},
		{image(40, 40, flat, packed[:9]), "damaged or cut short"},
		{image(40, 40, "/Filter/DCTDecode", packed), "a picture in it: "},
		{image(40, 40, "/Filter/JBIG2Decode", packed), "packed as JBIG2"},
		{image(40, 40, "/Filter/JPXDecode", packed), "packed as JPX"},
		{image(40, 40, "/Filter/CCITTFaxDecode/DecodeParms<</K 4/Columns 40>>", packed), "group 3 in two dimensions"},
		{image(40, 40, "/BitsPerComponent 16/Filter/FlateDecode", deflate(make([]byte, 3200))), "16 bits"},
		{image(40, 40, flat, packed)[:120], "damaged or cut short"},
		{string(huge), "export a smaller JPEG"},
		{string(whole.Bytes()[:whole.Len()/2]), "cut off"},
	} {
		r := Read([]byte(c.file))
		assert.Empty(t, r.Found)
		assert.Empty(t, r.Codes)
		if assert.NotEmpty(t, r.Errs, c.want) {
			assert.Contains(t, r.Errs[0].Error(), c.want)
		}
	}
	r := Read([]byte(strings.Repeat(image(40, 40, flat, packed), mostImages+5)))
	require.NotEmpty(t, r.Errs)
	assert.Contains(t, r.Errs[0].Error(), "more than 400 pictures")
}
