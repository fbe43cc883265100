package setup

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/exposure"
	"stopleaf/setup/photo"
)

// parsedSetup reads a snippet that must have no errors, with its numbers.
func parsedSetup(t *testing.T, yaml string) (*Setup, *exposure.Numbers) {
	t.Helper()
	s, problems := Parse("set.yaml", []byte(yaml), Options{NoPhotos: true})
	require.NotNil(t, s, "%v", problems)
	bases, err := s.ChooseBases("")
	require.NoError(t, err)
	n := exposure.Compute(s.Input(bases))
	return s, &n
}

// said are the problems without their hints, one a line.
func said(ps Problems) []string {
	out := []string{}
	for _, p := range ps {
		first, _, _ := strings.Cut(p.String(), "\n")
		out = append(out, first)
	}
	return out
}

func checked(t *testing.T, yaml string) []string {
	t.Helper()
	s, n := parsedSetup(t, yaml)
	ps := Check(s, n)
	for _, p := range ps {
		assert.Equal(t, Warning, p.Level)
		assert.NotEmpty(t, p.Code)
		assert.NotEmpty(t, p.Hint)
	}
	return said(ps)
}

// A 50 mm lens on 36 x 24 held level sees 12/50 of the distance up and down
// and 18/50 to each side.
const camera50 = `
title: T
camera: {distance: 3, height: 1.5, lens: 50 mm, frame: level}
subject: {face: 1.5}
`

func TestCheckLightInFrame(t *testing.T) {
	assert.Equal(t, []string{
		`set.yaml:7:54: warning: "A" is in the picture`,
		`set.yaml:8:38: warning: "B" is in the picture`,
	}, checked(t, camera50+`lights:
  - {role: key, place: {left: 2, front: 1, height: 2}}
  - {name: A, role: fill, delta: -1, modifier: bare, place: {right: 0.6, front: 1, height: 1.9}}
  - {name: B, role: hair, delta: -1, place: {right: 0, behind: 1, height: 2.6}, modifier: softbox 0.9 x 0.9, aim: {right: 0, front: 3, height: 2.6}}
  - {name: C, role: hair, delta: -1, place: {right: 0, behind: 1, height: 2.6}, modifier: bowl 0.18}
  - {name: D, role: hair, delta: -1, place: {right: 0, front: 3.5, height: 1.5}}
`), "A's point is inside; B's lower edge hangs in at 2.15 m, under 2.46 m")
	assert.Equal(t, []string{`set.yaml:8:49: warning: "Behind" stands 0.50 m behind the background`}, checked(t, camera50+`background: {distance: 0.5}
lights:
  - {role: key, place: {left: 2, front: 1, height: 2}}
  - {name: Behind, role: background, delta: -1, place: {right: 0, behind: 1, height: 1.5}, aim: face}
`), "behind the background it is not seen")
	assert.Empty(t, checked(t, `
title: T
camera: {distance: 3, height: 1.5}
lights:
  - {role: key, place: {left: 0, front: 1, height: 1.5}}
`), "without a lens nothing can be said")
}

func TestCheckRoom(t *testing.T) {
	assert.Equal(t, []string{
		`set.yaml:3:10: warning: the camera is outside the room, 0.40 m beyond the wall behind it`,
		`set.yaml:4:14: warning: the background is outside the room, 0.30 m beyond the wall behind it`,
		`set.yaml:7:17: warning: "Key" is outside the room, 0.20 m beyond the left wall`,
		`set.yaml:8:29: warning: the top of "Top" would be at 2.90 m, and the ceiling is at 2.60 m`,
		`set.yaml:9:30: warning: "Side" would reach 0.20 m through the right wall`,
		`set.yaml:11:18: warning: "Flat" is outside the room, 0.50 m beyond the wall behind the subject`,
	}, checked(t, `
title: T
camera: {distance: 5, height: 1.4}
background: {distance: 3.3}
room: {left: 2, right: 2, front: 4.6, behind: 3, ceiling: 2.6}
lights:
  - {role: key, place: {left: 2.2, front: 1, height: 2}}
  - {name: Top, role: fill, place: {left: 1, front: 0, height: 2.5}, delta: -1, modifier: softbox 0.8 x 0.8, aim: {left: 3, front: 0, height: 2.5}}
  - {name: Side, role: hair, place: {right: 1.8, front: 0, height: 1}, delta: -1, modifier: softbox 0.8 x 0.8, aim: {right: 1.8, front: 3, height: 1}}
grip:
  - {name: Flat, place: {right: 0, behind: 3.5, height: 1}}
`))
}

