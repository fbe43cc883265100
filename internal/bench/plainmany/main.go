// Command plainmany draws so many pages with fpdf and nothing else: the yardstick
// for a binder. It goes round the pages that the benchmark wrote to a file, those
// of its lists and those of its setups, and round the photos; the codes are those of as
// many setups as the binder has.
//
//	plainmany PAGES N OUT PHOTO...
package main

import (
	"encoding/gob"
	"fmt"
	"os"
	"strconv"

	"stopleaf/internal/bench/plainly"
)

func main() {
	if err := draw(os.Args[1], os.Args[2], os.Args[3], os.Args[4:]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func draw(from, count, out string, photos []string) error {
	f, err := os.Open(from)
	if err != nil {
		return err
	}
	defer f.Close()
	var book plainly.Book
	if err := gob.NewDecoder(f).Decode(&book); err != nil {
		return err
	}
	n, err := strconv.Atoi(count)
	if err != nil {
		return err
	}
	pdf := plainly.New()
	placed := -1
	next := func() string { placed++; return photos[placed%len(photos)] }
	codes := coder{codes: book.Codes}
	for i := range n {
		if i < book.AllLists {
			plainly.Draw(pdf, book.Lists[i%len(book.Lists)], next)
		} else {
			plainly.Draw(pdf, codes.of(book.Setups[(i-book.AllLists)%len(book.Setups)]), next)
		}
	}
	return pdf.OutputFileAndClose(out)
}

// coder gives each setup that is gone round to codes of its own, as in a binder, where
// no two setups have the same.
type coder struct {
	codes     []plainly.Code
	used      int
	last, now string // the code of the page as it was laid out, and the one in its place
}

func (c *coder) of(p plainly.Page) plainly.Page {
	own := make([]plainly.Code, len(p.Codes))
	for i, code := range p.Codes {
		if code.PNG != c.last {
			c.last, c.now = code.PNG, c.codes[c.used%len(c.codes)].PNG
			c.used++
		}
		own[i] = plainly.Code{At: code.At, PNG: c.now}
	}
	p.Codes = own
	return p
}
