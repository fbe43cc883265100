package main

import "stopleaf/layout"

func runStands(c *call) error {
	if err := c.checkFormat(); err != nil {
		return err
	}
	c.ahead("stands", "a6")
	return c.drawing("stands.pdf", "-stands.pdf", c.layStands)
}

func (c *call) layStands(jobs []layout.Job) (*layout.Document, error) {
	return layout.Stands(jobs, layout.StandsOptions{Paper: c.paper(jobs[0].Setup), Format: c.format, Base: c.set["base"], Duplex: c.has("duplex"), NoBack: c.toPicture()})
}
