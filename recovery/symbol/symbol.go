// Package symbol draws the text of a code as a QR code (ISO/IEC 18004): which
// modules are dark.
//
// It belongs here when it is about the modules of one code. What a text says belongs to
// package recovery, where a code stands on paper to package layout, how it is read again
// to recovery/scan.
package symbol

import (
	"fmt"

	"rsc.io/qr/coding"
)

// Quiet is how many modules beside a code stay light, on each side.
const Quiet = 4

// Matrix is a code without its quiet zone. Nobody writes to it once it is drawn.
type Matrix struct {
	Size    int    // modules a side: 17 + 4 x Version
	Version int    // 1 to 40
	Level   string // of error correction: "L" or "M"
	dark    []bool // row by row from the top left
}

// Dark says whether a module is; x goes to the right, y down.
func (m *Matrix) Dark(x, y int) bool { return m.dark[y*m.Size+x] }

// Draw draws a text of the alphanumeric mode (0-9, A-Z, space, $%*+-./:) with at most
// so many modules a side: at level M where that has room for it, else at level L. The
// error says that the text is too long, or has other characters.
func Draw(text string, most int) (*Matrix, error) { return Between(text, 0, most) }

// Between is Draw with at least so many modules a side.
func Between(text string, least, most int) (*Matrix, error) {
	alpha := coding.Alpha(text)
	if err := alpha.Check(); err != nil {
		return nil, err
	}
	for _, level := range []coding.Level{coding.M, coding.L} {
		for v := coding.Version(coding.MinVersion); v <= coding.MaxVersion && size(v) <= most; v++ {
			if size(v) >= least && bits(alpha, v) <= v.DataBytes(level)*8 {
				return draw(alpha, v, level)
			}
		}
	}
	return nil, fmt.Errorf("%d characters do not fit a code of %d modules", len(text), most)
}

// Room is how many characters of the alphanumeric mode a code of at most so many
// modules a side holds, at level L; 0 where no code is as small.
func Room(most int) int {
	v := coding.Version(min((most-17)/4, coding.MaxVersion))
	if most < size(coding.MinVersion) {
		return 0
	}
	left := v.DataBytes(coding.L)*8 - bits("", v)
	n := left / 11 * 2 // two characters are 11 bits, one is 6
	if left%11 >= 6 {
		n++
	}
	return n
}

func size(v coding.Version) int { return 17 + 4*int(v) }

// bits is how many a text takes.
func bits(alpha coding.Alpha, v coding.Version) int { return alpha.Bits(v) }

// draw draws under the mask with the fewest penalties. The library gives one under a
// mask that is asked for; the others differ from it where data stands, and in the 15
// bits that name level and mask.
func draw(alpha coding.Alpha, v coding.Version, level coding.Level) (*Matrix, error) {
	f, err := formOf(v, level)
	if err != nil {
		return nil, err
	}
	code, err := f.plan.Encode(alpha)
	if err != nil {
		return nil, err
	}
	n := code.Size
	plain := newLines(n)
	for y := range n {
		for x := range n {
			if code.Black(x, y) != f.over[0].rows[y].has(x) {
				plain.set(x, y, true)
			}
		}
	}
	best, try, least := newLines(n), newLines(n), -1
	for mask := range f.over {
		f.under(mask, plain, try)
		if sum := penalty(try.rows, try.columns); least < 0 || sum < least {
			least = sum
			best, try = try, best
		}
	}
	m := &Matrix{Size: n, Version: int(v), Level: level.String(), dark: make([]bool, n*n)}
	for i := range m.dark {
		m.dark[i] = best.rows[i/n].has(i % n)
	}
	return m, nil
}

// formatWord is the 15 bits of level and mask: two and three bits, ten of the BCH code
// with the polynomial 0x537, under the mask 0x5412 (ISO/IEC 18004, format
// information).
func formatWord(level coding.Level, mask coding.Mask) uint32 {
	word := uint32(level^1)<<13 | uint32(mask)<<10
	rest := word
	for i := 14; i >= 10; i-- {
		if rest>>i&1 == 1 {
			rest ^= 0x537 << (i - 10)
		}
	}
	return (word | rest) ^ 0x5412
}
