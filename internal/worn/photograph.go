package worn

import (
	"image"
	"math"
)

// any is a number between two.
func (p *Page) any(least, most float64) float64 { return least + (most-least)*p.rand.Float64() }

// Photographed is a page in a photograph, so many pixels high before it is turned: tilted
// by 5 to 20 degrees, turned by up to 12, its light falling off to one side by up to a
// half and to the corners, out of focus by a pixel, noise of 2 %, JPEG at 80.
func (p *Page) Photographed(g *image.Gray, high int) *image.Gray {
	scale := float64(high) / (1.12 * float64(g.Rect.Dy()))
	out := Tilted(g, p.any(5, 20), p.any(0, 360), scale)
	out = Turned(out, p.any(-12, 12))
	w, h := float64(out.Rect.Dx()), float64(out.Rect.Dy())
	s, c := math.Sincos(p.any(0, 2*math.Pi))
	fall := p.any(0.2, 0.5)
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			u, v := float64(x)/w-0.5, float64(y)/h-0.5
			light := 0.9 * (1 - fall*(0.5+u*c+v*s)) * (1 - 0.3*(u*u+v*v))
			i := y*out.Stride + x
			out.Pix[i] = level(12 + light*float64(out.Pix[i])*0.9)
		}
	}
	return Packed(p.Noisy(Blurred(out, 1), 0.02), 80)
}

// Curled is a page that bulges towards the camera along a line across it by up to 12 mm:
// what is near looks larger, and what slopes is shaded.
func (p *Page) Curled(g *image.Gray) *image.Gray {
	w, h := float64(g.Rect.Dx()), float64(g.Rect.Dy())
	s, c := math.Sincos(p.any(0, math.Pi))
	length, phase := p.any(90, 160)*p.Dot, p.any(0, 2*math.Pi)
	const bulge, away = 12, 300 // mm
	out := warped(g, int(w), int(h), func(x, y float64) (float64, float64) {
		x, y = x-w/2, y-h/2
		z := bulge / 2 * (1 + math.Sin((x*c+y*s)/length*2*math.Pi+phase))
		k := 1 - z/away
		return x*k + w/2, y*k + h/2
	})
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			i := y*out.Stride + x
			slope := math.Cos(((float64(x)-w/2)*c+(float64(y)-h/2)*s)/length*2*math.Pi + phase)
			out.Pix[i] = level(float64(out.Pix[i]) * (0.88 + 0.12*slope))
		}
	}
	return out
}

// Crumpled is a page that was a ball and is smoothed out: eighteen folds across it from
// side to side, along each of which it leans by up to 25 degrees within 6 mm (a cosine of
// 0.906) and one side is darker.
func (p *Page) Crumpled(g *image.Gray) *image.Gray {
	type fold struct{ x, y, s, c, lean, shade float64 }
	folds := make([]fold, 18)
	w, h := float64(g.Rect.Dx()), float64(g.Rect.Dy())
	for i := range folds {
		s, c := math.Sincos(p.any(0, 2*math.Pi))
		folds[i] = fold{p.any(0, w), p.any(0, h), s, c, p.any(0.02, 0.094), p.any(0.03, 0.15)}
	}
	reach := 6 * p.Dot
	out := warped(g, int(w), int(h), func(x, y float64) (float64, float64) {
		fx, fy := x, y
		for _, f := range folds {
			d := (x-f.x)*f.s - (y-f.y)*f.c
			by := f.lean * reach / 2 * math.Copysign(1-math.Exp(-2*math.Abs(d)/reach), d)
			fx, fy = fx+by*f.s, fy-by*f.c
		}
		return fx, fy
	})
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			light := 1.0
			for _, f := range folds {
				if d := (float64(x)-f.x)*f.s - (float64(y)-f.y)*f.c; d > 0 && d < 3*reach {
					light *= 1 - f.shade*math.Exp(-d/reach*2)
				}
			}
			i := y*out.Stride + x
			out.Pix[i] = level(float64(out.Pix[i]) * light)
		}
	}
	return out
}
