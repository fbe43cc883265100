package symbol

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// plainPenalty is how hard a mask makes a code to read, by ISO/IEC 18004 (data masking,
// evaluation): runs of five alike or more, squares of two, what looks like the eye of
// a finder pattern beside four light modules, and dark ones far from half of all.
func plainPenalty(dark []bool, n int) int {
	sum, total := 0, 0
	for y := range n {
		sum += plainLine(dark[y*n:], 1, n)
	}
	for x := range n {
		sum += plainLine(dark[x:], n, n)
	}
	for y := range n {
		row := dark[y*n : y*n+n]
		for x, d := range row {
			if d {
				total++
			}
			if x > 0 && y > 0 && row[x-1] == d && dark[(y-1)*n+x] == d && dark[(y-1)*n+x-1] == d {
				sum += 3
			}
		}
	}
	off := total*20 - n*n*10 // twenty times the modules too many
	if off < 0 {
		off = -off
	}
	return sum + off/(n*n)*10
}

// eye is 1:1:3:1:1, as bits of seven modules.
const eye = 0b1011101

// plainLine counts what is wrong in one row or column. What is beyond its ends is light, for
// there is the quiet zone.
func plainLine(dark []bool, step, n int) int {
	sum, run, last := 0, 0, 0 // the last modules, a bit each, the latest the lowest
	was := false
	for i, at := 0, 0; i < n+Quiet; i, at = i+1, at+step {
		last <<= 1
		d := i < n && dark[at]
		if d {
			last |= 1
		}
		if last>>4&0x7F == eye && (last&0xF == 0 || last>>11&0xF == 0) {
			sum += 40
		}
		if i == 0 || d != was || i >= n {
			was, run = d, 1
			continue
		}
		run++
		switch {
		case run == 5:
			sum += 3
		case run > 5:
			sum++
		}
	}
	return sum
}

// The penalties counted a word of modules at a time are those counted one by one, over
// patterns of all sizes: noise, stripes, one colour, and eyes at the ends of lines.
func TestPenaltyOneByOne(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for n := 21; n <= 177; n += 4 {
		for kind := range 5 {
			dark := make([]bool, n*n)
			l := newLines(n)
			share, wide := r.IntN(9)+1, r.IntN(9)+1
			for i := range dark {
				x, y := i%n, i/n
				switch kind {
				case 0:
					dark[i] = r.IntN(10) < share
				case 1:
					dark[i] = (x/wide+y/wide)%2 == 0
				case 2:
					dark[i] = eye>>(min(x%11, 7))&1 == 1
				case 3:
					dark[i] = eye>>(min((n-1-x)%11, (n-1-y)%11, 7))&1 == 1
				case 4:
					dark[i] = share > 5
				}
				l.set(x, y, dark[i])
			}
			require.Equal(t, plainPenalty(dark, n), penalty(l.rows, l.columns), "%d modules, kind %d", n, kind)
		}
	}
}
