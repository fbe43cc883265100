package text

import (
	_ "embed"
	"iter"
	"math"
)

//go:generate go run gen.go

//go:embed fonts/regular.ttf
var regularTTF string

//go:embed fonts/bold.ttf
var boldTTF string

// The measures of both faces in font units, from their own tables; the capital
// H stands 1493 of 2048 units high.
const (
	unitsPerEm = 2048
	capUnits   = 1493
)

// CapFraction is the height of a capital as a part of the em.
const CapFraction = float64(capUnits) / unitsPerEm

// Box stands for a rune that the fonts do not hold.
const Box = '□'

// span is a run of runes from lo to hi; at is the place of lo in advances.
type span struct {
	lo, hi rune
	at     int
}

// index gives the place of a rune in the table of advances, or -1.
func index(r rune) int {
	if r >= ' ' && r <= '~' { // the first span
		return int(r - ' ')
	}
	return indexBeyond(r)
}

func indexBeyond(r rune) int {
	lo, hi := 1, len(spans)
	for lo < hi {
		if mid := (lo + hi) / 2; spans[mid].hi < r {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	if lo == len(spans) || r < spans[lo].lo {
		return -1
	}
	return spans[lo].at + int(r-spans[lo].lo)
}

// Has tells whether the fonts hold a glyph for the rune.
func Has(r rune) bool { return index(r) >= 0 }

// Count is how many runes the fonts hold.
const Count = len(advances[0])

// Place gives the place of a rune among all that the fonts hold, in order, from
// 0; that of Box for one that they do not hold.
func Place(r rune) int {
	i := index(r)
	if i < 0 {
		i = index(Box)
	}
	return i
}

// Runes are all that the fonts hold, in order, by their places.
func Runes() iter.Seq2[int, rune] {
	return func(yield func(int, rune) bool) {
		for _, s := range spans {
			for r := s.lo; r <= s.hi; r++ {
				if !yield(s.at+int(r-s.lo), r) {
					return
				}
			}
		}
	}
}

// face picks the row of the table.
func face(bold bool) int {
	if bold {
		return 1
	}
	return 0
}

// Advance gives how far a rune moves the pen, in thousandths of the em. A rune
// that the fonts do not hold moves it as far as Box.
func Advance(r rune, bold bool) int64 {
	return int64(advances[face(bold)][Place(r)])
}

// Glyph gives the number of a rune's glyph in both faces that Font gives: they are
// cut to the same runes, in order, after the glyph 0 of what is missing. A rune that
// the fonts do not hold has that of Box.
func Glyph(r rune) uint16 { return uint16(Place(r) + 1) }

// Units gives the width of a string in thousandths of the em: the plain sum of
// its runes' advances after Clean, without kerning.
func Units(s string, bold bool) int64 {
	row := &advances[face(bold)]
	var sum int64
	for _, r := range s {
		i := index(r)
		if i < 0 {
			return unitsClean(s, bold)
		}
		sum += int64(row[i])
	}
	return sum
}

func unitsClean(s string, bold bool) int64 {
	clean, _ := Clean(s)
	var sum int64
	for _, r := range clean {
		sum += Advance(r, bold)
	}
	return sum
}

// FromUnits turns thousandths of the em into micrometres at a cap height in
// micrometres, rounded half up.
func FromUnits(units, capUm int64) int64 {
	const den = 1000 * capUnits
	return (units*capUm*unitsPerEm + den/2) / den
}

// unitsWithin is the most that a string may measure in thousandths of the em so
// that FromUnits gives no more than a width.
func unitsWithin(width, capUm int64) int64 {
	switch {
	case width < 0:
		return -1
	case capUm <= 0:
		return math.MaxInt64
	}
	const den = 1000 * capUnits
	return ((width+1)*den - den/2 - 1) / (capUm * unitsPerEm)
}

// Width gives the width of a string in micrometres at a cap height in
// micrometres. It is rounded once, over the whole string.
func Width(s string, capUm int64, bold bool) int64 {
	return FromUnits(Units(s, bold), capUm)
}

// Em gives the em in micrometres at a cap height in micrometres.
func Em(capUm int64) float64 { return float64(capUm) * unitsPerEm / capUnits }

// Ascent gives how far above the baseline the ink of any rune may reach, in
// micrometres, accents on capitals included.
func Ascent(capUm int64) int64 { return reach(inkAbove, capUm) }

// Descent gives how far below the baseline the ink of any rune may reach, in
// micrometres, as a positive number.
func Descent(capUm int64) int64 { return reach(inkBelow, capUm) }

func reach(units, capUm int64) int64 { return (units*capUm + capUnits - 1) / capUnits }

// Font gives a fresh copy of a face, a TrueType file cut down to the runes that
// Has knows.
func Font(bold bool) []byte {
	if bold {
		return []byte(boldTTF)
	}
	return []byte(regularTTF)
}
