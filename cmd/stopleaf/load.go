package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"stopleaf/exposure"
	"stopleaf/layout"
	"stopleaf/safety"
	"stopleaf/setup"
	"stopleaf/templates"
)

// loaded is one setup with all that follows from it. Where the file has errors
// setup and numbers may be nil.
type loaded struct {
	name     string // as on the command line; "-" for standard input
	setup    *setup.Setup
	numbers  *exposure.Numbers
	notes    []safety.Note
	problems setup.Problems
}

// job is what layout draws.
func (c *call) job(l *loaded) (layout.Job, error) {
	words, err := c.wording(l.setup)
	return layout.Job{Setup: l.setup, Numbers: l.numbers, Safety: l.notes, Words: words, Source: c.gives(l.setup)}, err
}

// gives is what the pages of a setup give back of it; nil with --no-source.
func (c *call) gives(s *setup.Setup) *layout.Source {
	if c.has("no-source") {
		return nil
	}
	return layout.NewSource(s)
}

// wording reads the words of a setup's pages, once for each language: that of
// --lang, else the house's, else English. What a terminal shows is English.
func (c *call) wording(s *setup.Setup) (templates.Words, error) {
	lang := "en"
	if slices.Contains(c.cmd.flags, "lang") {
		if s != nil && s.House != nil && s.House.Language != "" {
			lang = s.House.Language
		}
		if set, ok := c.set["lang"]; ok {
			lang = set
		}
	}
	words, ok := c.words[lang]
	if !ok {
		var err error
		if words, err = templates.Load(lang); err != nil {
			return nil, err
		}
		if c.words == nil {
			c.words = map[string]templates.Words{}
		}
		c.words[lang] = words
	}
	return words, nil
}

// files are the paths this setup was read from.
func (l *loaded) files() []string {
	var list []string
	if l.name != "-" {
		list = append(list, l.name)
	}
	if l.setup == nil {
		return list
	}
	for _, f := range l.setup.Files {
		if f != "-" {
			list = append(list, f)
		}
	}
	for _, p := range l.setup.Photos {
		list = append(list, p.Path) // even one that is not there yet
	}
	return list
}

// load reads every setup that the operands name. The error is a wrong command
// line or a file that cannot be read; what is wrong inside a file is among its
// problems.
func (c *call) load(check func(*setup.Setup, *exposure.Numbers) setup.Problems) ([]*loaded, error) {
	if err := c.checkBase(); err != nil {
		return nil, err
	}
	names, err := expand(c.operands)
	if err != nil {
		return nil, err
	}
	step := c.progress("reading", len(names))
	var list []*loaded
	c.shared = &setup.Shared{}
	for i, name := range names {
		step(i)
		l, err := c.loadOne(name, check)
		if err != nil {
			step(len(names))
			return nil, err
		}
		list = append(list, l)
	}
	step(len(names))
	return list, nil
}

// checkBase refuses a --base that is not understood before anything is read.
func (c *call) checkBase() error {
	base, given := c.set["base"]
	if !given {
		return nil
	}
	_, err := new(setup.Setup).ChooseBases(base)
	if err == nil && strings.TrimSpace(base) == "" {
		err = errors.New("no base is given")
	}
	if err != nil {
		return &usageError{"--base: " + err.Error(), "such as --base f/4,f/5.6"}
	}
	return nil
}

func (c *call) loadOne(name string, check func(*setup.Setup, *exposure.Numbers) setup.Problems) (*loaded, error) {
	return c.loadAs(name, func(s *setup.Setup) (*setup.Setup, error) {
		if !c.has("look") {
			return s, nil
		}
		return c.inLook(s, "look")
	}, check)
}

// inLook gives a setup as it is in the look that a flag names.
func (c *call) inLook(s *setup.Setup, flag string) (*setup.Setup, error) {
	in, err := s.WithLook(c.set[flag])
	if err != nil {
		return nil, &usageError{fmt.Sprintf("--%s: %q: %v", flag, s.File, err), ""}
	}
	return in, nil
}

// loadAs reads a setup and what follows from it; as gives the setup in the look
// that is wanted.
func (c *call) loadAs(name string, as func(*setup.Setup) (*setup.Setup, error), check func(*setup.Setup, *exposure.Numbers) setup.Problems) (*loaded, error) {
	if err := readable(name); err != nil {
		return nil, err
	}
	s, problems := setup.Read(name, setup.Options{AllowOutside: c.has("allow-outside"), Stdin: c.stdin, SkipPhotos: c.skipPhotos(), Shared: c.shared})
	l := &loaded{name: name, setup: s, problems: problems}
	if s == nil {
		return l, nil
	}
	s, err := as(s)
	if err != nil {
		return nil, err
	}
	l.setup = s
	bases, err := s.ChooseBases(c.set["base"])
	if err != nil {
		return nil, err
	}
	if problems.HasErrors() {
		return l, nil
	}
	words, err := c.wording(s)
	if err != nil {
		return nil, err
	}
	n := exposure.Compute(s.Input(bases))
	l.numbers = &n
	l.problems = append(l.problems, check(s, &n)...)
	l.notes = safety.Notes(s, &n, words)
	return l, nil
}

