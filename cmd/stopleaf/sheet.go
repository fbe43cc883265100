package main

import "stopleaf/layout"

func runSheet(c *call) error {
	if err := c.checkFormat(); err != nil {
		return err
	}
	c.ahead("sheet", "a4")
	return c.drawing("sheets.pdf", "-sheet.pdf", c.laySheet)
}

func (c *call) laySheet(jobs []layout.Job) (*layout.Document, error) {
	return layout.Sheet(jobs, layout.SheetOptions{Paper: c.paper(jobs[0].Setup), Format: c.format})
}
