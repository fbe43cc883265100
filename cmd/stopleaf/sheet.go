package main

import (
	"fmt"
	"strings"

	"stopleaf/layout"
)

func runSheet(c *call) error {
	if err := c.checkFormat(); err != nil {
		return err
	}
	known := c.papers()
	if paper, given := c.set["paper"]; given && !contains(known, paper) {
		return &usageError{fmt.Sprintf("the sheet is not made on %s; allowed: %s", paper, strings.Join(known, ", ")), ""}
	}
	c.ahead("sheet", "a4")
	return c.drawing("sheets.pdf", "-sheet.pdf", c.laySheet)
}

func (c *call) laySheet(jobs []layout.Job) (*layout.Document, error) {
	return layout.Sheet(jobs, layout.SheetOptions{Paper: c.paper(jobs, c.papers()), Format: c.format})
}
