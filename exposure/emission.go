package exposure

import "math"

// lensFar is the distance, in sizes of the source, from which a fresnel or an
// optical spot is taken to follow the inverse square: the five-times rule of
// photometry (Illuminating Engineering Society, definition 9.1.1).
const lensFar = 5

// Emission is the light that falls at the distance d (m) on the axis of an
// evenly shining source, on a surface that faces it. Only its ratios at two
// distances from one source mean anything. ok is false where it cannot be
// known: no shape, no size for a shape that needs one, a fresnel or spot
// without a size or closer than five times it, no distance.
//
//   - rectangle w by h: four times the corner view factor of its half sides
//     (Howell, catalogue of view factors, B-3)
//   - disc of diameter w: r²/(r²+d²) (the same catalogue, on-axis disc)
//   - hard: 1/d²
func Emission(shape Shape, w, h *float64, d float64) (e float64, ok bool) {
	if !(d > 0) || math.IsInf(d, 0) {
		return 0, false
	}
	switch shape {
	case Rectangle:
		if !positive(w) || !positive(h) {
			return 0, false
		}
		return 4 * CornerFactor(*w/2, *h/2, d), true
	case Disc:
		if !positive(w) {
			return 0, false
		}
		r := *w / 2
		return r * r / (r*r + d*d), true
	case Hard:
		return 1 / (d * d), true
	case Lens:
		if !positive(w) || d < lensFar*longest(w, h) {
			return 0, false
		}
		return 1 / (d * d), true
	}
	return 0, false
}

// CornerFactor is the view factor from a small surface to an evenly shining
// rectangle a by b parallel to it at the distance c, whose corner lies on the
// surface's normal (Howell B-3).
func CornerFactor(a, b, c float64) float64 {
	x, y := a/c, b/c
	rx, ry := math.Sqrt(1+x*x), math.Sqrt(1+y*y)
	return (x/rx*math.Atan(y/rx) + y/ry*math.Atan(x/ry)) / (2 * math.Pi)
}

// stopsBetween is log2 E(from) - log2 E(to) of a light: how much darker it is
// at the distance to than at from, both m.
func (l *Light) stopsBetween(from, to float64) (stops float64, ok bool) {
	a, okA := Emission(l.Shape, l.Width, l.Height, from)
	b, okB := Emission(l.Shape, l.Width, l.Height, to)
	if !okA || !okB || !(a > 0) || !(b > 0) {
		return 0, false
	}
	return math.Log2(a) - math.Log2(b), true
}

// driftStops is the change that a drift is measured by.
const driftStops = 0.1

// drift is how far a light may come closer and go further before what it gives
// changes by a tenth of a stop, m. closer is nil when it never rises so far.
func (l *Light) drift(throw float64) Drift {
	if _, ok := Emission(l.Shape, l.Width, l.Height, throw); !ok {
		return Drift{}
	}
	var out Drift
	if d, ok := l.distanceFor(throw, -driftStops, throw*1e-6, throw); ok {
		out.Closer = value(throw - d)
	}
	if d, ok := l.distanceFor(throw, driftStops, throw, 4*(throw+longest(l.Width, l.Height))); ok {
		out.Further = value(d - throw)
	}
	return out
}

// DistanceFor is the distance (m) at which a source that shines as Emission has
// it is darker by stops than at from; negative stops are brighter, and nearer. ok
// is false where the emission cannot be known or never comes to so much.
func DistanceFor(shape Shape, w, h *float64, from, stops float64) (to float64, ok bool) {
	l := Light{Shape: shape, Width: w, Height: h}
	if _, ok := Emission(shape, w, h, from); !ok || math.IsNaN(stops) {
		return 0, false
	}
	if stops < 0 {
		return l.distanceFor(from, stops, from*1e-6, from)
	}
	return l.distanceFor(from, stops, from, 4*(from+longest(w, h))*math.Exp2(stops/2))
}

// distanceFor finds between low and high the distance at which the light is
// darker by stops than at throw. E falls with distance, so halving finds it.
func (l *Light) distanceFor(throw, stops, low, high float64) (float64, bool) {
	darker := func(d float64) float64 {
		s, ok := l.stopsBetween(throw, d)
		if !ok { // a lens close in: no figure there
			return math.NaN()
		}
		return s
	}
	if l.Shape == Lens {
		low = math.Max(low, lensFar*longest(l.Width, l.Height))
	}
	if !(darker(low) <= stops) || !(darker(high) >= stops) {
		return 0, false
	}
	for range 200 {
		mid := (low + high) / 2
		if mid == low || mid == high {
			break
		}
		if darker(mid) < stops {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2, true
}

func positive(x *float64) bool { return x != nil && *x > 0 && !math.IsInf(*x, 0) }

func longest(w, h *float64) float64 {
	m := 0.0
	if positive(w) {
		m = *w
	}
	if positive(h) {
		m = math.Max(m, *h)
	}
	return m
}
