package check_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/rebuild/check"
)

const shared = `title: Shared
exposure: {iso: 200, shutter: 1/125, sync: 1/200, key: f/8, aperture: f/9, ambient: {reading: f/2}}
lights:
  - {name: Key, role: key, power: 1/4, head: {energy: 400 Ws, range: 7, step: 0.1}}
  - {name: Fill, role: fill, delta: -2, power: 1/8, head: {energy: 400 Ws, range: 7}}
  - {name: Card, role: fill, delta: -2, source: bounce, lit by: Key}
  - {name: Hair, role: hair, delta: -1}
  - {name: Rim, role: rim, delta: 0, pair: each}
  - {name: Lamp, role: kicker, delta: -3, source: continuous, dimmer: 50 %}
  - {name: Window, role: other, delta: -2, source: daylight}
`

// causes are read by the words given, in the words told.
func TestCommonCauses(t *testing.T) {
	for name, c := range map[string]struct {
		base  string
		words string
		cause string
		stops float64
		texts []string // what is said, the cause and its remedies
		left  map[string]float64
	}{
		"all right": {words: "Key=f/8 Fill=f/4 Hair=f/5.6 Rim=f/8"},
		"the key is down": {
			words: "Key=f/8 Fill=f/4+0.5 Hair=f/5.6+0.6 Rim=f/8+0.5", cause: "zero", stops: 0.5,
			texts: []string{"The key is down 0.5: all 4 others read 0.5 over (0.5 to 0.6).",
				"Turn the key up 0.5: from 1/4 to 1/4 +0.5, not the other 4. It then reads f/8 +0.5, and that is the base, the camera at f/11.",
				"To stay at f/8: turn each of the others down 0.5."},
			left: map[string]float64{"Key": 0, "Fill": 0, "Hair": 0.1, "Rim L": 0},
		},
		"the key is up": {
			words: "Key=f/8 Fill=f/2.8 Hair=f/4 Rim=f/5.6", cause: "zero", stops: -1,
			texts: []string{"The key is up 1.0: all 4 others read 1.0 under. A whole stop: see first whether the key has a diffuser or a grid too few, and whether it was metered at the same ISO as the others.",
				"Turn the key down 1.0: from 1/4 to 1/8, not the other 4. It then reads f/5.6, and that is the base, the camera at f/6.3.",
				"To stay at f/8: turn each of the others up 1.0."},
		},
		"what the key feeds says nothing": { // the card is down with its key, and stays so
			words: "Key=f/8 Fill=f/4+0.6 Card=f/4 Hair=f/5.6+0.6", cause: "zero", stops: 0.6,
			texts: []string{"The key is down 0.6: both others read 0.6 over."},
			left:  map[string]float64{"Card": 0},
		},
		"one of many may stand out": {
			words: "Key=f/8 Fill=f/4+0.7 Hair=f/5.6+0.7 Rim=f/8+0.7 Lamp=f/2.8", cause: "zero", stops: 0.7,
			texts: []string{"The key is down 0.7: 4 of 5 others read 0.7 over."},
			left:  map[string]float64{"Fill": 0, "Lamp": -0.7},
		},
		"but not the sky":        {words: "Key=f/8 Fill=f/4+0.7 Hair=f/5.6+0.7 Rim=f/8+0.7 Window=f/4"},
		"one of four may not":    {words: "Key=f/8 Fill=f/4+0.7 Hair=f/5.6+0.7 Window=f/4+0.7 Lamp=f/2.8"},
		"one of three may not":   {words: "Key=f/8 Fill=f/4+0.7 Rim=f/8"},
		"never from one light":   {words: "Key=f/8 Fill=f/4+0.7"},
		"nor from one and a bit": {words: "Key=f/8 Fill=f/4+0.7 Hair=f/5.6+0.3"},
		"nor within tolerance":   {words: "Key=f/8 Fill=f/4+0.1 Hair=f/5.6+0.1"},
		"differences alone": {
			words: "Fill=-1.3 Hair=-0.3 Rim=0.7_over", cause: "zero", stops: 0.7,
			texts: []string{"The key is down 0.7: all 4 others read 0.7 over.", "Turn the key up 0.7, not the other 4."},
		},
		"the meter's ISO": {
			base: "f/8", words: "Key=f/11 Fill=f/5.6 Hair=f/8 Rim=f/11", cause: "meter", stops: 1,
			texts: []string{"All 5 read 1.0 over. One whole stop everywhere: see first whether the meter's ISO stands at ISO 400 where ISO 200 is meant, then whether a diffuser was left off. Put that right and meter again.",
				"If the meter is right: take f/11 as today's base, the camera at f/13, or turn every light down 1.0."},
			left: map[string]float64{"Key": 0, "Hair": 0},
		},
		"the meter's ISO the other way": {
			base: "f/8", words: "Key=f/5.6 Fill=f/2.8", cause: "meter", stops: -1,
			texts: []string{"Both read 1.0 under. One whole stop everywhere: see first whether the meter's ISO stands at ISO 100 where ISO 200 is meant, then whether there is a diffuser too many."},
		},
		"two stops": {
			base: "f/8", words: "Key=f/16 Fill=f/8", cause: "meter", stops: 2,
			texts: []string{"Both read 2.0 over. 2 whole stops everywhere: see first whether the meter's ISO stands at ISO 800 where ISO 200 is meant. Put that right and meter again."},
		},
		"dome or aim": {
			base: "f/8", words: "Key=f/8+0.4 Fill=f/4+0.4 Hair=f/5.6+0.3", cause: "dome", stops: 0.4,
			texts: []string{"All 3 read 0.4 over (0.3 to 0.4). About 0.4 everywhere is what the dome makes, in or out, or the meter turned to the camera and not to each light: hold it as the record says, and meter again."},
		},
		"another base": {
			base: "f/8", words: "Key=f/8+0.7 Fill=f/4+0.7", cause: "base", stops: 0.7,
			texts: []string{"Both read 0.7 over. The lights are right among themselves.",
				"If the meter is right: take f/8 +0.7 as today's base, the camera at f/11, or turn every light down 0.7."},
		},
		"the key is not metered against a base": {base: "f/8", words: "Fill=f/4+0.7 Hair=f/5.6+0.7", cause: "base", stops: 0.7},
		"a base, and the key on it": {
			base: "f/8", words: "Key=f/8 Fill=f/4+0.7 Hair=f/5.6+0.7", cause: "zero", stops: 0.7,
			texts: []string{"The key is down 0.7: both others read 0.7 over.", "To stay at f/8: turn each of the others down 0.7."},
		},
		"a base, and the key off it": {base: "f/8", words: "Key=f/8+0.3 Fill=f/4+0.9 Hair=f/5.6+0.9"},
		"the shutter": {
			words: "Key=f/8 Fill=f/4 Lamp=f/2 Window=f/2.8 Ambient=f/1.4", cause: "shutter", stops: -1,
			texts: []string{"All 3 of the lights that the shutter moves read 1.0 under, and the flashes do not.",
				"Set the shutter to 1/60 s, from 1/125 s: the flashes stay as they are, and Lamp, Window and the room's own light move by as much."},
			left: map[string]float64{"Lamp": 0, "Ambient": 0},
		},
		"a shutter that would be faster than the sync": {
			words: "Key=f/8 Fill=f/4 Lamp=f/4 Window=f/5.6", cause: "shutter", stops: 1,
			texts: []string{"Both of the lights that the shutter moves read 1.0 over, and the flashes do not.",
				"The shutter would be faster than the sync: take f/11 as the base, every flash up 1.0, the camera at f/13."},
		},
	} {
		s := parse(t, shared)
		today := check.Today{}
		if c.base != "" {
			today.BaseAv = av(t, c.base)
		}
		var words []string
		for _, w := range strings.Fields(c.words) {
			words = append(words, strings.ReplaceAll(w, "_", " "))
		}
		r := run(t, s, today, words...)
		if c.cause == "" {
			assert.Nil(t, r.Common, name)
			continue
		}
		if !assert.NotNil(t, r.Common, name) {
			continue
		}
		assert.Equal(t, c.cause, r.Common.Cause, name)
		assert.InDelta(t, c.stops, r.Common.Stops, 0.051, name)
		assert.False(t, r.Within, name)
		told := r.Common.Text
		for _, m := range r.Common.Remedies {
			told += "\n" + m.Text
		}
		for _, text := range c.texts {
			assert.Contains(t, told, text, name)
		}
		for light, left := range c.left {
			f := finding(t, r, light)
			assert.InDelta(t, left, f.Left, 0.051, "%s: %s", name, light)
			assert.Equal(t, left < -0.15 || left > 0.15, len(f.Remedies) > 0, "%s: %s %v", name, light, f.Remedies)
		}
	}
}

