package main

import "math"

// material is how a surface sends light back.
type material struct {
	colour  vec             // of what it scatters, 0 to 1
	pattern func(p vec) vec // varies the colour over the surface; nil: even
	gloss   float64         // reflectance straight on of a rough sheen
	rough   float64         // width of that sheen, 0.1 tight to 1 wide
	mirror  float64         // reflectance straight on of a clear coat
	blur    float64         // how far the coat's normal wavers
	glow    vec             // light of its own
}

func (m *material) at(p vec) vec {
	if m.pattern != nil {
		return m.colour.mul(m.pattern(p))
	}
	return m.colour
}

// stage is everything in front of the camera.
type stage struct {
	things  *tree
	lamps   []lamp
	air     vec  // radiance from where nothing is
	showAll bool // the lamps' own faces are seen by the camera
	strata  int  // strata on each side of a lamp, and of a pixel
}

// sample is one path's place among the strata of its pixel.
type sample struct {
	k    int // which of strata x strata
	hash uint64
	r    *random

	// What the path met first, for the smoothing of noise.
	colour, normal vec
	depth          float64
}

// strides share no factor with any square of strata from 2 to 6 or with 8, so
// that each walks through all the cells.
var strides = [...]uint64{1, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43}

// spot is a place on the unit square for lamp i: each sample of a pixel gets
// its own cell, in another order for each lamp.
func (st *stage) spot(s *sample, i int) (u, v float64) {
	n := st.strata
	shift := random(s.hash + uint64(i)*0x632be59bd9b4e019)
	cell := int((uint64(s.k)*strides[i%len(strides)] + shift.next()>>8) % uint64(n*n))
	return (float64(cell%n) + s.r.unit()) / float64(n), (float64(cell/n) + s.r.unit()) / float64(n)
}

// seen is the radiance along a ray; faces says whether lamps are seen on it.
func (st *stage) seen(o, d vec, s *sample, depth int, faces bool) vec {
	h, ok := st.things.nearest(o, d, math.Inf(1))
	most := math.Inf(1)
	if ok {
		most = h.t
	}
	if faces {
		var lit vec
		found := false
		for i := range st.lamps {
			if t, l, on := st.lamps[i].meets(o, d, most); on {
				most, lit, found = t, l, true
			}
		}
		if found {
			if depth == 0 {
				s.colour, s.depth = grey(1), most
			}
			return lit
		}
	}
	if !ok {
		if depth == 0 {
			s.colour, s.depth = grey(1), 100
		}
		return st.air
	}
	return st.shade(h, d, s, depth)
}

const lift = 2e-4 // how far a ray starts off a surface, m

func (st *stage) shade(h hit, d vec, s *sample, depth int) vec {
	colour := h.of.at(h.at)
	start := h.at.add(h.face.by(lift))
	out := h.of.glow
	if depth == 0 {
		s.colour, s.normal, s.depth = colour, h.n, h.t
		for i := range st.lamps {
			out = out.add(st.direct(&st.lamps[i], i, h, start, d, colour, s))
		}
		n := hemisphere(h.n, s)
		if n.dot(h.face) > 0 {
			out = out.add(colour.mul(st.seen(start, n, s, 1, false)))
		}
	} else {
		const few = 3
		for k := 0; k < few; k++ {
			i := int(s.r.unit() * float64(len(st.lamps)))
			l := st.direct(&st.lamps[i], i, h, start, d, colour, s)
			out = out.add(l.by(float64(len(st.lamps)) / few))
		}
		out = out.add(colour.mul(st.air))
	}
	if h.of.mirror > 0 && depth == 0 {
		n := h.n
		if h.of.blur > 0 {
			n = n.add(hemisphere(h.n, s).sub(h.n).by(h.of.blur * s.r.unit())).unit()
		}
		r := d.sub(n.by(2 * d.dot(n)))
		if r.dot(h.face) > 0 {
			f := fresnel(h.of.mirror, -d.dot(n))
			out = out.by(1 - f).add(st.seen(start, r, s, 1, true).by(f))
		}
	}
	return out
}

// direct is what one lamp adds, from one place on it.
func (st *stage) direct(l *lamp, i int, h hit, start, d, colour vec, s *sample) vec {
	u, v := st.spot(s, i)
	to := l.point(u, v).sub(start)
	r2 := to.dot(to)
	r := math.Sqrt(r2)
	w := to.by(1 / r)
	cosN, cosF, cosL := w.dot(h.n), w.dot(h.face), -w.dot(l.facing)
	if cosN <= 0 || cosF <= 0 || cosL <= 0 {
		return vec{}
	}
	e := l.radiance * l.beam(cosL) * cosL * cosN / r2 * l.size()
	if e <= 0 || st.things.blocked(start, w, r-2*lift) {
		return vec{}
	}
	send := colour.by(1 / math.Pi)
	if h.of.gloss > 0 {
		send = send.add(grey(sheen(h.n, w, d.by(-1), h.of.gloss, h.of.rough)))
	}
	return send.mul(l.tint).by(e)
}

// fresnel is Schlick's rise of reflectance toward grazing.
func fresnel(straight, cos float64) float64 {
	return straight + (1-straight)*math.Pow(1-clamp(cos, 0, 1), 5)
}

// sheen is a rough surface's reflection from w to v (Trowbridge and Reitz, with
// a shadowing term of Schlick's kind).
func sheen(n, w, v vec, straight, rough float64) float64 {
	half := w.add(v).unit()
	nh, nv, nw := n.dot(half), math.Max(1e-3, n.dot(v)), math.Max(1e-3, n.dot(w))
	a2 := rough * rough * rough * rough
	q := nh*nh*(a2-1) + 1
	k := rough * rough / 2
	g := 1 / ((nv*(1-k) + k) * (nw*(1-k) + k))
	return a2 / (math.Pi * q * q) * g / 4 * fresnel(straight, v.dot(half))
}

// hemisphere is a direction about n, cosine spread.
func hemisphere(n vec, s *sample) vec {
	x, y := onDisc(s.r.unit(), s.r.unit())
	a, b := frame(n)
	return a.by(x).add(b.by(y)).add(n.by(math.Sqrt(math.Max(0, 1-x*x-y*y)))).unit()
}
