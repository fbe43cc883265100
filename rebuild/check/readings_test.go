package check_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/rebuild/check"
	"stopleaf/setup"
)

const names = `title: Names
exposure: {iso: 200, shutter: 1/125, key: f/8, ambient: {reading: f/1.4}}
looks: [{name: No hair, off: [Hair]}]
lights:
  - {name: Main, role: key}
  - {name: Fill, role: fill, delta: -1}
  - {name: Hair, role: hair, delta: -1}
  - {name: Rim, role: rim, delta: -1, pair: each}
  - {name: Wall, role: background, delta: -1, pair: both}
  - {name: "Top=1.2 m: low", role: accent, delta: -1}
  - {name: "9", role: accent, delta: -1}
grip:
  - {name: Flag, kind: flag}
`

// What a name stands for, by the numbers of the lights, and what was read there.
func TestNamesAndNotations(t *testing.T) {
	s := parse(t, names)
	for word, want := range map[string]struct {
		lights [][]int
		av     float64
		diff   float64
	}{
		"Fill=f/5.6":           {lights: [][]int{{1}}, av: 5},
		"fill=5.6":             {lights: [][]int{{1}}, av: 5},
		"FILL = f/5.6 ":        {lights: [][]int{{1}}, av: 5},
		"Fill=5,6":             {lights: [][]int{{1}}, av: 5}, // a decimal comma
		"Fill=f/5.6+0.3":       {lights: [][]int{{1}}, av: 5.3},
		"Fill=f/5.6 +0.3":      {lights: [][]int{{1}}, av: 5.3},
		"Fill=5.6 3/10":        {lights: [][]int{{1}}, av: 5.3},
		"Fill=8 5":             {lights: [][]int{{1}}, av: 6.5},
		"Fill=f/6.3":           {lights: [][]int{{1}}, av: 16. / 3},
		"Fill=EV 12":           {lights: [][]int{{1}}, av: 5}, // at 1/128 s
		"Fill=EV100 11":        {lights: [][]int{{1}}, av: 5}, // one stop less at ISO 100
		"Fill=-1.4":            {lights: [][]int{{1}}, diff: -1.4},
		"Fill=1.4 under":       {lights: [][]int{{1}}, diff: -1.4},
		"Fill=0,4 over":        {lights: [][]int{{1}}, diff: 0.4},
		"Fill=−1⅓":             {lights: [][]int{{1}}, diff: -4. / 3},
		"Fill=0":               {lights: [][]int{{1}}},
		"2=f/5.6":              {lights: [][]int{{1}}, av: 5},
		"#2=f/5.6":             {lights: [][]int{{1}}, av: 5},
		"Key=f/8":              {lights: [][]int{{0}}, av: 6}, // by its part
		"Main=f/8":             {lights: [][]int{{0}}, av: 6},
		"Rim L=f/8":            {lights: [][]int{{3}}, av: 6},
		"rim  r=f/8":           {lights: [][]int{{4}}, av: 6},
		"Rim=f/8":              {lights: [][]int{{3}, {4}}, av: 6}, // each alone
		"Wall=f/8":             {lights: [][]int{{5, 6}}, av: 6},   // both together
		"Wall L=f/8":           {lights: [][]int{{5}}, av: 6},
		"Top=1.2 m: low=f/5.6": {lights: [][]int{{7}}, av: 5},
		"9=f/5.6":              {lights: [][]int{{8}}, av: 5}, // the light of that name, whatever the number
		"Ambient=f/2":          {lights: [][]int{nil}, av: 2},
	} {
		r := check.NewReader(s, nil, nil)
		r.Word(word)
		given, problems := r.Readings()
		require.Empty(t, problems, word)
		require.Len(t, given, len(want.lights), word)
		for i, g := range given {
			assert.Equal(t, want.lights[i], g.Lights, word)
			if g.Av != nil {
				assert.InDelta(t, want.av, *g.Av, 1e-12, word)
			} else {
				assert.InDelta(t, want.diff, *g.Difference, 1e-12, word)
			}
		}
	}
}

