package main

import "math"

// vec is a point or direction in metres, or a colour in linear red, green and
// blue. X right as the camera sees it, Y toward the camera, Z up.
type vec struct{ x, y, z float64 }

func (a vec) add(b vec) vec           { return vec{a.x + b.x, a.y + b.y, a.z + b.z} }
func (a vec) sub(b vec) vec           { return vec{a.x - b.x, a.y - b.y, a.z - b.z} }
func (a vec) mul(b vec) vec           { return vec{a.x * b.x, a.y * b.y, a.z * b.z} }
func (a vec) by(k float64) vec        { return vec{a.x * k, a.y * k, a.z * k} }
func (a vec) dot(b vec) float64       { return a.x*b.x + a.y*b.y + a.z*b.z }
func (a vec) len() float64            { return math.Sqrt(a.dot(a)) }
func (a vec) to(b vec, t float64) vec { return a.by(1 - t).add(b.by(t)) }

func (a vec) cross(b vec) vec {
	return vec{a.y*b.z - a.z*b.y, a.z*b.x - a.x*b.z, a.x*b.y - a.y*b.x}
}

// unit is the direction of a, or up for no direction at all.
func (a vec) unit() vec {
	if l := a.len(); l > 0 {
		return a.by(1 / l)
	}
	return vec{0, 0, 1}
}

// least and most are taken component by component.
func (a vec) least(b vec) vec {
	if b.x < a.x {
		a.x = b.x
	}
	if b.y < a.y {
		a.y = b.y
	}
	if b.z < a.z {
		a.z = b.z
	}
	return a
}

func (a vec) most(b vec) vec {
	if b.x > a.x {
		a.x = b.x
	}
	if b.y > a.y {
		a.y = b.y
	}
	if b.z > a.z {
		a.z = b.z
	}
	return a
}

// turn rotates about the vertical through the origin, degrees, so that what
// faced the camera faces camera right for a positive angle.
func (a vec) turn(deg float64) vec {
	s, c := math.Sincos(deg * math.Pi / 180)
	return vec{a.x*c + a.y*s, a.y*c - a.x*s, a.z}
}

// frame gives two directions square to n and to each other: across is level,
// up is the nearest to upward.
func frame(n vec) (across, up vec) {
	across = vec{-n.y, n.x, 0}
	if across.len() < 1e-6 {
		across = vec{1, 0, 0}
	}
	across = across.unit()
	return across, n.cross(across).by(1)
}

// luminance weighs linear sRGB as ITU-R BT.709 does.
func (a vec) luminance() float64 { return 0.2126*a.x + 0.7152*a.y + 0.0722*a.z }

func grey(v float64) vec { return vec{v, v, v} }

func clamp(v, lo, hi float64) float64 {
	if v < lo {
		return lo
	}
	if v > hi {
		return hi
	}
	return v
}

// smooth rises from 0 at a to 1 at b without corners.
func smooth(a, b, v float64) float64 {
	t := clamp((v-a)/(b-a), 0, 1)
	return t * t * (3 - 2*t)
}

// random is a small generator, one per pixel, so that the picture does not
// depend on which processor drew it (splitmix64).
type random uint64

func (r *random) next() uint64 {
	*r += 0x9e3779b97f4a7c15
	z := uint64(*r)
	z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9
	z = (z ^ (z >> 27)) * 0x94d049bb133111eb
	return z ^ (z >> 31)
}

// unit is evenly spread from 0 up to 1.
func (r *random) unit() float64 { return float64(r.next()>>11) / (1 << 53) }

// noise is smooth value noise from 0 to 1, one unit to a feature.
func noise(p vec) float64 {
	xi, yi, zi := math.Floor(p.x), math.Floor(p.y), math.Floor(p.z)
	fx, fy, fz := p.x-xi, p.y-yi, p.z-zi
	fx, fy, fz = fx*fx*(3-2*fx), fy*fy*(3-2*fy), fz*fz*(3-2*fz)
	corner := func(dx, dy, dz float64) float64 {
		r := random(uint64(int64(xi+dx))*0x8da6b343 ^ uint64(int64(yi+dy))*0xd8163841 ^ uint64(int64(zi+dz))*0xcb1ab31f)
		return r.unit()
	}
	mix := func(a, b, t float64) float64 { return a + (b-a)*t }
	return mix(
		mix(mix(corner(0, 0, 0), corner(1, 0, 0), fx), mix(corner(0, 1, 0), corner(1, 1, 0), fx), fy),
		mix(mix(corner(0, 0, 1), corner(1, 0, 1), fx), mix(corner(0, 1, 1), corner(1, 1, 1), fx), fy), fz)
}

// mottle is four octaves of noise, 0 to 1.
func mottle(p vec) float64 {
	sum, amp, all := 0.0, 1.0, 0.0
	for i := 0; i < 4; i++ {
		sum += amp * noise(p)
		all += amp
		amp *= 0.5
		p = p.by(2.03).add(vec{17.1, 3.7, 9.2})
	}
	return sum / all
}
