// Command plainmany draws so many pages with fpdf and nothing else: the yardstick
// for a binder. It goes round the pages that the benchmark wrote to a file, those
// of its lists and those of its setups, and round the photos.
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
	for i := range n {
		if i < book.AllLists {
			plainly.Draw(pdf, book.Lists[i%len(book.Lists)], next)
		} else {
			plainly.Draw(pdf, book.Setups[(i-book.AllLists)%len(book.Setups)], next)
		}
	}
	return pdf.OutputFileAndClose(out)
}
