package safety

import (
	"slices"
	"sort"

	"stopleaf/exposure"
	"stopleaf/setup"
	"stopleaf/templates"
)

// Own gives the cautions for one light or grip item, by its name, as they are
// said when it stands alone: a caution that Notes merges for several lights is
// here about this one. What holds for the whole set, and what its circuit
// carries, is left out. n may be nil.
func Own(s *setup.Setup, n *exposure.Numbers, w templates.Words, name string) []Note {
	if s == nil {
		return nil
	}
	one := *s
	one.Lights = slices.DeleteFunc(slices.Clone(s.Lights), func(l setup.Light) bool { return l.Name != name })
	one.Grip = slices.DeleteFunc(slices.Clone(s.Grip), func(g setup.Grip) bool { return g.Name != name })
	one.Mains = nil
	c := &set{s: &one, n: n, w: w}
	var out []Note
	for _, rule := range []func(*set) []Note{overhead, booms, bags, flats, lamps, gels, batteries, people} {
		for _, note := range rule(c) {
			if note.Light == name || c.alone(note.Code) {
				out = append(out, note)
			}
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Rank < out[j].Rank })
	return out
}

// alone says whether a rule that names nobody is said because of the one light
// there is.
func (c *set) alone(code string) bool {
	switch code {
	case "overhead", "boom-order":
		return true
	case "bag-plain":
		if len(c.s.Lights) != 1 {
			return false
		}
		l := &c.s.Lights[0]
		high, known := isHigh(l)
		return !need(l, BagSizeKg).known && (isBoom(l) || high || !known)
	}
	return false
}
