package main

import (
	"math"
	"runtime"
	"sync"
)

// film is a picture in linear light, row by row from the top left, with what
// each pixel saw first.
type film struct {
	width, height int
	px            []cell
}

// cell is one pixel: the mean of its samples.
type cell struct {
	light  vec
	colour vec     // of the surface
	normal vec     // of the surface
	depth  float64 // m from the lens
	spread float64 // variance of the mean, of the luminance
}

// kernel is a B-spline in five taps.
var kernel = [5]float64{1.0 / 16, 4.0 / 16, 6.0 / 16, 4.0 / 16, 1.0 / 16}

// calm smooths what is left of the noise: each pixel is averaged with
// neighbours of the same surface, way and depth whose light differs by no more
// than the noise explains, over wider and wider steps. Light is taken apart
// from the surface's own colour, so that patterns stay.
func (f *film) calm(passes int) {
	const floor = 0.02
	for i := range f.px {
		c := &f.px[i]
		base := c.colour.add(grey(floor))
		c.light = vec{c.light.x / base.x, c.light.y / base.y, c.light.z / base.z}
		k := base.luminance()
		c.spread /= k * k
	}
	from, to := f.px, make([]cell, len(f.px))
	for pass := 0; pass < passes; pass++ {
		f.pass(from, to, 1<<pass)
		from, to = to, from
	}
	f.px = from
	for i := range f.px {
		c := &f.px[i]
		c.light = c.light.mul(c.colour.add(grey(floor)))
	}
}

func (f *film) pass(from, to []cell, step int) {
	var wait sync.WaitGroup
	workers := runtime.GOMAXPROCS(0)
	for w := 0; w < workers; w++ {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for y := w; y < f.height; y += workers {
				for x := 0; x < f.width; x++ {
					to[y*f.width+x] = f.average(from, x, y, step)
				}
			}
		}()
	}
	wait.Wait()
}

func (f *film) average(from []cell, x, y, step int) cell {
	c := from[y*f.width+x]
	var sum vec
	var weight, spread float64
	for j := -2; j <= 2; j++ {
		for i := -2; i <= 2; i++ {
			u, v := x+i*step, y+j*step
			if u < 0 || v < 0 || u >= f.width || v >= f.height {
				continue
			}
			q := &from[v*f.width+u]
			k := kernel[i+2] * kernel[j+2] * alike(&c, q)
			sum = sum.add(q.light.by(k))
			weight += k
			spread += k * k * q.spread
		}
	}
	c.light = sum.by(1 / weight)
	c.spread = spread / (weight * weight)
	return c
}

// alike is 1 for the same place and way, near 0 for another surface or for
// light that differs by more than three times the noise.
func alike(a, b *cell) float64 {
	dc := a.colour.sub(b.colour)
	dn := a.normal.sub(b.normal)
	dz := (a.depth - b.depth) / (0.02*a.depth + 1e-6)
	dl := a.light.sub(b.light).luminance()
	noise := 3*math.Sqrt(math.Max(a.spread, b.spread)) + 1e-4
	return math.Exp(-dc.dot(dc)*60 - dn.dot(dn)*12 - dz*dz - dl*dl/(noise*noise))
}
