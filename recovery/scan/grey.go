package scan

import (
	"image"
	"math"
)

// point is a place in pixels: the middle of the first is 0.5, 0.5.
type point struct{ x, y float64 }

func (a point) plus(b point) point          { return point{a.x + b.x, a.y + b.y} }
func (a point) minus(b point) point         { return point{a.x - b.x, a.y - b.y} }
func (a point) times(f float64) point       { return point{a.x * f, a.y * f} }
func (a point) cross(b point) float64       { return a.x*b.y - a.y*b.x }
func (a point) dot(b point) float64         { return a.x*b.x + a.y*b.y }
func (a point) length() float64             { return math.Hypot(a.x, a.y) }
func (a point) to(b point, f float64) point { return a.plus(b.minus(a).times(f)) }

// grey is a picture on one scale.
type grey struct {
	w, h int
	pix  []uint8
}

// at is the grey at a place, between the middles of four pixels; outside it is that of
// the edge.
func (g *grey) at(x, y float64) float32 {
	x, y = x-0.5, y-0.5
	if !(x > 0) {
		x = 0
	}
	if !(y > 0) {
		y = 0
	}
	x, y = min(x, float64(g.w-1)), min(y, float64(g.h-1))
	ix, iy := int(x), int(y)
	ix, iy = min(ix, max(g.w-2, 0)), min(iy, max(g.h-2, 0))
	fx, fy := float32(x-float64(ix)), float32(y-float64(iy))
	i := iy*g.w + ix
	right, down := 1, g.w
	if g.w == 1 {
		right = 0
	}
	if g.h == 1 {
		down = 0
	}
	a, b := float32(g.pix[i]), float32(g.pix[i+right])
	c, d := float32(g.pix[i+down]), float32(g.pix[i+down+right])
	top, foot := a+(b-a)*fx, c+(d-c)*fx
	return top + (foot-top)*fy
}

// reduced is a picture, made smaller by whole blocks until it has no more than MostPixels.
func reduced(img *image.Gray) *grey {
	b := img.Bounds()
	k := 1
	for (b.Dx()/k)*(b.Dy()/k) > MostPixels {
		k++
	}
	w, h := b.Dx()/k, b.Dy()/k
	g := &grey{w: w, h: h, pix: make([]uint8, w*h)}
	sums := make([]uint32, w)
	for y := range h {
		clear(sums)
		for j := range k {
			row := img.Pix[(y*k+j)*img.Stride:]
			if k == 1 {
				copy(g.pix[y*w:(y+1)*w], row)
				break
			}
			for x := range sums {
				for _, v := range row[x*k : x*k+k] {
					sums[x] += uint32(v)
				}
			}
		}
		if k > 1 {
			n := uint32(k * k)
			for x, v := range sums {
				g.pix[y*w+x] = uint8((v + n/2) / n)
			}
		}
	}
	return g
}

// pyramid is a picture, the same at half the size, and so on while a code could be in
// it, at most five times.
func pyramid(g *grey) []*grey {
	list := []*grey{g}
	for len(list) < 5 && min(g.w, g.h) >= 200 {
		g = g.half()
		list = append(list, g)
	}
	return list
}

func (g *grey) half() *grey {
	out := &grey{w: g.w / 2, h: g.h / 2}
	out.pix = make([]uint8, out.w*out.h)
	for y := range out.h {
		a, b := g.pix[2*y*g.w:], g.pix[(2*y+1)*g.w:]
		for x := range out.w {
			out.pix[y*out.w+x] = uint8((int(a[2*x]) + int(a[2*x+1]) + int(b[2*x]) + int(b[2*x+1]) + 2) / 4)
		}
	}
	return out
}

// means are the mean greys around each pixel, over a square of 2r+1 pixels a side or
// what of it is in the picture, less a little: what is darker is ink.
func (g *grey) means(r int) []uint8 {
	w, h := g.w, g.h
	out := make([]uint8, w*h)
	cols := make([]uint32, w) // sums of columns over the rows around
	add := func(y int) {
		for x, v := range g.pix[y*w : (y+1)*w] {
			cols[x] += uint32(v)
		}
	}
	take := func(y int) {
		for x, v := range g.pix[y*w : (y+1)*w] {
			cols[x] -= uint32(v)
		}
	}
	for y := range min(r, h) {
		add(y)
	}
	for y := range h {
		if y+r < h {
			add(y + r)
		}
		if y-r-1 >= 0 {
			take(y - r - 1)
		}
		rows := uint32(min(y+r, h-1) - max(y-r, 0) + 1)
		sum := uint32(0)
		for x := range min(r, w) {
			sum += cols[x]
		}
		for x := range w {
			if x+r < w {
				sum += cols[x+r]
			}
			if x-r-1 >= 0 {
				sum -= cols[x-r-1]
			}
			wide := uint32(min(x+r, w-1) - max(x-r, 0) + 1)
			mean := sum / (rows * wide)
			out[y*w+x] = uint8(mean - mean/16)
		}
	}
	return out
}
