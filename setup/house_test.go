package setup

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
)

// TestHouseMistakes reads every file of testdata/house, each with mistakes that
// a person makes, and compares what is printed, byte for byte.
func TestHouseMistakes(t *testing.T) {
	files, err := filepath.Glob("../testdata/house/*.yaml")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 5)
	for _, file := range files {
		src, err := os.ReadFile(file)
		require.NoError(t, err)
		_, problems := ParseHouse("stopleaf.yaml", src)
		require.True(t, problems.HasErrors(), file)
		got := problems.Error() + "\n"
		out := strings.TrimSuffix(file, ".yaml") + ".out"
		if *update {
			require.NoError(t, os.WriteFile(out, []byte(got), 0o644))
		}
		want, err := os.ReadFile(out)
		require.NoError(t, err)
		assert.Equal(t, string(want), got, file)
	}
}

// housed reads a setup in a folder with a house file, or above which one lies.
func housed(t *testing.T, house, setup string) (*Setup, Problems) {
	t.Helper()
	top := t.TempDir()
	deep := filepath.Join(top, "2026", "march")
	require.NoError(t, os.MkdirAll(deep, 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(top, "stopleaf.yaml"), []byte(house), 0o644))
	path := filepath.Join(deep, "s.yaml")
	require.NoError(t, os.WriteFile(path, []byte(setup), 0o644))
	return Read(path, Options{})
}

const inHouse = `title: T
exposure: {key: 8 5}
camera: {distance: 320}
lights:
  - {name: Key, role: key}
  - {name: Fill, role: fill, reading: 8.5}
`

func TestHouse(t *testing.T) {
	s, problems := housed(t, "by: Halvard Studio\npaper: a4\nunits: cm\nbases: [f/4, 8.5]\nreadings: tenths\nprinted readings: thirds\nlanguage: en\nbag: 22 lb\ndpi: 300 dpi\nphoto resolution: 150\nalways: [tape measure, gaffer  tape, 2 clamps]\n", inHouse)
	require.NotNil(t, s, "%v", problems)
	assert.Empty(t, problems)
	h := s.House
	require.NotNil(t, h)
	assert.Equal(t, "Halvard Studio", s.By)
	assert.Equal(t, Centimetres, s.Units)
	assert.InDelta(t, 3.2, *s.Camera.Distance, 1e-9)
	assert.InDelta(t, 0, s.Lights[1].Delta, 1e-9) // 8.5 is f/8 and five tenths, as the key's "8 5"
	assert.Equal(t, "a4", h.Paper)
	assert.Equal(t, apex.StyleThirds, s.Style())
	assert.Equal(t, "en", h.Language)
	assert.InDelta(t, 22*0.45359237, *h.BagKg, 1e-9) // the pound, exactly
	assert.Equal(t, 300, *h.DPI)
	assert.Equal(t, 150, *h.PhotoDPI)
	assert.Equal(t, []string{"tape measure", "gaffer tape", "2 clamps"}, h.Always)
	bases, err := s.ChooseBases("")
	require.NoError(t, err)
	require.Len(t, bases, 2)
	assert.InDelta(t, 4, bases[0].Av, 1e-9)
	assert.InDelta(t, 6.5, bases[1].Av, 1e-9)
	bases, err = s.ChooseBases("f/11")
	require.NoError(t, err)
	assert.InDelta(t, 7, bases[0].Av, 1e-9)
	assert.Contains(t, s.Files, h.File)
}

// What the setup says comes before what the house says.
func TestSetupBeforeHouse(t *testing.T) {
	s, problems := housed(t, "by: Halvard Studio\nunits: cm\nbases: [f/4]\nreadings: tenths\n",
		"by: Me\nunits: m\n"+strings.Replace(strings.Replace(inHouse, "key: 8 5", "key: f/8, bases: [f/16], readings: decimal", 1), "320", "3.2", 1))
	require.NotNil(t, s, "%v", problems)
	assert.Equal(t, "Me", s.By)
	assert.Equal(t, Metres, s.Units)
	assert.InDelta(t, 3.2, *s.Camera.Distance, 1e-9)
	assert.InDelta(t, apex.Av(8.5)-6, s.Lights[1].Delta, 1e-9)
	bases, err := s.ChooseBases("")
	require.NoError(t, err)
	require.Len(t, bases, 1)
	assert.InDelta(t, 8, bases[0].Av, 1e-9)
}

