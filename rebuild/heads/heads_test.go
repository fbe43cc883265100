package heads

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
	"stopleaf/internal/randomset"
	"stopleaf/setup"
)

func parsed(t require.TestingT, name, yaml string) *setup.Setup {
	s, problems := setup.Parse(name, []byte(yaml), setup.Options{NoPhotos: true})
	require.NotNil(t, s, "%v\n%s", problems, yaml)
	return s
}

// hard is a set with one bowl straight before the face, 1.55 m up.
func hard(t *testing.T, name, key, iso, throw, power string) *setup.Setup {
	return parsed(t, name, fmt.Sprintf(`
title: T
exposure: {key: %s, iso: %s}
lights:
  - {name: Key, role: key, head: {name: A}, power: %s, modifier: bowl 0.18, place: {front: %s, right: 0, height: 1.55}}
`, key, iso, power, throw))
}

// The sources are those of exposure's own test of guide numbers.
func TestLearnGuideNumbers(t *testing.T) {
	at4 := hard(t, "a.yaml", "f/8", "100", "4", "full")
	o, ok := Learn([]*setup.Setup{at4}).Find("a", "bowl 18 cm")
	require.True(t, ok)
	assert.InDelta(t, apex.Av(32), o.Av, 1e-9, "f/8 at 4 m is GN 32")
	assert.Nil(t, o.Spread, "one record has none")
	assert.Nil(t, o.Furthest())
	assert.InDelta(t, 6, *o.Reads(at4.Lights[0].Modifier, 4, 0, 100), 1e-9)
	assert.InDelta(t, 8, *o.Reads(at4.Lights[0].Modifier, 4, 0, 400), 1e-9, "GN 64 at ISO 400")
	assert.InDelta(t, 2, *o.Reads(at4.Lights[0].Modifier, 4, -4, 100), 1e-9, "a sixteenth is a quarter of the guide number")

	same := Learn([]*setup.Setup{at4, hard(t, "b.yaml", "f/16", "400", "4", "full"), hard(t, "c.yaml", "f/8", "100", "2", "1/4"), hard(t, "d.yaml", "f/4", "100", "4", "1/4")})
	require.Len(t, same.Outputs, 1)
	assert.InDelta(t, 0, *same.Outputs[0].Spread, 1e-9, "the same head by other ways")
}

const justKey = `
title: T
exposure: {key: f/8, iso: 100}
`

func TestLearnTwoLights(t *testing.T) {
	o, ok := Learn([]*setup.Setup{hard(t, "a.yaml", "f/8", "100", "4", "full"), hard(t, "b.yaml", "f/11", "100", "4", "full")}).Find("A", "bowl 0.18")
	require.True(t, ok)
	assert.InDelta(t, 10.5, o.Av, 1e-9, "midway")
	assert.InDelta(t, 0.5, *o.Spread, 1e-9)
	assert.Nil(t, o.Furthest(), "either may be wrong")
	lights, setups := o.Lights()
	assert.Equal(t, []int{2, 2}, []int{lights, setups})
}