func TestCheckPairs(t *testing.T) {
	assert.Equal(t, []string{`set.yaml:6:48: warning: "Wall L" and "Wall R" are a mirrored pair, and read 0.3 stops apart`}, checked(t, `
title: T
exposure: {key: f/8}
lights:
  - {role: key}
  - {name: Wall, role: background, pair: each, reading: [f/5.6, f/6.3]}
`))
	assert.Empty(t, checked(t, `
title: T
exposure: {key: f/8}
lights:
  - {role: key}
  - {name: Wall, role: background, pair: each, reading: [f/5.6, f/5.6 +0.1]}
`), "a tenth is the meter's own")
}

func TestCheckPower(t *testing.T) {
	assert.Equal(t, []string{`set.yaml:4:48: warning: "Key" is at 1/128, and its head goes down 5 stops from full`}, checked(t, `
title: T
lights:
  - {role: key, head: {energy: 400, range: 5}, power: 1/128}
`))
}

func TestCheckPhotos(t *testing.T) {
	s, n := parsedSetup(t, `
title: T
exposure: {iso: 200, shutter: 1/200, key: f/8 +0.4, aperture: f/9}
camera: {lens: 85 mm}
photos: [result.jpg, {file: set.jpg, shows: set}]
lights: [{role: key}]
`)
	v := func(x float64) *float64 { return &x }
	with := func(x photo.Exif) []string {
		for i := range s.Photos {
			s.Photos[i].Picture = &photo.Picture{Exif: x}
		}
		return said(Check(s, n))
	}
	assert.Equal(t, []string{
		`set.yaml:5:10: warning: the photo "result.jpg" was taken at 1/125, and the file says 1/200, 0.7 stops apart`,
		`set.yaml:5:10: warning: the photo "result.jpg" was taken at 50 mm, and the file says 85 mm`,
		`set.yaml:5:10: warning: the photo "result.jpg" was taken at ISO 100, and the file says ISO 200, 1.0 stops apart`,
		`set.yaml:5:10: warning: the photo "result.jpg" was taken at f/8, and the file says f/9, 0.3 stops apart`,
	}, with(photo.Exif{FNumber: v(8), ExposureS: v(1. / 125), ISO: v(100), FocalMM: v(50)}))
	assert.Empty(t, with(photo.Exif{FNumber: v(9), ExposureS: v(1. / 200), ISO: v(200), FocalMM: v(85)}), "marks are one setting")
	assert.Empty(t, with(photo.Exif{FNumber: v(8.979696), ExposureS: v(1. / 203.19), ISO: v(200), FocalMM: v(86)}), "and so are exact steps")
	assert.Empty(t, with(photo.Exif{}), "nothing written, nothing said")
	assert.Empty(t, with(photo.Exif{FNumber: v(0), ExposureS: v(0), ISO: v(math.NaN()), FocalMM: v(math.Inf(1))}))
}

// A hard light that once read f/22 (Av 9) at 1 m, full power and ISO 100: at
// 2 m and ISO 200 it gives 9 - 2 + 1 = 8, and at 1/4 power 6, f/8.
func TestCheckOutput(t *testing.T) {
	light := func(key, power, with string) string {
		return `
title: T
exposure: {iso: 200, key: ` + key + `}
subject: {face: 1.5}
lights:
  - {role: key, place: {left: 2, front: 0, height: 1.5}, modifier: bowl 0.18, power: ` + power + `,
     head: {energy: 400, output: {reads: f/22, at: 1 m, iso: 100, with: ` + with + `}}}
`
	}
	assert.Empty(t, checked(t, light("f/8", "1/4", "bowl 0.18")))
	assert.Empty(t, checked(t, light("f/8 +0.5", "1/4", "bowl 0.18")), "half a stop is within the model")
	assert.Equal(t, []string{`set.yaml:6:79: warning: by what its head once gave "Key" should read f/8 here, and f/8 +0.6 is recorded, 0.6 stops more`},
		checked(t, light("f/8 +0.6", "1/4", "bowl 0.18")))
	assert.Equal(t, []string{`set.yaml:6:79: warning: by what its head once gave "Key" should read f/16 here, and f/8 is recorded, 2.0 stops less`},
		checked(t, light("f/8", "full", "bowl 0.18")))
	assert.Empty(t, checked(t, light("f/8", "full", "softbox 0.9 x 0.6")), "another modifier says nothing")
	assert.Empty(t, checked(t, light("f/8", "full", "bowl 0.25")), "nor another size")
}

