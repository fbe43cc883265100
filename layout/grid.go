package layout

import (
	"math"
	"slices"
)

// inkGrid remembers where ink is, in cells of a fifth of a millimetre, so that
// a place for a label can be tried in a few word operations. Marking is
// generous: a cell that ink might touch is marked.
type inkGrid struct {
	area  Rect
	w, h  int
	words int
	bits  []uint64
}

const gridCell = Um(200)

func newGrid(area Rect) *inkGrid {
	g := &inkGrid{area: area, w: int(area.W/gridCell) + 1, h: int(area.H/gridCell) + 1}
	g.words = (g.w + 63) / 64
	g.bits = make([]uint64, g.words*g.h)
	return g
}

func (g *inkGrid) clone() *inkGrid {
	c := *g
	c.bits = slices.Clone(g.bits)
	return &c
}

// copyFrom makes g show the ink of another grid of the same area.
func (g *inkGrid) copyFrom(o *inkGrid) { copy(g.bits, o.bits) }

// span turns an interval of x into cells; ok is false when none is in the area.
func (g *inkGrid) span(x0, x1 Um) (c0, c1 int, ok bool) {
	c0 = int(floorDiv(x0-g.area.X, gridCell))
	c1 = int(floorDiv(x1-g.area.X, gridCell))
	c0, c1 = max(c0, 0), min(c1, g.w-1)
	return c0, c1, c0 <= c1
}

func floorDiv(a, b Um) Um {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

func (g *inkGrid) rows(y0, y1 Um) (r0, r1 int) {
	r0 = int(floorDiv(y0-g.area.Y, gridCell))
	r1 = int(floorDiv(y1-g.area.Y, gridCell))
	return max(r0, 0), min(r1, g.h-1)
}

// each calls f with the words and masks of cells c0..c1 of a row; f returning
// false stops it.
func (g *inkGrid) each(row, c0, c1 int, f func(word *uint64, mask uint64) bool) bool {
	base := row * g.words
	for w := c0 / 64; w <= c1/64; w++ {
		mask := ^uint64(0)
		if w == c0/64 {
			mask &= ^uint64(0) << (c0 % 64)
		}
		if w == c1/64 {
			mask &= ^uint64(0) >> (63 - c1%64)
		}
		if !f(&g.bits[base+w], mask) {
			return false
		}
	}
	return true
}

func markCells(word *uint64, mask uint64) bool { *word |= mask; return true }
func cellsFree(word *uint64, mask uint64) bool { return *word&mask == 0 }

// rect runs f over the cells of a box; false when f stopped it.
func (g *inkGrid) rect(r Rect, f func(*uint64, uint64) bool) bool {
	c0, c1, ok := g.span(r.X, r.right())
	if !ok {
		return true
	}
	r0, r1 := g.rows(r.Y, r.bottom())
	for row := r0; row <= r1; row++ {
		if !g.each(row, c0, c1, f) {
			return false
		}
	}
	return true
}

// line runs f over the cells within half of the line from a to b.
func (g *inkGrid) line(a, b Point, half Um, f func(*uint64, uint64) bool) bool {
	r0, r1 := g.rows(min(a.Y, b.Y)-half, max(a.Y, b.Y)+half)
	for row := r0; row <= r1; row++ {
		y0 := g.area.Y + Um(row)*gridCell - half
		x0, x1, ok := xRange(a, b, y0, y0+gridCell+2*half)
		if !ok {
			continue
		}
		c0, c1, ok := g.span(x0-half, x1+half)
		if ok && !g.each(row, c0, c1, f) {
			return false
		}
	}
	return true
}

// convex runs f over the cells of a convex polygon and its outline.
func (g *inkGrid) convex(pts []Point, half Um, f func(*uint64, uint64) bool) bool {
	box, ok := bounds(pts)
	if !ok {
		return true
	}
	r0, r1 := g.rows(box.Y-half, box.bottom()+half)
	for row := r0; row <= r1; row++ {
		y0 := g.area.Y + Um(row)*gridCell - half
		lo, hi, any := Um(math.MaxInt64), Um(math.MinInt64), false
		for i, p := range pts {
			if x0, x1, ok := xRange(p, pts[(i+1)%len(pts)], y0, y0+gridCell+2*half); ok {
				lo, hi, any = min(lo, x0), max(hi, x1), true
			}
		}
		if !any {
			continue
		}
		c0, c1, ok := g.span(lo-half, hi+half)
		if ok && !g.each(row, c0, c1, f) {
			return false
		}
	}
	return true
}

// xRange is the part of a line between two heights, as an interval of x.
func xRange(a, b Point, y0, y1 Um) (x0, x1 Um, ok bool) {
	if a.Y > b.Y {
		a, b = b, a
	}
	if b.Y < y0 || a.Y > y1 {
		return 0, 0, false
	}
	at := func(y Um) Um {
		if a.Y == b.Y {
			return a.X
		}
		return a.X + roundDiv((b.X-a.X)*(y-a.Y), b.Y-a.Y)
	}
	p, q := at(max(y0, a.Y)), at(min(y1, b.Y))
	if a.Y == b.Y {
		p, q = a.X, b.X
	}
	return min(p, q), max(p, q), true
}

// roundDiv is a/b rounded half away from zero, for b over 0.
func roundDiv(a, b Um) Um {
	if a < 0 {
		return -((-a + b/2) / b)
	}
	return (a + b/2) / b
}
