package check_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/exposure"
	"stopleaf/internal/randomset"
	"stopleaf/rebuild/check"
	"stopleaf/setup"
)

// recorded writes today's readings down and reads the file back.
func recorded(s *setup.Setup, src string, today check.Today) (r *check.Recorded, back *setup.Setup, err error) {
	if r, err = check.Record([]byte(src), s, s.File, today); err != nil {
		return &check.Recorded{}, nil, err
	}
	back, problems := setup.Parse(s.File, r.Text, setup.Options{NoPhotos: true})
	if back == nil {
		return r, nil, problems
	}
	return r, back, nil
}

// faithful says where a file is not what was metered: held against the same
// readings it must be all zeros, and what was not metered keeps its difference.
func faithful(s, back *setup.Setup, r *check.Recorded) string {
	today := r.Written
	for _, f := range check.Run(back, today).Lights {
		if f.Off != nil && math.Abs(*f.Off) > 0.001 {
			return fmt.Sprintf("%q is %v off", f.Name, *f.Off)
		}
	}
	given := map[int]bool{}
	for _, g := range today.Readings {
		for _, i := range g.Lights {
			given[i] = true
		}
	}
	for i := range s.Lights {
		a, b := &s.Lights[i], &back.Lights[i]
		if !given[i] && math.Abs(a.Delta-b.Delta) > 0.001 {
			return fmt.Sprintf("%q was not metered, and its difference went from %v to %v", a.Name, a.Delta, b.Delta)
		}
		if a.Name != b.Name || a.Role != b.Role {
			return fmt.Sprintf("%q became %q", a.Name, b.Name)
		}
		// A power that stays gives what now stands beside it.
		if k, n := s.Exposure.KeyAv, back.Exposure.KeyAv; k != nil && n != nil && b.Power != nil && a.Source == exposure.Flash {
			more := 0.0
			if today.ISO != nil && s.Exposure.ISO != nil {
				more = math.Log2(*today.ISO / *s.Exposure.ISO)
			}
			if d := *n + b.Delta - (*k + a.Delta + more); math.Abs(d) > 0.051 {
				return fmt.Sprintf("the power of %q stays, and its reading moved by %v", a.Name, d)
			}
		}
	}
	return ""
}

func TestRecordOfRandomSets(t *testing.T) {
	gen := randomset.Setups(1, 10)
	for seed := range min(howMany(), 400) {
		set := gen.Example(seed)
		src := set.YAML()
		s, problems := setup.Parse("random.yaml", []byte(src), setup.Options{NoPhotos: true})
		require.NotNil(t, s, "%v", problems)
		rnd := rand.New(rand.NewPCG(uint64(seed), 9))
		today := check.Today{}
		if rnd.IntN(3) == 0 {
			today.ISO = p([]float64{100, 320, 1600}[rnd.IntN(3)])
		}
		if rnd.IntN(3) == 0 {
			today.ShutterS = p([]float64{1. / 64, 1. / 70, 0.5}[rnd.IntN(3)])
		}
		var words []string
		zero := rnd.IntN(4) > 0
		if !zero {
			today.BaseAv = p(float64(rnd.IntN(80)) / 10)
		}
		word := func(name string, differ bool) {
			text := []string{"f/5.6", "8", "f/4 +0.3", "11 3/10", "6.3", "f/9.7", "2,8"}[rnd.IntN(7)]
			if differ && rnd.IntN(3) == 0 {
				text = []string{"-1.4", "0.7 over", "0", "-1 2/3"}[rnd.IntN(4)]
			}
			words = append(words, name+"="+text)
		}
		if zero && s.Exposure.Zero == exposure.Ambient {
			word("ambient", false)
		}
		for i := range s.Lights {
			l := &s.Lights[i]
			switch {
			case s.IsZero(l):
				if zero {
					word(l.Name, false)
				}
			case rnd.IntN(3) == 0:
			case l.Pair != nil && l.Pair.Side == "L" && rnd.IntN(2) == 0:
				word(l.Pair.Of, true)
			case l.Pair != nil && len(words) > 0 && strings.HasPrefix(words[len(words)-1], l.Pair.Of+"="): // both are given
			default:
				word(l.Name, true)
			}
		}
		today = read(t, s, today, words...)
		r, back, err := recorded(s, src, today)
		require.NoError(t, err, "seed %d: %q\n%s\n%s", seed, words, src, r.Text)
		if fault := faithful(s, back, r); fault != "" {
			t.Fatalf("seed %d: %s: %q\n%s\n%s", seed, fault, words, src, r.Text)
		}
	}
}