// An empty house file marks a tree and settles nothing.
func TestEmptyHouse(t *testing.T) {
	for _, house := range []string{"", "# ours\n", "by:\n"} {
		s, problems := housed(t, house, smallest)
		require.NotNil(t, s, "%v", problems)
		assert.Empty(t, s.By)
		assert.Equal(t, Metres, s.Units)
		assert.Empty(t, s.Style())
	}
}

// A mistake in the house is told with its place and stops the setup.
func TestHouseInError(t *testing.T) {
	s, problems := housed(t, "by: Halvard\nunitz: cm\n", strings.Replace(smallest, "role: key", "rloe: key", 1))
	assert.Nil(t, s)
	require.Contains(t, codes(problems), "unknown-key")
	assert.Equal(t, "stopleaf.yaml", filepath.Base(problems[len(problems)-1].Pos.File))
	assert.Equal(t, 2, problems[len(problems)-1].Pos.Line)
	assert.Greater(t, len(problems), 1)
}

// The house is named as the setup is, from where one stands.
func TestHouseIsNamedFromHere(t *testing.T) {
	top := t.TempDir()
	require.NoError(t, os.MkdirAll(filepath.Join(top, "sub"), 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(top, "stopleaf.yaml"), []byte("bag: none\n"), 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(top, "sub", "s.yaml"), []byte(smallest), 0o644))
	t.Chdir(top)
	_, problems := Read(filepath.Join("sub", "s.yaml"), Options{})
	require.NotEmpty(t, problems)
	assert.Equal(t, "stopleaf.yaml", problems[0].Pos.File)
	t.Chdir("sub")
	_, problems = Read("s.yaml", Options{})
	require.NotEmpty(t, problems)
	assert.Equal(t, filepath.Join("..", "stopleaf.yaml"), problems[0].Pos.File)
}

// FuzzParseHouse: whatever the bytes, there is a house or an error with its
// place, and nothing panics.
func FuzzParseHouse(f *testing.F) {
	seeds(f, "../testdata/house/*.yaml")
	f.Add([]byte("by: Halvard Studio\npaper: a4\nunits: cm\nbases: [f/4, 8.5]\nbag: 22 lb\n"))
	f.Fuzz(func(t *testing.T, src []byte) {
		h, problems := ParseHouse("stopleaf.yaml", src)
		if h == nil {
			t.Fatal("no house")
		}
		lines := strings.Count(string(src), "\n") + strings.Count(string(src), "\r") + 1
		for _, p := range problems {
			if p.Message == "" || p.Code == "" || p.Pos.Line > lines || p.Pos.Line > 0 && p.Pos.Col < 1 || strings.Contains(p.Message, "yaml:") {
				t.Fatalf("badly worded or placed: %q %+v", p.String(), p.Pos)
			}
		}
		if h.BagKg != nil && !(*h.BagKg >= 0.5 && *h.BagKg <= 50) || len(h.Bases) > maxBases && !problems.HasErrors() {
			t.Fatalf("out of bounds: %+v", h)
		}
	})
}

// Two bases that print alike are warned of where readings are settled.
func TestBasesAlike(t *testing.T) {
	s, problems := housed(t, "bases: [f/8, f/8 +0.1, f/11]\nprinted readings: thirds\n", smallest)
	require.NotNil(t, s, "%v", problems)
	bases, err := s.ChooseBases("")
	require.NoError(t, err)
	n := exposure.Compute(s.Input(bases))
	found := Check(s, &n)
	require.Contains(t, codes(found), "bases-alike")
	for _, p := range found {
		if p.Code == "bases-alike" {
			assert.Equal(t, "the bases f/8 and f/8 +0.1 are both printed as f/8", p.Message)
			assert.Equal(t, 2, p.Pos.Line)
			assert.Equal(t, s.House.File, p.Pos.File)
		}
	}
}
