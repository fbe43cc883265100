package main

import (
	"bytes"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"stopleaf/binder"
	"stopleaf/exposure"
	"stopleaf/layout"
	"stopleaf/render/pdf"
	"stopleaf/safety"
	"stopleaf/setup"
)

// runBinder prints many setups as a binder. A broken one is told, and has a page
// in its place that says so.
func runBinder(c *call) error {
	if err := c.checkBinder(); err != nil {
		return err
	}
	shelf, err := c.shelf(c.operands, nil)
	if err != nil {
		return err
	}
	m := &binderMaker{call: c, name: c.set["output"]}
	if m.name == "" {
		m.name = "binder.pdf"
	}
	if err := m.take(shelf); err != nil {
		return err
	}
	if stop := m.stops(shelf); stop {
		if err := c.report(c.stderr, m.problems); err != nil {
			return err
		}
		return errReported
	}
	if err := m.lay(); err != nil {
		return err
	}
	return m.finish()
}

// checkBinder refuses what cannot be before anything is read.
func (c *call) checkBinder() error {
	if contains(c.operands, "-") {
		return &usageError{"a binder is not made from standard input", "name files or folders: each setup is read when its turn comes"}
	}
	name := c.set["output"]
	if ext := strings.ToLower(filepath.Ext(name)); c.has("output") && name != "-" && ext != ".pdf" {
		return &usageError{fmt.Sprintf("-o %q: a binder is a .pdf", name), "such as -o binder.pdf"}
	}
	known := c.papers()
	if paper, given := c.set["paper"]; given && !contains(known, paper) {
		return &usageError{fmt.Sprintf("a binder is not made on %s; allowed: %s", paper, strings.Join(known, ", ")), ""}
	}
	return c.checkBase()
}

// binderMaker makes one binder.
type binderMaker struct {
	*call
	name   string
	binder layout.Binder
	shared setup.Shared
	inputs []string
	prints [][]layout.Fingerprint // by piece

	mu       sync.Mutex // over what follows
	problems setup.Problems
}

// take makes the binder of what is on the shelf.
func (m *binderMaker) take(shelf *binder.Shelf) error {
	m.problems = slices.Clone(shelf.Problems)
	items := slices.Clone(shelf.Items)
	slices.SortStableFunc(items, func(x, y *binder.Item) int { return binder.Natural(x.Code(), y.Code()) })
	var first *setup.Setup
	for _, it := range items {
		if first == nil {
			first = it.Setup
		}
	}
	words, err := m.wording(first)
	if err != nil {
		return err
	}
	b := &m.binder
	b.Words, b.Title, b.Open, b.Laid = words, words.T("binder.title"), m.open, m.laid
	b.Paper, b.Holes, b.As, b.Duplex = m.set["paper"], m.set["holes"], m.set["as"], m.has("duplex")
	if first != nil {
		b.Owner = first.By
		if h := first.House; b.Paper == "" && h != nil && contains(m.papers(), h.Paper) {
			b.Paper = h.Paper
		}
	}
	sec := layout.BinderSection{}
	for _, it := range items {
		sec.Setups = append(sec.Setups, m.entry(it))
	}
	b.Sections = []layout.BinderSection{sec}
	return nil
}

// entry is one setup's place in the binder, with what its figures say of it.
func (m *binderMaker) entry(it *binder.Item) *layout.BinderSetup {
	e := &layout.BinderSetup{Path: filepath.ToSlash(it.Path), Code: it.Code(), Title: it.Code(), Setup: it.Setup}
	m.inputs = append(m.inputs, it.Path)
	problems := it.Problems
	if s := it.Setup; s != nil {
		e.Title = s.Title
		m.inputs = append(m.inputs, s.Files...)
		for _, p := range s.Photos {
			m.inputs = append(m.inputs, p.Path)
		}
		job, more := m.compute(s)
		problems = append(slices.Clone(problems), more...)
		if job.Numbers != nil {
			e.Ratio = job.Numbers.Ratios.KeyToFill
		}
	}
	m.problems = append(m.problems, problems...)
	if problems.HasErrors() {
		e.Setup, e.Faults = nil, faults(problems)
	}
	return e
}