// Today's ISO and shutter are what an exposure value is worked out with.
func TestExposureValuesOfToday(t *testing.T) {
	s := parse(t, names)
	r := check.NewReader(s, p(400), p(1./64))
	r.Word("Fill=EV 12")
	r.Word("Hair=EV100 12")
	given, problems := r.Readings()
	require.Empty(t, problems)
	assert.InDelta(t, 6, *given[0].Av, 1e-12)
	assert.InDelta(t, 8, *given[1].Av, 1e-12)
}

// said are the problems, one a line, the hint in brackets.
func said(ps setup.Problems) string {
	var out []string
	for _, p := range ps {
		line := p.Pos.String() + ": " + p.Message
		if p.Hint != "" {
			line += " (" + p.Hint + ")"
		}
		out = append(out, line)
	}
	return strings.Join(out, "\n")
}

// What is typed wrongly at the end of a long day, all of it told at once.
func TestWordsGoWrong(t *testing.T) {
	s := parse(t, names)
	for words, want := range map[string]string{
		"Filll=f/5.6":       `Filll=f/5.6: there is no light "Filll" (did you mean "Fill"?)`,
		"Riim=f/5.6":        `Riim=f/5.6: there is no light "Riim" (did you mean "Rim"?)`,
		"Spot=f/5.6":        `Spot=f/5.6: there is no light "Spot" (the lights are Main, Fill, Hair, Rim L, Rim R, Wall L, Wall R, Top=1.2 m: low, 9; a number of the table does too)`,
		"Flag=f/8":          `Flag=f/8: "Flag" gives no light, and has no reading (the lights are Main, Fill, Hair, Rim L, Rim R, Wall L, Wall R, Top=1.2 m: low, 9; a number of the table does too)`,
		"Fill":              `Fill: "Fill" is no reading (write NAME=READING, such as Fill=f/5.6, without a space at the =; in quotes where the name has one: 'Rim L=f/8')`,
		"Fill=":             `Fill=: "Fill" has no reading (write it after the name, without a space: Fill=f/5.6)`,
		"Fill=f/5.6|+0.3":   `+0.3: "+0.3" stands alone, without a light (put what has a space in it in quotes: 'Fill=f/5.6 +0.3')`,
		"Fill=f/1.4|under":  `under: "under" stands alone, without a light (put what has a space in it in quotes: 'Fill=f/5.6 +0.3')`,
		"Fill=f/5.6 +1.3":   `Fill=f/5.6 +1.3: "f/5.6 +1.3" adds a whole stop or more (what follows a mark is less than one stop, such as +0.3, +1/3 or 3/10)`,
		"Fill=f/5.6, f/8":   `Fill=f/5.6, f/8: "f/5.6, f/8" is not understood after the mark (write +0.3, +1/3, 3/10, or one digit for tenths)`,
		"Fill=-1 under":     `Fill=-1 under: "-1 under" has both a sign and a word (write -1.7 or 1.7 under)`,
		"Fill=bright":       `Fill=bright: "bright" is not a reading (write f/11, f/11 +0.3, 11 3/10, "8 5" or EV 13.3)`,
		"Fill=f/4|2=f/5.6":  `2=f/5.6: "Fill" is given twice, first as "Fill=f/4" (keep the one that was metered last)`,
		"Rim=f/4|Rim L=f/4": `Rim L=f/4: "Rim L" is given twice, first as "Rim=f/4" (keep the one that was metered last)`,
		"Key=-0.3":          `Key=-0.3: "Key" is what every difference is from, and has none of its own (give what it reads, such as Key=f/8)`,
		"Fil=f/4|Hair=x|5=": "Fil=f/4: there is no light \"Fil\" (did you mean \"Fill\"?)\n" +
			"Hair=x: \"x\" is not a reading (write f/11, f/11 +0.3, 11 3/10, \"8 5\" or EV 13.3)\n" +
			"5=: \"5\" has no reading (write it after the name, without a space: 5=f/5.6)",
		"Fill=8.5": `Fill=8.5: "8.5" is taken as f/8.5; it could also mean f/8 and five tenths (f/9.5) (write the mark and the tenths, or settle it with "readings" under "exposure" in the setup)`,
	} {
		r := check.NewReader(s, nil, nil)
		for _, w := range strings.Split(words, "|") {
			r.Word(w)
		}
		_, problems := r.Readings()
		assert.Equal(t, want, said(problems), words)
	}
}

