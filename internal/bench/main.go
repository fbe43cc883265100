// Command bench times whole runs of stopleaf against two yardsticks: a Go
// program that does nothing, and a plain fpdf program that draws the same page
// with the same fonts.
//
//	go run ./internal/bench            # prints what was measured, with the limits
//	go test -run '^$' -bench . ./internal/bench
//
// Each round runs every program once, one after another, so that what else the
// machine does falls on all alike; medians are compared.
package main

import (
	"flag"
	"fmt"
	"os"
)

func main() {
	rounds := flag.Int("rounds", 60, "how many times each program runs")
	flag.Parse()
	if err := report(*rounds); err != nil {
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(1)
	}
}

// report measures and prints, and fails where a limit is passed.
func report(rounds int) error {
	dir, err := os.MkdirTemp("", "stopleaf-bench-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	p, err := build(dir)
	if err != nil {
		return err
	}
	m, err := p.measure(rounds)
	if err != nil {
		return err
	}
	fmt.Printf("%d rounds of whole processes\n\n%-34s %10s %10s %10s\n", rounds, "", "median", "best", "peak")
	for _, r := range m.rows() {
		fmt.Printf("%-34s %7.2f ms %7.2f ms %7.1f MB\n", r.what, r.ms, r.best, r.mb)
	}
	fmt.Println()
	missed := 0
	for _, l := range m.limits() {
		verdict := "ok"
		if l.value > l.limit {
			verdict = "MISSED"
			missed++
		}
		fmt.Printf("%-34s %7.2f    at most %g  %s\n", l.what, l.value, l.limit, verdict)
	}
	if missed > 0 {
		return fmt.Errorf("%d limits missed", missed)
	}
	return nil
}
