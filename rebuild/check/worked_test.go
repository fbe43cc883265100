package check_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/rebuild/check"
)

// placed is a set whose fill stands at a distance straight in front of the face,
// through a modifier.
func placed(modifier string, distance float64) string {
	return fmt.Sprintf(`title: Placed
exposure: {iso: 100, key: f/8}
subject: {face: 1.5}
lights:
  - {name: Key, role: key}
  - {name: Fill, role: fill, delta: 0, place: {right: 0, front: %v, height: 1.5}, modifier: %s}
`, distance, modifier)
}

// The distance that a remedy gives, by the falls in light that are printed or
// worked out elsewhere.
func TestDistancesWorkedElsewhere(t *testing.T) {
	// The view factor of a disc on its axis, r²/(r²+d²), at 0.5, 1, 2, 3 and 5
	// diameters (Naraghi, catalogue of view factors, the disc and the parallel
	// element); that of a 1 x 1 rectangle at 1 and 2 and of 0.6 x 0.9 at 1.0 and 1.5
	// (Howell, catalogue of view factors, B-3, four times the corner).
	square := map[float64]float64{1: 0.239456, 2: 0.073478}
	portrait := map[float64]float64{1: 0.144210, 1.5: 0.070344}
	for _, c := range []struct {
		name, modifier string
		from, to       float64
		over           float64 // stops that it is too bright at from, for to to be right
	}{
		// "2 stops" from 1 to 2 m and "about 1.2" from 2 to 3 m are beyond 15 %; the
		// same law within it: 2 log2(d2/d1) (inverse square, any optics textbook).
		{"inverse square, 2.0 to 2.2 m", "bowl 0.18", 2.0, 2.2, 2 * math.Log2(1.1)},
		{"inverse square, 2.0 to 1.8 m", "bare", 2.0, 1.8, 2 * math.Log2(0.9)},
		{"disc of 1 m, 1.0 to 1.1 m", "octabox 1.0", 1.0, 1.1, math.Log2((0.25 + 1.21) / (0.25 + 1.0))},
		{"disc of 2 m, 1.0 to 0.9 m", "umbrella 2.0", 1.0, 0.9, math.Log2((1 + 0.81) / (1 + 1.0))},
	} {
		s := parse(t, placed(c.modifier, c.from))
		r := run(t, s, check.Today{}, "Key=f/8", fmt.Sprintf("Fill=%+.9f", c.over))
		d := remedy(finding(t, r, "Fill").Remedies, "distance")
		require.NotNil(t, d, c.name)
		assert.InDelta(t, c.to, *d.ToM, 1e-6, c.name)
		assert.InDelta(t, c.to-c.from, *d.MoveM, 1e-6, c.name)
		assert.True(t, d.Estimated, c.name)
	}
	// A rectangle: the tabled factors at two distances bracket the fall, so a light
	// that is over by a part of it must go that part of the way and no further.
	for name, c := range map[string]struct {
		modifier string
		factor   map[float64]float64
		a, b     float64
	}{
		"rectangle 1 x 1":     {"softbox 1.0 x 1.0", square, 1, 2},
		"rectangle 0.6 x 0.9": {"softbox 0.6 x 0.9", portrait, 1, 1.5},
	} {
		whole := math.Log2(c.factor[c.a] / c.factor[c.b])
		at := c.a
		for range 40 { // forty small steps of a remedy each make the whole way
			s := parse(t, placed(c.modifier, at))
			r := run(t, s, check.Today{Tolerance: p(0)}, "Key=f/8", fmt.Sprintf("Fill=%+.9f", whole/40))
			d := remedy(finding(t, r, "Fill").Remedies, "distance")
			require.NotNil(t, d, name)
			at = *d.ToM
		}
		assert.InDelta(t, c.b, at, 1e-4, name)
	}
}

// A move of more than 15 % is another light, and not offered: from 1 to 2 m, from
// 2 to 3 m ("about 1.2 stops", common practice) or by a whole stop.
func TestNotFurtherThanAPart(t *testing.T) {
	s := parse(t, placed("bowl 0.18", 2))
	for over, offered := range map[float64]bool{2: false, 1.16993: false, 1: false, -1: false, 2 * math.Log2(1.149): true, 2 * math.Log2(1.151): false, 2 * math.Log2(0.851): true, 2 * math.Log2(0.849): false} {
		r := run(t, s, check.Today{}, "Key=f/8", fmt.Sprintf("Fill=%+.9f", over))
		assert.Equal(t, offered, remedy(finding(t, r, "Fill").Remedies, "distance") != nil, "%v", over)
	}
}

// heads is a set with a fill on a head of so many stops' range, on a dial.
func heads(power, head string) string {
	return fmt.Sprintf(`title: Heads
exposure: {iso: 100, shutter: 1/125, key: f/8}
lights:
  - {name: Key, role: key, power: 1/4, head: {energy: 400 Ws, range: 7}}
  - {name: Fill, role: fill, delta: 0, power: %s, head: {%s}}
`, power, head)
}

