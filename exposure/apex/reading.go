package apex

import (
	"fmt"
	"strings"
)

// Notation says how bare figures in a file are meant.
type Notation struct {
	Halves bool   // marks that stand in two series are half-stop marks ("steps: half")
	Bare   string // "tenths": 8.5 is f/8 and five tenths; "decimal": it is f/8.5; "": f/8.5, with a warning
	Comma  bool   // a decimal comma is understood
}

// The kinds of reading.
const (
	KindF     = "f"     // an aperture; Value is its Av
	KindEV    = "ev"    // an exposure value at the ISO set: EV = Av + Tv
	KindEV100 = "ev100" // an exposure value at ISO 100
)

// Reading is what a meter or a camera showed.
type Reading struct {
	Kind    string
	Value   float64 // Av for KindF, else the exposure value
	Warning string  // both meanings, where the figure has two; else ""
}

// The bounds of what is taken for a reading, in stops.
const (
	leastAv, mostAv = -2, 14 // f/0.5 to f/128
	leastEV, mostEV = -10, 30
)

// NeedsTime reports whether Av depends on the exposure time.
func (r Reading) NeedsTime() bool { return r.Kind != KindF }

// NeedsISO reports whether Av depends on the film speed.
func (r Reading) NeedsISO() bool { return r.Kind == KindEV100 }

// Av is the aperture value of the reading. An exposure value at the ISO set
// uses the time: Av = EV - Tv; one at ISO 100 the speed too: Av = EV + Sv - 5 -
// Tv. An aperture ignores both.
func (r Reading) Av(tv, sv float64) float64 {
	switch r.Kind {
	case KindEV:
		return r.Value - tv
	case KindEV100:
		return r.Value + sv - 5 - tv
	}
	return r.Value
}

// ParseReading reads an aperture or an exposure value in any notation a meter
// or a camera shows: "f/11", "11", "f/11 +0.3", "11 3/10", "8 5" (eight and
// five tenths), "9.7", "EV 13.3", "EV100 13.3". A marked figure means its exact
// step; any other is the f-number itself. The error says what was allowed.
func ParseReading(s string, n Notation) (Reading, error) {
	t, err := clean(s, "a reading")
	if err != nil {
		return Reading{}, err
	}
	if !n.Comma && strings.Contains(t, ",") {
		return Reading{}, fmt.Errorf("%q has a comma where it could mean a list: write a decimal point", s)
	}
	if body, kind, ok := cutEV(t); ok {
		return exposureValue(s, body, kind)
	}
	body, bare := cutF(t)
	figure, rest := splitFigure(body)
	f, ok := decimal(figure)
	if !ok || f == 0 {
		return Reading{}, notReading(s)
	}
	var r Reading
	if rest == "" {
		r = plainReading(s, figure, f, bare, n)
	} else if r, err = offsetReading(s, figure, f, rest, n); err != nil {
		return Reading{}, err
	}
	if !(r.Value >= leastAv && r.Value <= mostAv) {
		return Reading{}, fmt.Errorf("%q is no aperture: it must be from f/0.5 to f/128", s)
	}
	return r, nil
}

func notReading(s string) error {
	return fmt.Errorf(`%q is not a reading: write f/11, f/11 +0.3, 11 3/10, "8 5" or EV 13.3`, s)
}

func cutEV(t string) (body, kind string, ok bool) {
	if b, found := strings.CutPrefix(t, "ev100 "); found {
		return strings.TrimSpace(b), KindEV100, true
	}
	if b, found := strings.CutPrefix(t, "ev"); found {
		return strings.TrimSpace(b), KindEV, true
	}
	if b, found := strings.CutSuffix(t, "ev100"); found {
		return strings.TrimSpace(b), KindEV100, true
	}
	if b, found := strings.CutSuffix(t, "ev"); found {
		return strings.TrimSpace(b), KindEV, true
	}
	return "", "", false
}

func exposureValue(s, body, kind string) (Reading, error) {
	v, _, ok := signed(body)
	if !ok {
		return Reading{}, fmt.Errorf("%q is not an exposure value: write EV 13.3, or EV100 13.3 for one at ISO 100", s)
	}
	if v < leastEV || v > mostEV {
		return Reading{}, fmt.Errorf("%q is no exposure value: it must be from EV %d to EV %d", s, leastEV, mostEV)
	}
	return Reading{Kind: kind, Value: v}, nil
}

