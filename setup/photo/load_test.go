package photo

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/internal/outside"
)

// github.com/rwcarlsen/goexif has one picture eight times, stored as the
// orientations 1 to 8 say, 40 x 80 as displayed.
func TestEightOrientations(t *testing.T) {
	for o := 1; o <= 8; o++ {
		p, err := LoadBytes(sample(t, "f"+string(rune('0'+o))+"-exif.jpg"))
		require.NoError(t, err)
		assert.Equal(t, o, p.Orientation)
		w, h := p.Size()
		assert.Equal(t, [2]int{40, 80}, [2]int{w, h}, "orientation %d", o)
		assert.Equal(t, o >= 5, p.Width == 80, "stored width of orientation %d", o)
	}
}

func TestLoadLeavesPixelsAlone(t *testing.T) {
	for _, name := range []string{"../sample1.jpg", "has-lens-info.jpg", "f6-exif.jpg"} {
		b := sample(t, name)
		before := bytes.Clone(b)
		p, err := LoadBytes(b)
		require.NoError(t, err, name)
		assert.True(t, bytes.Equal(before, b), "the bytes given stay as they are")
		want, err := jpeg.Decode(bytes.NewReader(b))
		require.NoError(t, err)
		got, err := jpeg.Decode(bytes.NewReader(p.Data))
		require.NoError(t, err)
		assert.Equal(t, want, got, name)
		assert.Less(t, len(p.Data), len(b))
		assert.Equal(t, want.Bounds().Dx(), p.Width)

		again, err := LoadBytes(p.Data)
		require.NoError(t, err)
		assert.Equal(t, p.Data, again.Data, "stripping twice changes nothing more")
		assert.Equal(t, Exif{}, again.Exif)
	}
}

// A file and its bytes give the same, though the file is stripped in place.
func TestLoadEqualsLoadBytes(t *testing.T) {
	path := filepath.Join(samples(t), "has-lens-info.jpg")
	a, err := Load(path)
	require.NoError(t, err)
	b, err := LoadBytes(sample(t, "has-lens-info.jpg"))
	require.NoError(t, err)
	assert.True(t, bytes.Equal(b.Data, a.Data))
	a.source, b.source = nil, nil
	assert.Equal(t, b.Exif, a.Exif)
	assert.Equal(t, [3]int{b.Width, b.Height, b.Orientation}, [3]int{a.Width, a.Height, a.Orientation})
}

func marks(t *testing.T, b []byte) []byte {
	t.Helper()
	segs, err := walk(b)
	require.NoError(t, err)
	var out []byte
	for _, s := range segs {
		out = append(out, s.mark)
	}
	return out
}

func TestStripKeepsAndDrops(t *testing.T) {
	jfif := "JFIF\x00\x01\x02\x00\x00\x01\x00\x01\x01\x01abc" // with a thumbnail of one pixel
	b := insert(smallJPEG(t),
		seg(markAPP0, jfif), seg(markAPP0, "JFXX\x00\x10thumb"),
		seg(markAPP1, exifMagic+"MM"), seg(markAPP1, "http://ns.adobe.com/xap/1.0/\x00<x/>"),
		seg(markAPP2, iccMagic+"\x01\x01profile"), seg(markAPP2, "MPF\x00"),
		seg(0xED, "Photoshop 3.0\x00"), seg(0xEC, "Ducky"), seg(markAPP15, "x"), seg(markCOM, "a comment"))
	p, err := LoadBytes(append(b, "behind the end"...))
	require.NoError(t, err)
	kept := []byte{}
	for _, m := range marks(t, p.Data) {
		if m >= markAPP0 {
			kept = append(kept, m)
		}
	}
	assert.Equal(t, []byte{markAPP0}, kept)
	for _, gone := range []string{"abc", "profile", "thumb", "comment", "xap", "Photoshop", "MPF", "behind"} {
		assert.NotContains(t, string(p.Data), gone)
	}
	assert.Contains(t, string(p.Data), "\xFF\xE0\x00\x10JFIF\x00\x01\x02\x00\x00\x01\x00\x01\x00\x00", "the head without its thumbnail")
	_, err = jpeg.Decode(bytes.NewReader(p.Data))
	assert.NoError(t, err)
}

// Where a picture was taken and by which camera goes no further.
func TestNothingPrivateIsLeft(t *testing.T) {
	for _, name := range []string{"../sample1.jpg", "has-lens-info.jpg", "geodegrees_as_string.jpg"} {
		p, err := LoadBytes(sample(t, name))
		require.NoError(t, err)
		for _, m := range marks(t, p.Data) {
			assert.NotContains(t, []byte{markAPP1, 0xED, markCOM}, m, name)
		}
		path := filepath.Join(t.TempDir(), "out.jpg")
		require.NoError(t, os.WriteFile(path, p.Data, 0o600))
		said := outside.Run(t, "exiftool", "-G", "-a", "-u", path)
		for _, group := range []string{"[EXIF]", "[XMP]", "[IPTC]", "[MakerNotes]", "[Photoshop]", "GPS"} {
			assert.NotContains(t, said, group, name)
		}
	}
}

