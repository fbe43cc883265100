package apex

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestParseReading(t *testing.T) {
	third := 1.0 / 3
	for _, c := range []struct {
		in string
		n  Notation
		av float64
	}{
		{in: "f/11", av: 7},
		{in: "11", av: 7},
		{in: "F11", av: 7},
		{in: "f 11", av: 7},
		{in: "f:11", av: 7},
		{in: "ƒ/5.6", av: 5},
		{in: "f/11 +0.3", av: 7.3},
		{in: "f/11+0.3", av: 7.3},
		{in: "f/11 + 0.3 stop", av: 7.3},
		{in: "f/11 −0.3", av: 6.7},
		{in: "f/11 +1/3", av: 7 + third},
		{in: "11 3/10", av: 7.3},
		{in: "8 5", av: 6.5},
		{in: "8⁵", av: 6.5},
		{in: "f/8 ½", av: 6.5},
		{in: "5.6 0", av: 5},
		{in: "5.6.3", av: 5.3},
		{in: "1.4 7", av: 1.7},
		{in: "0.7", av: -1},
		{in: "f/13", av: 22 * third},
		{in: "f/13", n: Notation{Halves: true}, av: 7.5},
		{in: "1.2", av: 2 * third},
		{in: "1.2", n: Notation{Halves: true}, av: 0.5},
		{in: "3.4", av: 3.5},
		{in: "6.8", av: 5.5},
		{in: "9.6", av: 6.5},
		{in: "9.7", av: 2 * math.Log2(9.7)},
		{in: "9,7", n: Notation{Comma: true}, av: 2 * math.Log2(9.7)},
		{in: "f/8 +0,4", n: Notation{Comma: true}, av: 6.4},
		// a third-stop mark that could be a whole stop and tenths is the mark
		{in: "4.5", av: 13 * third},
		{in: "2.2", av: 7 * third},
		{in: "2.5", av: 8 * third},
		{in: "1.8", av: 5 * third},
		// ... and tenths where the file says so
		{in: "4.5", n: Notation{Bare: "tenths"}, av: 4.5},
		{in: "2.2", n: Notation{Bare: "tenths"}, av: 2.2},
		{in: "1.8", n: Notation{Bare: "tenths"}, av: 0.8},
		{in: "8.5", n: Notation{Bare: "tenths"}, av: 6.5},
		{in: "11.3", n: Notation{Bare: "tenths"}, av: 7.3},
		{in: "8.5", n: Notation{Bare: "decimal"}, av: 2 * math.Log2(8.5)},
		// a whole-stop mark and a written f/ stay what they are
		{in: "2.8", n: Notation{Bare: "tenths"}, av: 3},
		{in: "f/4.5", n: Notation{Bare: "tenths"}, av: 13 * third},
		{in: "f/8.5", av: 2 * math.Log2(8.5)},
	} {
		r, err := ParseReading(c.in, c.n)
		require.NoError(t, err, c.in)
		assert.Equal(t, KindF, r.Kind, c.in)
		assert.InDelta(t, c.av, r.Value, 1e-12, c.in)
		assert.Empty(t, r.Warning, c.in)
		assert.InDelta(t, c.av, r.Av(7, 5), 1e-12, "%s: an aperture ignores time and speed", c.in)
	}
}

func TestParseReadingWarnsOfTwoMeanings(t *testing.T) {
	for in, want := range map[string]string{
		"8.5":  `"8.5" is taken as f/8.5; it could also mean f/8 and five tenths (f/9.5)`,
		"4.3":  `"4.3" is taken as f/4.3; it could also mean f/4 and three tenths (f/4.4)`,
		"5.68": `"5.68" is taken as f/5.68; it could also mean f/5.6 and eight tenths (f/7.5)`,
		"11.3": `"11.3" is taken as f/11.3; it could also mean f/11 and three tenths (f/12.6)`,
	} {
		r, err := ParseReading(in, Notation{})
		require.NoError(t, err)
		assert.Equal(t, want, r.Warning)
	}
}

func TestParseReadingRefuses(t *testing.T) {
	for in, want := range map[string]string{
		"":           `"" is not a reading: write f/11, f/11 +0.3, 11 3/10, "8 5" or EV 13.3`,
		"bright":     `"bright" is not a reading: write f/11, f/11 +0.3, 11 3/10, "8 5" or EV 13.3`,
		".nan":       `".nan" is not a reading: write f/11, f/11 +0.3, 11 3/10, "8 5" or EV 13.3`,
		"f/0":        `"f/0" is not a reading: write f/11, f/11 +0.3, 11 3/10, "8 5" or EV 13.3`,
		"f/8 +5":     `"f/8 +5" adds a whole stop or more: what follows a mark is less than one stop, such as +0.3, +1/3 or 3/10`,
		"8 12":       `"8 12" is not understood after the mark: write +0.3, +1/3, 3/10, or one digit for tenths`,
		"8-11":       `"8-11" adds a whole stop or more: what follows a mark is less than one stop, such as +0.3, +1/3 or 3/10`,
		"f/8.5 +0.3": `"f/8.5 +0.3" adds to f/8.5, which is no marked stop: write the mark below, then the rest, such as f/8 +0.3`,
		"f/200":      `"f/200" is no aperture: it must be from f/0.5 to f/128`,
		"f/0.3":      `"f/0.3" is no aperture: it must be from f/0.5 to f/128`,
		"5,6":        `"5,6" has a comma where it could mean a list: write a decimal point`,
		"EV":         `"EV" is not an exposure value: write EV 13.3, or EV100 13.3 for one at ISO 100`,
		"EV 99":      `"EV 99" is no exposure value: it must be from EV -10 to EV 30`,
		"\xff":       `"\xff" is not a reading: it is not text`,
	} {
		_, err := ParseReading(in, Notation{})
		assert.EqualError(t, err, want)
	}
	_, err := ParseReading(strings.Repeat("8", 100), Notation{})
	assert.EqualError(t, err, "too long for a reading")
}

