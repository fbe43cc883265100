package binder

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stopleaf/internal/randomset"
	"stopleaf/setup"
)

const plainSet = "title: T\nlights:\n  - {name: Key, role: key}\n"

// folder makes files by their paths in a new folder and moves the test there,
// so that paths are short and stable.
func folder(t *testing.T, files map[string]string) {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		path := filepath.Join(dir, filepath.FromSlash(name))
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o777))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o666))
	}
	t.Chdir(dir)
}

func paths(s *Shelf) []string {
	out := []string{}
	for _, it := range s.Items {
		out = append(out, filepath.ToSlash(it.Path))
	}
	return out
}

func said(ps setup.Problems) []string {
	out := []string{}
	for _, p := range ps {
		out = append(out, fmt.Sprintf("%s: %s: %s", filepath.ToSlash(p.Pos.String()), p.Level, p.Code))
	}
	return out
}

func TestReadTakesTheSetupsOfATree(t *testing.T) {
	folder(t, map[string]string{
		"b/one.yaml":         plainSet,
		"b/deep/er/two.yaml": plainSet,
		"a.yaml":             plainSet,
		"gear.yaml":          "heads: [{name: a, energy: 400}]\n",
		"notes.yaml":         "notes: |\n  lights:\n",
		"cables.yaml":        "{[\n",
		"set.txt":            plainSet,
		".git/hidden.yaml":   plainSet,
		"b/.hidden.yaml":     plainSet,
		"odd":                plainSet,
	})
	s := Read([]string{"."}, Options{})
	require.Equal(t, []string{"a.yaml", "b/deep/er/two.yaml", "b/one.yaml"}, paths(s))
	require.Empty(t, s.All())
	require.Len(t, s.Setups(), 3)

	s = Read([]string{"odd", "b"}, Options{})
	require.Equal(t, []string{"b/deep/er/two.yaml", "b/one.yaml", "odd"}, paths(s), "a file that is named is a setup, whatever it is called")
}

func TestReadGoesOnAfterABrokenSetup(t *testing.T) {
	folder(t, map[string]string{
		"a.yaml": plainSet,
		"b.yaml": "title: B\nlights:\n  - {name: Key, rloe: key}\n  - {name: Rim, role: rim, delta: 1.6}\n",
		"c.yaml": "title: C\nlights:\n  - {name: Key, role: key\n  - x\n",
		"d.yaml": "title: D\nlights: []\n",
	})
	s := Read([]string{"."}, Options{})
	require.Equal(t, []string{"a.yaml", "b.yaml", "c.yaml", "d.yaml"}, paths(s))
	require.Len(t, s.Setups(), 1)
	require.True(t, len(s.Items[1].Problems) >= 2, "all its mistakes: %v", s.Items[1].Problems)
	for _, it := range s.Items[1:] {
		require.True(t, it.Problems.HasErrors(), it.Path)
		require.Equal(t, string(it.Path[0]), it.Code())
	}
}

func TestReadFindsCodesThatAreAlike(t *testing.T) {
	folder(t, map[string]string{
		"a.yaml":      "code: B-1\n" + plainSet,
		"b/x.yaml":    "title: X\ncode: b-1\nlights:\n  - {name: Key, role: key}\n",
		"c/tues.yaml": plainSet,
		"d/tues.yaml": plainSet,
		"e.yaml":      "code: B-2\n" + plainSet,
	})
	s := Read([]string{"."}, Options{})
	require.Len(t, s.Setups(), 5)
	require.Len(t, s.Problems, 2)
	require.Equal(t, "b/x.yaml:2:1: the code \"b-1\" is also that of a.yaml:1:1", firstLine(s.Problems[0]))
	require.Equal(t, "d/tues.yaml: the code \"tues\" is also that of c/tues.yaml", firstLine(s.Problems[1]))
}

func firstLine(p setup.Problem) string {
	p.Hint = ""
	return filepath.ToSlash(p.String())
}

func TestReadTakesAFileOnceHoweverItIsReached(t *testing.T) {
	folder(t, map[string]string{"b/one.yaml": plainSet, "b/two.yaml": plainSet})
	here, err := os.Getwd()
	require.NoError(t, err)
	named := []string{"b", "./b/one.yaml", "b/../b", filepath.Join(here, "b", "two.yaml"), "."}
	for range 20 {
		rand.Shuffle(len(named), func(i, j int) { named[i], named[j] = named[j], named[i] })
		s := Read(named, Options{})
		require.Equal(t, []string{"b/one.yaml", "b/two.yaml"}, paths(s))
		require.Empty(t, s.All())
	}
}

