package apex

import (
	"math"
	"strconv"
)

// All printing rounds once, from the exact value, ties to the smaller aperture
// (the larger Av). Outside the marks (f/0.7 to f/90) an aperture is its
// f-number to two digits. What is not finite, or beyond 60 stops, prints as "".

// Tenths prints an aperture as the whole-stop mark at or below and tenths,
// carried: "f/5.6 +0.3", "f/8".
func Tenths(av float64) string {
	if !printable(av) {
		return ""
	}
	t := nearest(av * 10)
	whole := floorDiv(t, 10)
	if whole < firstWhole || whole > lastWhole {
		return "f/" + twoDigits(FNumber(av))
	}
	mark := "f/" + thirdMarks[3*whole-firstThird]
	if rest := t - 10*whole; rest > 0 {
		return mark + " +0." + strconv.Itoa(rest)
	}
	return mark
}

// Third prints an aperture as the nearest third-stop mark: "f/6.3".
func Third(av float64) string {
	if !printable(av) {
		return ""
	}
	k := nearest(av * 3)
	if k < firstThird || k > lastThird {
		return "f/" + twoDigits(FNumber(av))
	}
	return "f/" + thirdMarks[k-firstThird]
}

// Half prints an aperture as the nearest half-stop mark: "f/6.7". Ties go to the
// smaller aperture.
func Half(av float64) string {
	if !printable(av) {
		return ""
	}
	k := nearest(av * 2)
	if k%2 != 0 {
		for _, m := range halfMarks {
			if m.step == float64(k)/2 {
				return "f/" + strconv.FormatFloat(m.figure, 'g', -1, 64)
			}
		}
	}
	return Third(float64(k) / 2)
}

// Decimal prints the f-number itself without the f: one decimal place, two
// below f/4: "9.7", "2.83".
func Decimal(av float64) string {
	if !printable(av) {
		return ""
	}
	f := FNumber(av)
	if f+nudge < 4 {
		if v := math.Floor(f*100 + 0.5 + nudge); v < 400 {
			return strconv.FormatFloat(v/100, 'f', 2, 64)
		}
	}
	return strconv.FormatFloat(math.Floor(f*10+0.5+nudge)/10, 'f', 1, 64)
}

// Whole is the whole-stop mark nearest an aperture and its exact Av: "f/8", 6.
// It stays within f/0.7 and f/90.
func Whole(av float64) (mark string, exact float64) {
	if !printable(av) {
		return "", math.NaN()
	}
	k := min(max(nearest(av), firstWhole), lastWhole)
	return "f/" + thirdMarks[3*k-firstThird], float64(k)
}

// Mark prints an aperture by the shortest notation that keeps it to a tenth: a
// third-stop mark where it is one exactly, else whole mark and tenths.
func Mark(av float64) string {
	if math.Abs(av*3-math.Round(av*3)) < 1e-6 {
		return Third(av)
	}
	return Tenths(av)
}

// FormatDelta prints a difference in words, to a tenth: "1.6 under",
// "0.4 over", "0".
func FormatDelta(stops float64) string {
	size, sign := tenthsOf(stops)
	switch {
	case sign < 0:
		return size + " under"
	case sign > 0:
		return size + " over"
	}
	if size == "" {
		return ""
	}
	return "0"
}

// FormatSigned prints a difference with its sign, to a tenth, a true minus:
// "\u22121.6", "+0.4", "0.0".
func FormatSigned(stops float64) string {
	size, sign := tenthsOf(stops)
	switch {
	case sign < 0:
		return "\u2212" + size
	case sign > 0:
		return "+" + size
	}
	return size
}

func tenthsOf(stops float64) (size string, sign int) {
	if !printable(stops) {
		return "", 0
	}
	t := math.Floor(stops*10 + 0.5 + nudge)
	size = strconv.FormatFloat(math.Abs(t)/10, 'f', 1, 64)
	switch {
	case t < 0:
		return size, -1
	case t > 0:
		return size, 1
	}
	return size, 0
}