// What a light lacks is said, and it does not count.
func TestLearnLeavesOut(t *testing.T) {
	whole := "head: {name: A}, power: full, modifier: bowl 0.18, place: {front: 2, height: 1.55}"
	for _, x := range []struct{ light, top, why string }{
		{whole, "", ""},
		{"power: full, modifier: bowl, place: {front: 2, height: 1.55}", "", "no head is named"},
		{"head: {energy: 400}, power: full, modifier: bowl, place: {front: 2, height: 1.55}", "", "no head is named"},
		{"head: {name: A}, modifier: bowl, place: {front: 2, height: 1.55}", "", "no power is written"},
		{"head: {name: A}, power: full, place: {front: 2, height: 1.55}", "", "no modifier is written"},
		{"head: {name: A}, power: full, modifier: softbox, place: {front: 2, height: 1.55}", "", "the size of its modifier is not known"},
		{"head: {name: A}, power: full, modifier: thing 0.3 x 0.3, place: {front: 2, height: 1.55}", "", "how its modifier shines is not known"},
		{"head: {name: A}, power: full, modifier: fresnel 0.3, place: {front: 2, height: 1.55}", "", "a lens follows no law so close in"},
		{"head: {name: A}, power: full, modifier: bowl", "", "no place is written"},
		{"head: {name: A}, power: full, modifier: bowl, place: {front: 2}", "", "no height is written"},
		{"head: {name: A}, power: full, modifier: bowl, aim: background, place: {front: 2, height: 1.55}", "", "how far it is from where it is aimed is not known"},
		{whole + ", feather: 20 toward camera", "", "it is feathered"},
		{whole + ", meter: {toward: camera}", "", "it was not metered toward the light"},
		{whole + ", meter: {at: chest}", "", `it was metered at "chest", which may not be where it is aimed`},
		{whole + ", aim: chest, meter: {at: chest}", "", ""},
		{"head: {name: A}, power: full, modifier: bowl 'gel straw', place: {front: 2, height: 1.55}", "", "what its gel takes is not written"},
		{whole + ", pair: both", "", "the pair was metered together"},
		{whole + ", pack: P", "packs: [{name: P, energy: 400}]", "it hangs on a pack, whose share is not the head's full power"},
	} {
		light := strings.ReplaceAll(x.light, "bowl 'gel straw'", "'bowl, gel straw'")
		light = strings.ReplaceAll(light, "place: {front: 2, height", "place: {front: 2, right: 0.1, height")
		light = strings.ReplaceAll(light, "place: {front: 2}", "place: {front: 2, right: 0.1}")
		table := Learn([]*setup.Setup{parsed(t, "a.yaml", justKey+x.top+"\nlights:\n  - {name: K, role: key, source: continuous}\n  - {name: L, role: fill, delta: 0, "+light+"}\n")})
		if x.why == "" {
			assert.Empty(t, table.LeftOut, light)
			require.Len(t, table.Outputs, 1, light)
			continue
		}
		assert.Empty(t, table.Outputs, light)
		require.NotEmpty(t, table.LeftOut, light)
		assert.Equal(t, x.why, table.LeftOut[0].Why)
	}
	for exp, why := range map[string]string{"{key: f/8}": "no ISO is written", "{iso: 100}": "what the key reads is not known"} {
		table := Learn([]*setup.Setup{parsed(t, "a.yaml", "title: T\nexposure: "+exp+"\nlights: [{name: K, role: key, "+strings.ReplaceAll(whole, "front: 2", "front: 2, right: 0")+"}]")})
		require.Len(t, table.LeftOut, 1)
		assert.Equal(t, why, table.LeftOut[0].Why)
	}
}

// Grids and diffusers make another modifier; which way up it hangs, a gel whose
// loss is known and the units do not. A pair that one reading was written for
// is one record.
func TestLearnTellsModifiersApart(t *testing.T) {
	set := func(name, units, mod, more string) *setup.Setup {
		return parsed(t, name, "title: T\nunits: "+units+"\nexposure: {key: f/8, iso: 100}\nlights:\n"+
			"  - {name: K, role: key, head: {name: A}, power: full, modifier: "+mod+", place: {front: 2 m, right: 0, height: 1.55 m}}\n"+more)
	}
	pair := "  - {name: P, role: rim, pair: each, delta: 0, head: {name: A}, power: full, modifier: bowl, place: {behind: 2, right: 1, height: 1.55}}\n"
	table := Learn([]*setup.Setup{
		set("a.yaml", "m", `"strip 0.3 x 1.2, grid 40"`, pair), set("b.yaml", "cm", `"strip 120 x 30, grid 40"`, ""), set("c.yaml", "m", `"strip 0.3 x 1.2"`, ""),
		set("d.yaml", "m", `"strip 0.3 x 1.2, grid"`, ""), set("e.yaml", "m", `"strip 0.3 x 1.2, front diffuser"`, ""), set("f.yaml", "m", `"strip 0.3 x 1.2, front and inner diffuser"`, ""),
		set("g.yaml", "m", `{kind: strip, width: 0.3, height: 1.2, gel: {name: straw, loss: 1}}`, ""),
	})
	got := []string{}
	for _, o := range table.Outputs {
		got = append(got, fmt.Sprintf("%s: %d", o.Modifier, len(o.Records)))
		again, ok := table.Find(o.Head, o.Modifier)
		assert.True(t, ok, o.Modifier)
		assert.Equal(t, o, again)
	}
	assert.Equal(t, []string{"bowl: 1", "strip 1.2 x 0.3 m: 2", "strip 1.2 x 0.3 m, front diffuser: 1", "strip 1.2 x 0.3 m, grid: 1",
		"strip 1.2 x 0.3 m, grid 40: 2", "strip 1.2 x 0.3 m, inner and front diffuser: 1"}, got)
	plain, _ := table.Find("A", "strip 1.2 x 0.3")
	assert.InDelta(t, 0.5, *plain.Spread, 1e-9, "a stop that the gel took is given back")
}

