package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// book is the benchmark of a binder: a folder of setups made into one, against
// plain fpdf that draws as many such pages.
type book struct {
	setups        int
	binder, plain held // what the two files hold
	*measured
}

// The runs of a book.
const (
	runBinder = iota
	runNoSource
	runPlainMany
)

// perSetup is about how many pages a setup of the sample takes in a binder.
var perSetup = map[string]float64{"sheet": 3.83, "card": 1.75}

// bookRuns are the runs of a binder of n setups, without the one that must know how
// many pages that is.
func (p programs) bookRuns(n int, as string) []run {
	made := func(what, name string, more ...string) run {
		return run{what, append([]string{p.stopleaf, "binder", p.folder(n), "--as", as, "-o", filepath.Join(p.dir, name)}, more...)}
	}
	return []run{
		runBinder:   made("stopleaf binder", "binder.pdf"),
		runNoSource: made("stopleaf binder --no-source", "no-source.pdf", "--no-source"),
	}
}

// plainBook is the yardstick of a binder of n setups.
func (p programs) plainBook(n, pages int) (run, error) {
	photos, err := filepath.Glob(filepath.Join(p.folder(n), "photo-*.jpg"))
	return run{"plain fpdf, as many pages", append([]string{p.plainMany, p.pages(n), strconv.Itoa(pages), filepath.Join(p.dir, "plain-book.pdf")}, photos...)}, err
}

// makeBook makes the folder and both files once, of n setups, and sees that they
// hold alike.
func (p programs) makeBook(n int, as string) (*book, []run, error) {
	b := &book{setups: n}
	if err := p.setups(n, as); err != nil {
		return nil, nil, err
	}
	runs := p.bookRuns(n, as)
	if _, _, err := once(runs[runBinder]); err != nil {
		return nil, nil, err
	}
	var err error
	if b.binder, err = holds(filepath.Join(p.dir, "binder.pdf")); err != nil {
		return nil, nil, err
	}
	plain, err := p.plainBook(n, b.binder.pages)
	if err != nil {
		return nil, nil, err
	}
	if _, _, err := once(plain); err != nil {
		return nil, nil, err
	}
	if b.plain, err = holds(filepath.Join(p.dir, "plain-book.pdf")); err != nil {
		return nil, nil, err
	}
	return b, append(runs, plain), nil
}

// measureBook measures a binder of about so many pages.
func (p programs) measureBook(pages, rounds int, as string) (*book, error) {
	b, runs, err := p.makeBook(int(float64(pages)/perSetup[as]), as)
	if err != nil {
		return nil, err
	}
	if err := b.alike(0.05); err != nil {
		return nil, err
	}
	b.measured, err = measure(runs, 1, rounds)
	return b, err
}

// alike is an error where the two files differ in their pages, or by more than a
// share in the texts or the pictures of a page.
func (b *book) alike(most float64) error {
	off := func(x, y int) bool { return math.Abs(float64(x-y)) > most*float64(y) }
	if x, y := b.binder, b.plain; x.pages != y.pages || off(x.texts, y.texts) || off(x.pictures, y.pictures) {
		return fmt.Errorf("the binder holds %v, the yardstick %v", x, y)
	}
	return nil
}

// reportBooks measures and prints binders of several sizes, and fails where a limit
// is passed.
func reportBooks(p programs, sizes []int, rounds int, as string) error {
	fmt.Printf("%d rounds of whole processes, %s\n\n%-28s %6s %6s %9s %9s %9s %9s %8s %8s\n", rounds, load(), "", "setups", "pages", "best", "median", "worst", "cores'", "a page", "peak")
	var limits []limit
	var books []*book
	for _, n := range sizes {
		b, err := p.measureBook(n, rounds, as)
		if err != nil {
			return err
		}
		rows := b.rows()
		for _, r := range rows {
			fmt.Printf("%-28s %6d %6d %6.0f ms %6.0f ms %6.0f ms %6.0f ms %5.2f ms %5.0f MB\n",
				r.what, b.setups, b.binder.pages, r.least, r.ms, r.most, r.cpu, r.ms/float64(b.binder.pages), r.mb)
		}
		fmt.Printf("%-28s %v; of the yardstick %v\n", "  holds", b.binder, b.plain)
		said := fmt.Sprintf("%d pages", b.binder.pages)
		limits = append(limits,
			limit{said + " / plain fpdf", b.ratio(runBinder, runPlainMany), 1.5},
			limit{said + ", no source / plain fpdf", b.ratio(runNoSource, runPlainMany), 0},
			limit{said + ", peak / plain fpdf", rows[runBinder].mb / rows[runPlainMany].mb, 1.3})
		if n == 1000 {
			limits = append(limits, limit{said + ", ms", rows[runBinder].ms, 1000})
		}
		books = append(books, b)
	}
	fmt.Println(load())
	return printLimits(append(limits, growth(books)...))
}

// growth tells whether a page costs the same in a larger book: what each further
// page takes, to what it took before.
func growth(books []*book) (list []limit) {
	each := func(a, b *book) float64 {
		return (b.rows()[runBinder].ms - a.rows()[runBinder].ms) / float64(b.binder.pages-a.binder.pages)
	}
	for i := 2; i < len(books); i++ {
		list = append(list, limit{
			fmt.Sprintf("a further page, %d to %d pages", books[i-1].binder.pages, books[i].binder.pages),
			each(books[i-1], books[i]) / each(books[i-2], books[i-1]), 1.1})
	}
	return list
}

// load says how busy the machine is, where it says so.
func load() string {
	data, err := os.ReadFile("/proc/loadavg")
	if err != nil {
		return "load unknown"
	}
	return "load " + strings.Join(strings.Fields(string(data))[:3], " ")
}