func TestWhatTheRecordCannotCompare(t *testing.T) {
	bare := parse(t, "title: Bare\nlights: [{name: Key, role: key}, {name: Fill, role: fill, delta: -1}]\n")
	r := check.NewReader(bare, nil, nil)
	r.Word("Fill=EV 12")
	r.Word("Ambient=f/2")
	_, problems := r.Readings()
	assert.Equal(t, `Fill=EV 12: "EV 12" is an exposure value, and the shutter is not known (add --shutter 1/125, or give the reading as an f-number)`+"\n"+
		`Ambient=f/2: the record does not say what the room's own light read, with the key (it has no "ambient" and "key" under "exposure" to hold this against)`, said(problems))

	look, err := parse(t, names).WithLook("No hair")
	require.NoError(t, err)
	r = check.NewReader(look, nil, nil)
	r.Word("Hair=f/8")
	_, problems = r.Readings()
	assert.Equal(t, `Hair=f/8: "Hair" is off in the look "No hair" (take its reading out, or leave --look out)`, said(problems))
}

func TestFilesOfReadings(t *testing.T) {
	s := parse(t, names)
	r := check.NewReader(s, nil, nil)
	r.File("today.yaml", []byte("\ufeff# on the day\r\n---\r\n\r\nMain: f/8   # with the dome out\r\n  Fill: \"f/5.6 +0.3\"\r\n'Rim L': 5,6\r\n\"Top=1.2 m: low\": f/4\nWall = f:8\n"))
	given, problems := r.Readings()
	require.Empty(t, problems)
	require.Len(t, given, 5)
	for i, want := range []float64{6, 5.3, 5, 4, 6} {
		assert.InDelta(t, want, *given[i].Av, 1e-12)
	}
	assert.Equal(t, setup.Pos{File: "today.yaml", Line: 5, Col: 3}, given[1].Pos)

	for src, want := range map[string]string{
		"":                       "today: there are no readings in it (write one NAME: READING a line, such as Fill: f/5.6)",
		"# nothing yet\n\n":      "today: there are no readings in it (write one NAME: READING a line, such as Fill: f/5.6)",
		"Fill\n":                 `today:1:1: "Fill" is no reading (write NAME: READING, such as Fill: f/5.6)`,
		"\n  Filll: f/4\n":       `today:2:3: there is no light "Filll" (did you mean "Fill"?)`,
		"Fill:   f/5.6 +1.3\n":   `today:1:9: "f/5.6 +1.3" adds a whole stop or more (what follows a mark is less than one stop, such as +0.3, +1/3 or 3/10)`,
		"Fill:\n":                `today:1:6: "Fill" has no reading (write it after the name: Fill: f/5.6)`,
		"Fill: f/4\n2: f/5.6\n":  `today:2:1: "Fill" is given twice, first at today:1:1 (keep the one that was metered last)`,
		"\xff\xfe\n":             "today:1:1: the line is not text (save the file as UTF-8)",
		"Fil: 4\nHair: x\nz: 1.": "today:1:1: there is no light \"Fil\" (did you mean \"Fill\"?)\ntoday:2:7: \"x\" is not a reading (write f/11, f/11 +0.3, 11 3/10, \"8 5\" or EV 13.3)\n" + `today:3:1: there is no light "z" (the lights are Main, Fill, Hair, Rim L, Rim R, Wall L, Wall R, Top=1.2 m: low, 9; a number of the table does too)`,
	} {
		r := check.NewReader(s, nil, nil)
		r.File("today", []byte(src))
		_, problems := r.Readings()
		assert.Equal(t, want, said(problems), "%q", src)
	}
	r = check.NewReader(s, nil, nil)
	r.File("today", []byte("Fill: f/4\n"))
	r.Word("Fill=f/5.6")
	_, problems = r.Readings()
	assert.Equal(t, `Fill=f/5.6: "Fill" is given twice, first at today:1:1 (keep the one that was metered last)`, said(problems))
}

