package adapt

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/rebuild/heads"
	"stopleaf/setup"
)

const headed = "title: T\nexposure: {iso: 100, shutter: 1/125, sync: 1/200, key: f/8, aperture: f/8}\n"

const fastSync = "title: T\nexposure: {iso: 100, shutter: 1/125, sync: 1/250, key: f/8, aperture: f/8}\n"

// What cannot be kept is said, with figures.
func TestSaid(t *testing.T) {
	for name, c := range map[string]struct {
		src  string
		o    Options
		want []string
	}{
		"over full": {headed + "lights: [{name: Key, role: key, power: 1/2}]\n", Options{BaseAv: v(8)},
			[]string{`"Key" would be 1.0 stop over full: its power is taken out`}},
		"below its range": {headed + "lights: [{name: Key, role: key, power: 1/32, head: {range: 6}}]\n", Options{BaseAv: v(4)},
			[]string{`"Key" would be at 1/128, 1.0 stop below its least`}},
		"the lens": {headed + "camera: {widest: f/4}\nlights: [{name: Key, role: key}]\n", Options{BaseAv: v(3)},
			[]string{"the camera would be set to f/2.8, and the lens opens to f/4: the picture is 1.0 stop darker than it was placed"}},
		"ambient at the sync": {"title: T\nexposure: {shutter: 1/200, sync: 1/200, key: f/8, ambient: f/2}\nlights: [{name: Key, role: key}]\n", Options{BaseAv: v(5)},
			[]string{"the room's own light would be 3.0 under, not 4.0 under"}},
		"slower than the sync": {"title: T\nexposure: {shutter: 1/200, sync: 1/200, key: f/8, ambient: f/2}\nlights: [{name: Key, role: key}]\n", Options{BaseAv: v(7)},
			[]string{"the shutter would be 1/100, 1.0 stop slower than the sync: what moves may show twice"}},
		"faster than the sync": {headed + "lights: [{name: Key, role: key}]\n", Options{ShutterS: v(1. / 512)},
			[]string{"the shutter would be 1/500, and the fastest with flash is 1/200"}},
		"sync not written": {"title: T\nexposure: {shutter: 1/125, key: f/8, ambient: f/2}\nlights: [{name: Key, role: key}]\n", Options{BaseAv: v(5)},
			[]string{"the room's own light would be 3.0 under, not 4.0 under"}},
		"daylight": {fastSync + "lights: [{name: Key, role: key}, {name: Window, role: fill, source: daylight, delta: 2 under}]\n", Options{ShutterS: v(1. / 256)},
			[]string{`"Window" follows the shutter, and would be 3.0 under, not 2.0 under`}},
		"a panel without its dimmer": {fastSync + "lights: [{name: Key, role: key}, {name: Panel, role: fill, source: continuous, delta: -2}]\n", Options{ShutterS: v(1. / 256)},
			[]string{`"Panel" must give 1.0 stop more, and its setting is not written`}},
		"a panel at its full": {fastSync + "lights: [{name: Key, role: key}, {name: Panel, role: fill, source: continuous, delta: -2, dimmer: 80 %}]\n", Options{ShutterS: v(1. / 256)},
			[]string{`"Panel" would be 0.7 stops over its full: its dimmer is taken out`}},
		"a window as the zero": {"title: T\nexposure: {iso: 100, shutter: 1/60, sync: 1/60, zero: Window, key: f/4}\nlights: [{name: Window, role: other, source: daylight}, {name: Fill, role: fill, delta: -1, power: 1/4}]\n",
			Options{BaseAv: v(3)}, []string{`"Window" follows the shutter, and at 1/60 reads f/4, not f/2.8`}},
		"fall-off not known": {headed + "subject: {face: 1.5}\nlights: [{name: Key, role: key, power: 1/4, place: {left: 1, front: 1, height: 2}}]\n", Options{Scale: 2},
			[]string{`the power of "Key" is taken out: how its light falls off is not known`}},
		// 1 m square: 4 x 0.138532 at 0.5 m, 0.239456 at 1 m (Howell B-3)
		"a bounce": {headed + "subject: {face: 1.5}\nlights: [{name: Key, role: key}, {name: Card, role: fill, source: bounce, lit by: Key, delta: -2, place: {right: 1, front: 0, height: 1.5}, modifier: reflector panel 1 x 1}]\n",
			Options{Scale: 0.5}, []string{`"Card" would give about 1.2 stops more at 0.50 m, not 1.00 m, est.`, `"Card" looks 100 % larger from 0.50 m than from 1.00 m`}},
		"softness": {headed + "subject: {face: 1.5}\nlights: [{name: Key, role: key, place: {left: 0, front: 2, height: 1.5}, modifier: octabox 1}]\n",
			Options{Scale: 0.5}, []string{`"Key" looks 100 % larger from 1.00 m than from 2.00 m`}},
		"under the floor": {headed + "subject: {face: 1.5}\nlights: [{name: Key, role: key, place: {left: 0, front: 1, height: 0.4}, modifier: octabox 0.4, aim: {left: 0, front: 0, height: 0.4}}]\n",
			Options{FaceM: v(1.1)}, []string{`the lower edge of "Key" would be 0.20 m under the floor; it is left on it, with its centre at 0.20 m`}},
		"the subject": {headed + "subject: {face: 1.5, posture: standing, height: 1.7}\nlights: [{name: Key, role: key}]\n", Options{FaceM: v(1.1)},
			[]string{"the posture is still standing, and whether the subject sits now or is smaller is not said", "the height of 1.70 m is that of the subject before"}},
		"a wall": {headed + "room: {left: 3, right: 2}\nlights: [{name: Key, role: key, look for: the left cheek}]\n", Options{Mirror: true},
			[]string{"the walls are changed about with the set: 2.00 m left and 3.00 m right", `"look for" of "Key" says "left"`}},
		"a window mirrored": {headed + "lights: [{name: Key, role: key}, {name: Sun, role: fill, delta: -1, source: daylight, place: {left: 2, front: 1}}]\n", Options{Mirror: true},
			[]string{`"Sun" is daylight: it is written on the other side, and a window stays where it is`}},
		"does not fit": {headed + "subject: {face: 1.5}\nlights: [{name: Key, role: key, place: {left: 0.5, front: 0.5, height: 1.5}, modifier: softbox 3 x 3}]\n",
			Options{Room: setup.Room{Ceiling: v(2)}},
			[]string{`"Key" reaches 1.00 m beyond the ceiling, and fits neither along its own line nor turned by up to 45° about what it is aimed at: it is left there`}},
		"no place": {headed + "lights: [{name: Key, role: key}]\n", Options{Room: setup.Room{Left: v(2)}},
			[]string{`"Key" has no place: whether it fits the room is not known`}},
		"the camera": {headed + "camera: {distance: 4, lens: 100 mm}\nbackground: {distance: 3, height: 3}\nlights: [{name: Key, role: key, place: {left: 1, front: 1, height: 1.5}}]\n",
			Options{Room: setup.Room{Front: v(3), Behind: v(2), Ceiling: v(2.5)}},
			[]string{"the camera would stand 1.00 m beyond the wall behind it: it is left there", "the background would hang 1.00 m beyond the wall behind the subject: it is left there",
				"the background is 3.00 m high, 0.50 m more than the room"}},
		"pictures": {headed + "subject: {face: 1.5}\nphotos: [{file: a.jpg, shows: result}, {file: b.jpg, shows: set}]\nlights: [{name: Key, role: key}]\n", Options{FaceM: v(1.4)},
			[]string{`the photo "a.jpg" shows the light as it was`, `the photo "b.jpg" shows the set as it was`}},
		"bases": {"title: T\nexposure: {key: f/64, bases: [f/64, f/90]}\nlights: [{name: Key, role: key}]\n", Options{BaseAv: v(13)},
			[]string{"1 of the bases would lie beyond f/0.7 or f/90, and are left out"}},
	} {
		t.Run(name, func(t *testing.T) {
			assert.ElementsMatch(t, c.want, messages(made(t, c.src, c.o)))
		})
	}
}

