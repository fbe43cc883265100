package edit

import (
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
	"stopleaf/setup"
)

// The foot is 0.3048 m exactly and the inch 25.4 mm (international yard and pound
// agreement of 1959); the wanted texts are worked out by hand from that.
func TestLength(t *testing.T) {
	for _, c := range []struct {
		was  string
		m    float64
		bare setup.Units
		want string
	}{
		{"1.4 m", 1.4, "m", "1.4 m"},
		{"1.4 m", 1.4004, "m", "1.4 m"}, // within half a millimetre: left alone
		{"1.4 m", 1.55, "m", "1.55 m"},
		{"1.40 m", 1.5, "m", "1.50 m"},
		{"1.4m", 2, "m", "2.0m"},
		{"1,4 m", 1.55, "m", "1,55 m"},
		{"140 cm", 1.55, "m", "155 cm"},
		{"140 cm", 1.5523, "m", "155.2 cm"},
		{"140 cm", 1.5526, "m", "155.3 cm"},
		{"1400 mm", 1.5523, "m", "1552 mm"},
		{"1.4", 0.5, "m", "0.5"},
		{"140", 0.5, "cm", "50"},
		{"4.5", 3.048, "ft", "10.0"},
		{"55", 2.54, "in", "100"},
		{"", 1.5, "m", "1.5"},
		{"", 1.5, "cm", "150"},
		{"", 0.3048 * 5.5, "ft", "5.5"},
		{"4 ft 6 in", 0.3048 * 7.25, "m", "7 ft 3 in"},
		{"4 ft 6 in", 0.3048*7 + 0.0254*3.125, "m", "7 ft 3 1/8 in"},
		{"4 ft 6 in", 0.3048*7 + 0.0254*3.5, "m", "7 ft 3 1/2 in"},
		{"4 ft 6 in", 0.3048*7 + 0.0254*3.2, "m", "7 ft 3.2 in"},
		{"4 ft 6 in", 0.3048 * 2, "m", "2 ft"},
		{"4 ft 6 in", 0.0254 * 5, "m", "5 in"},
		{"4 ft 6 in", 0.3048*8 - 0.0001, "m", "8 ft"}, // carried
		{"6 ft", 0.3048 * 6.5, "m", "6 ft 6 in"},
		{"6 ft", 0.3048 * 7, "m", "7 ft"},
		{"6ft", 0.3048 * 6.5, "m", "6ft 6in"},
		{"6.25 ft", 0.3048 * 6.5, "m", "6.50 ft"},
		{"6 feet", 0.3048 * 6.5, "m", "6 feet 6 inches"},
		{"4'6\"", 0.3048*5 + 0.0254*1.25, "m", "5'1 1/4\""},
		{"4'", 0.3048 * 6.5, "m", "6'6\""},
		{"4′6″", 0.3048 * 6.5, "m", "6′6″"},
		{"30 in", 0.0254 * 31.5, "m", "31 1/2 in"},
		{"6 1/2 in", 0.0254 * 7, "m", "7 in"},
		{"6½ in", 0.0254 * 7.75, "m", "7¾ in"},
		{"1 m 40 cm", 1.553, "m", "1 m 55.3 cm"},
		{"1 m 40 cm", 0.9, "m", "0 m 90 cm"},
		{"nonsense", 1.5, "m", "1.5"},
	} {
		got, err := Length(c.was, c.m, c.bare)
		require.NoError(t, err, "%v", c)
		assert.Equal(t, c.want, got, "%v", c)
	}
	for _, m := range []float64{-0.1, 101, math.NaN(), math.Inf(1)} {
		_, err := Length("1 m", m, "m")
		assert.Error(t, err)
	}
}

