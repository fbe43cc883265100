package layout_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/exposure"
	"stopleaf/layout"
	"stopleaf/safety"
	"stopleaf/setup"
)

// act is one thing done to one light, at its place in the whole order.
type act struct {
	what  string
	light int
}

func actsOf(steps []layout.Step) []act {
	var out []act
	for _, s := range steps {
		for _, a := range s.Acts {
			out = append(out, act{a, s.Light})
		}
	}
	return out
}

// unsafe says where a build order could hurt someone or is not as promised.
func unsafe(job layout.Job) (faults []string) {
	fault := func(format string, a ...any) { faults = append(faults, "build order: "+fmt.Sprintf(format, a...)) }
	steps := layout.BuildOrder(job)
	acts := actsOf(steps)
	at := func(what string, light int) int { return slices.Index(acts, act{what, light}) }
	bags := safety.StandBags(job.Setup)
	head := map[string]int{} // where each light's head goes on
	for i := range job.Setup.Lights {
		l := &job.Setup.Lights[i]
		if l.Source == exposure.Daylight {
			continue
		}
		on := at("head", l.Number)
		head[l.Name] = on
		n := 0
		for _, a := range acts {
			if a == (act{"head", l.Number}) {
				n++
			}
		}
		if n != 1 {
			fault("the head of %d goes on %d times", l.Number, n)
			continue
		}
		if up := at("raise", l.Number); up < on {
			fault("%d goes up before its head is on", l.Number)
		}
		kind := ""
		if l.Stand != nil {
			kind = l.Stand.Kind
		}
		switch {
		case kind == "hanging":
			if b := at("bond", l.Number); b < 0 || b > on {
				fault("%d hangs before its bond", l.Number)
			}
		case at("stand", l.Number) < 0 || at("stand", l.Number) > on:
			fault("%d has no stand under its head", l.Number)
		}
		if want := bags[i].Bags > 0 || bags[i].Plain; kind != "hanging" && want {
			if b := at("bag", l.Number); b < at("stand", l.Number) || b > on {
				fault("the bag of %d is not between the stand and the head", l.Number)
			}
		}
		if kind == "boom" {
			order := []int{at("bag", l.Number), at("arm-low", l.Number), at("counterweight", l.Number), on, at("raise", l.Number)}
			if !slices.IsSorted(order) || order[0] < 0 || on != order[2]+1 {
				fault("boom %d: bag, arm low, counterweight and head in turn, up: %v", l.Number, order)
			}
		}
	}
	if key := job.Setup.Key(); key != nil {
		for i := range job.Setup.Lights {
			if l := &job.Setup.Lights[i]; l.Role == "fill" && l.Source != exposure.Daylight && head[l.Name] < head[key.Name] {
				fault("fill %d before the key", l.Number)
			}
		}
	}
	feeds := map[string]bool{}
	for i := range job.Setup.Lights {
		l := &job.Setup.Lights[i]
		if l.Source != exposure.Bounce || l.LitBy == "" {
			continue
		}
		feeds[l.LitBy] = true
		if from, ok := head[l.LitBy]; ok && from > head[l.Name] {
			fault("card %d before %s, which feeds it", l.Number, l.LitBy)
		}
	}
	back, backName := -1e9, ""
	for _, s := range steps {
		i := slices.IndexFunc(job.Setup.Lights, func(l setup.Light) bool { return l.Number == s.Light })
		if i < 0 || s.Phase != "lights" {
			continue
		}
		l := &job.Setup.Lights[i]
		if l.Place == nil || l.Role == "key" || feeds[l.Name] {
			continue
		}
		if l.Place.Front < back {
			fault("%s comes after %s, which is further to the front", l.Name, backName)
		}
		back, backName = l.Place.Front, l.Name
	}
	phases := []string{"mark", "background", "leads", "lights", "grip", "power", "meter"}
	last := 0
	for _, s := range steps {
		i := slices.Index(phases, s.Phase)
		if i < last {
			fault("phase %q comes late", s.Phase)
		}
		last = i
	}
	return append(faults, unmetered(job, acts)...)
}

