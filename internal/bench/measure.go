package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"sort"
	"strconv"
	"time"
)

// programs are the built programs, in a folder of their own.
type programs struct{ dir, empty, plain, stopleaf, plainMany, sample, setup, photos string }

// build builds the programs, the plain one with the very page that the card is,
// and writes a setup without photos and one with four.
func build(dir string) (programs, error) {
	at := func(name string) string { return filepath.Join(dir, name) }
	p := programs{
		dir: dir, empty: at("empty"), plain: at("plain"), stopleaf: at("stopleaf"), plainMany: at("plainmany"),
		sample: at("sample"), setup: at("setup.yaml"), photos: at("setups-0/photos.yaml"),
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
		{"-o", p.plainMany, "stopleaf/internal/bench/plainmany"},
		{"-o", p.sample, "stopleaf/internal/bench/sample"},
	} {
		cmd := exec.Command("go", append([]string{"build", "-trimpath", "-ldflags=-s -w"}, b...)...)
		if out, err := cmd.CombinedOutput(); err != nil {
			return p, fmt.Errorf("go build %s: %w\n%s", b[len(b)-1], err, out)
		}
	}
	if err := p.setups(0, "sheet"); err != nil {
		return p, err
	}
	four := "photos: [{file: photo-00.jpg, shows: result}, {file: photo-01.jpg, shows: set}, {file: photo-02.jpg, shows: set}, {file: photo-03.jpg, shows: set}]\n"
	return p, os.WriteFile(p.photos, append([]byte(four), sample...), 0o666)
}

// folder holds n setups of the benchmark of many pages, and their photos.
func (p programs) folder(n int) string { return filepath.Join(p.dir, fmt.Sprintf("setups-%d", n)) }

// pages is the file of the pages that the yardstick of a binder of n setups draws.
func (p programs) pages(n int) string { return filepath.Join(p.dir, fmt.Sprintf("pages-%d", n)) }

// setups writes n setups, and the pages of a binder of them.
func (p programs) setups(n int, as string) error {
	if out, err := exec.Command(p.sample, p.folder(n), strconv.Itoa(n), p.pages(n), as).CombinedOutput(); err != nil {
		return fmt.Errorf("sample: %w\n%s", err, out)
	}
	return nil
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
	runStands
	runStandsPhotos
	runSheet
	runSheetPhotos
)

func (p programs) runs() []run {
	out := func(name string) string { return filepath.Join(p.dir, name) }
	return []run{
		runEmpty:        {"an empty Go program", []string{p.empty}},
		runPlain:        {"plain fpdf, the card's pages", []string{p.plain, out("plain.pdf")}},
		runCard:         {"stopleaf card, no photo", []string{p.stopleaf, "card", p.setup, "-o", out("card.pdf")}},
		runNumbers:      {"stopleaf numbers", []string{p.stopleaf, "numbers", p.setup}},
		runJSON:         {"stopleaf numbers --json", []string{p.stopleaf, "numbers", p.setup, "--json"}},
		runStands:       {"stopleaf stands, no photo", []string{p.stopleaf, "stands", p.setup, "-o", out("stands.pdf")}},
		runStandsPhotos: {"stopleaf stands, four photos", []string{p.stopleaf, "stands", p.photos, "-o", out("stands.pdf")}},
		runSheet:        {"stopleaf sheet, no photo", []string{p.stopleaf, "sheet", p.setup, "-o", out("sheet.pdf")}},
		runSheetPhotos:  {"stopleaf sheet, four photos", []string{p.stopleaf, "sheet", p.photos, "-o", out("sheet.pdf")}},
	}
}

// taken is what one run of a program took.
type taken struct {
	ms, cpu float64 // milliseconds of the clock, and of all processors together
	mb      float64 // most memory at once
}

// measured holds what every run took, a value a round.
type measured struct {
	runs  []run
	taken [][]taken
}

// measure runs every program once a round, after so many rounds that do not
// count.
func measure(runs []run, warm, rounds int) (*measured, error) {
	m := &measured{runs: runs, taken: make([][]taken, len(runs))}
	for round := -warm; round < rounds; round++ {
		for k := range runs {
			i := (k + round + warm) % len(runs) // each comes first as often as last
			t, _, err := once(runs[i])
			if err != nil {
				return nil, err
			}
			if round >= 0 {
				m.taken[i] = append(m.taken[i], t)
			}
		}
	}
	return m, nil
}

// once runs a program and gives what it took and what it printed.
func once(r run) (taken, string, error) {
	cmd := exec.Command(r.args[0], r.args[1:]...)
	var said, printed bytes.Buffer
	cmd.Stderr, cmd.Stdout = &said, &printed
	begin := time.Now()
	err := cmd.Run()
	ms := float64(time.Since(begin).Microseconds()) / 1000
	if err != nil {
		return taken{}, "", fmt.Errorf("%s: %w\n%s", r.what, err, said.String())
	}
	cpu := cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
	return taken{ms, float64(cpu.Microseconds()) / 1000, peakMB(cmd.ProcessState)}, printed.String(), nil
}

func median(values []float64) float64 {
	sorted := append([]float64(nil), values...)
	sort.Float64s(sorted)
	return sorted[len(sorted)/2]
}

// of gives one value of every round of a run.
func (m *measured) of(i int, value func(taken) float64) []float64 {
	var list []float64
	for _, t := range m.taken[i] {
		list = append(list, value(t))
	}
	return list
}

func clock(t taken) float64  { return t.ms }
func all(t taken) float64    { return t.cpu }
func memory(t taken) float64 { return t.mb }

// row is one run's times, and the medians of what else it took.
type row struct {
	what            string
	least, ms, most float64
	cpu, mb         float64
}

func (m *measured) rows() []row {
	var list []row
	for i, r := range m.runs {
		ms := m.of(i, clock)
		list = append(list, row{r.what, slices.Min(ms), median(ms), slices.Max(ms), median(m.of(i, all)), median(m.of(i, memory))})
	}
	return list
}

// ratio is the median of one run's times to another's, pair by pair, so that what
// else the machine does falls on both.
func (m *measured) ratio(a, b int) float64 {
	x, y := m.of(a, clock), m.of(b, clock)
	for i := range x {
		x[i] /= y[i]
	}
	return median(x)
}

// limit is one figure and what it may be at most; 0 is no limit.
type limit struct {
	what         string
	value, limit float64
}

func (m *measured) limits() []limit {
	r := m.rows()
	share := 1 - r[runSheet].ms/r[runSheetPhotos].ms
	return []limit{
		{"card / plain fpdf", m.ratio(runCard, runPlain), 1.3},
		{"card / empty", m.ratio(runCard, runEmpty), 8},
		{"numbers / empty", m.ratio(runNumbers, runEmpty), 3},
		{"numbers --json / empty", m.ratio(runJSON, runEmpty), 3},
		{"peak memory of a card, MB", r[runCard].mb, 40},
		{"stands / empty", m.ratio(runStands, runEmpty), 0},
		{"sheet / empty", m.ratio(runSheet, runEmpty), 0},
		{"stands, four photos / empty", m.ratio(runStandsPhotos, runEmpty), 0},
		{"sheet, four photos / empty", m.ratio(runSheetPhotos, runEmpty), 0},
		{"photos' part of sheet's time", share, 0},
		{"cores busy in sheet, four photos", r[runSheetPhotos].cpu / r[runSheetPhotos].ms, 0},
	}
}
