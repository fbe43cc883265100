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
