package find

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stopleaf/exposure"
	"stopleaf/internal/randomset"
	"stopleaf/setup"
)

func parsed(t require.TestingT, name, src string) *setup.Setup {
	s, problems := setup.Parse(name, []byte(src), setup.Options{NoPhotos: true})
	require.NotNil(t, s, "%s\n%v", src, problems)
	return s
}

func query(t require.TestingT, args ...string) *Query {
	q, err := Parse(args)
	require.NoError(t, err)
	return q
}

// found gives the codes of the setups that meet a query, the best first.
func found(t require.TestingT, list []*setup.Setup, args ...string) []string {
	q := query(t, args...)
	var tried []*Tried
	for _, s := range list {
		tried = append(tried, q.Try(s))
	}
	out := []string{}
	for _, f := range Found(tried) {
		out = append(out, f.Code)
	}
	return out
}

const rest = "lights:\n  - {name: Key, role: key}\n"

func TestRanking(t *testing.T) {
	list := []*setup.Setup{
		parsed(t, "notes.yaml", "title: One\nnotes: with flour in the air\n"+rest),
		parsed(t, "name.yaml", "title: Two\n"+rest+"  - {name: Flour, role: fill, delta: 0}\n"),
		parsed(t, "tag.yaml", "title: Three\ntags: [flour]\n"+rest),
		parsed(t, "begins.yaml", "title: Flourish\n"+rest),
		parsed(t, "title.yaml", "title: Flour\n"+rest),
		parsed(t, "none.yaml", "title: Ink\n"+rest),
		parsed(t, "private.yaml", "title: Secret\nprivate: the flour is from the baker's brother\nlights:\n  - {name: Key, role: key, private: flour}\n"),
	}
	require.Equal(t, []string{"title", "begins", "tag", "name", "notes"}, found(t, list, "flour"))
	require.Equal(t, []string{"begins", "title", "tag", "name", "notes"}, found(t, list, "FLOU"), "both are begun, and go by file")
	require.Equal(t, []string{"notes"}, found(t, list, "flour", "one"), "every word must be met")
	require.Empty(t, found(t, list, "lour"), "a word is begun, not held")
	require.Empty(t, found(t, list, "brother"), "what is private is not looked at")
}

func TestEqualsGoByDateThenFile(t *testing.T) {
	list := []*setup.Setup{
		parsed(t, "c.yaml", "title: Window\n"+rest),
		parsed(t, "b.yaml", "title: Window\nmade: 2024-05-01\n"+rest),
		parsed(t, "a.yaml", "title: Window\n"+rest),
		parsed(t, "d.yaml", "title: Window\nmade: 2026-05-01\n"+rest),
	}
	require.Equal(t, []string{"d", "b", "a", "c"}, found(t, list, "window"))
	list[0], list[3] = list[3], list[0]
	require.Equal(t, []string{"d", "b", "a", "c"}, found(t, list, "window"))
}

func TestWordsWithoutCaseAndAccents(t *testing.T) {
	list := []*setup.Setup{parsed(t, "a.yaml", "title: Ångström's café, Œuvre Øre\ncode: B-014\ntags: [low key, Straße]\nlights:\n  - {name: Schlüssel, role: key, modifier: \"octabox 1.2, gel half CTO\", head: {kind: Blitz, energy: 400}, look for: nose shadow}\ngrip: [{name: Cutter, kind: V-flat, colour: black}]\n")}
	for _, word := range []string{"angstrom", "ÅNGSTRÖM", "cafe", "CAFÉ", "oeuvre", "ore", "øre", "b-014", "B-01", "014", "low key", "strasse", "schlussel", "octa", "cto", "blitz", "v-flat", "black", "key", "nose"} {
		require.Len(t, found(t, list, word), 1, word)
	}
	for _, word := range []string{"key low", "014-b", "lo key", "fé", "octobox"} {
		require.Empty(t, found(t, list, word), word)
	}
	require.Equal(t, []string{"angstrom", "s", "cafe"}, Words("Ångström's (CAFÉ)"))
}

func TestAWordNearby(t *testing.T) {
	list := []*setup.Setup{parsed(t, "a.yaml", "title: Rembrandt light\n"+rest), parsed(t, "b.yaml", "title: Window\n"+rest)}
	q := query(t, "rembrant", "window", "lights>3")
	var tried []*Tried
	for _, s := range list {
		tried = append(tried, q.Try(s))
	}
	missing, near := q.Missing(tried)
	require.Equal(t, []string{"rembrant", "lights>3"}, missing)
	require.Equal(t, []string{"rembrandt", ""}, near)
}