// Cut anywhere, a JPEG is refused in words, and never a panic.
func TestCutOffAnywhere(t *testing.T) {
	whole := insert(smallJPEG(t), seg(markAPP1, exifMagic+string(exifBlock([]tag{short(tagOrientation, 6)}, nil))))
	_, err := LoadBytes(whole)
	require.NoError(t, err)
	for n := range len(whole) {
		_, err := LoadBytes(whole[:n])
		require.Error(t, err, "%d of %d bytes", n, len(whole))
		if n > 4 {
			require.ErrorIs(t, err, errCutOff, "%d of %d bytes", n, len(whole))
		}
	}
}

func TestRefusals(t *testing.T) {
	b := smallJPEG(t)
	sof := bytes.Index(b, []byte{0xFF, markSOF0})
	changed := func(at int, v byte) []byte {
		c := bytes.Clone(b)
		c[at] = v
		return c
	}
	cases := []struct {
		name string
		data []byte
		says string
	}{
		{"empty", nil, "the file is empty"},
		{"text", []byte("lights: []\n"), "neither a JPEG, PNG, TIFF nor WebP"},
		{"tiff", []byte("II*\x00rest"), "the picture has no size"},
		{"raw", []byte("12345678CCD-RAW 0201"), "a camera raw file cannot be printed; develop it and export a JPEG in sRGB"},
		{"webp", []byte("RIFF\x00\x00\x00\x00WEBPVP8 "), "the picture has no size"},
		{"cut webp", []byte("RIFF\x00\x01\x00\x00WEBPVP8 "), "the file is cut off"},
		{"heic", []byte("\x00\x00\x00\x18ftypheic\x00\x00"), "a HEIC picture cannot be printed; export it as a JPEG in sRGB"},
		{"avif", []byte("\x00\x00\x00\x18ftypavif\x00\x00"), "an AVIF picture cannot be printed"},
		{"gif", []byte("GIF89a"), "a GIF cannot be printed"},
		{"arithmetic", changed(sof+1, 0xC9), "a lossless or arithmetic JPEG"},
		{"lossless", changed(sof+1, 0xC3), "a lossless or arithmetic JPEG"},
		{"12 bits", changed(sof+4, 12), "12 bits a channel"},
		{"no height", append(append(bytes.Clone(b[:sof+5]), 0, 0), b[sof+7:]...), "the picture has no size"},
		{"no picture", []byte{0xFF, markSOI, 0xFF, markEOI}, "holds no picture"},
		{"cut png", []byte(pngMagic + "\x00\x00"), "the file is cut off"},
		{"megapixels", append(append(bytes.Clone(b[:sof+5]), 0xFF, 0xFF, 0xFF, 0xFF), b[sof+9:]...), "65535 x 65535 pixels are more than 120 megapixels"},
	}
	for _, c := range cases {
		_, err := LoadBytes(c.data)
		require.Error(t, err, c.name)
		assert.Contains(t, err.Error(), c.says, c.name)
	}
}

func TestRefusedFiles(t *testing.T) {
	dir := t.TempDir()
	_, err := Load(filepath.Join(dir, "none.jpg"))
	assert.ErrorIs(t, err, fs.ErrNotExist)
	assert.NotContains(t, err.Error(), dir)
	_, err = Load(dir)
	assert.EqualError(t, err, "not a file")

	big := filepath.Join(dir, "big.jpg")
	require.NoError(t, os.WriteFile(big, []byte("\xFF\xD8"), 0o600))
	require.NoError(t, os.Truncate(big, MaxBytes+1))
	_, err = Load(big)
	assert.ErrorContains(t, err, "larger than 64 MiB")
}

func TestGreyAndProgressive(t *testing.T) {
	var buf bytes.Buffer
	grey := image.NewGray(image.Rect(0, 0, 9, 7))
	require.NoError(t, jpeg.Encode(&buf, grey, nil))
	p, err := LoadBytes(buf.Bytes())
	require.NoError(t, err)
	assert.Equal(t, [3]int{9, 7, 1}, [3]int{p.Width, p.Height, p.Channels})
	assert.Equal(t, 1, p.Orientation)
}

