package pdf

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"sync"
	"time"

	"github.com/go-pdf/fpdf"

	"stopleaf/layout"
	"stopleaf/render/internal/paper"
)

// Options says how the file is written; the zero value is for people.
type Options struct {
	Plain bool // page streams are not compressed, so that a test can read them
}

// Write writes a document as a PDF: its fonts embedded as far as they are used,
// text that can be selected and searched, pictures turned but not decoded.
// The same document gives the same bytes. The file is made in memory and
// written in one go; what cannot be written is an error, and nothing is.
func Write(w io.Writer, doc *layout.Document) error {
	return WriteWith(w, doc, Options{})
}

// WriteWith is Write with options.
func WriteWith(w io.Writer, doc *layout.Document, opt Options) error {
	if len(doc.Pages) == 0 {
		return fmt.Errorf("a document without pages")
	}
	for i := range doc.Pages {
		if err := paper.Check(&doc.Pages[i]); err != nil {
			return fmt.Errorf("page %d: %w", i+1, err)
		}
	}
	body, fonts, err := pages(doc, opt)
	if err != nil {
		return err
	}
	file, err := finish(body, fonts, doc, nil)
	if err != nil {
		return err
	}
	_, err = w.Write(file)
	return err
}

// pages writes all pages as fpdf does, and gives the fonts that they use; those
// are added, and the catalog and the information replaced, by finish.
func pages(doc *layout.Document, opt Options) ([]byte, []*font, error) {
	first := size(&doc.Pages[0])
	f := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "pt", Size: first})
	f.SetMargins(0, 0, 0)
	f.SetAutoPageBreak(false, 0)
	f.SetCompression(!opt.Plain)
	f.SetCatalogSort(true)
	// never seen, but fpdf asks the clock where it has none
	fixed := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	f.SetCreationDate(fixed)
	f.SetModificationDate(fixed)

	d := &drawing{pdf: f, links: map[string]int{}, images: newImages(f)}
	d.labels(doc)
	for i := range doc.Pages {
		d.page(&doc.Pages[i])
		if f.Error() != nil || d.err != nil {
			break
		}
	}
	if d.err != nil {
		return nil, nil, d.err
	}
	fonts := slices.DeleteFunc(d.fonts[:], func(f *font) bool { return f == nil })
	var wg sync.WaitGroup
	for _, font := range fonts {
		wg.Go(func() { font.prepare(opt.Plain) })
	}
	var b bytes.Buffer
	err := f.Output(&b)
	wg.Wait()
	if err != nil {
		return nil, nil, fmt.Errorf("pdf: %w", err)
	}
	return b.Bytes(), fonts, nil
}

// pointsPerMm is exact to the last bit that a float holds.
const pointsPerMm = 72 / 25.4

func size(p *layout.Page) fpdf.SizeType {
	return fpdf.SizeType{Wd: p.W.Mm() * pointsPerMm, Ht: p.H.Mm() * pointsPerMm}
}
