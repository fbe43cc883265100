package symbol

import (
	"cmp"
	"errors"
	"slices"

	"rsc.io/qr/coding"
)

// ErrUnreadable is for modules of which no text can be made.
var ErrUnreadable = errors.New("the code is damaged beyond what it can correct")

// ErrForeign is for a code that is read and holds other than alphanumeric text.
var ErrForeign = errors.New("the code is none of stopleaf's")

// Versions of a code: Sizes gives the modules a side of the smallest and the largest.
func Sizes() (least, most int) { return size(coding.MinVersion), size(coding.MaxVersion) }

// Read gives the text of a code. Each of its size x size modules, row by row from the
// top left, is above 0 where it is dark and below where it is light, the further
// from 0 the surer. Codewords that are least sure are given up first, for one that is
// known to be wrong costs half of what one costs that is not (ISO/IEC 18004, error
// correction capacity).
func Read(modules []float32, n int) (string, error) {
	v := coding.Version((n - 17) / 4)
	if v < coding.MinVersion || v > coding.MaxVersion || size(v) != n || len(modules) != n*n {
		return "", ErrUnreadable
	}
	level, mask := format(modules, n)
	plan, err := coding.NewPlan(v, level, mask)
	if err != nil {
		return "", ErrUnreadable
	}
	data, ok := corrected(modules, plan)
	if !ok {
		return "", ErrUnreadable
	}
	text, ok := alphanumeric(data, v)
	if !ok {
		return "", ErrForeign
	}
	return text, nil
}

// format finds which of the 32 words of level and mask both copies say most surely.
func format(modules []float32, n int) (coding.Level, coding.Mask) {
	var sure [15]float32
	for i := range 15 {
		at := func(x, y int) float32 { return modules[y*n+x] }
		switch { // ISO/IEC 18004, format information: around the top left
		case i < 6:
			sure[i] = at(8, i)
		case i < 8:
			sure[i] = at(8, i+1)
		case i == 8:
			sure[i] = at(7, 8)
		default:
			sure[i] = at(14-i, 8)
		}
		if i < 8 { // and split over the other two corners
			sure[i] += at(n-1-i, 8)
		} else {
			sure[i] += at(8, n-15+i)
		}
	}
	var level coding.Level
	var mask coding.Mask
	best, first := float32(0), true
	for l := coding.L; l <= coding.H; l++ {
		for m := coding.Mask(0); m < 8; m++ {
			word, sum := formatWord(l, m), float32(0)
			for i, s := range sure {
				if word>>i&1 == 0 {
					s = -s
				}
				sum += s
			}
			if first || sum > best {
				best, level, mask, first = sum, l, m, false
			}
		}
	}
	return level, mask
}

// corrected gives the data bytes after error correction.
func corrected(modules []float32, plan *coding.Plan) ([]byte, bool) {
	n := len(plan.Pixel)
	total := plan.DataBytes + plan.CheckBytes
	words := make([]byte, total)
	sure := make([]float32, total)
	for i := range sure {
		sure[i] = -1 // not seen yet
	}
	for y, row := range plan.Pixel {
		for x, p := range row {
			if r := p.Role(); r != coding.Data && r != coding.Check {
				continue
			}
			s := modules[y*n+x]
			at := int(p.Offset())
			if (s > 0) != (p&coding.Invert != 0) {
				words[at/8] |= 1 << (7 - at%8)
			}
			if s < 0 {
				s = -s
			}
			if old := sure[at/8]; old < 0 || s < old {
				sure[at/8] = s
			}
		}
	}
	short, check := plan.DataBytes/plan.Blocks, plan.CheckBytes/plan.Blocks
	long := plan.Blocks - plan.DataBytes%plan.Blocks // blocks from here on have a byte more
	from := 0
	for b := range plan.Blocks {
		size := short
		if b >= long {
			size++
		}
		block := append(append([]byte(nil), words[from:from+size]...), words[plan.DataBytes+b*check:][:check]...)
		trust := append(append([]float32(nil), sure[from:from+size]...), sure[plan.DataBytes+b*check:][:check]...)
		if !correctBlock(block, trust, check) {
			return nil, false
		}
		copy(words[from:], block[:size])
		from += size
	}
	return words[:plan.DataBytes], true
}

// correctBlock corrects one block in place, giving up the less sure codewords, more
// and more of them. Two are always left to show that the rest agrees.
func correctBlock(block []byte, trust []float32, check int) bool {
	if correct(block, nil, check) {
		return true
	}
	order := make([]int, len(block))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(trust[a], trust[b]) })
	for give := 2; give <= check-2; give += 2 {
		if correct(block, order[:give], check) {
			return true
		}
	}
	return false
}

const alphabet45 = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"

// alphanumeric reads segments of the alphanumeric mode (ISO/IEC 18004, modes 0010
// and, the end, 0000).
func alphanumeric(data []byte, v coding.Version) (string, bool) {
	at, end := 0, len(data)*8
	take := func(n int) int {
		out := 0
		for ; n > 0; n-- {
			out = out<<1 | int(data[at/8]>>(7-at%8)&1)
			at++
		}
		return out
	}
	lengthBits := 13
	switch {
	case v <= 9:
		lengthBits = 9
	case v <= 26:
		lengthBits = 11
	}
	var text []byte
	for end-at >= 4 {
		switch take(4) {
		case 0:
			return string(text), len(text) > 0
		case 2:
		default:
			return "", false
		}
		if end-at < lengthBits {
			return "", false
		}
		n := take(lengthBits)
		if end-at < n/2*11+n%2*6 {
			return "", false
		}
		for ; n >= 2; n -= 2 {
			pair := take(11)
			if pair >= 45*45 {
				return "", false
			}
			text = append(text, alphabet45[pair/45], alphabet45[pair%45])
		}
		if n == 1 {
			last := take(6)
			if last >= 45 {
				return "", false
			}
			text = append(text, alphabet45[last])
		}
	}
	return string(text), len(text) > 0
}
