package raster

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stopleaf/internal/outside"
	"stopleaf/layout"
	"stopleaf/layout/text"
	"stopleaf/render/internal/sample"
	"stopleaf/render/pdf"
)

func document(items ...layout.Item) *layout.Document {
	return &layout.Document{Title: "t", Pages: []layout.Page{{W: layout.Mm(210), H: layout.Mm(148), Items: items}}}
}

func drawn(t require.TestingT, doc *layout.Document, dpi int) image.Image {
	w, err := New(doc, dpi)
	require.NoError(t, err)
	img, err := w.Draw(0)
	require.NoError(t, err)
	return img
}

func grey(img image.Image, x, y int) int {
	return int(color.GrayModel.Convert(img.At(x, y)).(color.Gray).Y)
}

// One metre at 1:20 is 50.000 mm: at 254 dots an inch, ten a millimetre, 500
// dots exactly; at any other resolution as many as it should be, in parts of a
// dot by the grey of its ends.
func TestRuler(t *testing.T) {
	img := drawn(t, document(sample.Box(layout.Black, 20000, 30000, 50000, 25000)), 254)
	assert.Equal(t, image.Pt(2100, 1480), img.Bounds().Size())
	wide, high := 0, 0
	for x := range 2100 {
		wide += (255 - grey(img, x, 400)) / 255
	}
	for y := range 1480 {
		high += (255 - grey(img, 400, y)) / 255
	}
	assert.Equal(t, 500, wide)
	assert.Equal(t, 250, high)
	assert.True(t, grey(img, 200, 300) == 0 && grey(img, 199, 300) == 255 && grey(img, 699, 549) == 0 && grey(img, 700, 549) == 255)

	rapid.Check(t, func(t *rapid.T) {
		dpi := rapid.IntRange(LeastDPI, 300).Draw(t, "dpi")
		x := layout.Um(rapid.Int64Range(0, 150_000).Draw(t, "x"))
		img := drawn(t, document(sample.Box(layout.Black, x, 1000, 50000, 10000)), dpi)
		sum := 0.0
		for i := range img.Bounds().Dx() {
			sum += float64(255-grey(img, i, 6*dpi/25)) / 255
		}
		require.InDelta(t, 50.0, sum*25.4/float64(dpi), 0.01)
	})
}

// Every orientation is the same way up, cut by a clip or not, in grey and beside
// a picture in colour.
func TestOrientations(t *testing.T) {
	at := func(o int) layout.Rect {
		return layout.Rect{X: layout.Um(o%4) * 40000, Y: 10000 + layout.Um(o/4)*20000, W: 32000, H: 16000}
	}
	for _, colour := range []bool{false, true} {
		var items []layout.Item
		for o := 1; o <= 8; o++ {
			v := sample.Turned(at(o), o)
			if colour {
				v.Channels = 3
			}
			items = append(items, v)
		}
		photo := layout.Rect{X: 160000, Y: 100000, W: 32000, H: 16000}
		items = append(items, sample.Photo(photo))
		img := drawn(t, document(items...), 200)
		_, isGrey := img.(*image.Gray)
		assert.Equal(t, !colour, isGrey)
		check := func(r layout.Rect, name any) {
			for q, want := range sample.Quarters {
				x := int(float64(r.X+r.W/4+layout.Um(q%2)*r.W/2) * 200 / 25400)
				y := int(float64(r.Y+r.H/4+layout.Um(q/2)*r.H/2) * 200 / 25400)
				assert.InDelta(t, int(want), grey(img, x, y), 6, "orientation %v, quarter %d", name, q)
			}
		}
		for o := 1; o <= 8; o++ {
			check(at(o), o)
		}
		check(photo, "of the jpeg")
	}
}

func TestClip(t *testing.T) {
	inside := layout.Rect{X: 20000, Y: 20000, W: 20000, H: 20000}
	img := drawn(t, document(
		&layout.Group{Clip: &inside, Items: []layout.Item{
			sample.Box(layout.Black, 10000, 10000, 40000, 40000),
			&layout.Group{Clip: &layout.Rect{X: 30000, Y: 0, W: 90000, H: 90000}, Items: []layout.Item{
				sample.Photo(layout.Rect{X: 22000, Y: 22000, W: 40000, H: 8000}),
			}},
			&layout.Group{Clip: &layout.Rect{X: 60000, Y: 60000, W: 1000, H: 1000}, Items: []layout.Item{sample.Box(layout.White, 0, 0, 90000, 90000)}},
		}},
		sample.Box(layout.Black, 60000, 60000, 10000, 10000),
	), 254)
	assert.Zero(t, grey(img, 250, 250), "the picture is cut by the inner clip")
	assert.InDelta(t, int(sample.Quarters[2]), grey(img, 350, 285), 6, "and shown within both")
	assert.Equal(t, 255, grey(img, 450, 250), "and cut by the outer one")
	assert.Equal(t, 255, grey(img, 150, 300))
	assert.Zero(t, grey(img, 399, 399))
	assert.Equal(t, 255, grey(img, 400, 400))
	assert.Zero(t, grey(img, 650, 650), "what follows is not clipped")
}

