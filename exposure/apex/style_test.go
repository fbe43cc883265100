package apex

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// f/8 and four tenths is 9.19 (2^(6.4/2)); the third-stop marks around it are
// 9 and 10, of Exif 2.31, CIPA DC-008 Annex C and the trade's row.
func TestStyles(t *testing.T) {
	for _, c := range []struct {
		style         Style
		av            float64
		reading, base string
	}{
		{"", 6.4, "f/8 +0.4", "f/8 +0.4"},
		{StyleTenths, 6.4, "f/8 +0.4", "f/8 +0.4"},
		{StyleThirds, 6.4, "f/9", "f/9"},
		{StyleDecimal, 6.4, "f/9.2", "f/9.2"},
		{StyleTenths, 16.0 / 3, "f/5.6 +0.3", "f/6.3"},
		{StyleThirds, 16.0 / 3, "f/6.3", "f/6.3"},
		{StyleDecimal, 3, "f/2.83", "f/2.83"},
		{StyleDecimal, 6, "f/8.0", "f/8.0"},
	} {
		assert.Equal(t, c.reading, c.style.Reading(c.av), "%s %v", c.style, c.av)
		assert.Equal(t, c.base, c.style.Base(c.av), "%s %v", c.style, c.av)
	}
}

// Whatever the range, what is printed of its ends lies inside it and prints
// back as itself.
func TestInward(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(-1, 12).Draw(t, "low")
		high := low + rapid.Float64Range(0, 6).Draw(t, "size")
		for _, s := range []Style{StyleTenths, StyleThirds, StyleDecimal} {
			a, b, ok := s.Inward(low, high)
			if !ok {
				continue
			}
			assert.GreaterOrEqual(t, a, low-1e-6, "%s", s)
			assert.LessOrEqual(t, b, high+1e-6, "%s", s)
			if s == StyleDecimal {
				for _, end := range []float64{a, b} {
					v, err := strconv.ParseFloat(strings.TrimPrefix(s.Reading(end), "f/"), 64)
					assert.NoError(t, err)
					assert.InDelta(t, FNumber(end), v, 1e-6)
				}
			}
		}
		a, _, ok := StyleTenths.Inward(low, low+1)
		assert.True(t, ok)
		assert.Less(t, a-low, 0.1+1e-6)
		assert.False(t, math.IsNaN(a))
	})
}