func TestFilters(t *testing.T) {
	bread := parsed(t, "bread.yaml", `title: Bread maker
code: B-014
made: 2026-03-14
tags: [portrait, low key]
hazards: [dust]
exposure: {iso: 100, key: f/8, ambient: f/1.4}
subject: {kind: person, posture: seated, top: 1.4}
background: {kind: canvas, height: 2.5, distance: 2}
photos: [{file: x.jpg}]
lights:
  - {name: Key, role: key, place: {left: 1, front: 1, height: 2.15}, aim: {left: 0, front: 0, height: 2.15}, modifier: "octa 1.2, grid 40, inner diffuser", stand: boom, head: {name: x, energy: 400 Ws, range: 5}, power: 1/4}
  - {name: Card, role: fill, delta: 2 under, source: bounce, lit by: Key, place: {right: 1, front: 0, height: 1}}
  - {name: Wall, role: background, delta: 1 under, pair: each, modifier: "bowl 0.18, gel half blue"}
grip: [{name: Flat, kind: V-flat, place: {right: 2, front: 0, height: 1.2}, height: 2.4, width: 1.2}]
`)
	small := parsed(t, "small.yaml", "title: Small\nlights:\n  - {name: Window, role: key, source: daylight}\n")
	list := []*setup.Setup{bread, small}
	for _, c := range []struct {
		filter string
		want   []string
	}{
		{"lights<=3", []string{"small"}}, {"lights>3", []string{"B-014"}}, {"lights=4", []string{"B-014"}}, {"lights:4", []string{"B-014"}},
		{"lights:..3", []string{"small"}}, {"lights:2..4", []string{"B-014"}}, {"lights:4..", []string{"B-014"}}, {"lights<4", []string{"small"}}, {"light>=4", []string{"B-014"}},
		// 2 under is a quarter: 4 : 1. One without a fill has no ratio.
		{"ratio>=4", []string{"B-014"}}, {"ratio>4", nil}, {"ratio<=4:1", []string{"B-014"}}, {"ratio<4", nil}, {"ratio:3.5..4,5", []string{"B-014"}},
		// A disc of 1.2 m, level, with its centre at 2.15 m reaches 2.75 m.
		{"ceiling<=2.74", nil}, {"ceiling<=2.75", []string{"B-014"}}, {"ceiling>2.7", []string{"B-014"}}, {"ceiling<=9 ft", nil}, {"ceiling<=9.1 ft", []string{"B-014"}},
		{"made>=2025", []string{"B-014"}}, {"made>=2027", nil}, {"made<=2026", []string{"B-014"}}, {"made<2026", nil}, {"made>2026-03-13", []string{"B-014"}},
		{"made>2026-03", nil}, {"made:2026", []string{"B-014"}}, {"made=2026-03-14", []string{"B-014"}}, {"made:2025-06..2026-03", []string{"B-014"}}, {"made:..2026-02", nil},
		// At f/8 a quarter of full: two stops more is f/16, and three less of a range of five f/2.8.
		{"base:f/16", []string{"B-014"}}, {"base:f/18", nil}, {"base:2.8", []string{"B-014"}}, {"base:f/2.5", nil}, {"base:f/8", []string{"B-014"}},
		{"has:grid", []string{"B-014"}}, {"has:grids", []string{"B-014"}}, {"has:gel", []string{"B-014"}}, {"has:diffuser", []string{"B-014"}}, {"has:boom", []string{"B-014"}},
		{"has:pair", []string{"B-014"}}, {"has:pack", nil}, {"has:flash", []string{"B-014"}}, {"has:continuous", nil}, {"has:bounce", []string{"B-014"}},
		{"has:daylight", []string{"small"}}, {"has:ambient", []string{"B-014"}}, {"has:grip", []string{"B-014"}}, {"has:looks", nil}, {"has:photo", []string{"B-014"}}, {"has:notes", nil},
		{"title:bread", []string{"B-014"}}, {"title:key", nil}, {"code:b-014", []string{"B-014"}}, {"tag:portrait", []string{"B-014"}}, {"tag:low key", []string{"B-014"}}, {"TAG:LOW", []string{"B-014"}},
		{"role:fill", []string{"B-014"}}, {"role:key", []string{"B-014", "small"}}, {"name:flat", []string{"B-014"}}, {"name:wall", []string{"B-014"}},
		{"modifier:octabox", []string{"B-014"}}, {"modifier:octa", []string{"B-014"}}, {"modifier:blue", []string{"B-014"}}, {"modifier:softbox", nil},
		{"head:x", []string{"B-014"}}, {"subject:seated", []string{"B-014"}}, {"hazard:dust", []string{"B-014"}},
	} {
		want := c.want
		if want == nil {
			want = []string{}
		}
		require.Equal(t, want, found(t, list, c.filter), c.filter)
	}
	require.Equal(t, []string{"B-014"}, found(t, list, "bread", "lights>=2", "has:grid"))
	require.Empty(t, found(t, list, "bread", "lights>=2", "has:pack"))
}

