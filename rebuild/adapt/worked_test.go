package adapt

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/exposure"
)

// one is a set with a single light at a distance straight before the face.
func one(light string) string {
	return "title: T\nexposure: {iso: 100, shutter: 1/125, key: f/8, aperture: f/8, bases: [f/8]}\nsubject: {face: 1.5}\nlights:\n  - {name: Key, role: key, " + light + "}\n"
}

// Guide numbers. A head of guide number 80 (ft) reads f/8 at 10 ft and f/4 at 20
// ft; one of 32 (m) reads f/8 at 4 m at ISO 100, and at ISO 400, where its number
// is 64, f/16 (photographic society page on guide numbers; encyclopaedia page).
// So at full it is at full again.
func TestGuideNumbers(t *testing.T) {
	r := made(t, "title: T\nunits: ft\nexposure: {iso: 100, key: f/8}\nsubject: {face: 5}\n"+
		"lights:\n  - {name: Key, role: key, place: {left: 0, front: 10, height: 5}, modifier: bowl 0.6, power: full}\n", Options{Scale: 2, BaseAv: v(4)})
	assert.Equal(t, 0.0, *r.Setup.Lights[0].Power)
	assert.Equal(t, 4.0, *r.Setup.Exposure.KeyAv)
	assert.InDelta(t, 20*0.3048, r.Setup.Lights[0].Place.Front, 1e-9)

	r = made(t, one("power: full"), Options{ISO: v(400), BaseAv: v(8)})
	assert.Equal(t, 0.0, *r.Setup.Lights[0].Power)
	assert.Equal(t, 400.0, *r.Setup.Exposure.ISO)
	assert.NotContains(t, changed(r), "Key power")
}

// Power and energy: half the power is a stop less (exact); 400 W s to 250 W s is
// -0.6781 stops, 200 to 1000 +2.3219 (energy law).
func TestPowers(t *testing.T) {
	for _, c := range []struct {
		power string
		o     Options
		want  string
	}{
		{"1/4", Options{BaseAv: v(5)}, "1/8"},
		{"1/4 +0.2", Options{BaseAv: v(5)}, "1/8 +0.2"},
		{"1/8", Options{BaseAv: v(7)}, "1/4"},
		{"1/8", Options{BaseAv: v(6.4)}, "1/8 +0.4"},
		{"1/4", Options{ISO: v(200)}, "1/8"},
		{"1/4", Options{ISO: v(50)}, "1/2"},
		{"1/4", Options{ISO: v(200), BaseAv: v(7)}, "1/4"},
		{"-3.3", Options{BaseAv: v(4)}, "-5.3"},
		{"1/2", Options{BaseAv: v(7)}, "full"},
	} {
		r := made(t, one("power: "+c.power), c.o)
		want := c.want
		if got, ok := changed(r)["Key power"]; ok {
			assert.Equal(t, want, got, "%s %v", c.power, c.o)
		} else {
			assert.Equal(t, c.power, want, "%s %v", c.power, c.o)
		}
		assert.Empty(t, messages(r))
	}
	r := made(t, one("power: 100 Ws, head: {energy: 400 Ws, range: 6, dial: ws}"), Options{BaseAv: v(5)})
	assert.Equal(t, "50 Ws", changed(r)["Key power"])
	r = made(t, one("power: 7.3, head: {energy: 400 Ws, range: 6, dial: number, full: 10, step: 0.1}"), Options{BaseAv: v(4.6)})
	assert.Equal(t, "5.9", changed(r)["Key power"])
	r = made(t, one("power: 40 %, head: {energy: 400 Ws, range: 6, dial: percent}"), Options{BaseAv: v(5)})
	assert.Equal(t, "20 %", changed(r)["Key power"])
}

// The distances of the handbook values: a point by the inverse square, an even
// disc r²/(r²+h²) (F 0.2 and 0.058824 at one and two diameters), an even square of
// 1 m (Howell B-3: 0.239456 at 1 m, 0.073478 at 2 m).
func TestDistances(t *testing.T) {
	for _, c := range []struct {
		modifier string
		from, to float64
		stops    float64
	}{
		{"bowl 0.18", 2, 1, -2},
		{"bowl 0.18", 2, 3, 1.16993},
		{"octabox 1", 1, 2, math.Log2(0.2 / 0.058824)},
		{"softbox 1 x 1", 1, 2, math.Log2(0.239456 / 0.073478)},
		{"softbox 0.6 x 0.9", 1, 1.5, math.Log2(0.144210 / 0.070344)},
	} {
		src := one("place: {left: 0, front: " + short(c.from) + ", height: 1.5}, modifier: " + c.modifier + ", power: -4, head: {energy: 400 Ws, range: 9, step: 0.01}")
		r := made(t, src, Options{Scale: c.to / c.from})
		assert.InDelta(t, c.to, r.Setup.Lights[0].Place.Front, 1e-9, c.modifier)
		assert.InDelta(t, -4+c.stops, *r.Setup.Lights[0].Power, 0.005+1e-9, c.modifier)
	}
}

// The frame at the subject is kept, and the depth of field is that of the tables:
// a 50 mm lens at f/8 set to 3 m is sharp from 2337.9 to 4185.3 mm with a circle of
// 0.03 mm (from the full formulas), which is 1/1500 of the diagonal of 36 x 27.
func TestLens(t *testing.T) {
	src := "title: T\nexposure: {key: f/8, aperture: f/8, bases: [f/8]}\ncamera: {distance: 5.1, height: 1.4, lens: 85 mm, format: 36x27}\n" +
		"lights:\n  - {name: Key, role: key, place: {tape: {subject: 2, camera: 4}, side: left, height: 2}}\n"
	r := made(t, src, Options{LensMM: v(50)})
	assert.Equal(t, "50 mm", changed(r)["camera lens"])
	assert.InDelta(t, 3, *r.Setup.Camera.Distance, 1e-9)
	first := made(t, src, Options{ShutterS: v(1. / 128)})
	before, after := numbers(first.Setup).Camera, numbers(r.Setup).Camera
	assert.InDelta(t, *before.FrameM.AtSubject.Width, *after.FrameM.AtSubject.Width, 1e-9)
	assert.InDelta(t, *before.FrameM.AtSubject.Height, *after.FrameM.AtSubject.Height, 1e-9)
	require.Len(t, after.DepthOfField, 1)
	assert.InDelta(t, 2.3379, *after.DepthOfField[0].NearM, 1e-4)
	assert.InDelta(t, 4.1853, *after.DepthOfField[0].FarM, 1e-4)

	// The light stays, though its tape from the camera is another.
	was, is := first.Setup.Lights[0].Place, r.Setup.Lights[0].Place
	assert.InDelta(t, was.Right, is.Right, 0.01)
	assert.InDelta(t, was.Front, is.Front, 0.01)
	assert.Equal(t, "tape", is.Form)
	_, width, height := exposure.Disc, *after.ViewDeg.Width, *after.ViewDeg.Height
	assert.InDelta(t, 39.60, width, 0.05) // the table of angles of view
	assert.Greater(t, height, 0.0)
}
