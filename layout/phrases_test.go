package layout

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
	"stopleaf/safety"
	"stopleaf/setup"
	"stopleaf/setup/grammar"
	"stopleaf/templates"
)

func english(t testing.TB) templates.Words {
	t.Helper()
	w, err := templates.Load("en")
	require.NoError(t, err)
	return w
}

// set reads a setup written in a test and works it out.
func set(t testing.TB, src string) Job {
	t.Helper()
	s, problems := setup.Parse("case.yaml", []byte(src), setup.Options{})
	require.NotNil(t, s, "%v", problems)
	bases, err := s.ChooseBases("")
	require.NoError(t, err)
	n, w := exposure.Compute(s.Input(bases)), english(t)
	return Job{Setup: s, Numbers: &n, Safety: safety.Notes(s, &n, w), Words: w, Source: NewSource(s)}
}

func at(deg, metres float64) *setup.Place { // degrees clockwise as seen from above, from the camera
	a := deg * math.Pi / 180
	return &setup.Place{Right: -metres * math.Sin(a), Front: metres * math.Cos(a)}
}

// The camera stands at six; the face of the clock is seen from above, so that
// what stands at the camera's left is at nine.
func TestClockText(t *testing.T) {
	for _, c := range []struct {
		left float64 // degrees from the camera over camera left
		want string
	}{
		{0, "6:00"}, {45, "7:30"}, {55, "7:45"}, {90, "9:00"}, {135, "10:30"}, {180, "12:00"}, {270, "3:00"}, {315, "4:30"},
		{3.7, "6:00"}, {3.8, "6:15"}, {356.3, "6:00"}, {356.2, "5:45"}, {176, "11:45"}, {184, "12:15"}, {195, "12:30"},
	} {
		assert.Equal(t, c.want, clockText(at(c.left, 1.4)), "%v° left", c.left)
	}
	assert.Empty(t, clockText(nil))
	assert.Empty(t, clockText(&setup.Place{}), "on the mark there is no direction")
}

func length1(v float64) *float64 { return &v }

func TestPlaceTexts(t *testing.T) {
	w := english(t)
	for _, c := range []struct {
		p              *setup.Place
		u              setup.Units
		place, measure string
	}{
		{nil, "m", "place ______", ""},
		{&setup.Place{}, "m", "on the mark", ""},
		{&setup.Place{Right: 0.003, Front: -0.003}, "m", "on the mark", ""},
		{&setup.Place{Right: -1.1468, Front: 0.8030}, "m", "55° left, 1.40", "1.15 left, 0.80 front"},
		{&setup.Place{Right: 0.9, Front: 0.3}, "m", "72° right, 0.95", "0.90 right, 0.30 front"},
		{&setup.Place{Front: 1.2}, "m", "in front, 1.20", "1.20 front"},
		{&setup.Place{Front: -1.2}, "m", "behind, 1.20", "1.20 behind"},
		{&setup.Place{Right: 1.3, Front: -1.5}, "cm", "139° right, 198", "130 right, 150 behind"},
		{&setup.Place{Right: -1.2192}, "ft", "90° left, 4 ft", "4 ft left"},
		{&setup.Place{Right: -1.2192, Front: 0.0127}, "in", "89° left, 48 in", "48 in left, ½ in front"},
	} {
		assert.Equal(t, c.place, placeText(c.p, w, c.u))
		assert.Equal(t, c.measure, measureText(c.p, w, c.u))
	}
}

func TestHeightText(t *testing.T) {
	w := english(t)
	assert.Empty(t, heightText(nil, w, "m"))
	assert.Equal(t, "height ______", heightText(&setup.Place{}, w, "m"))
	assert.Equal(t, "2.15", heightText(&setup.Place{Height: length1(2.15)}, w, "m"))
	assert.Equal(t, "2.15, edge 1.60", heightText(&setup.Place{Height: length1(2.15), Lower: length1(1.5985)}, w, "m"))
	assert.Equal(t, "215, edge 160", heightText(&setup.Place{Height: length1(2.15), Lower: length1(1.5985)}, w, "cm"))
	assert.Equal(t, "7 ft, edge 5 ft 3 in", heightText(&setup.Place{Height: length1(7 * 0.3048), Lower: length1(5.25 * 0.3048)}, w, "ft"))
}