// asPDF is a page as another program draws it from our PDF.
func asPDF(t *testing.T, doc *layout.Document) image.Image {
	t.Helper()
	dir := t.TempDir()
	var b bytes.Buffer
	require.NoError(t, pdf.Write(&b, doc))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "page.pdf"), b.Bytes(), 0o600))
	outside.Run(t, "pdftoppm", "-r", "200", "-png", "-singlefile", filepath.Join(dir, "page.pdf"), filepath.Join(dir, "page"))
	f, err := os.Open(filepath.Join(dir, "page.png"))
	require.NoError(t, err)
	defer f.Close()
	img, err := png.Decode(f)
	require.NoError(t, err)
	return img
}

// apart compares two pictures: the mean difference of their greys, and how many
// dark dots of each have nothing near in the other.
func apart(a, b image.Image) (mean float64, ink, alone int) {
	size := a.Bounds().Intersect(b.Bounds()).Size()
	for y := range size.Y {
		for x := range size.X {
			ga, gb := grey(a, x, y), grey(b, x, y)
			mean += float64(max(ga-gb, gb-ga))
			for _, pair := range [2]struct {
				grey int
				in   image.Image
			}{{ga, b}, {gb, a}} {
				if pair.grey >= 100 {
					continue
				}
				ink++
				darkest := 255
				for d := range 9 {
					darkest = min(darkest, grey(pair.in, x+d%3-1, y+d/3-1))
				}
				if darkest > 200 {
					alone++
				}
			}
		}
	}
	return mean / float64(size.X*size.Y), ink, alone
}

// A picture looks like the PDF as another program draws it.
func TestLooksLikeThePDF(t *testing.T) {
	doc := sample.Document()
	doc.Pages = doc.Pages[:1]
	mean, ink, alone := apart(drawn(t, doc, 200), asPDF(t, doc))
	assert.Less(t, mean, 5.0, "of 255")
	assert.Greater(t, ink, 50_000)
	assert.Less(t, alone*1000, ink, "%d of %d dots", alone, ink)
}

// So does every letter that the fonts have.
func TestLettersLookLikeThePDF(t *testing.T) {
	var items []layout.Item
	for i, bold := range []bool{false, true} {
		line, y := "", layout.Um(10000+i*140000)
		for r := rune(' '); r < 0xFFFF; r++ {
			if !text.Has(r) {
				continue
			}
			if line += string(r); len([]rune(line)) == 40 {
				items = append(items, sample.Set(5000, y, 3500, bold, line))
				line, y = "", y+8000
			}
		}
		items = append(items, sample.Set(5000, y, 3500, bold, line))
		items = append(items, sample.Apart(sample.Set(5000, y+8000, 3500, bold, "f/5.6 +0.9 f/8 +0.4"), 150))
	}
	doc := &layout.Document{Title: "t", Pages: []layout.Page{{W: layout.Mm(210), H: layout.Mm(297), Items: items}}}
	mean, ink, alone := apart(drawn(t, doc, 200), asPDF(t, doc))
	assert.Less(t, mean, 5.0, "of 255")
	assert.Greater(t, ink, 100_000)
	assert.Less(t, alone*1000, ink, "%d of %d dots", alone, ink)
}

// A photograph on several pages is decoded and scaled once.
func TestOnePhotographManyPages(t *testing.T) {
	v := sample.Photo(layout.Rect{X: 5000, Y: 5000, W: 64000, H: 32000})
	a := newAlbum()
	first, err := a.get(v, 100, 50)
	require.NoError(t, err)
	again := *v
	second, err := a.get(&again, 100, 50)
	require.NoError(t, err)
	assert.Same(t, first, second)
	_, err = a.get(v, 30, 15)
	require.NoError(t, err)
	assert.Len(t, a.decoded, 1)
	assert.Len(t, a.scaled, 2)
}

// All pages at once are the pages one by one.
func TestAllPages(t *testing.T) {
	doc := sample.Document()
	for range 5 {
		doc.Pages = append(doc.Pages, doc.Pages[0])
	}
	w, err := New(doc, 100)
	require.NoError(t, err)
	for _, k := range []struct {
		all func() ([][]byte, error)
		one func(io.Writer, int) error
	}{{w.AllPNG, w.PNG}, {w.AllJPEG, w.JPEG}} {
		all, err := k.all()
		require.NoError(t, err)
		require.Len(t, all, len(doc.Pages))
		for i := range doc.Pages {
			var b bytes.Buffer
			require.NoError(t, k.one(&b, i))
			assert.True(t, bytes.Equal(b.Bytes(), all[i]), "page %d", i+1)
		}
	}
	doc.Pages[3].Items = []layout.Item{&layout.Text{S: "x"}}
	_, err = w.AllPNG()
	assert.ErrorContains(t, err, "page 4: ")
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errors.New("full") }