// withGear reads setups of one light each, straight on at 2 m and f/8 at full,
// from a folder with a gear file.
func withGear(t *testing.T, gear string, lights ...string) []*setup.Setup {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "gear.yaml"), []byte(gear), 0o600))
	var list []*setup.Setup
	for i, l := range lights {
		list = append(list, parsed(t, filepath.Join(dir, fmt.Sprintf("s%d.yaml", i)), justKey+"gear: gear.yaml\nlights:\n"+
			"  - {name: K, role: key, power: full, place: {front: 2, right: 0, height: 1.55}, "+l+"}\n"))
	}
	return list
}

func TestLearnFromTheGearFile(t *testing.T) {
	const gear = `
units: cm
heads:
  - name: A
    output:
      - {reads: f/32 +0.5, at: 100, with: bowl 18}
      - {reads: f/11, at: 200, iso: 50, power: 1/2, with: deep-box}
      - {reads: f/8, at: 200, with: shower curtain}
      - {reads: f/8, at: 200}
  - {name: never used, output: {reads: f/45, at: 1 m}}
modifiers:
  - {name: deep-box, kind: softbox, width: 90, height: 60}
`
	table := Learn(withGear(t, gear, "head: a, modifier: bowl 0.18", "head: A, modifier: bowl 0.18", "head: A, modifier: softbox 0.9 x 0.6"))
	got := []string{}
	for _, o := range table.Outputs {
		lights, setups := o.Lights()
		got = append(got, fmt.Sprintf("%s, %s: %.2f %v, %d lights in %d", o.Head, o.Modifier, o.Av, o.Written, lights, setups))
	}
	e := func(d float64) float64 { return 4 * exposure.CornerFactor(0.45, 0.3, d) }
	assert.Equal(t, []string{
		"A, bare: 8.00 true, 0 lights in 0",
		"A, bowl 0.18 m: 10.50 true, 2 lights in 2",
		fmt.Sprintf("A, softbox 0.9 x 0.6 m: %.2f true, 1 lights in 1", 7+1+1+math.Log2(e(1)/e(2))),
		"never used, bare: 11.00 true, 0 lights in 0",
	}, got, "each line once, though three setups share the file")
	bowl, _ := table.Find("A", "bowl 18 cm")
	assert.InDelta(t, 2.5, *bowl.Spread, 1e-9, "f/8 at 2 m is GN 16, two and a half stops under the line")
	assert.Equal(t, "K", bowl.Furthest().Light)
	box, ok := table.Find("A", "deep-box")
	require.True(t, ok, "by its name in the gear file")
	assert.InDelta(t, 3, *box.Spread, 1e-9)
	require.Len(t, table.LeftOut, 1)
	assert.Equal(t, 8, table.LeftOut[0].Pos.Line)
	assert.Equal(t, "how its modifier shines is not known", table.LeftOut[0].Why)
}

// Two modifiers of one kind and size are told apart by their names, as long as
// there are two.
func TestLearnModifiersOfOneSize(t *testing.T) {
	const gear = `
heads: [{name: A}]
modifiers: [{name: Deep, kind: softbox, width: 0.9, height: 0.6}, {name: Flat, kind: softbox, width: 0.9, height: 0.6}]
`
	one := withGear(t, gear, "head: A, modifier: Deep", "head: A, modifier: softbox 0.6 x 0.9")
	table := Learn(one)
	require.Len(t, table.Outputs, 1)
	assert.Equal(t, "softbox 0.9 x 0.6 m", table.Outputs[0].Modifier)
	for _, s := range one {
		_, ok := table.For(&s.Lights[0])
		assert.True(t, ok)
	}
	two := withGear(t, gear, "head: A, modifier: Deep", "head: A, modifier: softbox 0.9 x 0.6", `head: A, modifier: "Flat, grid 40"`, "head: A, modifier: Flat")
	_, ok := table.For(&two[3].Lights[0])
	assert.False(t, ok, "another box of that size was never metered")
	assert.Nil(t, table.Outputs[0].Reads(two[3].Lights[0].Modifier, 1, 0, 100))

	table = Learn(two)
	got := []string{}
	for _, o := range table.Outputs {
		got = append(got, o.Modifier)
	}
	assert.Equal(t, []string{"Deep", "Flat", "softbox 0.9 x 0.6 m", "softbox 0.9 x 0.6 m, grid 40"}, got)
	for _, s := range two {
		o, ok := table.For(&s.Lights[0])
		assert.True(t, ok)
		assert.Equal(t, s.Lights[0].Where.Item, o.Records[0].Pos)
	}
}