// cutF takes the f off; bare is true when there was none.
func cutF(t string) (body string, bare bool) {
	body, ok := strings.CutPrefix(t, "f")
	if !ok {
		return t, true
	}
	body = strings.TrimSpace(body)
	if b, ok := strings.CutPrefix(body, "/"); ok {
		body = b
	} else if b, ok := strings.CutPrefix(body, ":"); ok {
		body = b
	}
	return strings.TrimSpace(body), false
}

// splitFigure parts the f-number from what follows. "5.6.3" is f/5.6 and three
// tenths, so a second point parts too.
func splitFigure(t string) (figure, rest string) {
	points := 0
	for i := 0; i < len(t); i++ {
		c := t[i]
		if c == '.' || c == ',' {
			if points++; points == 2 {
				return t[:i], " " + t[i+1:]
			}
			continue
		}
		if c < '0' || c > '9' {
			return t[:i], t[i:]
		}
	}
	return t, ""
}

func plainReading(s, figure string, f float64, bare bool, n Notation) Reading {
	mark, whole, tenths, parts := wholeAndTenths(figure)
	av, marked := MarkAv(f, n.Halves)
	if bare && parts && n.Bare == "tenths" && !isWholeMark(f) {
		return Reading{Kind: KindF, Value: whole + tenths}
	}
	if marked {
		return Reading{Kind: KindF, Value: av}
	}
	r := Reading{Kind: KindF, Value: Av(f)}
	if bare && parts && n.Bare == "" {
		r.Warning = fmt.Sprintf("%q is taken as f/%s; it could also mean f/%s and %s (f/%s)",
			s, strings.Replace(figure, ",", ".", 1), mark, tenthsInWords(tenths), Decimal(whole+tenths))
	}
	return r
}

// wholeAndTenths reads a figure as a whole-stop mark and one digit of tenths, in
// stops, as a meter shows them: 8.5 is 8 and five, 5.68 is 5.6 and eight.
func wholeAndTenths(figure string) (mark string, whole, tenths float64, ok bool) {
	if len(figure) < 3 || !strings.ContainsAny(figure, ".,") {
		return "", 0, 0, false
	}
	mark = strings.TrimRight(figure[:len(figure)-1], ".,")
	f, okF := decimal(mark)
	digit := figure[len(figure)-1] - '0'
	if !okF || digit == 0 || !isWholeMark(f) {
		return "", 0, 0, false
	}
	whole, _ = MarkAv(f, false)
	return strings.Replace(mark, ",", ".", 1), whole, float64(digit) / 10, true
}

func tenthsInWords(tenths float64) string {
	words := [...]string{"no tenths", "one tenth", "two tenths", "three tenths", "four tenths",
		"five tenths", "six tenths", "seven tenths", "eight tenths", "nine tenths"}
	return words[nearest(tenths*10)%10]
}

func offsetReading(s, figure string, f float64, rest string, n Notation) (Reading, error) {
	av, marked := MarkAv(f, n.Halves)
	if !marked {
		return Reading{}, fmt.Errorf("%q adds to f/%s, which is no marked stop: write the mark below, then the rest, such as f/8 +0.3", s, figure)
	}
	off, err := offset(s, rest)
	if err != nil {
		return Reading{}, err
	}
	return Reading{Kind: KindF, Value: av + off}, nil
}

// offset reads what follows a mark: "+0.3", "-1/3", " 3/10", or one digit for
// tenths.
func offset(s, rest string) (float64, error) {
	t := strings.TrimSpace(rest)
	t, _ = cutUnit(t, "stops", "stop")
	if len(t) == 1 && t[0] >= '0' && t[0] <= '9' && rest[0] == ' ' {
		return float64(t[0]-'0') / 10, nil
	}
	v, had, ok := signed(t)
	isFraction := strings.Contains(t, "/")
	if !ok || (!had && !isFraction) {
		return 0, fmt.Errorf("%q is not understood after the mark: write +0.3, +1/3, 3/10, or one digit for tenths", s)
	}
	if v <= -1 || v >= 1 {
		return 0, fmt.Errorf("%q adds a whole stop or more: what follows a mark is less than one stop, such as +0.3, +1/3 or 3/10", s)
	}
	return v, nil
}
