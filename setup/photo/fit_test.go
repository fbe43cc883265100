package photo

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// scene is a smooth picture of many colours, so that scaling and JPEG change
// little in it, with a bright top left corner.
func scene(w, h int) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			u, v := float64(x)/float64(w), float64(y)/float64(h)
			img.SetRGBA(x, y, color.RGBA{uint8(230 - 150*u), uint8(200 - 120*v), uint8(140 + 60*math.Sin(3*u+5*v)), 255})
		}
	}
	return img
}

func jpegOf(t testing.TB, img image.Image, quality int) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, img, &jpeg.Options{Quality: quality}))
	return b.Bytes()
}

func pngOf(t testing.TB, img image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, img))
	return b.Bytes()
}

func decoded(t testing.TB, p *Picture) image.Image {
	t.Helper()
	img, kind, err := image.Decode(bytes.NewReader(p.Data))
	require.NoError(t, err)
	require.Equal(t, p.Format, kind)
	require.Equal(t, [2]int{p.Width, p.Height}, [2]int{img.Bounds().Dx(), img.Bounds().Dy()})
	return img
}

// apart is the mean and the largest difference of two pictures in codes of 255.
func apart(t testing.TB, a, b image.Image) (mean, most float64) {
	t.Helper()
	require.Equal(t, a.Bounds().Size(), b.Bounds().Size())
	n := 0
	for y := range a.Bounds().Dy() {
		for x := range a.Bounds().Dx() {
			r, g, bl, _ := a.At(a.Bounds().Min.X+x, a.Bounds().Min.Y+y).RGBA()
			r2, g2, bl2, _ := b.At(b.Bounds().Min.X+x, b.Bounds().Min.Y+y).RGBA()
			for _, v := range [3][2]uint32{{r, r2}, {g, g2}, {bl, bl2}} {
				d := math.Abs(float64(v[0])-float64(v[1])) / 257
				mean, most, n = mean+d, max(most, d), n+1
			}
		}
	}
	return mean / float64(n), most
}

// A JPEG is left alone up to 1.25 times what its place needs, and scaled to
// exactly that beyond.
func TestFitOnlyWhatIsTooLarge(t *testing.T) {
	p, err := LoadBytes(jpegOf(t, scene(500, 400), 90))
	require.NoError(t, err)
	for _, size := range [][2]int{{500, 400}, {400, 320}, {2000, 1600}} {
		q, err := p.Fit(size[0], size[1])
		require.NoError(t, err)
		assert.Same(t, p, q, "%v", size)
	}
	for _, size := range [][2]int{{399, 319}, {250, 200}, {100, 80}, {50, 40}, {5, 4}} {
		q, err := p.Fit(size[0], size[1])
		require.NoError(t, err)
		assert.Equal(t, size, [2]int{q.Width, q.Height})
		mean, _ := apart(t, scene(size[0], size[1]), decoded(t, q))
		assert.Less(t, mean, 2+120/float64(size[0]), "%v", size)
		again, err := p.Fit(size[0], size[1])
		require.NoError(t, err)
		assert.Same(t, q, again, "made once")
	}
	q, err := p.Fit(100, 40) // a place of another shape: the picture covers it
	require.NoError(t, err)
	assert.Equal(t, [2]int{100, 80}, [2]int{q.Width, q.Height})
	q, err = p.Fit(0, -5)
	require.NoError(t, err)
	assert.Equal(t, [2]int{2, 2}, [2]int{q.Width, q.Height}, "no smaller than one pixel, on either side")
}

// All eight orientations of one picture come out alike: the samples of
// github.com/rwcarlsen/goexif, 40 x 80 as displayed.
func TestFitTurns(t *testing.T) {
	var first image.Image
	for o := 1; o <= 8; o++ {
		p, err := LoadBytes(sample(t, fmt.Sprintf("f%d-exif.jpg", o)))
		require.NoError(t, err)
		q, err := p.Fit(20, 40)
		require.NoError(t, err)
		assert.Equal(t, [3]int{20, 40, 1}, [3]int{q.Width, q.Height, q.Orientation})
		img := decoded(t, q)
		if first == nil {
			first = img
		}
		mean, _ := apart(t, first, img)
		assert.Less(t, mean, 3.0, "orientation %d", o)
	}
}