// Heads of one name and another energy, from two gear files, are two heads.
func TestLearnHeadsOfOneName(t *testing.T) {
	small, large := withGear(t, "heads: [{name: A, energy: 200}]", "head: A, modifier: bowl"), withGear(t, "heads: [{name: A, energy: 400}]", "head: A, modifier: bowl")
	table := Learn(append(small, large...))
	require.Len(t, table.Outputs, 2)
	assert.InDelta(t, 200, *table.Outputs[0].EnergyWs, 0)
	_, ok := table.Find("A", "bowl")
	assert.False(t, ok)
	o, ok := table.For(&large[0].Lights[0])
	require.True(t, ok)
	assert.InDelta(t, 400, *o.EnergyWs, 0)
	assert.Equal(t, "A, 400 Ws", o.Called())

	unsaid := withGear(t, "heads: [{name: a}]", "head: A, modifier: bowl")
	_, ok = Learn(slices.Concat(small, large, unsaid)).For(&unsaid[0].Lights[0])
	assert.True(t, ok, "kept apart, as one of which nothing more is known")
	one := Learn(append(small, unsaid...))
	require.Len(t, one.Outputs, 1, "there is only one it can be")
	assert.Equal(t, "A", one.Outputs[0].Called())
	for _, s := range []*setup.Setup{small[0], unsaid[0]} {
		_, ok = one.For(&s.Lights[0])
		assert.True(t, ok)
	}
	_, ok = one.For(&large[0].Lights[0])
	assert.False(t, ok)
}

// knownSet is setups lit by heads of known output. Differences and powers are
// put in after reading, to the last digit.
type knownSet struct {
	setups []*setup.Setup
	av     map[string]float64 // by modifier
	lights int
}

var shapes = []string{"octabox 1.2 m, grid 40, inner and front diffuser", "softbox 0.9 x 0.6 m", "bowl 0.18 m", "strip 1.2 x 0.3 m, front diffuser"}

func drawKnown(t *rapid.T) knownSet {
	k := knownSet{av: map[string]float64{}}
	for _, m := range shapes {
		k.av[m] = rapid.Float64Range(4, 12).Draw(t, "av")
	}
	for i := range rapid.IntRange(1, 6).Draw(t, "setups") {
		k.setups = append(k.setups, k.draw(t, fmt.Sprintf("s%d.yaml", i)))
	}
	return k
}

// draw makes one setup; its key is no flash, and reads f/8.
func (k *knownSet) draw(t *rapid.T, name string) *setup.Setup {
	var b strings.Builder
	fmt.Fprintf(&b, "title: T\nexposure: {key: f/8, iso: %v}\nlights:\n  - {name: Zero, role: key, source: continuous}\n",
		rapid.SampledFrom([]float64{50, 100, 160, 200, 800}).Draw(t, "iso"))
	n := rapid.IntRange(1, 4).Draw(t, "lights")
	k.lights += n
	for i := range n {
		at := rapid.Float64Range(0.3, 4)
		fmt.Fprintf(&b, "  - {name: L%d, role: other, delta: 0, head: {name: A}, power: full, modifier: %q, place: {right: %.9f, front: %.9f, height: %.9f}}\n",
			i, rapid.SampledFrom(shapes).Draw(t, "modifier"), at.Draw(t, "right"), at.Draw(t, "front"), at.Draw(t, "height"))
	}
	s := parsed(t, name, b.String())
	for i := range s.Lights[1:] {
		l := &s.Lights[i+1]
		light, power := s.Input(nil).Lights[i+1], -rapid.Float64Range(0, 7).Draw(t, "power")
		throw, _ := light.Throw()
		av, ok := light.Carry(k.av[idOf(l.Modifier).text(l.Modifier, setup.Metres)], exposure.AtOne, exposure.FlashAt{ThrowM: throw, Power: power, ISO: *s.Exposure.ISO})
		require.True(t, ok)
		l.Delta, l.Power = av-*s.Exposure.KeyAv, &power
	}
	return s
}

