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
	gone    int // which of them was not seen and is only where it ought to be: 1 to 3
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

// pairs gives triples of which one is not seen, because of a crease or a stain: two that
// are, and where the third would be on a page seen from above.
func pairs(list []finder) (out []triple) {
	clear := slices.DeleteFunc(slices.Clone(list), func(f finder) bool { return float64(f.seen) < 1.5*f.module })
	for i, a := range clear {
		for _, b := range clear[i+1:] {
			d, m := b.at.minus(a.at), (a.module+b.module)/2
			if least, most := min(a.module, b.module), max(a.module, b.module); most > 1.25*least || d.length() < 13*m || d.length() > 240*m {
				continue
			}
			turned := point{-d.y, d.x} // to the right of the way from a to b, for y is down
			at := func(p point) finder { return finder{at: p, module: m} }
			mid, half := a.at.to(b.at, 0.5), turned.times(0.5)
			cost := math.Abs(math.Log(a.module / b.module))
			out = append(out,
				triple{a: a, b: b, c: at(a.at.plus(turned)), gone: 3, cost: cost},
				triple{a: b, b: a, c: at(b.at.minus(turned)), gone: 3, cost: cost},
				triple{a: b, b: at(b.at.plus(turned)), c: a, gone: 2, cost: cost},
				triple{a: a, b: at(a.at.minus(turned)), c: b, gone: 2, cost: cost},
				triple{a: at(mid.minus(half)), b: b, c: a, gone: 1, cost: cost},
				triple{a: at(mid.plus(half)), b: a, c: b, gone: 1, cost: cost},
			)
		}
	}
	slices.SortStableFunc(out, func(a, b triple) int { return cmp.Compare(a.cost, b.cost) })
	return out[:min(len(out), mostPairs)]
}
