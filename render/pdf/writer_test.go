package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stopleaf/internal/outside"
	"stopleaf/internal/readback"
	"stopleaf/layout"
	"stopleaf/render/internal/sample"
)

// binder is a document of n setups with a page each behind a page of contents,
// which links to all of them as they do to it.
func binder(n int) (pages []layout.Page, outline []layout.Entry) {
	contents := layout.Page{W: layout.Mm(210), H: layout.Mm(297), Names: []string{"contents"}}
	outline = []layout.Entry{{Title: "Contents", To: "contents"}, {Title: "Portraits", To: "S-0/1"}}
	pages = append(pages, contents)
	for i := range n {
		label := fmt.Sprintf("S-%d/1", i)
		box := layout.Rect{X: 20000, Y: layout.Um(10000 + 1000*(i%250)), W: 50000, H: 1000}
		pages[0].Items = append(pages[0].Items, &layout.Link{Rect: box, To: label})
		pages = append(pages, layout.Page{W: layout.Mm(210), H: layout.Mm(297), Label: label, Names: []string{fmt.Sprint("setup ", i)}, Items: []layout.Item{
			sample.Set(20000, 30000, 5000, true, label), sample.Set(20000, 40000, 2500, false, strings.Repeat("Žižkov ", i%5)),
			sample.Turned(layout.Rect{X: 20000, Y: 50000, W: 32000, H: 16000}, 1+i%4),
			&layout.Link{Rect: box, To: "contents"},
		}})
		outline[1].Under = append(outline[1].Under, layout.Entry{Title: "Setup " + label, To: fmt.Sprint("setup ", i)})
	}
	return pages, outline
}

func writePages(t require.TestingT, pages []layout.Page, per int, doc *layout.Document) []byte {
	var b bytes.Buffer
	w := NewWriter(&b, Options{})
	require.NoError(t, w.Pages((len(pages)+per-1)/per, func(i int) ([]layout.Page, error) {
		return pages[i*per : min((i+1)*per, len(pages))], nil
	}))
	require.NoError(t, w.Close(doc))
	return b.Bytes()
}

// Every entry, link and label leads to the page that it names, as another
// program reads them, for one page and for two thousand.
func TestManyPages(t *testing.T) {
	for _, n := range []int{1, 100, 2000} {
		pages, outline := binder(n)
		path := save(t, writePages(t, pages, 1, &layout.Document{Title: "Binder", Lang: "en", Outline: outline}))
		f := readback.Open(t, path)
		require.Len(t, f.Labels, n+1)
		require.Len(t, f.Outline, 2)
		assert.Equal(t, readback.Entry{Title: "Contents", Page: 1}, f.Outline[0])
		assert.Equal(t, 2, f.Outline[1].Page)
		require.Len(t, f.Outline[1].Under, n)
		require.Len(t, f.Links[0], n)
		assert.Equal(t, "1", f.Labels[0])
		for i := range n {
			assert.Equal(t, readback.Entry{Title: fmt.Sprintf("Setup S-%d/1", i), Page: i + 2}, f.Outline[1].Under[i])
			assert.Equal(t, i+2, f.Links[0][i])
			assert.Equal(t, []int{1}, f.Links[i+1])
			assert.Equal(t, fmt.Sprintf("S-%d/1", i), f.Labels[i+1])
		}
		assert.Contains(t, outside.Run(t, "qpdf", "--check", path), "No syntax or stream encoding errors found")
		assert.NotContains(t, outside.Run(t, "mutool", "draw", "-o", os.DevNull, "-F", "trace", path, "1,N"), "error")
		assert.Contains(t, outside.Run(t, "mutool", "info", path), fmt.Sprintf("Pages: %d", n+1))
		assert.Contains(t, outside.Run(t, "pdfinfo", path), fmt.Sprintf("Pages:           %d", n+1))
		fonts := strings.Split(strings.TrimSpace(outside.Run(t, "pdffonts", path)), "\n")
		assert.Len(t, fonts, min(n, 2)+2, "two lines of heading, each face once: %v", fonts)
		images := strings.Split(outside.Run(t, "pdfimages", "-list", path), "\n")
		objects := map[string]bool{}
		for _, line := range images[2:] {
			if f := strings.Fields(line); len(f) > 10 {
				objects[f[10]] = true
			}
		}
		assert.Len(t, objects, min(n, 4), "each picture once")
	}
}

