package setup

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"stopleaf/exposure/apex"
	"stopleaf/setup/grammar"
)

// meaning turns what is written into what is meant, and collects what is wrong
// on the way.
type meaning struct {
	*log
	opt      Options
	units    Units
	notation apex.Notation
	s        *Setup
	gear     *gearList
	plugged  map[*written][]*PackUse // by light as written: one outlet, two for a pair
	dir      string                  // the folder that photo and gear paths start from
}

func quote(s string) string {
	if r := []rune(s); len(r) > 60 {
		s = string(r[:57]) + "..."
	}
	return fmt.Sprintf("%q", s)
}

// line is a text on one line.
func line(w *written) string {
	if w == nil || w.kind != isText {
		return ""
	}
	return strings.Join(strings.Fields(w.text), " ")
}

// block is a text with its line breaks.
func block(w *written) string {
	if w == nil || w.kind != isText {
		return ""
	}
	return strings.ReplaceAll(w.text, "\r", "")
}

func (m *meaning) length(w *written) *float64 {
	return parsed(m, w, "length", func(s string) (float64, error) { return ParseLength(s, m.units) })
}

// word takes one of the known words; others are refused.
func (m *meaning) word(w *written, known []string) string {
	if !m.isText(w, "word") {
		return ""
	}
	if k := among(w.text, known); k != "" {
		return k
	}
	m.err(w.pos, "unknown-word", quote(w.text)+" is not understood here", suggest(w.text, known))
	return ""
}

// openWord takes one of the known words, or keeps the user's own with a
// warning.
func (m *meaning) openWord(w *written, known []string, what string) string {
	if !m.isText(w, "word") {
		return ""
	}
	if k := among(w.text, known); k != "" {
		return k
	}
	m.warn(w.pos, "unknown-word", fmt.Sprintf("%s is no %s the program knows; it is kept as written", quote(w.text), what), suggest(w.text, known))
	return line(w)
}

func among(s string, known []string) string {
	s = grammar.Canonical(s)
	for _, k := range known {
		if grammar.Canonical(k) == s {
			return k
		}
	}
	return ""
}

// words of a key, from the table.
func wordsOf(object, key string) []string {
	return grammar.Find(object).Key(key).Words
}

// texts gives the texts of a list, or of one text parted at its commas: here a
// comma means a list, never a decimal.
func (m *meaning) texts(w *written) []*written {
	switch {
	case w == nil:
		return nil
	case w.kind == isList:
		return w.items
	}
	var out []*written
	for _, part := range strings.Split(w.text, ",") {
		if part = strings.TrimSpace(part); part != "" {
			out = append(out, &written{pos: w.pos, kind: isText, text: part, quoted: w.quoted})
		}
	}
	return out
}

// parts cuts a text at its commas, but not inside a number with a decimal
// comma: "55 left, 1,4 m" has two parts, "1.4,2.15" too.
func parts(s string) []string {
	var out []string
	start := 0
	for i := 0; i < len(s); i++ {
		if s[i] == ',' && !decimalComma(s, i) {
			out = append(out, strings.TrimSpace(s[start:i]))
			start = i + 1
		}
	}
	return append(out, strings.TrimSpace(s[start:]))
}