// Guide numbers, N x d: 32 (m) is f/8 at 4 m and 45 is f/9 at 5 m; doubling the
// speed is x 1.4142; the powers 1/2 to 1/256 are -1 to -8 stops and guide numbers
// x 0.70711 to x 0.0625; 300 to 500 Ws is +0.7370 and 400 to 250 Ws is -0.6781
// stops (guide-number arithmetic as makers' handbooks print it; the stops by log2).
func TestGuideNumbersAndPowers(t *testing.T) {
	for n := 1; n <= 7; n++ {
		s := parse(t, heads("full", "energy: 400 Ws, range: 9"))
		fill := fmt.Sprintf("Fill=%+d", n) // so many stops too bright at full
		f := finding(t, run(t, s, check.Today{}, "Key=f/8", fill), "Fill")
		d := remedy(f.Remedies, "dial")
		require.NotNil(t, d)
		assert.InDelta(t, -float64(n), *d.ToStops, 1e-9)
		assert.Equal(t, fmt.Sprintf("1/%d", 1<<n), d.To)
	}
	// A guide number of 32 at full reads f/8 at 4 m. Today it stands at 5 m and reads
	// 32/5 = 6.4: 0.64 stop less, and at full there is no more to give.
	s := parse(t, heads("full", "energy: 400 Ws, range: 7"))
	f := finding(t, run(t, s, check.Today{}, "Key=f/8", fmt.Sprintf("Fill=%.3f", 32.0/5)), "Fill")
	assert.InDelta(t, 2*math.Log2(4.0/5), *f.Off, 0.01)
	assert.Nil(t, remedy(f.Remedies, "dial"))
	assert.NotNil(t, remedy(f.Remedies, "base"))
	// The speed doubled: the same guide number x 1.41421, so half the power does.
	f = finding(t, run(t, parse(t, heads("1/2", "energy: 400 Ws, range: 7")), check.Today{ISO: p(200)}, "Key=f/8", "Fill=f/11"), "Fill")
	d := remedy(f.Remedies, "dial")
	require.NotNil(t, d)
	assert.Equal(t, "1/4", d.From) // where ISO 200 puts what was 1/2 at ISO 100
	assert.Equal(t, "1/8", d.To)
	// Watt-seconds on a dial in watt-seconds.
	for _, c := range []struct {
		from, to float64
		stops    float64
	}{{300, 500, 0.7370}, {400, 250, -0.6781}, {200, 1000, 2.3219}, {500, 1000, 1}} {
		s := parse(t, heads(fmt.Sprintf("%v Ws", c.from), "energy: 1200 Ws, range: 8, dial: ws"))
		f := finding(t, run(t, s, check.Today{}, "Key=f/8", fmt.Sprintf("Fill=%+.4f", -c.stops)), "Fill")
		d := remedy(f.Remedies, "dial")
		require.NotNil(t, d)
		assert.Equal(t, fmt.Sprintf("%v Ws", c.from), d.From)
		assert.Equal(t, fmt.Sprintf("%v Ws", c.to), d.To)
	}
}

// Neutral densities: 0.3 is one stop, 0.6 two, 0.9 three (filter makers' tables;
// exactly D / log10 2).
func TestDensities(t *testing.T) {
	for d, stops := range map[float64]float64{0.3: 1, 0.6: 2, 0.9: 3} {
		assert.InDelta(t, stops, d/math.Log10(2), 0.02)
		// On a head whose least is what the record has, only a density is left.
		s := parse(t, heads("1/16", "energy: 400 Ws, range: 4"))
		f := finding(t, run(t, s, check.Today{}, "Key=f/8", fmt.Sprintf("Fill=%+.1f", stops)), "Fill")
		require.Nil(t, remedy(f.Remedies, "dial"))
		r := remedy(f.Remedies, "density")
		require.NotNil(t, r)
		assert.InDelta(t, d, *r.Density, 1e-9)
		assert.Equal(t, "1/16", r.To)
	}
	// 1.4 too much: a density of 0.6 and the dial up again by the rest.
	s := parse(t, heads("1/16", "energy: 400 Ws, range: 4"))
	r := remedy(finding(t, run(t, s, check.Today{}, "Key=f/8", "Fill=+1.4"), "Fill").Remedies, "density")
	assert.Equal(t, "Its dial cannot: 1/16 is its least, and 1.4 too much: put a neutral density of 0.6 on it, which takes 2 stops, and set its dial to 1/16 +0.6.", r.Text)
}

// A card that covers 1 - k² of itself gives the light of one k times its sides:
// far off, where every source is a point, k² is 2 to the power of the stops.
func TestCardsBySize(t *testing.T) {
	s := parse(t, `title: Far
exposure: {key: f/8}
subject: {face: 1.5}
lights:
  - {name: Key, role: key}
  - {name: Card, role: fill, source: bounce, delta: -2, place: {right: 0, front: 12, height: 1.5}, modifier: reflector panel 0.5 x 0.5}
`)
	for _, over := range []float64{1, 0.5, -0.5, -1} {
		r := run(t, s, check.Today{}, "Key=f/8", fmt.Sprintf("Card=%+.3f", -2+over))
		size := remedy(finding(t, r, "Card").Remedies, "size")
		require.NotNil(t, size)
		assert.InDelta(t, math.Exp2(-over), *size.Sides**size.Sides, 0.01)
	}
	r := run(t, s, check.Today{}, "Key=f/8", "Card=-1")
	assert.Equal(t, "Cover about 50 % of it with black from its edges (est., the look changes).", remedy(finding(t, r, "Card").Remedies, "size").Text)
}
