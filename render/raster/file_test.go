package raster

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/internal/outside"
	"stopleaf/layout"
	recovered "stopleaf/recovery/files"
	"stopleaf/render/internal/sample"
	"stopleaf/setup"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// files writes a page in both formats.
func files(t testing.TB, doc *layout.Document, page, dpi int) map[string][]byte {
	t.Helper()
	w, err := New(doc, dpi)
	require.NoError(t, err)
	var p, j bytes.Buffer
	require.NoError(t, w.PNG(&p, page))
	require.NoError(t, w.JPEG(&j, page))
	return map[string][]byte{"page.png": p.Bytes(), "page.jpg": j.Bytes()}
}

// The golden page, compared by its pixels: letters and lines may differ by a
// little grey, as when a curve is cut into other chords.
func TestGolden(t *testing.T) {
	path := filepath.Join("testdata", "golden", "page.png")
	got := files(t, sample.Document(), 0, 120)["page.png"]
	if *update {
		require.NoError(t, os.WriteFile(path, got, 0o644))
		return
	}
	file, err := os.ReadFile(path)
	require.NoError(t, err)
	want, err := png.Decode(bytes.NewReader(file))
	require.NoError(t, err)
	img, err := png.Decode(bytes.NewReader(got))
	require.NoError(t, err)
	require.Equal(t, want.Bounds(), img.Bounds())
	far := 0
	for y := range want.Bounds().Dy() {
		for x := range want.Bounds().Dx() {
			if d := grey(want, x, y) - grey(img, x, y); d > 8 || d < -8 {
				far++
			}
		}
	}
	assert.Less(t, far, 20, "dots that differ: look at the page, then run with -update")
}

// The standard library reads the very pixels back; from JPEG within what its
// compression costs.
func TestPixelsReadBack(t *testing.T) {
	doc := sample.Document()
	colour := *doc.Pages[0].Items[4].(*layout.Image)
	colour.Channels = 3
	doc.Pages[1].Items = append(doc.Pages[1].Items, &colour)
	for page := range doc.Pages {
		w, err := New(doc, 100)
		require.NoError(t, err)
		want, err := w.Draw(page)
		require.NoError(t, err)
		got := files(t, doc, page, 100)
		img, err := png.Decode(bytes.NewReader(got["page.png"]))
		require.NoError(t, err)
		switch v := want.(type) {
		case *image.Gray:
			assert.Equal(t, v, img)
		case *image.RGBA:
			assert.Equal(t, v, img)
		}
		img, err = jpeg.Decode(bytes.NewReader(got["page.jpg"]))
		require.NoError(t, err)
		mean, _, _ := apart(want, img)
		assert.Less(t, mean, 2.0)
	}
}

func TestSameBytes(t *testing.T) {
	first := files(t, sample.Document(), 0, 150)
	for range 3 {
		for name, b := range files(t, sample.Document(), 0, 150) {
			require.True(t, bytes.Equal(first[name], b), name)
		}
	}
}

// tags are what exiftool reads, once it has found the file without fault.
func tags(t *testing.T, name string, file []byte) map[string]any {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, file, 0o600))
	var list []map[string]any
	require.NoError(t, json.Unmarshal([]byte(outside.Run(t, "exiftool", "-json", "-G1", "-a", "-validate", "-all", path)), &list))
	require.Len(t, list, 1)
	assert.Equal(t, "OK", list[0]["ExifTool:Validate"])
	return list[0]
}

// Another reader finds all that is said of the page, its resolution and its
// colour space.
func TestMetadata(t *testing.T) {
	doc := sample.Document()
	doc.Title = `Bread & butter <"flour"> 小麦`
	doc.Pages[0].Title = doc.Title
	doc.Keywords = []string{"portrait", "low key", "key", "octabox", "größer & kleiner"}
	for name, file := range files(t, doc, 0, 300) {
		got := tags(t, name, file)
		assert.Equal(t, doc.Title, got["XMP-dc:Title"])
		assert.Equal(t, doc.Pages[0].Desc, got["XMP-dc:Description"])
		assert.Equal(t, "Halvard Studio", got["XMP-dc:Creator"])
		assert.Equal(t, []any{"portrait", "low key", "key", "octabox", "größer & kleiner"}, got["XMP-dc:Subject"])
		assert.Equal(t, "2026:03:14", got["XMP-xmp:CreateDate"])
		assert.Equal(t, "sRGB", got["XMP-exif:ColorSpace"])
		if name == "page.png" {
			assert.Equal(t, "Perceptual", got["PNG:SRGBRendering"])
			assert.EqualValues(t, 11811, got["PNG-pHYs:PixelsPerUnitX"]) // 300 / 0.0254
			assert.EqualValues(t, 11811, got["PNG-pHYs:PixelsPerUnitY"])
			assert.Equal(t, "meters", got["PNG-pHYs:PixelUnits"])
		} else {
			assert.EqualValues(t, 300, got["JFIF:XResolution"])
			assert.EqualValues(t, 300, got["JFIF:YResolution"])
			assert.Equal(t, "inches", got["JFIF:ResolutionUnit"])
		}
	}
}