// unmetered says what is wrong with the metering.
func unmetered(job layout.Job, acts []act) (faults []string) {
	var order []int
	for _, a := range acts {
		if a.what == "meter" {
			order = append(order, a.light)
		}
	}
	var want []int
	for i := range job.Setup.Lights {
		if l := &job.Setup.Lights[i]; !l.Off {
			want = append(want, l.Number)
			if l.Role == "key" && job.Setup.IsZero(l) && len(order) > 0 && order[0] != l.Number {
				faults = append(faults, "metering: the key is not the first")
			}
		}
	}
	slices.Sort(order)
	if !slices.Equal(order, want) {
		faults = append(faults, fmt.Sprintf("metering: %v, want each of %v once", order, want))
	}
	return faults
}

// unstruck says where a strike order could hurt someone.
func unstruck(job layout.Job) (faults []string) {
	steps := layout.StrikeOrder(job)
	acts := actsOf(steps)
	bag := slices.IndexFunc(acts, func(a act) bool { return a.what == "bag-off" })
	for i := range job.Setup.Lights {
		l := &job.Setup.Lights[i]
		if l.Source == exposure.Daylight {
			continue
		}
		n := 0
		for at, a := range acts {
			if a.light == l.Number {
				n++
				if bag >= 0 && at > bag {
					faults = append(faults, fmt.Sprintf("strike order: the bags are off before %d is down", l.Number))
				}
			}
		}
		if n != 1 {
			faults = append(faults, fmt.Sprintf("strike order: %d comes down %d times", l.Number, n))
		}
	}
	phases := []string{"off", "arms", "heads", "flats", "last"}
	last := 0
	for _, s := range steps {
		i := slices.Index(phases, s.Phase)
		if i < last {
			faults = append(faults, fmt.Sprintf("strike order: phase %q comes late", s.Phase))
		}
		last = i
	}
	return faults
}

// miscounted says where the kit list is not what the lights and the grip need.
func miscounted(job layout.Job) (faults []string) {
	s := job.Setup
	got, of := map[string]int{}, map[string]int{}
	for _, k := range layout.KitList(job) {
		got[k.Kind] += k.N
		of[k.Kind] += len(k.Of)
	}
	want := map[string]int{}
	for i := range s.Lights {
		l := &s.Lights[i]
		if l.Source == exposure.Daylight {
			continue
		}
		if l.Source != exposure.Bounce {
			want["head"]++
		}
		want[holder(l.Stand)]++
		if m := l.Modifier; m != nil && m.Kind != "bare" {
			if l.Source == exposure.Bounce {
				want["panel"]++
			} else {
				want["modifier"]++
			}
			if m.Gel != nil {
				want["gel"]++
			}
		}
	}
	for i := range s.Grip {
		want["panel"]++
		if st := s.Grip[i].Stand; st != nil {
			want[holder(st)]++
		}
	}
	want["counterweight"] = want["boom"]
	for _, b := range safety.StandBags(s) {
		if want["bag"] += b.Bags; b.Bags == 0 && b.Plain {
			want["bag"]++
		}
	}
	for _, kind := range []string{"head", "modifier", "gel", "panel", "stand", "boom", "counterweight", "fixing", "bag"} {
		if got[kind] != want[kind] {
			faults = append(faults, fmt.Sprintf("kit: %d of kind %s, want %d", got[kind], kind, want[kind]))
		}
		if kind != "bag" && of[kind] != got[kind] {
			faults = append(faults, fmt.Sprintf("kit: %d of kind %s for %d items", got[kind], kind, of[kind]))
		}
	}
	return faults
}

func holder(st *setup.Stand) string {
	switch {
	case st == nil:
		return "stand"
	case st.Kind == "boom":
		return "boom"
	case st.Kind == "hanging":
		return "fixing"
	}
	return "stand"
}

// On every random set bags go on before heads, booms are never one-sided, the
// key is there before a fill, the back before the front, and the kit is whole.
func TestRandomBuildOrders(t *testing.T) {
	words := wording(t)
	forRandom(t, howMany(600, 2000), 1, 20, func(seed int, r random) []string {
		job, err := r.job(words)
		if err != nil {
			return []string{"setup: not a setup: " + err.Error()}
		}
		return slices.Concat(unsafe(job), unstruck(job), miscounted(job))
	})
}

