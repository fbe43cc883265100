package compare

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stopleaf/exposure"
	"stopleaf/setup"
)

// side parses a setup for a comparison.
func side(t require.TestingT, src string) Side {
	s, problems := setup.Parse("t.yaml", []byte(src), setup.Options{NoPhotos: true})
	require.NotNil(t, s, "%s\n%v", src, problems)
	return computed(s)
}

func computed(s *setup.Setup) Side {
	bases, err := s.ChooseBases("")
	if err != nil {
		panic(err)
	}
	n := exposure.Compute(s.Input(bases))
	return Side{s, &n}
}

// lights is a setup of these lights and nothing else.
func lights(t require.TestingT, list ...string) Side {
	return side(t, "title: T\nexposure: {key: f/8}\nlights:\n  - "+strings.Join(list, "\n  - ")+"\n")
}

const key = "{name: Key, role: key}"

// What is compared is one light beside the same key; the words are those a
// photographer would say, worked out by hand. A whole stop is from one whole mark
// to the next (f/5.6 to f/8), as every lens and meter is marked.
func TestWordsOfALight(t *testing.T) {
	for _, c := range []struct {
		what, a, b, want string
	}{
		{"stops, then the place", // cartesian: 1.5 m and 1.2 m along the same line
			"{name: Fill, role: fill, delta: 1.6 under, place: {right: 1.5, front: 0, height: 1.4}}",
			"{name: Fill, role: fill, delta: 0.4 under, place: {right: 1.2, front: 0, height: 1.4}}",
			"The fill is 1.2 stops brighter in B and 30 cm closer"},
		{"readings of whole marks",
			"{name: Fill, role: fill, reading: f/5.6}", "{name: Fill, role: fill, reading: f/4}",
			"The fill is 1.0 stops darker in B"},
		{"a tenth is the same", "{name: Card, role: fill, delta: 1.6 under}", "{name: Card, role: fill, delta: 1.5 under}", ""},
		{"over a tenth is not", "{name: Card, role: fill, delta: 1.65 under}", "{name: Card, role: fill, delta: 1.5 under}",
			"Card is 0.2 stops brighter in B"},
		{"2 cm is the same", "{name: Card, role: fill, delta: 0, place: {right: 1, front: 0, height: 1.40}}",
			"{name: Card, role: fill, delta: 0, place: {right: 1.02, front: 0, height: 1.42}}", ""},
		{"3 cm is not", "{name: Card, role: fill, delta: 0, place: {right: 1, front: 0, height: 1.40}}",
			"{name: Card, role: fill, delta: 0, place: {right: 1, front: 0, height: 1.43}}", "Card is 3 cm higher in B"},
		{"2 degrees are the same", "{name: Card, role: fill, delta: 0, place: \"45 left, 1.5\"}", "{name: Card, role: fill, delta: 0, place: \"47 left, 1.5\"}", ""},
		{"3 degrees are not, at a distance", "{name: Card, role: fill, delta: 0, place: \"45 left, 1.5\"}", "{name: Card, role: fill, delta: 0, place: \"48 left, 1.5\"}",
			"Card is 3° further round in B (45° left, 48° left in B)"},
		{"3 degrees are within 2 cm close in", // 0.3 m x 3° = 1.6 cm
			"{name: Card, role: fill, delta: 0, place: \"45 left, 0.3\"}", "{name: Card, role: fill, delta: 0, place: \"48 left, 0.3\"}", ""},
		{"round behind, the short way", // 175 left to 175 right is 10 degrees
			"{name: Hair, role: hair, delta: 0, place: \"175 left, 1.5\"}", "{name: Hair, role: hair, delta: 0, place: \"180 left, 1.5\"}",
			"The hair is 5° further round in B (175° left, behind in B)"},
		{"more frontal", "{name: Card, role: fill, delta: 0, place: \"60 right, 2\"}", "{name: Card, role: fill, delta: 0, place: \"20 right, 2\"}",
			"Card is 40° more frontal in B (60° right, 20° right in B)"},
		{"the other side", "{name: Rim, role: rim, delta: 0, place: \"150 left, 2 m, 2 high\"}", "{name: Rim, role: rim, delta: 0, place: \"150 right, 2.5 m, 1.9 high\"}",
			"The rim is 50 cm further away in B, 10 cm lower and on the other side (150° left, 150° right in B)"},
		{"modifier and what is on it", "{name: Card, role: fill, delta: 0, modifier: \"octabox 1.2, grid 40\"}",
			"{name: Card, role: fill, delta: 0, modifier: \"softbox 0.9 x 0.6, inner diffuser, gel half blue\"}",
			"Card: octabox 1.2 m in A, softbox 0.9 x 0.6 m in B; grid 40° in A, none in B; gel none in A, half blue in B; diffusers none in A, inner in B"},
		{"a gel by its shift", "{name: Card, role: fill, delta: 0, modifier: {kind: bowl, gel: {name: half blue, mired: -68}}}",
			"{name: Card, role: fill, delta: 0, modifier: {kind: bowl, gel: {name: half blue, mired: -60}}}", "Card: gel half blue −68 mired in A, half blue −60 mired in B"},
		{"power on one head", "{name: Card, role: fill, delta: 0, head: {energy: 400 Ws}, power: 1/4}", "{name: Card, role: fill, delta: 0, head: {energy: 400 Ws}, power: 1/8 +0.4}",
			"Card: power 1/4 in A, 1/8 +0.4 in B"},
		{"power where no energy is known", "{name: Card, role: fill, delta: 0, power: 1/4}", "{name: Card, role: fill, delta: 0, power: 1/8}", "Card: power 1/4 in A, 1/8 in B"},
		{"100 Ws are 100 Ws on any head", // 400/4 = 200/2
			"{name: Card, role: fill, delta: 0, head: {energy: 400 Ws}, power: 1/4}", "{name: Card, role: fill, delta: 0, head: {energy: 200 Ws}, power: 1/2}", ""},
		{"energy on two heads", // 400/4 = 100, 600/2 = 300
			"{name: Card, role: fill, delta: 0, head: {energy: 400 Ws}, power: 1/4}", "{name: Card, role: fill, delta: 0, head: {energy: 600 Ws}, power: 1/2}",
			"Card: 100 Ws in A, 300 Ws in B"},
		{"aim and feather", "{name: Card, role: fill, delta: 0, feather: 20 toward camera}", "{name: Card, role: fill, delta: 0, aim: chest, feather: 20 toward left}",
			"Card: aimed at face in A, chest in B; feather 20° toward camera in A, 20° toward left in B"},
		{"what it is", "{name: Card, role: fill, delta: 0, source: bounce, lit by: Key}", "{name: Card, role: rim, delta: 0, source: daylight}", "Card: role fill in A, rim in B; bounce in A, daylight in B"},
		{"a panel's dimmer", "{name: Card, role: fill, delta: 0, source: continuous, dimmer: 70 %}", "{name: Card, role: fill, delta: 0, source: continuous, dimmer: 35 %}", "Card: dimmer 70 % in A, 35 % in B"},
		{"a point it is aimed at", "{name: Card, role: fill, delta: 0, aim: {right: 0.5, front: 0, height: 1}}", "{name: Card, role: fill, delta: 0, aim: {left: 0.5, behind: 1, height: 1}}",
			"Card: aimed at 0.50 m right, 0.00 m front, 1.00 m high in A, 0.50 m left, 1.00 m behind, 1.00 m high in B"},
	} {
		t.Run(c.what, func(t *testing.T) {
			r := Compare(lights(t, key, c.a), lights(t, key, c.b))
			if c.want == "" {
				require.True(t, r.Same(), "%v", r.Words())
				require.Empty(t, r.Words())
				return
			}
			require.NotEmpty(t, r.Words())
			require.Equal(t, c.want, r.Words()[0])
			require.Empty(t, r.Notes)
		})
	}
}