// The demos, the starters and the cases: every comment stays, every line that says
// nothing of readings stays as it was, in its order.
func TestRecordKeepsWhatItDoesNotChange(t *testing.T) {
	var files []string
	for _, glob := range []string{"../../templates/demo/*.yaml", "../../templates/starters/*.yaml", "../../testdata/ok/*.yaml"} {
		found, err := filepath.Glob(glob)
		require.NoError(t, err)
		files = append(files, found...)
	}
	require.Greater(t, len(files), 10)
	for _, file := range files {
		src, err := os.ReadFile(file)
		require.NoError(t, err)
		s, _ := setup.Parse(file, src, setup.Options{NoPhotos: true})
		if s == nil || !strings.Contains(string(src), "lights:") {
			continue // a gear file
		}
		today := check.Today{}
		if s.Exposure.Zero == exposure.Ambient {
			today.Readings = append(today.Readings, check.Given{Av: p(5.2), Text: "f/5.6 +0.2"})
		}
		for i := range s.Lights {
			today.Readings = append(today.Readings, check.Given{Lights: []int{i}, Av: p(5.2), Text: "f/5.6 +0.2"})
		}
		r, back, err := recorded(s, string(src), today)
		text := string(r.Text)
		require.NoError(t, err, "%s\n%s", file, text)
		assert.Empty(t, faithful(s, back, r), file)
		for _, line := range strings.Split(string(src), "\n") {
			if at := strings.Index(line, "#"); at >= 0 && !strings.ContainsAny(line[at:], "\"'") && !strings.Contains(line, "power") && !strings.Contains(line, "dimmer") {
				assert.Contains(t, text, strings.TrimSpace(line[at:]), file)
			}
		}
		rest := text
		for _, line := range strings.Split(string(src), "\n") {
			low := strings.ToLower(line)
			if strings.ContainsAny(low, "{[") || strings.Contains(low, "exposure") {
				continue // a line of several values
			}
			saysReading := false
			for _, key := range []string{"key:", "aperture", "reading", "delta", "power", "dimmer", "ambient", "pair", "metered", "shutter", "iso"} {
				saysReading = saysReading || strings.Contains(low, key)
			}
			if saysReading {
				continue
			}
			_, after, found := strings.Cut(rest, line)
			if !assert.True(t, found, "%s: the line %q is gone or out of its order", file, line) {
				break
			}
			rest = after
		}
	}
}

func TestRecordPlaceForPlace(t *testing.T) {
	const src = `# mine
title: Mine
exposure: {iso: 200, shutter: 1/125, key: f/8 +0.4, aperture: f/9, ambient: {reading: f/2}}   # as it was
lights:
  - {name: Key, role: key, power: 1/4}
  - name: Fill
    role: fill
    delta: 1.6 under        # by the card
    power: 1/8
  - {name: Hair, role: hair, reading: f/5.6}
  - {name: Rim, role: rim, delta: -1, pair: {metered: both}}
  - {name: Wall, role: background, delta: -1, pair: each}
  - {name: Lamp, role: other, delta: -3, source: continuous, dimmer: 50 %}
`
	s := parse(t, src)
	today := read(t, s, check.Today{ISO: p(400)}, "Key=8 5", "Fill=-1.4", "Rim L=f/5.6", "Rim R=5,6", "Wall L=f/4", "Wall R=EV 12")
	r, back, err := recorded(s, src, today)
	require.NoError(t, err)
	assert.Empty(t, faithful(s, back, r))
	assert.Equal(t, `# The readings of another day in the places of those of set (stopleaf check --record).
# Not metered, with the difference that was recorded: Hair, Lamp.
# Left out, for it was found at other readings: the room's own light, power of Key (1/4), power of
# Fill (1/8), dimmer of Lamp (50 %).
#
# mine
title: Mine
exposure: {iso: 400, shutter: 1/125, key: 8 5, aperture: f/8 +0.4}                            # as it was
lights:
  - {name: Key, role: key}
  - name: Fill
    role: fill
    delta: -1.4             # by the card
  - {name: Hair, role: hair, delta: 1.4 under}
  - {name: Rim, role: rim, reading: f/5.6, pair: {metered: each}}
  - {name: Wall, role: background, reading: [f/4, EV 12], pair: each}
  - {name: Lamp, role: other, delta: -3, source: continuous}
`, string(r.Text))
	assert.Equal(t, []string{"Not metered, with the difference that was recorded: Hair, Lamp.",
		"Left out, for it was found at other readings: the room's own light, power of Key (1/4), power of Fill (1/8), dimmer of Lamp (50 %)."}, r.Said)

	// One of a pair is not written for both.
	today = read(t, s, check.Today{}, "Key=f/8 +0.4", "Wall L=f/4", "Fill=f/4 +0.8")
	r, back, err = recorded(s, src, today)
	require.NoError(t, err)
	text := string(r.Text)
	assert.Contains(t, text, "{name: Wall, role: background, delta: -1, pair: each}")
	assert.Contains(t, text, "power: 1/4}", "what it was found at still holds")
	assert.Contains(t, text, "ambient: {reading: f/2}")
	assert.Equal(t, "Not written down: Wall, of which one was metered.", r.Said[len(r.Said)-1])
	assert.InDelta(t, -1.6, back.Lights[1].Delta, 1e-9)
}
