package text

import (
	"strings"
	"sync"
	"unicode"
)

// Wrap breaks a string into lines no wider than width micrometres at a cap
// height in micrometres. It breaks at spaces, and within words after a hyphen,
// a dash or a slash that stands between letters, so that f/5.6, 1/8 and -1.7
// stay whole; a no-break space never breaks. What has no such place and is
// wider than the line is split between runes, at least one to a line, so that
// nothing is ever lost. Line ends in s are kept, an empty line is "", those at
// the very end are dropped; the lines come back clean (see Clean). An empty
// string has no lines.
func Wrap(s string, capUm int64, bold bool, width int64) []string {
	s = strings.TrimRight(plainEnds(s), "\n")
	if s == "" {
		return nil
	}
	if !strings.Contains(s, "\n") {
		clean, _ := Clean(s)
		return wrapLine(strings.TrimRight(clean, " "), capUm, bold, width)
	}
	var lines []string
	for par := range strings.SplitSeq(s, "\n") {
		clean, _ := Clean(par)
		lines = append(lines, wrapLine(strings.TrimRight(clean, " "), capUm, bold, width)...)
	}
	return lines
}

// plainEnds writes every kind of line end as "\n". Most strings have none.
func plainEnds(s string) string {
	for i := range len(s) {
		switch s[i] {
		case '\r', "\u2028"[0], "\u0085"[0]:
			return lineEnds().Replace(s)
		}
	}
	return s
}

var lineEnds = sync.OnceValue(func() *strings.Replacer {
	return strings.NewReplacer("\r\n", "\n", "\r", "\n", "\u2028", "\n", "\u2029", "\n", "\u0085", "\n")
})

// wrapLine breaks one clean paragraph.
func wrapLine(s string, capUm int64, bold bool, width int64) []string {
	most := unitsWithin(width, capUm)
	if Units(s, bold) <= most {
		return []string{s}
	}
	runes := []rune(s)
	lines := make([]string, 0, 4)
	for start := 0; start < len(runes); {
		end := fit(runes[start:], bold, most) + start
		if end < len(runes) {
			end = breakBefore(runes, start, end)
		}
		lines = append(lines, strings.TrimRight(string(runes[start:end]), " "))
		for start = end; start < len(runes) && runes[start] == ' '; start++ {
		}
	}
	return lines
}

// fit gives how many runes measure no more than most, spaces at the end not
// counted, at least one.
func fit(runes []rune, bold bool, most int64) int {
	row := &advances[face(bold)]
	var units int64
	for i, r := range runes {
		units += int64(row[Place(r)])
		if r != ' ' && units > most {
			return max(i, 1)
		}
	}
	return len(runes)
}

// breakBefore gives the last place in (start, end] where a line may end, or end
// itself when a word is wider than the line.
func breakBefore(runes []rune, start, end int) int {
	for i := end; i > start; i-- {
		if mayBreak(runes, i) && !blank(runes[start:i]) {
			return i
		}
	}
	return end
}

// mayBreak tells whether a line may end before the i-th rune.
func mayBreak(runes []rune, i int) bool {
	if i <= 0 || i >= len(runes) {
		return true
	}
	if runes[i] == ' ' {
		return true
	}
	before := runes[i-1]
	if before == ' ' {
		return true
	}
	if i < 2 {
		return false
	}
	switch before {
	case '-', '/', '\u2010', '–', '—':
		return unicode.IsLetter(runes[i-2]) && unicode.IsLetter(runes[i])
	}
	return false
}

func blank(runes []rune) bool {
	for _, r := range runes {
		if r != ' ' {
			return false
		}
	}
	return true
}
