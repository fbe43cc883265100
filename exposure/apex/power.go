package apex

import (
	"fmt"
	"math"
	"strings"
)

// Dial is how a head shows its power: Kind "fractions" (or ""), "number", "ws"
// or "percent". On a number dial one unit is one stop and Full is what it shows
// at full power.
type Dial struct {
	Kind string
	Full float64
}

// leastPower is the lowest power taken for real, stops from full: 1/4096.
const leastPower = -12

// ParsePower reads a head's power into stops from full, 0 or less: "full",
// "1/8", "1/8 +0.3", "-3.3", "62 Ws" or "62 J" (which need the head's energy at
// full), "50 %", and a bare figure as the head's own dial shows it.
func ParsePower(s string, energyWs *float64, dial Dial) (float64, error) {
	t, err := clean(s, "a power")
	if err != nil {
		return 0, err
	}
	v, err := powerStops(s, t, energyWs, dial)
	switch {
	case err != nil:
		return 0, err
	case !finite(v) || v < leastPower-nudge:
		return 0, fmt.Errorf("%q is too low a power: the least is 1/4096, 12 stops below full", s)
	case v > nudge:
		return 0, fmt.Errorf("%q is above full power", s)
	}
	return math.Min(v, 0) + 0, nil
}

func powerStops(s, t string, energyWs *float64, dial Dial) (float64, error) {
	if t == "full" {
		return 0, nil
	}
	if body, ok := cutUnit(t, "ws", "w s", "j", "joules", "joule"); ok {
		return wattSeconds(s, body, energyWs)
	}
	if body, ok := cutUnit(t, "%", "percent"); ok {
		return percent(s, body)
	}
	if strings.HasPrefix(t, "-") || strings.HasPrefix(t, "+") {
		t, _ = cutUnit(t, "stops", "stop")
		if v, _, ok := signed(t); ok {
			return v, nil
		}
		return 0, notPower(s, dial)
	}
	if strings.Contains(t, "/") || strings.HasPrefix(t, "full") {
		return fractionStops(s, t, dial)
	}
	v, ok := decimal(t)
	switch {
	case !ok:
		return 0, notPower(s, dial)
	case dial.Kind == "number" && dial.Full > 0:
		return v - dial.Full, nil
	case dial.Kind == "number":
		return 0, fmt.Errorf("%q needs the figure this head's dial shows at full power", s)
	case dial.Kind == "ws":
		return wattSeconds(s, t, energyWs)
	case dial.Kind == "percent":
		return percent(s, t)
	case v == 1:
		return 0, nil
	case v == 0:
		return 0, fmt.Errorf("%q may be full power or none: write full, or leave it out", s)
	}
	return 0, notPower(s, dial)
}

func notPower(s string, dial Dial) error {
	own := ""
	switch dial.Kind {
	case "number":
		own = fmt.Sprintf("the dial's figure (%s at full), ", trim(dial.Full))
	case "percent":
		own = "50 %, "
	}
	return fmt.Errorf("%q is not a power: write %s1/8, 1/8 +0.3, full, 62 Ws, or stops below full such as -3.3", s, own)
}

func wattSeconds(s, body string, energyWs *float64) (float64, error) {
	v, ok := decimal(body)
	switch {
	case !ok || v == 0:
		return 0, fmt.Errorf("%q is not an energy: write a number of watt-seconds, such as 62 Ws", s)
	case energyWs == nil || !(*energyWs > 0):
		return 0, fmt.Errorf("%q needs the head's energy at full power: give the head an energy in Ws", s)
	case v > *energyWs*(1+nudge):
		return 0, fmt.Errorf("%q is above the head's %s Ws", s, trim(*energyWs))
	}
	return math.Log2(v / *energyWs), nil
}

func percent(s, body string) (float64, error) {
	v, ok := decimal(body)
	if !ok || v == 0 || v > 100 {
		return 0, fmt.Errorf("%q is not a power: a percentage is above 0 and at most 100", s)
	}
	return math.Log2(v / 100), nil
}

// fractionStops reads "1/8" or "full" and what may follow: "+0.3", "-1/3".
func fractionStops(s, t string, dial Dial) (float64, error) {
	head, rest := t, ""
	if i := strings.IndexAny(t, "+-"); i > 0 {
		head, rest = strings.TrimSpace(t[:i]), t[i:]
	} else if a, b, ok := strings.Cut(t, " "); ok {
		head, rest = a, " "+b
	}
	mark := 0.0
	if head != "full" {
		v, ok := fraction(head)
		if !ok || v == 0 {
			return 0, notPower(s, dial)
		}
		mark = math.Log2(v)
		if mark != math.Trunc(mark) || v > 1 {
			return 0, fmt.Errorf("%q is no mark of a dial: the fractions are 1/1, 1/2, 1/4, 1/8 and so on to 1/4096", s)
		}
	}
	if rest == "" {
		return mark, nil
	}
	off, err := offset(s, rest)
	return mark + off, err
}
