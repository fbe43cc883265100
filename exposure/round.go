package exposure

import "math"

// round keeps nine places, so that processors agree, and never gives -0. What
// is not finite becomes 0; optional figures use value instead, which drops it.
func round(x float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return 0
	}
	if math.Abs(x) < 1e6 {
		x = math.Round(x*1e9) / 1e9
	}
	return x + 0
}

// value is a rounded optional figure, nil when it is not finite.
func value(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	x = round(x)
	return &x
}

// kept is a recorded figure passed through, rounded.
func kept(x *float64) *float64 {
	if x == nil {
		return nil
	}
	return value(*x)
}

// difference is a - b, nil when either is unknown.
func difference(a, b *float64) *float64 {
	if a == nil || b == nil {
		return nil
	}
	return value(*a - *b)
}