// skipPhotos reports whether a photo that cannot be used leaves a ruled space.
func (c *call) skipPhotos() bool { return c.set["photos"] == "skip" }

// readable says for a person why a setup file cannot be opened, before any of
// it is read.
func readable(name string) error {
	if name == "-" {
		return nil
	}
	info, err := os.Stat(name)
	if err == nil && !info.Mode().IsRegular() {
		return nil // a pipe can be opened only once
	}
	if err == nil {
		f, cannot := os.Open(name)
		if cannot == nil {
			return f.Close()
		}
		err = cannot
	}
	e := &fileError{message: fmt.Sprintf("could not read %q: %s", name, reason(err))}
	if errors.Is(err, fs.ErrNotExist) {
		e.hint = nearFile(name)
	}
	return e
}

// nearFile looks in the folder of a file that is not there for one whose name
// is near.
func nearFile(name string) string {
	dir, base := filepath.Split(name)
	if dir == "" {
		dir = "."
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return fmt.Sprintf("there is no folder %q", filepath.Clean(dir))
	}
	var names []string
	for _, e := range entries {
		if e.Name() == base+".yaml" || e.Name() == base+".yml" {
			return fmt.Sprintf("did you mean %q?", filepath.Join(filepath.Dir(name), e.Name()))
		}
		if !e.IsDir() && looksLikeSetup(e.Name()) {
			names = append(names, e.Name())
		}
	}
	return didYouMean(base, names)
}

// expand turns folders into the setups in them. A setup named twice counts
// once.
func expand(operands []string) ([]string, error) {
	var names []string
	seen := map[string]bool{}
	add := func(name string) {
		if !seen[name] {
			seen[name] = true
			names = append(names, name)
		}
	}
	for _, op := range operands {
		info, err := os.Stat(op)
		if op == "-" || err != nil || !info.IsDir() {
			add(op)
			continue
		}
		found, err := setupsIn(op)
		if err != nil {
			return nil, err
		}
		for _, f := range found {
			add(f)
		}
	}
	return names, nil
}

// setupsIn lists the setups in a folder by name: every *.yaml with a top-level
// "lights".
func setupsIn(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, &fileError{message: fmt.Sprintf("could not read folder %q: %s", dir, reason(err))}
	}
	var found []string
	seen := 0
	for _, e := range entries {
		if e.IsDir() || filepath.Ext(e.Name()) != ".yaml" || strings.HasPrefix(e.Name(), ".") {
			continue
		}
		if seen++; seen > mostInFolder {
			return nil, &fileError{fmt.Sprintf("there are more than %d .yaml files in folder %q", mostInFolder, dir), "name folders or files within it"}
		}
		path := filepath.Join(dir, e.Name())
		is, err := isSetup(path)
		if err != nil {
			return nil, &fileError{message: fmt.Sprintf("could not read %q: %s", path, reason(err))}
		}
		if is {
			found = append(found, path)
		}
	}
	if len(found) == 0 {
		return nil, &fileError{fmt.Sprintf("no setup in folder %q", dir), "a setup is a *.yaml file with a top-level \"lights\""}
	}
	return found, nil
}

// mostInFolder is the most files that are looked into in one folder.
const mostInFolder = 20_000

// isSetup looks into a file. One that is far too long for a setup counts by how it
// begins, so that it is told and not passed over; a pipe or a device is none.
func isSetup(path string) (bool, error) {
	info, err := os.Stat(path)
	if err != nil || !info.Mode().IsRegular() {
		return false, err
	}
	f, err := os.Open(path)
	if err != nil {
		return false, err
	}
	defer f.Close()
	const enough = 1 << 20
	data, err := io.ReadAll(io.LimitReader(f, enough+1))
	if err != nil {
		return false, err
	}
	if len(data) > enough {
		return strings.Contains("\n"+string(data), "\nlights:"), nil
	}
	return setup.IsSetup(data), nil
}

// gather joins the problems of several setups.
func gather(list []*loaded) (ps setup.Problems, inputs []string) {
	for _, l := range list {
		ps = append(ps, l.problems...)
		inputs = append(inputs, l.files()...)
	}
	return ps, inputs
}
