package main

import (
	"cmp"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"stopleaf/binder"
	"stopleaf/layout"
	"stopleaf/render/pdf"
	"stopleaf/setup"
)

// runBinder prints many setups as a binder. A broken one is told, and has a page
// in its place that says so.
func runBinder(c *call) error {
	if err := c.checkBinder(); err != nil {
		return err
	}
	boundMemory()
	c.shared = &setup.Shared{}
	m := &binderMaker{call: c, name: cmp.Or(c.set["output"], "binder.pdf"), first: map[*layout.BinderSetup]*figured{}}
	shelf, err := c.shelf(c.operands, m.figure)
	if err != nil {
		return err
	}
	if err := m.take(shelf); err != nil {
		return err
	}
	if m.stops() {
		if err := c.report(c.stderr, m.problems); err != nil {
			return err
		}
		return errReported
	}
	if err := m.since(); err != nil {
		return err
	}
	if err := m.lay(); err != nil {
		return err
	}
	if err := m.list(); err != nil {
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
	return c.checkBase()
}

// binderMaker makes one binder.
type binderMaker struct {
	*call
	name    string
	binder  layout.Binder
	first   map[*layout.BinderSetup]*figured // what was found when the shelf was read
	kept    atomic.Int64                     // of them, with their setups
	inputs  []string
	prints  [][]binder.Print // by piece, what is on its pages
	printed []string         // by piece, the label of the first page that is printed
	before  *binder.Printed  // the earlier binder; nil for none
	earlier map[string]bool  // its sheets
	misread bool             // the shelf or the binder.yaml has errors
	pages   int              // that are printed

	mu       sync.Mutex // over what follows
	problems setup.Problems
}

// take makes the binder of what is on the shelf.
func (m *binderMaker) take(shelf *binder.Shelf) error {
	m.problems = slices.Clone(shelf.Problems)
	conf, err := m.config()
	if err != nil {
		return err
	}
	groups, problems := conf.Arrange(shelf)
	m.problems = append(m.problems, problems...)
	m.misread = m.problems.HasErrors()
	var first *setup.Setup
	for _, g := range groups {
		for _, it := range g.Items {
			if first == nil {
				first = it.Setup
			}
		}
	}
	words, err := m.wording(first)
	if err != nil {
		return err
	}
	if conf == nil {
		conf = &binder.Config{}
	}
	b := &m.binder
	b.Words, b.Open, b.Laid = words, m.open, m.laid
	b.Title, b.Owner = cmp.Or(conf.Title, words.T("binder.title")), cmp.Or(conf.Owner, shelf.Owner())
	b.Paper, b.Holes, b.As = cmp.Or(m.set["paper"], conf.Paper), cmp.Or(m.set["holes"], conf.Holes), cmp.Or(m.set["as"], conf.As)
	b.Duplex = m.has("duplex") || conf.Duplex != nil && *conf.Duplex
	if b.Paper == "" && first != nil {
		b.Paper = m.paper(first)
	}
	for _, g := range groups {
		sec := layout.BinderSection{Title: g.Title}
		if g.Title == "" && len(groups) > 1 {
			sec.Title = words.T("binder.others")
		}
		for _, it := range g.Items {
			sec.Setups = append(sec.Setups, m.entry(it))
		}
		b.Sections = append(b.Sections, sec)
	}
	return nil
}

// config reads the binder.yaml of the folders that are named; nil where there is
// none. There may be one at most.
func (m *binderMaker) config() (*binder.Config, error) {
	var file string
	for _, name := range m.operands {
		path := filepath.Join(name, binder.ConfigFile)
		if info, err := os.Stat(path); err != nil || !info.Mode().IsRegular() || path == file {
			continue
		}
		if file != "" {
			return nil, &usageError{fmt.Sprintf("there is a %s in %q and in %q", binder.ConfigFile, filepath.Dir(file), name), "keep one of them"}
		}
		file = path
	}
	if file == "" {
		return nil, nil
	}
	m.inputs = append(m.inputs, file)
	src, err := os.ReadFile(file)
	if err != nil {
		return nil, &fileError{message: fmt.Sprintf("could not read %q: %s", file, reason(err))}
	}
	conf, problems := binder.ParseConfig(file, src)
	m.problems = append(m.problems, problems...)
	return conf, nil
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
		f := it.Of.(*figured)
		problems = append(slices.Clone(problems), f.problems...)
		e.Ratio = f.ratio
		m.first[e] = f
	}
	m.problems = append(m.problems, problems...)
	if problems.HasErrors() {
		e.Setup, e.Faults = nil, faults(problems)
	}
	return e
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

func (m *binderMaker) add(ps setup.Problems) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.problems = append(m.problems, ps...)
}

