package raster

import (
	"math"

	"stopleaf/render/internal/paper"
)

// pen turns lines into the shape that their strokes cover: a box for each
// piece, a wedge at the outside of each corner, a half disc at a round end. All
// its contours turn the same way and meet at shared edges, so that the smoothed
// edges of one piece add up with those of the next.
type pen struct {
	half  float64 // half the width, pixels
	round bool
	out   *shape
}

// run is one piece of a line: from, to, its direction and length.
type run struct {
	a, b, dir point
	long      float64
}

// runs leaves out pieces of no length.
func runs(l line) []run {
	pts := l.points
	if l.closed {
		pts = append(pts[:len(pts):len(pts)], pts[0])
	}
	out := make([]run, 0, len(pts))
	a := pts[0]
	for _, b := range pts[1:] {
		d := sub(b, a)
		long := length(d)
		if long < 1e-6 {
			continue
		}
		out = append(out, run{a, b, point{d.x / long, d.y / long}, long})
		a = b
	}
	return out
}

// stroke draws a whole line; one of no length is a dot when its ends are round.
func (p *pen) stroke(l line) {
	pieces := runs(l)
	if len(pieces) == 0 {
		p.dot(l.points[0], point{1, 0})
		return
	}
	p.pieces(pieces, l.closed)
}

func (p *pen) pieces(list []run, closed bool) {
	for i, r := range list {
		n := p.normal(r.dir)
		p.out.contour(add(r.a, n), add(r.b, n), sub(r.b, n), sub(r.a, n))
		if i > 0 {
			p.join(r.a, list[i-1].dir, r.dir)
		}
	}
	first, last := list[0], list[len(list)-1]
	if closed {
		p.join(first.a, last.dir, first.dir)
		return
	}
	p.cap(last.b, last.dir)
	p.cap(first.a, times(first.dir, -1))
}

func (p *pen) normal(dir point) point { return point{mul(-dir.y, p.half), mul(dir.x, p.half)} }

// dot is a stroke of no length.
func (p *pen) dot(at, dir point) {
	p.cap(at, dir)
	p.cap(at, times(dir, -1))
}

// cap ends a stroke that comes along dir.
func (p *pen) cap(at, dir point) {
	if !p.round {
		return
	}
	n, ahead := p.normal(dir), times(dir, p.half)
	pts := []point{at, add(at, n)}
	pts = p.arc(pts, at, n, ahead)
	pts = p.arc(pts, at, ahead, times(n, -1))
	p.out.contour(pts...)
}

// join fills the outside of a corner.
func (p *pen) join(at, from, to point) {
	turn := cross(from, to)
	cos := dot(from, to)
	if turn == 0 && cos > 0 {
		return
	}
	a, b := p.normal(from), p.normal(to)
	if turn > 0 { // toward the normal: the outside is the other side
		a, b = times(b, -1), times(a, -1)
	}
	pts := []point{at, add(at, a)}
	switch {
	case p.round && cos < -0.999999: // straight back
		p.cap(at, from)
		return
	case p.round:
		pts = p.arc(pts, at, a, b)
	case mul(1+cos, paper.MitreLimit*paper.MitreLimit) >= 2:
		// a mitre is as long as the half width over the cosine of half the turn
		pts = append(pts, add(at, times(add(a, b), 1/(1+cos))), add(at, b))
	default:
		pts = append(pts, add(at, b))
	}
	p.out.contour(pts...)
}

// arc appends the chords from a to b about a centre, both as far from it as
// half the width and less than a half turn apart, without its first point.
func (p *pen) arc(out []point, centre, a, b point) []point {
	mid := add(a, b)
	if long := length(mid); long > 1e-9 && p.half-long/2 > flatness {
		mid = times(mid, p.half/long)
		out = p.arc(out, centre, a, mid)
		return p.arc(out, centre, mid, b)
	}
	return append(out, add(centre, b))
}

// dashed draws a line in dashes, on and off in turn, which begin anew with it.
// Where a closed line begins and ends within a dash, the two ends are one dash.
func (p *pen) dashed(l line, pattern []float64) {
	pieces := runs(l)
	if len(pieces) == 0 {
		p.dot(l.points[0], point{1, 0})
		return
	}
	period := 0.0
	for _, d := range pattern {
		period += d
	}
	whole := 0.0
	for _, r := range pieces {
		whole += r.long
	}
	const mostDashes = 100_000
	if period < 1e-6 || whole/period > mostDashes {
		p.pieces(pieces, l.closed)
		return
	}
	list, open := cut(pieces, pattern)
	if n := len(list); l.closed && open && n > 1 && list[0][0].a == pieces[0].a {
		list[0] = append(list[n-1], list[0]...)
		list = list[:n-1]
	} else if l.closed && open && n == 1 && math.Abs(total(list[0])-whole) < 1e-6 {
		p.pieces(pieces, true)
		return
	}
	for _, d := range list {
		if total(d) < 1e-6 {
			p.dot(d[0].a, d[0].dir)
			continue
		}
		p.pieces(d, false)
	}
}

func total(list []run) float64 {
	sum := 0.0
	for _, r := range list {
		sum += r.long
	}
	return sum
}

// cut gives the dashes of a line; open tells that its end lies within the last.
func cut(pieces []run, pattern []float64) (list [][]run, open bool) {
	k, on, left := 0, true, pattern[0]
	var dash []run
	flip := func() {
		if on && dash != nil {
			list = append(list, dash)
		}
		k = (k + 1) % len(pattern)
		dash, on, left = nil, !on, pattern[k]
	}
	for _, r := range pieces {
		at := 0.0
		for r.long-at > left {
			if on {
				dash = append(dash, part(r, at, at+left))
			}
			at += left
			flip()
		}
		if on {
			dash = append(dash, part(r, at, r.long))
		}
		left -= r.long - at
	}
	if on && dash != nil {
		return append(list, dash), true
	}
	return list, false
}

// part is a piece from one length along it to another.
func part(r run, from, to float64) run {
	out := run{r.a, r.b, r.dir, to - from}
	if from > 0 {
		out.a = add(r.a, times(r.dir, from))
	}
	if to < r.long {
		out.b = add(r.a, times(r.dir, to))
	}
	return out
}
