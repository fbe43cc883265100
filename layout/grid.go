package layout

import (
	"math"
	"sync"
)

// inkGrid remembers where ink is, in cells of a fifth of a millimetre, so that
// a place for a label can be tried in a few word operations. Marking is
// generous: a cell that ink might touch is marked.
type inkGrid struct {
	area  Rect
	w, h  int
	words int
	bits  []uint64 // a row of cells after another
	bands []uint64 // the same for bands of rows: what is marked in any of them
	store []uint64 // both
}

const (
	gridCell = Um(200)
	band     = 8 // rows
)

func newGrid(area Rect) *inkGrid {
	g := &inkGrid{area: area, w: int(area.W/gridCell) + 1, h: int(area.H/gridCell) + 1}
	g.words = (g.w + 63) / 64
	g.take()
	clear(g.store)
	return g
}

// stores are what grids were kept in that are not needed any more.
var stores = sync.Pool{New: func() any { return &[]uint64{} }}

// take finds a grid a place for its cells, with anything in it.
func (g *inkGrid) take() {
	rows, n := g.words*g.h, g.words*(g.h+g.h/band+1)
	s := stores.Get().(*[]uint64)
	if cap(*s) < n {
		*s = make([]uint64, n)
	}
	g.store = (*s)[:n]
	g.bits, g.bands = g.store[:rows], g.store[rows:]
}

// free gives a grid's cells away.
func (g *inkGrid) free() {
	stores.Put(&g.store)
	g.bits, g.bands = nil, nil
}

// clear makes all cells free.
func (g *inkGrid) clear() { clear(g.store) }

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

// task is what is done with cells: they are marked, or it is asked whether all
// are free, which stops at the first that is not.
type task bool

const (
	markCells task = true
	cellsFree task = false
)

// cells are those of a run of columns, as words of a row and the masks of the
// first and the last.
type cells struct {
	from, to    int
	first, last uint64
}

func columns(c0, c1 int) cells {
	c := cells{c0 / 64, c1 / 64, ^uint64(0) << (c0 % 64), ^uint64(0) >> (63 - c1%64)}
	if c.from == c.to {
		c.first &= c.last
	}
	return c
}

func (c cells) mark(row []uint64) {
	row[c.from] |= c.first
	if c.from == c.to {
		return
	}
	for i := c.from + 1; i < c.to; i++ {
		row[i] = ^uint64(0)
	}
	row[c.to] |= c.last
}

func (c cells) free(row []uint64) bool {
	if row[c.from]&c.first != 0 {
		return false
	}
	for i := c.from + 1; i < c.to; i++ {
		if row[i] != 0 {
			return false
		}
	}
	return c.from == c.to || row[c.to]&c.last == 0
}

func (g *inkGrid) row(i int) []uint64  { return g.bits[i*g.words : (i+1)*g.words] }
func (g *inkGrid) band(i int) []uint64 { return g.bands[i*g.words : (i+1)*g.words] }

// each does it with the cells c0..c1 of a row; false when one is not free.
func (g *inkGrid) each(row, c0, c1 int, do task) bool {
	c := columns(c0, c1)
	if do == cellsFree {
		return c.free(g.row(row))
	}
	c.mark(g.row(row))
	c.mark(g.band(row / band))
	return true
}

// rect does it with the cells of a box.
func (g *inkGrid) rect(r Rect, do task) bool {
	c0, c1, ok := g.span(r.X, r.right())
	if !ok {
		return true
	}
	c := columns(c0, c1)
	r0, r1 := g.rows(r.Y, r.bottom())
	for at := r0; at <= r1; {
		end := min(at/band*band+band, r1+1)
		switch {
		case do == markCells:
			c.mark(g.band(at / band))
		case c.free(g.band(at / band)):
			at = end
			continue
		}
		for ; at < end; at++ {
			if do == markCells {
				c.mark(g.row(at))
			} else if !c.free(g.row(at)) {
				return false
			}
		}
	}
	return true
}

// line does it with the cells within half of the line from a to b.
func (g *inkGrid) line(a, b Point, half Um, do task) bool {
	if do == cellsFree { // where all about it is free, as it is most often
		x, y := min(a.X, b.X)-half, min(a.Y, b.Y)-half
		if g.rect(Rect{x, y, max(a.X, b.X) + half - x, max(a.Y, b.Y) + half - y}, do) {
			return true
		}
	}
	r0, r1 := g.rows(min(a.Y, b.Y)-half, max(a.Y, b.Y)+half)
	for row := r0; row <= r1; row++ {
		y0 := g.area.Y + Um(row)*gridCell - half
		x0, x1, ok := xRange(a, b, y0, y0+gridCell+2*half)
		if !ok {
			continue
		}
		c0, c1, ok := g.span(x0-half, x1+half)
		if ok && !g.each(row, c0, c1, do) {
			return false
		}
	}
	return true
}

// convex does it with the cells of a convex polygon and its outline.
func (g *inkGrid) convex(pts []Point, half Um, do task) bool {
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
		if ok && !g.each(row, c0, c1, do) {
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
