package raster

import (
	"image"
	"math"

	"stopleaf/layout"
)

// bandCells is how many pixels of a shape are worked out at once, so that a
// large shape needs no large buffer.
const bandCells = 1 << 17

// canvas is one page being drawn, in grey where nothing on it has a colour.
type canvas struct {
	scale  float64 // pixels in a micrometre
	bounds image.Rectangle
	pix    []byte
	stride int
	n      int // bytes a pixel: 1, or 4 for RGBA
	clip   box

	cover  coverage
	shape  shape
	glyphs map[glyph][]contour
	album  *album
}

// box is a part of the page in pixels; its edges may run through pixels.
type box struct{ x0, y0, x1, y1 float64 }

func newCanvas(w, h int, scale float64, colour bool, a *album) *canvas {
	c := &canvas{scale: scale, bounds: image.Rect(0, 0, w, h), n: 1, album: a,
		clip: box{0, 0, float64(w), float64(h)}, glyphs: map[glyph][]contour{}}
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
	for _, p := range s.points {
		b = box{min(b.x0, p.x), min(b.y0, p.y), max(b.x1, p.x), max(b.y1, p.y)}
	}
	area := within(b, c.clip).pixels()
	if area.Empty() {
		return
	}
	step := max(1, bandCells/area.Dx())
	for y := area.Min.Y; y < area.Max.Y; y += step {
		band := image.Rect(area.Min.X, y, area.Max.X, min(y+step, area.Max.Y))
		c.cover.draw(s, band)
		c.blend(band, grey)
	}
}

// blend lays a grey over a band of rows as far as each pixel is covered.
func (c *canvas) blend(r image.Rectangle, grey layout.Grey) {
	across := c.share(r.Min.X, r.Max.X, c.clip.x0, c.clip.x1)
	down := c.share(r.Min.Y, r.Max.Y, c.clip.y0, c.clip.y1)
	g := uint32(grey)
	for y := range r.Dy() {
		row := c.pix[(r.Min.Y+y)*c.stride+r.Min.X*c.n:]
		from, cover := c.cover.row(y)
		for i, m := range cover {
			if m == 0 {
				continue
			}
			x, a := from+i, uint32(m)
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