func TestReadFollowsNoLinkOut(t *testing.T) {
	folder(t, map[string]string{"in/a.yaml": plainSet, "out/b.yaml": plainSet, "out/c.txt": "x"})
	link := func(to, at string) {
		t.Helper()
		if err := os.Symlink(filepath.FromSlash(to), filepath.FromSlash(at)); err != nil {
			t.Skip("no symbolic links here")
		}
	}
	link("../out", "in/folder")
	link("../out/b.yaml", "in/file.yaml")
	link("../out/c.txt", "in/c.txt") // what is no setup is nobody's business
	link("nowhere.yaml", "in/gone.yaml")
	link(".", "in/ring")
	link("a.yaml", "in/same.yaml")
	link("self.yaml", "in/self.yaml")
	s := Read([]string{"in"}, Options{})
	require.Equal(t, []string{"in/a.yaml"}, paths(s))
	require.Equal(t, []string{"in/file.yaml: warning: link-out", "in/folder: warning: link-out"}, said(s.Problems))

	s = Read([]string{"in/folder", "in/same.yaml", "in/a.yaml"}, Options{})
	require.Equal(t, []string{"in/a.yaml", "in/folder/b.yaml"}, paths(s), "a link that is named is meant")
	require.Empty(t, s.Problems)
}

// Gear and photos may not leave the folder by a link either, and what is looked up
// once for many setups is what each alone finds.
func TestReadOfPathsThatLeadOut(t *testing.T) {
	files := map[string]string{"out/gear.yaml": "heads: [{name: h, energy: 400}]\n", "in/gear.yaml": "heads: [{name: h, energy: 400}]\n", "in/sub/x.txt": ""}
	for i, gear := range []string{"gear.yaml", "link.yaml", "way/gear.yaml", "ring/gear.yaml", "gone.yaml", "sub/none/gear.yaml", "same.yaml", "void.yaml", "../out/gear.yaml"} {
		files[fmt.Sprintf("in/%d.yaml", i)] = fmt.Sprintf("code: C%d\ngear: %s\nphotos: [{file: %s}]\n%s", i, gear, gear, plainSet)
	}
	folder(t, files)
	for at, to := range map[string]string{"in/link.yaml": "../out/gear.yaml", "in/way": "../out", "in/ring": "ring", "in/same.yaml": "gear.yaml", "in/void.yaml": "nowhere.yaml"} {
		if err := os.Symlink(filepath.FromSlash(to), filepath.FromSlash(at)); err != nil {
			t.Skip("no symbolic links here")
		}
	}
	opt := setup.Options{NoPhotos: true}
	s := Read([]string{"in"}, Options{Setup: opt})
	outside := 0
	for _, it := range s.Items {
		alone, problems := setup.Read(it.Path, opt)
		require.Equal(t, alone, it.Setup, it.Path)
		require.Equal(t, problems, it.Problems, it.Path)
		for _, p := range problems {
			if p.Code == "outside" {
				outside++
			}
		}
	}
	require.Len(t, s.Items, 9)
	require.Equal(t, 10, outside, "the gear and the photo of five of them: %v", s.All())
}

func TestReadIsBounded(t *testing.T) {
	files := map[string]string{"deep/1/2/3/4/x.yaml": plainSet}
	for i := range 10 {
		files[fmt.Sprintf("many/%d.yaml", i)] = fmt.Sprintf("code: C%d\n%s", i, plainSet)
		files[fmt.Sprintf("plain/%d.txt", i)] = ""
	}
	folder(t, files)
	s := Read([]string{"many"}, Options{Limits: Limits{Setups: 7}})
	require.Len(t, s.Items, 7)
	require.Equal(t, []string{"many/7.yaml: error: too-many-setups"}, said(s.Problems))
	require.Len(t, Read([]string{"many"}, Options{Limits: Limits{Setups: 10}}).Items, 10)

	s = Read([]string{"deep"}, Options{Limits: Limits{Depth: 3}})
	require.Empty(t, s.Items)
	require.Equal(t, []string{"deep/1/2/3/4: error: too-deep"}, said(s.Problems))
	require.Len(t, Read([]string{"deep"}, Options{Limits: Limits{Depth: 4}}).Items, 1)

	s = Read([]string{"many", "plain"}, Options{Limits: Limits{Entries: 15}})
	require.Len(t, s.Items, 10)
	require.Equal(t, []string{"plain: error: too-many-files"}, said(s.Problems))
}