// A light that burns on gives what it gave, and the base is another: nothing is
// wrong with it.
func TestUnchangedSinceTheRecord(t *testing.T) {
	s := parse(t, shared)
	f := finding(t, run(t, s, check.Today{}, "Key=f/11", "Lamp=f/2.8"), "Lamp")
	assert.InDelta(t, -1, *f.Off, 1e-9)
	assert.True(t, f.Unchanged)
	assert.InDelta(t, 3, *f.UnchangedAv, 1e-9)
	// At twice the speed and half the time it gives the same; the flashes do not
	// follow the time.
	r := run(t, s, check.Today{ISO: p(400), ShutterS: p(1. / 256)}, "Key=f/8", "Lamp=f/2.8", "Fill=f/4")
	assert.InDelta(t, 3, *finding(t, r, "Lamp").UnchangedAv, 1e-9)
	assert.Nil(t, finding(t, r, "Fill").UnchangedAv)
	assert.True(t, r.Within)
	assert.InDelta(t, 4, *finding(t, r, "Fill").ShouldAv, 1e-9, "the target of a flash does not change")
}

// A card follows what lights it: that is put right first.
func TestCardsFollow(t *testing.T) {
	s := parse(t, strings.Replace(shared, "lit by: Key", "lit by: Fill", 1))
	r := run(t, s, check.Today{}, "Key=f/8", "Fill=f/5.6", "Card=f/5.6", "Rim=f/8")
	f := finding(t, r, "Card")
	require.Nil(t, r.Common)
	assert.InDelta(t, 0, f.Left, 1e-9)
	require.Len(t, f.Remedies, 1)
	assert.Equal(t, "Put Fill right first, and meter this again: it moves with that, and will follow.", f.Remedies[0].Text)

	r = run(t, s, check.Today{}, "Key=f/8", "Fill=f/5.6", "Card=f/4", "Rim=f/8")
	f = finding(t, r, "Card")
	assert.True(t, f.Within)
	assert.InDelta(t, -1, f.Left, 1e-9)
	assert.Equal(t, "Put Fill right first, and meter this again: it moves with that, and will then be 1.0 under.", f.Remedies[0].Text)
	assert.Equal(t, "closer, or larger", f.Remedies[1].Short)
	assert.Equal(t, "Move it closer to the subject, or take a larger one; how far the record cannot say.", f.Remedies[1].Text)
}

