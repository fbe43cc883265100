package apex

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// Exif 2.31, CIPA DC-008 Annex C, table 52 "Typical APEX values": nominal
// pairs as printed.
func TestUnitsAgainstTable52(t *testing.T) {
	apertures := []float64{1, 1.4, 2, 2.8, 4, 5.6, 8, 11, 16, 22, 32}
	for av, f := range apertures {
		assert.Equal(t, float64(av), math.Round(Av(f)), "f/%v", f)
		exact, ok := MarkAv(f, false)
		assert.True(t, ok)
		assert.InDelta(t, float64(av), exact, 1e-12, "f/%v", f)
	}
	times := []float64{30, 15, 8, 4, 2, 1, 1. / 2, 1. / 4, 1. / 8, 1. / 15, 1. / 30, 1. / 60, 1. / 125, 1. / 250,
		1. / 500, 1. / 1000, 1. / 2000}
	for i, s := range times {
		tv := float64(i - 5)
		assert.Equal(t, tv, math.Round(Tv(s)), "%v s", s)
		exact, ok := MarkTv(s, false)
		assert.True(t, ok, "%v s", s)
		assert.InDelta(t, tv, exact, 1e-12, "%v s", s)
	}
}

func TestUnitsBothWays(t *testing.T) {
	assert.InDelta(t, 5, Sv(100), 1e-12, "the clean constant, not 4.907")
	assert.InDelta(t, 100, ISO(5), 1e-9)
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-20, 20).Draw(t, "x")
		assert.InDelta(t, x, Av(FNumber(x)), 1e-9)
		assert.InDelta(t, x, Tv(Seconds(x)), 1e-9)
		assert.InDelta(t, x, Sv(ISO(x)), 1e-9)
	})
}

// F-number scale tables of the trade (full, half and third stops), with the
// exact step 2^(Av/2) beside each.
func TestMarksMeanExactSteps(t *testing.T) {
	for _, c := range []struct{ mark, thirds, exact float64 }{
		{1.1, 1, 1.12246}, {1.2, 2, 1.25992}, {1.4, 3, 1.41421}, {1.6, 4, 1.58740}, {1.8, 5, 1.78180},
		{2.2, 7, 2.24492}, {2.5, 8, 2.51984}, {2.8, 9, 2.82843}, {3.2, 10, 3.17480}, {3.5, 11, 3.56359},
		{4.5, 13, 4.48985}, {5.0, 14, 5.03968}, {5.6, 15, 5.65685}, {6.3, 16, 6.34960}, {7.1, 17, 7.12719},
		{9, 19, 8.97970}, {10, 20, 10.07937}, {11, 21, 11.31371}, {13, 22, 12.69921}, {14, 23, 14.25438},
		{18, 25, 17.95939}, {20, 26, 20.15874}, {22, 27, 22.62742}, {25, 28, 25.39842}, {29, 29, 28.50876},
	} {
		av, ok := MarkAv(c.mark, false)
		assert.True(t, ok, "f/%v", c.mark)
		assert.InDelta(t, c.thirds/3, av, 1e-12, "f/%v", c.mark)
		assert.InDelta(t, c.exact, FNumber(av), 5e-6, "f/%v", c.mark)
	}
	for _, c := range []struct{ mark, av, exact float64 }{
		{1.2, 0.5, 1.18921}, {1.7, 1.5, 1.68179}, {2.4, 2.5, 2.37841}, {3.3, 3.5, 3.36359}, {4.8, 4.5, 4.75683},
		{6.7, 5.5, 6.72717}, {9.5, 6.5, 9.51366}, {13, 7.5, 13.45434}, {19, 8.5, 19.02731}, {27, 9.5, 26.90869},
		// the older printed series
		{3.4, 3.5, 3.36359}, {6.8, 5.5, 6.72717}, {9.6, 6.5, 9.51366}, {13.6, 7.5, 13.45434},
	} {
		av, ok := MarkAv(c.mark, true)
		assert.True(t, ok, "f/%v", c.mark)
		assert.InDelta(t, c.av, av, 1e-12, "f/%v", c.mark)
		assert.InDelta(t, c.exact, FNumber(av), 5e-6, "f/%v", c.mark)
	}
	for _, f := range []float64{9.7, 8.5, 12, 5.7, 0, -4, math.NaN(), math.Inf(1)} {
		_, ok := MarkAv(f, false)
		assert.False(t, ok, "f/%v", f)
	}
}

// Marks are rounded figures: every nominal lies within 0.082 stop of its exact
// step, but for the third-stop f/1.2 (0.141) and the half-stop f/13 (0.099);
// from f/0.8 down and f/36 up the tables end and two figures are coarser.
func TestMarksLieNearTheirSteps(t *testing.T) {
	for i, f := range thirdFigures {
		within := 0.0825
		if f == 1.2 {
			within = 0.142
		}
		assert.InDelta(t, float64(i+firstThird)/3, Av(f), within, "f/%v", f)
	}
	for _, m := range halfMarks {
		if m.figure >= 1 && m.figure != 13 && m.figure != 13.6 {
			assert.InDelta(t, m.step, Av(m.figure), 0.083, "f/%v", m.figure)
		}
	}
}