// Setups made from a known output give exactly that output back.
func TestLearnFindsWhatWasPutIn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := drawKnown(t)
		table := Learn(k.setups)
		records := 0
		for _, o := range table.Outputs {
			records += len(o.Records)
			assert.InDelta(t, k.av[o.Modifier], o.Av, 1e-9)
			if o.Spread != nil {
				assert.InDelta(t, 0, *o.Spread, 1e-9)
			}
		}
		assert.Equal(t, k.lights, records)
		assert.Empty(t, table.LeftOut)
		for _, s := range k.setups {
			in := s.Input(nil)
			for i := range s.Lights[1:] {
				l := &s.Lights[i+1]
				o, ok := table.For(l)
				require.True(t, ok)
				throw, _ := in.Lights[i+1].Throw()
				assert.InDelta(t, *s.Exposure.KeyAv+l.Delta, *o.Reads(l.Modifier, throw, *l.Power, *s.Exposure.ISO), 1e-9)
			}
		}
		reversed := make([]*setup.Setup, 0, 2*len(k.setups))
		for i := range k.setups {
			reversed = append(reversed, k.setups[len(k.setups)-1-i], k.setups[i])
		}
		twice := Learn(reversed)
		assert.Equal(t, table.Outputs, twice.Outputs, "order and repetition change nothing")
	})
}

// One falsified record is the one that is pointed at.
func TestLearnPointsAtTheFalseOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := drawKnown(t)
		i := rapid.IntRange(0, len(k.setups)-1).Draw(t, "setup")
		s := k.setups[i]
		j := rapid.IntRange(1, len(s.Lights)-1).Draw(t, "light")
		off := rapid.Float64Range(0.2, 4).Draw(t, "off") * float64(rapid.SampledFrom([]int{-1, 1}).Draw(t, "sign"))
		s.Lights[j].Delta += off
		o, ok := Learn(k.setups).For(&s.Lights[j])
		require.True(t, ok)
		if len(o.Records) < 3 {
			assert.Nil(t, o.Furthest())
			return
		}
		far := o.Furthest()
		assert.Equal(t, s.Lights[j].Where.Item, far.Pos)
		assert.Equal(t, s.Lights[j].Name, far.Light)
		assert.InDelta(t, off, far.Off, 1e-9)
		assert.InDelta(t, math.Abs(off), *o.Spread, 1e-9)
	})
}

// Whatever the setups, the table is finite and does not depend on their order,
// and what was learned from a light gives its reading back to within the spread.
func TestLearnFromAnything(t *testing.T) {
	learned := 0
	defer func() { assert.Positive(t, learned) }()
	rapid.Check(t, func(t *rapid.T) {
		var setups []*setup.Setup
		for i := range rapid.IntRange(1, 4).Draw(t, "setups") {
			text := strings.ReplaceAll(randomset.Setups(1, 8).Draw(t, "set").YAML(), "head: {kind", "head: {name: A, kind")
			s, _ := setup.Parse(fmt.Sprintf("s%d.yaml", i), []byte(text), setup.Options{NoPhotos: true})
			if s != nil {
				setups = append(setups, s)
			}
		}
		table := Learn(setups)
		for _, o := range table.Outputs {
			assert.False(t, math.IsNaN(o.Av) || math.IsInf(o.Av, 0))
			assert.NotEmpty(t, o.Records)
			learned++
		}
		for _, s := range setups {
			in := s.Input(nil)
			for i := range s.Lights {
				l := &s.Lights[i]
				o, ok := table.For(l)
				if !ok {
					continue
				}
				for _, r := range o.Records {
					if throw, _ := in.Lights[i].Throw(); r.Pos == l.Where.Item && r.Light == l.Name {
						spread := 0.0
						if o.Spread != nil {
							spread = *o.Spread
						}
						assert.InDelta(t, *s.Exposure.KeyAv+l.Delta, *o.Reads(l.Modifier, throw, *l.Power, *s.Exposure.ISO), spread+0.02)
					}
				}
			}
		}
		slices.Reverse(setups)
		assert.Equal(t, table, Learn(setups))
	})
}
