package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"stopleaf/layout"
	"stopleaf/setup"
)

// mostFormat bounds a page format's file, bytes.
const mostFormat = 1 << 20

// checkFormat refuses a --format that cannot be, before anything is read.
func (c *call) checkFormat() error {
	name, given := c.set["format"]
	switch {
	case !given:
		return nil
	case name == "" || name == "-":
		return &usageError{"--format needs the name of a file", fmt.Sprintf("such as --format my-%s.yaml", c.cmd.name)}
	case c.has("paper"):
		return &usageError{"--format and --paper are both given", "a page format has its own paper: leave --paper out"}
	}
	return nil
}

// readFormat reads the page format that --format names; inputs is its file.
func (c *call) readFormat() (problems setup.Problems, inputs []string, err error) {
	name, given := c.set["format"]
	if !given {
		return nil, nil, nil
	}
	inputs = []string{name}
	if info, err := os.Stat(name); err == nil && (!info.Mode().IsRegular() || info.Size() > mostFormat) {
		return nil, inputs, &fileError{message: fmt.Sprintf("could not read %q: it is no page format", name)}
	}
	src, err := os.ReadFile(name)
	if err != nil {
		e := &fileError{message: fmt.Sprintf("could not read %q: %s", name, reason(err))}
		if errors.Is(err, fs.ErrNotExist) {
			e.hint = nearFile(name)
			if contains(c.cmd.madeOn(), name) {
				e.hint = "for a built-in paper: --paper " + name
			}
		}
		return nil, inputs, e
	}
	c.format, problems = layout.ParseFormat(c.cmd.name, name, src)
	return problems, inputs, nil
}

// madeOn are the papers that --paper may name.
func (c *command) madeOn() []string {
	if c.papers == nil {
		return papers
	}
	return c.papers()
}

// paper is what a document is printed on: that of --paper, else that of the
// setup's house where the document is made on it, else the document's own ("").
func (c *call) paper(first *setup.Setup) string {
	if paper, given := c.set["paper"]; given {
		return paper
	}
	if h := first.House; h != nil && contains(c.cmd.madeOn(), h.Paper) {
		return h.Paper
	}
	return ""
}
