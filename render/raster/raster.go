package raster

import (
	"fmt"
	"image"
	"io"
	"runtime"
	"sync"
	"sync/atomic"

	"stopleaf/layout"
	"stopleaf/render/internal/paper"
)

// The dots an inch that pages are drawn at.
const (
	DefaultDPI = 200
	LeastDPI   = 72
	MostDPI    = 600
)

// maxBytes is the most that a page's pixels may take.
const maxBytes = 512 << 20

// Writer writes the pages of one document as pictures. A photograph that is on
// several of its pages is decoded once.
type Writer struct {
	doc   *layout.Document
	dpi   int
	album *album
}

// New makes a writer for a document at so many dots an inch, LeastDPI to
// MostDPI; 0 is DefaultDPI.
func New(doc *layout.Document, dpi int) (*Writer, error) {
	if dpi == 0 {
		dpi = DefaultDPI
	}
	if dpi < LeastDPI || dpi > MostDPI {
		return nil, fmt.Errorf("%d dots an inch; from %d to %d are drawn", dpi, LeastDPI, MostDPI)
	}
	return &Writer{doc: doc, dpi: dpi, album: newAlbum()}, nil
}

// Draw draws a page, counted from 0, in sRGB: grey (*image.Gray) where nothing
// on it has a colour, else *image.RGBA without transparency.
func (w *Writer) Draw(page int) (image.Image, error) {
	if page < 0 || page >= len(w.doc.Pages) {
		return nil, fmt.Errorf("no page %d in a document of %d", page+1, len(w.doc.Pages))
	}
	p := &w.doc.Pages[page]
	if err := paper.Check(p); err != nil {
		return nil, err
	}
	width, height := pixels(p.W, w.dpi), pixels(p.H, w.dpi)
	colour := hasColour(p.Items)
	if size := int64(width) * int64(height) * bytesPer(colour); size > maxBytes {
		return nil, fmt.Errorf("a page of %s x %s mm at %d dots an inch is more than a picture may hold; take fewer, or PDF",
			paper.Mm(p.W), paper.Mm(p.H), w.dpi)
	}
	const micrometresPerInch = 25400
	c := newCanvas(width, height, float64(w.dpi)/micrometresPerInch, colour, w.album)
	if err := c.items(p.Items); err != nil {
		return nil, err
	}
	return c.picture(), nil
}

func bytesPer(colour bool) int64 {
	if colour {
		return 4
	}
	return 1
}

// pixels is a side of a page, rounded.
func pixels(u layout.Um, dpi int) int {
	return max(1, int((int64(u)*int64(dpi)+12700)/25400))
}

// PNG writes a page, counted from 0, with its resolution, its colour space and
// what is said of it. The file is made in memory and written in one go.
func (w *Writer) PNG(out io.Writer, page int) error { return w.write(out, page, w.encodePNG) }

// JPEG does the same as JPEG.
func (w *Writer) JPEG(out io.Writer, page int) error { return w.write(out, page, w.encodeJPEG) }

// AllPNG gives every page as PNG writes it; they are drawn side by side.
func (w *Writer) AllPNG() ([][]byte, error) { return w.all(w.encodePNG) }

// AllJPEG does the same as JPEG.
func (w *Writer) AllJPEG() ([][]byte, error) { return w.all(w.encodeJPEG) }

// encoder makes the file of a page that is drawn.
type encoder func(img image.Image, page int) ([]byte, error)

func (w *Writer) write(out io.Writer, page int, encode encoder) error {
	file, err := w.file(page, encode)
	if err != nil {
		return err
	}
	_, err = out.Write(file)
	return err
}

func (w *Writer) file(page int, encode encoder) ([]byte, error) {
	img, err := w.Draw(page)
	if err != nil {
		return nil, err
	}
	return encode(img, page)
}

// atOnce is how many pages are drawn at a time, at most: each holds its pixels.
const atOnce = 4

func (w *Writer) all(encode encoder) ([][]byte, error) {
	files := make([][]byte, len(w.doc.Pages))
	errs := make([]error, len(files))
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(atOnce, runtime.GOMAXPROCS(0), len(files)) {
		wg.Go(func() {
			for i := int(next.Add(1)) - 1; i < len(files); i = int(next.Add(1)) - 1 {
				files[i], errs[i] = w.file(i, encode)
			}
		})
	}
	wg.Wait()
	for i, err := range errs {
		if err != nil {
			return nil, fmt.Errorf("page %d: %w", i+1, err)
		}
	}
	return files, nil
}

// dotsPerMetre is the resolution as PNG holds it, rounded.
func dotsPerMetre(dpi int) int { return (dpi*10000 + 127) / 254 }
