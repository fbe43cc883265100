package main

import (
	"fmt"
	"strings"

	"stopleaf/layout"
)

func runSheet(c *call) error {
	known := layout.SheetPapers()
	if paper, given := c.set["paper"]; given && !contains(known, paper) {
		return &usageError{fmt.Sprintf("the sheet is not made on %s; allowed: %s", paper, strings.Join(known, ", ")), ""}
	}
	return c.drawing("sheets.pdf", "-sheet.pdf", c.laySheet)
}

func (c *call) laySheet(jobs []layout.Job) (*layout.Document, error) {
	return layout.Sheet(jobs, layout.SheetOptions{Paper: c.paper(jobs, layout.SheetPapers())})
}