// EV = log2(N²/t): "EV 15 is f/16 at 1/125 s" and "EV 0 is f/1.0 at 1 s", as
// encyclopaedias of photography give it; the others are exact steps.
func TestExposureValues(t *testing.T) {
	for _, c := range []struct {
		in   string
		time string
		iso  float64
		av   float64
	}{
		{"EV 15", "1/125", 100, 8},
		{"EV 0", "1 s", 100, 0},
		{"EV 13", "1/125", 100, 6},
		{"EV 11", "1/60", 400, 5},
		{"EV100 9", "1/60", 400, 5},
		{"15 EV", "1/250", 100, 7},
		{"ev 6", "1/8", 100, 3},
		{"EV100 -2", "4 s", 100, 0},
		{"EV 13 1/3", "1/125", 100, 6 + 1.0/3},
	} {
		r, err := ParseReading(c.in, Notation{})
		require.NoError(t, err, c.in)
		assert.True(t, r.NeedsTime())
		s, err := ParseTime(c.time, Notation{})
		require.NoError(t, err)
		assert.InDelta(t, c.av, r.Av(Tv(s), Sv(c.iso)), 1e-12, c.in)
	}
}

func TestFormatApertures(t *testing.T) {
	for _, c := range []struct {
		av                     float64
		tenths, third, decimal string
	}{
		{5.3, "f/5.6 +0.3", "f/6.3", "6.3"},
		{6, "f/8", "f/8", "8.0"},
		{5.96, "f/8", "f/8", "7.9"}, // carried, never f/5.6 +1.0
		{6.4, "f/8 +0.4", "f/9", "9.2"},
		{-0.4, "f/0.7 +0.6", "f/0.9", "0.87"},
		{-1, "f/0.7", "f/0.7", "0.71"},
		{13, "f/90", "f/90", "90.5"},
		{13.9, "f/90 +0.9", "f/120", "123.6"},
		{14, "f/130", "f/130", "128.0"},
		{-1.5, "f/0.59", "f/0.59", "0.59"},
		{4, "f/4", "f/4", "4.0"},
		{3.999999999, "f/4", "f/4", "4.0"},
		{3, "f/2.8", "f/2.8", "2.83"},
		// ties go to the smaller aperture
		{6.05, "f/8 +0.1", "f/8", "8.1"},
		{6 + 1.0/6, "f/8 +0.2", "f/9", "8.5"},
		{-0.05, "f/1", "f/1", "0.98"},
	} {
		assert.Equal(t, c.tenths, Tenths(c.av), "%v", c.av)
		assert.Equal(t, c.third, Third(c.av), "%v", c.av)
		assert.Equal(t, c.decimal, Decimal(c.av), "%v", c.av)
	}
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300} {
		assert.Empty(t, Tenths(x)+Third(x)+Decimal(x)+FormatDelta(x)+FormatSigned(x)+FormatTime(math.Inf(1)))
	}
	mark, av := Whole(6.5)
	assert.Equal(t, "f/11", mark)
	assert.Equal(t, 7.0, av)
	assert.Equal(t, "f/6.3", Mark(16.0/3))
	assert.Equal(t, "f/8 +0.4", Mark(6.4))
}

func TestReadingsRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tenths := rapid.IntRange(-10, 139).Draw(t, "tenths")
		av := float64(tenths) / 10
		r, err := ParseReading(Tenths(av), Notation{})
		require.NoError(t, err)
		assert.InDelta(t, av, r.Value, 1e-9)
		assert.Equal(t, Tenths(av), Tenths(r.Value))

		thirds := rapid.IntRange(-3, 39).Draw(t, "thirds")
		av = float64(thirds) / 3
		r, err = ParseReading(Third(av), Notation{Bare: rapid.SampledFrom([]string{"", "tenths", "decimal"}).Draw(t, "bare")})
		require.NoError(t, err)
		assert.InDelta(t, av, r.Value, 1e-9, "a printed third reads back whatever bare figures mean")

		any := rapid.Float64Range(-1, 13.9).Draw(t, "av")
		r, err = ParseReading(Tenths(any), Notation{})
		require.NoError(t, err)
		assert.InDelta(t, any, r.Value, 0.05+1e-8)
		r, err = ParseReading("f/"+Decimal(any), Notation{})
		require.NoError(t, err)
		assert.InDelta(t, any, r.Value, 0.2)
	})
}
