package edit

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"stopleaf/setup"
)

// sameLength is how far a length as it is written may be from what is meant,
// metres. What stands there is left alone within it.
const sameLength = 0.0005

// Length writes metres as a length was written: "1.4 m", "140 cm", "4 ft 6 in",
// `4'6"`, and a bare number in the units given. Metric and bare figures take as few
// digits as hold half a millimetre, and those that were written at least; inches
// are whole, eighths, or decimals that hold it. was may be "". It is an error for
// what is no length, below 0 or above 100 m.
func Length(was string, m float64, bare setup.Units) (string, error) {
	return lengthWithin(was, m, bare, sameLength)
}

func lengthWithin(was string, m float64, bare setup.Units, slack float64) (string, error) {
	if !(m >= 0 && m <= 100) {
		return "", fmt.Errorf("a length of %.3g m cannot be written: it is not between 0 and 100 m", m)
	}
	good := func(s string) bool {
		got, err := setup.ParseLength(s, bare)
		return err == nil && math.Abs(got-m) <= slack+1e-9
	}
	if _, err := setup.ParseLength(was, bare); err != nil {
		was = ""
	}
	text := was
	if was == "" || !good(was) {
		text = lengthShape(was, bare).write(m, slack)
	}
	if !good(text) {
		return "", fmt.Errorf("a length of %.4f m cannot be written like %q", m, was)
	}
	return text, nil
}

// shape is how a length is written.
type shape struct {
	figure figure
	before string
	after  string  // of the one figure: " m"
	size   float64 // of its unit, m

	feet    string // between feet and inches, " ft "; "" for inches alone
	inches  string // behind inches, " in"; "" where it is not in inches
	glyphs  bool   // ½ for 1/2
	centi   string // behind centimetres that follow metres, " cm"
	between string // and between the two, " m "
}

// glyphs are the fractions that have a character of their own.
var glyphs = strings.NewReplacer("½", " 1/2", "¼", " 1/4", "¾", " 3/4")

func lengthShape(was string, bare setup.Units) shape {
	plain := strings.TrimSpace(glyphs.Replace(was))
	s := shape{glyphs: glyphs.Replace(was) != was, size: unit("", bare)}
	f, ok := firstFigure(plain)
	if !ok {
		return s
	}
	s.figure, s.before = f, plain[:f.from]
	rest := plain[f.to:]
	next, more := firstFigure(rest)
	switch first := strings.TrimRight(rest[:next.from], " "); {
	case !more:
		s.after, s.size = rest, unit(rest, bare)
		if foot := math.Abs(s.size-0.3048) < 1e-9 && rest != ""; foot && f.places == 0 {
			s.feet = rest
			s.inches = inchesAfter(rest)
		} else if math.Abs(s.size-0.0254) < 1e-9 && rest != "" {
			s.inches = rest
		}
	case first == "" || strings.HasSuffix(first, "/"): // 6 1/2 in
		s.inches = strings.TrimLeft(rest, " /0123456789")
		s.inches = rest[len(rest)-len(s.inches)-len(gap(rest[:len(rest)-len(s.inches)])):]
		if math.Abs(unit(s.inches, bare)-0.0254) > 1e-9 || strings.TrimSpace(s.inches) == "" {
			s.after, s.size, s.inches = s.inches, unit(s.inches, bare), ""
		}
	case math.Abs(unit(first, bare)-1) < 1e-9: // 1 m 40 cm
		s.between, s.centi = rest[:next.from], rest[next.to:]
		s.figure = next
	default:
		s.feet = rest[:next.from]
		s.inches = inchesAfter(first)
		if behind := strings.TrimLeft(rest[next.to:], "./,0123456789 "); behind != "" {
			all := rest[next.to:]
			s.inches = all[len(all)-len(behind)-len(gap(all[:len(all)-len(behind)])):]
		}
	}
	return s
}

// gap is the white space that a text ends with.
func gap(s string) string { return s[len(strings.TrimRight(s, " ")):] }

// inchesAfter is how inches are written after such feet.
func inchesAfter(feet string) string {
	low := strings.ToLower(strings.TrimSpace(feet))
	switch {
	case strings.Trim(low, "'′’") == "":
		return map[string]string{"'": "\"", "′": "″", "’": "”"}[low]
	case low == "feet" || low == "foot":
		return " inches"
	}
	return gap(feet[:len(feet)-len(strings.TrimLeft(feet, " "))]) + strings.Replace(low, "ft", "in", 1)
}

// unit is the size of the unit that a text names, m.
func unit(text string, bare setup.Units) float64 {
	m, err := setup.ParseLength("1"+text, bare)
	if err != nil {
		return 1
	}
	return m
}

func (s shape) write(m, slack float64) string {
	switch {
	case s.inches != "":
		return s.before + s.inFeet(m, slack)
	case s.centi != "":
		whole := math.Floor(m + slack)
		rest, _ := fewest(math.Max((m-whole)*100, 0), s.figure, func(t string) bool { return near(t, (m-whole)*100, slack*100) })
		return s.before + strconv.Itoa(int(whole)) + s.between + rest + s.centi
	}
	text, ok := fewest(m/s.size, s.figure, func(t string) bool { return near(t, m/s.size, slack/s.size) })
	if !ok {
		return ""
	}
	return s.before + text + s.after
}

func near(text string, v, slack float64) bool {
	got, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	return err == nil && math.Abs(got-v) <= slack
}

// inFeet writes feet and inches, or inches alone.
func (s shape) inFeet(m, slack float64) string {
	total := m / 0.0254
	parts, each := math.Round(total*8), 8.0
	if math.Abs(parts/8-total)*0.0254 > slack {
		for each = 10; ; each *= 10 {
			if parts = math.Round(total * each); math.Abs(parts/each-total)*0.0254 <= slack || each > 1e5 {
				break
			}
		}
	}
	feet := 0.0
	if s.feet != "" {
		feet = math.Floor(parts / (12 * each))
	}
	rest := parts - feet*12*each
	out := ""
	if feet > 0 {
		out = strconv.Itoa(int(feet)) + s.feet
		if rest == 0 {
			return strings.TrimRight(out, " ")
		}
		if sep := strings.TrimSpace(s.feet); gap(s.feet) == "" && strings.Trim(sep, "'′’") != "" {
			out += " "
		}
	}
	return out + s.part(rest, each) + s.inches
}

// part writes inches: whole, with a fraction, or as a decimal.
func (s shape) part(n, each float64) string {
	if each != 8 {
		return strings.TrimSuffix(strings.TrimRight(decimals(n/each, 5, s.figure.comma), "0"), ".")
	}
	whole, rest, of := int(n)/8, int(n)%8, 8
	for rest > 0 && rest%2 == 0 {
		rest, of = rest/2, of/2
	}
	if rest == 0 {
		return strconv.Itoa(whole)
	}
	text := strconv.Itoa(rest) + "/" + strconv.Itoa(of)
	if s.glyphs && of < 8 {
		text = map[string]string{"1/2": "½", "1/4": "¼", "3/4": "¾"}[text]
		if whole > 0 {
			return strconv.Itoa(whole) + text
		}
		return text
	}
	if whole > 0 {
		return strconv.Itoa(whole) + " " + text
	}
	return text
}