// Words for a range are rounded inward: what is promised can be done.
func TestRangeTextRoundsInward(t *testing.T) {
	job := Job{Words: english(t), Numbers: &exposure.Numbers{}}
	r := &job.Numbers.BaseRange
	assert.Empty(t, rangeText(job))
	r.LowAv, r.HighAv, r.LowBy, r.HighBy = length1(3.01), length1(8.29), []string{"Hair"}, []string{"lens", "Key"}
	assert.Equal(t, []string{"f/2.8 +0.1 to f/16 +0.2; below it stops Hair, above the lens, Key"}, rangeText(job))
	r.LowAv, r.HighAv = length1(3), length1(8)
	assert.Contains(t, rangeText(job)[0], "f/2.8 to f/16;")
	r.LowAv, r.HighAv = length1(5.11), length1(5.19)
	assert.NotContains(t, strings.Join(rangeText(job), ""), " to ", "no tenth lies inside")
	r.LowAv, r.HighAv = nil, nil
	assert.Equal(t, []string{"none; Hair and the lens, Key cannot both"}, rangeText(job))
}

func TestDifferenceTexts(t *testing.T) {
	w := english(t)
	for delta, want := range map[float64]string{0: "as key", 0.04: "as key", -0.04: "as key", -1.6: "1.6 under", 0.4: "0.4 over", -2 - 2.0/3: "2.7 under"} {
		assert.Equal(t, want, differenceText(delta, w), "%v", delta)
	}
	assert.Equal(t, "−150 mired", strings.TrimPrefix(gelText(&setup.Gel{Name: "blue", Mired: length1(-150)}, w), "gel blue "))
	assert.Equal(t, "gel blue", gelText(&setup.Gel{Name: "blue"}, w))
	assert.Equal(t, "3:1", ratioText(3.03))
	assert.Equal(t, "4.1:1", ratioText(4.06))
}

// A vertical through a light's mark reads its target on every ruler: the
// rulers' ticks stand one stop apart, each base's own mark under difference 0.
func TestRulersReadTargets(t *testing.T) {
	job := set(t, `
title: rulers
exposure: {key: f/8, bases: [f/5.6, f/8, f/11]}
lights:
  - {name: Key, role: key}
  - {name: Fill, role: fill, delta: -1.5}
  - {name: Rim, role: rim, delta: +1}
  - {name: Hair, role: hair, delta: +1}
`)
	b := &rulers{job, &format{}}
	b.f.Type.Text = 2.5
	w := Mm(120)
	p := &pen{}
	b.draw(p, Rect{Mm(10), Mm(10), w, b.least(w)})
	perStop := b.x(w, 1) - b.x(w, 0)
	figures := map[Um]map[Um]string{} // ruler's y, then x: what stands there
	number := map[string]Um{}
	for _, it := range p.items {
		v, ok := it.(*Text)
		if !ok {
			continue
		}
		mid := v.X + v.W/2
		if v.Kind == "number" {
			number[v.S] = mid
			continue
		}
		if figures[v.Y] == nil {
			figures[v.Y] = map[Um]string{}
		}
		figures[v.Y][mid] = v.S
	}
	assert.Contains(t, number, "3 4", "lights that read alike share a mark")
	near := func(x Um, row map[Um]string) (Um, string) {
		var best Um = 1 << 40
		var s string
		for at, f := range row {
			if abs(at-x) < abs(best-x) {
				best, s = at, f
			}
		}
		return best, s
	}
	rows := 0
	for _, row := range figures {
		zero, mark := near(number["1"], row)
		av, ok := map[string]float64{"0": 0, "5.6": 5, "8": 6, "11": 7}[mark]
		if !ok || abs(zero-number["1"]) > 1 {
			continue
		}
		rows++
		_, over := near(number["3 4"], row)
		assert.Contains(t, []string{"+1", "8", "11", "16"}, over)
		if av > 0 {
			assert.Equal(t, strings.TrimPrefix(apex.Mark(av+1), "f/"), over)
			at, under := near(number["2"]-perStop/2, row)
			assert.Equal(t, strings.TrimPrefix(apex.Mark(av-2), "f/"), under)
			assert.InDelta(t, float64(number["2"]-at), float64(perStop)/2, 2, "half a stop above it")
		}
	}
	assert.Equal(t, 4, rows, "one ruler of differences and one for each base")
}

func TestScales(t *testing.T) {
	for _, u := range []setup.Units{"m", "cm", "ft", "in"} {
		all := scales(u)
		for i, s := range all {
			if i > 0 {
				assert.Greater(t, s.den, all[i-1].den, "the largest first")
			}
			assert.Equal(t, s, scaleOf(s.den, u))
		}
	}
	assert.Equal(t, "1:30", scaleOf(30, "m").text)
	assert.Equal(t, "1/2 in = 1 ft", scaleOf(24, "ft").text)
	assert.Equal(t, "1:24", scaleOf(24, "m").text)
	assert.Equal(t, Um(50_000), scaleOf(20, "m").um(1))
	assert.Equal(t, Um(-50_000), scaleOf(20, "m").um(-1))
	assert.Equal(t, Um(12_700), scaleOf(24, "ft").um(0.3048), "half an inch to the foot")
}

