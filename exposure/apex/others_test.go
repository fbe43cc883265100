package apex

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Charts of nominal and precise exposure times: 1/15 is 1/16, 1/30 is 1/32 and
// so on; thirds and halves are 2^(-k/3) and 2^(-k/2).
func TestParseTime(t *testing.T) {
	for _, c := range []struct {
		in string
		n  Notation
		s  float64
	}{
		{in: "1/125", s: 1. / 128},
		{in: "1/1000", s: 1. / 1024},
		{in: "1/60 s", s: 1. / 64},
		{in: "1/30", s: 1. / 32},
		{in: "1/15", s: 1. / 16},
		{in: "1 / 8", s: 1. / 8},
		{in: "1/160", s: math.Exp2(-22. / 3)},
		{in: "1/200", s: math.Exp2(-23. / 3)},
		{in: "1/180", s: math.Exp2(-7.5)},
		{in: "1/8000", s: math.Exp2(-13)},
		{in: "0.5 s", s: 0.5},
		{in: "0.5", s: 0.5},
		{in: `0"5`, s: 0.5},
		{in: "0.3 s", s: math.Exp2(-5. / 3)},
		{in: "1/3", s: math.Exp2(-5. / 3)},
		{in: "1/3", n: Notation{Halves: true}, s: math.Exp2(-1.5)},
		{in: "1/20", n: Notation{Halves: true}, s: math.Exp2(-4.5)},
		{in: "0.005", s: math.Exp2(-23. / 3)},
		{in: "2 s", s: 2},
		{in: `2"`, s: 2},
		{in: "15 seconds", s: 16},
		{in: "30s", s: 32},
		{in: "1/111", s: 1. / 111},
		{in: "45 s", s: 45},
		{in: "2,5 s", s: math.Exp2(4. / 3)},
	} {
		s, err := ParseTime(c.in, c.n)
		require.NoError(t, err, c.in)
		assert.InEpsilon(t, c.s, s, 1e-12, c.in)
	}
	for in, want := range map[string]string{
		"200":      `"200" may be 200 seconds or 1/200: write 1/200, or 200 s`,
		"fast":     `"fast" is not an exposure time: write 1/125, 0.5 s or 2 s`,
		"1/0":      `"1/0" is not an exposure time: write 1/125, 0.5 s or 2 s`,
		"0":        `"0" is not an exposure time: write 1/125, 0.5 s or 2 s`,
		"-1/60":    `"-1/60" is not an exposure time: write 1/125, 0.5 s or 2 s`,
		"1/999999": `"1/999999" is no exposure time: it must be from 1/100000 to 3600 s`,
	} {
		_, err := ParseTime(in, Notation{})
		assert.EqualError(t, err, want)
	}
}

func TestFormatTime(t *testing.T) {
	for s, want := range map[float64]string{
		1. / 128: "1/125", 1. / 64: "1/60", 0.00373: "1/250", math.Exp2(-7.5): "1/180", math.Exp2(-6.5): "1/90",
		0.5: "1/2", 1: "1 s", 2: "2 s", 16: "15 s", 120: "120 s", math.Exp2(-1. / 3): "0.8 s", 1. / 64000: "1/64000",
		0: "", -1: "",
	} {
		assert.Equal(t, want, FormatTime(s), "%v s", s)
	}
	rapid.Check(t, func(t *rapid.T) {
		tv := float64(rapid.IntRange(-15, 45).Draw(t, "thirds")) / 3
		s, err := ParseTime(FormatTime(Seconds(tv)), Notation{})
		require.NoError(t, err)
		assert.InDelta(t, tv, Tv(s), 1e-9)
	})
}

func TestParseISO(t *testing.T) {
	for _, in := range []string{"200", "ISO 200", "iso200", "200.0"} {
		v, err := ParseISO(in)
		require.NoError(t, err)
		assert.Equal(t, 200.0, v)
	}
	for _, in := range []string{"", "0", "-100", "fast", "99999999", "1/2"} {
		_, err := ParseISO(in)
		assert.ErrorContains(t, err, "write a number from 1 to 10000000", in)
	}
}

