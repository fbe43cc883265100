package exposure

import "math"

// Minus is v - o.
func (v Vec) Minus(o Vec) Vec { return Vec{v.X - o.X, v.Y - o.Y, v.Z - o.Z} }

// Plus is v + o.
func (v Vec) Plus(o Vec) Vec { return Vec{v.X + o.X, v.Y + o.Y, v.Z + o.Z} }

// Times is v scaled by k.
func (v Vec) Times(k float64) Vec { return Vec{v.X * k, v.Y * k, v.Z * k} }

// Dot is the scalar product.
func (v Vec) Dot(o Vec) float64 { return v.X*o.X + v.Y*o.Y + v.Z*o.Z }

// Length is the vector's length, m.
func (v Vec) Length() float64 { return math.Sqrt(v.Dot(v)) }

// cosBetween is the cosine of the angle between two directions; ok is false
// when either has no length.
func cosBetween(a, b Vec) (cos float64, ok bool) {
	la, lb := a.Length(), b.Length()
	if !(la > 1e-9) || !(lb > 1e-9) {
		return 0, false
	}
	return math.Max(-1, math.Min(1, a.Dot(b)/(la*lb))), true
}

func degrees(rad float64) float64 { return rad * 180 / math.Pi }
