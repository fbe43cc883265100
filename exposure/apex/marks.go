package apex

import "math"

// The marked series as engraved and displayed. The exact step of a mark is its
// index, not its printed figure: f/13 on a third-stop scale is 2^(22/6).
// Nominal figures: f-number scale tables of the trade; the exact steps are
// 2^(Av/2) and 2^-Tv (Exif 2.31, CIPA DC-008 Annex C).
const (
	firstThird = -3 // thirds of a stop at thirdMarks[0], f/0.7
	lastThird  = 39 // f/90
	firstWhole = -1
	lastWhole  = 13
)

var thirdMarks = [...]string{
	"0.7", "0.8", "0.9", "1", "1.1", "1.2", "1.4", "1.6", "1.8", "2", "2.2", "2.5",
	"2.8", "3.2", "3.5", "4", "4.5", "5", "5.6", "6.3", "7.1", "8", "9", "10",
	"11", "13", "14", "16", "18", "20", "22", "25", "29", "32", "36", "40",
	"45", "51", "57", "64", "72", "81", "90",
}

// numeric twin of thirdMarks, in the same order.
var thirdFigures = [...]float64{
	0.7, 0.8, 0.9, 1, 1.1, 1.2, 1.4, 1.6, 1.8, 2, 2.2, 2.5,
	2.8, 3.2, 3.5, 4, 4.5, 5, 5.6, 6.3, 7.1, 8, 9, 10,
	11, 13, 14, 16, 18, 20, 22, 25, 29, 32, 36, 40,
	45, 51, 57, 64, 72, 81, 90,
}

type mark struct{ figure, step float64 }

// Half-stop marks, with the older additive series (3.4, 6.8, 9.6, 13.6).
var halfMarks = [...]mark{
	{0.8, -0.5}, {1.2, 0.5}, {1.7, 1.5}, {2.4, 2.5}, {3.3, 3.5}, {3.4, 3.5}, {4.8, 4.5},
	{6.7, 5.5}, {6.8, 5.5}, {9.5, 6.5}, {9.6, 6.5}, {13, 7.5}, {13.6, 7.5}, {19, 8.5},
	{27, 9.5}, {38, 10.5}, {54, 11.5}, {76, 12.5},
}

// MarkAv gives the exact aperture value of a marked f-number, and false for a
// figure that is no mark. The marks 0.8, 1.2 and 13 stand in two series; the
// third-stop one is meant unless halves is set.
func MarkAv(f float64, halves bool) (av float64, ok bool) {
	if halves {
		if av, ok := findMark(halfMarks[:], f); ok {
			return av, true
		}
	}
	for i, m := range thirdFigures {
		if same(f, m) {
			return float64(i+firstThird) / 3, true
		}
	}
	return findMark(halfMarks[:], f)
}

// The exposure times of the third-stop series from 1 s (Tv 0) down, as
// denominators, and from 1 s up, as seconds.
var (
	timeDenominators = [...]float64{
		1, 1.3, 1.6, 2, 2.5, 3, 4, 5, 6, 8, 10, 13, 15, 20, 25, 30, 40, 50, 60, 80, 100, 125,
		160, 200, 250, 320, 400, 500, 640, 800, 1000, 1250, 1600, 2000, 2500, 3200, 4000,
		5000, 6400, 8000, 10000, 12800, 16000, 20000, 25600, 32000,
	}
	timeSeconds = [...]float64{1, 1.3, 1.6, 2, 2.5, 3.2, 4, 5, 6, 8, 10, 13, 15, 20, 25, 30}
)

// Short times that cameras show as decimals of a second, by Tv.
var timeDecimals = [...]mark{{0.8, 1.0 / 3}, {0.6, 2.0 / 3}, {0.4, 4.0 / 3}, {0.3, 5.0 / 3}}

// Half-stop times: figures are denominators, then seconds.
var (
	halfDenominators = [...]mark{
		{3, 1.5}, {6, 2.5}, {10, 3.5}, {20, 4.5}, {45, 5.5}, {90, 6.5}, {180, 7.5}, {350, 8.5},
		{750, 9.5}, {1500, 10.5}, {3000, 11.5}, {6000, 12.5}, {12000, 13.5},
	}
	halfSeconds = [...]mark{{0.7, 0.5}, {0.3, 1.5}, {1.5, -0.5}, {3, -1.5}, {6, -2.5}, {10, -3.5}, {20, -4.5}}
)

// MarkTv gives the exact time value of a marked exposure time in seconds, and
// false for a time that is no mark. Figures that stand in two series (1/3,
// 1/6, 1/10, 1/20 and their like in seconds) are of the third-stop one unless
// halves is set.
func MarkTv(seconds float64, halves bool) (tv float64, ok bool) {
	if halves {
		if tv, ok := halfTv(seconds); ok {
			return tv, true
		}
	}
	for i, d := range timeDenominators {
		if same(seconds*d, 1) {
			return float64(i) / 3, true
		}
	}
	for i, s := range timeSeconds {
		if same(seconds, s) {
			return -float64(i) / 3, true
		}
	}
	if tv, ok := findMark(timeDecimals[:], seconds); ok {
		return tv, true
	}
	if same(seconds, 3) { // 3.2 s, as many displays round it
		return -5.0 / 3, true
	}
	return halfTv(seconds)
}

func halfTv(seconds float64) (tv float64, ok bool) {
	if tv, ok := findMark(halfSeconds[:], seconds); ok {
		return tv, true
	}
	return findMark(halfDenominators[:], 1/seconds)
}

func findMark(marks []mark, figure float64) (step float64, ok bool) {
	for _, m := range marks {
		if same(figure, m.figure) {
			return m.step, true
		}
	}
	return 0, false
}

// same compares figures as written, which differ by rounding alone.
func same(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Abs(b) }

// isWholeMark reports whether an integer part is a whole-stop mark of its own.
func isWholeMark(f float64) bool {
	for k := firstWhole; k <= lastWhole; k++ {
		if same(f, thirdFigures[3*k-firstThird]) {
			return true
		}
	}
	return false
}