func TestWhatOnlyOneHas(t *testing.T) {
	hair := "{name: Hair, role: hair, delta: 0.4 over}"
	rim := "{name: Rim L, role: rim, delta: 1 under, place: \"150 left, 2\"}"
	r := Compare(lights(t, key, hair), lights(t, key, rim))
	require.Equal(t, []string{"The hair (0.4 over) is in A only", "Rim L (rim, 1.0 under) is in B only"}, r.Words())
	require.Equal(t, []string{"Key", "exposure"}, r.Rest())
	require.Empty(t, r.Unsaid("A"), "what only one has is no gap in the other")
}

func TestHowLightsAreMatched(t *testing.T) {
	for _, c := range []struct {
		what string
		a, b []string
		want [][3]string // in A, in B, how
	}{
		{"by name, whatever the case", []string{"{name: Card, role: fill, delta: 0}"}, []string{"{name: CARD, role: rim, delta: 0}"},
			[][3]string{{"Card", "CARD", "name"}}},
		{"a name before a role", []string{"{name: Card, role: fill, delta: 0}", "{name: Net, role: rim, delta: 0}"}, []string{"{name: Net, role: fill, delta: 0}"},
			[][3]string{{"Net", "Net", "name"}, {"Card", "", ""}}},
		{"by role, the nearest", []string{"{name: L, role: rim, delta: 0, place: \"150 left, 2\"}", "{name: R, role: rim, delta: 0, place: \"150 right, 2\"}"},
			[]string{"{name: Back, role: rim, delta: 0, place: \"140 right, 2\"}"},
			[][3]string{{"R", "Back", "role"}, {"L", "", ""}}},
		{"a role that says nothing is none", []string{"{name: One, role: other, delta: 0}"}, []string{"{name: Two, role: other, delta: 0}"},
			[][3]string{{"One", "", ""}, {"", "Two", ""}}},
		{"by place", []string{"{name: One, role: fill, delta: 0, place: {right: 1, front: 1, height: 1.5}}"},
			[]string{"{name: Two, role: accent, delta: 0, place: {right: 1.3, front: 1.2, height: 1.7}}"}, // 0.41 m apart
			[][3]string{{"One", "Two", "place"}}},
		{"not by a place too far", []string{"{name: One, role: fill, delta: 0, place: {right: 1, front: 1, height: 1.5}}"},
			[]string{"{name: Two, role: accent, delta: 0, place: {right: 1.4, front: 1.4, height: 1.5}}"}, // 0.57 m
			[][3]string{{"One", "", ""}, {"", "Two", ""}}},
	} {
		t.Run(c.what, func(t *testing.T) {
			r := Compare(lights(t, append([]string{key}, c.a...)...), lights(t, append([]string{key}, c.b...)...))
			got := [][3]string{}
			for _, p := range r.Lights {
				row := [3]string{"", "", p.How}
				if p.A != nil {
					row[0] = p.A.Name
				}
				if p.B != nil {
					row[1] = p.B.Name
				}
				if row[0] != "Key" {
					got = append(got, row)
				}
			}
			require.ElementsMatch(t, c.want, got)
		})
	}
	r := Compare(lights(t, key, "{name: Card, role: fill, delta: 2 under}"), lights(t, key, "{name: Wall, role: fill, delta: 1 under}"))
	require.Equal(t, "Card (Wall in B, matched by role) is 1.0 stops brighter in B", r.Words()[0])
}

