package setup

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/exposure"
)

func TestChooseBases(t *testing.T) {
	s := &Setup{}
	bases, err := s.ChooseBases("f/4, f/5.6,5.6, 8 5")
	require.NoError(t, err)
	assert.Equal(t, []exposure.Base{{Mark: "f/4", Av: 4}, {Mark: "f/5.6", Av: 5}, {Mark: "f/8 +0.5", Av: 6.5}}, bases)
	for _, bad := range []string{"f/4,", "eight", "EV 13", "f/4,f/0.01", "1.1,1.2,1.4,1.6,1.8,2,2.2,2.5,2.8,3.2,3.5,4,4.5"} {
		_, err := s.ChooseBases(bad)
		assert.Error(t, err, bad)
	}
	bases, err = s.ChooseBases(" ")
	require.NoError(t, err)
	assert.Equal(t, exposure.DefaultBases(nil), bases)
	half := clean(t, "half-steps")
	bases, err = half.ChooseBases("13,8.5")
	require.NoError(t, err)
	assert.Equal(t, []float64{7.5, 6.5}, []float64{bases[0].Av, bases[1].Av}, "as the file says")
	s.Exposure.Bases = []exposure.Base{{Mark: "f/2", Av: 2}}
	bases, err = s.ChooseBases("")
	require.NoError(t, err)
	assert.Equal(t, s.Exposure.Bases, bases)
}

func TestInput(t *testing.T) {
	s := clean(t, "everything-else")
	in := s.Input([]exposure.Base{{Mark: "f/8", Av: 6}})
	require.NotNil(t, in.Camera)
	assert.Equal(t, 24.0, in.Camera.FrameWMM, "held upright")
	assert.Equal(t, 36.0, in.Camera.FrameHMM)
	assert.InDelta(t, 8*0.3048, in.Background.DistanceM, 1e-9)
	assert.Equal(t, -20.0, in.TurnedDeg)
	assert.True(t, in.Lights[0].TowardCamera)
	assert.Nil(t, in.Lights[0].At)
	is(t, 5.0/3, in.WidestAv)

	in = clean(t, "gear").Input(nil)
	assert.Equal(t, exposure.Rectangle, in.Lights[0].Shape)
	is(t, 7, in.Lights[0].Head.Range)
	is(t, -3, in.Lights[1].Power)
	assert.Nil(t, in.Camera)
	assert.Nil(t, in.Background)

	in = clean(t, "aims").Input(nil)
	assert.Equal(t, &exposure.Vec{X: 0, Y: -2.4, Z: 1.2}, in.Lights[4].Aim)
	assert.Nil(t, clean(t, "smallest").Input(nil).Lights[0].At)
}
