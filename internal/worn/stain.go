package worn

import (
	"image"
	"math"
)

// Creased has a crease through a code: along a line the ink is worn off over a third of
// a millimetre, to one side of it the paper falls into shadow, and within 2.5 mm of it the
// paper leans by up to 30 degrees (whose cosine is 0.87), so that both sides come nearer.
func (p *Page) Creased(code Place) *image.Gray {
	x0, y0 := code.Middle()
	x0 += (p.rand.Float64() - 0.5) * code.Side / 2
	y0 += (p.rand.Float64() - 0.5) * code.Side / 2
	s, c := math.Sincos(p.rand.Float64() * math.Pi)
	away := func(x, y float64) float64 { return ((x-x0)*s - (y-y0)*c) / p.Dot } // mm from the line
	out := warped(p.Gray, p.Rect.Dx(), p.Rect.Dy(), func(x, y float64) (float64, float64) {
		d := away(x, y)
		by := 0.15 * 2.5 * p.Dot * math.Copysign(1-math.Exp(-math.Abs(d)/2.5), d)
		return x + by*s, y - by*c
	})
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			d := away(float64(x), float64(y))
			i := y*out.Stride + x
			v := float64(out.Pix[i])
			if d > 0 {
				v *= 1 - 0.3*math.Exp(-d/5)
			}
			if worn := math.Exp(-d * d / (2 * 0.12 * 0.12)); worn > 0.01 {
				v += (210 - v) * worn * (0.4 + 0.6*p.rand.Float64())
			}
			out.Pix[i] = level(v)
		}
	}
	return out
}

// Ringed has the ring of a coffee cup over one corner of a code: 72 mm across, 3 mm
// wide with darker edges, uneven; it takes up to half of the light.
func (p *Page) Ringed(code Place) *image.Gray {
	out := copied(p.Gray)
	const radius, width = 36.0, 1.5
	k := p.rand.IntN(4)
	cx, cy := code.X+float64(k%2)*code.Side, code.Y+float64(k/2)*code.Side
	a := p.rand.Float64() * 2 * math.Pi
	inset := code.Side * 0.12 / p.Dot
	mx, my := code.Middle()
	in := math.Atan2(my-cy, mx-cx)
	cx, cy = cx+inset*p.Dot*math.Cos(in), cy+inset*p.Dot*math.Sin(in)
	x0, y0 := cx+radius*p.Dot*math.Cos(a), cy+radius*p.Dot*math.Sin(a)
	phase := p.rand.Float64() * 6
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			dx, dy := (float64(x)-x0)/p.Dot, (float64(y)-y0)/p.Dot
			off := (math.Hypot(dx, dy) - radius) / width
			if math.Abs(off) > 1.3 {
				continue
			}
			turn := math.Atan2(dy, dx)
			strength := 0.32 + 0.1*math.Sin(3*turn+phase) + 0.05*math.Sin(17*turn)
			edge := math.Exp(-(math.Abs(off) - 0.9) * (math.Abs(off) - 0.9) / 0.02)
			body := 1 / (1 + math.Exp((math.Abs(off)-0.95)*20))
			i := y*out.Stride + x
			out.Pix[i] = level(float64(out.Pix[i]) * (1 - strength*body - 0.15*edge))
		}
	}
	return out
}

// Copied went through a photocopier: blurred by the lens, black grown by the toner, all
// but black and white lost, specks of dust on the glass, and lines where the drum is worn.
func (p *Page) Copied() *image.Gray {
	out := Blurred(p.Gray, 0.06*p.Dot)
	for i, v := range out.Pix {
		// A threshold above the middle lets black grow by about 0.03 mm a side.
		out.Pix[i] = level(255 / (1 + math.Exp(-(float64(v)-165)/14)))
	}
	w, h := out.Rect.Dx(), out.Rect.Dy()
	for range 400 {
		x, y, r := p.rand.IntN(w), p.rand.IntN(h), (0.05+0.15*p.rand.Float64()*p.rand.Float64())*p.Dot
		ink := uint8(0)
		if p.rand.IntN(3) == 0 {
			ink = 255
		}
		for j := -int(r); j <= int(r); j++ {
			for i := -int(r); i <= int(r); i++ {
				if x+i >= 0 && y+j >= 0 && x+i < w && y+j < h && float64(i*i+j*j) <= r*r {
					out.Pix[(y+j)*out.Stride+x+i] = ink
				}
			}
		}
	}
	for range 3 {
		x := p.rand.IntN(w)
		for y := range h {
			i := y*out.Stride + x
			out.Pix[i] = uint8(int(out.Pix[i]) * 3 / 4)
		}
	}
	return Blurred(out, 0.03*p.Dot)
}
