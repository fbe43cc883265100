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

// up moves every module by k < 64 towards the end, down towards the beginning.
func (l line) up(k int) line {
	return line{l[0] << k, l[1]<<k | l[0]>>(64-k), l[2]<<k | l[1]>>(64-k)}
}

func (l line) down(k int) line {
	return line{l[0]>>k | l[1]<<(64-k), l[1]>>k | l[2]<<(64-k), l[2] >> k}
}

func (l line) and(o line) line    { return line{l[0] & o[0], l[1] & o[1], l[2] & o[2]} }
func (l line) or(o line) line     { return line{l[0] | o[0], l[1] | o[1], l[2] | o[2]} }
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
	sum, dark := 0, 0
	all := first(n)
	for _, l := range columns {
		sum += runs(alike(l, all)) + 40*eyes(l)
	}
	for y, l := range rows {
		as := alike(l, all)
		sum += runs(as) + 40*eyes(l)
		dark += l.count()
		if y > 0 {
			same := all.andNot(l.xor(rows[y-1])) // as the module above
			sum += 3 * as.and(same).and(same.up(1)).count()
		}
	}
	off := dark*20 - n*n*10 // twenty times the modules too many
	if off < 0 {
		off = -off
	}
	return sum + off/(n*n)*10
}

// alike are the modules that are as the one before them.
func alike(l, all line) line {
	out := all.andNot(l.xor(l.up(1)))
	out.set(0, false)
	return out
}

// runs counts 3 for a run of five modules alike and 1 for each further one.
func runs(alike line) int {
	fours := alike.and(alike.up(1))
	fours = fours.and(fours.up(2)) // the fifth module of a run, and those after it
	return fours.count() + 2*fours.andNot(fours.up(1)).count()
}

// eyes counts modules 1:1:3:1:1 with four light ones before or after them.
func eyes(l line) int {
	three := l.and(l.down(2)).and(l.down(4)) // 1?1?1
	eye := three.and(three.down(2)).and(l.down(3)).andNot(l.down(1)).andNot(l.down(5))
	if eye == (line{}) {
		return 0
	}
	before := l.up(1).or(l.up(2)).or(l.up(3)).or(l.up(4))
	after := l.down(7).or(l.down(8)).or(l.down(9)).or(l.down(10))
	return eye.andNot(before.and(after)).count()
}
