package setup_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"stopleaf/exposure"
	"stopleaf/internal/randomset"
	"stopleaf/setup"
)

// figures are a setup's own numbers, as a script would see them.
func figures(t *testing.T, s *setup.Setup) string {
	t.Helper()
	bases, err := s.ChooseBases("")
	require.NoError(t, err)
	b, err := json.Marshal(exposure.Compute(s.Input(bases)))
	require.NoError(t, err)
	return string(b)
}

// holds asserts that the canonical file of a setup stands for it.
func holds(t *testing.T, s *setup.Setup) {
	t.Helper()
	src := s.Canonical(setup.Nothing)
	var any map[string]any
	require.NoError(t, yaml.Unmarshal(src, &any), "%s", src)
	name := filepath.Join(t.TempDir(), "back.yaml")
	back, problems := setup.Parse(name, src, setup.Options{NoPhotos: true})
	require.NotNil(t, back, "%v\n%s", problems, src)
	assert.Equal(t, string(src), string(back.Canonical(setup.Nothing)), "its own canonical file")
	assert.Equal(t, figures(t, s), figures(t, back), "the same figures to the last digit\n%s", src)
	assert.Equal(t, s.Title, back.Title)
	assert.Equal(t, s.Code, back.Code)
	assert.Equal(t, s.Notes, back.Notes)
	assert.Equal(t, s.LookNames(), back.LookNames())

	short := s.Canonical(setup.Notes)
	lean := *s
	lean.Lean(src)
	assert.Equal(t, string(src), string(lean.Canonical(setup.Nothing)), "lean")
	assert.Equal(t, string(short), string(lean.Canonical(setup.Notes)), "lean, without notes")
}

func TestCanonicalOfDemosAndStarters(t *testing.T) {
	files, err := filepath.Glob("../templates/*/*.yaml")
	require.NoError(t, err)
	ok, err := filepath.Glob("../testdata/ok/*.yaml")
	require.NoError(t, err)
	n := 0
	for _, file := range append(files, ok...) {
		src, err := os.ReadFile(file)
		require.NoError(t, err)
		if !setup.IsSetup(src) {
			continue
		}
		t.Run(filepath.Base(file), func(t *testing.T) {
			s, problems := setup.Parse(file, src, setup.Options{NoPhotos: true})
			require.NotNil(t, s, "%v", problems)
			holds(t, s)
		})
		n++
	}
	assert.Greater(t, n, 9)
}

func TestCanonicalOfRandomSets(t *testing.T) {
	n := 200
	if os.Getenv("STOPLEAF_CI") == "1" {
		n = 2000
	}
	gen := randomset.Setups(1, 20)
	for seed := range n {
		src := gen.Example(seed).YAML()
		s, problems := setup.Parse("random.yaml", []byte(src), setup.Options{NoPhotos: true})
		if s == nil {
			require.True(t, problems.HasErrors())
			continue
		}
		holds(t, s)
		if t.Failed() {
			t.Fatalf("seed %d\n%s", seed, src)
		}
	}
}

func TestCanonicalText(t *testing.T) {
	dir := t.TempDir()
	write := func(name, src string) {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(src), 0o644))
	}
	write("stopleaf.yaml", "by: Halvard Studio\nunits: cm\nbag: 10 kg\n")
	write("gear.yaml", "units: in\nheads:\n  - {name: small, energy: 200 Ws, range: 6}\n  - {name: unused, energy: 500 Ws}\nmodifiers:\n  - {name: big, kind: softbox, width: 40, height: 60}\n")
	write("tuesday.yaml", `# a comment
lights:
  - role: key
    Name: 'Key: the big one'
    head: SMALL
    power: 1/4 +0.2
    modifier: big
    place: 55 left, 140, 215 high
    private: the client's own
    note: "two\nlines"
title:   Window  seat
gear: gear.yaml
private: never
notes: |
  One.
    Two.
`)
	s, problems := setup.Read(filepath.Join(dir, "tuesday.yaml"), setup.Options{})
	require.NotNil(t, s, "%v", problems)
	assert.Equal(t, `title: Window  seat
code: tuesday
notes: |-
  One.
    Two.
gear:
  units: in
  heads:
    - name: small
      energy: 200 Ws
      range: 6
  modifiers:
    - name: big
      kind: softbox
      width: 40
      height: 60
lights:
  - name: "Key: the big one"
    role: key
    place: 55 left, 140, 215 high
    modifier: big
    head: SMALL
    power: 1/4 +0.2
    note: |-
      two
      lines
house:
  by: Halvard Studio
  units: cm
  bag: 10 kg
`, string(s.Canonical(setup.Nothing)))
	without := string(s.Canonical(setup.Notes))
	for _, gone := range []string{"One.", "two", "never", "client"} {
		assert.NotContains(t, without, gone)
	}
	assert.Contains(t, without, "power: 1/4 +0.2")
	holds(t, s)
}

