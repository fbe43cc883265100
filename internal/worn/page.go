// Package worn draws pages with codes on them and does to them what paper, copiers and
// phones do: for tests of what reads them. The same seed gives the same pixels.
package worn

import (
	"image"
	"math"
	"math/rand/v2"

	"stopleaf/recovery/symbol"
)

// Module is the side of a module on paper, mm: the smallest that stopleaf prints.
const Module = 0.4

// mm of an A5 page.
const wide, high = 148.0, 210.0

// Page is an A5 page at so many dots an inch with codes below each other, and ink around
// that looks like text and drawing.
type Page struct {
	*image.Gray
	Dot   float64 // pixels in a millimetre
	Codes []Place // where the codes are
	rand  *rand.Rand
}

// Place is a square in pixels: its top left and its side.
type Place struct{ X, Y, Side float64 }

// Middle is the middle of the square.
func (p Place) Middle() (x, y float64) { return p.X + p.Side/2, p.Y + p.Side/2 }

// NewPage draws a page.
func NewPage(dpi int, seed uint64, codes ...*symbol.Matrix) *Page {
	p := &Page{Dot: float64(dpi) / 25.4, rand: rand.New(rand.NewPCG(seed, 18004))}
	p.Gray = image.NewGray(image.Rect(0, 0, int(wide*p.Dot), int(high*p.Dot)))
	for i := range p.Pix {
		p.Pix[i] = 255
	}
	y := 12 + 8*p.rand.Float64()
	for _, m := range codes {
		side := float64(m.Size) * Module
		x := 10 + p.rand.Float64()*(wide-20-side)
		p.Codes = append(p.Codes, Place{x * p.Dot, y * p.Dot, side * p.Dot})
		y += side + 8
	}
	p.ink()
	for i, m := range codes {
		p.code(m, p.Codes[i])
	}
	return p
}

// From is a page that there is already, without knowing where its codes are.
func From(g *image.Gray, dpi int, seed uint64) *Page {
	return &Page{Gray: g, Dot: float64(dpi) / 25.4, rand: rand.New(rand.NewPCG(seed, 18004))}
}

// code draws a code with its quiet zone, its edges where they are: a pixel has the
// mean of 8 x 8 places in it.
func (p *Page) code(m *symbol.Matrix, at Place) {
	module := Module * p.Dot
	quiet := symbol.Quiet * module
	for y := int(at.Y - quiet); y <= int(at.Y+at.Side+quiet); y++ {
		for x := int(at.X - quiet); x <= int(at.X+at.Side+quiet); x++ {
			if !(image.Point{X: x, Y: y}.In(p.Rect)) {
				continue
			}
			dark := 0
			for j := range 8 {
				for i := range 8 {
					mx := int(math.Floor((float64(x) + (float64(i)+0.5)/8 - at.X) / module))
					my := int(math.Floor((float64(y) + (float64(j)+0.5)/8 - at.Y) / module))
					if mx >= 0 && my >= 0 && mx < m.Size && my < m.Size && m.Dark(mx, my) {
						dark++
					}
				}
			}
			p.Pix[y*p.Stride+x] = uint8(255 - 255*dark/64)
		}
	}
}

// ink puts lines of letters, rules and circles on the page.
func (p *Page) ink() {
	for y := 8.0; y < high-8; y += 4 + 3*p.rand.Float64() {
		for x := 8 + 10*p.rand.Float64(); x < wide-12; x += 0.7 {
			if p.rand.IntN(6) == 0 {
				x += 1.2
				continue
			}
			for range 1 + p.rand.IntN(3) { // a letter of strokes
				x1, y1 := x+1.1*p.rand.Float64(), y+2.2*p.rand.Float64()
				x2, y2 := x1, y+2.2*p.rand.Float64()
				if p.rand.IntN(2) == 0 {
					x2, y2 = x+1.1*p.rand.Float64(), y1
				}
				p.line(x1, y1, x2, y2, 0.25)
			}
			x += 1.2
		}
	}
	for range 12 {
		x, y, r := wide*p.rand.Float64(), high*p.rand.Float64(), 2+6*p.rand.Float64()
		for a := 0.0; a < 6.3; a += 0.2 {
			p.line(x+r*math.Cos(a), y+r*math.Sin(a), x+r*math.Cos(a+0.2), y+r*math.Sin(a+0.2), 0.35)
		}
		p.line(x-r, y, x+2*r, y, 0.18)
	}
}

// line draws a line in mm.
func (p *Page) line(x1, y1, x2, y2, width float64) {
	x1, y1, x2, y2, half := x1*p.Dot, y1*p.Dot, x2*p.Dot, y2*p.Dot, width*p.Dot/2
	for y := int(min(y1, y2) - half - 1); y <= int(max(y1, y2)+half+1); y++ {
		for x := int(min(x1, x2) - half - 1); x <= int(max(x1, x2)+half+1); x++ {
			if !(image.Point{X: x, Y: y}.In(p.Rect)) {
				continue
			}
			px, py := float64(x)+0.5-x1, float64(y)+0.5-y1
			dx, dy := x2-x1, y2-y1
			t := min(max((px*dx+py*dy)/max(dx*dx+dy*dy, 1e-9), 0), 1)
			cover := min(max(half+0.5-math.Hypot(px-t*dx, py-t*dy), 0), 1)
			i := y*p.Stride + x
			p.Pix[i] = min(p.Pix[i], uint8(255-255*cover))
		}
	}
}
