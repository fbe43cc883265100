package main

import (
	"image"
	"math"
	"runtime"
	"sync"
)

// view is a camera: where its lens is, which way it looks, and what lies at the
// edges of the frame.
type view struct {
	eye           vec
	forward       vec
	right, up     vec
	focus         float64 // m, to the plane that is sharp
	halfW, halfH  float64 // m, half the frame at that plane
	lens          float64 // m, radius of the aperture; 0: all is sharp
	width, height int     // pixels
	exposure      float64 // radiance to picture: pi for a key read and set alike
	strata        int
}

// look points a camera at a target with the given width of view, degrees.
func look(eye, target vec, wideDeg float64, width, height int) view {
	f := target.sub(eye)
	v := view{eye: eye, forward: f.unit(), focus: f.len(), width: width, height: height}
	v.up = vec{0, 0, 1}.sub(v.forward.by(v.forward.z)).unit()
	v.right = v.forward.cross(v.up).by(-1) // these axes are left-handed
	v.halfW = v.focus * math.Tan(wideDeg*math.Pi/360)
	v.halfH = v.halfW * float64(height) / float64(width)
	return v
}

// expose draws the stage. The picture is the same however many processors draw
// it.
func (v *view) expose(st *stage) *film {
	st.strata = v.strata
	f := &film{v.width, v.height, make([]cell, v.width*v.height)}
	rows := make(chan int)
	var wait sync.WaitGroup
	for i := 0; i < runtime.GOMAXPROCS(0); i++ {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for y := range rows {
				for x := 0; x < v.width; x++ {
					f.px[y*v.width+x] = v.pixel(st, x, y)
				}
			}
		}()
	}
	for y := 0; y < v.height; y++ {
		rows <- y
	}
	close(rows)
	wait.Wait()
	return f
}

// picture draws the stage and calms its noise.
func (v *view) picture(st *stage) *image.RGBA {
	f := v.expose(st)
	f.calm(3)
	return f.print()
}

// mostSample bounds one path, so that a lamp's glint is a highlight and not a
// speck.
const mostSample = 6.0

func (v *view) pixel(st *stage, x, y int) cell {
	seed := random(uint64(y)<<32 | uint64(x))
	hash := seed.next()
	r := random(hash)
	n := v.strata
	var out cell
	var square vec
	for k := 0; k < n*n; k++ {
		s := &sample{k: k, hash: hash, r: &r}
		px := float64(x) + (float64(k%n)+r.unit())/float64(n)
		py := float64(y) + (float64(k/n)+r.unit())/float64(n)
		o, d := v.ray(px, py, &r)
		c := st.seen(o, d, s, 0, st.showAll).by(v.exposure)
		if m := math.Max(c.x, math.Max(c.y, c.z)); m > mostSample {
			c = c.by(mostSample / m)
		}
		out.light = out.light.add(c)
		square = square.add(c.mul(c))
		out.colour = out.colour.add(s.colour)
		out.normal = out.normal.add(s.normal)
		out.depth += s.depth
	}
	k := 1 / float64(n*n)
	out.light, out.colour, out.normal, out.depth = out.light.by(k), out.colour.by(k), out.normal.by(k), out.depth*k
	spread := square.by(k).sub(out.light.mul(out.light)).by(k)
	out.spread = math.Max(0, spread.luminance())
	return out
}

// ray starts on the lens and passes the place of the pixel in the sharp plane.
func (v *view) ray(px, py float64, r *random) (o, d vec) {
	x := (2*px/float64(v.width) - 1) * v.halfW
	y := (1 - 2*py/float64(v.height)) * v.halfH
	target := v.eye.add(v.forward.by(v.focus)).add(v.right.by(x)).add(v.up.by(y))
	o = v.eye
	if v.lens > 0 {
		a, b := onDisc(r.unit(), r.unit())
		o = o.add(v.right.by(a * v.lens)).add(v.up.by(b * v.lens))
	}
	return o, target.sub(o).unit()
}