// Without a key: another light is the zero, or the room's own.
func TestOtherZeros(t *testing.T) {
	window := parse(t, `title: Window
exposure: {iso: 400, shutter: 1/60, zero: Window}
lights:
  - {name: Window, role: other, source: daylight, reading: f/4}
  - {name: Fill, role: fill, delta: -1, power: 1/8, head: {range: 7}}
  - {name: Rim, role: rim, delta: 1 over}
`)
	assert.True(t, check.NeedsBase(window, read(t, window, check.Today{}, "Fill=f/2.8")))
	r := run(t, window, check.Today{}, "Window=f/4", "Fill=f/2.8 +0.5", "Rim=f/5.6 +0.5")
	require.NotNil(t, r.Common)
	assert.Equal(t, "Window is down 0.5: both others read 0.5 over.", r.Common.Text)
	assert.Equal(t, "Set the shutter to 1/45 s, from 1/60 s: the flashes stay as they are. Window then reads f/4 +0.5, and that is the base.", r.Common.Remedies[0].Text)
	r = run(t, window, check.Today{}, "Window=f/4", "Fill=f/2.8 +0.5")
	assert.Equal(t, "Turn it down 0.5: from 1/8 to 1/16 +0.5.", finding(t, r, "Fill").Remedies[0].Text)

	room := parse(t, `title: Room
exposure: {iso: 100, shutter: 1/125, zero: ambient, ambient: {reading: f/5.6}}
lights:
  - {name: Front, role: fill, delta: 0.5 over, power: 1/2, head: {range: 8}}
`)
	r = run(t, room, check.Today{}, "ambient=f/8", "Front=f/8")
	assert.Equal(t, []int{}, finding(t, r, "Ambient").Numbers)
	f := finding(t, r, "Front")
	assert.InDelta(t, -0.5, *f.Off, 1e-9)
	assert.Equal(t, "Its dial cannot: full is 0.5 short", strings.SplitN(f.Remedies[0].Text, ":", 3)[0]+":"+strings.SplitN(f.Remedies[0].Text, ":", 3)[1])
}

