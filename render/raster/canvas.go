package raster

import (
	"image"
	"image/draw"
	"math"

	"golang.org/x/image/vector"

	"stopleaf/layout"
)

// tile is the side of the squares that a shape is filled in, in pixels. Up to
// this size package vector works in whole numbers, which are the same on every
// processor, and no large shape needs a large buffer.
const tile = 512

// canvas is one page being drawn, in grey where nothing on it has a colour.
type canvas struct {
	scale  float64 // pixels in a micrometre
	bounds image.Rectangle
	pix    []byte
	stride int
	n      int // bytes a pixel: 1, or 4 for RGBA
	clip   box

	raster vector.Rasterizer
	cover  []byte // how much of each pixel of a tile is covered
	shape  shape
	glyphs map[glyph][]contour
	album  *album
}

// box is a part of the page in pixels; its edges may run through pixels.
type box struct{ x0, y0, x1, y1 float64 }

func newCanvas(w, h int, scale float64, colour bool, a *album) *canvas {
	c := &canvas{scale: scale, bounds: image.Rect(0, 0, w, h), n: 1, album: a,
		clip: box{0, 0, float64(w), float64(h)}, glyphs: map[glyph][]contour{}, cover: make([]byte, tile*tile)}
	if colour {
		c.n = 4
	}
	c.stride = w * c.n
	c.pix = make([]byte, c.stride*h)
	for i := range c.pix {
		c.pix[i] = 255
	}
	return c
}

// picture is the page as the standard library knows it, without a copy.
func (c *canvas) picture() image.Image {
	if c.n == 1 {
		return &image.Gray{Pix: c.pix, Stride: c.stride, Rect: c.bounds}
	}
	return &image.RGBA{Pix: c.pix, Stride: c.stride, Rect: c.bounds}
}

// at is a place of the page in pixels.
func (c *canvas) at(x, y layout.Um) point {
	return point{mul(float64(x), c.scale), mul(float64(y), c.scale)}
}

// within gives the box that is left of a clip within another.
func within(a, b box) box {
	return box{max(a.x0, b.x0), max(a.y0, b.y0), min(a.x1, b.x1), min(a.y1, b.y1)}
}

// pixels are those that a box touches.
func (b box) pixels() image.Rectangle {
	if b.x0 >= b.x1 || b.y0 >= b.y1 {
		return image.Rectangle{}
	}
	return image.Rectangle{
		Min: image.Pt(int(math.Floor(b.x0)), int(math.Floor(b.y0))),
		Max: image.Pt(int(math.Ceil(b.x1)), int(math.Ceil(b.y1))),
	}
}

// fill puts a grey where the shape is, smoothed at its edges and cut by the
// clip.
func (c *canvas) fill(s *shape, grey layout.Grey) {
	if len(s.points) == 0 {
		return
	}
	b := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for i, p := range s.points {
		p = snap(p)
		s.points[i] = p
		b = box{min(b.x0, p.x), min(b.y0, p.y), max(b.x1, p.x), max(b.y1, p.y)}
	}
	area := within(b, c.clip).pixels()
	for y := area.Min.Y; y < area.Max.Y; y += tile {
		for x := area.Min.X; x < area.Max.X; x += tile {
			c.fillTile(s, image.Rect(x, y, min(x+tile, area.Max.X), min(y+tile, area.Max.Y)), grey)
		}
	}
}

// snap puts a point on a grid of 256ths of a pixel.
func snap(p point) point {
	return point{math.Floor(p.x*256+0.5) / 256, math.Floor(p.y*256+0.5) / 256}
}

func (c *canvas) fillTile(s *shape, r image.Rectangle, grey layout.Grey) {
	w, h := r.Dx(), r.Dy()
	c.raster.Reset(w, h)
	c.raster.DrawOp = draw.Src
	origin := point{float64(r.Min.X), float64(r.Min.Y)}
	from := 0
	for _, end := range s.ends {
		contour := s.points[from:end]
		from = end
		a := sub(contour[len(contour)-1], origin)
		for _, p := range contour {
			b := sub(p, origin)
			c.edge(a, b, float64(w), float64(h))
			a = b
		}
	}
	mask := &image.Alpha{Pix: c.cover[:w*h], Stride: w, Rect: image.Rect(0, 0, w, h)}
	c.raster.Draw(mask, mask.Rect, image.Opaque, image.Point{})
	c.blend(r, grey)
}

// edge gives the rasterizer one edge, as far as it is level with the tile. What
// is to the left or right of it is drawn up along that side, since it still
// tells the inside of the shape from the outside.
func (c *canvas) edge(a, b point, w, h float64) {
	if a.y == b.y || max(a.y, b.y) <= 0 || min(a.y, b.y) >= h {
		return
	}
	flip := a.y > b.y
	if flip {
		a, b = b, a
	}
	if a.y < 0 || b.y > h {
		slope := (b.x - a.x) / (b.y - a.y)
		top, bottom := a, b
		if a.y < 0 {
			top = point{a.x - mul(slope, a.y), 0}
		}
		if b.y > h {
			bottom = point{a.x + mul(slope, h-a.y), h}
		}
		a, b = top, bottom
	}
	if flip {
		a, b = b, a
	}
	c.side(a, b, 0, w)
}

// side cuts an edge at the left and right side of the tile.
func (c *canvas) side(a, b point, lo, hi float64) {
	for _, x := range [2]float64{lo, hi} {
		if min(a.x, b.x) < x && x < max(a.x, b.x) {
			m := point{x, a.y + mul(x-a.x, b.y-a.y)/(b.x-a.x)}
			c.side(a, m, lo, hi)
			c.side(m, b, lo, hi)
			return
		}
	}
	put := func(x float64) float32 { return float32(min(max(x, lo), hi)) }
	c.raster.MoveTo(put(a.x), float32(a.y))
	c.raster.LineTo(put(b.x), float32(b.y))
}

// blend lays a grey over the tile as far as it is covered.
func (c *canvas) blend(r image.Rectangle, grey layout.Grey) {
	across := c.share(r.Min.X, r.Max.X, c.clip.x0, c.clip.x1)
	down := c.share(r.Min.Y, r.Max.Y, c.clip.y0, c.clip.y1)
	w := r.Dx()
	g := uint32(grey)
	for y := range r.Dy() {
		cover := c.cover[y*w : (y+1)*w]
		row := c.pix[(r.Min.Y+y)*c.stride+r.Min.X*c.n:]
		for x, m := range cover {
			if m == 0 {
				continue
			}
			a := uint32(m)
			if across != nil {
				a = a * across[x] / 256
			}
			if down != nil {
				a = a * down[y] / 256
			}
			if c.n == 1 {
				row[x] = mix(row[x], g, a)
				continue
			}
			p := row[4*x : 4*x+3 : 4*x+3]
			p[0], p[1], p[2] = mix(p[0], g, a), mix(p[1], g, a), mix(p[2], g, a)
		}
	}
}

// mix lays a value over another, a of 255 parts.
func mix(under byte, over, a uint32) byte {
	return byte((uint32(under)*(255-a) + over*a + 127) / 255)
}

// share tells how many 256ths of each pixel from lo to hi lie between two edges;
// nil is all of every one.
func (c *canvas) share(lo, hi int, from, to float64) []uint32 {
	if float64(lo) >= from && float64(hi) <= to {
		return nil
	}
	out := make([]uint32, hi-lo)
	for i := range out {
		at := float64(lo + i)
		part := min(at+1, to) - max(at, from)
		out[i] = uint32(math.Floor(max(0, part)*256 + 0.5))
	}
	return out
}