func TestNamesFollowTheMatch(t *testing.T) {
	a := lights(t, key, "{name: Card, role: fill, delta: 1 under, source: bounce, lit by: Key}")
	b := lights(t, "{name: Main, role: key}", "{name: Card, role: fill, delta: 1 under, source: bounce, lit by: Main}")
	r := Compare(a, b)
	require.True(t, r.Same(), "%v", r.Words())
	require.Equal(t, "Key (Main in B)", r.Zero())
}

func TestTheMeterHeldDifferently(t *testing.T) {
	at := func(meter string) string { return "{name: Hair, role: hair, delta: 1 under, meter: " + meter + "}" }
	over := func(meter string) string { return "{name: Hair, role: hair, delta: 1 over, meter: " + meter + "}" }
	r := Compare(lights(t, key, at("\"crown, dome in\"")), lights(t, key, over("\"crown, dome out\"")))
	require.Equal(t, []Note{{"metered-differently", "Hair was metered at the crown, dome in, toward the light in A and at the crown, dome out, toward the light in B: its stops do not compare"}}, r.Notes)
	require.Empty(t, r.Words(), "two stops that do not compare are not said")
	require.False(t, r.Same())
	require.Nil(t, r.Lights[0].Stops)
	f := get(r.Lights[0].Facts, "delta")
	require.Equal(t, []any{-1.0, 1.0}, []any{f.A, f.B})
	require.True(t, f.Incomparable())

	r = Compare(lights(t, key, at("crown")), lights(t, key, over("\"crown, dome out\"")))
	require.Empty(t, r.Notes, "a dome that one does not speak of is no difference")
	require.Equal(t, []string{"The hair is 2.0 stops brighter in B"}, r.Words())

	// The key metered differently: nothing from it compares, what lights read does.
	r = Compare(lights(t, "{name: Key, role: key, meter: {toward: camera}}", "{name: Hair, role: hair, delta: 1 under}"), lights(t, key, "{name: Hair, role: hair, delta: 1 over}"))
	require.Equal(t, []Note{{"metered-differently", "Key, which stops are from, was metered at the face, toward the camera in A and at the face, toward the light in B: differences in stops do not compare"}}, r.Notes)
	require.Equal(t, []string{"The hair is 2.0 stops brighter as metered in B"}, r.Words())
	require.Equal(t, "", r.Zero())
}