func TestReadSaysWhatIsNotThere(t *testing.T) {
	folder(t, map[string]string{"a.yaml": plainSet})
	s := Read([]string{"nowhere", "a.yaml"}, Options{})
	require.Equal(t, []string{"a.yaml"}, paths(s))
	require.Equal(t, []string{"nowhere: error: cannot-read"}, said(s.Problems))
}

func TestReadCountsItsProgress(t *testing.T) {
	files := map[string]string{}
	for i := range 150 {
		files[fmt.Sprintf("%d.yaml", i)] = fmt.Sprintf("code: C%d\n%s", i, plainSet)
	}
	folder(t, files)
	last := 0
	s := Read([]string{"."}, Options{Progress: func(done, total int) {
		require.Equal(t, 150, total)
		require.Equal(t, last+1, done)
		last = done
	}})
	require.Len(t, s.Items, 150)
	require.Equal(t, 150, last)
}

// What Each keeps of a setup stays with its item, and the setup may go: codes and
// files are known all the same.
func TestReadLetsSetupsGo(t *testing.T) {
	files := map[string]string{"z/twice.yaml": "code: c7\n" + plainSet, "z/broken.yaml": "title: B\nlights: 3\n", "gear.yaml": "heads: [{name: h, energy: 400}]\n"}
	for i := range 100 {
		files[fmt.Sprintf("a/%02d.yaml", i)] = fmt.Sprintf("code: C%d\ngear: ../gear.yaml\n%s", i, plainSet)
	}
	files["stopleaf.yaml"] = ""
	folder(t, files)
	s := Read([]string{"."}, Options{Each: func(it *Item) { it.Of, it.Setup = it.Setup.Code, nil }})
	require.Len(t, s.Items, 102)
	require.Empty(t, s.Setups())
	for i, it := range s.Items[:100] {
		require.Equal(t, fmt.Sprintf("C%d", i), it.Of)
		require.Equal(t, it.Of, it.Code())
		require.False(t, it.Broken())
	}
	require.True(t, s.Items[100].Broken())
	require.Nil(t, s.Items[100].Of)
	require.Equal(t, []string{"z/twice.yaml:1:1: error: code-twice"}, said(s.Problems))
	require.Contains(t, s.Files(), "gear.yaml")
	require.Contains(t, s.Files(), filepath.FromSlash("a/00.yaml"))
}

// A shelf holds what Read of each file alone gives, gear files that several share
// included, in the order of the paths whatever the order they are named in.
func TestReadIsReadOfEach(t *testing.T) {
	t.Chdir(t.TempDir())
	rapid.Check(t, func(rt *rapid.T) {
		dir, err := os.MkdirTemp(".", "s")
		require.NoError(rt, err)
		defer os.RemoveAll(dir)
		require.NoError(rt, os.WriteFile(filepath.Join(dir, "gear.yaml"), []byte("units: cm\nheads: [{name: h, energy: 400}, {name: h}]\nmodifiers: [{name: m, kind: softbox, width: 60, height: 90}]\n"), 0o666))
		var names []string
		for i := range rapid.IntRange(1, 4).Draw(rt, "files") {
			set := randomset.Setups(1, 6).Draw(rt, "set")
			if rapid.Bool().Draw(rt, "gear") {
				set.Top = append(set.Top, "gear: gear.yaml")
			}
			names = append(names, filepath.Join(dir, fmt.Sprintf("%d.yaml", i)))
			require.NoError(rt, os.WriteFile(names[i], []byte(set.YAML()), 0o666))
		}
		opt := setup.Options{NoPhotos: true}
		whole := Read([]string{dir}, Options{Setup: opt})
		shuffled := rapid.Permutation(names).Draw(rt, "order")
		each := Read(shuffled, Options{Setup: opt})
		require.Equal(rt, whole, each)
		require.Len(rt, whole.Items, len(names))
		for i, it := range whole.Items {
			s, problems := setup.Read(names[i], opt)
			require.Equal(rt, s, it.Setup)
			require.Equal(rt, problems, it.Problems)
		}
	})
}
