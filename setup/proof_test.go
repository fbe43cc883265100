package setup

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestProofOfTheSmallestFile(t *testing.T) {
	s, n := parsedSetup(t, `title: T
lights:
  - {role: key}
  - {name: Hair, role: hair, delta: 1 under, place: {angle: 165 right, distance: 1.3}, modifier: strip}
`)
	assert.Equal(t, []string{
		`set.yaml: missing: the key's own reading is not written: the differences are known, and not the aperture or the power they were found at`,
		`set.yaml:3:5: missing: light "Key" has no place: a rebuild must guess where it stood`,
		`set.yaml:4:46: missing: light "Hair" has no height: a rebuild must guess it`,
		`set.yaml:3:5: missing: light "Key" has no modifier: a rebuild must guess how soft it was`,
		`set.yaml:4:88: missing: light "Hair" has a modifier without a size: a rebuild must guess how soft it was`,
		`set.yaml:3:5: missing: light "Key" has no power: its dial must be found again with the meter`,
		`set.yaml:4:5: missing: light "Hair" has no power: its dial must be found again with the meter`,
		`set.yaml:3:5: missing: light "Key" has no head: its power says little without it`,
		`set.yaml:4:5: missing: light "Hair" has no head: its power says little without it`,
		`set.yaml:4:5: missing: light "Hair" has no stand: no bag can be worked out for it`,
		`set.yaml: missing: the camera is not written: its distance, height and lens make half the picture`,
		`set.yaml: missing: the height of the face is not written; 1.55 m is taken, and lights are aimed there`,
		`set.yaml: missing: the background is not written: what it is, and how far behind`,
		`set.yaml: missing: what aperture the camera was set to is not written: a base may be placed wrongly against the key`,
		`set.yaml: missing: the ISO is not written: powers mean nothing without it`,
		`set.yaml: missing: the shutter is not written: how much of the room's own light was in is not known`,
		`set.yaml:2:1: missing: no light says where the meter was held; at the face and toward the light is taken`,
		`set.yaml: missing: no photo shows the set: nothing tells a tape that was misread`,
		`set.yaml: missing: no photo shows the result: nothing says what the light should look like`,
		`set.yaml: missing: the room, with its ceiling, is not written: whether the set fits another cannot be told, and a low white ceiling is a light of its own`,
		`set.yaml: missing: the day it was made is not written`,
		`set.yaml: missing: whose setup it is is not written`,
	}, said(Proof(s, n)))
	for _, p := range Proof(s, n) {
		assert.Equal(t, Missing, p.Level)
		assert.NotEmpty(t, p.Hint, p.Message)
	}
}

const whole = `title: T
made: 2026-03-14
by: Halvard Studio
exposure: {iso: 200, shutter: 1/200, key: f/8, aperture: f/8}
camera: {distance: 3.2, height: 1.4, lens: 85 mm, frame: upright}
subject: {face: 1.55}
background: {kind: canvas, distance: 2.4}
room: {left: 2.5, right: 2.5, front: 4, behind: 3, ceiling: 3.2}
photos: [result.jpg, {file: set.jpg, shows: set}]
lights:
  - {role: key, place: "55 left, 1.4 m, 2.15 high", modifier: octabox 1.2, head: {energy: 400, range: 7}, power: 1/4,
     stand: stand, meter: {at: face}}
  - {name: Card, role: fill, source: bounce, lit by: Key, delta: -1.6, place: {right: 0.9, front: 0.3, height: 1.3},
     modifier: reflector panel 1.0 x 1.5, meter: {at: face}}
`

func TestProofOfAWholeFile(t *testing.T) {
	s, n := parsedSetup(t, whole)
	assert.Empty(t, said(Proof(s, n)))
}

func TestProofHoldsWhatCheckFinds(t *testing.T) {
	s, n := parsedSetup(t, whole+`  - {name: Rim, role: rim, pair: each, delta: 1 over, place: {right: 1, behind: 1, height: 4}, modifier: bare,
     head: {energy: 400, range: 7}, stand: stand}
grip: [{name: Flag}]
`)
	assert.Equal(t, []string{
		`set.yaml:15:55: warning: the top of "Rim L" would be at 4.00 m, and the ceiling is at 3.20 m`,
		`set.yaml:15:55: warning: the top of "Rim R" would be at 4.00 m, and the ceiling is at 3.20 m`,
		`set.yaml:15:5: missing: light "Rim" has no power: its dial must be found again with the meter`,
		`set.yaml:17:8: missing: "Flag" has no place: a rebuild must guess where it stood`,
		`set.yaml:15:5: missing: light "Rim" does not say where the meter was held; at the face and toward the light is taken`,
	}, said(Proof(s, n)), "a pair is said once where both lack the same")
}