func TestAnotherZero(t *testing.T) {
	// In A the window is 1 under the key; in B all is from the window, which the key
	// is 1.5 over, and the fill 0.5 under the window is 2 under the key.
	a := side(t, "title: A\nexposure: {key: f/8}\nlights:\n  - {name: Key, role: key}\n  - {name: Window, role: other, delta: 1 under}\n  - {name: Fill, role: fill, delta: 1.2 under}\n")
	b := side(t, "title: B\nexposure: {zero: Window}\nlights:\n  - {name: Window, role: other, reading: f/5.6}\n  - {name: Key, role: other, delta: 1.5 over}\n  - {name: Fill, role: fill, delta: 0.5 under}\n")
	r := Compare(a, b)
	require.Equal(t, []Note{{"zero-differs", "the zero is Key in A and Window in B: stops are from Key"}}, r.Notes)
	require.Equal(t, []string{"The fill is 0.8 stops darker in B", "Window is 0.5 stops darker in B"}, r.Words()[:2])
	// f/5.6 is 5, and the key 1.5 over it reads 6.5, half a stop over f/8.
	require.InDelta(t, 0.5, *get(r.Set[0].Facts, "key_av").Change, 1e-9)

	// From the same two files the other way round: the same light, the other sign.
	back := Compare(b, a)
	require.Equal(t, [2]string{"Key", "Key"}, back.From)
	require.Equal(t, "The fill is 0.8 stops brighter in B", back.Words()[0])

	// Ambient is the zero of one, and the key of the other has no match.
	c := side(t, "title: C\nexposure: {zero: ambient, ambient: f/4}\nlights:\n  - {name: Front, role: fill, delta: 1 over}\n")
	d := side(t, "title: D\nexposure: {key: f/8}\nlights:\n  - {name: Key, role: key}\n  - {name: Front, role: fill, delta: 2 under}\n")
	r = Compare(c, d)
	require.Equal(t, "zero-differs", r.Notes[0].Code)
	require.Equal(t, [2]string{}, r.From)
	// f/4 and one over is f/5.6; f/8 and two under is f/4: a stop darker as metered.
	require.Equal(t, []string{"The key (0) is in B only", "The fill"}, []string{r.Words()[0], "The fill"})
	require.Equal(t, "Front is 1.0 stops darker as metered in B", r.Words()[1])
}

func TestOffInALook(t *testing.T) {
	src := "title: T\nlooks: [{name: No hair, off: [Hair], delta: {Card: -2.6}}]\nlights:\n  - {name: Key, role: key}\n  - {name: Card, role: fill, delta: 1.6 under}\n  - {name: Hair, role: hair, delta: 0.4 over}\n"
	a := side(t, src)
	in, err := a.Setup.WithLook("no hair")
	require.NoError(t, err)
	r := Compare(a, computed(in))
	require.Equal(t, []string{"The hair is off in B", "Card is 1.0 stops darker in B"}, r.Words()[:2])
	r = Compare(computed(in), computed(in))
	require.True(t, r.Same())
	require.Equal(t, []string{"The hair is off in A", "Card is 1.0 stops brighter in B"}, Compare(computed(in), a).Words()[:2])
}