// Subsampled colour lies where the light lies, for every ratio and block.
func TestReduceRatios(t *testing.T) {
	for _, ratio := range []image.YCbCrSubsampleRatio{image.YCbCrSubsampleRatio444, image.YCbCrSubsampleRatio422,
		image.YCbCrSubsampleRatio420, image.YCbCrSubsampleRatio440, image.YCbCrSubsampleRatio411, image.YCbCrSubsampleRatio410} {
		want := scene(96, 72)
		img := image.NewYCbCr(want.Bounds(), ratio)
		for y := range 72 {
			for x := range 96 {
				c := want.RGBAAt(x, y)
				img.Y[img.YOffset(x, y)], img.Cb[img.COffset(x, y)], img.Cr[img.COffset(x, y)] = color.RGBToYCbCr(c.R, c.G, c.B)
			}
		}
		for _, k := range []int{1, 2, 3, 4, 8} {
			s := &source{}
			mean, most := apart(t, s.srgb(reduce(want, k, s)), s.srgb(reduce(img, k, s)))
			assert.Less(t, mean, 2.0, "%v by %d", ratio, k)
			assert.Less(t, most, 16.0, "%v by %d", ratio, k)
		}
	}
}

// The same bytes give the same bytes, whoever asks first.
func TestFitIsTheSameEachTime(t *testing.T) {
	b := jpegOf(t, scene(640, 480), 92)
	p, err := LoadBytes(b)
	require.NoError(t, err)
	results := make([]*Picture, 16)
	var wg sync.WaitGroup
	for i := range results {
		wg.Go(func() { results[i], _ = p.Fit(200-i%4, 150) })
	}
	wg.Wait()
	fresh, err := LoadBytes(b)
	require.NoError(t, err)
	for i := range results {
		q, err := fresh.Fit(200-i%4, 150)
		require.NoError(t, err)
		assert.True(t, bytes.Equal(q.Data, results[i].Data))
	}
	assert.NoError(t, p.Err())
}

// A drawing stays a PNG, a photograph in a PNG becomes a JPEG once it is
// scaled, and what has clear parts is laid on white.
func TestFitKindOfFile(t *testing.T) {
	load := func(img image.Image) *Picture {
		p, err := LoadBytes(pngOf(t, img))
		require.NoError(t, err)
		return p
	}
	half := func(p *Picture) *Picture {
		q, err := p.Fit(p.Width/2, p.Height/2)
		require.NoError(t, err)
		return q
	}
	photo := load(scene(200, 160))
	assert.Equal(t, "png", fitted(t, photo).Format)
	_, most := apart(t, scene(200, 160), decoded(t, fitted(t, photo)))
	assert.Zero(t, most, "untouched")
	assert.Equal(t, "jpeg", half(photo).Format)

	drawing := image.NewPaletted(image.Rect(0, 0, 200, 160), color.Palette{color.White, color.Black})
	for i := range 160 {
		drawing.SetColorIndex(i, i, 1)
	}
	assert.Equal(t, "png", half(load(drawing)).Format)

	cut := image.NewNRGBA(image.Rect(0, 0, 200, 160))
	for y := range 160 {
		for x := range 100 {
			cut.SetNRGBA(x, y, color.NRGBA{uint8(x), uint8(y), 90, 255})
		}
	}
	q := half(load(cut))
	assert.Equal(t, "png", q.Format)
	r, g, b, a := decoded(t, q).At(90, 40).RGBA()
	assert.Equal(t, [4]uint32{65535, 65535, 65535, 65535}, [4]uint32{r, g, b, a})

	grey := image.NewGray(image.Rect(0, 0, 200, 160))
	for i := range grey.Pix {
		grey.Pix[i] = uint8(i * 7 / 160)
	}
	q = half(load(grey))
	assert.Equal(t, [2]any{"jpeg", 1}, [2]any{q.Format, q.Channels}, "grey stays grey")
}

// Damage that only decoding shows is an error of Fit, kept for who asks later.
func TestFitDamaged(t *testing.T) {
	b := jpegOf(t, scene(300, 200), 90)
	sos := bytes.Index(b, []byte{0xFF, markSOS})
	cut := append(bytes.Clone(b[:sos+400]), 0xFF, markEOI)
	p, err := LoadBytes(cut)
	require.NoError(t, err, "whole by its marks")
	q, err := p.Fit(100, 66)
	require.ErrorContains(t, err, "the JPEG is damaged or of a kind that cannot be read; export it anew")
	assert.Nil(t, q)
	assert.Equal(t, err, p.Err())

	b = pngOf(t, scene(30, 20))
	b[60] ^= 1
	_, err = LoadBytes(b)
	assert.ErrorIs(t, err, errDamaged, "its sum is wrong")
}

