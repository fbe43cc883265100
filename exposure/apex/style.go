package apex

import "math"

// Style is how readings are printed, one on a page: "tenths" (and "", the
// whole-stop mark and tenths), "thirds" (the nearest third-stop mark) or
// "decimal" (the f-number itself, "f/9.2": with its f, for dials show bare
// figures too).
type Style string

// The styles.
const (
	StyleTenths  Style = "tenths"
	StyleThirds  Style = "thirds"
	StyleDecimal Style = "decimal"
)

// Reading prints an aperture.
func (s Style) Reading(av float64) string {
	switch s {
	case StyleThirds:
		return Third(av)
	case StyleDecimal:
		if d := Decimal(av); d != "" {
			return "f/" + d
		}
		return ""
	}
	return Tenths(av)
}

// Base prints what the key is set to read. With tenths a third-stop mark keeps
// its name, for it is one exactly: "f/6.3".
func (s Style) Base(av float64) string {
	if s == StyleThirds || s == StyleDecimal {
		return s.Reading(av)
	}
	return Mark(av)
}

// Inward rounds a range of apertures inward to what the style can print, so
// that no end is promised that lies outside it; ok is false when nothing lies
// inside.
func (s Style) Inward(low, high float64) (inLow, inHigh float64, ok bool) {
	switch s {
	case StyleThirds:
		inLow, inHigh = math.Ceil(low*3-nudge)/3, math.Floor(high*3+nudge)/3
	case StyleDecimal:
		inLow, inHigh = printedFrom(low, 1), printedFrom(high, -1)
	default:
		inLow, inHigh = math.Ceil(low*10-nudge)/10, math.Floor(high*10+nudge)/10
	}
	return inLow + 0, inHigh + 0, inLow <= inHigh
}

// printedFrom is the Av of the figure that Decimal prints at av, or of the next
// one in the direction of sign where that lies on the other side of av.
func printedFrom(av, sign float64) float64 {
	f, step := FNumber(av), 0.1
	if f < 4 {
		step = 0.01
	}
	v := math.Floor(f/step+nudge) * step
	if sign > 0 {
		v = math.Ceil(f/step-nudge) * step
	}
	return Av(v)
}
