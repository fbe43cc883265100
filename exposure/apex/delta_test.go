package apex

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

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
