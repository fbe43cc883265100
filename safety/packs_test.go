package safety

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/exposure"
	"stopleaf/setup"
)

// onPack is a set of two heads on a pack of 8 A and one compact head of 6 A.
func onPack(supply string) *setup.Setup {
	p := &setup.Pack{Name: "floor", Supply: supply, Current: f(8), Heads: 2}
	use := &setup.PackUse{Pack: p, Share: 0.5}
	flash := func(n int, name string) setup.Light {
		return setup.Light{Number: n, Name: name, Role: "other", Source: exposure.Flash, Circuit: "A"}
	}
	s := &setup.Setup{Packs: []*setup.Pack{p}, Lights: []setup.Light{flash(1, "Key"), flash(2, "Fill"), flash(3, "Hair")},
		Mains: &setup.Mains{Volts: 230, Circuits: []setup.Circuit{{Name: "A", Breaker: f(16)}}}}
	s.Lights[0].Pack, s.Lights[1].Pack = use, use
	s.Lights[2].Head = &setup.Head{Current: f(6), Supply: "mains"}
	return s
}

func TestAPackIsOneLoad(t *testing.T) {
	s := onPack("mains")
	load := CircuitLoads(s)
	require.Len(t, load, 1)
	assert.InDelta(t, 14, load[0].LoadA, 1e-9, "8 A of the pack once, and 6 A")
	assert.Equal(t, []int{1, 2, 3}, load[0].Lights)
	s.Packs[0].Current = nil
	load = CircuitLoads(s)
	assert.InDelta(t, 6, load[0].LoadA, 1e-9)
	assert.Equal(t, []int{1}, load[0].Unknown, "asked for once")
}

// What a whole set draws: the pack once, a battery not at all, and what has no
// circuit as well.
func TestMainsOfAWholeSet(t *testing.T) {
	s := onPack("mains")
	s.Lights[2].Circuit = ""
	got := MainsOf(s)
	assert.InDelta(t, 14, got.Amps, 1e-9)
	assert.InDelta(t, 230, got.Volts, 0)
	assert.Equal(t, []int{1, 2, 3}, got.Lights)
	assert.Empty(t, got.Unknown)
	s.Lights[2].Head.Current = nil
	got = MainsOf(s)
	assert.InDelta(t, 8, got.Amps, 1e-9)
	assert.Equal(t, []int{3}, got.Unknown)
	s.Packs[0].Supply, s.Mains = "battery", nil
	got = MainsOf(s)
	assert.Equal(t, MainsLoad{Lights: []int{3}, Unknown: []int{3}}, got)
	s.Lights[2].Source, s.Mains = exposure.Continuous, &setup.Mains{Volts: 120}
	s.Lights[2].Head.Watts = f(600)
	assert.InDelta(t, 5, MainsOf(s).Amps, 1e-9, "a lamp of 600 W at 120 V draws 5 A: watts over volts")
}

func TestAPackIsDumpedBeforeAPlugIsPulled(t *testing.T) {
	notes := find(Notes(onPack("mains"), nil, words(t)), "pack-dump")
	require.Len(t, notes, 1)
	assert.Equal(t, "Power packs: floor (Key, Fill; 8 A). Switch off and dump before a head's plug is pulled or put in; keep the vents clear.", notes[0].Text)
	assert.Equal(t, "Packs (floor): off and dump, then a head's plug.", notes[0].Short)
	assert.Equal(t, "floor", notes[0].Light)
	assert.Equal(t, map[string]float64{"current_a.floor": 8, "heads.floor": 2}, notes[0].Figures)
	s := onPack("battery")
	assert.Empty(t, find(Notes(&setup.Setup{Lights: s.Lights[2:]}, nil, words(t)), "pack-dump"))
	assert.NotEmpty(t, find(Notes(s, nil, words(t)), "batteries"))
	assert.InDelta(t, 6, CircuitLoads(s)[0].LoadA, 1e-9, "a battery pack is no load")
}
