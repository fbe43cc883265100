package adapt

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"stopleaf/exposure"
)

// A light one metre from what it is aimed at, turned by 20 degrees about it.
func TestTowardWhichSideALightWasTurned(t *testing.T) {
	aim := exposure.Vec{X: 0.1, Y: 0.2, Z: 1.5}
	on := func(round, up float64) exposure.Vec {
		round, up = round*math.Pi/180, up*math.Pi/180
		return exposure.Vec{X: aim.X + math.Cos(up)*math.Cos(round), Y: aim.Y + math.Cos(up)*math.Sin(round), Z: aim.Z + math.Sin(up)}
	}
	for _, round := range []float64{-179, -90, 0, 45, 175} {
		was := on(round, 40)
		assert.Equal(t, "below", toward(was, on(round, 20), aim))
		assert.Equal(t, "below", toward(was, on(round+5, 20), aim))
		assert.Equal(t, "above", toward(was, on(round-5, 60), aim))
		assert.Equal(t, "beside", toward(was, on(round+20, 40), aim))
		assert.Equal(t, "beside", toward(was, on(round-20, 35), aim))
	}
}
