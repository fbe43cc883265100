package setup

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const smallest = "title: T\nlights:\n  - {role: key}\n"

func codes(ps Problems) []string {
	var out []string
	for _, p := range ps {
		out = append(out, p.Code)
	}
	return out
}

func parse(src string) (*Setup, Problems) {
	return Parse("t.yaml", []byte(src), Options{NoPhotos: true})
}

func TestSizeBound(t *testing.T) {
	fits := smallest + "notes: " + strings.Repeat("x", maxBytes-len(smallest)-len("notes: \n")) + "\n"
	require.Len(t, fits, maxBytes)
	s, problems := parse(fits)
	require.NotNil(t, s, "%v", problems)
	_, problems = parse(fits + "\n")
	require.Equal(t, []string{"too-large"}, codes(problems))
}

func TestReadStopsAtTheBound(t *testing.T) {
	path := filepath.Join(t.TempDir(), "big.yaml")
	require.NoError(t, os.WriteFile(path, []byte(smallest), 0o644))
	require.NoError(t, os.Truncate(path, 1<<33)) // 8 GiB with nothing in it
	start := time.Now()
	_, problems := Read(path, Options{})
	require.Equal(t, []string{"too-large"}, codes(problems))
	assert.Less(t, time.Since(start), 2*time.Second)
}

// TestAliasBomb: ten levels of ten aliases stand for ten thousand million
// values in 400 bytes.
func TestAliasBomb(t *testing.T) {
	var b strings.Builder
	b.WriteString("title: T\na: &a0 [x,x,x,x,x,x,x,x,x,x]\n")
	for i := 1; i < 10; i++ {
		fmt.Fprintf(&b, "a%d: &a%d [%s]\n", i, i, strings.TrimSuffix(strings.Repeat(fmt.Sprintf("*a%d,", i-1), 10), ","))
	}
	start := time.Now()
	_, problems := parse(b.String())
	require.Equal(t, []string{"too-many-nodes"}, codes(problems))
	assert.Less(t, time.Since(start), time.Second)
}

// TestLargeAndBroken: a mebibyte of wrong lines is told in reasonable time.
func TestLargeAndBroken(t *testing.T) {
	for name, src := range map[string]string{
		"keys":     strings.Repeat("k: 1\n", 9000),
		"indent":   "title: T\n" + strings.Repeat("notes: x\n", 20000) + "   y: 2\n",
		"brackets": strings.Repeat("[", 100000),
		"lights":   "lights:\n" + strings.Repeat("  - {role: key, plce: 1}\n", 6000),
		"quote":    "title: \"" + strings.Repeat("a\n", 300000),
	} {
		start := time.Now()
		s, problems := parse(src)
		assert.Nil(t, s, name)
		assert.NotEmpty(t, problems, name)
		assert.Less(t, time.Since(start), 5*time.Second, name)
		t.Log(name, time.Since(start))
	}
}

func TestLightsBound(t *testing.T) {
	many := func(n int) string {
		return "title: T\nlights:\n  - {role: key}\n" + strings.Repeat("  - {role: rim, delta: -1}\n", n-1)
	}
	s, problems := parse(many(64))
	require.NotNil(t, s, "%v", problems)
	assert.Equal(t, "Rim 63", s.Lights[63].Name)
	_, problems = parse(many(65))
	assert.Equal(t, []string{"too-many-lights"}, codes(problems))
	pairs := "title: T\nlights:\n  - {role: key}\n" + strings.Repeat("  - {role: rim, delta: -1, pair: each}\n", 32)
	_, problems = parse(pairs)
	assert.Equal(t, []string{"too-many-lights"}, codes(problems))
}

func TestFigureBounds(t *testing.T) {
	for text, ok := range map[string]bool{
		"camera: {distance: 0}": true, "camera: {distance: 100}": true, "camera: {distance: 100.01}": false,
		"camera: {distance: -0.01}": false, "camera: {distance: .inf}": false, "camera: {distance: -.inf}": false,
		"camera: {distance: .nan}": false, "camera: {distance: NaN}": false, "camera: {distance: 1e400}": false,
		"exposure: {iso: 0}": false, "exposure: {iso: .nan}": false, "exposure: {shutter: 1/0}": false,
		"exposure: {key: f/0}": false, "exposure: {key: .inf}": false, "exposure: {white balance: .inf}": false,
		"room: {ceiling: 999 ft}": false, "units: ft\nroom: {ceiling: 300}": true, "units: cm\nroom: {ceiling: 300}": true,
	} {
		s, problems := parse(text + "\n" + smallest)
		assert.Equal(t, ok, s != nil, "%s: %v", text, problems)
	}
	for delta, ok := range map[string]bool{"-20": true, "+20": true, "-20.1": false, "+20.1": false, ".nan": false, "-.inf": false, "20 over": true} {
		s, problems := parse(smallest + "  - {role: fill, delta: " + delta + "}\n")
		assert.Equal(t, ok, s != nil, "%s: %v", delta, problems)
	}
}

