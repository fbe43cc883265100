package compare

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"stopleaf/setup"
)

// nearby is how far apart two lights may stand that are taken for one by their
// place alone, m.
const nearby = 0.5

// matched is two indices into the lists of A and B, -1 for none.
type matched struct {
	a, b int
	how  string
}

// matching finds for each item of A the one it is in B.
type matching struct {
	a, b     *setup.Setup
	ofLights []matched
	ofGrip   []matched
	toB, toA map[*setup.Light]*setup.Light
}

// thing is what an item is matched by.
type thing struct {
	name, role string
	place      *setup.Place
}

func (m *matching) lights() {
	things := func(s *setup.Setup) []thing {
		var out []thing
		for i := range s.Lights {
			l := &s.Lights[i]
			role := l.Role
			if role == "other" {
				role = "" // says nothing
			}
			out = append(out, thing{l.Name, role, l.Place})
		}
		return out
	}
	m.ofLights = match(things(m.a), things(m.b), ByRole)
	m.toB, m.toA = map[*setup.Light]*setup.Light{}, map[*setup.Light]*setup.Light{}
	for _, p := range m.ofLights {
		if p.a >= 0 && p.b >= 0 {
			a, b := &m.a.Lights[p.a], &m.b.Lights[p.b]
			m.toB[a], m.toA[b] = b, a
		}
	}
}

func (m *matching) grip() {
	things := func(s *setup.Setup) []thing {
		var out []thing
		for i := range s.Grip {
			g := &s.Grip[i]
			out = append(out, thing{g.Name, g.Kind, g.Place})
		}
		return out
	}
	m.ofGrip = match(things(m.a), things(m.b), ByKind)
}

// match pairs items by name, those left by role (which byRole names) and those left then by place;
// within each the nearest first. The order of the lists does not matter.
func match(a, b []thing, byRole string) []matched {
	var out []matched
	freeA, freeB := make([]bool, len(a)), make([]bool, len(b))
	for i := range freeA {
		freeA[i] = true
	}
	for i := range freeB {
		freeB[i] = true
	}
	take := func(how string, alike func(x, y thing) bool) {
		var found []candidate
		for i := range a {
			for j := range b {
				if freeA[i] && freeB[j] && alike(a[i], b[j]) {
					found = append(found, newCandidate(a, b, i, j))
				}
			}
		}
		slices.SortFunc(found, candidate.compare)
		for _, f := range found {
			if freeA[f.a] && freeB[f.b] {
				freeA[f.a], freeB[f.b] = false, false
				out = append(out, matched{f.a, f.b, how})
			}
		}
	}
	take(ByName, func(x, y thing) bool { return strings.EqualFold(x.name, y.name) })
	take(byRole, func(x, y thing) bool { return x.role != "" && strings.EqualFold(x.role, y.role) })
	take(ByPlace, func(x, y thing) bool { return apart(x.place, y.place) <= nearby })
	for i, free := range freeA {
		if free {
			out = append(out, matched{i, -1, ""})
		}
	}
	for j, free := range freeB {
		if free {
			out = append(out, matched{-1, j, ""})
		}
	}
	return out
}

// candidate is two items that may be one. Its order is the same whichever of
// the two lists is A.
type candidate struct {
	a, b      int
	apart     float64
	low, high string // the two names
}

func newCandidate(a, b []thing, i, j int) candidate {
	x, y := strings.ToLower(a[i].name), strings.ToLower(b[j].name)
	return candidate{i, j, apart(a[i].place, b[j].place), min(x, y), max(x, y)}
}

func (c candidate) compare(d candidate) int {
	return cmp.Or(cmp.Compare(c.apart, d.apart), strings.Compare(c.low, d.low), strings.Compare(c.high, d.high))
}

// apart is how far two places are from each other, m, on the floor where a
// height is not known; infinite where a place is not.
func apart(p, q *setup.Place) float64 {
	if p == nil || q == nil {
		return math.Inf(1)
	}
	d := math.Hypot(q.Right-p.Right, q.Front-p.Front)
	if p.Height != nil && q.Height != nil {
		d = math.Hypot(d, *q.Height-*p.Height)
	}
	return d
}

// alike reports whether two names, one of A and one of B, are of one item: a
// light, a pair, or the same word.
func (m *matching) alike(a, b string) bool {
	if strings.EqualFold(a, b) {
		return true
	}
	for x, y := range m.toB {
		if strings.EqualFold(x.Name, a) && strings.EqualFold(y.Name, b) ||
			x.Pair != nil && y.Pair != nil && strings.EqualFold(x.Pair.Of, a) && strings.EqualFold(y.Pair.Of, b) {
			return true
		}
	}
	for _, p := range m.ofGrip {
		if p.a >= 0 && p.b >= 0 && strings.EqualFold(m.a.Grip[p.a].Name, a) && strings.EqualFold(m.b.Grip[p.b].Name, b) {
			return true
		}
	}
	return false
}