func TestParseDelta(t *testing.T) {
	for in, want := range map[string]float64{
		"-1.7": -1.7, "-1 2/3": -5. / 3, "1.7 under": -1.7, "0.4 over": 0.4, "0": 0, "+1": 1, "−1⅔": -5. / 3,
		"1 2/3 stops under": -5. / 3, "-0.0": 0, "1,7 under": -1.7, "-½": -0.5, "+20": 20, "0 under": 0, "1.6under": -1.6,
	} {
		v, err := ParseDelta(in)
		require.NoError(t, err, in)
		assert.InDelta(t, want, v, 1e-12, in)
		assert.False(t, v == 0 && math.Signbit(v), "%s gives -0", in)
	}
	for in, want := range map[string]string{
		"1.6":       `"1.6" does not say which way: write 1.6 under or -1.6, 1.6 over or +1.6`,
		"-1 under":  `"-1 under" has both a sign and a word: write -1.7 or 1.7 under`,
		"30 over":   `"30 over" is too large a difference: it must be from -20 to +20 stops`,
		"a bit":     `"a bit" is not a difference: write -1.7, -1 2/3, 1.7 under, 0.4 over or 0`,
		"under":     `"under" is not a difference: write -1.7, -1 2/3, 1.7 under, 0.4 over or 0`,
		"-1 4/3":    `"-1 4/3" is not a difference: write -1.7, -1 2/3, 1.7 under, 0.4 over or 0`,
		"-1.5 -0.2": `"-1.5 -0.2" is not a difference: write -1.7, -1 2/3, 1.7 under, 0.4 over or 0`,
	} {
		_, err := ParseDelta(in)
		assert.EqualError(t, err, want)
	}
}

func TestFormatDelta(t *testing.T) {
	for _, c := range []struct {
		stops         float64
		words, signed string
	}{
		{-1.6, "1.6 under", "−1.6"}, {0.4, "0.4 over", "+0.4"}, {0, "0", "0.0"}, {-5. / 3, "1.7 under", "−1.7"},
		{0.04, "0", "0.0"}, {-0.04, "0", "0.0"}, {1, "1.0 over", "+1.0"},
		{-1.65, "1.6 under", "−1.6"}, {1.65, "1.7 over", "+1.7"}, // ties to the smaller aperture
	} {
		assert.Equal(t, c.words, FormatDelta(c.stops))
		assert.Equal(t, c.signed, FormatSigned(c.stops))
	}
	rapid.Check(t, func(t *rapid.T) {
		d := float64(rapid.IntRange(-200, 200).Draw(t, "tenths")) / 10
		for _, s := range []string{FormatDelta(d), FormatSigned(d)} {
			v, err := ParseDelta(s)
			require.NoError(t, err, s)
			assert.InDelta(t, d, v, 1e-9, s)
		}
	})
}

func TestParseStops(t *testing.T) {
	for in, want := range map[string]float64{"1/3": 1. / 3, "0.1": 0.1, "8": 8, "9 stops": 9, "1 2/3": 5. / 3} {
		v, err := ParseStops(in)
		require.NoError(t, err)
		assert.InDelta(t, want, v, 1e-12)
	}
	for _, in := range []string{"", "-1", "21", "many"} {
		_, err := ParseStops(in)
		assert.ErrorContains(t, err, "write a number from 0 to 20", in)
	}
}

