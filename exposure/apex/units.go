package apex

import "math"

// Av is the aperture value of an f-number: 2 log2 N (Exif 2.31, CIPA DC-008
// Annex C). It is NaN for an f-number that is not positive.
func Av(f float64) float64 { return 2 * math.Log2(f) }

// FNumber is the exact f-number of an aperture value: 2^(Av/2).
func FNumber(av float64) float64 { return math.Exp2(av / 2) }

// Tv is the time value of a time in seconds: -log2 t (Annex C).
func Tv(seconds float64) float64 { return -math.Log2(seconds) }

// Seconds is the exact time of a time value: 2^-Tv.
func Seconds(tv float64) float64 { return math.Exp2(-tv) }

// Sv is the speed value of an ISO speed: log2(S/3.125), 5 at ISO 100
// (Annex C, with the clean constant).
func Sv(iso float64) float64 { return math.Log2(iso / 3.125) }

// ISO is the speed of a speed value: 3.125 x 2^Sv.
func ISO(sv float64) float64 { return 3.125 * math.Exp2(sv) }

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