// Tolerances: a tenth, half a step, the light's own, what was said.
func TestTolerances(t *testing.T) {
	s := parse(t, `title: T
exposure: {key: f/8}
lights:
  - {name: Key, role: key}
  - {name: Plain, role: fill, delta: 0}
  - {name: Thirds, role: rim, delta: 0, head: {step: 1/3, range: 7}, power: 1/2}
  - {name: Own, role: rim, delta: 0, tolerance: 0.4}
`)
	for _, c := range []struct {
		said *float64
		name string
		off  string
		ok   bool
	}{
		{nil, "Plain", "+0.1", true}, {nil, "Plain", "-0.1", true}, {nil, "Plain", "+0.11", false},
		{nil, "Thirds", "+0.16", true}, {nil, "Thirds", "-0.17", false},
		{nil, "Own", "+0.4", true}, {nil, "Own", "+0.41", false},
		{p(0.2), "Own", "+0.3", false}, {p(0.2), "Plain", "+0.2", true}, {p(0.2), "Thirds", "-0.2", true},
	} {
		f := finding(t, run(t, s, check.Today{Tolerance: c.said}, "Key=f/8", c.name+"="+c.off), c.name)
		assert.Equal(t, c.ok, f.Within, "%s %s", c.name, c.off)
	}
	f := finding(t, run(t, s, check.Today{}, "Key=f/8", "Plain=+0.13"), "Plain")
	assert.Equal(t, "0.13 over", f.Words(), "a tenth would say that it is right")
	f = finding(t, run(t, s, check.Today{}, "Key=f/8", "Thirds=-1"), "Thirds")
	assert.Equal(t, "Turn it up 1.0: from 1/2 to full.", f.Remedies[0].Text)
}

// Pairs: each alone, both together, one of both.
func TestPairs(t *testing.T) {
	s := parse(t, `title: Pairs
exposure: {key: f/8}
lights:
  - {name: Key, role: key}
  - {name: Rim, role: rim, delta: -1, pair: each}
  - {name: Wall, role: background, delta: -1, pair: both}
`)
	r := run(t, s, check.Today{}, "Key=f/8", "Rim=f/5.6", "Wall=f/5.6")
	assert.True(t, r.Within)
	both := finding(t, r, "Wall (both)")
	assert.Equal(t, []int{4, 5}, both.Numbers)
	assert.InDelta(t, 5, *both.ShouldAv, 1e-9)
	assert.Empty(t, r.ToMeter)
	r = run(t, s, check.Today{}, "Key=f/8", "Rim L=f/5.6", "Wall L=f/4")
	assert.True(t, r.Within) // each alone is a stop under both
	assert.Equal(t, "Rim R", r.ToMeter[0].Name)
	assert.InDelta(t, 4, *finding(t, r, "Wall R").ShouldAv, 1e-9)
	r = run(t, s, check.Today{}, "Key=f/8", "Wall=f/5.6 +0.5")
	assert.Equal(t, "Turn both down 0.5.", finding(t, r, "Wall (both)").Remedies[0].Text)
}