// A few bytes that say they are many pixels cost neither time nor memory when
// they are loaded, and are refused.
func TestBombs(t *testing.T) {
	b := bytes.Clone(smallJPEG(t))
	sos := bytes.Index(b, []byte{0xFF, markSOS})
	scan := b[sos : len(b)-2]
	many := bytes.Clone(b[:len(b)-2])
	for range maxScans {
		many = append(many, scan...)
	}
	_, err := LoadBytes(append(many, 0xFF, markEOI))
	assert.ErrorContains(t, err, "more layers than any picture has")

	sof := bytes.Index(b, []byte{0xFF, markSOF0})
	b[sof+1] = markSOF2
	copy(b[sof+5:], []byte{40000 >> 8, 40000 & 0xFF, 2900 >> 8, 2900 & 0xFF})
	_, err = LoadBytes(b)
	assert.ErrorContains(t, err, "too large for a progressive JPEG")
}

// What a 24-megapixel photograph costs on a card.
func BenchmarkFit24MP(b *testing.B) {
	data := jpegOf(b, scene(6000, 4000), 92)
	b.ReportAllocs()
	for b.Loop() {
		p, err := LoadBytes(data)
		require.NoError(b, err)
		_, err = p.Fit(827, 551)
		require.NoError(b, err)
	}
}

// The memory of one picture is that of its pixels, decoded, and little more.
func TestFitMemory(t *testing.T) {
	data := jpegOf(t, scene(3000, 2000), 90)
	p, err := LoadBytes(data)
	require.NoError(t, err)
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	_, err = p.Fit(800, 533)
	require.NoError(t, err)
	runtime.ReadMemStats(&after)
	assert.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(3000*2000*4))
}

// Files are told by what is in them; only what is not a usual picture is told
// raw by its ending.
func TestRawByEnding(t *testing.T) {
	dir := t.TempDir()
	put := func(name string, b []byte) string {
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, b, 0o600))
		return path
	}
	_, err := Load(put("a.DNG", []byte("MM\x00*whatever")))
	assert.ErrorIs(t, err, errRaw)
	_, err = Load(put("b.raw", []byte("unknown to all")))
	assert.ErrorIs(t, err, errRaw)
	p, err := Load(put("c.raw", smallJPEG(t)))
	require.NoError(t, err, "a JPEG under a wrong name")
	assert.Equal(t, "jpeg", p.Format)
}

// Several places take one decoding, whoever asks for them, and come out as they
// would one by one.
func TestFitAllDecodesOnce(t *testing.T) {
	b := jpegOf(t, scene(500, 400), 90)
	p, err := LoadBytes(b)
	require.NoError(t, err)
	places := [][2]int{{100, 80}, {500, 400}, {50, 40}, {100, 80}, {399, 319}, {450, 10}}
	before := Decoded.Load()
	all, err := p.FitAll(places)
	require.NoError(t, err)
	assert.EqualValues(t, 1, Decoded.Load()-before)
	for i, place := range places {
		alone, err := LoadBytes(b)
		require.NoError(t, err)
		q, err := alone.Fit(place[0], place[1])
		require.NoError(t, err)
		assert.Equal(t, q.Data, all[i].Data, "%v", place)
		assert.Equal(t, [2]int{q.Width, q.Height}, [2]int{all[i].Width, all[i].Height})
	}
	assert.Same(t, all[0], all[3])
	assert.Same(t, p, all[1], "its own size")

	before = Decoded.Load()
	again, err := p.FitAll(places)
	require.NoError(t, err)
	assert.Equal(t, all, again)
	assert.Zero(t, Decoded.Load()-before)

	// one that is damaged is looked at once
	cut, err := LoadBytes(append(bytes.Clone(b[:len(b)/2]), 0xFF, 0xD9))
	require.NoError(t, err)
	before = Decoded.Load()
	for range 3 {
		_, err = cut.FitAll(places)
		assert.Error(t, err)
		assert.Equal(t, err, cut.Err())
	}
	assert.EqualValues(t, 1, Decoded.Load()-before)
}
