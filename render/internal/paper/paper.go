// Package paper is what every translator of a page needs and none decides:
// lengths and numbers as text, the turning of a picture, and the refusal of a
// page that no format could hold.
package paper

import (
	"math"
	"strconv"

	"stopleaf/layout"
)

// Mm writes a length in millimetres, exactly, without trailing zeros: 12.345,
// -0.5, 7.
func Mm(u layout.Um) string { return string(AppendMm(nil, u)) }

// AppendMm appends what Mm writes.
func AppendMm(b []byte, u layout.Um) []byte {
	if u < 0 {
		b = append(b, '-')
		u = -u
	}
	b = strconv.AppendInt(b, int64(u/1000), 10)
	part := int64(u % 1000)
	if part == 0 {
		return b
	}
	b = append(b, '.', byte('0'+part/100), byte('0'+part/10%10), byte('0'+part%10))
	for b[len(b)-1] == '0' {
		b = b[:len(b)-1]
	}
	return b
}

// Num writes a number with at most so many decimals, without trailing zeros or
// a negative zero.
func Num(v float64, decimals int) string { return string(AppendNum(nil, v, decimals)) }

// AppendNum appends what Num writes.
func AppendNum(b []byte, v float64, decimals int) []byte {
	start := len(b)
	b = strconv.AppendFloat(b, v, 'f', decimals, 64)
	if decimals > 0 {
		for b[len(b)-1] == '0' {
			b = b[:len(b)-1]
		}
		if b[len(b)-1] == '.' {
			b = b[:len(b)-1]
		}
	}
	if string(b[start:]) == "-0" {
		return append(b[:start], '0')
	}
	return b
}

// Matrix maps a point: X = A x + C y + E, Y = B x + D y + F.
type Matrix struct{ A, B, C, D, E, F float64 }

// Apply maps one point.
func (m Matrix) Apply(x, y float64) (float64, float64) {
	return m.A*x + m.C*y + m.E, m.B*x + m.D*y + m.F
}

// Finite tells whether every part of the matrix is a number.
func (m Matrix) Finite() bool {
	for _, v := range []float64{m.A, m.B, m.C, m.D, m.E, m.F} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

// turns holds, for each Exif orientation, how the unit square of the stored
// picture lies in the unit square of the displayed one, both with the origin
// at the top left and y down. Exif 2.31, CIPA DC-008, tag 0112: what the row 0
// and the column 0 of the stored picture are on the displayed one.
var turns = [9]Matrix{
	1: {1, 0, 0, 1, 0, 0},   // row 0 top, column 0 left
	2: {-1, 0, 0, 1, 1, 0},  // top, right
	3: {-1, 0, 0, -1, 1, 1}, // bottom, right
	4: {1, 0, 0, -1, 0, 1},  // bottom, left
	5: {0, 1, 1, 0, 0, 0},   // left, top
	6: {0, 1, -1, 0, 1, 0},  // right, top
	7: {0, -1, -1, 0, 1, 1}, // right, bottom
	8: {0, -1, 1, 0, 0, 1},  // left, bottom
}

// Turn gives the matrix of an Exif orientation; anything but 1 to 8 is 1.
func Turn(orientation int) Matrix {
	if orientation < 1 || orientation > 8 {
		orientation = 1
	}
	return turns[orientation]
}

// Direction gives the cosine and sine of a counter-clockwise turn in degrees,
// exact at the quarter turns.
func Direction(degrees int) (cos, sin float64) {
	switch ((degrees % 360) + 360) % 360 {
	case 0:
		return 1, 0
	case 90:
		return 0, 1
	case 180:
		return -1, 0
	case 270:
		return 0, -1
	}
	rad := float64(degrees) * math.Pi / 180
	return math.Cos(rad), math.Sin(rad)
}

// MitreLimit is the limit of a mitred join in every format.
const MitreLimit = 4
