package raster

import (
	"math"

	"stopleaf/layout"
	"stopleaf/render/internal/paper"
)

// point is a place in pixels, the centre of the first one at 0.5, 0.5.
type point struct{ x, y float64 }

// mul is a product rounded by itself: a processor that fuses it with a sum
// would give another picture than one that does not.
func mul(a, b float64) float64 { return float64(a * b) }

func add(a, b point) point                { return point{a.x + b.x, a.y + b.y} }
func sub(a, b point) point                { return point{a.x - b.x, a.y - b.y} }
func times(a point, k float64) point      { return point{mul(a.x, k), mul(a.y, k)} }
func dot(a, b point) float64              { return mul(a.x, b.x) + mul(a.y, b.y) }
func cross(a, b point) float64            { return mul(a.x, b.y) - mul(a.y, b.x) }
func length(a point) float64              { return math.Sqrt(dot(a, a)) }
func between(a, b point, t float64) point { return point{a.x + mul(t, b.x-a.x), a.y + mul(t, b.y-a.y)} }

// line is a run of points; closed joins the last to the first.
type line struct {
	points []point
	closed bool
}

// shape is closed contours to be filled together, by the non-zero rule.
type shape struct {
	points []point
	ends   []int // one past the last point of each contour
}

func (s *shape) reset() { s.points, s.ends = s.points[:0], s.ends[:0] }

func (s *shape) contour(points ...point) {
	s.points = append(s.points, points...)
	s.ends = append(s.ends, len(s.points))
}

// flatness is how far a chord may lie off its curve, in pixels.
const flatness = 0.05

// chords is how many chords come that near to a curve whose second derivative
// is nowhere greater than bend.
func chords(bend float64) int {
	const most = 1000
	n := math.Ceil(math.Sqrt(bend / (8 * flatness)))
	return int(max(1, min(n, most)))
}

// quad appends the chords of a quadratic curve without its first point.
func quad(out []point, a, b, c point) []point {
	n := chords(2 * length(add(sub(a, times(b, 2)), c)))
	for i := 1; i < n; i++ {
		t := float64(i) / float64(n)
		out = append(out, between(between(a, b, t), between(b, c, t), t))
	}
	return append(out, c)
}

// cubic appends the chords of a cubic curve without its first point.
func cubic(out []point, a, b, c, d point) []point {
	n := chords(6 * max(length(add(sub(a, times(b, 2)), c)), length(add(sub(b, times(c, 2)), d))))
	for i := 1; i < n; i++ {
		t := float64(i) / float64(n)
		ab, bc, cd := between(a, b, t), between(b, c, t), between(c, d, t)
		out = append(out, between(between(ab, bc, t), between(bc, cd, t), t))
	}
	return append(out, d)
}

// lines flattens a path. What follows a Close goes on from where its run began.
func (c *canvas) lines(segs []layout.Seg) []line {
	var out []line
	var now []point
	end := func(closed bool) {
		if len(now) > 0 {
			out = append(out, line{now, closed})
		}
		now = nil
	}
	var start point
	for _, s := range segs {
		var p [3]point
		for i, at := range s.P[:paper.Points(s.Kind)] {
			p[i] = c.at(at.X, at.Y)
		}
		switch s.Kind {
		case layout.MoveTo:
			end(false)
			now, start = []point{p[0]}, p[0]
			continue
		case layout.Close:
			end(true)
			continue
		}
		if len(now) == 0 {
			now = []point{start}
		}
		if s.Kind == layout.LineTo {
			now = append(now, p[0])
		} else {
			now = cubic(now, now[len(now)-1], p[0], p[1], p[2])
		}
	}
	end(false)
	return out
}
