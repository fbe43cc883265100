package scan

import "math"

// projection takes places on a flat page to places in a picture of it.
type projection [9]float64

func (h *projection) at(x, y float64) point {
	w := h[6]*x + h[7]*y + h[8]
	if math.Abs(w) < 1e-9 {
		w = 1e-9
	}
	return point{(h[0]*x + h[1]*y + h[2]) / w, (h[3]*x + h[4]*y + h[5]) / w}
}

// pair is a place on the page and the same in the picture.
type pair struct{ page, picture point }

// project finds the projection that takes pairs to each other as nearly as can be, by
// the least squares of the linear equations, both sides brought to a like size first
// (the normalised direct linear transformation).
func project(list []pair) (projection, bool) {
	n1, ok1 := normal(list, func(p pair) point { return p.page })
	n2, ok2 := normal(list, func(p pair) point { return p.picture })
	if !ok1 || !ok2 {
		return projection{}, false
	}
	var a [8][9]float64 // normal equations of eight unknowns; the ninth is 1
	for _, p := range list {
		s, d := p.page.minus(n1.mid).times(n1.scale), p.picture.minus(n2.mid).times(n2.scale)
		for _, row := range [2][9]float64{
			{s.x, s.y, 1, 0, 0, 0, -s.x * d.x, -s.y * d.x, d.x},
			{0, 0, 0, s.x, s.y, 1, -s.x * d.y, -s.y * d.y, d.y},
		} {
			for i := range 8 {
				for j := range 9 {
					a[i][j] += row[i] * row[j]
				}
			}
		}
	}
	x, ok := solve(a)
	if !ok {
		return projection{}, false
	}
	// Undo both: picture = inverse(n2) x h x n1.
	s1, s2 := n1.scale, n2.scale
	h := [3][3]float64{{x[0], x[1], x[2]}, {x[3], x[4], x[5]}, {x[6], x[7], 1}}
	for i := range h {
		h[i] = [3]float64{h[i][0] * s1, h[i][1] * s1, h[i][2] - s1*(h[i][0]*n1.mid.x+h[i][1]*n1.mid.y)}
	}
	var out projection
	for j := range 3 {
		out[j] = h[0][j]/s2 + n2.mid.x*h[2][j]
		out[3+j] = h[1][j]/s2 + n2.mid.y*h[2][j]
		out[6+j] = h[2][j]
	}
	return out, true
}

// norm brings places to around 0 and about 1 from it.
type norm struct {
	mid   point
	scale float64
}

func normal(list []pair, of func(pair) point) (n norm, ok bool) {
	for _, p := range list {
		n.mid = n.mid.plus(of(p))
	}
	n.mid = n.mid.times(1 / float64(len(list)))
	sum := 0.0
	for _, p := range list {
		sum += of(p).minus(n.mid).length()
	}
	n.scale = float64(len(list)) / sum
	return n, sum > 1e-6
}

// solve solves eight linear equations by elimination, the largest pivot first.
func solve(a [8][9]float64) (x [8]float64, ok bool) {
	for i := range 8 {
		p := i
		for r := i + 1; r < 8; r++ {
			if math.Abs(a[r][i]) > math.Abs(a[p][i]) {
				p = r
			}
		}
		if math.Abs(a[p][i]) < 1e-12 {
			return x, false
		}
		a[i], a[p] = a[p], a[i]
		for r := range 8 {
			if r == i {
				continue
			}
			f := a[r][i] / a[i][i]
			for c := i; c < 9; c++ {
				a[r][c] -= f * a[i][c]
			}
		}
	}
	for i := range x {
		x[i] = a[i][8] / a[i][i]
	}
	return x, true
}
