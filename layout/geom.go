package layout

import (
	"cmp"
	"math"
	"slices"
)

// segment is a straight piece of ink with half its width, micrometres.
type segment struct {
	a, b Point
	half Um
}

// flatten gives a path's outline as straight pieces. Cubics are cut in eight,
// which is within 2 µm for a 10 mm circle.
func flatten(p *Path) []segment {
	var out []segment
	var start, at Point
	half := p.Stroke.Width / 2
	to := func(q Point) {
		out = append(out, segment{at, q, half})
		at = q
	}
	for _, s := range p.Segs {
		switch s.Kind {
		case MoveTo:
			start, at = s.P[0], s.P[0]
		case LineTo:
			to(s.P[0])
		case CubicTo:
			from := at
			for i := 1; i <= 8; i++ {
				to(cubicAt(from, s.P, float64(i)/8))
			}
		case Close:
			if at != start {
				to(start)
			}
		}
	}
	return out
}

func cubicAt(a Point, p [3]Point, t float64) Point {
	u := 1 - t
	f := func(a, b, c, d Um) Um {
		return Um(math.Round(float64(u*u*u*float64(a)) + float64(3*u*u*t*float64(b)) + float64(3*u*t*t*float64(c)) + float64(t*t*t*float64(d))))
	}
	return Point{f(a.X, p[0].X, p[1].X, p[2].X), f(a.Y, p[0].Y, p[1].Y, p[2].Y)}
}

// bounds is the box around points; ok is false without any.
func bounds(pts []Point) (r Rect, ok bool) {
	if len(pts) == 0 {
		return Rect{}, false
	}
	x0, y0, x1, y1 := pts[0].X, pts[0].Y, pts[0].X, pts[0].Y
	for _, p := range pts[1:] {
		x0, y0 = min(x0, p.X), min(y0, p.Y)
		x1, y1 = max(x1, p.X), max(y1, p.Y)
	}
	return Rect{x0, y0, x1 - x0, y1 - y0}, true
}

// grow widens a box by d on every side.
func (r Rect) grow(d Um) Rect { return Rect{r.X - d, r.Y - d, r.W + 2*d, r.H + 2*d} }

func (r Rect) right() Um  { return r.X + r.W }
func (r Rect) bottom() Um { return r.Y + r.H }

// overlaps reports whether two boxes share an area.
func (r Rect) overlaps(o Rect) bool {
	return r.X < o.right() && o.X < r.right() && r.Y < o.bottom() && o.Y < r.bottom()
}

// contains reports whether o lies wholly inside r.
func (r Rect) contains(o Rect) bool {
	return o.X >= r.X && o.Y >= r.Y && o.right() <= r.right() && o.bottom() <= r.bottom()
}

func (r Rect) has(p Point) bool {
	return p.X >= r.X && p.X <= r.right() && p.Y >= r.Y && p.Y <= r.bottom()
}

func (r Rect) mid() Point { return Point{r.X + r.W/2, r.Y + r.H/2} }

// hits reports whether a straight piece of ink touches a box.
func (s segment) hits(r Rect) bool {
	_, _, ok := clip(s.a, s.b, r.grow(s.half))
	return ok
}

// clip cuts the line a-b to a box (Liang-Barsky); ok is false when none of it
// lies inside.
func clip(a, b Point, r Rect) (Point, Point, bool) {
	t0, t1 := 0.0, 1.0
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	for _, e := range [4][2]float64{
		{-dx, float64(a.X - r.X)}, {dx, float64(r.right() - a.X)},
		{-dy, float64(a.Y - r.Y)}, {dy, float64(r.bottom() - a.Y)},
	} {
		p, q := e[0], e[1]
		if p == 0 {
			if q < 0 {
				return a, b, false
			}
			continue
		}
		t := q / p
		if p < 0 {
			t0 = max(t0, t)
		} else {
			t1 = min(t1, t)
		}
	}
	if t0 > t1 {
		return a, b, false
	}
	at := func(t float64) Point {
		return Point{a.X + Um(math.Round(t*dx)), a.Y + Um(math.Round(t*dy))}
	}
	return at(t0), at(t1), true
}

// crosses reports whether two lines meet anywhere but within 10 µm of an end
// they share.
func crosses(a, b, c, d Point) bool {
	near := func(p, q Point) bool { return abs(p.X-q.X) <= 10 && abs(p.Y-q.Y) <= 10 }
	if near(a, c) || near(a, d) || near(b, c) || near(b, d) {
		return false
	}
	side := func(p, q, r Point) float64 {
		return float64(q.X-p.X)*float64(r.Y-p.Y) - float64(q.Y-p.Y)*float64(r.X-p.X)
	}
	s1, s2 := side(a, b, c), side(a, b, d)
	s3, s4 := side(c, d, a), side(c, d, b)
	return s1*s2 <= 0 && s3*s4 <= 0 && (s1 != 0 || s2 != 0)
}

func abs[T ~int64 | ~float64](v T) T {
	if v < 0 {
		return -v
	}
	return v
}

// hull is the convex hull of points, counter-clockwise from the lowest left
// (Andrew's monotone chain).
func hull(pts []Point) []Point {
	pts = slices.Clone(pts)
	sortPoints(pts)
	if len(pts) < 3 {
		return pts
	}
	cross := func(o, a, b Point) int64 {
		return int64(a.X-o.X)*int64(b.Y-o.Y) - int64(a.Y-o.Y)*int64(b.X-o.X)
	}
	out := make([]Point, 0, len(pts)+1)
	for pass := 0; pass < 2; pass++ {
		base := len(out)
		for _, p := range pts {
			for len(out) >= base+2 && cross(out[len(out)-2], out[len(out)-1], p) <= 0 {
				out = out[:len(out)-1]
			}
			out = append(out, p)
		}
		out = out[:len(out)-1]
		for i, j := 0, len(pts)-1; i < j; i, j = i+1, j-1 {
			pts[i], pts[j] = pts[j], pts[i]
		}
	}
	return out
}

func sortPoints(pts []Point) {
	slices.SortFunc(pts, func(a, b Point) int {
		if c := cmp.Compare(a.X, b.X); c != 0 {
			return c
		}
		return cmp.Compare(a.Y, b.Y)
	})
}