func decimalComma(s string, at int) bool {
	before, after := at-1, at+1
	for before >= 0 && isDigit(s[before]) {
		before--
	}
	for after < len(s) && isDigit(s[after]) {
		after++
	}
	if before == at-1 || after == at+1 {
		return false
	}
	if before >= 0 && strings.IndexByte(".,:/", s[before]) >= 0 {
		return false
	}
	return after == len(s) || strings.IndexByte(".,:/", s[after]) < 0 || s[after] == ',' && (after+1 == len(s) || s[after+1] == ' ')
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// unitWords are the spellings of a unit, with what one of it is worth.
type unitWord struct {
	word  string
	worth float64
}

func unitWords(unit string) []unitWord {
	switch unit {
	case "K":
		return []unitWord{{"kelvin", 1}, {"k", 1}}
	case "V":
		return []unitWord{{"volts", 1}, {"volt", 1}, {"v", 1}}
	case "A":
		return []unitWord{{"amperes", 1}, {"ampere", 1}, {"amps", 1}, {"amp", 1}, {"ma", 0.001}, {"a", 1}}
	case "mm²":
		return []unitWord{{"mm²", 1}, {"mm2", 1}, {"mm^2", 1}, {"sq mm", 1}}
	case "%":
		return []unitWord{{"%", 1}, {"percent", 1}}
	case "kg": // the pound is 0.45359237 kg exactly
		return []unitWord{{"kilograms", 1}, {"kilogram", 1}, {"kg", 1}, {"g", 0.001}, {"lbs", 0.45359237}, {"lb", 0.45359237}}
	case "Ws":
		return []unitWord{{"ws", 1}, {"w s", 1}, {"joules", 1}, {"joule", 1}, {"j", 1}}
	case "W":
		return []unitWord{{"watts", 1}, {"watt", 1}, {"kw", 1000}, {"w", 1}}
	case "°":
		return []unitWord{{"degrees", 1}, {"degree", 1}, {"deg", 1}, {"°", 1}}
	case "mired":
		return []unitWord{{"mired", 1}, {"mireds", 1}}
	case "dpi":
		return []unitWord{{"dpi", 1}}
	case "mm":
		return []unitWord{{"mm", 1}, {"millimetres", 1}, {"millimeters", 1}}
	}
	return nil
}

// number takes a number between two bounds, with or without its unit.
func (m *meaning) number(w *written, what, unit string, least, most float64) *float64 {
	if !m.isText(w, "number") {
		return nil
	}
	v, err := parseNumber(w.text, unit)
	if err == nil && !(v >= least && v <= most) {
		err = fmt.Errorf("%s %s is not between %s and %s%s", what, quote(w.text), short(least), short(most), spaced(unit))
	}
	if err != nil {
		m.bad(w.pos, "number", err)
		return nil
	}
	return &v
}

func spaced(unit string) string {
	if unit == "" {
		return ""
	}
	return " " + unit
}

func short(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// parseNumber reads a plain decimal, with a sign or not, and the unit after it.
// There is no exponent, no octal, no infinity.
func parseNumber(s, unit string) (float64, error) {
	bad := fmt.Errorf("%s is not a number: write digits and at most one point%s", quote(s), andUnit(unit))
	t := strings.ToLower(strings.TrimSpace(strings.ReplaceAll(s, "\u2212", "-")))
	worth := 1.0
	for _, u := range unitWords(unit) {
		if body, ok := strings.CutSuffix(t, u.word); ok {
			t, worth = strings.TrimSpace(body), u.worth
			break
		}
	}
	sign := 1.0
	if rest, ok := strings.CutPrefix(t, "-"); ok {
		t, sign = rest, -1
	} else if rest, ok := strings.CutPrefix(t, "+"); ok {
		t = rest
	}
	if err := leadingZero(t, s); err != nil {
		return 0, err
	}
	n, rest, ok := leadNumber(t)
	if !ok || rest != "" {
		return 0, bad
	}
	v := sign * n * worth
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, bad
	}
	return v + 0, nil
}

func andUnit(unit string) string {
	if unit == "" {
		return ""
	}
	return ", then " + unit + " or nothing"
}

// yesNo takes yes or no; nil when neither is written.
func (m *meaning) yesNo(w *written) *bool {
	if !m.isText(w, "word") {
		return nil
	}
	yes, no := true, false
	switch strings.ToLower(w.text) {
	case "yes", "true", "on":
		return &yes
	case "no", "false", "off":
		return &no
	}
	m.err(w.pos, "unknown-word", quote(w.text)+" is neither yes nor no", "allowed: yes, no")
	return nil
}

// date takes a day of the calendar as 2026-03-14.
func (m *meaning) date(w *written) string {
	if !m.isText(w, "date") {
		return ""
	}
	if d, err := time.Parse("2006-01-02", w.text); err == nil && d.Year() >= 1800 {
		return w.text
	}
	m.err(w.pos, "bad-date", quote(w.text)+" is not a day", "write year-month-day, 2026-03-14")
	return ""
}

// ParseAngle reads "55 left", "0" or "180": degrees from 0 to 180, and -1 for
// left, 1 for right, 0 for neither said. The error says what was allowed.
func ParseAngle(s string) (deg float64, side int, err error) { return parseAngle(s) }

// ParseClock reads "7:30", a place on a clock face that lies on the floor with the
// camera at 6: the angle from the camera, and the side as of ParseAngle.
func ParseClock(s string) (deg float64, side int, err error) { return parseClock(s) }

// Parts cuts a text at its commas, but not inside a number with a decimal comma:
// "55 left, 1,4 m" has two parts, "1.4,2.15" too. White space around them is gone.
func Parts(s string) []string { return parts(s) }

// ParseNumber reads a plain decimal, with a sign or not, and the unit after it or
// none: "%", "mm", "K" and the others of the format. The error says what was
// allowed.
func ParseNumber(s, unit string) (float64, error) { return parseNumber(s, unit) }

// parseAngle takes "55 left", "0" or "180": degrees, and -1 for left, 1 for
// right, 0 for neither.
func parseAngle(s string) (deg float64, side int, err error) {
	t := strings.Fields(strings.ToLower(strings.ReplaceAll(s, "°", " ")))
	bad := fmt.Errorf("%s is not an angle: write 55 left, 120 right, 0 or 180", quote(s))
	if len(t) == 0 {
		return 0, 0, bad
	}
	switch last := t[len(t)-1]; last {
	case "left", "l":
		side, t = -1, t[:len(t)-1]
	case "right", "r":
		side, t = 1, t[:len(t)-1]
	}
	var kept []string
	for _, word := range t {
		switch word {
		case "deg", "degrees", "degree", "camera", "to", "toward", "towards", "the":
		default:
			kept = append(kept, word)
		}
	}
	if len(kept) != 1 {
		return 0, 0, bad
	}
	deg, nerr := parseNumber(strings.TrimSuffix(kept[0], "deg"), "")
	switch {
	case nerr != nil:
		return 0, 0, bad
	case deg < 0:
		return 0, 0, fmt.Errorf("%s has a sign: write the side in words, 55 left or 55 right", quote(s))
	case deg > 180:
		return 0, 0, fmt.Errorf("%s is beyond 180: 0 is toward the camera, 90 beside, 180 behind, on the left or on the right", quote(s))
	}
	return deg, side, nil
}

// parseClock reads a place on a clock face that lies on the floor with the
// camera at 6: the angle from the camera, and the side.
func parseClock(s string) (deg float64, side int, err error) {
	bad := fmt.Errorf("%s is not a clock position: write 7:30, with the camera at 6", quote(s))
	t := strings.ToLower(strings.TrimSpace(s))
	t = strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(t, "o'clock"), "o’clock"))
	hours, minutes, has := strings.Cut(t, ":")
	h, herr := strconv.Atoi(hours)
	mins := 0
	if has {
		var merr error
		if mins, merr = strconv.Atoi(minutes); merr != nil || len(minutes) != 2 {
			return 0, 0, bad
		}
	}
	if herr != nil || len(hours) > 2 || h < 1 || h > 12 || mins < 0 || mins > 59 {
		return 0, 0, bad
	}
	turn := math.Mod(float64(h)*30+float64(mins)/2+180, 360) // clockwise from 6
	switch {
	case turn == 0 || turn == 180:
		return turn, 0, nil
	case turn < 180:
		return turn, -1, nil
	}
	return 360 - turn, 1, nil
}

// turned takes the way something faces, degrees, positive to camera right.
func (m *meaning) turned(w *written) *float64 {
	if !m.isText(w, "angle") {
		return nil
	}
	deg, side, err := parseAngle(w.text)
	if err == nil && side == 0 && deg != 0 && deg != 180 {
		err = fmt.Errorf("%s does not say which way: write %s left or %s right", quote(w.text), short(deg), short(deg))
	}
	if err != nil {
		m.bad(w.pos, "angle", err)
		return nil
	}
	if side < 0 {
		deg = -deg
	}
	return &deg
}
