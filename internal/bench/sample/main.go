// Command sample makes what the benchmark of many pages needs: a folder of setups
// and, from a binder of them, pages for the yardstick. It is a program of its
// own so that what it holds does not count as another's memory.
//
// Without setups it makes the photos alone.
//
//	sample FOLDER N PAGES FORM
package main

import (
	"encoding/gob"
	"fmt"
	"os"
	"strconv"

	"stopleaf/internal/bench/convert"
)

// laidOut is how many setups the yardstick's pages are from, a few of every number
// of lights, and how many pages of lists: what it must read is little.
const laidOut = 48

func main() {
	if err := write(os.Args[1], os.Args[2], os.Args[3], os.Args[4]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func write(dir, count, pagesName, as string) error {
	n, err := strconv.Atoi(count)
	if err != nil {
		return err
	}
	if err := writeSetups(dir, n); err != nil {
		return err
	}
	if n == 0 {
		return nil
	}
	book, err := convert.Binder(dir, as, laidOut, laidOut)
	if err != nil {
		return err
	}
	f, err := os.Create(pagesName)
	if err != nil {
		return err
	}
	defer f.Close()
	return gob.NewEncoder(f).Encode(book)
}