func TestWhatIsWronglyWritten(t *testing.T) {
	for _, c := range [][2]string{
		{"lihgts<=3", "no filter is called \"lihgts\": did you mean \"lights\"? allowed: lights, ratio, ceiling, made, base, has, title, code, tag, role, name, modifier, head, subject, hazard"},
		{"has:gird", "\"has:gird\": did you mean \"grid\"? allowed: grid, gel, diffuser, boom, pair, pack, flash, continuous, bounce, daylight, ambient, grip, looks, photo, notes"},
		{"has>grid", "\"has>grid\": a set has a thing or not: write has:grid"},
		{"lights<=few", "\"lights<=few\": \"few\" is no number"},
		{"lights:", "\"lights:\" does not say what to look for: write lights<=3"},
		{"lights:4..2", "\"lights:4..2\": \"4..2\" is no range: write lights:4.., lights:..3 or lights:2..4"},
		{"lights<=2..4", "\"lights<=2..4\": \"2..4\" is no number"},
		{"made>=soon", "\"made>=soon\" is no date: write made>=2025, made:2026-03 or made:2025-06..2026"},
		{"made:2026-13", "\"made:2026-13\" is no date: write made>=2025, made:2026-03 or made:2025-06..2026"},
		{"made:..", "\"made:..\" is no date: write made>=2025, made:2026-03 or made:2025-06..2026"},
		{"base>=f/4", "\"base>=f/4\": a base is one aperture: write base:f/2.8"},
		{"base:EV 10", "\"base:EV 10\": \"EV 10\" is an exposure value: write a base as an aperture, base:f/2.8"},
		{"tag<=portrait", "\"tag<=portrait\" compares words: write tag:portrait"},
		{"tag:...", "\"tag:...\" holds no word to look for"},
		{"--", "\"--\" holds no word to look for"},
	} {
		_, err := Parse([]string{"bread", c[0]})
		require.EqualError(t, err, c[1], c[0])
	}
	_, err := Parse([]string{"ceiling<=tall"})
	require.ErrorContains(t, err, "\"ceiling<=tall\": \"tall\" is not a length")
	for _, word := range []string{"4:1", "f/2.8", "ΦΩΣ:x", "<3 3"} { // words, for all their signs
		_, err := Parse([]string{word})
		require.NoError(t, err, word)
	}
}