// laid is told of each setup that was laid out.
func (m *binderMaker) laid(e *layout.BinderSetup, job layout.Job) {
	m.first[e].kept.Store(nil) // its pages stand
	ps := layout.Glyphs(job.Setup)
	m.add(append(ps, job.Setup.BrokenPhotos(m.skipPhotos())...))
}

// stops says whether nothing may be made: two setups of one code, a path that is
// not there, a mistake in the binder.yaml, or any mistake with --strict.
func (m *binderMaker) stops() bool {
	return m.misread || m.has("strict") && m.problems.HasErrors()
}

// lay lays out, draws and writes the pages, piece by piece. With --strict a
// mistake that shows only then leaves nothing written.
func (m *binderMaker) lay() error {
	if err := m.binder.Prepare(); err != nil {
		return err
	}
	if m.name != "-" {
		if err := guardInputs([]file{{name: m.name}}, m.inputs); err != nil {
			return err
		}
	}
	out, err := m.openStream(m.name)
	if err != nil {
		return err
	}
	defer out.drop()
	if err := m.draw(out); err != nil {
		return out.failed(err)
	}
	if m.has("strict") && m.problems.HasErrors() {
		return nil
	}
	if err := out.place(); err != nil || m.name == "-" {
		return err
	}
	m.say("wrote %s%s", m.name, pagesSaid("pdf", m.pages))
	return nil
}

// draw writes the PDF.
func (m *binderMaker) draw(out io.Writer) error {
	b := &m.binder
	n := b.Pieces()
	m.prints, m.printed = make([][]binder.Print, n), make([]string, n)
	step, done := m.progress("printing", n), 0
	w := pdf.NewWriter(out, pdf.Options{})
	err := w.Pages(n, func(i int) ([]layout.Page, error) {
		pages, err := b.Piece(i)
		if err == nil {
			pages = m.wanted(i, pages)
		}
		m.mu.Lock()
		defer m.mu.Unlock()
		done++
		step(done)
		m.pages += len(pages)
		return pages, err
	})
	if err != nil {
		return err
	}
	doc := b.Document(func(i int) string { return m.printed[i] })
	for _, p := range slices.Concat(m.prints...) {
		doc.Fingerprints = append(doc.Fingerprints, layout.Fingerprint(p))
	}
	if err := stampDate(doc); err != nil {
		return err
	}
	return w.Close(doc)
}

// wanted are the pages of a piece that are printed: all, or the sheets that
// differ from the earlier binder. It keeps what was on each of them.
func (m *binderMaker) wanted(i int, pages []layout.Page) []layout.Page {
	now := binder.Printed{Duplex: m.binder.Duplex}
	for n := range pages {
		now.Pages = append(now.Pages, binder.Print{Label: pages[n].Label, Print: pages[n].Fingerprint})
	}
	m.prints[i] = now.Pages
	if m.earlier != nil && !m.binder.Lists(i) {
		var out []layout.Page
		at := 0
		for _, l := range now.Leaves() {
			if !m.earlier[l.String()] {
				out = append(out, pages[at:at+len(l)]...)
			}
			at += len(l)
		}
		pages = out
	}
	if len(pages) > 0 {
		m.printed[i] = pages[0].Label
	}
	return pages
}

// finish tells what was wrong: every mistake, and how many more warnings there are.
func (m *binderMaker) finish() error {
	said := slices.DeleteFunc(slices.Clone(m.problems), func(p setup.Problem) bool { return !told(p) })
	if err := m.report(m.stderr, said); err != nil {
		return err
	}
	if n := len(distinct(m.problems)) - len(distinct(said)); n > 0 {
		m.say("%s; stopleaf proof lists them", many(n, "warning"))
	}
	if said.HasErrors() {
		return errReported
	}
	return nil
}