// The order of the bread set, step by step, as its file says it must be.
func TestBuildOrderOfTheBreadSet(t *testing.T) {
	job := demos(t)["bread"]
	assert.Equal(t, []act{
		{"stand", 4}, {"head", 4}, {"raise", 4}, // 1.5 m behind: the wall lights on their floor stands
		{"stand", 5}, {"head", 5}, {"raise", 5},
		{"stand", 3}, {"bag", 3}, {"arm-low", 3}, {"counterweight", 3}, {"head", 3}, {"raise", 3}, // 1.26 m behind, a boom
		{"stand", 6}, {"head", 6}, {"raise", 6}, // 0.75 m behind
		{"stand", 1}, {"bag", 1}, {"arm-low", 1}, {"counterweight", 1}, {"head", 1}, {"raise", 1}, // the key before its card
		{"stand", 2}, {"head", 2}, {"raise", 2},
		{"meter", 1}, {"meter", 2}, {"meter", 3}, {"meter", 4}, {"meter", 5}, {"meter", 6},
	}, actsOf(layout.BuildOrder(job)))
	var hair []string
	for _, s := range layout.BuildOrder(job) {
		if s.Light == 3 {
			hair = append(hair, s.Text)
		}
	}
	assert.Equal(t, []string{
		"Boom column: 131° right, 1.98 (1.50 right, 1.30 behind); a leg under the load. 1 × 7 kg bag now, on the leg under the load. Arm low.",
		"compact-200, strip 0.9 x 0.3 m, grid 40°, front diffuser: head and counterweight (4.5 kg at 0.70 behind) on in turn, little by little, a hand on the arm. Plug into circuit A, switched off.",
		"Nobody below. Raise and turn the arm, head over: 165° right, 1.30 (0.34 right, 1.26 behind). Up: centre 2.65, edge 2.53; aim: crown.",
		"alone, at the crown, dome in, toward the light. Reads 1.1 under the key.",
	}, hair)
}

// The kit of the bread set, counted by hand from its file and its gear file.
func TestKitOfTheBreadSet(t *testing.T) {
	var got []string
	for _, k := range layout.KitList(demos(t)["bread"]) {
		got = append(got, fmt.Sprintf("%d %s: %s", k.N, k.Kind, k.What))
	}
	assert.Equal(t, []string{
		"1 head: compact-400, compact head, 400 Ws",
		"3 head: compact-200, compact head, 200 Ws",
		"1 head: panel-90, LED panel",
		"1 modifier: octabox 1.2 m, grid 40°, inner + front diffuser",
		"1 modifier: strip 0.9 x 0.3 m, grid 40°, front diffuser",
		"2 modifier: bowl 0.18 m",
		"1 modifier: panel 0.6 x 0.3 m",
		"1 gel: gel half orange +109 mired",
		"1 panel: reflector panel 1 x 1.5 m",
		"1 panel: black V-flat 1.20 m × 2.40 m",
		"1 panel: oak table 1.30 m",
		"1 stand: stand, which one is not recorded",
		"2 stand: low-stand, feet 0.50 m",
		"1 stand: tall-stand, feet 1.10 m",
		"1 boom: boom stand, feet 1.20 m, reach 1.10 m",
		"1 boom: boom stand, feet 1.20 m, reach 1.20 m",
		"1 counterweight: counterweight 7.5 kg",
		"1 counterweight: counterweight 4.5 kg",
		"3 bag: bag, 7 kg", // two on the key's boom, which has 14 kg in the file, and one on the hair light's
		"1 lead: lead 20 m × 1.5 mm²",
		"1 lead: lead 10 m × 2.5 mm²",
		"1 background: dark olive canvas 2.90 m × 2.60 m",
		"1 lens: 85 mm f/1.8",
	}, got)
}

// A counterweight that would not balance the boom is not the one that is put on.
func TestCounterweightThatBalances(t *testing.T) {
	s, problems := setup.Parse("boom.yaml", []byte(`title: Boom
lights:
  - {name: Key, role: key, place: "30 left, 1 m, 2.4 high", head: {mass: 3}, modifier: bare, stand: {kind: boom, reach: 1.2, behind: 0.6, counterweight: 2}}
`), setup.Options{})
	require.NotNil(t, s, "%v", problems)
	job, err := jobOf(s, wording(t))
	require.NoError(t, err)
	var all []string
	for _, step := range layout.BuildOrder(job) {
		all = append(all, step.Text)
	}
	assert.Contains(t, strings.Join(all, "\n"), "counterweight (6 kg at 0.60 behind)") // 3 kg x 1.2 m = 6 kg x 0.6 m
}
