package apex

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

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

// A dial stands where it is printed to stand, and no step further off.
func TestDialStops(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stops := rapid.Float64Range(-10, 0).Draw(t, "stops")
		dial := Dial{Kind: rapid.SampledFrom([]string{"", "fractions", "number", "ws", "percent"}).Draw(t, "kind"), Full: 10}
		var step, energy *float64
		if v := rapid.SampledFrom([]float64{0, 0.1, 0.33, 0.5, 1}).Draw(t, "step"); v > 0 {
			step = &v
		}
		if rapid.Bool().Draw(t, "energy") {
			v := 400.0
			energy = &v
		}
		at := DialStops(stops, dial, step, energy)
		assert.Equal(t, FormatDial(stops, dial, step, energy), FormatDial(at, dial, step, energy))
		if dial.Kind != "ws" || energy == nil {
			if dial.Kind != "percent" {
				assert.LessOrEqual(t, math.Abs(at-stops), stepOr(step, 0.1)/2+0.01)
			}
		}
	})
}
