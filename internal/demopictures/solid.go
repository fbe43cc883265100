package main

import "math"

// solid is a signed distance in metres: negative inside. It need not be exact,
// only right at the surface and near it.
type solid func(p vec) float64

func sphere(c vec, r float64) solid {
	return func(p vec) float64 { return p.sub(c).len() - r }
}

// egg is an ellipsoid with the half axes r.
func egg(c, r vec) solid {
	return func(p vec) float64 {
		q := p.sub(c)
		k0 := vec{q.x / r.x, q.y / r.y, q.z / r.z}.len()
		k1 := vec{q.x / (r.x * r.x), q.y / (r.y * r.y), q.z / (r.z * r.z)}.len()
		if k1 == 0 {
			return -math.Min(r.x, math.Min(r.y, r.z))
		}
		return k0 * (k0 - 1) / k1
	}
}

// limb is a rod from a to b whose radius goes from ra to rb.
func limb(a, b vec, ra, rb float64) solid {
	ab := b.sub(a)
	l2 := ab.dot(ab)
	return func(p vec) float64 {
		t := clamp(p.sub(a).dot(ab)/l2, 0, 1)
		return p.sub(a.add(ab.by(t))).len() - (ra + (rb-ra)*t)
	}
}

// block is a box with half sides h and edges rounded by r.
func block(c, h vec, r float64) solid {
	return func(p vec) float64 {
		q := p.sub(c)
		d := vec{math.Abs(q.x) - h.x + r, math.Abs(q.y) - h.y + r, math.Abs(q.z) - h.z + r}
		out := d.most(vec{}).len()
		return out + math.Min(math.Max(d.x, math.Max(d.y, d.z)), 0) - r
	}
}

// turned is a solid of revolution about the vertical through c. The profile is
// points of radius (x) and height (z) joined by straight lines, from the axis
// back to the axis, outside on the left hand; rounded by r.
func turned(c vec, profile []vec, r float64) solid {
	return func(p vec) float64 {
		q := p.sub(c)
		return polygon(math.Hypot(q.x, q.y), q.z, profile) - r
	}
}

// eased cuts the corners of a profile so often (Chaikin), the ends left alone.
func eased(pts []vec, times int) []vec {
	for ; times > 0; times-- {
		out := []vec{pts[0]}
		for i := 0; i+1 < len(pts); i++ {
			out = append(out, pts[i].to(pts[i+1], 0.25), pts[i].to(pts[i+1], 0.75))
		}
		pts = append(out, pts[len(pts)-1])
	}
	return pts
}

// polygon is the signed distance in the plane of x and z.
func polygon(x, z float64, pts []vec) float64 {
	d := math.Inf(1)
	inside := false
	for i, j := 0, len(pts)-1; i < len(pts); j, i = i, i+1 {
		ax, az, bx, bz := pts[i].x, pts[i].z, pts[j].x, pts[j].z
		ex, ez := bx-ax, bz-az
		wx, wz := x-ax, z-az
		t := 0.0
		if l := ex*ex + ez*ez; l > 0 {
			t = clamp((wx*ex+wz*ez)/l, 0, 1)
		}
		d = math.Min(d, math.Hypot(wx-ex*t, wz-ez*t))
		if (az > z) != (bz > z) && x < (bx-ax)*(z-az)/(bz-az)+ax {
			inside = !inside
		}
	}
	if inside {
		return -d
	}
	return d
}

// all joins solids; where they meet the seam is filled over the width k.
func all(k float64, parts ...solid) solid {
	return func(p vec) float64 {
		d := parts[0](p)
		for _, s := range parts[1:] {
			e := s(p)
			if k <= 0 {
				d = math.Min(d, e)
				continue
			}
			h := math.Max(k-math.Abs(d-e), 0) / k
			d = math.Min(d, e) - h*h*k/4
		}
		return d
	}
}

// without cuts b out of a, the edge rounded over the width k.
func without(k float64, a, b solid) solid {
	return func(p vec) float64 {
		d, e := a(p), -b(p)
		if k <= 0 {
			return math.Max(d, e)
		}
		h := math.Max(k-math.Abs(d-e), 0) / k
		return math.Max(d, e) + h*h*k/4
	}
}

// only is what a and b share.
func only(a, b solid) solid {
	return func(p vec) float64 { return math.Max(a(p), b(p)) }
}

// posed turns a solid about the vertical and moves it.
func posed(a solid, deg float64, at vec) solid {
	return func(p vec) float64 { return a(p.sub(at).turn(-deg)) }
}

// slope is the direction in which the distance grows.
func slope(s solid, p vec, e float64) vec {
	return vec{
		s(vec{p.x + e, p.y, p.z}) - s(vec{p.x - e, p.y, p.z}),
		s(vec{p.x, p.y + e, p.z}) - s(vec{p.x, p.y - e, p.z}),
		s(vec{p.x, p.y, p.z + e}) - s(vec{p.x, p.y, p.z - e}),
	}.unit()
}
