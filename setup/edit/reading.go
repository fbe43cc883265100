package edit

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"stopleaf/exposure/apex"
)

// Meter is what a reading depends on: how bare figures are meant, and for
// exposure values the time and the speed that they are read at, nil where not
// known.
type Meter struct {
	Notation apex.Notation
	ShutterS *float64 // s
	ISO      *float64
}

// av understands a reading as package setup does; ok is false for what it would
// refuse.
func (m Meter) av(s string) (av float64, warned, ok bool) {
	n := m.Notation
	n.Comma = true
	r, err := apex.ParseReading(s, n)
	if err != nil || r.NeedsTime() && m.ShutterS == nil || r.NeedsISO() && m.ISO == nil {
		return 0, false, false
	}
	tv, sv := m.exposure()
	return r.Av(tv, sv), r.Warning != "", true
}

func (m Meter) exposure() (tv, sv float64) {
	if m.ShutterS != nil {
		tv = apex.Tv(*m.ShutterS)
	}
	if m.ISO != nil {
		sv = apex.Sv(*m.ISO)
	}
	return tv, sv
}

// Reading writes an aperture value as a reading was written: "f/8 +0.4", "8 4",
// "f/9", "9.7", "EV 12.3". Where that does not hold it the mark and tenths, thirds
// or hundredths do. It is an error beyond what the format takes.
func Reading(was string, av float64, m Meter) (string, error) {
	old, warned, ok := m.av(was)
	if ok && math.Abs(old-av) <= sameStops+1e-9 {
		return was, nil
	}
	good := func(s string) bool {
		got, w, ok := m.av(s)
		return ok && math.Abs(got-av) <= sameStops+1e-9 && (warned || !w)
	}
	trimmed := strings.TrimSpace(was)
	texts := append(m.like(trimmed, av), marks("f/", av, m.Notation.Halves)...)
	texts = append(texts, offsets("f/", " +", av, ways(""), false)...)
	if f := apex.FNumber(av); f > 0 && !math.IsInf(f, 0) {
		texts = append(texts, "f/"+decimals(f, 1, false), "f/"+decimals(f, 2, false), "f/"+decimals(f, 3, false))
	}
	if text, ok := firstGood(good, texts...); ok {
		return text, nil
	}
	return "", fmt.Errorf("an aperture value of %.2f cannot be written as a reading", av)
}

// like are the ways in which a reading could be written like another.
func (m Meter) like(was string, av float64) []string {
	low := strings.ToLower(was)
	if strings.Contains(low, "ev") {
		return m.exposureValues(was, low, av)
	}
	f, ok := firstFigure(was)
	if !ok {
		return nil
	}
	prefix, rest := was[:f.from], was[f.to:]
	bare := prefix == ""
	if rest != "" {
		return m.offsetsLike(prefix, rest, av, f.comma)
	}
	number, err := strconv.ParseFloat(strings.Replace(was[f.from:f.to], ",", ".", 1), 64)
	_, marked := apex.MarkAv(number, m.Notation.Halves)
	switch {
	case err != nil:
		return nil
	case bare && m.Notation.Bare == "tenths" && f.places > 0 && !isWhole(number):
		return append(tenthsBare(av, f.comma), marks(prefix, av, m.Notation.Halves)...)
	case marked:
		return withComma(append(marks(prefix, av, m.Notation.Halves), offsets(prefix, " +", av, ways(""), f.comma)...), f.comma)
	}
	var texts []string
	for places := f.places; places <= f.places+3; places++ {
		texts = append(texts, prefix+decimals(apex.FNumber(av), places, f.comma))
	}
	return texts
}

func withComma(texts []string, comma bool) []string {
	for i := range texts {
		if comma {
			texts[i] = strings.ReplaceAll(texts[i], ".", ",")
		}
	}
	return texts
}

func isWhole(f float64) bool {
	mark, _ := apex.Whole(apex.Av(f))
	return mark == "f/"+strconv.FormatFloat(f, 'g', -1, 64)
}

// marks are the third-stop and half-stop marks nearest to an aperture.
func marks(prefix string, av float64, halves bool) []string {
	third, half := apex.Third(av), apex.Half(av)
	if halves {
		third, half = half, third
	}
	return []string{prefix + strings.TrimPrefix(third, "f/"), prefix + strings.TrimPrefix(half, "f/")}
}

// offsets are the whole-stop mark at or below an aperture and what is left, in
// each of the ways.
func offsets(prefix, plus string, av float64, ways []string, comma bool) (texts []string) {
	mark, exact := wholeBelow(av)
	if mark == "" {
		return nil
	}
	if av-exact <= sameStops {
		texts = append(texts, prefix+mark)
	}
	for _, way := range ways {
		if part := offset(av-exact, way, comma); part != "" {
			texts = append(texts, prefix+mark+plus+part)
		}
	}
	return withComma(texts, comma)
}

