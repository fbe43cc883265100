package setup

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestPlacingSubjectAndBehind(t *testing.T) {
	const lights = "lights:\n  - {name: Key, role: key}\n"
	for _, c := range []struct {
		yaml string
		want []string
	}{
		{"exposure: {key: f/8, aperture: f/32}\n", []string{
			`set.yaml:2:22: warning: the camera was at f/32 and the key read f/8, 4.0 stops apart`}},
		{"exposure: {key: f/8, aperture: f/16 +0.4}\n", nil}, // 2.4 stops: on purpose
		{"subject: {kind: object, height: 0.25}\n", []string{
			`set.yaml:2:11: warning: how high the object stands is not written, and lights are aimed at 1.55 m`}},
		{"subject: {kind: object, face: 0.9}\n", nil},
		{"subject: {kind: object, height: 0.25, top: 1.05}\n", nil},
		{"subject: {kind: person}\n", nil},
		{"subject: {face: 16}\n", []string{
			`set.yaml:2:11: warning: a face 16.00 m above the floor is higher than a person stands`}},
		{"camera: {height: 15}\nroom: {ceiling: 2.7}\n", []string{
			`set.yaml:2:10: warning: the camera would be 15.00 m high, and the ceiling is at 2.70 m`}},
	} {
		got := checked(t, "title: T\n"+c.yaml+lights)
		assert.Equal(t, append([]string{}, c.want...), got, c.yaml)
	}
	behind := "title: T\nbackground: {distance: 2, width: 3}\nlights:\n  - {name: Key, role: key}\n" +
		"  - {name: Wall, role: background, delta: 1 over, place: {left: 0.5, behind: 2.4}}\n" + // behind it
		"  - {name: Side, role: rim, delta: 1 over, place: {left: 1.8, behind: 2.4}}\n" + // beside it
		"  - {name: Near, role: hair, delta: 1 over, place: {left: 0.5, behind: 1.9}}\n"
	assert.Equal(t, []string{`set.yaml:5:51: warning: "Wall" stands 0.40 m behind the background`}, checked(t, behind))
}