// However the pages come, in pieces of any size and on any number of processors,
// the file is the same.
func TestSameBytesHoweverDrawn(t *testing.T) {
	pages, outline := binder(60)
	doc := &layout.Document{Title: "Binder", Outline: outline}
	first := writePages(t, pages, 1, doc)
	for _, procs := range []int{1, 2, 8} {
		before := runtime.GOMAXPROCS(procs)
		for _, per := range []int{1, 7, 61} {
			require.True(t, bytes.Equal(first, writePages(t, pages, per, doc)), "%d processors, %d pages a piece", procs, per)
		}
		runtime.GOMAXPROCS(before)
	}
	var b bytes.Buffer
	w := NewWriter(&b, Options{})
	for i := range pages {
		s, err := w.Draw(&pages[i])
		require.NoError(t, err)
		require.NoError(t, w.Add(s))
	}
	require.NoError(t, w.Close(doc))
	require.True(t, bytes.Equal(first, b.Bytes()))
	doc.Pages = pages
	b.Reset()
	require.NoError(t, Write(&b, doc))
	require.True(t, bytes.Equal(first, b.Bytes()))
}

// The first mistake in the order of the pages is told, whichever came first, and
// nothing is made any more once it is.
func TestFirstErrorOfMany(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 60).Draw(t, "n")
		bad := rapid.SliceOfNDistinct(rapid.IntRange(0, n-1), 1, 5, rapid.ID).Draw(t, "bad")
		first := n
		for _, i := range bad {
			first = min(first, i)
		}
		made := make([]int, n)
		over := false
		pages, _ := binder(0)
		err := NewWriter(&bytes.Buffer{}, Options{}).Pages(n, func(i int) ([]layout.Page, error) {
			assert.False(t, over)
			made[i]++
			for _, b := range bad {
				if i == b && i%2 == 0 {
					return nil, fmt.Errorf("piece %d", i)
				}
				if i == b {
					return []layout.Page{pages[0], {}}, nil
				}
			}
			return pages, nil
		})
		over = true
		want := fmt.Sprintf("piece %d", first)
		if first%2 == 1 {
			want = fmt.Sprintf("page %d: page of 0 x 0 mm", first+2)
		}
		require.ErrorContains(t, err, want)
		for i, times := range made {
			require.LessOrEqual(t, times, 1)
			if i <= first {
				require.Equal(t, 1, times)
			}
		}
	})
}

func TestWriterErrors(t *testing.T) {
	pages, _ := binder(40)
	assert.Equal(t, errNoPages, NewWriter(&bytes.Buffer{}, Options{}).Close(&layout.Document{}))

	w := NewWriter(&bytes.Buffer{}, Options{})
	require.NoError(t, w.Pages(2, func(i int) ([]layout.Page, error) { return pages[i : i+1], nil }))
	err := w.Close(&layout.Document{Outline: []layout.Entry{{Title: "x", Under: []layout.Entry{{Title: "y", To: "nowhere"}}}}})
	assert.EqualError(t, err, `the outline leads to "nowhere", and no page is called that`)

	// a full disk is told at the end at the latest, and by each call after it
	w = NewWriter(broken{}, Options{Plain: true})
	full := w.Pages(40, func(i int) ([]layout.Page, error) {
		p := pages[i]
		p.Items = append(p.Items, sample.Set(0, 0, 2500, false, strings.Repeat("long ", 1000)))
		return []layout.Page{p}, nil
	})
	assert.EqualError(t, full, "the disk is full")
	assert.EqualError(t, w.Close(&layout.Document{}), "the disk is full")
	assert.EqualError(t, NewWriter(broken{}, Options{}).Add(&Sheet{contents: stream{data: make([]byte, 1<<17)}}), "the disk is full")
	w = NewWriter(broken{}, Options{})
	require.NoError(t, w.Pages(1, func(int) ([]layout.Page, error) { return pages[1:2], nil }), "still in the buffer")
	assert.EqualError(t, w.Close(&layout.Document{}), "the disk is full")
}

