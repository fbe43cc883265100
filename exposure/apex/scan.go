package apex

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// longest is the longest notation anyone writes, in bytes; what is longer is
// refused before it is looked at.
const longest = 64

var replacer = strings.NewReplacer(
	"\u2212", "-", "\u2013", "-", "\u2011", "-", "\u2010", "-", // minus, en dash, hyphens
	"\u00a0", " ", "\u2009", " ", "\u202f", " ", "\t", " ",
	"½", " 1/2", "⅓", " 1/3", "⅔", " 2/3", "¼", " 1/4", "¾", " 3/4",
	"⁄", "/", "ƒ", "f", "″", "\"", "”", "\"", "''", "\"", "′′", "\"",
	"⁰", " 0", "¹", " 1", "²", " 2", "³", " 3", "⁴", " 4", "⁵", " 5", "⁶", " 6", "⁷", " 7", "⁸", " 8", "⁹", " 9",
	"₀", " 0", "₁", " 1", "₂", " 2", "₃", " 3", "₄", " 4", "₅", " 5", "₆", " 6", "₇", " 7", "₈", " 8", "₉", " 9",
)

// clean brings one spelling to what the parsers read: lower case, ASCII signs,
// single spaces.
func clean(s, what string) (string, error) {
	if len(s) > longest {
		return "", fmt.Errorf("too long for %s", what)
	}
	if !utf8.ValidString(s) {
		return "", fmt.Errorf("%q is not %s: it is not text", s, what)
	}
	plain := true
	for i := 0; i < len(s); i++ {
		if s[i] >= 0x80 || s[i] == '\t' || s[i] == '\'' {
			plain = false
			break
		}
	}
	if !plain {
		s = replacer.Replace(s)
	}
	return strings.Join(strings.Fields(strings.ToLower(s)), " "), nil
}

// decimal reads digits with at most one decimal sign: no sign, no exponent, no
// words for infinity.
func decimal(s string) (float64, bool) {
	if s == "" || len(s) > 12 {
		return 0, false
	}
	digits, points := 0, 0
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case c >= '0' && c <= '9':
			digits++
		case c == '.' || c == ',':
			points++
		default:
			return 0, false
		}
	}
	if digits == 0 || points > 1 || s[len(s)-1] == '.' || s[len(s)-1] == ',' {
		return 0, false
	}
	v, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
	return v, err == nil
}

// fraction reads a/b of whole numbers, b not zero.
func fraction(s string) (float64, bool) {
	top, bottom, ok := strings.Cut(s, "/")
	if !ok {
		return 0, false
	}
	a, okA := whole(strings.TrimSpace(top))
	b, okB := whole(strings.TrimSpace(bottom))
	if !okA || !okB || b == 0 {
		return 0, false
	}
	return a / b, true
}

func whole(s string) (float64, bool) {
	if s == "" || len(s) > 6 || strings.Trim(s, "0123456789") != "" {
		return 0, false
	}
	v, err := strconv.Atoi(s)
	return float64(v), err == nil
}

// mixed reads 1.7, 2/3 or 1 2/3, without a sign.
func mixed(s string) (float64, bool) {
	if v, ok := decimal(s); ok {
		return v, true
	}
	if v, ok := fraction(s); ok {
		return v, true
	}
	w, f, ok := strings.Cut(s, " ")
	if !ok {
		return 0, false
	}
	a, okA := whole(w)
	b, okB := fraction(f)
	if !okA || !okB || b >= 1 {
		return 0, false
	}
	return a + b, true
}

// signed reads a mixed number with an optional sign; had says whether one was
// written.
func signed(s string) (v float64, had, ok bool) {
	sign := 1.0
	switch {
	case strings.HasPrefix(s, "-"):
		sign, had = -1, true
	case strings.HasPrefix(s, "+"):
		had = true
	}
	if had {
		s = strings.TrimSpace(s[1:])
	}
	v, ok = mixed(strings.TrimSpace(s))
	if v == 0 {
		return 0, had, ok
	}
	return sign * v, had, ok
}

// cutUnit takes one of the words off the end, with or without a space before.
func cutUnit(s string, words ...string) (rest string, ok bool) {
	for _, w := range words {
		if r, found := strings.CutSuffix(s, w); found {
			return strings.TrimSpace(r), true
		}
	}
	return s, false
}

// nearest rounds to a whole number of steps, ties upward, after the nudge that
// keeps 0.3 x 10 a three.
func nearest(x float64) int {
	return int(math.Floor(x + 0.5 + nudge))
}

const nudge = 1e-9
