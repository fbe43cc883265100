package kit

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stopleaf/exposure"
	"stopleaf/internal/randomset"
	"stopleaf/safety"
	"stopleaf/setup"
)

func parsed(t require.TestingT, name, yaml string) *setup.Setup {
	s, problems := setup.Parse(name, []byte(yaml), setup.Options{NoPhotos: true})
	require.NotNil(t, s, "%v\n%s", problems, yaml)
	return s
}

// set is a setup of lights, the first of them the key, given from what follows
// their names.
func set(t require.TestingT, name string, lights ...string) *setup.Setup {
	yaml := "title: T\nlights:\n"
	for i, l := range lights {
		role := "role: key"
		if i > 0 {
			role = "role: other, delta: -1"
		}
		yaml += fmt.Sprintf("  - {name: L%d, %s, %s}\n", i+1, role, l)
	}
	return parsed(t, name+".yaml", yaml)
}

// said is a list a line an item: kind, quantity, what tells it apart, who asks.
func said(l *List, kinds ...Kind) []string {
	out := []string{}
	for _, it := range l.Items {
		if !slices.Contains(kinds, it.Kind) {
			continue
		}
		s := fmt.Sprintf("%s %d", it.Kind, it.N)
		if m := it.Thing.Modifier; m != nil {
			s += " " + m.Kind + " " + string(it.Thing.Part)
			if it.Thing.Named {
				s += m.Gear
			}
		}
		if h := it.Thing.Head; h != nil {
			s += " " + h.Name
		}
		for _, a := range it.Asked {
			s += fmt.Sprintf(" %s:%d", Called(l.Setups[a.Setup]), a.N)
		}
		out = append(out, s)
	}
	return out
}

// Each thing as often as the hungriest setup needs it, not as often as all of
// them together.
func TestForTakesTheMostOfEach(t *testing.T) {
	a := set(t, "a", "head: {name: big}", "head: {name: small}", "head: {name: SMALL}")
	b := set(t, "b", "head: {name: big}", "head: {name: big}", "head: {name: small}")
	c := set(t, "c", "head: {name: small}", "source: daylight", "source: continuous")
	assert.Equal(t, []string{"head 2 big a:1 b:2", "head 2 small a:2 b:1 c:1", "head 1 c:1"}, said(For(a, b, c), Head))
	assert.Equal(t, []string{"stand 3 a:3 b:3 c:2"}, said(For(a, b, c), Stand), "a window has no stand")
	assert.Equal(t, []string{"head 1 big a:1", "head 2 small a:2"}, said(For(a), Head))
}

// A modifier whose grid comes off in another setup is one modifier and a grid.
// Where one setup needs both at once it is two.
func TestForCountsAModifierOnce(t *testing.T) {
	bare := `modifier: "octabox 1.2"`
	gridded := `modifier: "octabox 1.2, grid 40, inner and front diffuser"`
	a, b := set(t, "a", bare), set(t, "b", gridded)
	assert.Equal(t, []string{"modifier 1 octabox body a:1 b:1", "modifier 1 octabox grid b:1", "modifier 1 octabox inner b:1", "modifier 1 octabox front b:1"},
		said(For(a, b), Modifier))
	both := set(t, "c", bare, gridded)
	assert.Equal(t, []string{"modifier 1 octabox  c:1", "modifier 1 octabox  c:1"}, said(For(both), Modifier))
	assert.Equal(t, []string{"modifier 1 octabox  a:1 c:1", "modifier 1 octabox  b:1 c:1"}, said(For(a, b, both), Modifier), "nothing is saved by taking them apart")
	other := set(t, "d", `modifier: "octabox 1.2, grid 20"`, `modifier: "octabox 1.2, grid 20"`)
	assert.Equal(t, []string{"modifier 2 octabox body b:1 d:2", "modifier 1 octabox grid b:1", "modifier 2 octabox grid d:2", "modifier 1 octabox inner b:1", "modifier 1 octabox front b:1"},
		said(For(b, other), Modifier), "two kinds of grid")
	assert.Equal(t, []string{"modifier 2 strip  e:2"}, said(For(set(t, "e", "modifier: strip 0.3 x 1.2", "modifier: strip 1.2 x 0.3")), Modifier), "whichever way up it hangs")
}

// inFolder reads setups beside a gear file and a house file.
func inFolder(t *testing.T, gear, house string, setups ...string) []*setup.Setup {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "gear.yaml"), []byte(gear), 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "stopleaf.yaml"), []byte(house), 0o600))
	var out []*setup.Setup
	for i, s := range setups {
		out = append(out, parsed(t, filepath.Join(dir, fmt.Sprintf("%c.yaml", 'a'+i)), "title: T\ngear: gear.yaml\nlights:\n  - {name: K, role: key, "+s+"}\n"))
	}
	return out
}

const twoBoxes = `
heads: [{name: big, mass: 3.1}]
modifiers:
  - {name: deep, kind: softbox, width: 0.9, height: 0.6, mass: 1.5}
  - {name: flat, kind: softbox, width: 0.9, height: 0.6, mass: 1}
stands: [{name: tall, mass: 3.2}]
`