// FormatDial prints a power, in stops from full, on a head's own scale: the
// mark at or below, then the rest ("1/8 +0.8"); "7.8" on a number dial; "87 Ws";
// "22 %". step is the dial's own, in stops; nil is a tenth on fraction and
// number dials, and no rounding to steps on the others. A dial that lacks what
// its scale needs (the energy, the figure at full) is printed in fractions.
func FormatDial(stops float64, dial Dial, step, energyWs *float64) string {
	if !printable(stops) {
		return ""
	}
	switch {
	case dial.Kind == "number" && dial.Full > 0:
		v := dial.Full + toStep(stops, stepOr(step, 0.1))
		return strconv.FormatFloat(math.Floor(v*10+0.5+nudge)/10+0, 'f', 1, 64)
	case dial.Kind == "ws" && energyWs != nil && *energyWs > 0:
		return amount(*energyWs*math.Exp2(toStep(stops, stepOr(step, 0)))) + " Ws"
	case dial.Kind == "percent":
		return amount(100*math.Exp2(toStep(stops, stepOr(step, 0)))) + " %"
	}
	return fractionDial(stops, stepOr(step, 0.1))
}

func fractionDial(stops, step float64) string {
	v := toStep(stops, step)
	whole := math.Floor(v + 1e-6)
	rest := v - whole
	if v > 0 { // above full there is no mark but full itself
		whole, rest = 0, v
	}
	mark := "full"
	if whole < 0 {
		mark = "1/" + strconv.FormatFloat(math.Exp2(-whole), 'f', 0, 64)
	}
	if rest < 1e-6 {
		return mark
	}
	return mark + " +" + restText(rest, step)
}

// restText prints what is left above a mark: thirds and halves as the dial
// clicks them, all else as decimals.
func restText(rest, step float64) string {
	if math.Abs(step*3-1) < 0.02 && rest < 1 {
		return strconv.Itoa(nearest(rest*3)) + "/3"
	}
	if math.Abs(step-0.5) < 1e-6 && rest < 1 {
		return "1/2"
	}
	tenths := math.Floor(rest*10 + 0.5 + nudge)
	if math.Abs(rest*10-tenths) < 1e-6 {
		return strconv.FormatFloat(tenths/10, 'f', 1, 64)
	}
	return strconv.FormatFloat(math.Floor(rest*100+0.5+nudge)/100, 'f', 2, 64)
}

// amount prints an energy or a percentage: whole from 20 up, else to a tenth.
func amount(v float64) string {
	if v >= 19.95 {
		return strconv.FormatFloat(math.Floor(v+0.5+nudge), 'f', 0, 64)
	}
	return strconv.FormatFloat(math.Floor(v*10+0.5+nudge)/10, 'f', 1, 64)
}

// DialStops is the power that a dial can be set to nearest to stops, from full, as
// FormatDial prints it: a whole number of its steps, ties to more power.
func DialStops(stops float64, dial Dial, step, energyWs *float64) float64 {
	if dial.Kind == "percent" || dial.Kind == "ws" && energyWs != nil && *energyWs > 0 {
		return toStep(stops, stepOr(step, 0))
	}
	return toStep(stops, stepOr(step, 0.1))
}

// toStep rounds to a whole number of steps, ties to more power; 0 is no step.
func toStep(stops, step float64) float64 {
	if step <= 0 {
		return stops
	}
	if math.Abs(step*3-1) < 0.02 { // 0.33 as written means a third
		step = 1.0 / 3
	}
	return math.Floor(stops/step+0.5+nudge)*step + 0
}

func stepOr(step *float64, or float64) float64 {
	if step == nil || !(*step > 0) {
		return or
	}
	return *step
}

func printable(stops float64) bool { return finite(stops) && math.Abs(stops) <= 60 }

func floorDiv(a, b int) int {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}
