package safety

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stopleaf/exposure"
	"stopleaf/setup"
	"stopleaf/templates"
)

func f(v float64) *float64 { return &v }

func words(t require.TestingT) templates.Words {
	w, err := templates.Load("en")
	require.NoError(t, err)
	return w
}

// find gives the notes of one code.
func find(notes []Note, code string) []Note {
	var out []Note
	for _, n := range notes {
		if n.Code == code {
			out = append(out, n)
		}
	}
	return out
}

func one(t *testing.T, notes []Note, code string) Note {
	t.Helper()
	found := find(notes, code)
	require.Len(t, found, 1, code)
	return found[0]
}

// portrait is a boomed key, a hair light high on a stand and a wall light low.
func portrait() *setup.Setup {
	head := &setup.Head{Mass: f(3), Current: f(6), Supply: "mains", Modelling: &setup.Modelling{Watts: f(250), Lamp: "halogen"}}
	return &setup.Setup{
		Units: setup.Metres,
		Mains: &setup.Mains{Volts: 230, Circuits: []setup.Circuit{{Name: "A", Breaker: f(16), Lead: &setup.Lead{Length: f(20), Section: f(1.5)}}}},
		Lights: []setup.Light{
			{Number: 1, Name: "Key", Role: "key", Source: exposure.Flash, Circuit: "A", Head: head,
				Place:    &setup.Place{Right: -1.1, Front: 0.8, Height: f(2.15)},
				Modifier: &setup.Modifier{Kind: "octabox", Mass: f(1.5), Diffusers: []string{"front"}},
				Stand: &setup.Stand{Kind: "boom", Footprint: f(1.2), Mass: f(6), Reach: f(1.2), Behind: f(0.6),
					Counterweight: f(9)}},
			{Number: 2, Name: "Hair", Role: "hair", Source: exposure.Flash, Circuit: "A", Head: &setup.Head{Mass: f(4), Current: f(4), Modelling: &setup.Modelling{Lamp: "led"}},
				Place:    &setup.Place{Right: 0.4, Front: -1.3, Height: f(2.4)},
				Modifier: &setup.Modifier{Kind: "strip", Mass: f(0), Gel: &setup.Gel{Name: "quarter straw"}},
				Stand:    &setup.Stand{Kind: "stand", Footprint: f(1), Mass: f(3)}},
			{Number: 3, Name: "Wall", Role: "background", Source: exposure.Flash, Head: &setup.Head{Supply: "battery", Mass: f(1)},
				Place: &setup.Place{Right: 1.3, Front: -0.9, Height: f(1)},
				Stand: &setup.Stand{Kind: "floor"}},
		},
	}
}

func TestNotesOfAPortrait(t *testing.T) {
	s := portrait()
	s.Hazards = []string{"dust", "aerosol", "trip"}
	notes := Notes(s, nil, words(t))
	texts := make([]string, len(notes))
	for i, n := range notes {
		texts[i] = fmt.Sprintf("%d %s", n.Rank, n.Text)
	}
	assert.Equal(t, []string{
		"1 Overhead (Key): a rated steel bond on head and loose parts, never tape or cable ties.",
		"1 Key boom: 4.5 kg at 1.2 m is balanced by 9 kg at 0.6 m behind, arm not counted.",
		"1 Boom: bag first, arm low; head and counterweight in turn, a hand on the arm; a leg under the load; nobody below. Never take off one end while the other is loaded; hold a loosened column.",
		"2 Bags of 7 kg: Key 3, Hair 1. For 10° of tilt and 1.5 against overturning, our own choice.",
		"2 Dust and aerosol: modelling lamps off, no flame or smoking, glass domes on; air before the next pop.",
		"3 Never open a head or pack. To change tube, lamp or modifier: off, dump, unplug, the maker's wait, glass cold. Dump a pack before pulling a head's plug.",
		"4 Circuit A: 10 A of 16 A; its lead loses 6 V, 2.6 %; 3 % is allowed for lighting (IEC 60364-5-52 Annex G).",
		"4 Unwind reels, chain no strips, use a residual-current device; leads taped, off the walkway. Heads on one at a time.",
		"5 Halogen modelling lamp in Key: low or off between looks; never covered, vents clear.",
		"5 Gels (Hair): clear of tube and lamp; look for scorching at every break.",
		"5 Trip: keep one way out clear and lit; tape or ramp what crosses it.",
		"6 Batteries (Wall): charge attended; use none that is wet, swollen or dropped.",
		"7 Say so before each pop; ask about photosensitivity; no bare tube close to eyes; no bursts of 3 to 30 a second.",
		"8 Lift close to the body; two people for anything heavy or awkward.",
		"9 Local rules and a qualified person come first.",
	}, texts)

	bag := one(t, notes, "bag")
	// The boom by hand: 1.5 x 4.5 x (1.2 - 0.3) / 0.3 - 6 = 14.25 kg.
	assert.Equal(t, 14.25, bag.Figures["bag_kg.Key"])
	assert.Equal(t, 3.0, bag.Figures["bags.Key"])
	// The stand by hand: 1 m of feet, 3 kg at 0.8 m, 4 kg at 2.4 m.
	assert.InDelta(t, 1.637, bag.Figures["bag_kg.Hair"], 0.001)
	assert.Equal(t, "Bags of 7 kg: Key 3, Hair 1.", bag.Short)
	// IEC 60364-5-52 Annex G: 20 m of 1.5 mm2 at 10 A.
	drop := one(t, notes, "circuit-load")
	assert.Equal(t, 6.0, drop.Figures["drop_v"])
	assert.InDelta(t, 2.609, drop.Figures["drop_pct"], 0.001)
	assert.Equal(t, 9.0, one(t, notes, "boom-balance").Figures["counterweight_kg"])
}