func TestTheRestOfTheSet(t *testing.T) {
	a := side(t, `title: A
exposure: {iso: 100, shutter: 1/125, key: f/8, aperture: f/8, white balance: 5400}
camera: {distance: 3.2, height: 1.3, lens: 85 mm, frame: upright}
subject: {kind: person, posture: standing, face: 1.55, turned: 20 left}
background: {kind: canvas, tone: olive, distance: 2.4, reading: f/4}
room: {left: 2, ceiling: 2.9}
lights: [{name: Key, role: key}, {name: Fill, role: fill, delta: 2 under}]
grip: [{name: Flag, kind: flag, place: {right: 1, front: 0, height: 1}, width: 0.6}]
`)
	b := side(t, `title: B
exposure: {iso: 200, shutter: 1/125, key: f/11, aperture: f/13, white balance: 5400}
camera: {distance: 2.8, height: 1.3, lens: 50 mm, frame: upright}
subject: {kind: person, posture: standing, face: 1.55, turned: 10 right}
background: {kind: canvas, tone: olive, distance: 2.4, reading: f/8}
room: {left: 2, ceiling: 2.4, right: 3}
lights: [{name: Key, role: key}, {name: Fill, role: fill, delta: 2 under}]
grip: [{name: Cutter, kind: flag, place: {right: 1, front: 0, height: 1.5}, width: 0.6}]
`)
	r := Compare(a, b)
	require.Equal(t, []string{
		"The flag (Cutter in B, matched by kind) is 50 cm higher in B",
		// f/13 is a third over f/11 (its exact step), where f/8 was on f/8.
		"Exposure: ISO 100 in A, 200 in B (+1.0 stops); key reads f/8 in A, f/11 in B (+1.0 stops); aperture f/8 in A, f/13 in B (+1.3 stops); camera on the reading in A, 0.3 closed in B (+0.3 stops)",
		"Camera: distance 3.20 m in A, 2.80 m in B (−40 cm); lens 85 mm in A, 50 mm in B (−35 mm)",
		"Subject: turned 20° left in A, 10° right in B (30°)",
		"Background: reads 2.0 under in A, 1.0 under in B (+1.0 stops)",
		"Room: ceiling 2.90 m in A, 2.40 m in B (−50 cm)",
	}, r.Words())
	require.Equal(t, []string{"Fill", "Key"}, r.Rest())
	require.Equal(t, []string{"room: right"}, r.Unsaid("A"))
	require.Empty(t, r.Unsaid("B"))
}

// The aperture went with the key: it is no difference of its own.
func TestTheApertureThatFollowsTheKey(t *testing.T) {
	a := side(t, "title: A\nexposure: {key: f/8, aperture: f/9}\nlights: [{name: Key, role: key}]\n")
	b := side(t, "title: B\nexposure: {key: f/5.6, aperture: f/6.3}\nlights: [{name: Key, role: key}]\n")
	require.Equal(t, []string{"Exposure: key reads f/8 in A, f/5.6 in B (−1.0 stops)"}, Compare(a, b).Words())
}

func TestOneLacksAReading(t *testing.T) {
	a := lights(t, key, "{name: Card, role: fill, delta: 1 under, modifier: bowl 0.2, power: 1/4}")
	b := side(t, "title: B\nlights: [{name: Key, role: key}, {name: Card, role: fill, delta: 1 under}]\n")
	r := Compare(a, b)
	require.Equal(t, []Note{{"no-reading", "B does not say what the key reads: what lights read does not compare"}}, r.Notes)
	require.True(t, r.Same())
	require.Equal(t, []string{"Card: power, modifier", "exposure: key reads"}, r.Unsaid("B"))
}

func TestMirrored(t *testing.T) {
	set := func(key, fill, hair string) Side {
		return side(t, "title: T\nbackground: {distance: 3}\nlights:\n  - {name: Key, role: key, place: \""+key+"\"}\n  - {name: Card, role: fill, delta: 1 under, place: \""+fill+
			"\"}\n  - {name: Hair, role: hair, delta: 0, place: \""+hair+"\"}\n  - {name: Wall, role: background, delta: 0, pair: each, place: {left: 1.3, behind: 1, height: 1}}\n")
	}
	a := set("45 left, 1.5", "60 right, 1", "180 left, 1.5")
	r := Compare(a, set("46 right, 1.55", "58 left, 0.95", "180 left, 1.5"))
	require.True(t, r.Mirrored)
	require.Equal(t, []Note{{"mirrored", "B looks like A mirrored: what is left in one is right in the other"}}, r.Notes)
	require.False(t, Compare(a, set("45 right, 1.5", "60 right, 1", "180 left, 1.5")).Mirrored, "the card stayed")
	require.False(t, Compare(a, set("45 right, 2.5", "60 left, 1", "180 left, 1.5")).Mirrored, "the key stands elsewhere")
	require.False(t, Compare(a, a).Mirrored)
	mid := set("0 left, 1.5", "180 left, 1", "180 left, 1.5")
	require.False(t, Compare(mid, mid).Mirrored, "on the axis nothing can be told")
}

func TestUnitsAreThoseOfA(t *testing.T) {
	a := side(t, "title: A\nunits: ft\nlights: [{name: Key, role: key, place: {right: 4, front: 0, height: 6}}]\n")
	b := side(t, "title: B\nunits: m\nlights: [{name: Key, role: key, place: {right: 1.524, front: 0, height: 1.8288}}]\n")
	// 1.524 m is 5 ft, by the definition of the foot: 0.3048 m.
	require.Equal(t, []string{"The key is 1 ft further away in B"}, Compare(a, b).Words())
	require.Equal(t, []string{"The key is 30 cm closer in B"}, Compare(b, a).Words())
}
