package setup

// basesAlike finds bases that the house's way of printing readings makes one:
// f/8 and f/8 +0.1 in thirds.
func (c *checker) basesAlike() {
	if c.n == nil || c.s.Style() == "" {
		return
	}
	seen := map[string]string{}
	for _, b := range c.n.Bases {
		printed := c.s.Style().Base(b.Av)
		if before, twice := seen[printed]; twice {
			c.warn(c.s.House.Where, "printed readings", "bases-alike", "keep one of them, or print readings in tenths",
				"the bases %s and %s are both printed as %s", before, b.Mark, printed)
		}
		seen[printed] = b.Mark
	}
}
