package pdf

import (
	"bytes"
	"errors"
	"io"

	"stopleaf/layout"
)

// Options says how the file is written; the zero value is for people.
type Options struct {
	Plain bool // streams are not compressed, so that a test can read them
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
	return writeMore(w, doc, opt, nil)
}

var errNoPages = errors.New("a document without pages")

// writeMore is WriteWith with more in the catalog.
func writeMore(w io.Writer, doc *layout.Document, opt Options, extras []extra) error {
	if len(doc.Pages) == 0 {
		return errNoPages
	}
	var b bytes.Buffer
	out := NewWriter(&b, opt)
	err := out.Pages(len(doc.Pages), func(i int) ([]layout.Page, error) { return doc.Pages[i : i+1], nil })
	if err != nil {
		return err
	}
	if err := out.close(doc, extras); err != nil {
		return err
	}
	_, err = w.Write(b.Bytes())
	return err
}

// pointsPerMm is exact to the last bit that a float holds.
const pointsPerMm = 72 / 25.4

// points are those of a length, as a page's box has them.
func points(u layout.Um) float64 { return u.Mm() * pointsPerMm }
