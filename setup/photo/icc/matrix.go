package icc

type matrix [3][3]float64

// d65 is the white of sRGB (IEC 61966-2-1: x 0.3127, y 0.3290).
var d65 = [3]float64{0.3127 / 0.3290, 1, (1 - 0.3127 - 0.3290) / 0.3290}

func (m matrix) times(v [3]float64) (out [3]float64) {
	for i := range 3 {
		out[i] = m[i][0]*v[0] + m[i][1]*v[1] + m[i][2]*v[2]
	}
	return out
}

// by is the matrix product: first n, then m.
func (m matrix) by(n matrix) (out matrix) {
	for i := range 3 {
		for j := range 3 {
			for k := range 3 {
				out[i][j] += m[i][k] * n[k][j]
			}
		}
	}
	return out
}

// inverse by cofactors; of a matrix without one, nothing finite.
func (m matrix) inverse() (out matrix) {
	minor := func(i, j int) float64 {
		a, b, c, d := (i+1)%3, (i+2)%3, (j+1)%3, (j+2)%3
		return m[a][c]*m[b][d] - m[a][d]*m[b][c]
	}
	det := m[0][0]*minor(0, 0) + m[0][1]*minor(0, 1) + m[0][2]*minor(0, 2)
	for i := range 3 {
		for j := range 3 {
			out[j][i] = minor(i, j) / det
		}
	}
	return out
}

// primaries gives the matrix from linear RGB to XYZ of a space whose primaries
// have these x, y and whose white is this XYZ (IEC 61966-2-1 annex; SMPTE RP
// 177).
func primaries(xy [3][2]float64, white [3]float64) (m matrix) {
	for i, p := range xy {
		m[0][i], m[1][i], m[2][i] = p[0]/p[1], 1, (1-p[0]-p[1])/p[1]
	}
	s := m.inverse().times(white)
	for i := range 3 {
		for j := range 3 {
			m[j][i] *= s[i]
		}
	}
	return m
}

// adaptation is the linear Bradford transform from one white to another, which
// profiles are made with (ICC.1:2010, annex E.3).
func adaptation(from, to [3]float64) matrix {
	bradford := matrix{{0.8951, 0.2664, -0.1614}, {-0.7502, 1.7135, 0.0367}, {0.0389, -0.0685, 1.0296}}
	a, b := bradford.times(from), bradford.times(to)
	scale := matrix{}
	for i := range 3 {
		scale[i][i] = b[i] / a[i]
	}
	return bradford.inverse().by(scale).by(bradford)
}

// srgbMatrix is from linear sRGB to XYZ under D50 (IEC 61966-2-1, adapted).
func srgbMatrix() matrix {
	return adaptation(d65, d50).by(primaries([3][2]float64{{0.64, 0.33}, {0.30, 0.60}, {0.15, 0.06}}, d65))
}
