package compare

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stopleaf/internal/randomset"
	"stopleaf/setup"
	"stopleaf/templates"
)

// ours are the setups that come with the program.
func ours(t *testing.T) map[string]Side {
	t.Helper()
	out := map[string]Side{}
	for _, folder := range []string{"demo", "starters"} {
		names, err := templates.List(folder)
		require.NoError(t, err)
		for _, name := range names {
			src, err := templates.Read(folder + "/" + name)
			require.NoError(t, err)
			if setup.IsSetup(src) {
				s, problems := setup.Read("../../templates/"+folder+"/"+name, setup.Options{NoPhotos: true})
				require.NotNil(t, s, "%v", problems)
				out[name] = computed(s)
			}
		}
	}
	require.Greater(t, len(out), 8)
	return out
}

func TestOursAreTheSameAsThemselves(t *testing.T) {
	for name, s := range ours(t) {
		requireSame(t, Compare(s, s), name)
	}
}

func TestOursEitherWayRound(t *testing.T) {
	all := ours(t)
	for _, a := range all {
		for _, b := range all {
			requireOpposite(t, Compare(a, b), Compare(b, a))
		}
	}
}

func requireSame(t require.TestingT, r *Result, what string) {
	require.True(t, r.Same(), "%s: %v", what, r.Words())
	require.Empty(t, r.Words(), what)
	require.Empty(t, r.Notes, what)
	require.Empty(t, r.Unsaid("A"), what)
	require.Empty(t, r.Unsaid("B"), what)
	require.False(t, r.Mirrored, what)
	for _, list := range [][]Pair{r.Lights, r.Grip} {
		for _, p := range list {
			require.Equal(t, ByName, p.How, what)
			for _, f := range p.Facts {
				require.True(t, f.Change == nil || *f.Change == 0, "%s: %s %s", what, p.Name(), f.Key)
			}
		}
	}
}

// requireOpposite holds two comparisons against each other: what is matched and
// what is the same is so either way round, and every change is the negative.
func requireOpposite(t require.TestingT, r, back *Result) {
	require.Equal(t, r.Same(), back.Same())
	require.Equal(t, r.Mirrored, back.Mirrored)
	require.Equal(t, r.From, [2]string{back.From[1], back.From[0]})
	require.Equal(t, codes(r), codes(back))
	for _, lists := range [][2][]Pair{{r.Lights, back.Lights}, {r.Grip, back.Grip}} {
		require.Equal(t, len(lists[0]), len(lists[1]))
		others := map[string]Pair{}
		for _, p := range lists[1] {
			others[id(p.B)+"|"+id(p.A)] = p
		}
		for _, p := range lists[0] {
			q, ok := others[id(p.A)+"|"+id(p.B)]
			require.True(t, ok, "%s is matched otherwise", p.Name())
			require.Equal(t, p.How, q.How)
			require.Equal(t, p.Differs(), q.Differs())
			require.Equal(t, p.Moved, q.Moved)
			requireNegative(t, p.Stops, q.Stops, p.Name())
			requireOppositeFacts(t, p.Facts, q.Facts)
		}
	}
	require.Equal(t, len(r.Set), len(back.Set))
	for i := range r.Set {
		requireOppositeFacts(t, r.Set[i].Facts, back.Set[i].Facts)
	}
}

func codes(r *Result) map[string]int {
	out := map[string]int{}
	for _, n := range r.Notes {
		out[n.Code]++
	}
	return out
}

func id(it *Item) string {
	if it == nil {
		return "-"
	}
	return it.Name
}

func requireNegative(t require.TestingT, x, y *float64, what string) {
	require.Equal(t, x == nil, y == nil, what)
	if x != nil {
		require.InDelta(t, *x, -*y, 1e-9, what)
	}
}

func requireOppositeFacts(t require.TestingT, list, back []Fact) {
	require.Equal(t, len(list), len(back))
	for i, f := range list {
		g := back[i]
		require.Equal(t, f.Key, g.Key)
		require.Equal(t, f.A, g.B, f.Key)
		require.Equal(t, f.B, g.A, f.Key)
		require.Equal(t, f.Same, g.Same, f.Key)
		require.Equal(t, f.Differs(), g.Differs(), f.Key)
		requireNegative(t, f.Change, g.Change, f.Key)
	}
}

// drawn is a random setup and its look.
func drawn(t *rapid.T, set randomset.Set, label string) Side {
	s, problems := setup.Parse(label+".yaml", []byte(set.YAML()), setup.Options{NoPhotos: true})
	if s == nil {
		t.Skipf("%v", problems)
	}
	if set.Look != "" {
		var err error
		s, err = s.WithLook(set.Look)
		require.NoError(t, err)
	}
	return computed(s)
}

func TestRandomSetsAreTheSameAsThemselves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawn(t, randomset.Setups(1, 12).Draw(t, "set"), "a")
		requireSame(t, Compare(s, s), "random")
	})
}