// Worked out from the definitions: a stop is a factor of two of light, marks as
// engraved (Exif 2.31, CIPA DC-008 Annex C).
func TestStops(t *testing.T) {
	ws, third := 200.0, 1.0/3
	fractions := &exposure.Head{EnergyWs: &ws}
	number := &exposure.Head{EnergyWs: &ws, Dial: exposure.Dial{Kind: "number", Full: 10}, Step: &third}
	for _, c := range []struct {
		was   string
		stops float64
		head  *exposure.Head
		want  string
	}{
		{"1/4 +0.2", -1.8, fractions, "1/4 +0.2"},
		{"1/4 +0.2", -2.5, fractions, "1/8 +0.5"},
		{"1/4 +0.2", -3, fractions, "1/8"},
		{"1/4 +0.2", 0, fractions, "full"},
		{"1/4 +0.2", -5.0 / 3, fractions, "1/4 +1/3"},
		{"1/4 +0.2", -1.63, fractions, "1/4 +0.37"},
		{"1/4+1/3", -8.0 / 3, fractions, "1/8+1/3"},
		{"1/4 +0,2", -2.5, fractions, "1/8 +0,5"},
		{"full", -1, nil, "1/2"},
		{"62 Ws", -1, fractions, "100 Ws"},
		{"62 J", -2, fractions, "50 J"},
		{"62 Ws", -1.5, fractions, "70.7 Ws"},
		{"62 Ws", -1, nil, "1/2"}, // a head without a known energy
		{"50 %", -2, nil, "25 %"},
		{"50%", -3, nil, "12.5%"},
		{"-3.3", -2.1, nil, "-2.1"},
		{"-3.3", 0, nil, "full"},
		{"-3 1/3", -8.0 / 3, nil, "-2 2/3"},
		{"−3.3 stops", -1, nil, "−1.0 stops"},
		{"8.5", -2, number, "8.0"},
		{"8.5", -2, fractions, "1/4"}, // a number means nothing on this dial
		{"", -2, number, "8"},
		{"", -2.5, number, "7.5"},
		{"", -2, nil, "1/4"},
	} {
		got, err := Power(c.was, c.stops, c.head)
		require.NoError(t, err, "%v", c)
		assert.Equal(t, c.want, got, "%v", c)
	}
	for _, v := range []float64{0.5, -13, math.NaN()} {
		_, err := Power("1/4", v, nil)
		assert.Error(t, err)
	}
	for _, c := range []struct {
		was   string
		stops float64
		want  string
	}{
		{"1.6 under", -1.6, "1.6 under"},
		{"1.6 under", -1.604, "1.6 under"},
		{"1.6 under", -2, "2.0 under"},
		{"1.6 under", 0.4, "0.4 over"},
		{"1.6under", 0.4, "0.4over"},
		{"1.6 stops under", 0.4, "0.4 stops over"},
		{"-1.6", 0.4, "+0.4"},
		{"−1.6", -0.4, "−0.4"},
		{"-1 2/3", -4.0 / 3, "-1 1/3"},
		{"-1 2/3", -1.7, "-1.7"},
		{"1.6 under", -5.0 / 3, "1 2/3 under"},
		{"1.6 under", -1.63, "1.63 under"},
		{"-1.6", 0, "0"},
		{"0", -1.6, "1.6 under"},
		{"", 0.4, "0.4 over"},
		{"1,6 under", -1.7, "1,7 under"},
	} {
		got, err := Delta(c.was, c.stops)
		require.NoError(t, err, "%v", c)
		assert.Equal(t, c.want, got, "%v", c)
	}
	_, err := Delta("1 under", -30)
	assert.Error(t, err)
}

