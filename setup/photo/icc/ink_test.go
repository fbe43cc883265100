package icc

import (
	"encoding/binary"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// press is a made-up press: its inks in CIE Lab.
func press(c, m, y, k float64) (l, a, b float64) {
	l = (100 - 45*c - 50*m - 10*y) * (1 - 0.9*k)
	return max(l, 4), (70*m - 35*c) * (1 - k), (85*y - 45*c - 5*m) * (1 - k)
}

const pressGrid = 5

// pressProfile is its profile, with tables of 16 or of 8 bits (ICC.1:2010, 10.8
// and 10.9); the curves before and behind are straight.
func pressProfile(deep bool) []byte {
	kind, tables := "mft1", 256
	put := func(out []byte, v float64) []byte { return append(out, uint8(math.Round(v*255))) }
	lab := func(l, a, b float64) [3]float64 { return [3]float64{l / 100, (a + 128) / 255, (b + 128) / 255} }
	if deep {
		kind, tables = "mft2", 2
		put = func(out []byte, v float64) []byte { return binary.BigEndian.AppendUint16(out, at16(v)) }
		lab = func(l, a, b float64) [3]float64 {
			return [3]float64{l / 100 * 65280 / 65535, (a + 128) * 256 / 65535, (b + 128) * 256 / 65535}
		}
	}
	out := append([]byte(kind+"\x00\x00\x00\x00"), 4, 3, pressGrid, 0)
	for i := range 9 {
		out = appendFixed(out, map[bool]float64{true: 1}[i%4 == 0])
	}
	if deep {
		out = append(out, 0, 2, 0, 2)
	}
	straight := func(n int) {
		for range n {
			for i := range tables {
				out = put(out, float64(i)/float64(tables-1))
			}
		}
	}
	straight(4)
	const g = pressGrid
	for i := range g * g * g * g {
		at := func(v int) float64 { return float64(v%g) / (g - 1) }
		for _, v := range lab(press(at(i/g/g/g), at(i/g/g), at(i/g), at(i))) {
			out = put(out, v)
		}
	}
	straight(3)
	return profileOf("CMYK", "Lab ", map[string][]byte{"A2B1": out})
}

// shown is a colour in sRGB, 0 to 255, after black has been stretched down to
// 0: the long way (CIE 15:2004, 8.2.1, then as in expected).
func shown(l, a, b, black float64) (out [3]float64) {
	white := [3]float64{0.9642, 1, 0.8249}
	part := func(t float64) float64 {
		if t > 6.0/29 {
			return t * t * t
		}
		return (116*t - 16) / 903.2963
	}
	f := (l + 16) / 116
	v := [3]float64{part(f + a/500), part(f), part(f - b/200)}
	for i := range v {
		v[i] = white[i] * (v[i] - black) / (1 - black)
	}
	srgb := spaces[0]
	var m [3][3]float64
	for i := range 3 {
		unit := [3]float64{}
		unit[i] = 1
		for j, e := range srgb.toXYZ(unit) {
			m[j][i] = e
		}
	}
	for i, light := range solve3(m, adaptXYZ(v, white, xyz(srgb.xy[3]))) {
		light = min(max(light, 0), 1)
		out[i] = 255 * 12.92 * light
		if light > 0.0031308 {
			out[i] = 255 * (1.055*math.Pow(light, 1/2.4) - 0.055)
		}
	}
	return out
}

func TestInks(t *testing.T) {
	for _, deep := range []bool{true, false} {
		tr := transform(t, pressProfile(deep))
		l, _, _ := press(0.75, 0.75, 0.75, 1) // the point next to the deepest black
		black := math.Pow((l+16)/116, 3)
		if l <= 8 {
			black = l / 903.2963
		}
		for i := range 256 {
			at := func(v int) float64 { return []float64{0, 0.25, 0.75, 1}[v%4] }
			c, m, y, k := at(i), at(i/4), at(i/16), at(i/64)
			l, a, b := press(c, m, y, k)
			want := shown(l, a, b, black)
			r, g, bl := tr.Inks(at16(c), at16(m), at16(y), at16(k))
			for j, v := range [3]uint8{r, g, bl} {
				limit := 5.0 // a code of 8 is 1/255 of an ink, or half a unit of a and b
				if deep && c != 0.25 && m != 0.25 && y != 0.25 && k != 0.25 && c != 0.75 && m != 0.75 && y != 0.75 && k != 0.75 {
					limit = 1
				}
				require.InDelta(t, want[j], float64(v), limit, "%v: %v %v %v %v channel %d", deep, c, m, y, k, j)
			}
		}
	}
}

func TestInkTablesRefused(t *testing.T) {
	good := pressProfile(true)
	for n := 0; n < len(good); n += 7 {
		if p, err := Parse(good[:n]); err == nil {
			New(p)
		}
	}
	at := int(binary.BigEndian.Uint32(good[136:]))
	for _, c := range []struct{ at, value int }{{at + 8, 3}, {at + 9, 4}, {at + 10, 1}, {at + 10, 60}, {at + 3, 'X'}} {
		b := append([]byte{}, good...)
		b[c.at] = byte(c.value)
		_, err := Parse(b)
		assert.Error(t, err, "%v", c)
	}
}
