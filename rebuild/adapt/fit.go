package adapt

import (
	"math"

	"stopleaf/exposure"
	"stopleaf/setup"
)

// fits finds where an item fits with at least a part of its throw: on its own line,
// else turned.
func (p *plan) fits(it item, here, aim exposure.Vec, bounds []bound, free []float64, least float64) (to exposure.Vec, turn int, ok bool) {
	if s := p.along(it, here, aim, bounds, free); s >= least {
		if to = aim.Plus(here.Minus(aim).Times(s)); p.unseen(it, here, to) {
			return to, 0, true
		}
	}
	return p.turned(it, here, aim, bounds, free, least)
}

// handy rounds a place toward the subject and down to what is taped, where it then
// still fits.
func (p *plan) handy(it item, from, to exposure.Vec, bounds []bound, free []float64) exposure.Vec {
	round := p.taped(it, to, math.Floor)
	for k, by := range p.measure(it, round, bounds) {
		if by > free[k]+slack/2 {
			return to
		}
	}
	if !p.unseen(it, from, round) {
		return to
	}
	return round
}

// taped rounds a place to whole centimetres or half inches, half of that close by,
// in the way that the file says where it is; a slant and tapes are left as they come,
// and so is what is so near to its aim that the light would change.
func (p *plan) taped(it item, to exposure.Vec, round func(float64) float64) exposure.Vec {
	grain := 0.01
	if p.s.Units == setup.Feet || p.s.Units == setup.Inches {
		grain = 0.0127
	}
	far := math.Hypot(to.X, to.Y)
	if far < 0.5 {
		grain /= 2
	}
	if it.grip < 0 {
		if l := &p.s.Lights[it.lights[0]]; aimed(l.Aim).Minus(to).Length() < 0.4 {
			return to
		}
	}
	whole := func(v float64) float64 { return math.Copysign(round(math.Abs(v)/grain+1e-6)*grain, v) }
	switch form := p.place(it).Form; form {
	case "slant", "tape":
		return to
	case "cartesian":
		to.X, to.Y = whole(to.X), whole(to.Y)
	case "angle", "clock":
		if far > 10*grain {
			k := whole(far) / far
			to.X, to.Y = to.X*k, to.Y*k
		}
	}
	to.Z = whole(to.Z)
	return to
}

// measure says for each bound how far an item that stands at a point reaches
// beyond it, m; of a pair both count.
func (p *plan) measure(it item, to exposure.Vec, bounds []bound) []float64 {
	out := make([]float64, len(bounds))
	for k := range out {
		out[k] = math.Inf(-1)
	}
	for _, body := range p.bodies(it, to) {
		outline := append(body.Outline(), body.At)
		for k, b := range bounds {
			if b.out.Z != 0 && p.place(it).Height == nil {
				continue
			}
			for _, v := range outline {
				out[k] = math.Max(out[k], b.beyond(v))
			}
		}
	}
	return out
}

// bodies are what an item would be if it stood at a point.
func (p *plan) bodies(it item, to exposure.Vec) []exposure.Body {
	if it.grip >= 0 {
		g := p.s.Grip[it.grip]
		g.Place = copied(g.Place)
		put(g.Place, to)
		return []exposure.Body{g.Body()}
	}
	var out []exposure.Body
	for _, i := range it.lights {
		l := p.s.Lights[i]
		l.Place = copied(l.Place)
		put(l.Place, to)
		if aimsLevel(&l) && l.Place.Height != nil {
			l.Aim.Height = *l.Place.Height
		}
		out = append(out, l.Body())
		to.X = -to.X
	}
	return out
}

// worst is the given bound that an item reaches furthest beyond; nil when it fits.
func worst(bounds []bound, by []float64) (*bound, float64) {
	var found *bound
	most := slack
	for k := range bounds {
		if bounds[k].given && by[k] > most {
			found, most = &bounds[k], by[k]
		}
	}
	return found, most
}

// allowed is how far an item may reach beyond each bound after it was moved: no
// way where that was asked for, no further than before elsewhere.
func allowed(bounds []bound, was []float64) []float64 {
	out := make([]float64, len(bounds))
	for k, b := range bounds {
		if !b.given {
			out[k] = math.Max(was[k], 0)
		}
	}
	return out
}

// along is the part of its throw, at most 1, that an item at a point may keep so
// that it fits; 0 or less when no part will do.
func (p *plan) along(it item, from, aim exposure.Vec, bounds []bound, free []float64) float64 {
	s := 1.0
	by := p.measure(it, from, bounds)
	for k, b := range bounds {
		over := by[k] - free[k]
		if over <= 1e-9 {
			continue
		}
		line := from.Minus(aim)
		slope := line.Dot(b.out)
		if len(it.lights) > 1 { // the other of the pair may be the one that is beyond
			slope = math.Max(slope, exposure.Vec{X: -line.X, Y: line.Y, Z: line.Z}.Dot(b.out))
		}
		if slope <= 1e-9 {
			return 0
		}
		s = math.Min(s, 1-over/slope)
	}
	to := aim.Plus(from.Minus(aim).Times(s))
	for k, by := range p.measure(it, to, bounds) {
		if by > free[k]+1e-6 {
			return 0
		}
	}
	return s
}

// unseen reports whether an item that was out of the picture stays out.
func (p *plan) unseen(it item, from, to exposure.Vec) bool {
	if p.place(it).Height == nil {
		return true
	}
	before, after := p.bodies(it, from), p.bodies(it, to)
	for k := range after {
		if p.s.InFrame(after[k]) && !p.s.InFrame(before[k]) {
			return false
		}
	}
	return true
}

// turned finds the least turn about its aim point after which a light fits, with
// as much of its throw as will do.
func (p *plan) turned(it item, from, aim exposure.Vec, bounds []bound, free []float64, least float64) (to exposure.Vec, deg int, ok bool) {
	line := from.Minus(aim)
	long := line.Length()
	if long < 1e-6 {
		return to, 0, false
	}
	down, side := across(line.Times(1 / long))
	for deg = 1; deg <= mostTurn; deg++ {
		sin, cos := math.Sincos(float64(deg) * math.Pi / 180)
		best := 0.0
		for way := range ways {
			s, c := math.Sincos(2 * math.Pi * float64(way) / ways)
			if p.place(it).Height == nil {
				if way%(ways/2) != ways/4 { // on the floor there are two
					continue
				}
			}
			end := aim.Plus(line.Times(cos)).Plus(down.Times(sin * c * long)).Plus(side.Times(sin * s * long))
			part := p.along(it, end, aim, bounds, free)
			at := aim.Plus(end.Minus(aim).Times(part))
			if part >= least && part > best+1e-6 && p.unseen(it, from, at) {
				best, to, ok = part, at, true
			}
		}
		if ok {
			return to, deg, true
		}
	}
	return to, 0, false
}

// across gives two directions square to a line and to each other: one that takes
// its far end down, one that takes it sideways.
func across(line exposure.Vec) (down, side exposure.Vec) {
	side = exposure.Vec{X: line.Y, Y: -line.X}
	if l := side.Length(); l > 1e-9 {
		side = side.Times(1 / l)
	} else {
		side = exposure.Vec{X: 1}
	}
	up := exposure.Vec{
		X: side.Y*line.Z - side.Z*line.Y,
		Y: side.Z*line.X - side.X*line.Z,
		Z: side.X*line.Y - side.Y*line.X,
	}
	if up.Z > 0 {
		up = up.Times(-1)
	}
	return up, side
}
