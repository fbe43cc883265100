package main

import (
	"fmt"
	"strings"

	"stopleaf/layout"
)

func runStands(c *call) error {
	if err := c.checkFormat(); err != nil {
		return err
	}
	known := c.papers()
	if paper, given := c.set["paper"]; given && !contains(known, paper) {
		return &usageError{fmt.Sprintf("stands are not made on %s; allowed: %s", paper, strings.Join(known, ", ")), ""}
	}
	c.ahead("stands", "a6")
	return c.drawing("stands.pdf", "-stands.pdf", c.layStands)
}

func (c *call) layStands(jobs []layout.Job) (*layout.Document, error) {
	return layout.Stands(jobs, layout.StandsOptions{Paper: c.paper(jobs, c.papers()), Format: c.format, Base: c.set["base"], Duplex: c.has("duplex"), NoBack: c.toPicture()})
}