// A light is brought inside along its own line, to a whole centimetre, and its
// boom's column between the walls.
func TestInside(t *testing.T) {
	src := headed + "subject: {face: 1.5}\nlights: [{name: Rim, role: key, place: {right: 2, front: 0, height: 1.5}, modifier: bowl 0.2, power: 1/4, head: {step: 0.01},\n" +
		"  stand: {kind: boom, reach: 1, base: {right: 2.9, front: 0}}}]\n"
	r := made(t, src, Options{Room: setup.Room{Right: v(1.75)}})
	l := r.Setup.Lights[0]
	assert.InDelta(t, 1.75, l.Place.Right, 1e-9)
	assert.InDelta(t, -2-2*0.19265, *l.Power, 0.006) // 2 log2(2 / 1.75), the inverse square
	assert.InDelta(t, 1.75, l.Stand.Base.Right, 1e-9)
	assert.Empty(t, messages(r), "12 %% nearer is no other light")
}

// Two that stand one over the other stay so.
func TestStackedStays(t *testing.T) {
	src := headed + "subject: {face: 1.5}\nlights:\n  - {name: Key, role: key, place: {left: 0, front: 2, height: 2.2}, modifier: bowl 0.2}\n  - {name: Fill, role: fill, delta: -1, place: {under: Key, height: 1.0}, modifier: bowl 0.2}\n"
	for _, o := range []Options{{Scale: 0.5}, {Room: setup.Room{Front: v(1.8)}}, {FaceM: v(1.2)}, {Mirror: true}} {
		r := made(t, src, o)
		assert.Equal(t, "under", r.Setup.Lights[1].Place.Form)
		assert.InDelta(t, r.Setup.Lights[0].Place.Front, r.Setup.Lights[1].Place.Front, 1e-9)
	}
}

