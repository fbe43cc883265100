package setup

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/exposure"
)

func numbers(t *testing.T, s *Setup) exposure.Numbers {
	t.Helper()
	bases, err := s.ChooseBases("")
	require.NoError(t, err)
	return exposure.Compute(s.Input(bases))
}

func out(t *testing.T, n exposure.Numbers, name string) exposure.LightOut {
	t.Helper()
	for _, l := range n.Lights {
		if l.Name == name {
			return l
		}
	}
	require.Fail(t, "no light "+name)
	return exposure.LightOut{}
}

// 1200 Ws over the two heads in use of three outlets are 600 Ws each: 300 Ws is
// one stop under full. 2400 Ws by 2/3 and 1/3 are 1600 and 800.
func TestPacksShareTheirEnergy(t *testing.T) {
	s := clean(t, "packs")
	require.Len(t, s.Packs, 2)
	even, split := s.Packs[0], s.Packs[1]
	assert.Equal(t, "even", even.Name)
	assert.Equal(t, 3, even.Most)
	assert.Equal(t, 2, even.Heads)
	assert.Equal(t, "battery", split.Supply)

	key := light(t, s, "Key")
	is(t, -1, key.Power, "300 of 600 Ws")
	is(t, -1, light(t, s, "Wall L").Power)
	assert.Equal(t, "A", light(t, s, "Wall L").Pack.Outlet)
	assert.Equal(t, "B", light(t, s, "Wall R").Pack.Outlet)
	assert.Equal(t, "A", light(t, s, "Fill").Circuit, "a pack has one plug")

	n := numbers(t, s)
	yes := true
	k := out(t, n, "Key")
	assert.Equal(t, &exposure.PackOut{Name: "even", Share: 0.5, EnergyWs: k.Pack.EnergyWs}, k.Pack)
	is(t, 600, k.Pack.EnergyWs)
	var stops []float64
	for _, d := range k.Dials {
		stops = append(stops, d.Stops)
	}
	assert.Equal(t, []float64{-2, -1, 0}, stops)
	is(t, 600, k.Dials[2].EnergyWs)
	assert.Equal(t, "300 Ws", k.Dials[1].Text, "the pack's own dial")
	assert.Equal(t, &yes, k.Dials[2].Possible)

	fill := out(t, n, "Fill")
	is(t, 500, fill.Pack.EnergyWs, "the head takes no more than 500 of its 600")
	is(t, 250, fill.Dials[2].EnergyWs, "1 stop under its own full")

	is(t, 1600, out(t, n, "Wall L").Pack.EnergyWs)
	is(t, 800, out(t, n, "Wall R").Pack.EnergyWs)
	assert.Equal(t, "1/2", out(t, n, "Wall R").Dials[1].Text)

	// The base range follows: the key has one stop left over f/8, the wall too;
	// the fill, at -2 with 6 stops, goes four stops under f/8.
	is(t, 7, n.BaseRange.HighAv)
	is(t, 2, n.BaseRange.LowAv)
	assert.Equal(t, []string{"Fill"}, n.BaseRange.LowBy)

	// What the heads of a pack take together never exceeds the pack, at any base
	// at which every one is possible.
	for _, p := range s.Packs {
		for b := range n.Bases {
			sum, all := 0.0, true
			for i, l := range n.Lights {
				if s.Lights[i].Pack.Pack == p {
					sum += *l.Dials[b].EnergyWs
					all = all && *l.Dials[b].Possible
				}
			}
			if all {
				assert.LessOrEqual(t, sum, *p.EnergyWs+1e-6)
			}
		}
	}
}

// A third head on a pack takes from the other two: 400 Ws each, and what was 300
// Ws is now nearer to full.
func TestAnotherHeadTakesItsShare(t *testing.T) {
	const file = "title: T\nexposure: {key: f/8}\npacks: [{name: p, energy: 1200 Ws, range: 6}]\nlights:\n" +
		"  - {name: Key, role: key, pack: p, power: 300 Ws}\n  - {name: Fill, role: fill, delta: -1, pack: p}\n"
	two, problems := Parse("t.yaml", []byte(file), Options{})
	require.Empty(t, problems)
	is(t, -1, two.Lights[0].Power)
	three, problems := Parse("t.yaml", []byte(file+"  - {name: Rim, role: rim, delta: -1, pack: p}\n"), Options{})
	require.Empty(t, problems)
	is(t, math.Log2(300./400), three.Lights[0].Power)
	assert.InDelta(t, 1./3, three.Lights[0].Pack.Share, 1e-12)
}
