package setup

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// maxLength bounds every length on a set, metres.
const maxLength = 100.0

// lengthUnits are the units a length may be written in. The international foot
// is 0.3048 m exactly.
var lengthUnits = [...]struct {
	words  []string
	metres float64
	then   Units // the smaller unit that may follow
}{
	{[]string{"millimetres", "millimeters", "millimetre", "millimeter", "mm"}, 0.001, ""},
	{[]string{"centimetres", "centimeters", "centimetre", "centimeter", "cm"}, 0.01, ""},
	{[]string{"metres", "meters", "metre", "meter", "m"}, 1, Centimetres},
	{[]string{"feet", "foot", "ft.", "ft", "'"}, 0.3048, Inches},
	{[]string{"inches", "inch", "in.", "in", "\""}, 0.0254, ""},
}

// ParseLength reads a length into metres: "1.2 m", "120 cm", "1,2", "4 ft 6 in",
// "4'6\"", "6 1/2 in". A bare number is in units. The error says what was
// allowed, or that the length is not between 0 and 100 m.
func ParseLength(s string, units Units) (float64, error) {
	bad := fmt.Errorf("%q is not a length: write 1.2 m, 120 cm, 4 ft 6 in or 4'6\"", s)
	if len(s) > 40 {
		return 0, fmt.Errorf("too long for a length: write 1.2 m, 120 cm or 4 ft 6 in")
	}
	rest := plainLength(s)
	if strings.HasPrefix(rest, "-") {
		return 0, fmt.Errorf("%q is below zero: write the length, and the other side (left for right, behind for front)", s)
	}
	if err := leadingZero(rest, s); err != nil {
		return 0, err
	}
	total, next := 0.0, 0.0
	bare := unitSize(units)
	parts := 0
	for ; rest != ""; parts++ {
		n, after, ok := leadNumber(rest)
		if !ok || parts > 1 {
			return 0, bad
		}
		size, then, tail, ok := leadUnit(after)
		switch {
		case !ok && after == "" && bare > 0:
			size, tail = bare, ""
		case !ok:
			return 0, bad
		}
		if parts == 1 && size != next {
			return 0, bad
		}
		total += n * size
		next = unitSize(then)
		rest, bare = tail, next
		if tail != "" && then == "" {
			return 0, bad
		}
		if then == Centimetres { // "1 m 40" may be 1.04 or 1.40
			bare = 0
		}
	}
	switch {
	case parts == 0:
		return 0, bad
	case !(total >= 0 && total <= maxLength):
		return 0, fmt.Errorf("%q is not between 0 and 100 m: check the unit", s)
	}
	return total, nil
}

func plainLength(s string) string {
	if !plainASCII(s) || strings.Contains(s, "''") {
		s = strings.NewReplacer("′′", "\"", "''", "\"", "″", "\"", "”", "\"", "“", "\"", "′", "'", "’", "'",
			"½", " 1/2", "¼", " 1/4", "¾", " 3/4", "\u00a0", " ", "\u2009", " ", "\u202f", " ", "\u2212", "-").Replace(s)
	}
	return strings.Join(strings.Fields(strings.ToLower(s)), " ")
}

func plainASCII(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] >= 0x80 {
			return false
		}
	}
	return true
}

// leadingZero refuses "010", which YAML elsewhere reads as eight.
func leadingZero(rest, s string) error {
	if len(rest) > 1 && rest[0] == '0' && rest[1] >= '0' && rest[1] <= '9' {
		return fmt.Errorf("%q begins with an idle zero: write %s", s, strings.TrimLeft(rest, "0"))
	}
	return nil
}

// leadNumber takes a decimal, or a whole number and a fraction, off the front.
func leadNumber(s string) (n float64, rest string, ok bool) {
	i := 0
	for i < len(s) && (s[i] >= '0' && s[i] <= '9' || s[i] == '.' || s[i] == ',') {
		i++
	}
	text := strings.Replace(s[:i], ",", ".", 1)
	if i == 0 || i > 20 || strings.HasSuffix(text, ".") || strings.ContainsAny(text, ",") {
		return 0, "", false
	}
	n, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return 0, "", false
	}
	rest = strings.TrimSpace(s[i:])
	if strings.HasPrefix(rest, "/") { // 1/2 in
		bottom, after, ok := leadWhole(rest[1:])
		if !ok || strings.Contains(text, ".") {
			return 0, "", false
		}
		return n / bottom, after, true
	}
	if top, after, ok := leadWhole(rest); ok && strings.HasPrefix(after, "/") { // 6 1/2 in
		bottom, after, ok := leadWhole(after[1:])
		if !ok || top >= bottom || strings.Contains(text, ".") {
			return 0, "", false
		}
		return n + top/bottom, after, true
	}
	return n, rest, true
}

func leadWhole(s string) (n float64, rest string, ok bool) {
	s = strings.TrimSpace(s)
	i := 0
	for i < len(s) && s[i] >= '0' && s[i] <= '9' {
		i++
	}
	if i == 0 || i > 4 {
		return 0, "", false
	}
	n, err := strconv.ParseFloat(s[:i], 64)
	return n, strings.TrimSpace(s[i:]), err == nil && n > 0
}

func leadUnit(s string) (size float64, then Units, rest string, ok bool) {
	s = strings.TrimSpace(s)
	for _, u := range lengthUnits {
		for _, w := range u.words {
			tail, found := strings.CutPrefix(s, w)
			if found && (tail == "" || tail[0] < 'a' || tail[0] > 'z') {
				return u.metres, u.then, strings.TrimSpace(tail), true
			}
		}
	}
	return 0, "", "", false
}

func unitSize(u Units) float64 {
	switch u {
	case Metres:
		return 1
	case Centimetres:
		return 0.01
	case Feet:
		return 0.3048
	case Inches:
		return 0.0254
	}
	return 0
}

// FormatLength prints metres in the set's units: "1.40 m", "140 cm",
// "4 ft 7½ in" and "55½ in" to the nearest half inch. What is not finite
// prints as "".
func FormatLength(m float64, units Units) string {
	if math.IsNaN(m) || math.IsInf(m, 0) {
		return ""
	}
	sign := ""
	if m < 0 {
		m, sign = -m, "\u2212"
	}
	switch units {
	case Centimetres:
		return signUnlessZero(sign, strconv.FormatFloat(math.Floor(m*100+0.5+1e-9), 'f', 0, 64)) + " cm"
	case Feet, Inches:
		halves := int64(math.Floor(m/0.0254*2 + 0.5 + 1e-9))
		if halves == 0 {
			sign = ""
		}
		if units == Inches {
			return sign + inches(halves) + " in"
		}
		feet, rest := halves/24, halves%24
		if rest == 0 {
			return sign + strconv.FormatInt(feet, 10) + " ft"
		}
		if feet == 0 {
			return sign + inches(rest) + " in"
		}
		return sign + strconv.FormatInt(feet, 10) + " ft " + inches(rest) + " in"
	}
	return signUnlessZero(sign, strconv.FormatFloat(math.Floor(m*100+0.5+1e-9)/100, 'f', 2, 64)) + " m"
}

func inches(halves int64) string {
	whole := strconv.FormatInt(halves/2, 10)
	switch {
	case halves%2 == 0:
		return whole
	case halves == 1:
		return "½"
	}
	return whole + "½"
}

func signUnlessZero(sign, digits string) string {
	if strings.Trim(digits, "0.") == "" {
		return digits
	}
	return sign + digits
}
