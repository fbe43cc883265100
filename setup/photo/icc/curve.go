package icc

import (
	"encoding/binary"
	"math"
)

type curveKind int

const (
	identity curveKind = iota
	power              // a parametric curve
	table
)

// curve takes a channel, 0 to 1, to its share of light, 0 to 1.
type curve struct {
	kind  curveKind
	param [7]float64 // g a b c d e f of y = (ax+b)^g + e from d on, cx + f below
	table []byte     // big-endian 16-bit values, evenly spaced
}

// readCurve reads a curveType or a parametricCurveType (ICC.1:2010, 10.5 and
// 10.15).
func readCurve(b []byte) (curve, error) {
	if len(b) < 12 {
		return curve{}, errDamaged
	}
	switch string(b[:4]) {
	case "curv":
		n := uint64(binary.BigEndian.Uint32(b[8:]))
		switch {
		case n == 0:
			return curve{}, nil
		case 12+2*n > uint64(len(b)):
			return curve{}, errDamaged
		case n == 1:
			return checked(curve{kind: power, param: [7]float64{float64(binary.BigEndian.Uint16(b[12:])) / 256, 1, 0, 1}})
		}
		return curve{kind: table, table: b[12 : 12+2*n]}, nil
	case "para":
		return readParametric(b)
	}
	return curve{}, ErrTables
}

// readParametric reads the five function types of ICC.1:2010, table 65, into
// the seven parameters of the last.
func readParametric(b []byte) (curve, error) {
	counts := []int{1, 3, 4, 5, 7}
	kind := int(binary.BigEndian.Uint16(b[8:]))
	if kind >= len(counts) || len(b) < 12+4*counts[kind] {
		return curve{}, errDamaged
	}
	var v [7]float64
	for i := range counts[kind] {
		v[i] = fixed(b[12+4*i:])
	}
	g, a, b1, c, d, e, f := v[0], v[1], v[2], v[3], v[4], v[5], v[6]
	none := math.Inf(-1) // no straight part
	if a != 0 {
		none = -b1 / a
	}
	switch kind {
	case 0:
		a, b1, c, d, e, f = 1, 0, 0, 0, 0, 0
	case 1:
		c, d, e, f = 0, none, 0, 0
	case 2: // below the bend it stays at c
		e, f = c, c
		c, d = 0, none
	}
	return checked(curve{kind: power, param: [7]float64{g, a, b1, c, d, e, f}})
}

// checked refuses a curve that gives no number somewhere.
func checked(c curve) (curve, error) {
	if g := c.param[0]; g <= 0 || g > 20 {
		return c, errDamaged
	}
	for i := range 256 {
		if v := c.power(float64(i) / 255); math.IsNaN(v) || math.IsInf(v, 0) {
			return c, errDamaged
		}
	}
	return c, nil
}

func (c curve) power(x float64) float64 {
	g, a, b, lin, d, e, f := c.param[0], c.param[1], c.param[2], c.param[3], c.param[4], c.param[5], c.param[6]
	if x < d {
		return lin*x + f
	}
	return math.Pow(max(a*x+b, 0), g) + e
}

// at gives the share of light of a channel, both 0 to 1.
func (c curve) at(x float64) float64 {
	switch c.kind {
	case power:
		return min(max(c.power(x), 0), 1)
	case table:
		return c.between(x)
	}
	return x
}

// between reads the table, straight from value to value.
func (c curve) between(x float64) float64 {
	last := len(c.table)/2 - 1
	at := x * float64(last)
	i := min(int(at), last-1)
	a := float64(binary.BigEndian.Uint16(c.table[2*i:]))
	b := float64(binary.BigEndian.Uint16(c.table[2*i+2:]))
	return (a + (b-a)*(at-float64(i))) / 65535
}

// encode is the curve of sRGB, light to channel, 0 to 1 (IEC 61966-2-1, 5.2).
func encode(v float64) float64 {
	if v <= 0.0031308 {
		return 12.92 * v
	}
	return 1.055*math.Pow(v, 1/2.4) - 0.055
}
