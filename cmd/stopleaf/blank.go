package main

import (
	"os"
	"path/filepath"

	"stopleaf/layout"
)

// runBlank makes the form to fill in by hand: of a setup, or of none.
func runBlank(c *call) error {
	if len(c.operands) > 0 {
		return c.drawing("", "-blank.pdf", c.layBlank)
	}
	for _, flag := range []string{"look", "watch", "no-source", "allow-outside"} {
		if c.has(flag) {
			return &usageError{"--" + flag + " is for a setup, and none is named", "stopleaf blank SETUP"}
		}
	}
	d := &drawer{call: c, ending: "-blank.pdf"}
	if err := d.checkName(); err != nil {
		return err
	}
	doc, err := c.emptyForm()
	if err != nil {
		return err
	}
	name := c.set["output"]
	if info, err := os.Stat(name); name == "" || err == nil && info.IsDir() {
		name = filepath.Join(name, "blank.pdf")
	}
	return d.save(name, doc, nil)
}

func (c *call) layBlank(jobs []layout.Job) (*layout.Document, error) {
	return layout.Blank(&jobs[0], jobs[0].Words, layout.BlankOptions{Paper: c.paper(jobs[0].Setup)})
}

// emptyForm is the form without a setup.
func (c *call) emptyForm() (*layout.Document, error) {
	words, err := c.wording(nil)
	if err != nil {
		return nil, err
	}
	doc, err := layout.Blank(nil, words, layout.BlankOptions{Paper: c.set["paper"]})
	if err != nil {
		return nil, err
	}
	return doc, stampDate(doc)
}
