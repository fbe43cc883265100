package setup

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestLooks(t *testing.T) {
	s := clean(t, "looks")
	assert.Equal(t, []string{"No hair", "Low", "Wall down"}, s.LookNames())
	before := numbers(t, s)
	is(t, 8, before.BaseRange.HighAv, "the key has 2 stops left over f/8")
	is(t, 6, before.BaseRange.LowAv, "the hair light is at its least")
	assert.Equal(t, []string{"Hair"}, before.BaseRange.LowBy)

	k, err := s.WithLook("no hair")
	require.NoError(t, err)
	assert.Equal(t, "Portrait, three ways: No hair", k.Title)
	assert.Equal(t, "Portrait, three ways", k.TitleAsWritten())
	assert.True(t, light(t, k, "Hair").Off)
	assert.False(t, light(t, s, "Hair").Off, "the set as written is left as it is")
	n := numbers(t, k)
	hair := out(t, n, "Hair")
	assert.True(t, hair.Off)
	assert.Empty(t, hair.Targets)
	assert.NotNil(t, hair.Targets)
	assert.Empty(t, hair.Dials)
	assert.Equal(t, -1.0, hair.Delta)
	is(t, 1.6, n.BaseRange.LowAv, "then the fill: 2.6 of its 7 stops are used, 4.4 are left under f/8")
	assert.Equal(t, before.Lights[1], n.Lights[1], "the others are as they were")
	assert.Equal(t, before.Ratios, n.Ratios)
}

// 2^2.6 is 6.063; the dial of a light moves by as much as its difference.
func TestLookWithOtherDifferences(t *testing.T) {
	s := clean(t, "looks")
	k, err := s.WithLook("Low")
	require.NoError(t, err)
	n := numbers(t, k)
	assert.InDelta(t, 6.063, *n.Ratios.KeyToFill, 5e-4)
	fill := out(t, n, "Fill")
	assert.Equal(t, -2.6, fill.Delta)
	assert.Equal(t, "f/2.8 +0.4", fill.Targets[1].Tenths, "Av 6 - 2.6")
	assert.Equal(t, "1/16 +0.4", fill.Dials[1].Text, "a stop under 1/8 +0.4")
	assert.True(t, out(t, n, "Wall L").Off)
	assert.True(t, out(t, n, "Wall R").Off)

	k, err = s.WithLook(" WALL DOWN ")
	require.NoError(t, err)
	wall := light(t, k, "Wall R")
	assert.InDelta(t, -2.2, wall.Delta, 1e-9, "metered both: each alone gives a stop less")
	assert.Nil(t, wall.Dimmer, "what it is set to in this look is not written")
}

func TestNoSuchLook(t *testing.T) {
	s := clean(t, "looks")
	_, err := s.WithLook("no hare")
	assert.EqualError(t, err, `no look "no hare": did you mean "No hair"? allowed: No hair, Low, Wall down`)
	_, err = clean(t, "smallest").WithLook("Low")
	assert.EqualError(t, err, `no look "Low": the setup has no "looks"`)
}