// TestLinksMayNotLeave: a symbolic link inside the tree does not open what is
// outside it.
func TestLinksMayNotLeave(t *testing.T) {
	outside, tree := t.TempDir(), t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(outside, "gear.yaml"), []byte("heads: [{name: h}]\n"), 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(tree, "inside.yaml"), []byte("heads: [{name: h}]\n"), 0o644))
	require.NoError(t, os.Symlink(outside, filepath.Join(tree, "folder")))
	require.NoError(t, os.Symlink(filepath.Join(outside, "gear.yaml"), filepath.Join(tree, "link.yaml")))
	require.NoError(t, os.Symlink(filepath.Join(outside, "nothing.yaml"), filepath.Join(tree, "dangling.yaml")))
	require.NoError(t, os.Symlink("loop.yaml", filepath.Join(tree, "loop.yaml")))
	require.NoError(t, os.Symlink("inside.yaml", filepath.Join(tree, "near.yaml")))
	path := filepath.Join(tree, "s.yaml")
	for gear, want := range map[string]string{
		"link.yaml": "outside", "folder/gear.yaml": "outside", "dangling.yaml": "outside", "loop.yaml": "outside",
		"folder/../gear.yaml": "gear-file", "../gear.yaml": "outside", "folder/nothing/../../x": "gear-file",
		filepath.Join(outside, "gear.yaml"): "outside", "near.yaml": "", "inside.yaml": "", "./inside.yaml": "",
		filepath.Join(tree, "inside.yaml"): "", "none.yaml": "gear-file", ".": "gear-file",
	} {
		require.NoError(t, os.WriteFile(path, []byte("gear: "+gear+"\n"+smallest), 0o644))
		s, problems := Read(path, Options{})
		if want == "" {
			assert.NotNil(t, s, "%s: %v", gear, problems)
			continue
		}
		assert.Equal(t, []string{want}, codes(problems), gear)
	}
	require.NoError(t, os.WriteFile(path, []byte("gear: link.yaml\nphotos: [folder/x.jpg]\n"+smallest), 0o644))
	s, problems := Read(path, Options{AllowOutside: true})
	require.NotNil(t, s, "%v", problems)
	assert.Equal(t, []string{"photo-missing"}, codes(problems))
	assert.Error(t, s.Photos[0].Err)
}

// TestHouseFileWidensTheTree: the root is the folder of the nearest house file
// upward.
func TestHouseFileWidensTheTree(t *testing.T) {
	top := t.TempDir()
	deep := filepath.Join(top, "2026", "bread")
	require.NoError(t, os.MkdirAll(deep, 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(top, "gear.yaml"), []byte("heads: [{name: h}]\n"), 0o644))
	path := filepath.Join(deep, "s.yaml")
	require.NoError(t, os.WriteFile(path, []byte("gear: ../../gear.yaml\n"+smallest), 0o644))
	_, problems := Read(path, Options{})
	require.Equal(t, []string{"outside"}, codes(problems))
	require.NoError(t, os.WriteFile(filepath.Join(top, "stopleaf.yaml"), []byte("by: house\n"), 0o644))
	s, problems := Read(path, Options{})
	require.NotNil(t, s, "%v", problems)
	assert.Equal(t, top, s.Root)
}

func TestReadFromStandardInput(t *testing.T) {
	s, problems := Read("-", Options{Stdin: strings.NewReader(smallest)})
	require.NotNil(t, s, "%v", problems)
	assert.Equal(t, "-", s.File)
	assert.Empty(t, s.Files)
	assert.Empty(t, s.Code)
	_, problems = Read("-", Options{})
	assert.Equal(t, []string{"cannot-read"}, codes(problems))
	_, problems = Read(t.TempDir(), Options{})
	assert.Equal(t, []string{"cannot-read"}, codes(problems))
	_, problems = Read(filepath.Join(t.TempDir(), "none.yaml"), Options{})
	require.Equal(t, []string{"cannot-read"}, codes(problems))
	assert.Equal(t, "there is no such file", problems[0].Message)
}

func TestByteOrderMarkAndLineEnds(t *testing.T) {
	s, problems := parse("\ufeff" + strings.ReplaceAll(smallest, "\n", "\r\n"))
	require.NotNil(t, s, "%v", problems)
	assert.Empty(t, problems)
	assert.Equal(t, "T", s.Title)
}

func TestIsSetup(t *testing.T) {
	for src, want := range map[string]bool{
		smallest: true, "Lights: []\n": true, "a: {lights: 1}\n": false, "heads: []\n": false, "": false,
		"- lights\n": false, "lights\n": false, "lights: [\n": true, "title: lights\n": false, " lights: [\n": false,
		"title: lights: x\n": false, "\xff\nlights: 1\n": true, ": [\nlights": false,
	} {
		assert.Equal(t, want, IsSetup([]byte(src)), src)
	}
}