// A power that was not written comes from what the head gave: by its own line of
// "output", or from other setups, with how sure it is.
func TestLearned(t *testing.T) {
	gear := "gear:\n  heads:\n    - {name: big, energy: 400 Ws, range: 7, step: 0.1, output: {reads: f/16, at: 1 m, iso: 100, with: bowl 0.2}}\n    - {name: small, energy: 100 Ws, range: 5, output: {reads: f/8, at: 1 m, with: bowl 0.2}}\n"
	src := headed + gear + "subject: {face: 1.5}\nlights:\n  - name: Key\n    role: key\n    head: big\n    place: {left: 0, front: 2, height: 1.5}\n    modifier: bowl 0.2\n"
	s, problems := setup.Parse("set.yaml", []byte(src), setup.Options{})
	require.NotNil(t, s, "%v", problems)
	table := heads.Learn([]*setup.Setup{s})

	// f/16 at 1 m is f/8 at 2 m (inverse square); f/5.6 there is a stop less than full.
	r := made(t, src, Options{BaseAv: v(5), Learned: table})
	assert.Equal(t, -1.0, *r.Setup.Lights[0].Power)
	assert.Contains(t, string(r.Source), "power: 1/2  # power est., from one record")
	assert.Contains(t, r.Changes, Change{Item: "Key", What: "power", From: "", To: "1/2", Why: "by what its head gave at 1 m, est., from one record"})

	// Another head by what both gave, not by their energies: two stops, as they are
	// here, and not by chance 400 to 100.
	r = made(t, src+"    power: 1/4\n", Options{Heads: []Swap{{"Key", "small"}}, Learned: table})
	assert.Equal(t, 0.0, *r.Setup.Lights[0].Power)
	r = made(t, src+"    power: 1/4\n", Options{Heads: []Swap{{"key", "small"}}})
	assert.Equal(t, 0.0, *r.Setup.Lights[0].Power, "by energy")

	// Nothing is asked of its power, so none is given.
	r = made(t, src, Options{Mirror: true, Learned: table})
	assert.Nil(t, r.Setup.Lights[0].Power)
}

