package symbol

import ones "math/bits"

// line is a row or column of at most 177 modules, a bit each, dark ones set; what is
// beyond its ends is light, for there is the quiet zone.
type line [3]uint64

func (l *line) set(i int, dark bool) {
	if l[i/64] &^= 1 << (i % 64); dark {
		l[i/64] |= 1 << (i % 64)
	}
}

func (l line) has(i int) bool { return l[i/64]>>(i%64)&1 == 1 }

// up moves every module by k < 64 towards the end.
func (l line) up(k int) line {
	return line{l[0] << k, l[1]<<k | l[0]>>(64-k), l[2]<<k | l[1]>>(64-k)}
}

func (l line) and(o line) line    { return line{l[0] & o[0], l[1] & o[1], l[2] & o[2]} }
func (l line) xor(o line) line    { return line{l[0] ^ o[0], l[1] ^ o[1], l[2] ^ o[2]} }
func (l line) andNot(o line) line { return line{l[0] &^ o[0], l[1] &^ o[1], l[2] &^ o[2]} }

func (l line) count() int {
	return ones.OnesCount64(l[0]) + ones.OnesCount64(l[1]) + ones.OnesCount64(l[2])
}

// first is a line of n dark modules.
func first(n int) (l line) {
	for i := range n {
		l.set(i, true)
	}
	return l
}

// penalty is how hard a mask makes a code to read, by ISO/IEC 18004 (data masking,
// evaluation): runs of five alike or more, squares of two, what looks like the eye of
// a finder pattern beside four light modules, and dark ones far from half of all.
func penalty(rows, columns []line) int {
	n := len(rows)
	sum, dark := along(columns)+along(rows), 0
	all := first(n)
	for y, l := range rows {
		dark += l.count()
		if y == 0 {
			continue
		}
		down := all.andNot(l.xor(rows[y-1])) // as the module above
		across := all.andNot(l.xor(l.up(1))) // as the module before
		across.set(0, false)
		sum += 3 * across.and(down).and(down.up(1)).count()
	}
	off := dark*20 - n*n*10 // twenty times the modules too many
	if off < 0 {
		off = -off
	}
	return sum + off/(n*n)*10
}

// The widest code, and as far as eyes looks before and after a module.
const (
	mostLines = 177
	before    = 4
	after     = 10
)

// along is the part of the penalty for what runs across the lines: 3 for a run of five
// modules alike and 1 for each further one; 40 for modules 1:1:3:1:1 with four light
// ones before or after them. The lines are looked at side by side, 64 of what runs
// across them at once.
func along(lines []line) (sum int) {
	n := len(lines)
	all := first(n)
	for k := range (n + 63) / 64 {
		var c [before + mostLines + after]uint64
		for i, l := range lines {
			c[before+i] = l[k]
		}
		var one, two, three, four uint64 // alike with the one before; and that one too; ...
		for i := before; i < before+n; i++ {
			m := c[i-before : i+after+1 : i+after+1]
			same := all[k] &^ (m[4] ^ m[3])
			if i == before {
				same = 0 // as nothing
			}
			run := same & three
			sum += ones.OnesCount64(run) + 2*ones.OnesCount64(run&^four)
			one, two, three, four = same, same&one, same&two, run
			eye := m[4] &^ m[5] & m[6] & m[7] & m[8] &^ m[9] & m[10]
			if eye != 0 {
				sum += 40 * ones.OnesCount64(eye&^((m[0]|m[1]|m[2]|m[3])&(m[11]|m[12]|m[13]|m[14])))
			}
		}
	}
	return sum
}
