package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/go-pdf/fpdf"
)

// pageHead is what fpdf begins each page's contents with, whatever its size. It
// makes a page of its own here, without a file around it, once for all pages: what
// is drawn on one stands behind it.
var pageHead = sync.OnceValues(func() ([]byte, error) {
	var err error
	page := fpdf.CreateTpl(fpdf.PointType{}, fpdf.SizeType{Wd: 100, Ht: 100}, "P", "pt", "", func(t *fpdf.Tpl) { err = t.Error() })
	if err != nil {
		return nil, fmt.Errorf("pdf: %w", err)
	}
	return page.Bytes(), nil
})

// newFpdf begins a file of fpdf's of one page, whose streams are not packed.
func newFpdf() *fpdf.Fpdf {
	f := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "pt", Size: fpdf.SizeType{Wd: 100, Ht: 100}})
	f.SetCompression(false)
	// never seen, but fpdf asks the clock where it has none
	fixed := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	f.SetCreationDate(fixed)
	f.SetModificationDate(fixed)
	f.AddPage()
	return f
}

// The objects of a file of fpdf's with one page: the tree of pages, the
// resources, the page, its contents; then the pictures; the information and the
// catalog are its last.
const (
	firstPicture = 5
	lastObjects  = 2
)

// object is one of fpdf's, taken apart: a dictionary, and a stream or nil.
type object struct {
	dict string
	data []byte
}

// with is the object with another stream.
func (o object) with(data []byte) object {
	before, _, _ := strings.Cut(o.dict, "/Length ")
	return object{before + "/Length " + strconv.Itoa(len(data)) + ">>", data}
}

// objectsOf ends a file of fpdf's and takes it apart; by number, 0 is not used.
func objectsOf(f *fpdf.Fpdf) ([]object, error) {
	var b bytes.Buffer
	if err := f.Output(&b); err != nil {
		return nil, fmt.Errorf("pdf: %w", err)
	}
	return takeApart(b.Bytes())
}

var errTable = errors.New("pdf: a damaged cross-reference table")

func takeApart(body []byte) ([]object, error) {
	offsets, err := readTable(body)
	if err != nil {
		return nil, err
	}
	if len(offsets) < firstPicture+lastObjects {
		return nil, errTable
	}
	objects := make([]object, len(offsets))
	for n, at := range offsets[1:] {
		if objects[n+1], err = readObject(body[at:], n+1); err != nil {
			return nil, err
		}
	}
	return objects, nil
}

// readObject reads an object as fpdf writes it.
func readObject(b []byte, n int) (object, error) {
	head := []byte(strconv.Itoa(n) + " 0 obj\n")
	if !bytes.HasPrefix(b, head) {
		return object{}, errTable
	}
	dict, rest, isStream := bytes.Cut(b[len(head):], []byte("\nstream\n"))
	if dict, _, whole := bytes.Cut(dict, []byte("\nendobj\n")); whole {
		return object{dict: string(dict)}, nil
	}
	_, length, found := strings.Cut(string(dict), "/Length ")
	size, err := strconv.Atoi(strings.TrimRight(length, ">"))
	if !isStream || !found || err != nil || size < 0 || size > len(rest) {
		return object{}, errTable
	}
	return object{string(dict), rest[:size:size]}, nil
}

// readTable reads where each object begins.
func readTable(body []byte) ([]int, error) {
	at := bytes.LastIndex(body, []byte("startxref\n"))
	if at < 0 {
		return nil, errTable
	}
	line, _, _ := strings.Cut(string(body[at+len("startxref\n"):]), "\n")
	table, err := strconv.Atoi(line)
	if err != nil || table < 0 || table > at {
		return nil, errTable
	}
	offsets := []int{0}
	for row := range strings.SplitSeq(string(body[table:at]), "\n") {
		if offset, found := strings.CutSuffix(row, " 00000 n "); found {
			n, err := strconv.Atoi(offset)
			if err != nil || n < 0 || n > len(body) {
				return nil, errTable
			}
			offsets = append(offsets, n)
		}
	}
	return offsets, nil
}