// By the emission of a square 1 m box (Howell B-3): F is 0.239456 at 1 m and
// 0.073478 at 2 m, 1.704 stops apart, not the 2 of a point.
func TestCheckOutputOfABox(t *testing.T) {
	yaml := func(key string) string {
		return `
title: T
exposure: {iso: 100, key: ` + key + `}
subject: {face: 1.5}
lights:
  - {role: key, place: {left: 2, front: 0, height: 1.5}, modifier: softbox 1 x 1, power: full,
     head: {energy: 400, output: {reads: f/16, at: 1 m, with: softbox 1.0 m x 100 cm}}}
`
	}
	assert.Empty(t, checked(t, yaml("f/8 +0.7")), "8 - 1.704 = 6.296; 6.7 is within half a stop")
	assert.Equal(t, []string{`set.yaml:6:83: warning: by what its head once gave "Key" should read f/8 +0.3 here, and f/8 +0.8 is recorded, 0.5 stops more`},
		checked(t, yaml("f/8 +0.8")))
}

func TestCheckBackgroundReading(t *testing.T) {
	yaml := func(reading string) string {
		return `
title: T
exposure: {key: f/8}
subject: {face: 1.5}
background: {distance: 2, reading: ` + reading + `}
lights:
  - {role: key, place: {left: 0, front: 2, height: 1.5}, modifier: bowl 0.18}
  - {name: Wall, role: background, delta: 0}
`
	}
	// The key's spill is 2 stops down at 4 m; f/8 and f/4 together are Av 6.32.
	assert.Empty(t, checked(t, yaml("f/8 +0.8")))
	assert.Equal(t, []string{`set.yaml:5:27: warning: the background reads f/11, and all that reaches it gives f/8 +0.3, 0.7 stops less`},
		checked(t, yaml("f/11")))
	assert.Empty(t, checked(t, yaml("f/2")), "a dark tone may read low")
}

func TestCheckWithoutNumbers(t *testing.T) {
	s, _ := parsedSetup(t, "title: T\nexposure: {key: f/8}\nbackground: {reading: f/16}\nlights: [{role: key}]\n")
	assert.NotPanics(t, func() { Check(s, nil); Proof(s, nil); Proof(&Setup{}, &exposure.Numbers{}) })
}

// Whatever can be read can be computed, checked and proved.
func FuzzCheck(f *testing.F) {
	f.Add(whole)
	f.Add(camera50 + "lights: [{role: key, place: {left: 2, front: 1, height: 2}, modifier: octabox 1, aim: crown}]\n")
	f.Add("title: T\nexposure: {key: f/8, iso: 100}\nroom: {left: 0, ceiling: 0}\nbackground: {distance: 0, reading: f/64}\n" +
		"lights: [{role: key, pair: both, place: {angle: 0, distance: 0, height: 0}, modifier: softbox 0 x 0, power: -3,\n" +
		"  head: {range: 1, output: {reads: f/8, at: 9, with: softbox 0 x 0}}}]\ngrip: [{name: G, place: {left: 1, front: 1}, turned: 90}]\n")
	f.Fuzz(func(t *testing.T, src string) {
		s, _ := Parse("set.yaml", []byte(src), Options{NoPhotos: true})
		if s == nil {
			return
		}
		n := exposure.Compute(s.Input(exposure.DefaultBases(s.Exposure.KeyAv)))
		if _, err := json.Marshal(n); err != nil {
			t.Fatal(err)
		}
		for _, p := range Proof(s, &n) {
			if p.Message == "" || p.Pos.File == "" || strings.Contains(p.Message, "NaN") || strings.Contains(p.Message, "Inf") {
				t.Fatalf("%+v", p)
			}
		}
	})
}

// A place within a finger's breadth of the mark is a unit mistaken; straight over it is
// a place.
func TestCheckNearTheMark(t *testing.T) {
	assert.Equal(t, []string{`set.yaml:2:28: warning: "Key" is 1.5 mm from the mark along the floor`}, checked(t,
		"lights:\n  - {name: Key, role: key, place: \"50 left, 1.5 mm, 2.0 high\"}\n  - {name: Top, role: hair, delta: -1, place: {left: 0, front: 0, height: 2.8}}\n"))
}
