package icc

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stopleaf/internal/outside"
)

// space is a colour space by its published figures; the matrices are worked out
// here, apart from the package.
type space struct {
	name  string
	xy    [4][2]float64 // red, green, blue, white
	curve []byte        // as a tag
	light func(float64) float64
}

func srgbLight(v float64) float64 {
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

func gammaLight(g float64) func(float64) float64 {
	return func(v float64) float64 { return math.Pow(v, g) }
}

var spaces = []space{
	// IEC 61966-2-1
	{"sRGB", [4][2]float64{{0.64, 0.33}, {0.30, 0.60}, {0.15, 0.06}, {0.3127, 0.3290}}, srgbCurve(), srgbLight},
	// Adobe RGB (1998) Color Image Encoding, version 2005-05, 4.2 and 4.3.1.2
	{"Adobe RGB", [4][2]float64{{0.64, 0.33}, {0.21, 0.71}, {0.15, 0.06}, {0.3127, 0.3290}}, gammaCurve(2.19921875), gammaLight(2.19921875)},
	// SMPTE RP 431-2 primaries with the white and the curve of sRGB (CSS Color 4, 10.5)
	{"Display P3", [4][2]float64{{0.680, 0.320}, {0.265, 0.690}, {0.150, 0.060}, {0.3127, 0.3290}}, srgbCurve(), srgbLight},
	// ROMM RGB, ISO 22028-2, table 1; without its straight part below 1/512, as its profiles are
	{"ProPhoto", [4][2]float64{{0.7347, 0.2653}, {0.1596, 0.8404}, {0.0366, 0.0001}, {0.3457, 0.3585}}, gammaCurve(1.8), gammaLight(1.8)},
}

func gammaCurve(g float64) []byte {
	return append([]byte("curv\x00\x00\x00\x00\x00\x00\x00\x01"), byte(int(g*256+0.5)>>8), byte(int(g*256+0.5)))
}

// srgbCurve is function type 3 of the parametric curve.
func srgbCurve() []byte { return parametric(3, 2.4, 1/1.055, 0.055/1.055, 1/12.92, 0.04045) }

func parametric(kind uint16, values ...float64) []byte {
	out := binary.BigEndian.AppendUint16([]byte("para\x00\x00\x00\x00"), kind)
	out = append(out, 0, 0)
	for _, v := range values {
		out = appendFixed(out, v)
	}
	return out
}

func appendFixed(out []byte, v float64) []byte {
	return binary.BigEndian.AppendUint32(out, uint32(int32(math.Round(v*65536))))
}

// solve3 solves a system of three equations by elimination.
func solve3(a [3][3]float64, v [3]float64) (x [3]float64) {
	for i := range 3 {
		p := i
		for r := i; r < 3; r++ {
			if math.Abs(a[r][i]) > math.Abs(a[p][i]) {
				p = r
			}
		}
		a[i], a[p], v[i], v[p] = a[p], a[i], v[p], v[i]
		for r := range 3 {
			if r == i {
				continue
			}
			f := a[r][i] / a[i][i]
			for c := range 3 {
				a[r][c] -= f * a[i][c]
			}
			v[r] -= f * v[i]
		}
	}
	for i := range 3 {
		x[i] = v[i] / a[i][i]
	}
	return x
}

func xyz(xy [2]float64) [3]float64 { return [3]float64{xy[0] / xy[1], 1, (1 - xy[0] - xy[1]) / xy[1]} }

// toXYZ is a space's linear RGB in XYZ under its own white.
func (s space) toXYZ(rgb [3]float64) (out [3]float64) {
	var m [3][3]float64
	for i := range 3 {
		for j, v := range xyz(s.xy[i]) {
			m[j][i] = v
		}
	}
	amount := solve3(m, xyz(s.xy[3]))
	for j := range 3 {
		for i := range 3 {
			out[j] += m[j][i] * amount[i] * rgb[i]
		}
	}
	return out
}

// cone responses of the Bradford transform (CIE 160:2004; ICC.1:2010, annex E).
var cones = [3][3]float64{{0.8951, 0.2664, -0.1614}, {-0.7502, 1.7135, 0.0367}, {0.0389, -0.0685, 1.0296}}

func adaptXYZ(v, from, to [3]float64) [3]float64 {
	dot := func(row, v [3]float64) float64 { return row[0]*v[0] + row[1]*v[1] + row[2]*v[2] }
	var c [3]float64
	for i := range 3 {
		c[i] = dot(cones[i], v) * dot(cones[i], to) / dot(cones[i], from)
	}
	return solve3(cones, c)
}

// expected is a colour of a space in sRGB, 0 to 255, worked out the long way.
func (s space) expected(rgb [3]float64) (out [3]float64) {
	var lin [3]float64
	for i, v := range rgb {
		lin[i] = s.light(v)
	}
	srgb := spaces[0]
	v := adaptXYZ(s.toXYZ(lin), xyz(s.xy[3]), xyz(srgb.xy[3]))
	var m [3][3]float64
	for i := range 3 {
		unit := [3]float64{}
		unit[i] = 1
		for j, e := range srgb.toXYZ(unit) {
			m[j][i] = e
		}
	}
	for i, l := range solve3(m, v) {
		l = min(max(l, 0), 1)
		if l <= 0.0031308 {
			out[i] = 255 * 12.92 * l
		} else {
			out[i] = 255 * (1.055*math.Pow(l, 1/2.4) - 0.055)
		}
	}
	return out
}

// profile builds a profile of a space as ICC.1:2010 lays it out.
func (s space) profile() []byte {
	tags := map[string][]byte{"rTRC": s.curve, "gTRC": s.curve, "bTRC": s.curve}
	for i, name := range []string{"rXYZ", "gXYZ", "bXYZ"} {
		unit := [3]float64{}
		unit[i] = 1
		t := []byte("XYZ \x00\x00\x00\x00")
		for _, v := range adaptXYZ(s.toXYZ(unit), xyz(s.xy[3]), [3]float64{0.9642, 1, 0.8249}) {
			t = appendFixed(t, v)
		}
		tags[name] = t
	}
	return profileOf("RGB ", "XYZ ", tags)
}

func profileOf(colours, pcs string, tags map[string][]byte) []byte {
	out := make([]byte, 128)
	copy(out[8:], "\x04\x20")
	copy(out[12:], "mntr"+colours+pcs)
	copy(out[36:], "acsp")
	white := appendFixed(appendFixed(appendFixed(nil, 0.9642), 1), 0.8249)
	copy(out[68:], white)
	if colours == "RGB " {
		tags["wtpt"] = append([]byte("XYZ \x00\x00\x00\x00"), white...)
	}
	out = binary.BigEndian.AppendUint32(out, uint32(len(tags)))
	at := len(out) + 12*len(tags)
	var data []byte
	for name, t := range tags {
		out = append(out, name...)
		out = binary.BigEndian.AppendUint32(out, uint32(at+len(data)))
		out = binary.BigEndian.AppendUint32(out, uint32(len(t)))
		data = append(data, t...)
		data = append(data, make([]byte, (4-len(t)%4)%4)...)
	}
	out = append(out, data...)
	binary.BigEndian.PutUint32(out, uint32(len(out)))
	return out
}

func transform(t testing.TB, b []byte) *Transform {
	t.Helper()
	p, err := Parse(b)
	require.NoError(t, err)
	return New(p)
}

func at16(v float64) uint16 { return uint16(math.Round(v * 65535)) }

// Pairs that others have published: the first of each is web-platform-tests,
// css/css-color (a98rgb-001, display-p3-001, prophoto-rgb-001: the colour
// "green", 0 128 0); the rest are the named colours in ColorAide's tests of its
// spaces (tests/test_a98_rgb.py, tests/test_display_p3.py).
func TestPublishedPairs(t *testing.T) {
	for _, c := range []struct {
		space int
		from  [3]float64
		to    [3]int
	}{
		{1, [3]float64{0.281363, 0.498012, 0.116746}, [3]int{0, 128, 0}},
		{1, [3]float64{0.85859, 0, 0}, [3]int{255, 0, 0}},
		{1, [3]float64{0.91489, 0.64117, 0.15031}, [3]int{255, 165, 0}},
		{1, [3]float64{0.83635, 0.50567, 0.91826}, [3]int{238, 130, 238}},
		{1, [3]float64{0.49802, 0.49802, 0.49802}, [3]int{128, 128, 128}},
		{2, [3]float64{0.21604, 0.49418, 0.13151}, [3]int{0, 128, 0}},
		{2, [3]float64{0.91749, 0.20029, 0.13856}, [3]int{255, 0, 0}},
		{2, [3]float64{0.94965, 0.6629, 0.23297}, [3]int{255, 165, 0}},
		{2, [3]float64{0.87709, 0.53133, 0.91095}, [3]int{238, 130, 238}},
		{3, [3]float64{0.230479, 0.395789, 0.129968}, [3]int{0, 128, 0}},
	} {
		s := spaces[c.space]
		r, g, b := transform(t, s.profile()).RGB(at16(c.from[0]), at16(c.from[1]), at16(c.from[2]))
		for i, v := range []uint8{r, g, b} {
			assert.InDelta(t, c.to[i], int(v), 1, "%s %v channel %d", s.name, c.from, i)
		}
	}
}

// Every colour comes out as the long way round says.
func TestEqualsTheLongWay(t *testing.T) {
	for _, s := range spaces {
		tr := transform(t, s.profile())
		rapid.Check(t, func(t *rapid.T) {
			var c [3]float64
			for i := range c {
				c[i] = rapid.Float64Range(0, 1).Draw(t, "channel")
			}
			want := s.expected(c)
			r, g, b := tr.RGB(at16(c[0]), at16(c[1]), at16(c[2]))
			for i, v := range []uint8{r, g, b} {
				if math.Abs(want[i]-float64(v)) > 1.5 {
					t.Fatalf("%s %v: %v, want %v", s.name, c, []uint8{r, g, b}, want)
				}
			}
		})
	}
}

// Grey stays grey, black black and white white.
func TestNeutral(t *testing.T) {
	for _, s := range spaces {
		tr := transform(t, s.profile())
		for v := 0; v <= 65535; v += 257 {
			r, g, b := tr.RGB(uint16(v), uint16(v), uint16(v))
			assert.InDelta(t, int(g), int(r), 1, s.name)
			assert.InDelta(t, int(g), int(b), 1, s.name)
		}
		r, g, b := tr.RGB(65535, 65535, 65535)
		assert.Equal(t, [3]uint8{255, 255, 255}, [3]uint8{r, g, b}, s.name)
		r, g, b = tr.RGB(0, 0, 0)
		assert.Equal(t, [3]uint8{}, [3]uint8{r, g, b}, s.name)
	}
}

func TestIsSRGB(t *testing.T) {
	for i, s := range spaces {
		p, err := Parse(s.profile())
		require.NoError(t, err)
		assert.Equal(t, i == 0, p.IsSRGB(), s.name)
	}
	// sRGB's primaries under a plain exponent are not sRGB: the shadows differ by
	// seven codes
	s := spaces[0]
	s.curve = gammaCurve(2.2)
	p, err := Parse(s.profile())
	require.NoError(t, err)
	assert.False(t, p.IsSRGB())
	// a table of 1024 values, as most sRGB profiles have
	s.curve = tableCurve(1024, srgbLight)
	p, err = Parse(s.profile())
	require.NoError(t, err)
	assert.True(t, p.IsSRGB())
}

func tableCurve(n int, f func(float64) float64) []byte {
	out := binary.BigEndian.AppendUint32([]byte("curv\x00\x00\x00\x00"), uint32(n))
	for i := range n {
		out = binary.BigEndian.AppendUint16(out, at16(f(float64(i)/float64(n-1))))
	}
	return out
}

// AdobeRGB is the same as the profile of that space.
func TestAdobeRGB(t *testing.T) {
	a, b := New(AdobeRGB()), transform(t, spaces[1].profile())
	for i := range 4096 {
		r, g, bl := uint16(i&15)*4369, uint16(i>>4&15)*4369, uint16(i>>8)*4369
		r1, g1, b1 := a.RGB(r, g, bl)
		r2, g2, b2 := b.RGB(r, g, bl)
		assert.InDelta(t, int(r2), int(r1), 1)
		assert.InDelta(t, int(g2), int(g1), 1)
		assert.InDelta(t, int(b2), int(b1), 1)
	}
}

// A profile that keeps its monitor's white still shows white as white.
func TestPrimariesNotAdapted(t *testing.T) {
	s := spaces[0]
	tags := map[string][]byte{"rTRC": s.curve, "gTRC": s.curve, "bTRC": s.curve}
	for i, name := range []string{"rXYZ", "gXYZ", "bXYZ"} {
		unit := [3]float64{}
		unit[i] = 1
		b := []byte("XYZ \x00\x00\x00\x00")
		for _, v := range s.toXYZ(unit) {
			b = appendFixed(b, v)
		}
		tags[name] = b
	}
	p, err := Parse(profileOf("RGB ", "XYZ ", tags))
	require.NoError(t, err)
	assert.True(t, p.IsSRGB())
}

// The five function types of ICC.1:2010, table 65, each at a value below and
// above its bend, by hand.
func TestParametricCurves(t *testing.T) {
	for _, c := range []struct {
		curve    []byte
		in, want float64
	}{
		{parametric(0, 2), 0.5, 0.25},
		{parametric(1, 2, 2, -0.5), 0.2, 0},    // below 0.25
		{parametric(1, 2, 2, -0.5), 0.5, 0.25}, // (1 - 0.5)²
		{parametric(2, 2, 1, -0.5, 0.1), 0.25, 0.1},
		{parametric(2, 2, 1, -0.5, 0.1), 1, 0.35},
		{parametric(3, 2, 1, 0, 0.5, 0.5), 0.25, 0.125},
		{parametric(3, 2, 1, 0, 0.5, 0.5), 0.75, 0.5625},
		{parametric(4, 2, 1, 0, 0.5, 0.5, 0.1, 0.05), 0.25, 0.175},
		{parametric(4, 2, 1, 0, 0.5, 0.5, 0.1, 0.05), 0.5, 0.35},
		{[]byte("curv\x00\x00\x00\x00\x00\x00\x00\x00"), 0.3, 0.3},
		{tableCurve(3, func(v float64) float64 { return v * v }), 0.75, 0.625}, // between 0.25 and 1
	} {
		got, err := readCurve(c.curve)
		require.NoError(t, err)
		assert.InDelta(t, c.want, got.at(c.in), 1e-4, "%q", c.curve)
	}
}

func TestGrey(t *testing.T) {
	p, err := Parse(profileOf("GRAY", "XYZ ", map[string][]byte{"kTRC": gammaCurve(1.8)}))
	require.NoError(t, err)
	assert.Equal(t, Grey, p.Space)
	assert.False(t, p.IsSRGB())
	tr := New(p)
	for _, v := range []float64{0, 0.1, 0.5, 0.9, 1} {
		want := encode(math.Pow(v, 1.8)) * 255
		assert.InDelta(t, want, float64(tr.Grey(at16(v))), 1)
	}
}

func TestRefused(t *testing.T) {
	good := spaces[1].profile()
	for n := range len(good) {
		p, err := Parse(good[:n])
		if err == nil {
			New(p) // what was cut off was filling
		}
	}
	_, err := Parse(profileOf("CMYK", "Lab ", map[string][]byte{}))
	assert.ErrorIs(t, err, ErrTables)
	_, err = Parse(profileOf("RGB ", "Lab ", map[string][]byte{"A2B0": []byte("mft2")}))
	assert.ErrorIs(t, err, ErrTables)
	_, err = Parse(make([]byte, 200))
	assert.ErrorIs(t, err, errDamaged)
	s := spaces[0]
	s.curve = gammaCurve(0)
	_, err = Parse(s.profile())
	assert.ErrorIs(t, err, errDamaged)
}

// Another colour engine, lcms inside ImageMagick, reads the same profiles and
// gives the same colours.
func TestEqualsAnotherEngine(t *testing.T) {
	dir := t.TempDir()
	put := func(name string, b []byte) string {
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, b, 0o600))
		return path
	}
	srgb := put("srgb.icc", spaces[0].profile())
	in := image.NewNRGBA(image.Rect(0, 0, 64, 64))
	for i := range 64 * 64 {
		in.SetNRGBA(i%64, i/64, color.NRGBA{uint8(i & 15 * 17), uint8(i >> 4 & 15 * 17), uint8(i >> 8 * 17), 255})
	}
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, in))
	picture := put("in.png", b.Bytes())
	for _, s := range spaces[1:] {
		out := filepath.Join(dir, "out.png")
		outside.Run(t, "convert", picture, "-profile", put("from.icc", s.profile()), "-profile", srgb, "-depth", "8", "-strip", "PNG24:"+out)
		f, err := os.Open(out)
		require.NoError(t, err)
		want, err := png.Decode(f)
		require.NoError(t, f.Close())
		require.NoError(t, err)
		tr := transform(t, s.profile())
		for i := range 64 * 64 {
			c := in.NRGBAAt(i%64, i/64)
			w := color.NRGBAModel.Convert(want.At(i%64, i/64)).(color.NRGBA)
			r, g, bl := tr.RGB(uint16(c.R)*257, uint16(c.G)*257, uint16(c.B)*257)
			for j, v := range [3][2]uint8{{w.R, r}, {w.G, g}, {w.B, bl}} {
				require.InDelta(t, int(v[0]), int(v[1]), 2, "%s %v channel %d", s.name, c, j)
			}
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range spaces {
		f.Add(s.profile())
	}
	f.Add(pressProfile(true))
	f.Add(pressProfile(false))
	f.Fuzz(func(t *testing.T, b []byte) {
		p, err := Parse(b)
		if err != nil {
			return
		}
		p.IsSRGB()
		tr := New(p)
		switch p.Space {
		case Grey:
			tr.Grey(30000)
			return
		case CMYK:
			tr.Inks(0, 30000, 65535, 300)
			return
		}
		tr.RGB(0, 30000, 65535)
	})
}
