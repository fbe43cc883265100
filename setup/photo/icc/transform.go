package icc

import "math"

// Transform takes pixels of one space to sRGB. It works in whole numbers, so
// that every processor gives the same.
type Transform struct {
	light  [3][]int32  // by the upper 12 bits of a channel, with one behind the end; full light is 1 << bits
	matrix [3][3]int64 // linear RGB to linear sRGB, in parts of 1 << bits
	code   []uint8     // by 16-bit light
	inks   *inkTable
}

const (
	steps = 1 << 12
	bits  = 20
)

// New makes the tables of a profile: some hundred kB and a millisecond.
func New(p *Profile) *Transform {
	if p.lut != nil {
		return &Transform{inks: newInkTable(p.lut)}
	}
	t := &Transform{code: codes()}
	for i := range p.curves {
		if t.light[i] = t.shared(p, i); t.light[i] != nil {
			continue
		}
		t.light[i] = make([]int32, steps+1)
		for j := range t.light[i] {
			t.light[i][j] = int32(math.Round(p.curves[i].at(float64(j)/steps) * (1 << bits)))
		}
	}
	m := srgbMatrix().inverse().by(p.matrix)
	for i := range 3 {
		for j := range 3 {
			t.matrix[i][j] = int64(math.Round(m[i][j] * (1 << bits)))
		}
	}
	return t
}

// codes is sRGB's curve by 16-bit light. The curve is monotone, so it is filled
// from one code to the next by the light at which the code changes.
func codes() []uint8 {
	out := make([]uint8, 1<<16)
	at := 0
	for c := range 256 {
		end := 1 << 16
		if c < 255 {
			end = int(math.Ceil(decode((float64(c)+0.5)/255) * 65535))
		}
		for ; at < end; at++ {
			out[at] = uint8(c)
		}
	}
	return out
}

// decode is the curve of sRGB, channel to light (IEC 61966-2-1, 5.2).
func decode(v float64) float64 {
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

// shared gives the table of an earlier channel that has the same curve.
func (t *Transform) shared(p *Profile, i int) []int32 {
	for j := range i {
		a, b := p.curves[i], p.curves[j]
		if a.kind == b.kind && a.param == b.param && string(a.table) == string(b.table) {
			return t.light[j]
		}
	}
	return nil
}

// linear reads a table between two of its steps.
func linear(table []int32, v uint16) int64 {
	at := uint32(v) + uint32(v)>>15 // 65535 is the whole
	i, f := at>>4, int32(at&15)
	if i == steps {
		return int64(table[steps])
	}
	return int64(table[i] + (table[i+1]-table[i])*f/16)
}

func (t *Transform) encode(light int64) uint8 {
	return t.code[min(max(light, 0), 1<<bits)*65535>>bits]
}

// RGB gives one pixel in sRGB; what sRGB does not hold goes to its edge.
func (t *Transform) RGB(r, g, b uint16) (uint8, uint8, uint8) {
	lr, lg, lb := linear(t.light[0], r), linear(t.light[1], g), linear(t.light[2], b)
	m := &t.matrix
	return t.encode((m[0][0]*lr + m[0][1]*lg + m[0][2]*lb) >> bits),
		t.encode((m[1][0]*lr + m[1][1]*lg + m[1][2]*lb) >> bits),
		t.encode((m[2][0]*lr + m[2][1]*lg + m[2][2]*lb) >> bits)
}

// Inks gives one pixel of cyan, magenta, yellow and black in sRGB, 65535 for
// all of an ink.
func (t *Transform) Inks(c, m, y, k uint16) (uint8, uint8, uint8) {
	out := t.inks.at(uint8(c>>8), uint8(m>>8), uint8(y>>8), uint8(k>>8))
	return out[0], out[1], out[2]
}

// Grey gives one grey in the curve of sRGB.
func (t *Transform) Grey(v uint16) uint8 { return t.encode(linear(t.light[0], v)) }

// IsSRGB says whether a profile means what sRGB means, whatever it is called:
// over a grid of colours nothing moves by more than one code of 255.
func (p *Profile) IsSRGB() bool {
	if p.Space == CMYK {
		return false
	}
	m := srgbMatrix().inverse().by(p.matrix)
	if p.Space == Grey {
		for i := range 52 {
			x := float64(i) / 51
			if !near(p.curves[0].at(x), x) {
				return false
			}
		}
		return true
	}
	const n = 6
	var light [3][n]float64
	for c := range 3 {
		for i := range n {
			light[c][i] = p.curves[c].at(float64(i) / (n - 1))
		}
		for i := range 52 { // the curve by itself, in steps of five codes
			x := float64(i) / 51
			if !near(p.curves[c].at(x), x) {
				return false
			}
		}
	}
	for i := range n * n * n {
		at := [3]int{i % n, i / n % n, i / n / n}
		v := m.times([3]float64{light[0][at[0]], light[1][at[1]], light[2][at[2]]})
		for c := range 3 {
			if !near(v[c], float64(at[c])/(n-1)) {
				return false
			}
		}
	}
	return true
}

// near says whether light is shown within one code of a channel of sRGB.
func near(light, channel float64) bool {
	return math.Abs(encode(min(max(light, 0), 1))-channel) <= 1.0/255
}