// A page of one of several setups says what that one is; what is not known is
// not said.
func TestMetadataOfOnePage(t *testing.T) {
	doc := sample.Document()
	doc.Pages[1].About = &layout.About{Author: "Someone else", Keywords: []string{"product"}}
	for name, file := range files(t, doc, 1, 72) {
		got := tags(t, name, file)
		assert.Equal(t, "Side 2", got["XMP-dc:Title"])
		assert.Equal(t, "Someone else", got["XMP-dc:Creator"])
		assert.Equal(t, "product", got["XMP-dc:Subject"])
		assert.NotContains(t, got, "XMP-xmp:CreateDate")
	}
	bare := &layout.Document{Pages: []layout.Page{{W: 1000, H: 1000}}}
	for name, file := range files(t, bare, 0, 72) {
		got := tags(t, name, file)
		for _, absent := range []string{"XMP-dc:Title", "XMP-dc:Creator", "XMP-dc:Subject", "XMP-dc:Description", "XMP-xmp:CreateDate"} {
			assert.NotContains(t, got, absent)
		}
	}
}

// A JPEG has one segment for the packet: what is too long goes without some
// keywords, and stays whole.
func TestLongMetadata(t *testing.T) {
	doc := sample.Document()
	for range 900 {
		doc.Keywords = append(doc.Keywords, strings.Repeat("long ", 20))
	}
	got := tags(t, "page.jpg", files(t, doc, 0, 72)["page.jpg"])
	assert.Equal(t, "Bread maker, flour in the air", got["XMP-dc:Title"])
	assert.Greater(t, len(got["XMP-dc:Subject"].([]any)), 300)
	assert.Len(t, tags(t, "page.png", files(t, doc, 0, 72)["page.png"])["XMP-dc:Subject"], 902)

	doc.Keywords, doc.Pages[0].Title, doc.Pages[0].Desc = nil, strings.Repeat("&", 40_000), strings.Repeat("long ", 20_000)
	got = tags(t, "page.jpg", files(t, doc, 0, 72)["page.jpg"])
	assert.NotContains(t, got, "XMP-dc:Title")
	assert.Equal(t, "2026:03:14", got["XMP-xmp:CreateDate"])
}

// Setups are not lost, however long they are: what is too long for the one segment
// goes into further ones, where another reader finds it too.
func TestLongSetups(t *testing.T) {
	doc := sample.Document()
	r := rand.New(rand.NewPCG(1, 2))
	for i := range 60 {
		var notes strings.Builder
		for range 900 {
			fmt.Fprintf(&notes, "%x ", r.Uint32())
		}
		s, problems := setup.Parse("a.yaml", fmt.Appendf(nil, "title: T\ncode: N-%d\nnotes: %q\nlights:\n  - role: key\n", i, notes.String()), setup.Options{})
		require.NotNil(t, s, "%v", problems)
		doc.Pages[0].Sources = append(doc.Pages[0].Sources, layout.NewSource(s))
	}
	for name, file := range files(t, doc, 0, 72) {
		got := tags(t, name, file)
		assert.Equal(t, "Bread maker, flour in the air", got["XMP-dc:Title"], name)
		if assert.Len(t, got["XMP-stopleaf:Setup"], 60, name) {
			assert.Equal(t, doc.Pages[0].Sources[59].Text(), got["XMP-stopleaf:Setup"].([]any)[59])
		}
		found := recovered.Read(file)
		assert.Empty(t, found.Errs, name)
		assert.Len(t, found.Found, 60, name)
	}
}

// What a person may type does not break the packet.
func TestHostileMetadata(t *testing.T) {
	for _, s := range []string{"NUL \x00", "\xff\xfe", "]]><x>", "\u202e", "\uFFFE\x0b", "<?xpacket end='w'?>", "😀"} {
		doc := sample.Document()
		doc.Pages[0].Title, doc.Keywords, doc.Author, doc.Created = s+"A", []string{s + "B"}, s+"C", "2026-03-14"
		for name, file := range files(t, doc, 0, 72) {
			assert.True(t, strings.HasSuffix(tags(t, name, file)["XMP-dc:Title"].(string), "A"), "%q", s)
		}
	}
}
