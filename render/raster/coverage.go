package raster

import (
	"image"
	"math"
)

// Places are kept in whole parts of a pixel, and areas in whole numbers: the
// same on every processor.
const (
	subBits = 10 // of a part of a pixel
	unit    = 1 << subBits
	full    = 2 * unit * unit // a pixel that is covered whole
)

// coverage is how much of each pixel of some rows a shape covers. Each edge adds
// to a row, where it runs, the change in what is covered from one pixel to the
// next; the sum along the row is the covered area, by the non-zero rule but for
// what is covered from both sides within one pixel.
type coverage struct {
	w, h   int
	cells  []int32 // h rows of w+1
	lo, hi []int   // the cells of each row that are not 0: from lo to before hi
	line   []byte
}

// draw takes a shape as far as it is level with a band; what is to the right of
// the band does not matter to it.
func (c *coverage) draw(s *shape, band image.Rectangle) {
	c.w, c.h = band.Dx(), band.Dy()
	if n := c.h * (c.w + 1); cap(c.cells) < n {
		c.cells = make([]int32, n)
	} else {
		c.cells = c.cells[:n] // all 0: row leaves them so
	}
	if cap(c.line) < c.w {
		c.line = make([]byte, c.w)
	}
	c.lo, c.hi = c.lo[:0], c.hi[:0]
	for range c.h {
		c.lo, c.hi = append(c.lo, c.w+1), append(c.hi, 0)
	}
	from := 0
	for _, end := range s.ends {
		contour := s.points[from:end]
		from = end
		ax, ay := parts(contour[len(contour)-1], band.Min)
		for _, p := range contour {
			bx, by := parts(p, band.Min)
			if ay < by {
				c.edge(ax, ay, bx, by, 1)
			} else if ay > by {
				c.edge(bx, by, ax, ay, -1)
			}
			ax, ay = bx, by
		}
	}
}

// parts is a place in parts of a pixel from an origin.
func parts(p point, origin image.Point) (x, y int) {
	return int(math.Floor(p.x*unit+0.5)) - origin.X*unit, int(math.Floor(p.y*unit+0.5)) - origin.Y*unit
}

// edge adds an edge that runs down, a row at a time; way is 1 where the shape's
// outline runs down too, else -1.
func (c *coverage) edge(ax, ay, bx, by, way int) {
	at := func(y int) int { return ax + scaled(bx-ax, y-ay, by-ay) }
	y := max(ay, 0)
	end := min(by, c.h*unit)
	if y >= end {
		return
	}
	x := at(y)
	for y < end {
		row := y >> subBits
		next := min((row+1)<<subBits, end)
		nextX := bx
		if next < by {
			nextX = at(next)
		}
		if x <= nextX {
			c.strip(row, x, nextX, next-y, way)
		} else {
			c.strip(row, nextX, x, next-y, way)
		}
		x, y = nextX, next
	}
}

// scaled is a*b/d rounded down, d positive; it fits an int, a*b need not.
func scaled(a, b, d int) int {
	q, by := int64(a)*int64(b), int64(d)
	if q < 0 {
		return int(-((-q + by - 1) / by))
	}
	return int(q / by)
}

// strip adds the part of an edge that lies in one row, from x0 to x1 across and
// dy high; it covers what is to its right. Which end is the upper one does not
// matter to the area.
func (c *coverage) strip(row, x0, x1, dy, way int) {
	if x0 >= c.w*unit {
		return
	}
	cells := c.cells[row*(c.w+1) : (row+1)*(c.w+1)]
	last := min(max(x1>>subBits, 0), c.w-1)
	c.lo[row] = min(c.lo[row], max(x0>>subBits, 0))
	c.hi[row] = max(c.hi[row], last+2)
	if x1 <= 0 {
		cells[0] += int32(way * dy * 2 * unit)
		return
	}
	done := 0 // how much of the height is behind
	for x := x0; ; {
		next := min(((x>>subBits)+1)<<subBits, x1)
		if x < 0 {
			next = min(0, x1)
		}
		high := dy - done
		if next < x1 {
			high = scaled(dy, next-x0, x1-x0) - done
		}
		if x >= 0 {
			column := x >> subBits
			inner := (x - column<<subBits) + (next - column<<subBits)
			cells[column] += int32(way * high * (2*unit - inner))
			cells[column+1] += int32(way * high * inner)
		} else {
			cells[0] += int32(way * high * 2 * unit)
		}
		done += high
		if x = next; x >= x1 || x >= c.w*unit {
			return
		}
	}
}

// row gives the covered pixels of a row: where they begin, and how much of each
// is covered, 255 being all. It may be asked for each row once.
func (c *coverage) row(y int) (from int, cover []byte) {
	lo, hi := c.lo[y], c.hi[y]
	if hi == 0 {
		return 0, nil
	}
	cells := c.cells[y*(c.w+1) : (y+1)*(c.w+1)]
	sum := 0
	end := min(hi, c.w)
	line := c.line[:c.w]
	for x := lo; x < end; x++ {
		sum += int(cells[x])
		line[x] = share(sum)
	}
	clear(cells[lo:hi])
	if rest := share(sum); rest != 0 {
		for x := end; x < c.w; x++ {
			line[x] = rest
		}
		end = c.w
	}
	return lo, line[lo:end]
}

// share is an area as a part of 255.
func share(area int) byte {
	if area < 0 {
		area = -area
	}
	return byte((min(area, full)*255 + full/2) / full)
}
