// Command bench times whole runs of stopleaf against two yardsticks: a Go
// program that does nothing, and a plain fpdf program that draws the same page
// with the same fonts.
//
//	go run ./internal/bench            # prints what was measured, with the limits
//	go run ./internal/bench -pages 200,1000,10000 -rounds 7
//	go test -run '^$' -bench . ./internal/bench
//
// The second is the benchmark of the binder: "stopleaf binder" over a folder of
// setups of 1 to 12 lights with 20 photos, with what gives the setups back and
// without it, against a plain fpdf program that draws as many such pages.
//
// Each round runs every program once, one after another, so that what else the
// machine does falls on all alike; ratios are medians of those of each round.
package main

import (
	"flag"
	"fmt"
	"os"
	"strconv"
	"strings"
)

func main() {
	rounds := flag.Int("rounds", 60, "how many times each program runs")
	pages := flag.String("pages", "", "measure binders of about so many pages instead, such as 200,1000,10000")
	as := flag.String("as", "sheet", "the form of the setups in them, sheet or card")
	flag.Parse()
	if err := report(*rounds, *pages, *as); err != nil {
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(1)
	}
}

// report measures and prints, and fails where a limit is passed.
func report(rounds int, pages, as string) error {
	var sizes []int
	for _, s := range strings.FieldsFunc(pages, func(r rune) bool { return r == ',' }) {
		n, err := strconv.Atoi(s)
		if err != nil {
			return err
		}
		sizes = append(sizes, n)
	}
	dir, err := os.MkdirTemp("", "stopleaf-bench-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	p, err := build(dir)
	if err != nil {
		return err
	}
	if len(sizes) > 0 {
		return reportBooks(p, sizes, rounds, as)
	}
	m, err := measure(p.runs(), 2, rounds)
	if err != nil {
		return err
	}
	fmt.Printf("%d rounds of whole processes\n\n%-34s %10s %10s %10s %10s %10s\n", rounds, "", "best", "median", "worst", "cores'", "peak")
	for _, r := range m.rows() {
		fmt.Printf("%-34s %7.2f ms %7.2f ms %7.2f ms %7.2f ms %7.1f MB\n", r.what, r.least, r.ms, r.most, r.cpu, r.mb)
	}
	return printLimits(m.limits())
}

func printLimits(limits []limit) error {
	fmt.Println()
	missed := 0
	for _, l := range limits {
		if l.limit == 0 {
			fmt.Printf("%-44s %7.2f\n", l.what, l.value)
			continue
		}
		verdict := "ok"
		if l.value > l.limit {
			verdict = "MISSED"
			missed++
		}
		fmt.Printf("%-44s %7.2f    at most %g  %s\n", l.what, l.value, l.limit, verdict)
	}
	if missed > 0 {
		return fmt.Errorf("%d limits missed", missed)
	}
	return nil
}