func TestUnknownFiguresGiveThePlainRule(t *testing.T) {
	s := &setup.Setup{Units: setup.Feet, Lights: []setup.Light{
		{Number: 1, Name: "Key", Role: "key", Source: exposure.Flash, Modifier: &setup.Modifier{Kind: "softbox"}},
		{Number: 2, Name: "Fill", Source: exposure.Flash, Stand: &setup.Stand{Kind: "boom"}},
	}}
	notes := Notes(s, nil, words(t))
	assert.Equal(t, "Bag every boom and anything over 6 ft 7 in, on the leg under the load.", one(t, notes, "bag-plain").Text)
	assert.Equal(t, "Balance the boom (Fill) before it goes up: load × reach = counterweight × its own arm.", one(t, notes, "boom-balance").Text)
	assert.Equal(t, "Sum the makers' maximum currents on each circuit against its breaker.", one(t, notes, "circuit-load").Text)
	assert.Equal(t, "Modelling lamp not known (Key): unless LED, keep it low or off in a box, grid or snoot.", one(t, notes, "modelling-heat").Text)
	assert.Empty(t, find(notes, "lead-drop"))
}

func TestTheSmallestSetupIsNotSilent(t *testing.T) {
	s := &setup.Setup{Lights: []setup.Light{{Number: 1, Name: "Key", Role: "key"}}}
	for _, code := range []string{"overhead", "bag-plain", "open-heads", "circuit-load", "leads", "pop", "lifting", "local-rules"} {
		one(t, Notes(s, nil, words(t)), code)
	}
	assert.Nil(t, Notes(nil, nil, words(t)))
}

func TestLEDIsNotWarnedOf(t *testing.T) {
	s := &setup.Setup{Lights: []setup.Light{{Number: 1, Name: "Panel", Source: exposure.Continuous,
		Head: &setup.Head{Kind: "LED panel"}, Modifier: &setup.Modifier{Kind: "softbox", Gel: &setup.Gel{Name: "straw"}}}}}
	notes := Notes(s, nil, words(t))
	assert.Empty(t, find(notes, "modelling-heat"))
	assert.Empty(t, find(notes, "gels"))
	assert.Empty(t, find(notes, "pop"))
	assert.NotContains(t, one(t, notes, "open-heads").Text, "tube")
}

func TestBalanceWordings(t *testing.T) {
	w := words(t)
	s := portrait()
	st := s.Lights[0].Stand
	for _, c := range []struct {
		behind, given *float64
		want          string
	}{
		{f(0.6), nil, "Key boom: 4.5 kg at 1.2 m needs 9 kg at 0.6 m behind, arm not counted."},
		{f(0.6), f(4), "Key boom: 4.5 kg at 1.2 m needs 9 kg at 0.6 m behind, not 4 kg; arm not counted."},
		{nil, f(6), "Key boom: 6 kg balances 4.5 kg at 1.2 m from 0.9 m behind, arm not counted."},
		{nil, nil, "Balance the boom (Key) before it goes up: load × reach = counterweight × its own arm."},
		{f(0), nil, "Balance the boom (Key) before it goes up: load × reach = counterweight × its own arm."},
	} {
		st.Behind, st.Counterweight = c.behind, c.given
		assert.Equal(t, c.want, one(t, Notes(s, nil, w), "boom-balance").Text)
	}
}