// Every figure that is an aperture moves as it behaves.
func TestReadings(t *testing.T) {
	src := "title: T\nexposure: {iso: 100, shutter: 1/125, sync: 1/250, key: f/8, aperture: f/9, ambient: f/2, bases: f/5.6}\nbackground: {reading: EV 12}\n" +
		"lights:\n  - {name: Key, role: key, reading: f/8}\n  - {name: Fill, role: fill, reading: \"5 6\"}\n  - {name: Rim, role: rim, pair: each, reading: [f/8, f/9]}\n"
	r := made(t, src, Options{BaseAv: v(5)})
	e := r.Setup.Exposure
	assert.Equal(t, []float64{5, 5 + 1.0/3, 1}, []float64{*e.KeyAv, *e.ApertureAv, *e.AmbientAv})
	assert.Equal(t, 1./256, *e.ShutterS, "to hold the ambient")
	assert.InDelta(t, 12-7-1, *r.Setup.Background.ReadingAv, 1e-9)
	got := changed(r)
	assert.Equal(t, "f/5.6", got["Key reading"])
	assert.Equal(t, "EV 12", flat(t, r.Source)["/background/reading"], "a stop less at half the time")
	assert.Equal(t, "[f/5.6, f/6.3]", got["Rim reading"])
	assert.Empty(t, messages(r))
}

// Names, and what calls items by them, are turned with the set; so are the two
// readings of a pair.
func TestMirrorNames(t *testing.T) {
	src := `exposure: {key: f/8, zero: Left window}
looks:
  - {name: One, off: [rim R, Flat LEFT], delta: {Rim L: -1, Back: 0}}
lights:
  - {name: Left window, role: other, source: daylight, place: {clock: "07:30", distance: 2}}
  - {name: Rim, role: rim, pair: each, reading: [f/8, f/9], place: "150 l, 2 m, 1.5 high", feather: 10 toward right}
  - {name: Back, role: rim, delta: 0, place: {tape: {Rim L: 1, Rim R: 2.5}, side: left}, aim: left window}
  - {name: Top, role: hair, delta: 0, place: "over rim l, 2 high", pair: both, lit by: Rim R}
  - {name: Flat LEFT, role: fill, delta: -2, place: "12 o'clock, 1 m"}
grip:
  - {name: Flag-L, place: {under: Rim L}, turned: 20 left}
`
	want := `exposure: {key: f/8, zero: Right window}
looks:
  - {name: One, off: [Rim L, Flat RIGHT], delta: {Rim R: -1, Back: 0}}
lights:
  - {name: Right window, role: other, source: daylight, place: {clock: "04:30", distance: 2}}
  - {name: Rim, role: rim, pair: each, reading: [f/9, f/8], place: "150 r, 2 m, 1.5 high", feather: 10 toward left}
  - {name: Back, role: rim, delta: 0, place: {tape: {Rim R: 1, Rim L: 2.5}, side: right}, aim: Right window}
  - {name: Top, role: hair, delta: 0, place: "over Rim R, 2 high", pair: both, lit by: Rim L}
  - {name: Flat RIGHT, role: fill, delta: -2, place: "12 o'clock, 1 m"}
grip:
  - {name: Flag-R, place: {under: Rim R}, turned: 20 right}
`
	r := made(t, src, Options{Mirror: true})
	assert.Equal(t, want, body(r.Source))
	assert.Contains(t, r.Changes, Change{Item: "Rim", What: "reading", From: "[f/8, f/9]", To: "[f/9, f/8]", Why: "the other side"})

	// A swap calls a light as the old file does.
	src = "gear: {heads: [{name: big, energy: 400 Ws}]}\nlights:\n  - {name: Key L, role: key}\n"
	r = made(t, src, Options{Mirror: true, Heads: []Swap{{"Key L", "big"}}})
	assert.Contains(t, string(r.Source), "{name: Key R, role: key, head: big}")
}

// Neither the clock nor the order of a map shows.
func TestSameInSameOut(t *testing.T) {
	for name, src := range corpus(t) {
		o := Options{BaseAv: v(4), Mirror: true, Scale: 0.9, Room: setup.Room{Ceiling: v(2.3)}, Said: "x"}
		a, errA := tried(t, name, src, o)
		b, errB := tried(t, name, src, o)
		require.Equal(t, errA, errB)
		assert.Equal(t, a, b)
	}
}
