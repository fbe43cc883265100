package main

import "math"

// lamp is one light as a surface that shines: a rectangle or a disc. Its
// radiance is scaled so that a meter at the aim point reads its difference from
// the key.
type lamp struct {
	name       string
	number     int
	at         vec // centre of what shines
	facing     vec
	across, up vec     // the sides' directions
	halfW      float64 // m; a disc's radius
	halfH      float64 // m; a disc's radius
	disc       bool
	gridTan    float64 // tangent of the angle at which a grid shuts; 0 none
	inner      float64 // cosines between which a reflector's or lens' beam
	outer      float64 // falls off; outer 0: an even panel
	tint       vec     // colour, luminance 1
	radiance   float64 // straight ahead; irradiance of the key alone is 1

	aim    vec     // where it is metered
	toward vec     // which way the dome looks there; zero: at the lamp
	delta  float64 // stops from the key
}

// beam is the part of the radiance that leaves at an angle of that cosine.
func (l *lamp) beam(cos float64) float64 {
	if cos <= 0 {
		return 0
	}
	w := 1.0
	if l.gridTan > 0 {
		w = math.Max(0, 1-math.Sqrt(math.Max(0, 1-cos*cos))/cos/l.gridTan)
	}
	if l.outer > 0 {
		w *= smooth(l.outer, l.inner, cos)
	}
	return w
}

// point is a place on the surface for two numbers from 0 to 1, evenly spread.
func (l *lamp) point(u, v float64) vec {
	x, y := 2*u-1, 2*v-1
	if l.disc {
		x, y = onDisc(u, v)
	}
	return l.at.add(l.across.by(x * l.halfW)).add(l.up.by(y * l.halfH))
}

// onDisc maps the square on the unit disc, keeping areas and neighbours.
func onDisc(u, v float64) (x, y float64) {
	a, b := 2*u-1, 2*v-1
	switch {
	case a == 0 && b == 0:
		return 0, 0
	case a*a > b*b:
		s, c := math.Sincos(math.Pi / 4 * b / a)
		return a * c, a * s
	default:
		s, c := math.Sincos(math.Pi/2 - math.Pi/4*a/b)
		return b * c, b * s
	}
}

// size is its area, m2.
func (l *lamp) size() float64 {
	if l.disc {
		return math.Pi * l.halfW * l.halfH
	}
	return 4 * l.halfW * l.halfH
}

// falls is the irradiance at p on a surface looking along n from the whole
// lamp at radiance 1, nothing in the way, by a fine even grid.
func (l *lamp) falls(p, n vec) float64 {
	const steps = 128
	sum := 0.0
	for i := 0; i < steps; i++ {
		for j := 0; j < steps; j++ {
			d := l.point((float64(i)+0.5)/steps, (float64(j)+0.5)/steps).sub(p)
			r2 := d.dot(d)
			w := d.by(1 / math.Sqrt(r2))
			cos := -w.dot(l.facing)
			sum += l.beam(cos) * cos * math.Max(0, w.dot(n)) / r2
		}
	}
	return sum * l.size() / (steps * steps)
}

// dome is the weight of a meter whose dome looks along toward, for light from
// the direction of the lamp: 1 at it, half from the side.
func (l *lamp) dome() float64 {
	if l.toward == (vec{}) {
		return 1
	}
	return (1 + l.toward.dot(l.at.sub(l.aim).unit())) / 2
}

// balance sets the radiance by the difference: what the meter reads at the aim
// point is 2^delta times the key's 1.
func (l *lamp) balance() {
	e := l.falls(l.aim, l.at.sub(l.aim).unit()) * l.dome()
	if e <= 0 {
		return
	}
	l.radiance = math.Exp2(l.delta) / e
}

// meets is where a ray meets the lamp, and the radiance that comes back along
// it: black from behind.
func (l *lamp) meets(o, d vec, most float64) (t float64, out vec, ok bool) {
	cos := -d.dot(l.facing)
	if math.Abs(cos) < 1e-9 {
		return 0, vec{}, false
	}
	t = o.sub(l.at).dot(l.facing) / cos
	if t < 1e-6 || t >= most {
		return 0, vec{}, false
	}
	q := o.add(d.by(t)).sub(l.at)
	x, y := q.dot(l.across)/l.halfW, q.dot(l.up)/l.halfH
	if l.disc && x*x+y*y > 1 || math.Abs(x) > 1 || math.Abs(y) > 1 {
		return 0, vec{}, false
	}
	return t, l.tint.by(l.radiance * l.beam(cos)), true
}

// warmth is the colour of a gel by its shift in mired, on light of the camera's
// own white: by Wien's law, as seen at 600, 550 and 450 nm, luminance 1.
func warmth(mired float64) vec {
	const c2 = 1.4388e4 // second radiation constant, µm K
	at := func(um float64) float64 { return math.Exp(-c2 / um * mired * 1e-6) }
	c := vec{at(0.600) / at(0.550), 1, at(0.450) / at(0.550)}
	return c.by(1 / c.luminance())
}