func TestReading(t *testing.T) {
	second, iso := 1.0/64, 400.0
	plain := Meter{ShutterS: &second, ISO: &iso}
	tenths := Meter{Notation: apex.Notation{Bare: "tenths"}}
	halves := Meter{Notation: apex.Notation{Halves: true}}
	for _, c := range []struct {
		was   string
		av    float64
		meter Meter
		want  string
	}{
		{"f/8 +0.4", 6.4, plain, "f/8 +0.4"},
		{"f/8 +0.4", 5.4, plain, "f/5.6 +0.4"},
		{"f/8 +0.4", 7, plain, "f/11"},
		{"f/8 +0.4", 7 + 1.0/3, plain, "f/13"},
		{"f/8 +0.4", 6.55, plain, "f/8 +0.55"},
		{"f/8+0.4", 5.3, plain, "f/5.6+0.3"},
		{"f/8", 7, plain, "f/11"},
		{"f/8", 6.4, plain, "f/8 +0.4"},
		{"8", 7, plain, "11"},
		{"8", 6.4, plain, "8 +0.4"},
		{"F8", 7, plain, "F11"},
		{"f/8 +1/3", 7 + 2.0/3, plain, "f/11 +2/3"},
		{"11 3/10", 6.4, plain, "8 4/10"},
		{"11 3/10", 6, plain, "8"},
		{"8 5", 5.3, plain, "5.6 3"},
		{"8 5", 5, plain, "5.6"},
		{"8 5", 5.34, plain, "5.6 +0.34"},
		{"f/9.7", 6, plain, "f/8.0"},
		{"f/9.7", 6.4, plain, "f/9.2"},
		{"5,6", 6.4, plain, "8 +0,4"},
		{"8.5", 5.8, tenths, "5.68"},
		{"8.5", 6, tenths, "8"},
		{"f/9.5", 5.5, halves, "f/6.7"},
		{"f/9.5", 5 + 1.0/3, halves, "f/6.3"},
		{"EV 12.3", 6.5, plain, "EV 12.5"}, // EV = Av + Tv, Tv 6
		{"12 EV", 7, plain, "13 EV"},
		{"EV100 12.3", 6, plain, "EV100 10.0"}, // less log2(400/100)
		{"EV 12.3", 6, Meter{}, "f/8"},         // no shutter: an f-number
		{"", 6.4, plain, "f/8"},
	} {
		got, err := Reading(c.was, c.av, c.meter)
		require.NoError(t, err, "%v", c)
		if c.was == "" {
			assert.Equal(t, "f/8 +0.4", got)
			continue
		}
		assert.Equal(t, c.want, got, "%v", c)
	}
	for _, av := range []float64{-3, 15, math.NaN()} {
		_, err := Reading("f/8", av, plain)
		assert.Error(t, err, av)
	}
	for _, c := range []struct {
		was  string
		tv   float64
		n    apex.Notation
		want string
	}{
		{"1/200", 23.0 / 3, apex.Notation{}, "1/200"},
		{"1/200", 6, apex.Notation{}, "1/60"},
		{"1/200 s", 6, apex.Notation{}, "1/60 s"},
		{"1/200", -1, apex.Notation{}, "2 s"},
		{"0.5 s", -1, apex.Notation{}, "2 s"},
		{"0.5s", -2, apex.Notation{}, "4s"},
		{"2\"", -3, apex.Notation{}, "8\""},
		{"1/200", 6.13, apex.Notation{}, "1/70"},
		{"1/45", 6.5, apex.Notation{Halves: true}, "1/90"},
		{"2 s", -1.9, apex.Notation{}, "3.73 s"},
	} {
		got, err := Time(c.was, apex.Seconds(c.tv), c.n)
		require.NoError(t, err, "%v", c)
		assert.Equal(t, c.want, got, "%v", c)
	}
	assert.Equal(t, "35 %", Number("35 %", 35.04, 0.05))
	assert.Equal(t, "42 %", Number("35 %", 42, 0.05))
	assert.Equal(t, "42.5%", Number("35%", 42.5, 0.05))
	assert.Equal(t, "ISO 400", Number("ISO 200", 400, 0.5))
	assert.Equal(t, "50 mm", Number("85 mm", 50, 0.01))
	assert.Equal(t, "50", Number("", 50, 0.01))
}

func TestAngle(t *testing.T) {
	for _, c := range []struct {
		was  string
		deg  float64
		side int
		want string
	}{
		{"55 left", 55, -1, "55 left"}, {"55 left", 30, -1, "30 left"}, {"55 left", 30.26, 1, "30.3 right"},
		{"55.0 left", 30, -1, "30.0 left"}, {"55 L", 55, 1, "55 r"}, {"55° camera left", 40, 1, "40° camera right"},
		{"0", 20, -1, "20 left"}, {"20 left", 0, 0, "0 left"}, {"180", 170, 1, "170 right"}, {"150", 140, 0, "140"}, {"", 20, 1, "20 right"},
	} {
		got, err := Angle(c.was, c.deg, c.side, 0.05)
		require.NoError(t, err, "%v", c)
		assert.Equal(t, c.want, got, "%v", c)
	}
	for _, c := range []struct {
		was  string
		deg  float64
		side int
		want string
	}{
		{"7:30", 45, -1, "7:30"}, {"7:30", 45, 1, "4:30"}, {"7:30", 0, 0, "6:00"}, {"7:30", 180, 0, "12:00"}, {"7:30", 90, -1, "9:00"},
		{"07:30", 30.4, -1, "07:01"}, {"7 o'clock", 45, -1, "7:30 o'clock"}, {"7", 60, -1, "8"}, {"", 90, 1, "3:00"},
	} {
		got, off := Clock(c.was, c.deg, c.side)
		assert.Equal(t, c.want, got, "%v", c)
		assert.LessOrEqual(t, off, 0.25)
	}
}

