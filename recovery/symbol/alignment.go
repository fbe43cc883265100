package symbol

import "rsc.io/qr/coding"

// Alignment gives the middles of the alignment patterns of a code of n modules a side,
// in modules from its edge, the same across and down (ISO/IEC 18004, annex E); none for
// a code without any, or an n that no code has.
func Alignment(n int) []float64 {
	v := coding.Version((n - 17) / 4)
	if v < 2 || v > coding.MaxVersion || size(v) != n {
		return nil
	}
	f, err := formOf(v, coding.L)
	if err != nil {
		return nil
	}
	list := []float64{6.5}            // in its row a finder pattern stands at the left
	row := f.plan.Pixel[n-7]          // the last row of them
	for x := 7; x+2 < len(row); x++ { // each is five modules wide
		if row[x].Role() == coding.Alignment {
			list = append(list, float64(x)+2.5)
			x += 4
		}
	}
	return list
}