// altered is a set with some differences, heights and modifiers changed, some
// lights out and the sections above them from another: what a second evening
// makes of a set.
func altered(t *rapid.T, set randomset.Set) randomset.Set {
	out := set
	out.Lights = nil
	for i, l := range set.Lights {
		if i > 0 && rapid.IntRange(0, 5).Draw(t, "out") == 0 {
			continue
		}
		swap := func(pattern string, to ...string) {
			if rapid.Bool().Draw(t, "swap") {
				l = regexp.MustCompile(pattern).ReplaceAllString(l, rapid.SampledFrom(to).Draw(t, "to"))
			}
		}
		swap(`delta: [^,}]*`, "delta: -1.6", "delta: 0.4 over", "delta: -3")
		swap(`toward: camera`, "toward: light")
		swap(`distance: [0-9.]+`, "distance: 2 m", "distance: 1.2 m")
		swap(`"?role: (fill|rim|hair)`, "role: kicker", "role: fill")
		out.Lights = append(out.Lights, l)
	}
	out.Look, out.Top = "", nil
	for _, s := range set.Top {
		if strings.HasPrefix(s, "looks:") {
			continue // of lights that may be out
		}
		if strings.HasPrefix(s, "exposure:") && rapid.Bool().Draw(t, "exposure") {
			s = strings.Replace(s, "f/8 +0.4", "f/5.6", 1)
		}
		out.Top = append(out.Top, s)
	}
	return out
}

func TestRandomSetsEitherWayRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		set := randomset.Setups(1, 12).Draw(t, "set")
		a := drawn(t, set, "a")
		var b Side
		if rapid.Bool().Draw(t, "another") {
			b = drawn(t, randomset.Setups(1, 12).Draw(t, "other"), "b")
		} else {
			b = drawn(t, altered(t, set), "b")
		}
		r, back := Compare(a, b), Compare(b, a)
		requireOpposite(t, r, back)
		requireFromNumbers(t, r)
	})
}

// requireFromNumbers holds differences against those of the figures that numbers
// gives, for lights of one key held alike.
func requireFromNumbers(t *rapid.T, r *Result) {
	if len(r.Notes) > 0 {
		return
	}
	for _, p := range r.Lights {
		if p.A == nil || p.B == nil || p.A.Off || p.B.Off {
			continue
		}
		a, b := r.A.Numbers.Lights[p.A.Number-1], r.B.Numbers.Lights[p.B.Number-1]
		require.NotNil(t, p.Stops, p.Name())
		require.InDelta(t, b.Delta-a.Delta, *p.Stops, 1e-8)
		// Light for light as 2^stops: the ratio to the key says the same.
		require.InDelta(t, math.Log2(b.RatioToKey/a.RatioToKey), *p.Stops, 1e-6)
		if a.Place.DistanceM != nil && b.Place.DistanceM != nil {
			require.InDelta(t, *b.Place.DistanceM-*a.Place.DistanceM, *get(p.Facts, "distance_m").Change, 1e-8)
		}
	}
}

// The order of the lights in the file is no difference, and moves no word.
func TestTheOrderOfTheLightsDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		set := randomset.Setups(1, 10).Draw(t, "set")
		set.Look = ""
		if strings.Contains(strings.Join(set.Lights, ""), "outlet:") {
			t.Skip("an outlet is named after the place in the list")
		}
		shuffled := set
		shuffled.Lights = rapid.Permutation(set.Lights).Draw(t, "lights")
		shuffled.Grip = rapid.Permutation(set.Grip).Draw(t, "grip")
		a, again := drawn(t, set, "a"), drawn(t, shuffled, "b")
		requireSame(t, Compare(a, again), "shuffled")
		other := drawn(t, altered(t, set), "c")
		require.Equal(t, Compare(other, a).Words(), Compare(other, again).Words())
		require.Equal(t, Compare(a, other).Words(), Compare(again, other).Words())
		require.Equal(t, Compare(a, other).Notes, Compare(again, other).Notes)
	})
}

// What is said is never empty of sense: each sentence names what it is about, and
// what differs is either said or noted.
func TestWhatDiffersIsSaid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		set := randomset.Setups(1, 8).Draw(t, "set")
		r := Compare(drawn(t, set, "a"), drawn(t, altered(t, set), "b"))
		words := r.Words()
		for _, w := range words {
			require.NotContains(t, w, "  ")
			require.NotContains(t, w, "%!")
		}
		for _, p := range r.Lights {
			if meter := get(p.Facts, "meter").Differs() && count(p.Facts) == 1; meter || !p.Differs() {
				continue // the meter has a note of its own
			}
			require.True(t, slices.ContainsFunc(words, func(w string) bool { return strings.HasPrefix(w, p.called()) }), "%s: %v", p.Name(), words)
		}
	})
}