// Filters of figures against a plain loop over random sets.
func TestFiltersAgainstAPlainLoop(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		set := randomset.Setups(1, 12).Draw(t, "set")
		s, problems := setup.Parse("x.yaml", []byte(set.YAML()), setup.Options{NoPhotos: true})
		if s == nil {
			t.Skipf("%v", problems)
		}
		n := exposure.Compute(s.Input(nil))
		is := func(want bool, format string, args ...any) {
			filter := fmt.Sprintf(format, args...)
			require.Equal(t, want, query(t, filter).Try(s).Found, "%s\n%s", filter, set.YAML())
		}
		most := rapid.IntRange(0, 13).Draw(t, "lights")
		lights := 0
		grid, gel, pair, pack, boom := false, false, false, false, false
		roles := map[string]bool{}
		for _, l := range s.Lights {
			lights++
			roles[l.Role] = true
			grid = grid || l.Modifier != nil && l.Modifier.Grid != nil
			gel = gel || l.Modifier != nil && l.Modifier.Gel != nil
			pair = pair || l.Pair != nil
			pack = pack || l.Pack != nil
			boom = boom || l.Stand != nil && l.Stand.Kind == "boom"
		}
		is(lights <= most, "lights<=%d", most)
		is(lights < most, "lights<%d", most)
		is(lights >= most, "lights>=%d", most)
		is(lights > most, "lights>%d", most)
		is(lights == most, "lights=%d", most)
		is(lights <= most, "lights:..%d", most)
		is(lights >= most, "lights:%d..", most)
		is(grid, "has:grid")
		is(gel, "has:gel")
		is(pair, "has:pair")
		is(pack, "has:pack")
		is(boom, "has:boom")
		is(len(s.Grip) > 0, "has:grip")
		for _, role := range []string{"key", "fill", "rim", "kicker", "hair", "background", "accent"} {
			is(roles[role], "role:%s", role)
		}

		// The ratio by the light itself: 1 over the sum of the fills' 2^delta.
		tenths := rapid.IntRange(1, 200).Draw(t, "ratio")
		want := false
		if r := n.Ratios.KeyToFill; r != nil {
			want = int(*r*10+0.5+1e-9) >= tenths
		}
		is(want, "ratio>=%d.%d", tenths/10, tenths%10)

		// A base by its dials: every flash head whose power and range are known can
		// give it. The lens sets the lower end too.
		base := rapid.IntRange(0, 10).Draw(t, "base")
		in := s.Input([]exposure.Base{{Mark: "x", Av: float64(base)}})
		can, any := true, false
		for _, l := range exposure.Compute(in).Lights {
			for _, d := range l.Dials {
				if in.Lights[l.Number-1].Head != nil && in.Lights[l.Number-1].Head.Range != nil {
					any = true
					can = can && d.Possible != nil && *d.Possible
				}
			}
		}
		recorded := s.Exposure.KeyAv != nil && *s.Exposure.KeyAv > float64(base)-0.05 && *s.Exposure.KeyAv < float64(base)+0.05
		wide := s.Camera.WidestAv == nil
		if wide {
			is(any && can || recorded, "base:%s", []string{"f/1", "f/1.4", "f/2", "f/2.8", "f/4", "f/5.6", "f/8", "f/11", "f/16", "f/22", "f/32"}[base])
		}

		// The highest point: nothing that shines, and no grip, is above it, and the set
		// fits under it and not a centimetre lower.
		if top := s.Highest(); top != nil {
			for _, l := range s.Lights {
				require.True(t, l.Place == nil || l.Place.Height == nil || l.Source == exposure.Daylight || *l.Place.Height <= *top+1e-9)
			}
			for _, g := range s.Grip {
				require.True(t, g.Place == nil || g.Place.Height == nil || *g.Place.Height <= *top+1e-9)
			}
			cm := int(*top*100 + 0.5 + 1e-9)
			is(true, "ceiling<=%d cm", cm)
			is(false, "ceiling<=%d cm", cm-1)
		} else {
			is(false, "ceiling<=99")
		}
		is(s.Made != "", "made>=2000")
		is(s.Made != "", "made:2026-03")
		is(false, "made<2026-03")
	})
}

func TestHighest(t *testing.T) {
	for _, c := range []struct {
		what, src string
		want      *float64
	}{
		{"no height", rest, nil},
		{"daylight needs no ceiling", "lights:\n  - {name: Sun, role: key, source: daylight, place: {left: 3, front: 3, height: 9}}\n", nil},
		{"a point", "lights:\n  - {name: Key, role: key, place: {left: 1, front: 1, height: 2}}\n", at(2)},
		// A square of 1 m half a turn down: 45° from 1.55 m, half its side times cos 45° above its centre.
		{"a tilted box", "subject: {face: 1}\nlights:\n  - {name: Key, role: key, place: {left: 1, front: 0, height: 2}, modifier: softbox 1 x 1}\n", at(2 + 0.5*0.70710678)},
		{"grip above all", "lights:\n  - {name: Key, role: key, place: {left: 1, front: 1, height: 2}}\ngrip: [{name: F, kind: flag, place: {left: 1, front: 0, height: 2}, width: 1, height: 1.5}]\n", at(2.75)},
		{"the background", "background: {height: 3}\nlights:\n  - {name: Key, role: key, place: {left: 1, front: 1, height: 2}}\n", at(3)},
		{"the subject", "subject: {top: 2.2}\nlights:\n  - {name: Key, role: key, place: {left: 1, front: 1, height: 2}}\n", at(2.2)},
	} {
		got := parsed(t, "x.yaml", "title: T\n"+c.src).Highest()
		if c.want == nil {
			require.Nil(t, got, c.what)
			continue
		}
		require.NotNil(t, got, c.what)
		require.InDelta(t, *c.want, *got, 1e-6, c.what)
	}
}

func at(v float64) *float64 { return &v }

// Whatever is typed is a query or an error, and a query can be tried.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"lights<=3", "ratio:4..", "base:f/2.8", "made:2025-06..2026", "has:grid", "Ångström", "tag:low key", "ceiling<=8 ft"} {
		f.Add(s)
	}
	s := parsed(f, "x.yaml", "title: T\nmade: 2026-03-14\nexposure: {key: f/8}\n"+rest)
	f.Fuzz(func(t *testing.T, text string) {
		q, err := Parse([]string{text})
		if err == nil {
			q.Try(s)
		}
	})
}
