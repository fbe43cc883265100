package exposure

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stopleaf/exposure/apex"
)

func carried(t *testing.T, l Light, av float64, then, now FlashAt) float64 {
	t.Helper()
	got, ok := l.Carry(av, then, now)
	require.True(t, ok)
	return got
}

// A guide number is aperture times distance, so for a hard source the aperture
// at 1 m is the guide number itself.
func TestCarryGuideNumbers(t *testing.T) {
	bowl := Light{Shape: Hard}
	gn := func(f float64) float64 { return apex.Av(f) }
	at := func(m, power, iso float64) FlashAt { return FlashAt{ThrowM: m, Power: power, ISO: iso} }

	// openphotographicsociety.co.uk, flash guide numbers: GN 32 in metres gives f/8 at 4 m, ISO 100.
	assert.InDelta(t, gn(32), carried(t, bowl, gn(8), at(4, 0, 100), AtOne), 1e-12)
	assert.InDelta(t, gn(8), carried(t, bowl, gn(32), AtOne, at(4, 0, 100)), 1e-12)
	// idigitalphoto.com: GN 45 at 5 m is f/9.
	assert.InDelta(t, gn(9), carried(t, bowl, gn(45), AtOne, at(5, 0, 100)), 1e-12)
	// the same society: GN 80, 120 and 160 in feet at f/8 reach 10, 15 and 20 ft; a foot is 0.3048 m.
	for _, x := range []struct{ gn, ft float64 }{{80, 10}, {120, 15}, {160, 20}} {
		assert.InDelta(t, gn(8), carried(t, bowl, gn(x.gn*0.3048), AtOne, at(x.ft*0.3048, 0, 100)), 1e-12)
	}
	// calculators9.com: GN 32 is 64 at ISO 400; guide numbers go with the root of the speed.
	for iso, factor := range map[float64]float64{25: 0.5, 50: math.Sqrt2 / 2, 64: 0.8, 125: math.Sqrt(1.25), 200: math.Sqrt2, 400: 2, 800: 2 * math.Sqrt2} {
		assert.InDelta(t, gn(32*factor), carried(t, bowl, gn(32), AtOne, at(1, 0, iso)), 1e-12)
	}
	// half the energy is a stop less, and the guide number 0.70711 of itself.
	for stops, factor := range map[float64]float64{-1: 0.70711, -2: 0.5, -3: 0.35355, -4: 0.25, -5: 0.17678, -6: 0.125, -7: 0.08839, -8: 0.0625} {
		assert.InDelta(t, gn(32*factor), carried(t, bowl, gn(32), AtOne, at(1, stops, 100)), 1e-4)
	}
	assert.InDelta(t, gn(32)-0.6, carried(t, bowl, gn(32), AtOne, FlashAt{ThrowM: 1, ISO: 100, Loss: 0.6}), 1e-12, "a gel that takes 0.6")
}

func TestCarryByDistance(t *testing.T) {
	m := func(d float64) FlashAt { return FlashAt{ThrowM: d, ISO: 100} }
	v := func(x float64) *float64 { return &x }

	// jamestelford.wordpress.com, the inverse square law: f/16 at 1 m becomes f/8 at 2 m and f/4 at 4 m.
	bowl := Light{Shape: Hard}
	assert.InDelta(t, 6, carried(t, bowl, 8, m(1), m(2)), 1e-12)
	assert.InDelta(t, 4, carried(t, bowl, 8, m(1), m(4)), 1e-12)
	// Howell's catalogue B-3, from the centre of 0.6 x 0.9 m: 0.144210 at 1 m and 0.070344 at 1.5 m.
	box := Light{Shape: Rectangle, Width: v(0.6), Height: v(0.9)}
	assert.InDelta(t, 8+math.Log2(0.070344/0.144210), carried(t, box, 8, m(1), m(1.5)), 2e-5)
	// the disc on its axis: 0.5 at half its diameter, 0.2 at its diameter, 0.009901 at five times it.
	octa := Light{Shape: Disc, Width: v(1.2), Height: v(1.2)}
	assert.InDelta(t, 8+math.Log2(0.2/0.5), carried(t, octa, 8, m(0.6), m(1.2)), 1e-12)
	assert.InDelta(t, 8+math.Log2(0.009901/0.2), carried(t, octa, 8, m(1.2), m(6)), 2e-4)

	for _, l := range []Light{{}, {Shape: Rectangle, Width: v(1)}, {Shape: Disc}, {Shape: Lens, Width: v(0.3), Height: v(0.3)}} {
		_, ok := l.Carry(8, m(2), AtOne)
		assert.False(t, ok, "%+v", l)
	}
	_, ok := bowl.Carry(8, FlashAt{ThrowM: 1}, AtOne)
	assert.False(t, ok, "no speed")
	_, ok = bowl.Carry(8, m(0), AtOne)
	assert.False(t, ok, "no distance")
}

// There and back, and by way of a third setting, is where one began.
func TestCarryThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(0.05, 3)
		w, h := v.Draw(t, "w"), v.Draw(t, "h")
		l := Light{Shape: rapid.SampledFrom([]Shape{Rectangle, Disc, Hard}).Draw(t, "shape"), Width: &w, Height: &h}
		setting := func(name string) FlashAt {
			return FlashAt{ThrowM: rapid.Float64Range(0.2, 12).Draw(t, name), Power: rapid.Float64Range(-9, 0).Draw(t, "power"),
				ISO: rapid.Float64Range(25, 6400).Draw(t, "iso"), Loss: rapid.Float64Range(0, 3).Draw(t, "loss")}
		}
		a, b, c := setting("a"), setting("b"), setting("c")
		there, ok := l.Carry(7, a, b)
		require.True(t, ok)
		back, _ := l.Carry(there, b, a)
		assert.InDelta(t, 7, back, 1e-9)
		on, _ := l.Carry(there, b, c)
		straight, _ := l.Carry(7, a, c)
		assert.InDelta(t, straight, on, 1e-9)
	})
}
