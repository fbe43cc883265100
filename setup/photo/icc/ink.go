package icc

import (
	"encoding/binary"
	"math"
)

const inks = 4

// lut is a table from four inks to Lab (ICC.1:2010, 10.8 and 10.9): curves
// before, a grid, curves behind.
type lut struct {
	grid   int // points along each ink
	before [inks][]float64
	points []float64 // 0 to 1, three for each point, the last ink fastest
	behind [3][]float64
	deep   bool // 16 bits: full lightness is 0xFF00
}

// readLUT reads a lut8Type or a lut16Type from inks to Lab.
func readLUT(b []byte) (*lut, error) {
	if len(b) < 52 {
		return nil, errDamaged
	}
	kind := string(b[:4])
	if kind != "mft1" && kind != "mft2" || b[8] != inks || b[9] != 3 {
		return nil, ErrTables
	}
	l := &lut{grid: int(b[10]), deep: kind == "mft2"}
	n, m, at, size := 256, 256, 48, 1
	if l.deep {
		n, m, at, size = int(binary.BigEndian.Uint16(b[48:])), int(binary.BigEndian.Uint16(b[50:])), 52, 2
	}
	const mostGrid = 33 // more than a million points
	if l.grid < 2 || l.grid > mostGrid || n < 2 || n > 4096 || m < 2 || m > 4096 {
		return nil, errDamaged
	}
	count := l.grid * l.grid * l.grid * l.grid * 3
	if len(b) < at+size*(inks*n+count+3*m) {
		return nil, errDamaged
	}
	take := func(n int) []float64 {
		out := make([]float64, n)
		for i := range out {
			if l.deep {
				out[i] = float64(binary.BigEndian.Uint16(b[at:])) / 65535
			} else {
				out[i] = float64(b[at]) / 255
			}
			at += size
		}
		return out
	}
	for i := range l.before {
		l.before[i] = take(n)
	}
	l.points = take(count)
	for i := range l.behind {
		l.behind[i] = take(m)
	}
	return l, nil
}

// between reads evenly spaced values, straight from one to the next.
func between(values []float64, x float64) float64 {
	at := min(max(x, 0), 1) * float64(len(values)-1)
	i := min(int(at), len(values)-2)
	return values[i] + (values[i+1]-values[i])*(at-float64(i))
}

// labToXYZ is CIE 15:2004, 8.2.1, under D50.
func labToXYZ(l, a, b float64) (out [3]float64) {
	f := (l + 16) / 116
	for i, v := range [3]float64{f + a/500, f, f - b/200} {
		if v > 6.0/29 {
			out[i] = d50[i] * v * v * v
		} else {
			out[i] = d50[i] * 3 * (6.0 / 29) * (6.0 / 29) * (v - 4.0/29)
		}
	}
	return out
}

// xyz is a point of the grid in XYZ under D50.
func (l *lut) xyz(point int) [3]float64 {
	var v [3]float64
	for i := range v {
		v[i] = between(l.behind[i], l.points[3*point+i])
	}
	if l.deep { // 0xFF00 is 100, 0x8000 is 0
		return labToXYZ(v[0]*65535/65280*100, v[1]*65535/256-128, v[2]*65535/256-128)
	}
	return labToXYZ(v[0]*100, v[1]*255-128, v[2]*255-128)
}

// inkTable is a table from four inks straight to sRGB, in whole numbers.
type inkTable struct {
	grid   int
	place  [inks][]int32 // by the upper 8 bits of an ink: its place in the grid, in parts of 1 << placeBits
	points []int32       // codes of sRGB in parts of 1 << codeBits
}

const (
	placeBits = 10
	codeBits  = 7
)

// richBlack is about as much of each ink as a press lays down for its deepest
// black: three times full in all (common practice).
var richBlack = [inks]float64{0.75, 0.68, 0.67, 0.90}

// black is the light of the point of the grid that is next to it.
func (l *lut) black() float64 {
	at := 0
	for i, ink := range richBlack {
		at = at*l.grid + int(math.Round(between(l.before[i], ink)*float64(l.grid-1)))
	}
	return min(max(l.xyz(at)[1], 0), 0.1)
}

// newInkTable goes over the grid once. The press's deepest black becomes black,
// as is usual when a picture leaves paper for a screen: XYZ is stretched between
// that and white.
func newInkTable(l *lut) *inkTable {
	t := &inkTable{grid: l.grid}
	for i := range t.place {
		t.place[i] = make([]int32, 256)
		for v := range t.place[i] {
			t.place[i][v] = int32(math.Round(between(l.before[i], float64(v)/255) * float64(l.grid-1) * (1 << placeBits)))
		}
	}
	n := len(l.points) / 3
	black := l.black()
	m := srgbMatrix().inverse()
	t.points = make([]int32, 3*n)
	for i := range n {
		v := l.xyz(i)
		for j := range v {
			v[j] = (v[j] - black*d50[j]) / (1 - black)
		}
		for j, light := range m.times(v) {
			t.points[3*i+j] = int32(math.Round(encode(min(max(light, 0), 1)) * 255 * (1 << codeBits)))
		}
	}
	return t
}

// at mixes the sixteen points around a colour.
func (t *inkTable) at(c, m, y, k uint8) (out [3]uint8) {
	var sum [3]int64
	var low, part [inks]int
	for i, v := range [inks]uint8{c, m, y, k} {
		p := int(t.place[i][v])
		low[i] = min(p>>placeBits, t.grid-2)
		part[i] = p - low[i]<<placeBits
	}
	for corner := range 1 << inks {
		at, weight := 0, int64(1)
		for i := range inks {
			at *= t.grid
			if corner>>i&1 == 1 {
				at += low[i] + 1
				weight *= int64(part[i])
			} else {
				at += low[i]
				weight *= int64(1<<placeBits - part[i])
			}
		}
		if weight == 0 {
			continue
		}
		for j := range sum {
			sum[j] += weight * int64(t.points[3*at+j])
		}
	}
	const shift = inks*placeBits + codeBits
	for j, v := range sum {
		out[j] = uint8((v + 1<<(shift-1)) >> shift)
	}
	return out
}