func TestWhatCannotBeDrawn(t *testing.T) {
	for _, dpi := range []int{-1, 71, 601} {
		_, err := New(sample.Document(), dpi)
		assert.ErrorContains(t, err, "from 72 to 600 are drawn")
	}
	broken := sample.Photo(layout.Rect{X: 0, Y: 0, W: 9000, H: 9000})
	broken.Data = broken.Data[:40]
	huge := document()
	huge.Pages[0].W, huge.Pages[0].H = layout.Mm(4000), layout.Mm(4000)
	for says, doc := range map[string]*layout.Document{
		"is damaged":         document(broken),
		"take fewer, or PDF": huge,
		"no page 1":          {},
		"cap height":         document(&layout.Text{S: "x"}),
	} {
		w, err := New(doc, 600)
		require.NoError(t, err)
		var b bytes.Buffer
		assert.ErrorContains(t, w.PNG(&b, 0), says)
		assert.ErrorContains(t, w.JPEG(&b, 0), says)
		assert.Zero(t, b.Len())
	}
	w, err := New(sample.Document(), 0)
	require.NoError(t, err)
	assert.ErrorContains(t, w.PNG(fullDisk{}, 0), "full")
	assert.ErrorContains(t, w.PNG(fullDisk{}, 2), "no page 3")
}

// Degenerate paths are no trouble and leave nothing behind.
func TestOddPaths(t *testing.T) {
	black := layout.Black
	seg := func(k layout.SegKind, p ...layout.Point) (s layout.Seg) { s.Kind = k; copy(s.P[:], p); return s }
	a := layout.Point{X: 9000, Y: 9000}
	for _, segs := range [][]layout.Seg{
		{}, {seg(layout.MoveTo, a)}, {seg(layout.MoveTo, a), seg(layout.Close)}, {seg(layout.MoveTo, a), seg(layout.Close), seg(layout.Close)},
		{seg(layout.MoveTo, a), seg(layout.LineTo, a), seg(layout.Close)}, {seg(layout.MoveTo, a), seg(layout.CubicTo, a, a, a)},
		{seg(layout.MoveTo, a), seg(layout.MoveTo, a)},
	} {
		for _, dash := range [][]layout.Um{nil, {1000, 1}, {1, 0}} {
			p := &layout.Path{Segs: segs, Fill: &black, Stroke: layout.Stroke{Width: 500, Dash: dash}}
			img := drawn(t, document(p), 72)
			assert.Equal(t, 255, grey(img, 25, 25))
		}
	}
	// after a close a line goes on from where the run began
	img := drawn(t, document(&layout.Path{Stroke: layout.Stroke{Width: 1000}, Segs: []layout.Seg{
		seg(layout.MoveTo, a), seg(layout.LineTo, layout.Point{X: 9000, Y: 20000}), seg(layout.Close), seg(layout.LineTo, layout.Point{X: 30000, Y: 9000})}}), 254)
	assert.Zero(t, grey(img, 200, 90))
}

func FuzzPath(f *testing.F) {
	f.Add([]byte{0, 1, 2, 1, 3, 4, 2, 5, 6, 7, 8, 9, 10, 3}, true)
	f.Fuzz(func(t *testing.T, data []byte, round bool) {
		p := &layout.Path{Segs: []layout.Seg{{}}, Stroke: layout.Stroke{Width: 300, Round: round}}
		if len(data) > 3 {
			p.Stroke.Dash = []layout.Um{layout.Um(data[0]) * 20, layout.Um(data[1])*20 + 1, layout.Um(data[2])}
		}
		for len(data) > 6 {
			s := layout.Seg{Kind: layout.SegKind(data[0] % 4)}
			for i := range s.P {
				s.P[i] = layout.Point{X: layout.Um(int8(data[1+2*i])) * 900, Y: layout.Um(int8(data[2+2*i])) * 900}
			}
			p.Segs = append(p.Segs, s)
			data = data[7:]
		}
		p.Fill = new(layout.Grey)
		drawn(t, document(p), 72)
	})
}

func BenchmarkPage(b *testing.B) {
	doc := sample.Document()
	for name, write := range map[string]func(*Writer) error{
		"draw": func(w *Writer) error { _, err := w.Draw(0); return err },
		"png":  func(w *Writer) error { return w.PNG(new(bytes.Buffer), 0) },
		"jpeg": func(w *Writer) error { return w.JPEG(new(bytes.Buffer), 0) },
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				w, err := New(doc, DefaultDPI)
				if err == nil {
					err = write(w)
				}
				if err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
