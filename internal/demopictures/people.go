package main

import "math"

// headSize is how much larger than its drawing the head is, about its chin.
const headSize = 1.06

// head is a plain head that looks toward the camera, its chin at about 1.48 and
// its crown at 1.73 m.
func head() solid {
	face := features()
	chin := vec{0, 0, 1.48}
	return func(p vec) float64 { return face(chin.add(p.sub(chin).by(1/headSize))) * headSize }
}

func features() solid {
	skull := egg(vec{0, -0.005, 1.612}, vec{0.077, 0.097, 0.108})
	jaw := egg(vec{0, 0.022, 1.545}, vec{0.056, 0.068, 0.072})
	h := all(0.05, skull, jaw)
	h = all(0.02, h, egg(vec{0, 0.083, 1.624}, vec{0.050, 0.016, 0.012}))
	h = all(0.018, h,
		limb(vec{0, 0.088, 1.612}, vec{0, 0.112, 1.572}, 0.008, 0.014),
		egg(vec{0.012, 0.098, 1.568}, vec{0.009, 0.009, 0.008}),
		egg(vec{-0.012, 0.098, 1.568}, vec{0.009, 0.009, 0.008}))
	for _, x := range []float64{-0.031, 0.031} {
		h = without(0.022, h, sphere(vec{x, 0.112, 1.603}, 0.021))
		h = all(0.006, h, egg(vec{x, 0.0755, 1.602}, vec{0.0145, 0.011, 0.0105}))
		h = all(0.012, h, egg(vec{x * 2.5, -0.004, 1.592}, vec{0.009, 0.024, 0.033}))
	}
	h = without(0.008, h, egg(vec{0, 0.106, 1.531}, vec{0.026, 0.012, 0.0025}))
	h = all(0.010, h,
		egg(vec{0, 0.086, 1.537}, vec{0.021, 0.010, 0.006}),
		egg(vec{0, 0.086, 1.524}, vec{0.019, 0.010, 0.007}))
	return h
}

// neck goes from the collar up into the head.
func neck() solid { return limb(vec{0, -0.025, 1.36}, vec{0, -0.008, 1.53}, 0.062, 0.052) }

// tapered is a garment about an upright axis: half width, half depth and how
// far the axis swings aside, by height; folds run down it where they are deep.
func tapered(wide, deep, swing, folds func(z float64) float64) solid {
	return func(p vec) float64 {
		w, d := wide(p.z), deep(p.z)
		x, y := (p.x-swing(p.z))/w, p.y/d
		a := math.Atan2(y, x)
		k := 1 + folds(p.z)*(math.Sin(7*a+1.1+2*p.z)+0.5*math.Sin(12*a+3*p.z))
		return (math.Hypot(x, y)/k - 1) * math.Min(w, d)
	}
}

// steps joins values at heights by smooth curves; heights rise.
func steps(at ...[2]float64) func(z float64) float64 {
	return func(z float64) float64 {
		if z <= at[0][0] {
			return at[0][1]
		}
		for i := 1; i < len(at); i++ {
			if z <= at[i][0] {
				t := smooth(at[i-1][0], at[i][0], z)
				return at[i-1][1] + (at[i][1]-at[i-1][1])*t
			}
		}
		return at[len(at)-1][1]
	}
}

// between keeps a solid from one height to another.
func between(s solid, from, upTo float64) solid {
	return func(p vec) float64 { return math.Max(s(p), math.Max(from-p.z, p.z-upTo)) }
}
