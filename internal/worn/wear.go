package worn

import (
	"bytes"
	"image"
	"image/jpeg"
	"math"
)

// Clean is a page as it was drawn.
func (p *Page) Clean() *image.Gray { return copied(p.Gray) }

func copied(g *image.Gray) *image.Gray {
	out := image.NewGray(g.Rect)
	copy(out.Pix, g.Pix)
	return out
}

// at is the grey at a place in pixels, the middle of the first being 0.5; outside it is
// that of a table.
func at(g *image.Gray, x, y float64) float64 {
	const table = 120
	x, y = x-0.5, y-0.5
	ix, iy := math.Floor(x), math.Floor(y)
	fx, fy := x-ix, y-iy
	pix := func(x, y int) float64 {
		if x < 0 || y < 0 || x >= g.Rect.Dx() || y >= g.Rect.Dy() {
			return table
		}
		return float64(g.Pix[y*g.Stride+x])
	}
	i, j := int(ix), int(iy)
	return (pix(i, j)*(1-fx)+pix(i+1, j)*fx)*(1-fy) + (pix(i, j+1)*(1-fx)+pix(i+1, j+1)*fx)*fy
}

// warped is a picture of w x h pixels, each from where from says.
func warped(g *image.Gray, w, h int, from func(x, y float64) (float64, float64)) *image.Gray {
	out := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			sx, sy := from(float64(x)+0.5, float64(y)+0.5)
			out.Pix[y*out.Stride+x] = level(at(g, sx, sy))
		}
	}
	return out
}

func level(v float64) uint8 { return uint8(min(max(v+0.5, 0), 255)) }

// Turned turns a page by degrees around its middle.
func Turned(g *image.Gray, degrees float64) *image.Gray {
	s, c := math.Sincos(degrees * math.Pi / 180)
	w, h := float64(g.Rect.Dx()), float64(g.Rect.Dy())
	nw, nh := w*math.Abs(c)+h*math.Abs(s), w*math.Abs(s)+h*math.Abs(c)
	return warped(g, int(nw), int(nh), func(x, y float64) (float64, float64) {
		x, y = x-nw/2, y-nh/2
		return x*c + y*s + w/2, y*c - x*s + h/2
	})
}

// Tilted is a page seen by a camera whose axis leans by degrees from the page's, to a
// side that turn gives, from 1.4 times the page's height away; scale is how many pixels one
// of the page becomes in the middle.
func Tilted(g *image.Gray, degrees, turn, scale float64) *image.Gray {
	w, h := float64(g.Rect.Dx()), float64(g.Rect.Dy())
	s, c := math.Sincos(degrees * math.Pi / 180)
	ts, tc := math.Sincos(turn * math.Pi / 180)
	d := 1.4 * h
	nw, nh := int(w*1.12*scale), int(h*1.12*scale)
	return warped(g, nw, nh, func(x, y float64) (float64, float64) {
		// A ray through the pixel, met with the page's plane, which is turned
		// around an axis in it.
		x, y = (x-float64(nw)/2)/scale, (y-float64(nh)/2)/scale
		a, b := x*tc+y*ts, y*tc-x*ts // b is across the axis
		k := d / (d*c - b*s)
		pa, pb := a*k*c, b*k
		return pa*tc - pb*ts + w/2, pb*tc + pa*ts + h/2
	})
}

// Blurred is out of focus: a Gaussian of so many pixels.
func Blurred(g *image.Gray, sigma float64) *image.Gray {
	r := int(math.Ceil(3 * sigma))
	kernel := make([]float64, 2*r+1)
	sum := 0.0
	for i := range kernel {
		kernel[i] = math.Exp(-float64((i-r)*(i-r)) / (2 * sigma * sigma))
		sum += kernel[i]
	}
	w, h := g.Rect.Dx(), g.Rect.Dy()
	mid := make([]float64, w*h)
	for y := range h {
		for x := range w {
			v := 0.0
			for i, k := range kernel {
				v += k * float64(g.Pix[y*g.Stride+min(max(x+i-r, 0), w-1)])
			}
			mid[y*w+x] = v / sum
		}
	}
	out := image.NewGray(g.Rect)
	for y := range h {
		for x := range w {
			v := 0.0
			for i, k := range kernel {
				v += k * mid[min(max(y+i-r, 0), h-1)*w+x]
			}
			out.Pix[y*out.Stride+x] = level(v / sum)
		}
	}
	return out
}

// Noisy adds Gaussian noise of a share of the range from black to white.
func (p *Page) Noisy(g *image.Gray, share float64) *image.Gray {
	out := copied(g)
	for i, v := range out.Pix {
		out.Pix[i] = level(float64(v) + 255*share*p.rand.NormFloat64())
	}
	return out
}

// Packed is a JPEG of a quality, read again.
func Packed(g *image.Gray, quality int) *image.Gray {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, g, &jpeg.Options{Quality: quality}); err != nil {
		panic(err)
	}
	img, err := jpeg.Decode(&b)
	if err != nil {
		panic(err)
	}
	out := image.NewGray(g.Rect) // without the decoder's margin
	for y := range g.Rect.Dy() {
		copy(out.Pix[y*out.Stride:(y+1)*out.Stride], img.(*image.Gray).Pix[y*img.(*image.Gray).Stride:])
	}
	return out
}
