package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"sort"
	"time"
)

// programs are the built programs, in a folder of their own.
type programs struct{ dir, empty, plain, stopleaf, setup string }

// build builds the three programs, the plain one with the very page that the
// card is.
func build(dir string) (programs, error) {
	p := programs{
		dir:      dir,
		empty:    filepath.Join(dir, "empty"),
		plain:    filepath.Join(dir, "plain"),
		stopleaf: filepath.Join(dir, "stopleaf"),
		setup:    filepath.Join(dir, "setup.yaml"),
	}
	if err := os.WriteFile(p.setup, sample, 0o666); err != nil {
		return p, err
	}
	source, err := pageSource(p.setup)
	if err != nil {
		return p, err
	}
	overlay, err := overlayFor(dir, source)
	if err != nil {
		return p, err
	}
	for _, b := range [][]string{
		{"-o", p.empty, "stopleaf/internal/bench/empty"},
		{"-o", p.plain, "-overlay", overlay, "stopleaf/internal/bench/plain"},
		{"-o", p.stopleaf, "stopleaf/cmd/stopleaf"},
	} {
		cmd := exec.Command("go", append([]string{"build", "-trimpath", "-ldflags=-s -w"}, b...)...)
		if out, err := cmd.CombinedOutput(); err != nil {
			return p, fmt.Errorf("go build %s: %w\n%s", b[len(b)-1], err, out)
		}
	}
	return p, nil
}

// run is one program with its arguments.
type run struct {
	what string
	args []string
}

// The runs, by place in the list that runs gives.
const (
	runEmpty = iota
	runPlain
	runCard
	runNumbers
	runJSON
)

func (p programs) runs() []run {
	return []run{
		runEmpty:   {"an empty Go program", []string{p.empty}},
		runPlain:   {"plain fpdf, the same page", []string{p.plain, filepath.Join(p.dir, "plain.pdf")}},
		runCard:    {"stopleaf card, no photo", []string{p.stopleaf, "card", p.setup, "-o", filepath.Join(p.dir, "card.pdf")}},
		runNumbers: {"stopleaf numbers", []string{p.stopleaf, "numbers", p.setup}},
		runJSON:    {"stopleaf numbers --json", []string{p.stopleaf, "numbers", p.setup, "--json"}},
	}
}

// measured holds milliseconds and peak megabytes of each run, a value a round.
type measured struct {
	runs []run
	ms   [][]float64
	mb   [][]float64
}

// measure runs every program once a round, after two rounds that do not count.
func (p programs) measure(rounds int) (*measured, error) {
	m := &measured{runs: p.runs()}
	m.ms = make([][]float64, len(m.runs))
	m.mb = make([][]float64, len(m.runs))
	for round := -2; round < rounds; round++ {
		for k := range m.runs {
			i := (k + round + 2) % len(m.runs) // each comes first as often as last
			ms, mb, err := once(m.runs[i])
			if err != nil {
				return nil, err
			}
			if round >= 0 {
				m.ms[i] = append(m.ms[i], ms)
				m.mb[i] = append(m.mb[i], mb)
			}
		}
	}
	return m, nil
}

func once(r run) (ms, mb float64, err error) {
	cmd := exec.Command(r.args[0], r.args[1:]...)
	var said bytes.Buffer
	cmd.Stderr = &said
	begin := time.Now()
	err = cmd.Run()
	ms = float64(time.Since(begin).Microseconds()) / 1000
	if err != nil {
		return 0, 0, fmt.Errorf("%s: %w\n%s", r.what, err, said.String())
	}
	return ms, peakMB(cmd.ProcessState), nil
}

func median(values []float64) float64 {
	sorted := append([]float64(nil), values...)
	sort.Float64s(sorted)
	return sorted[len(sorted)/2]
}

// row is one run's medians, and its best time.
type row struct {
	what         string
	ms, best, mb float64
}

func (m *measured) rows() []row {
	var list []row
	for i, r := range m.runs {
		list = append(list, row{r.what, median(m.ms[i]), slices.Min(m.ms[i]), median(m.mb[i])})
	}
	return list
}

// limit is one figure and what it may be at most.
type limit struct {
	what         string
	value, limit float64
}

func (m *measured) limits() []limit {
	r := m.rows()
	return []limit{
		{"card / plain fpdf", r[runCard].ms / r[runPlain].ms, 1.3},
		{"card / empty", r[runCard].ms / r[runEmpty].ms, 8},
		{"numbers / empty", r[runNumbers].ms / r[runEmpty].ms, 3},
		{"numbers --json / empty", r[runJSON].ms / r[runEmpty].ms, 3},
		{"peak memory of a card, MB", r[runCard].mb, 40},
	}
}