// A difference without its sign is an aperture, and a doubtful one.
func TestDoubts(t *testing.T) {
	s := parse(t, strings.Replace(names, "name: Fill, role: fill, delta: -1", "name: Fill, role: fill, delta: -1.6", 1))
	r := run(t, s, check.Today{}, "Key=f/8", "Fill=1.4", "Hair=1.2", "Rim=5.6")
	assert.Equal(t, `Fill=1.4: "1.4" of "Fill" is taken as f/1.4 (a difference has its sign or its word: -1.4, or '1.4 under')`+"\n"+
		`Hair=1.2: "1.2" of "Hair" is taken as f/1.2 (a difference has its sign or its word: -1.2, or '1.2 under')`, said(r.Doubts()))
	r = run(t, s, check.Today{}, "Key=f/2.8", "Fill=1.4", "Hair=f/8")
	assert.Empty(t, r.Doubts())
}

// A reading that no light comes to is asked about, and so is its decimal point.
func TestFarOff(t *testing.T) {
	r := run(t, parse(t, names), check.Today{}, "Key=f/8", "Fill=f/56", "Hair=f/45", "Rim=f/16")
	assert.Contains(t, said(r.Doubts()), `"f/56" of "Fill" is 6.6 stops off (was a decimal point left out, or put in? read the meter again)`)
	assert.NotContains(t, said(r.Doubts()), "Rim")
}

// FuzzReadings: whatever the bytes, each reading is of a light that there is, and
// finite, or there is an error with its place.
func FuzzReadings(f *testing.F) {
	for _, seed := range []string{"Main: f/8\nFill: -1.4\n", "Rim=EV 12", "9: 8 5 # x", "Top=1.2 m: low: f/5.6", "\"Fill\": 'f/4'", "Fill:f:8", "2=⅓", "---\n\xff", "Ambient: f/2", ":=", "Fill: EV100 30"} {
		f.Add([]byte(seed))
	}
	s := parse(f, names)
	f.Fuzz(func(t *testing.T, src []byte) {
		r := check.NewReader(s, nil, nil)
		r.File("today", src)
		r.Word(string(src))
		given, problems := r.Readings()
		if len(given) == 0 && len(problems) == 0 && !strings.Contains(string(src), "0") { // Key=0 says nothing
			t.Fatal("neither a reading nor a problem")
		}
		for _, p := range problems {
			if p.Message == "" || p.Pos.File == "" && len(src) > 0 {
				t.Fatalf("a problem without a place or a word: %+v", p)
			}
		}
		for _, g := range given {
			for _, i := range g.Lights {
				if i < 0 || i >= len(s.Lights) {
					t.Fatalf("no light %d", i)
				}
			}
			if (g.Av == nil) == (g.Difference == nil) {
				t.Fatal("neither an aperture nor a difference, or both")
			}
			if v := g.Av; v != nil && (math.IsNaN(*v) || math.Abs(*v) > 30) {
				t.Fatalf("an aperture of %v", *v)
			}
		}
		if _, problems := r.Readings(); !problems.HasErrors() {
			today := check.Today{Readings: given}
			if !check.NeedsBase(s, today) {
				check.Run(s, today)
			}
		}
	})
}