func TestCircuitWordings(t *testing.T) {
	w := words(t)
	s := portrait()
	circuit := &s.Mains.Circuits[0]
	circuit.Breaker = f(8)
	over := one(t, Notes(s, nil, w), "circuit-load")
	assert.Equal(t, "Circuit A: 10 A is more than its 8 A breaker. Move a head to another circuit.", over.Text)
	assert.Equal(t, 1, over.Rank)
	circuit.Breaker = nil
	assert.Equal(t, "Circuit A: 10 A by the makers' figures; read the breaker first.", one(t, Notes(s, nil, w), "circuit-load").Text)
	circuit.Breaker = f(16)
	s.Lights[1].Head.Current = nil
	assert.Equal(t, "Circuit A: 6 A of 16 A without Hair; read the current off the maker's plate.", one(t, Notes(s, nil, w), "circuit-load").Text)
	assert.Contains(t, one(t, Notes(s, nil, w), "lead-drop").Text, "Lead A, 20 m × 1.5 mm²: 3.6 V lost at 6 A, 1.6 %; 3 % is the limit")
	s.Lights[1].Head.Current = f(8)
	assert.Contains(t, one(t, Notes(s, nil, w), "lead-drop").Text, "3.7 %; over 3 % for lighting")
	circuit.Lead.Section = f(0.75)
	assert.Contains(t, one(t, Notes(s, nil, w), "lead-drop").Text, "7.3 %, over 5 %")
}

func TestHazardWords(t *testing.T) {
	w := words(t)
	for _, h := range []string{"dust", "haze", "water", "aerosol", "flame", "glass", "ladder", "outdoors", "child", "animal", "trip"} {
		s := portrait()
		s.Hazards = []string{h, h}
		one(t, Notes(s, nil, w), "hazard-"+h)
	}
	s := portrait()
	s.Hazards = []string{"baby"}
	assert.Contains(t, one(t, Notes(s, nil, w), "baby").Text, "Move Key off to the side")
	s.Lights = s.Lights[1:]
	assert.Contains(t, one(t, Notes(s, nil, w), "baby").Text, "nothing overhead")
	s.Hazards = []string{"flame", "dust"}
	assert.Equal(t, 1, one(t, Notes(s, nil, w), "hazard-flame").Rank)
}

func TestBareLightNearTheFaceIsNamed(t *testing.T) {
	s := portrait()
	s.Lights[2].Modifier = &setup.Modifier{Kind: "bowl", Shines: exposure.Hard}
	n := &exposure.Numbers{Lights: []exposure.LightOut{{Number: 3, ThrowM: f(0.8)}}}
	assert.Equal(t, "Wall", one(t, Notes(s, n, words(t)), "eyes").Light)
	*n.Lights[0].ThrowM = 1.2
	assert.Empty(t, find(Notes(s, n, words(t)), "eyes"))
}

// Every key in the code is worded, and every wording is used: by itself or as
// the short form of one that is.
func TestKeys(t *testing.T) {
	used := map[string]bool{}
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	key := regexp.MustCompile(`"(safety\.[a-z-]+)"`)
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		b, err := os.ReadFile(file)
		require.NoError(t, err)
		for _, m := range key.FindAllStringSubmatch(string(b), -1) {
			used[m[1]] = true
		}
	}
	w := words(t)
	for k := range used {
		assert.Contains(t, w, k)
	}
	for k := range w {
		if strings.HasPrefix(k, "safety.") {
			assert.True(t, used[strings.TrimSuffix(strings.TrimSuffix(k, ".shorter"), ".short")], "%s is not used", k)
		}
	}
}

func drawMaybe(t *rapid.T, lo, hi float64, name string) *float64 {
	if !rapid.Bool().Draw(t, name+"?") {
		return nil
	}
	return f(rapid.Float64Range(lo, hi).Draw(t, name))
}

