package main

import (
	"fmt"
	"path/filepath"
	"strconv"
	"strings"
)

// book is the benchmark of many pages: setups read, laid out and written into
// one PDF, against plain fpdf that draws as many.
type book struct {
	setups, pages int
	*measured
}

// The runs of a book.
const (
	runMany = iota
	runPlainMany
)

// measureBook makes about so many pages.
func (p programs) measureBook(pages, rounds int) (*book, error) {
	const perSetup = 5.0 / 3 // about what a setup of the sample takes
	b := &book{setups: int(float64(pages) / perSetup)}
	if err := p.setups(b.setups); err != nil {
		return nil, err
	}
	many := run{"stopleaf, many setups", []string{p.many, p.folder(), strconv.Itoa(b.setups), filepath.Join(p.dir, "many.pdf")}}
	_, printed, err := once(many)
	if err != nil {
		return nil, err
	}
	if b.pages, err = strconv.Atoi(strings.TrimSpace(printed)); err != nil {
		return nil, err
	}
	photos, err := filepath.Glob(filepath.Join(p.folder(), "photo-*.jpg"))
	if err != nil {
		return nil, err
	}
	plain := run{"plain fpdf, as many pages", append([]string{p.plainMany, p.pages(), strconv.Itoa(b.pages), filepath.Join(p.dir, "plainmany.pdf")}, photos...)}
	b.measured, err = measure([]run{runMany: many, runPlainMany: plain}, 1, rounds)
	return b, err
}

// reportBooks measures and prints books of several sizes, and fails where a limit
// is passed.
func reportBooks(p programs, sizes []int, rounds int) error {
	fmt.Printf("%d rounds of whole processes\n\n%-26s %6s %6s %9s %9s %9s %9s %8s %8s\n", rounds, "", "setups", "pages", "best", "median", "worst", "cores'", "a page", "peak")
	var limits []limit
	var books []*book
	for _, n := range sizes {
		b, err := p.measureBook(n, rounds)
		if err != nil {
			return err
		}
		rows := b.rows()
		for _, r := range rows {
			fmt.Printf("%-26s %6d %6d %6.0f ms %6.0f ms %6.0f ms %6.0f ms %5.2f ms %5.0f MB\n",
				r.what, b.setups, b.pages, r.least, r.ms, r.most, r.cpu, r.ms/float64(b.pages), r.mb)
		}
		limits = append(limits,
			limit{fmt.Sprintf("%d pages / plain fpdf", b.pages), b.ratio(runMany, runPlainMany), 1.5},
			limit{fmt.Sprintf("%d pages, peak / plain fpdf", b.pages), rows[runMany].mb / rows[runPlainMany].mb, 1.3})
		if n == 1000 {
			limits = append(limits, limit{fmt.Sprintf("%d pages, ms", b.pages), rows[runMany].ms, 1000})
		}
		books = append(books, b)
	}
	return printLimits(append(limits, growth(books)...))
}

// growth tells whether a page costs the same in a larger book: what each further
// page takes, to what it took before.
func growth(books []*book) (list []limit) {
	each := func(a, b *book) float64 {
		return (b.rows()[runMany].ms - a.rows()[runMany].ms) / float64(b.pages-a.pages)
	}
	for i := 2; i < len(books); i++ {
		list = append(list, limit{
			fmt.Sprintf("a further page, %d to %d pages", books[i-1].pages, books[i].pages),
			each(books[i-1], books[i]) / each(books[i-2], books[i-1]), 1.1})
	}
	return list
}
