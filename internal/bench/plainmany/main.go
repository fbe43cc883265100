// Command plainmany draws so many pages with fpdf and nothing else: the yardstick
// for a binder. It goes round the pages that the benchmark wrote to a file, and
// round the photos.
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
	var pages []plainly.Page
	if err := gob.NewDecoder(f).Decode(&pages); err != nil {
		return err
	}
	n, err := strconv.Atoi(count)
	if err != nil {
		return err
	}
	pdf := plainly.New()
	placed := 0
	for i := range n {
		p := pages[i%len(pages)]
		plainly.Draw(pdf, p, photos[placed%len(photos)])
		if len(p.Photo) > 0 {
			placed++
		}
	}
	return pdf.OutputFileAndClose(out)
}
