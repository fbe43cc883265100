package main

import (
	"bytes"
	"path/filepath"
	"strings"

	"stopleaf/exposure"
	"stopleaf/safety"
	"stopleaf/setup"
)

// contract is the number of the JSON's form. Keys may be added under it; a key
// that changed would raise it.
const contract = 1

// numbersOut is the JSON of "numbers --json": the head of the setup, every
// derived figure, the cautions and the problems.
type numbersOut struct {
	Stopleaf int      `json:"stopleaf"`
	Code     string   `json:"code"`
	Title    *string  `json:"title"`
	Look     *string  `json:"look"`  // null for the set as written
	Looks    []string `json:"looks"` // those that the file has
	Made     *string  `json:"made"`
	Tags     []string `json:"tags"`
	exposure.Numbers
	Safety   []safety.Note `json:"safety"`
	Problems []problemOut  `json:"problems"`
}

func runNumbers(c *call) error {
	list, err := c.load(setup.Check)
	if err != nil {
		return err
	}
	if len(list) > 1 {
		return &usageError{"numbers takes one setup, and the folder has several", "name one of them"}
	}
	l := list[0]
	if l.problems.HasErrors() {
		if err := c.report(c.stderr, l.problems); err != nil {
			return err
		}
		return errReported
	}
	asJSON := c.has("json") || strings.EqualFold(filepath.Ext(c.set["output"]), ".json")
	if !asJSON || c.jsonProblems() {
		if err := c.report(c.stderr, l.problems); err != nil {
			return err
		}
	}
	if asJSON {
		return c.result(numbersJSON(l), l.files())
	}
	return c.result(numbersText(l), l.files())
}

// numbersJSON gives every figure as JSON. Files in it go by their names
// relative to the setup's folder, so that it is the same wherever it is made.
func numbersJSON(l *loaded) []byte {
	s := l.setup
	out := numbersOut{
		Stopleaf: contract, Code: s.Code, Title: known(s.TitleAsWritten()), Look: known(s.Look), Looks: s.LookNames(), Made: known(s.Made),
		Tags: append([]string{}, s.Tags...), Numbers: *l.numbers,
		Safety:   []safety.Note{},
		Problems: problemList(distinct(l.problems), relativeTo(s.File)),
	}
	for _, note := range l.notes {
		if note.Figures == nil {
			note.Figures = map[string]float64{}
		}
		out.Safety = append(out.Safety, note)
	}
	return marshal(out)
}

// known is nil for what the file does not say.
func known(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}

// relativeTo names files from the folder of the setup file.
func relativeTo(setupFile string) func(string) string {
	dir := filepath.Dir(setupFile)
	return func(name string) string {
		if rel, err := filepath.Rel(dir, name); err == nil && name != "-" {
			return filepath.ToSlash(rel)
		}
		return name
	}
}

// numbersText gives the figures as tables for a person.
func numbersText(l *loaded) []byte {
	var b bytes.Buffer
	t := &text{Buffer: &b, s: l.setup, n: l.numbers}
	t.head()
	t.bases()
	t.lights()
	t.dials()
	t.packs()
	t.places()
	t.estimates()
	t.whole()
	t.camera()
	t.cautions(l.notes)
	return b.Bytes()
}