// All built-in formats are read, and every block and field that they name is
// known; a mistake in one is told with what is allowed.
func TestFormats(t *testing.T) {
	job := set(t, "title: one\nlights: [{name: Key, role: key}]\n")
	assert.Equal(t, []string{"4x6", "5x8", "a4", "a5", "a6", "half-letter", "letter"}, Papers())
	for _, paper := range Papers() {
		f, err := loadFormat("card", paper)
		require.NoError(t, err, paper)
		assert.Equal(t, paper, f.Name)
		assert.NotEmpty(t, f.Sides, paper)
		for _, n := range append(append(f.Sides, f.Next...), f.Filler...) {
			_, err := (&builder{job: job, f: f, made: map[string]box{}}).build(n)
			assert.NoError(t, err, paper)
			for _, field := range fieldsOf(n) {
				assert.Contains(t, grammar.LightFields, field, paper)
			}
			for _, name := range n.Give {
				assert.True(t, named1(n, name), "%s: %q gives way and is not there", paper, name)
			}
		}
		for _, name := range append(f.Strip, f.StripNext...) {
			assert.NotContains(t, job.Words.T("title."+name), "‹", paper)
		}
		for _, c := range []float64{f.Type.Text, f.Type.Target, f.Type.Balloon} {
			assert.GreaterOrEqual(t, Mm(c), smallestUsedCap, paper)
		}
	}
	_, err := loadFormat("card", "a3")
	assert.EqualError(t, err, `paper "a3" is not known; there are 4x6, 5x8, a4, a5, a6, half-letter, letter`)
	_, err = Card([]Job{job}, CardOptions{Paper: "a3"})
	assert.ErrorContains(t, err, `paper "a3" is not known`)
	for _, paper := range []string{"../a5", "", "a5.yaml", "A5\x00"} {
		_, err := loadFormat("card", paper)
		assert.Error(t, err, "%q", paper)
	}
}

func fieldsOf(n node) []string {
	var out []string
	for _, c := range n.Columns {
		out = append(out, c...)
	}
	for _, c := range append(append([]node{}, n.Across...), n.Down...) {
		out = append(out, fieldsOf(c)...)
	}
	return out
}

func named1(n node, name string) bool {
	if n.Block != "" {
		return n.name() == name
	}
	for _, c := range append(append([]node{}, n.Across...), n.Down...) {
		if named1(c, name) {
			return true
		}
	}
	return false
}

func TestUnknownBlock(t *testing.T) {
	job := set(t, "title: one\nlights: [{name: Key, role: key}]\n")
	var f format
	require.NoError(t, yaml.Unmarshal([]byte("{name: mine, width: 100, height: 80, sides: [{down: [lights, pictures]}]}"), &f))
	_, err := cardPages(job, &f, backSide)
	require.Error(t, err)
	assert.ErrorContains(t, err, `format mine: no block is called "pictures"; there are photo, plan, side, lights`)
	_, err = cardPages(job, &format{Name: "mine", Width: 100, Height: 80}, backSide)
	assert.ErrorContains(t, err, "format mine has no sides")
}

// No wording is missing: whatever a page says, no key stands on it.
func TestNoWordIsMissing(t *testing.T) {
	names, err := filepath.Glob("../templates/demo/*.yaml")
	require.NoError(t, err)
	for _, name := range names {
		src, err := os.ReadFile(name)
		require.NoError(t, err)
		if !setup.IsSetup(src) {
			continue
		}
		s, problems := setup.Read(name, setup.Options{})
		require.NotNil(t, s, "%v", problems)
		bases, err := s.ChooseBases("")
		require.NoError(t, err)
		n, w := exposure.Compute(s.Input(bases)), english(t)
		job := Job{Setup: s, Numbers: &n, Safety: safety.Notes(s, &n, w), Words: w, Source: NewSource(s)}
		for _, paper := range Papers() {
			doc, err := Card([]Job{job}, CardOptions{Paper: paper, Rulers: true})
			require.NoError(t, err)
			for i := range doc.Pages {
				assert.Empty(t, Check(&doc.Pages[i]), "%s %s page %d", name, paper, i+1)
				Walk(doc.Pages[i].Items, func(it Item) {
					if x, ok := it.(*Text); ok {
						assert.NotContains(t, x.S, "‹", "%s %s", name, paper)
						assert.NotContains(t, x.S, "{", "%s %s", name, paper)
					}
				})
			}
		}
	}
}
