package layout

import (
	"fmt"

	"stopleaf/setup"
)

// drawScale is a standard scale: Den millimetres on the set are one on paper.
type drawScale struct {
	den  int
	text string
}

// Scales of ISO 5455, with 1:25 and 1:40 in between; and the customary
// fractions of an inch to the foot. Largest first; the last three are for what
// would fit at no other.
var (
	metricScales = []int{10, 20, 25, 40, 50, 100, 200, 500, 1000, 2000, 5000}
	footScales   = []drawScale{
		{12, "1 in = 1 ft"}, {16, "3/4 in = 1 ft"}, {24, "1/2 in = 1 ft"}, {32, "3/8 in = 1 ft"},
		{48, "1/4 in = 1 ft"}, {96, "1/8 in = 1 ft"}, {192, "1/16 in = 1 ft"}, {500, "1:500"}, {1000, "1:1000"}, {2000, "1:2000"}, {5000, "1:5000"},
	}
)

func scales(u setup.Units) []drawScale {
	if u == setup.Feet || u == setup.Inches {
		return footScales
	}
	out := make([]drawScale, len(metricScales))
	for i, d := range metricScales {
		out[i] = drawScale{d, fmt.Sprintf("1:%d", d)}
	}
	return out
}

// scaleOf names a denominator asked for by hand.
func scaleOf(den int, u setup.Units) drawScale {
	for _, s := range scales(u) {
		if s.den == den {
			return s
		}
	}
	return drawScale{den, fmt.Sprintf("1:%d", den)}
}

// um is a length of the set, in metres, on paper.
func (s drawScale) um(m float64) Um {
	return Mm(m * 1000 / float64(s.den))
}
