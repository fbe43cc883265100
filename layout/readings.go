package layout

import (
	"strings"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
)

// Readings are printed as the house wants them, in one notation on a page.
// What the camera is set to is printed by its own marks.

// reading prints an aperture.
func (j Job) reading(av float64) string { return j.Setup.Style().Reading(av) }

// target prints what the meter must show.
func (j Job) target(t exposure.Target) string { return j.reading(t.Av) }

// base prints the base of that mark.
func (j Job) base(mark string) string {
	for _, b := range j.Numbers.Bases {
		if b.Mark == mark {
			return j.Setup.Style().Base(b.Av)
		}
	}
	return mark
}

// readingSplit is where a reading stands on the axis of its column: the mark
// ends there and the tenths begin, a decimal figure has its point there.
func (j Job) readingSplit(s string) int {
	if i := strings.LastIndexByte(s, '.'); i >= 0 && j.Setup.Style() == apex.StyleDecimal {
		return i
	}
	return beforeRest(s)
}

// inward rounds the base range inward to what can be printed.
func (j Job) inward(r exposure.BaseRange) (low, high float64, ok bool) {
	if r.LowAv == nil || r.HighAv == nil {
		return 0, 0, false
	}
	return j.Setup.Style().Inward(*r.LowAv, *r.HighAv)
}