// Entries without a place lead nowhere, an empty outline is none, and titles of
// pages are one only where nothing else is asked for.
func TestOutlines(t *testing.T) {
	pages, _ := binder(2)
	pages[1].Title, pages[2].Title = "One", "Two"
	read := func(outline []layout.Entry) []readback.Entry {
		path := save(t, writePages(t, pages, 1, &layout.Document{Outline: outline}))
		require.Contains(t, outside.Run(t, "qpdf", "--check", path), "No syntax")
		return readback.Open(t, path).Outline
	}
	assert.Equal(t, []readback.Entry{{Title: "One", Page: 2}, {Title: "Two", Page: 3}}, read(nil))
	assert.Empty(t, read([]layout.Entry{}))
	deep := []layout.Entry{{Title: "Ž (a", To: "contents", Under: []layout.Entry{{Title: "b", To: "S-1/1", Under: []layout.Entry{{Title: "c", To: "setup 0"}}}, {Title: "d", To: "contents"}}}}
	assert.Equal(t, []readback.Entry{{Title: "Ž (a", Page: 1, Under: []readback.Entry{
		{Title: "b", Page: 3, Under: []readback.Entry{{Title: "c", Page: 2}}}, {Title: "d", Page: 1}}}}, read(deep))
	path := save(t, writePages(t, pages, 1, &layout.Document{Outline: []layout.Entry{{Title: "heading", Under: deep}}}))
	assert.Regexp(t, `"heading"\s+\(null\)`, strings.ReplaceAll(outside.Run(t, "mutool", "show", path, "outline"), "\t(null)", " (null)"))
}

// The memory that a document takes does not grow with its pages: what is kept of
// each is less than a kilobyte, where its contents have twenty.
func TestPagesAreNotKept(t *testing.T) {
	long := layout.Page{W: layout.Mm(210), H: layout.Mm(297)}
	for i := range 120 {
		long.Items = append(long.Items, sample.Set(10000, layout.Um(500*i), 2500, false, strings.Repeat("abc", 10)))
	}
	held := func(n int) int64 {
		w := NewWriter(discard{}, Options{Plain: true})
		require.NoError(t, w.Pages(n, func(int) ([]layout.Page, error) { return []layout.Page{long}, nil }))
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		runtime.KeepAlive(w)
		return int64(m.HeapAlloc)
	}
	few := held(100)
	assert.Less(t, held(1100)-few, int64(1000*1000))
}

type discard struct{}

func (discard) Write(b []byte) (int, error) { return len(b), nil }

// A picture that two goroutines draw at once is read once.
func TestPicturesAtOnce(t *testing.T) {
	photo := sample.Photo(layout.Rect{W: 1000, H: 1000})
	var pages []layout.Page
	for range 64 {
		copied := *photo
		copied.Data = bytes.Clone(photo.Data)
		pages = append(pages, layout.Page{W: 10000, H: 10000, Items: []layout.Item{photo, &copied}})
	}
	out := writePages(t, pages, 1, &layout.Document{})
	assert.Equal(t, 1, bytes.Count(out, []byte("/Subtype /Image")))
	damaged := *photo
	damaged.Data, damaged.Alt = photo.Data[:60], "x"
	w := NewWriter(&bytes.Buffer{}, Options{})
	err := w.Pages(64, func(int) ([]layout.Page, error) {
		return []layout.Page{{W: 10000, H: 10000, Items: []layout.Item{photo, &damaged}}}, nil
	})
	assert.ErrorContains(t, err, `page 1: picture "x"`)
	assert.True(t, errors.As(err, new(interface{ Unwrap() error })))
}

// Pictures with a mask, with a palette and in colour look as they did.
func TestPictureKinds(t *testing.T) {
	dir := t.TempDir()
	made := map[string][]string{
		"mask":    {"-size", "40x20", "gradient:red-none", "PNG32:" + filepath.Join(dir, "mask.png")},
		"palette": {"-size", "40x20", "gradient:red-blue", "-colors", "16", "PNG8:" + filepath.Join(dir, "palette.png")},
		"colour":  {"-size", "40x20", "gradient:red-blue", "PNG24:" + filepath.Join(dir, "colour.png")},
	}
	for name, args := range made {
		outside.Run(t, "convert", args...)
		data, err := os.ReadFile(filepath.Join(dir, name+".png"))
		require.NoError(t, err)
		img := &layout.Image{Rect: layout.Rect{W: 40000, H: 20000}, Format: "png", Data: data, PxW: 40, PxH: 20, Channels: 3}
		doc := &layout.Document{Pages: []layout.Page{{W: 40000, H: 20000, Items: []layout.Item{img}}}}
		path := save(t, write(t, doc))
		require.Contains(t, outside.Run(t, "qpdf", "--check", path), "No syntax", name)
		shown := filepath.Join(dir, name+"-shown")
		outside.Run(t, "pdftoppm", "-png", "-singlefile", "-r", "25.4", path, shown)
		got := outside.Run(t, "convert", filepath.Join(dir, name+".png"), "-background", "white", "-flatten",
			shown+".png", "-metric", "MAE", "-compare", "-format", "%[distortion]", "info:")
		var apart float64
		_, err = fmt.Sscan(got, &apart)
		require.NoError(t, err, got)
		assert.Less(t, apart, 0.02, name)
	}
}