// Power fractions are halvings: 1/2 ... 1/256 are -1 ... -8 stops (exact), and
// 300 of 500 Ws is log2(0.6) = -0.7370 of a stop, 250 of 400 -0.6781 (energy
// doubles a stop; common practice in flash tables).
func TestParsePower(t *testing.T) {
	e500, e400 := 500.0, 400.0
	number := Dial{Kind: "number", Full: 10}
	for _, c := range []struct {
		in     string
		energy *float64
		dial   Dial
		stops  float64
	}{
		{in: "full", stops: 0}, {in: "1/1", stops: 0}, {in: "1/2", stops: -1}, {in: "1/4", stops: -2},
		{in: "1/8", stops: -3}, {in: "1/16", stops: -4}, {in: "1/128", stops: -7}, {in: "1/256", stops: -8},
		{in: "1/8 +0.3", stops: -2.7}, {in: "1/8+1/3", stops: -3 + 1./3}, {in: "1/8 3/10", stops: -2.7},
		{in: "1/4 −0.3", stops: -2.3}, {in: "full -0.3", stops: -0.3}, {in: "-3.3", stops: -3.3}, {in: "-0", stops: 0},
		{in: "300 Ws", energy: &e500, stops: -0.7370}, {in: "250 J", energy: &e400, stops: -0.6781},
		{in: "400ws", energy: &e400, stops: 0},
		{in: "7.5", dial: number, stops: -2.5}, {in: "10", dial: number, stops: 0}, {in: "-2", dial: number, stops: -2},
		{in: "50 %", stops: -1}, {in: "25", dial: Dial{Kind: "percent"}, stops: -2},
		{in: "100", energy: &e400, dial: Dial{Kind: "ws"}, stops: -2},
	} {
		v, err := ParsePower(c.in, c.energy, c.dial)
		require.NoError(t, err, c.in)
		assert.InDelta(t, c.stops, v, 5e-5, c.in)
		assert.False(t, v == 0 && math.Signbit(v), "%s gives -0", c.in)
	}
	for _, c := range []struct {
		in   string
		dial Dial
		want string
	}{
		{"62 Ws", Dial{}, `"62 Ws" needs the head's energy at full power: give the head an energy in Ws`},
		{"1/6", Dial{}, `"1/6" is no mark of a dial: the fractions are 1/1, 1/2, 1/4, 1/8 and so on to 1/4096`},
		{"2/1", Dial{}, `"2/1" is no mark of a dial: the fractions are 1/1, 1/2, 1/4, 1/8 and so on to 1/4096`},
		{"1/8192", Dial{}, `"1/8192" is too low a power: the least is 1/4096, 12 stops below full`},
		{"full +0.3", Dial{}, `"full +0.3" is above full power`},
		{"11", number, `"11" is above full power`},
		{"120 %", Dial{}, `"120 %" is not a power: a percentage is above 0 and at most 100`},
		{"8", Dial{}, `"8" is not a power: write 1/8, 1/8 +0.3, full, 62 Ws, or stops below full such as -3.3`},
		{"low", number, `"low" is not a power: write the dial's figure (10 at full), 1/8, 1/8 +0.3, full, 62 Ws, or stops below full such as -3.3`},
		{"7", Dial{Kind: "number"}, `"7" needs the figure this head's dial shows at full power`},
	} {
		_, err := ParsePower(c.in, nil, c.dial)
		assert.EqualError(t, err, c.want)
	}
	_, err := ParsePower("450 Ws", &e400, Dial{})
	assert.EqualError(t, err, `"450 Ws" is above the head's 400 Ws`)
}

func TestFormatDial(t *testing.T) {
	e := 400.0
	third, half, whole, quarter := 1./3, 0.5, 1.0, 0.25
	number := Dial{Kind: "number", Full: 10}
	for _, c := range []struct {
		stops  float64
		dial   Dial
		step   *float64
		energy *float64
		want   string
	}{
		{-2.2, Dial{}, nil, nil, "1/8 +0.8"},
		{-2.2, Dial{Kind: "fractions"}, &third, nil, "1/8 +2/3"},
		{-2.2, Dial{}, &half, nil, "1/4"},
		{-2.25, Dial{}, &half, nil, "1/4"}, // a tie gives more power
		{-2.5, Dial{}, &half, nil, "1/8 +1/2"},
		{-2.2, Dial{}, &whole, nil, "1/4"},
		{-2.2, Dial{}, &quarter, nil, "1/8 +0.75"},
		{0, Dial{}, nil, nil, "full"},
		{-0.04, Dial{}, nil, nil, "full"},
		{-0.5, Dial{}, nil, nil, "1/2 +0.5"},
		{-3, Dial{}, nil, nil, "1/8"},
		{0.4, Dial{}, nil, nil, "full +0.4"},
		{1.3, Dial{}, nil, nil, "full +1.3"},
		{-2.2, number, nil, nil, "7.8"},
		{0, number, nil, nil, "10.0"},
		{-2.2, Dial{Kind: "number"}, nil, nil, "1/8 +0.8"}, // what full shows is not known
		{-2.2, Dial{Kind: "ws"}, nil, &e, "87 Ws"},
		{-5, Dial{Kind: "ws"}, nil, &e, "12.5 Ws"},
		{-2.2, Dial{Kind: "ws"}, nil, nil, "1/8 +0.8"}, // its energy is not known
		{-2.2, Dial{Kind: "percent"}, nil, nil, "22 %"},
		{math.NaN(), Dial{}, nil, nil, ""},
	} {
		assert.Equal(t, c.want, FormatDial(c.stops, c.dial, c.step, c.energy), "%v %v", c.stops, c.dial)
	}
}

func TestDialsRoundTrip(t *testing.T) {
	energy := 400.0
	rapid.Check(t, func(t *rapid.T) {
		stops := rapid.Float64Range(-8, 0).Draw(t, "stops")
		dial := rapid.SampledFrom([]Dial{{}, {Kind: "fractions"}, {Kind: "number", Full: 10}}).Draw(t, "dial")
		step := rapid.SampledFrom([]float64{0.1, 1. / 3, 0.5, 1}).Draw(t, "step")
		text := FormatDial(stops, dial, &step, &energy)
		v, err := ParsePower(text, &energy, dial)
		require.NoError(t, err, text)
		assert.InDelta(t, stops, v, step/2+0.05, text)
	})
}