// Every text means itself again, whatever is in it: read by the YAML library.
func TestCanonicalTexts(t *testing.T) {
	for _, text := range []string{"a: b", "a #b", "#a", "- a", "-1", "-", "? a", "*a", "&a", "!a", "%a", "@a", "`a", "null", "~", "Null", "true", "1.0", "{a}", "[a]", "a, b",
		"a\nb", "a\n\nb", "a\n  b", "a \nb", "a\tb", "a\u00a0b", "\U0001F4F7", "é", "\"", "'", "\\", "a:", "<<", "---", "a\u2028b", "1: 2", "x'y", strings.Repeat("long ", 300) + "end"} {
		for _, file := range []string{"title: %\nlights: [{role: key}]\n", "title: x\nlights: [{role: key, modifier: {kind: %}}]\n", "title: x\ntags: [%]\nlights: [{role: key}]\n",
			"title: x\nnotes: %\nlights: [{role: key, name: %, note: %}]\n"} {
			quoted, err := json.Marshal(text)
			require.NoError(t, err)
			src := strings.ReplaceAll(file, "%", string(quoted))
			s, problems := setup.Parse("x.yaml", []byte(src), setup.Options{})
			require.NotNil(t, s, "%v %s", problems, src)
			holds(t, s)
			back, _ := setup.Parse("x.yaml", s.Canonical(setup.Nothing), setup.Options{})
			assert.Equal(t, s.Tags, back.Tags)
			assert.Equal(t, s.Lights[0].Name, back.Lights[0].Name)
			assert.Equal(t, s.Lights[0].Note, back.Lights[0].Note)
		}
	}
}

// Gear and house in the file itself mean what they mean in files of their own,
// and come before a house file above it.
func TestOneFile(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "stopleaf.yaml"), []byte("by: Another\nunits: in\nbag: 5 kg\npaper: a4\n"), 0o644))
	src, err := os.ReadFile("../testdata/ok/one-file.yaml")
	require.NoError(t, err)
	s, problems := setup.Parse(filepath.Join(dir, "one-file.yaml"), src, setup.Options{})
	require.NotNil(t, s, "%v", problems)
	assert.Equal(t, "Halvard Studio", s.By)
	assert.Empty(t, s.House.Paper, "the whole house file gives way")
	assert.Equal(t, 10.0, *s.House.BagKg)
	assert.InDelta(t, 6.5, *s.Exposure.KeyAv, 1e-9, "8.5 is f/8 and five tenths")
	assert.InDelta(t, 1.4, s.Lights[0].Place.Distance(), 1e-9, "bare lengths in the house's units")
	assert.InDelta(t, 1.2, *s.Lights[0].Modifier.Height, 1e-9, "the gear's own units")
	assert.Equal(t, 200.0, *s.Lights[0].Head.EnergyWs)
	bases, err := s.ChooseBases("")
	require.NoError(t, err)
	assert.Len(t, bases, 2)

	_, problems = setup.Parse("x.yaml", []byte("title: x\nlights: [{role: key}]\nhouse: {bag: heavy, units: yards, sign: x}\n"), setup.Options{})
	assert.Len(t, problems, 3, "%v", problems)
}
