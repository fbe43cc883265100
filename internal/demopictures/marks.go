package main

import (
	"math"

	"stopleaf/exposure/apex"
)

// marked is the f-number a camera writes for an aperture: the mark.
func marked(av float64) float64 {
	best := math.Exp2(av / 2)
	for _, f := range []float64{5.6, 6.3, 6.7, 7.1, 8, 9, 9.5, 10, 11, 13, 14, 16} {
		if m, ok := apex.MarkAv(f, f == 6.7 || f == 9.5); ok && math.Abs(m-av) < 1e-6 {
			best = f
		}
	}
	return best
}

// markedTime is the time a camera writes: 1/125 for 1/128.
func markedTime(t float64) float64 {
	for _, n := range []float64{30, 60, 80, 100, 125, 160, 200, 250} {
		if math.Abs(math.Log2(t*n)) < 0.05 {
			return 1 / n
		}
	}
	return t
}
