package check

import (
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"stopleaf/exposure/apex"
	"stopleaf/setup"
)

// way is which way a light is to be turned.
func way(stops float64) string {
	if stops < 0 {
		return "down"
	}
	return "up"
}

// amount is how far, in stops, to a tenth; smaller ones to a hundredth.
func amount(stops float64) string {
	if math.Abs(stops) < 0.05 {
		return fixed(math.Abs(stops), 2)
	}
	return fixed(math.Abs(stops), 1)
}

// counted is how many lights of how many.
func counted(same []*Finding, of int, what string) string {
	n := len(same)
	switch {
	case n < of:
		return strings.TrimSpace(fmt.Sprintf("%d of %d %s", n, of, what))
	case n == 2:
		return strings.TrimSpace("Both " + what)
	}
	return strings.TrimSpace(fmt.Sprintf("All %d %s", n, what))
}

// reading is what lights that agree read, with how far they spread.
func reading(same []*Finding, stops float64) string {
	least, most := math.Inf(1), math.Inf(-1)
	for _, f := range same {
		least, most = math.Min(least, math.Abs(*f.Off)), math.Max(most, math.Abs(*f.Off))
	}
	text := "read " + over(stops)
	if a, b := fixed(least, 1), fixed(most, 1); a != b {
		text += fmt.Sprintf(" (%s to %s)", a, b)
	}
	return text
}

func isoText(iso float64) string { return "ISO " + fixed(iso, 0) }

// it is how a sentence goes on about the zero.
func it(zero string) string {
	if zero == "the key" {
		return "it"
	}
	return zero
}

func capital(s string) string { return cased(s, unicode.ToUpper) }

func lower(s string) string { return cased(s, unicode.ToLower) }

func cased(s string, to func(rune) rune) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(to(r)) + s[n:]
}

// listed joins names for a sentence: "A, B and C".
func listed(names []string) string {
	if n := len(names); n > 1 {
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
	return strings.Join(names, "")
}

// small prints a length of some centimetres in the units of the set.
func (c *checker) small(m float64) string {
	if c.s.Units == setup.Feet || c.s.Units == setup.Inches {
		return fixed(m/0.0254, 1) + " in"
	}
	return fixed(m*100, 0) + " cm"
}

// seconds prints a time with its unit.
func seconds(s float64) string { return strings.TrimSuffix(apex.FormatTime(s), " s") + " s" }

// finite is a rounded figure, nil where it is none.
func finite(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	x = round(x)
	return &x
}
