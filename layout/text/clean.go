package text

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// Clean makes a string fit to be set on one line: valid UTF-8, letters and
// their combining accents made one, every kind of white space but the no-break
// ones a space, controls and unseen marks of direction gone, and Box for each
// rune that the fonts do not hold. Those are given back in order, each once;
// utf8.RuneError stands for bytes that are no UTF-8.
func Clean(s string) (clean string, missing []rune) {
	if isClean(s) {
		return s, nil
	}
	s = strings.ToValidUTF8(s, string(utf8.RuneError))
	if strings.ContainsFunc(s, isCombining) {
		s = norm.NFC.String(s)
	}
	var out strings.Builder
	out.Grow(len(s))
	for _, r := range s {
		switch {
		case isUnseen(r):
		case isBlank(r):
			out.WriteByte(' ')
		case Has(r):
			out.WriteRune(r)
		default:
			out.WriteRune(Box)
			if !slices.Contains(missing, r) {
				missing = append(missing, r)
			}
		}
	}
	return out.String(), missing
}

func isClean(s string) bool {
	ascii := 0 // how much of it, of which the fonts hold all that is seen
	for ascii < len(s) && s[ascii] >= ' ' && s[ascii] <= '~' {
		ascii++
	}
	for _, r := range s[ascii:] {
		if !Has(r) {
			return false
		}
	}
	return true
}

func isCombining(r rune) bool { return r >= 0x0300 && r <= 0x036F }

// isBlank tells white space that is set as a plain space.
func isBlank(r rune) bool {
	return (r == '\t' || r == '\n' || r == '\v' || r == '\f' || r == '\r' || unicode.IsSpace(r)) && !Has(r)
}

// isUnseen tells what has no ink and no width: controls, the soft hyphen,
// joiners, marks of direction, variation selectors.
func isUnseen(r rune) bool {
	if isBlank(r) {
		return false
	}
	return unicode.In(r, unicode.Cc, unicode.Cf) || r >= 0xFE00 && r <= 0xFE0F
}
