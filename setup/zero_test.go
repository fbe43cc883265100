package setup

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"stopleaf/exposure"
)

func TestAnotherLightIsTheZero(t *testing.T) {
	s := clean(t, "zero-light")
	assert.Equal(t, "Window", s.Exposure.Zero, "as the light is called, whatever the case")
	assert.Nil(t, s.Key())
	assert.True(t, s.IsZero(light(t, s, "Window")))
	assert.False(t, s.IsZero(light(t, s, "Fill")))
	n := numbers(t, s)
	assert.Equal(t, "Window", *n.Exposure.Zero)
	is(t, 4, n.Exposure.KeyAv, "f/4 is Av 4")
	is(t, 0.5, n.Exposure.Placing)
	assert.Equal(t, 0.0, out(t, n, "Window").Delta)
	assert.Equal(t, -1.0, out(t, n, "Fill").Delta, "f/2.8 is a stop under f/4")
	assert.Equal(t, "1/16", out(t, n, "Fill").Dials[1].Text, "f/5.6 is a stop over what it was recorded at")
	assert.Equal(t, "f/5.6 +0.5", out(t, n, "Rim").Targets[1].Tenths)
	is(t, 2./64, out(t, n, "Window").Hold[1].ShutterS, "f/5.6 from the window takes twice a marked 1/60, which is 1/64")
	assert.Nil(t, n.Ratios.KeyToFill, "there is no key to have a ratio to")
}

// The sky reads f/5.6, Av 5: f/11 is 2 stops over it. At another base the sky
// reads that base by the shutter, 1/125 is 2^-7 s.
func TestAmbientIsTheZero(t *testing.T) {
	s := clean(t, "zero-ambient")
	assert.Equal(t, exposure.Ambient, s.Exposure.Zero)
	n := numbers(t, s)
	assert.Equal(t, "ambient", *n.Exposure.Zero)
	is(t, 5, n.Exposure.KeyAv)
	assert.Equal(t, []string{"f/4", "f/5.6", "f/8"}, []string{n.Bases[0].Mark, n.Bases[1].Mark, n.Bases[2].Mark})
	assert.Equal(t, 2.0, out(t, n, "Rim").Delta)
	assert.Equal(t, 4.0, out(t, n, "Rim").RatioToKey)
	is(t, 0, n.Ambient.Delta)
	is(t, 1./128, n.Ambient.At[1].HoldShutterS)
	is(t, 1./64, n.Ambient.At[2].HoldShutterS)
	assert.Equal(t, "full", out(t, n, "Front").Dials[2].Text)
}
