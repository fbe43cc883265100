package edit

import (
	"math"
	"strconv"
	"strings"
)

// sameStops is how far a reading, a power or a difference as it is written may be
// from what is meant, stops. What stands there is left alone within it.
const sameStops = 0.005

// figure is the first number of a text.
type figure struct {
	from, to int
	places   int  // after the point
	comma    bool // for a point
}

// firstFigure finds it; ok is false where there is none.
func firstFigure(s string) (f figure, ok bool) {
	for f.from < len(s) && !isDigit(s[f.from]) {
		f.from++
	}
	if f.from == len(s) {
		return figure{}, false
	}
	if f.from > 0 && s[f.from-1] == '.' { // .5
		f.from--
	}
	for f.to = f.from; f.to < len(s); f.to++ {
		c := s[f.to]
		point := (c == '.' || c == ',') && f.places == 0 && !strings.ContainsAny(s[f.from:f.to], ".,") && f.to+1 < len(s) && isDigit(s[f.to+1])
		switch {
		case point:
			f.comma = c == ','
		case !isDigit(c):
			return f, true
		case strings.ContainsAny(s[f.from:f.to], ".,"):
			f.places++
		}
	}
	return f, true
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// decimals prints a figure with a point, or with a comma.
func decimals(v float64, places int, comma bool) string {
	s := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	if comma {
		s = strings.Replace(s, ".", ",", 1)
	}
	return s
}

// fewest prints a figure with as few decimals as will do, those that were written
// at least.
func fewest(v float64, f figure, enough func(text string) bool) (string, bool) {
	for places := f.places; places <= 6; places++ {
		if text := decimals(v, places, f.comma); enough(text) {
			return text, true
		}
	}
	return "", false
}

// Number writes a figure in the place of that in a text, "85 mm" or "35 %", in the
// unit that stands there, with as few decimals as hold it within the slack, and
// those that were written at least. The text is left alone within the slack.
func Number(was string, v, slack float64) string {
	f, ok := firstFigure(was)
	if !ok {
		f = figure{}
		was = ""
	}
	from := f.from
	if from > 0 && strings.HasSuffix(was[:from], "-") {
		from--
	}
	near := func(text string) bool {
		got, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
		return err == nil && math.Abs(got-v) <= slack+1e-9
	}
	if ok && near(was[from:f.to]) {
		return was
	}
	text, ok := fewest(v, f, near)
	if !ok {
		text = decimals(v, 6, f.comma)
	}
	return was[:from] + text + was[f.to:]
}

// firstGood is the first text that will do.
func firstGood(good func(string) bool, texts ...string) (string, bool) {
	for _, t := range texts {
		if t != "" && good(t) {
			return t, true
		}
	}
	return "", false
}

// offset writes a part of a stop in one of its ways; "" where it does not hold it.
func offset(v float64, way string, comma bool) string {
	within := func(unit float64) (int, bool) {
		n := math.Round(v / unit)
		return int(n), math.Abs(n*unit-v) <= sameStops
	}
	switch way {
	case "tenths":
		if n, ok := within(0.1); ok {
			return decimals(float64(n)/10, 1, comma)
		}
	case "thirds":
		if n, ok := within(1.0 / 3); ok {
			return fraction(n, 3)
		}
	case "halves":
		if n, ok := within(0.5); ok {
			return fraction(n, 2)
		}
	case "/10":
		if n, ok := within(0.1); ok {
			return strconv.Itoa(n) + "/10"
		}
	case "hundredths":
		return decimals(v, 2, comma)
	}
	return ""
}

// fraction writes n parts of a whole: "2/3", "1 2/3", "2".
func fraction(n, of int) string {
	whole, rest := n/of, n%of
	switch {
	case rest == 0:
		return strconv.Itoa(whole)
	case whole == 0:
		return strconv.Itoa(rest) + "/" + strconv.Itoa(of)
	}
	return strconv.Itoa(whole) + " " + strconv.Itoa(rest) + "/" + strconv.Itoa(of)
}

// ways are the ways of writing a part of a stop, that of the text first.
func ways(was string) []string {
	first := "tenths"
	switch {
	case strings.Contains(was, "/10"):
		first = "/10"
	case strings.Contains(was, "/3") || strings.ContainsAny(was, "⅓⅔"):
		first = "thirds"
	case strings.Contains(was, "/2") || strings.Contains(was, "½"):
		first = "halves"
	}
	return []string{first, "tenths", "thirds", "hundredths"}
}