func TestPNG(t *testing.T) {
	encode := func(img image.Image) []byte {
		var b bytes.Buffer
		require.NoError(t, png.Encode(&b, img))
		return b.Bytes()
	}
	deep := image.NewNRGBA64(image.Rect(0, 0, 3, 2))
	deep.SetNRGBA64(0, 0, color.NRGBA64{0xFFFF, 0, 0, 0xFFFF})
	deep.SetNRGBA64(1, 0, color.NRGBA64{0, 0, 0, 0x8000})
	p, err := LoadBytes(encode(deep))
	require.NoError(t, err)
	assert.Nil(t, p.Data, "made by Fit")
	p = fitted(t, p)
	assert.Equal(t, "png", p.Format)
	assert.Equal(t, [3]int{3, 2, 3}, [3]int{p.Width, p.Height, p.Channels})
	assert.EqualValues(t, 8, p.Data[24], "bits a channel")
	assert.EqualValues(t, 2, p.Data[25], "colour without alpha")
	img, err := png.Decode(bytes.NewReader(p.Data))
	require.NoError(t, err)
	at := func(x, y int) color.RGBA { return color.RGBAModel.Convert(img.At(x, y)).(color.RGBA) }
	assert.Equal(t, color.RGBA{255, 0, 0, 255}, at(0, 0))
	assert.InDelta(t, 127, at(1, 0).R, 1, "half black on white")
	assert.Equal(t, color.RGBA{255, 255, 255, 255}, at(2, 1), "clear is white")

	grey, err := LoadBytes(encode(image.NewGray16(image.Rect(0, 0, 2, 2))))
	require.NoError(t, err)
	assert.Equal(t, 1, grey.Channels)
	again, err := LoadBytes(p.Data)
	require.NoError(t, err)
	assert.Equal(t, p.Data, fitted(t, again).Data)

	whole := encode(picture(8, 8))
	for n := range len(whole) {
		_, err := LoadBytes(whole[:n])
		require.Error(t, err, "%d of %d bytes", n, len(whole))
	}
}

func TestPNGOrientation(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, picture(5, 4)))
	block := exifBlock([]tag{short(tagOrientation, 8)}, []tag{rational(tagFNumber, 8, 1)})
	p, err := LoadBytes(insertChunk(b.Bytes(), "eXIf", block))
	require.NoError(t, err)
	assert.Equal(t, 8, p.Orientation)
	assert.Equal(t, 8.0, *p.Exif.FNumber)
	q := fitted(t, p)
	assert.Equal(t, [3]int{4, 5, 1}, [3]int{q.Width, q.Height, q.Orientation}, "turned for good")
	assert.NotContains(t, string(q.Data), "eXIf")
}

func FuzzLoadBytes(f *testing.F) {
	f.Add(smallJPEG(f))
	f.Add(insert(smallJPEG(f), seg(markAPP1, exifMagic+string(exifBlock([]tag{short(tagOrientation, 6)}, nil)))))
	var b bytes.Buffer
	require.NoError(f, png.Encode(&b, picture(4, 4)))
	f.Add(b.Bytes())
	f.Add([]byte("II*\x00"))
	f.Fuzz(func(t *testing.T, data []byte) {
		before := bytes.Clone(data)
		p, err := LoadBytes(data)
		if !bytes.Equal(before, data) {
			t.Fatal("the bytes given were changed")
		}
		if err != nil {
			if p != nil {
				t.Fatal("half a picture")
			}
			return
		}
		w, h := p.Size()
		if w <= 0 || h <= 0 || p.Orientation < 1 || p.Orientation > 8 || len(p.Data) > len(data)+1<<16 {
			t.Fatalf("%d x %d, orientation %d", w, h, p.Orientation)
		}
		if w*h > 1<<22 {
			return // a few bytes may say that they are very many pixels
		}
		q, err := p.Fit(max(w/3, 1), max(h/3, 1))
		if err != nil {
			if q != nil || p.Err() == nil {
				t.Fatal("half a picture, or a failure that is not kept")
			}
			return
		}
		if p.Data == nil {
			p = q
		}
		again, err := LoadBytes(p.Data)
		if err == nil && again.Data == nil {
			again, err = again.Fit(again.Size())
		}
		if err != nil || !bytes.Equal(again.Data, p.Data) {
			t.Fatalf("what was loaded does not load again: %v", err)
		}
	})
}

// An unchanged photograph costs a walk, not a decode.
func BenchmarkLoad(b *testing.B) {
	var buf bytes.Buffer
	require.NoError(b, jpeg.Encode(&buf, picture(3000, 2000), &jpeg.Options{Quality: 97}))
	b.SetBytes(int64(buf.Len()))
	for b.Loop() {
		if _, err := LoadBytes(buf.Bytes()); err != nil {
			b.Fatal(err)
		}
	}
}