// TestNotationReadsBack holds, for any text that the format understands and any
// value, that what is written reads as the value within the slack, in the same
// notation, and that the old value leaves the text alone.
func TestNotationReadsBack(t *testing.T) {
	num := func(t *rapid.T, lo, hi float64, places int) string {
		return strconv.FormatFloat(rapid.Float64Range(lo, hi).Draw(t, "figure"), 'f', rapid.IntRange(0, places).Draw(t, "places"), 64)
	}
	rapid.Check(t, func(t *rapid.T) {
		units := rapid.SampledFrom([]setup.Units{"m", "cm", "ft", "in"}).Draw(t, "units")
		was := rapid.SampledFrom([]string{"", num(t, 0, 9, 3), num(t, 0, 9, 3) + " m", num(t, 0, 900, 1) + "cm", num(t, 0, 9000, 0) + " mm",
			num(t, 0, 20, 0) + " ft " + num(t, 0, 11, 1) + " in", num(t, 0, 20, 0) + "'" + num(t, 0, 11, 0) + "\"", num(t, 0, 99, 2) + " in",
			num(t, 0, 20, 2) + " ft", num(t, 0, 9, 0) + " 3/8 in", "1 m " + num(t, 0, 99, 1) + " cm", "6½ in"}).Draw(t, "was")
		m := rapid.Float64Range(0, 30).Draw(t, "m")
		text, err := Length(was, m, units)
		if err != nil {
			t.Fatal(err)
		}
		got, err := setup.ParseLength(text, units)
		if err != nil || math.Abs(got-m) > 0.0005+1e-9 {
			t.Fatalf("%q for %v: %q is %v, %v", was, m, text, got, err)
		}
		again, err := Length(text, m, units)
		if err != nil || again != text {
			t.Fatalf("%q is written again as %q, %v", text, again, err)
		}
	})
	rapid.Check(t, func(t *rapid.T) {
		ws := rapid.Float64Range(20, 3000).Draw(t, "Ws")
		head := rapid.SampledFrom([]*exposure.Head{nil, {}, {EnergyWs: &ws}, {EnergyWs: &ws, Dial: exposure.Dial{Kind: "ws"}}, {Dial: exposure.Dial{Kind: "number", Full: 10}},
			{Dial: exposure.Dial{Kind: "percent"}}}).Draw(t, "head")
		was := rapid.SampledFrom([]string{"", "full", "1/4", "1/4 +0.2", "1/8 +1/3", "1/8+2/3", "-3.3", "-3 1/3", "62 Ws", "62J", "50 %", "8.4", "1", "junk"}).Draw(t, "was")
		stops := rapid.Float64Range(-11.9, 0).Draw(t, "stops")
		text, err := Power(was, stops, head)
		if err != nil {
			t.Fatal(err)
		}
		h := head
		if h == nil {
			h = &exposure.Head{}
		}
		got, err := apex.ParsePower(text, h.EnergyWs, apex.Dial{Kind: h.Dial.Kind, Full: h.Dial.Full})
		if err != nil || math.Abs(got-stops) > sameStops+1e-9 {
			t.Fatalf("%q for %v: %q is %v, %v", was, stops, text, got, err)
		}
	})
	rapid.Check(t, func(t *rapid.T) {
		second, iso := apex.Seconds(rapid.Float64Range(-5, 12).Draw(t, "tv")), 200.0
		meter := Meter{Notation: apex.Notation{Halves: rapid.Bool().Draw(t, "halves"), Bare: rapid.SampledFrom([]string{"", "tenths", "decimal"}).Draw(t, "bare")}, ShutterS: &second, ISO: &iso}
		was := rapid.SampledFrom([]string{"", "f/8", "8", "5.6", "f/8 +0.4", "f/8+1/3", "11 3/10", "8 5", "9.7", "8.5", "5.68", "f/9.2", "EV 12.3", "EV100 9", "12,1 EV", "junk"}).Draw(t, "was")
		av := rapid.Float64Range(-1.9, 13.9).Draw(t, "av")
		text, err := Reading(was, av, meter)
		if err != nil {
			t.Fatal(err)
		}
		got, _, ok := meter.av(text)
		if !ok || math.Abs(got-av) > sameStops+1e-9 {
			t.Fatalf("%q for %v: %q is %v", was, av, text, got)
		}
		text, err = Time("1/200", second, meter.Notation)
		if err != nil {
			t.Fatal(err)
		}
		s, err := apex.ParseTime(text, meter.Notation)
		if err != nil || math.Abs(math.Log2(s/second)) > sameStops+1e-9 {
			t.Fatalf("%v is written as %q: %v, %v", second, text, s, err)
		}
		stops := rapid.Float64Range(-20, 20).Draw(t, "stops")
		text, err = Delta(rapid.SampledFrom([]string{"", "0", "1.6 under", "-1.6", "+0.4", "-1 2/3", "1 2/3 stops over", "0,4 over"}).Draw(t, "delta"), stops)
		if err != nil {
			t.Fatal(err)
		}
		if d, err := apex.ParseDelta(text); err != nil || math.Abs(d-stops) > sameStops+1e-9 {
			t.Fatalf("%v is written as %q", stops, text)
		}
	})
}