func drawSetup(t *rapid.T) *setup.Setup {
	pick := func(name string, from ...string) string { return rapid.SampledFrom(from).Draw(t, name) }
	s := &setup.Setup{Units: setup.Units(pick("units", "m", "cm", "ft", "in"))}
	s.Subject.Kind = pick("subject", "", "person", "object")
	s.Hazards = rapid.SliceOfN(rapid.SampledFrom([]string{"dust", "haze", "water", "aerosol", "flame", "glass",
		"ladder", "outdoors", "child", "baby", "animal", "trip"}), 0, 4).Draw(t, "hazards")
	if rapid.Bool().Draw(t, "mains?") {
		s.Mains = &setup.Mains{Volts: rapid.Float64Range(0, 240).Draw(t, "volts"), Circuits: []setup.Circuit{
			{Name: "A", Breaker: drawMaybe(t, 0, 32, "breaker"), Lead: &setup.Lead{Length: drawMaybe(t, 0, 50, "lead"), Section: drawMaybe(t, 0, 4, "section")}},
			{Name: "Stage left 2"}}}
	}
	for i, count := 0, rapid.IntRange(0, 12).Draw(t, "lights"); i < count; i++ {
		l := setup.Light{Number: i + 1, Name: rapid.StringMatching(`[A-HJ-Z][a-z ]{0,30}`).Draw(t, "name"), // none begins as Inf does
			Source:  exposure.Source(pick("source", "flash", "continuous", "bounce", "daylight")),
			Circuit: pick("circuit", "", "A", "Stage left 2"), Aim: setup.Aim{Target: pick("aim", "", "face", "background")}}
		if rapid.Bool().Draw(t, "head?") {
			l.Head = &setup.Head{Kind: pick("kind", "", "LED panel"), Mass: drawMaybe(t, 0, 10, "mass"), Current: drawMaybe(t, 0, 12, "amps"),
				Watts: drawMaybe(t, 0, 2000, "watts"), Supply: pick("supply", "", "mains", "battery"),
				Modelling: &setup.Modelling{Watts: drawMaybe(t, 0, 650, "modelling"), Lamp: pick("lamp", "", "halogen", "led")}}
		}
		if rapid.Bool().Draw(t, "place?") {
			l.Place = &setup.Place{Right: rapid.Float64Range(-4, 4).Draw(t, "right"), Height: drawMaybe(t, 0, 4, "height")}
		}
		if rapid.Bool().Draw(t, "modifier?") {
			l.Modifier = &setup.Modifier{Kind: pick("modifier", "bare", "softbox", "snoot", "umbrella"), Mass: drawMaybe(t, 0, 4, "modmass"),
				Grid: drawMaybe(t, 0, 60, "grid"), Shines: exposure.Shape(pick("shines", "", "hard", "disc"))}
			if rapid.Bool().Draw(t, "gel?") {
				l.Modifier.Gel = &setup.Gel{Name: "straw"}
			}
		}
		if rapid.Bool().Draw(t, "stand?") {
			l.Stand = &setup.Stand{Kind: pick("standkind", "", "stand", "boom", "floor", "hanging"), Footprint: drawMaybe(t, 0, 1.6, "feet"),
				Mass: drawMaybe(t, 0, 20, "standmass"), Bag: drawMaybe(t, 0, 20, "bag"), Reach: drawMaybe(t, 0, 2.5, "reach"),
				Behind: drawMaybe(t, 0, 1.5, "behind"), Counterweight: drawMaybe(t, 0, 20, "counterweight")}
		}
		s.Lights = append(s.Lights, l)
	}
	return s
}

func TestNotesOfAnySetup(t *testing.T) {
	w := words(t)
	rapid.Check(t, func(t *rapid.T) {
		s := drawSetup(t)
		notes := Notes(s, &exposure.Numbers{}, w)
		require.Equal(t, notes, Notes(s, nil, w))
		seen := map[string]bool{}
		for i, n := range notes {
			for _, text := range []string{n.Text, n.Short} {
				require.NotContains(t, text, "‹")
				require.NotContains(t, text, "{")
				require.NotContains(t, text, "Inf")
				require.NotContains(t, text, "NaN")
			}
			require.LessOrEqual(t, length(n.Text), 200, n.Text)
			if length(n.Text) > MaxShort {
				require.NotEmpty(t, n.Short, n.Text)
				require.LessOrEqual(t, length(n.Short), MaxShort, n.Short)
			}
			require.False(t, seen[n.Text], "twice: %s", n.Text)
			seen[n.Text] = true
			if i > 0 {
				require.LessOrEqual(t, notes[i-1].Rank, n.Rank)
			}
			for k, v := range n.Figures {
				require.False(t, math.IsNaN(v) || math.IsInf(v, 0), k)
			}
		}
		require.NotEmpty(t, find(notes, "local-rules"))
	})
}