// wholeBelow is the whole-stop mark at or below an aperture; "" outside the marks.
func wholeBelow(av float64) (mark string, exact float64) {
	floor := math.Floor(av + sameStops)
	mark, exact = apex.Whole(floor)
	if exact != floor {
		return "", 0
	}
	return strings.TrimPrefix(mark, "f/"), exact
}

// offsetsLike are those in the way of what stands behind a mark: "+0.4", " 4",
// " 3/10", "+1/3".
func (m Meter) offsetsLike(prefix, rest string, av float64, comma bool) []string {
	f, ok := firstFigure(rest)
	if !ok {
		return nil
	}
	plus := rest[:f.from]
	comma = comma || f.comma
	if f.to == len(rest) && f.to == f.from+1 && f.from > 0 && strings.TrimSpace(plus) == "" { // 8 4
		var texts []string
		if mark, exact := wholeBelow(av); mark != "" {
			if n := math.Round((av - exact) * 10); n == 0 {
				texts = append(texts, prefix+mark)
			} else {
				texts = append(texts, prefix+mark+plus+strconv.Itoa(int(n)))
			}
		}
		return withComma(append(texts, offsets(prefix, " +", av, ways(""), comma)...), comma)
	}
	if strings.Contains(plus, "-") || strings.TrimSpace(plus) == "" && !strings.Contains(rest, "/") {
		plus = " +"
	}
	in := ways(rest)
	texts := append(offsets(prefix, plus, av, in[:2], comma), withComma(marks(prefix, av, m.Notation.Halves), comma)...)
	return append(texts, offsets(prefix, plus, av, in[2:], comma)...)
}

// tenthsBare is a mark and a digit of tenths as a meter shows them: 8.5, 5.68.
func tenthsBare(av float64, comma bool) []string {
	mark, exact := wholeBelow(av)
	n := int(math.Round((av - exact) * 10))
	switch {
	case mark == "":
		return nil
	case n == 0:
		return withComma([]string{mark}, comma)
	case strings.Contains(mark, "."):
		return withComma([]string{mark + strconv.Itoa(n)}, comma)
	}
	return withComma([]string{mark + "." + strconv.Itoa(n)}, comma)
}

// exposureValues are the ways of writing an aperture as an exposure value.
func (m Meter) exposureValues(was, low string, av float64) (texts []string) {
	tv, sv := m.exposure()
	ev := av + tv
	if strings.Contains(low, "ev100") {
		ev += 5 - sv
	}
	before, after := "", was
	for _, head := range []string{"ev100", "ev"} {
		if strings.HasPrefix(low, head) {
			before, after = was[:len(head)], was[len(head):]
			break
		}
	}
	f, ok := firstFigure(after)
	if !ok {
		return nil
	}
	from := f.from - len(after[:f.from]) + len(strings.TrimRight(after[:f.from], "+-−"))
	for places := f.places; places <= f.places+2; places++ {
		texts = append(texts, before+after[:from]+decimals(ev, places, f.comma)+after[f.to:])
	}
	return texts
}

// Time writes an exposure time as one was written: "1/200", "0.5 s", `2"`: the mark
// nearest, a fraction of a second, or a decimal that holds it. It is an error
// beyond what the format takes.
func Time(was string, seconds float64, n apex.Notation) (string, error) {
	n.Comma = true
	good := func(s string) bool {
		got, err := apex.ParseTime(s, n)
		return err == nil && math.Abs(math.Log2(got/seconds)) <= sameStops+1e-9
	}
	if good(was) {
		return was, nil
	}
	suffix := strings.TrimLeft(strings.TrimSpace(was), "0123456789./, ")
	if i := strings.IndexAny(was, "0123456789"); suffix == "" || i < 0 {
		suffix = "s"
	}
	lead := " "
	if body := strings.TrimSuffix(strings.TrimSpace(was), suffix); body != strings.TrimSpace(was) && !strings.HasSuffix(body, " ") {
		lead = ""
	}
	unit := func(s string) string {
		if body, ok := strings.CutSuffix(s, " s"); ok {
			return body + lead + suffix
		}
		if strings.Contains(was, "/") && strings.HasSuffix(strings.TrimSpace(was), suffix) && s != "" {
			return s + lead + suffix
		}
		return s
	}
	texts := []string{unit(apex.FormatTime(seconds))}
	if tv := apex.Tv(seconds); n.Halves {
		texts = append(texts, unit(apex.FormatTime(apex.Seconds(math.Round(tv*2)/2))))
	}
	if seconds < 0.5 && seconds > 0 {
		texts = append(texts, unit("1/"+decimals(1/seconds, 0, false)))
	}
	f, _ := firstFigure(was)
	for places := 1; places <= 7; places++ {
		texts = append(texts, unit(decimals(seconds, places, f.comma && !strings.Contains(was, "/"))+" s"))
	}
	if text, ok := firstGood(good, texts...); ok {
		return text, nil
	}
	return "", fmt.Errorf("a time of %g s cannot be written", seconds)
}