// compute is what follows from a setup.
func (m *binderMaker) compute(s *setup.Setup) (layout.Job, setup.Problems) {
	bases, err := s.ChooseBases(m.set["base"])
	if err != nil {
		return layout.Job{}, setup.Problems{{Pos: setup.Pos{File: s.File}, Level: setup.Error, Code: "base", Message: err.Error()}}
	}
	n := exposure.Compute(s.Input(bases))
	return layout.Job{Setup: s, Numbers: &n, Safety: safety.Notes(s, &n, m.binder.Words), Words: m.binder.Words}, setup.Check(s, &n)
}

// faults are the errors among problems, a line each.
func faults(ps setup.Problems) []string {
	var out []string
	for _, p := range ps {
		if p.Level == setup.Error {
			p.Pos.File = filepath.ToSlash(p.Pos.File)
			line := p.Pos.String() + ": " + p.Message
			if p.Hint != "" {
				line += " (" + p.Hint + ")"
			}
			out = append(out, line)
		}
	}
	return out
}

// open reads a setup again, with its pictures. It runs in several goroutines.
func (m *binderMaker) open(e *layout.BinderSetup) (layout.Job, []string, error) {
	if e.Faults != nil {
		return layout.Job{}, e.Faults, nil
	}
	s, problems := setup.Read(filepath.FromSlash(e.Path), setup.Options{AllowOutside: m.has("allow-outside"), SkipPhotos: m.skipPhotos(), Shared: &m.shared})
	var job layout.Job
	if s != nil {
		var more setup.Problems
		job, more = m.compute(s)
		problems = append(problems, more...)
	}
	if !problems.HasErrors() {
		return job, nil, nil
	}
	m.add(problems)
	return layout.Job{}, faults(problems), nil
}

func (m *binderMaker) add(ps setup.Problems) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.problems = append(m.problems, ps...)
}

// laid is told of each setup that was laid out.
func (m *binderMaker) laid(job layout.Job) {
	ps := layout.Glyphs(job.Setup)
	m.add(append(ps, job.Setup.BrokenPhotos(m.skipPhotos())...))
}

// stops says whether nothing may be made: two setups of one code, a path that is
// not there, or any mistake with --strict.
func (m *binderMaker) stops(shelf *binder.Shelf) bool {
	return shelf.Problems.HasErrors() || m.has("strict") && m.problems.HasErrors()
}

// lay lays out, draws and writes the pages into memory, piece by piece.
func (m *binderMaker) lay() error {
	b := &m.binder
	if err := b.Prepare(); err != nil {
		return err
	}
	doc := b.Document()
	if err := stampDate(doc); err != nil {
		return err
	}
	m.prints = make([][]layout.Fingerprint, b.Pieces())
	step, done := m.progress("printing", b.Pieces()), 0
	var out bytes.Buffer
	w := pdf.NewWriter(&out, pdf.Options{})
	err := w.Pages(b.Pieces(), func(i int) ([]layout.Page, error) {
		pages, err := b.Piece(i)
		for n := range pages {
			m.prints[i] = append(m.prints[i], layout.Fingerprint{Label: pages[n].Label, Print: pages[n].Fingerprint})
		}
		m.mu.Lock()
		defer m.mu.Unlock()
		done++
		step(done)
		return pages, err
	})
	if err != nil {
		return err
	}
	doc.Fingerprints = slices.Concat(m.prints...)
	if err := w.Close(doc); err != nil {
		return err
	}
	if m.has("strict") && m.problems.HasErrors() {
		return nil
	}
	return m.save(out.Bytes(), len(doc.Fingerprints))
}

func (m *binderMaker) save(data []byte, pages int) error {
	if m.name == "-" {
		return m.print(data)
	}
	out := []file{{m.name, data}}
	if err := guardInputs(out, m.inputs); err != nil {
		return err
	}
	if err := writeFiles(out, false); err != nil {
		return err
	}
	m.say("wrote %s%s", m.name, pagesSaid("pdf", pages))
	return nil
}

// finish tells what was wrong: every mistake, and how many warnings there are.
func (m *binderMaker) finish() error {
	errors := slices.DeleteFunc(slices.Clone(m.problems), func(p setup.Problem) bool { return p.Level != setup.Error })
	if err := m.report(m.stderr, errors); err != nil {
		return err
	}
	if n := len(distinct(m.problems)) - len(distinct(errors)); n > 0 {
		m.say("%s; stopleaf proof lists them", many(n, "warning"))
	}
	if errors.HasErrors() {
		return errReported
	}
	return nil
}
