package scan

import (
	"cmp"
	"math"
	"slices"
)

// triple are three finders that can be the corners of a code: top left, top right,
// bottom left.
type triple struct {
	a, b, c finder
	cost    float64
}

func (t triple) finders() [3]finder { return [3]finder{t.a, t.b, t.c} }
func (t triple) module() float64    { return (t.a.module + t.b.module + t.c.module) / 3 }

func (t triple) scaled(f float64) triple {
	for _, p := range []*finder{&t.a, &t.b, &t.c} {
		p.at = p.at.times(f)
		p.module *= f
	}
	return t
}

// triples gives those that can be corners of one code, the likeliest first.
func triples(list []finder) (out []triple) {
	for i, a := range list {
		for j, b := range list {
			for _, c := range list[j+1:] {
				if b == a || c == a || i == j {
					continue
				}
				if t, ok := corners(a, b, c); ok {
					out = append(out, t)
				}
			}
		}
	}
	slices.SortStableFunc(out, func(a, b triple) int { return cmp.Compare(a.cost, b.cost) })
	return out[:min(len(out), mostTriples)]
}

// corners orders two finders around a third, which is the top left, and says how far
// they are from the corners of a square seen from aside.
func corners(a, b, c finder) (triple, bool) {
	least, most := min(a.module, b.module, c.module), max(a.module, b.module, c.module)
	if most > 2*least {
		return triple{}, false
	}
	u, v := b.at.minus(a.at), c.at.minus(a.at)
	if u.cross(v) < 0 {
		b, c, u, v = c, b, v, u
	}
	lu, lv := u.length(), v.length()
	long, short := max(lu, lv), min(lu, lv)
	angle := math.Abs(u.dot(v)) / max(lu*lv, 1e-9) // cosine
	if short < 11*least || long > 1.8*short || angle > 0.55 || long > 190*most {
		return triple{}, false
	}
	// On a row that runs aslant through a module it seems longer than it is.
	return triple{a: a, b: b, c: c, cost: angle + math.Log(long/short) + math.Log(most/least)}, true
}
