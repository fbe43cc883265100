// Command sample makes what the benchmark of many pages needs: a folder of setups
// and, from the first of them, pages for the yardstick. It is a program of its
// own so that what it holds does not count as another's memory.
//
//	sample FOLDER N PAGES
package main

import (
	"encoding/gob"
	"fmt"
	"os"
	"path/filepath"
	"strconv"

	"stopleaf/internal/bench/convert"
	"stopleaf/internal/bench/plainly"
	"stopleaf/layout"
)

// laidOut is how many setups the yardstick's pages are from: a few of every
// number of lights.
const laidOut = 48

func main() {
	if err := write(os.Args[1], os.Args[2], os.Args[3]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func write(dir, count, pagesName string) error {
	n, err := strconv.Atoi(count)
	if err != nil {
		return err
	}
	if err := writeSetups(dir, max(n, laidOut)); err != nil {
		return err
	}
	var pages []plainly.Page
	for i := range laidOut {
		doc, err := convert.Card(filepath.Join(dir, setupName(i)), layout.CardOptions{Paper: "a4"})
		if err != nil {
			return err
		}
		pages = append(pages, convert.Pages(doc)...)
	}
	f, err := os.Create(pagesName)
	if err != nil {
		return err
	}
	defer f.Close()
	return gob.NewEncoder(f).Encode(pages)
}