// Modifiers of one kind and size are one, unless the gear has two names for them.
func TestForByNamesOfTheGear(t *testing.T) {
	one := inFolder(t, twoBoxes, "units: m", "modifier: deep", "modifier: softbox 0.6 x 0.9")
	assert.Equal(t, []string{"modifier 1 softbox  a:1 b:1"}, said(For(one...), Modifier))
	two := inFolder(t, twoBoxes, "units: m", "modifier: deep", "modifier: flat", "modifier: softbox 0.9 x 0.6")
	assert.Equal(t, []string{"modifier 1 softbox deep a:1", "modifier 1 softbox flat b:1", "modifier 1 softbox  c:1"}, said(For(two...), Modifier))
}

func TestWeight(t *testing.T) {
	list := For(inFolder(t, twoBoxes, "units: m", "head: big, modifier: deep, stand: tall", "head: big, modifier: softbox 0.9 x 0.6, stand: tall",
		"head: {mass: 2}, modifier: bowl 0.2, stand: {kind: boom, mass: 6, counterweight: 4}")...)
	kg, without := list.Weight()
	bags := safety.BagSizeKg // the boom's, by the plain rule
	assert.InDelta(t, 3.1+1.5+3.2+2+6+4+bags, kg, 1e-9, "the box without a name is the one there is, and weighs the same")
	assert.Equal(t, 1, without, "the bowl")

	differ := parsed(t, "s.yaml", "title: T\nlights:\n  - {name: A, role: key, head: {name: x, mass: 2}, stand: {kind: hanging}}\n  - {name: B, role: fill, delta: -1, head: {name: x, mass: 3}, stand: {kind: hanging}}\n  - {name: C, role: fill, delta: -1, head: {name: x}, stand: {kind: hanging}}\n")
	kg, without = For(differ).Weight()
	assert.InDelta(t, 5, kg, 1e-9)
	assert.Equal(t, 1+3, without, "which of the two C is cannot be said; and the clamps")
}

// What the house always packs comes once, however many setups and whatever the
// case.
func TestAlways(t *testing.T) {
	a := inFolder(t, twoBoxes, "always: [Tape measure, gaffer tape]", "head: big", "head: big")
	b := inFolder(t, twoBoxes, "always: [tape measure, fuses]", "head: big")
	assert.Equal(t, []string{"Tape measure", "gaffer tape", "fuses"}, For(append(a, b...)...).Always)
	assert.Empty(t, For(set(t, "x", "head: {name: h}")).Always)
}

// For over random setups, against a plain count.
func TestForAgainstAPlainLoop(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var setups []*setup.Setup
		for i := range rapid.IntRange(1, 4).Draw(t, "setups") {
			s, _ := setup.Parse(fmt.Sprintf("s%d.yaml", i), []byte(randomset.Setups(1, 10).Draw(t, "set").YAML()), setup.Options{NoPhotos: true})
			if s != nil {
				setups = append(setups, s)
			}
		}
		list := For(setups...)
		got := map[Kind]int{}
		for _, it := range list.Items {
			most := 0
			for _, a := range it.Asked {
				most = max(most, a.N)
				require.Positive(t, a.N)
				require.True(t, slices.IsSortedFunc(it.Asked, func(x, y Asked) int { return x.Setup - y.Setup }))
			}
			require.Equal(t, most, it.N)
			require.LessOrEqual(t, it.NoMass, it.N)
			got[it.Kind] += it.N
		}
		for i, s := range setups {
			alone, bodies := map[Kind]int{}, map[Kind]int{}
			for _, it := range For(s).Items {
				alone[it.Kind] += it.N
			}
			for j := range s.Lights {
				l := &s.Lights[j]
				if l.Source != exposure.Daylight && l.Source != exposure.Bounce {
					bodies[Head]++
				}
				if l.Source != exposure.Daylight && l.Source != exposure.Bounce && l.Modifier != nil && l.Modifier.Kind != "bare" {
					bodies[Modifier]++
				}
			}
			require.Equal(t, bodies[Head], alone[Head])
			require.Equal(t, bodies[Modifier], alone[Modifier], "one setup's modifiers are not taken apart")
			for kind, n := range alone {
				require.GreaterOrEqual(t, got[kind], n, "setup %d has all it needs of %s", i, kind)
			}
		}
		again := For(append(slices.Clone(setups), setups...)...)
		require.Equal(t, quantities(list), quantities(again), "the same setups twice need no more")
		back := slices.Clone(setups)
		slices.Reverse(back)
		x, y := quantities(list), quantities(For(back...))
		slices.Sort(x)
		slices.Sort(y)
		require.Equal(t, x, y, "whatever their order")
	})
}

func quantities(l *List) []string {
	var out []string
	for _, it := range l.Items {
		part := it.Thing.Part
		out = append(out, fmt.Sprint(it.Kind, it.N, it.AtLeast, part))
	}
	return out
}
