package apex

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// The bounds of an exposure time in seconds and of a film speed.
const (
	leastTime, mostTime = 1e-5, 3600
	leastISO, mostISO   = 1, 10_000_000
)

// ParseTime reads an exposure time into seconds: "1/200", "0.5 s", "2 s", `2"`.
// A marked time means its exact step (1/125 is 1/128 s); any other is itself.
// A bare figure of one or more is refused, since 200 may be meant as 1/200.
func ParseTime(s string, n Notation) (float64, error) {
	t, err := clean(s, "an exposure time")
	if err != nil {
		return 0, err
	}
	if whole, part, ok := strings.Cut(t, `"`); ok && part != "" {
		t = whole + "." + part + " s" // 0"5, as displays show it
	}
	body, unit := cutUnit(t, "seconds", "second", "secs", "sec", "s", `"`)
	v, ok := timeFigure(body)
	switch {
	case !ok || v == 0:
		return 0, fmt.Errorf("%q is not an exposure time: write 1/125, 0.5 s or 2 s", s)
	case !unit && v >= 1 && !strings.Contains(body, "/"):
		return 0, fmt.Errorf("%q may be %s seconds or 1/%s: write 1/%s, or %s s", s, body, body, body, body)
	case v < leastTime || v > mostTime:
		return 0, fmt.Errorf("%q is no exposure time: it must be from 1/100000 to 3600 s", s)
	}
	if tv, ok := MarkTv(v, n.Halves); ok {
		return Seconds(tv), nil
	}
	return v, nil
}

func timeFigure(body string) (float64, bool) {
	if v, ok := decimal(body); ok {
		return v, true
	}
	top, bottom, ok := strings.Cut(body, "/")
	if !ok {
		return 0, false
	}
	a, okA := decimal(strings.TrimSpace(top))
	b, okB := decimal(strings.TrimSpace(bottom))
	if !okA || !okB || b == 0 {
		return 0, false
	}
	return a / b, true
}

// FormatTime prints a time in seconds as the nearest third-stop mark, "1/200",
// "0.4 s", "2 s"; a time that is a half-stop mark to the digit keeps it. Beyond
// the marks it is printed to two digits.
func FormatTime(seconds float64) string {
	if !finite(seconds) || seconds <= 0 {
		return ""
	}
	tv := Tv(seconds)
	for _, m := range halfDenominators[4:] { // from 1/45: the others share a figure
		if math.Abs(m.step-tv) < 1e-6 {
			return "1/" + trim(m.figure)
		}
	}
	for _, m := range halfSeconds[:3] {
		if m.figure != 0.3 && math.Abs(m.step-tv) < 1e-6 {
			return trim(m.figure) + " s"
		}
	}
	k := int(math.Floor(tv*3 + 0.5 + nudge))
	switch {
	case k >= len(timeDenominators):
		return "1/" + twoDigits(1/seconds)
	case k <= -len(timeSeconds):
		return twoDigits(seconds) + " s"
	case k <= 0:
		return trim(timeSeconds[-k]) + " s"
	}
	for _, m := range timeDecimals[:3] {
		if k == nearest(m.step*3) {
			return trim(m.figure) + " s"
		}
	}
	return "1/" + trim(timeDenominators[k])
}

// trim prints a figure of a series without idle zeros.
func trim(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// twoDigits prints to two significant digits without an exponent, ties up.
func twoDigits(x float64) string {
	if x <= 0 || !finite(x) {
		return "0"
	}
	unit := math.Pow(10, math.Floor(math.Log10(x))-1)
	v := math.Floor(x/unit+0.5+nudge) * unit
	places := 0
	if unit < 1 {
		places = int(math.Round(-math.Log10(unit)))
	}
	return strconv.FormatFloat(v, 'f', places, 64)
}

// ParseISO reads a film speed: "200", "ISO 200". It stands for itself, not for
// a step, since speeds add no error worth a tenth of a stop.
func ParseISO(s string) (float64, error) {
	t, err := clean(s, "an ISO speed")
	if err != nil {
		return 0, err
	}
	v, ok := decimal(strings.TrimSpace(strings.TrimPrefix(t, "iso")))
	if !ok || v < leastISO || v > mostISO {
		return 0, fmt.Errorf("%q is not an ISO speed: write a number from 1 to 10000000, such as 200", s)
	}
	return v, nil
}
