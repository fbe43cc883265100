// Command many lays out every setup of a folder as a card on A4 and writes them
// into one PDF, as a binder does with its sheets: setups are read, laid out,
// drawn and packed on every core, and written in their order. It takes the first
// N, and says how many pages they are.
//
//	many FOLDER N OUT
package main

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"
	"strconv"
	"sync/atomic"

	"stopleaf/exposure"
	"stopleaf/layout"
	"stopleaf/render/pdf"
	"stopleaf/safety"
	"stopleaf/setup"
	"stopleaf/templates"
)

// photoLong is the most pixels that a photo keeps on its longer side.
const photoLong = 1600

func main() {
	debug.SetGCPercent(400) // as stopleaf does
	if err := write(os.Args[1], os.Args[2], os.Args[3]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func write(folder, count, name string) error {
	names, err := filepath.Glob(filepath.Join(folder, "*.yaml"))
	if err != nil {
		return err
	}
	n, err := strconv.Atoi(count)
	if err != nil || n > len(names) {
		return fmt.Errorf("%s of %d setups: %v", count, len(names), err)
	}
	names = names[:n]
	words, err := templates.Load("en")
	if err != nil {
		return err
	}
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	shared := &setup.Shared{}
	var pages atomic.Int64
	w := pdf.NewWriter(f, pdf.Options{})
	err = w.Pages(len(names), func(i int) ([]layout.Page, error) {
		s, problems := setup.Read(names[i], setup.Options{Shared: shared})
		if problems.HasErrors() {
			return nil, problems
		}
		bases, err := s.ChooseBases("")
		if err != nil {
			return nil, err
		}
		n := exposure.Compute(s.Input(bases))
		job := layout.Job{Setup: s, Numbers: &n, Safety: safety.Notes(s, &n, words), Words: words, PhotoLong: photoLong}
		doc, err := layout.Card([]layout.Job{job}, layout.CardOptions{Paper: "a4"})
		if err != nil {
			return nil, err
		}
		pages.Add(int64(len(doc.Pages)))
		return doc.Pages, nil
	})
	if err != nil {
		return err
	}
	if err := w.Close(&layout.Document{Title: "Many"}); err != nil {
		return err
	}
	fmt.Println(pages.Load())
	return f.Close()
}
