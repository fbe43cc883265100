package main

import (
	"bytes"
	goflag "flag"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/binder"
	"stopleaf/layout"
	"stopleaf/setup"
)

var update = goflag.Bool("update", false, "draw the README's pictures anew; then look at them")

// The README shows what the program draws today.
func TestReadmePictures(t *testing.T) {
	dir := t.TempDir()
	for _, args := range [][]string{
		{"card", "../../templates/demo/bread.yaml", "--no-source", "-o", filepath.Join(dir, "card.svg")},
		{"plan", "../../templates/demo/bread.yaml", "--no-source", "-o", filepath.Join(dir, "plan.svg")},
	} {
		var out, errs bytes.Buffer
		require.Equal(t, exitDone, run(args, nil, &out, &errs), errs.String())
	}
	for made, shown := range map[string]string{"card-1.svg": "card.svg", "plan.svg": "plan.svg"} {
		got, err := os.ReadFile(filepath.Join(dir, made))
		require.NoError(t, err)
		path := filepath.Join("../../testdata/readme", shown)
		if *update {
			require.NoError(t, os.WriteFile(path, got, 0o644))
			continue
		}
		want, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.True(t, bytes.Equal(want, got), "%s is not what the program draws: go test ./cmd/stopleaf -run Readme -update, and look at it", shown)
	}
}

// The README shows what check prints today.
func TestReadmeCheck(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	shown := regexp.MustCompile("(?s)```\n\\$ stopleaf (check bread.yaml [^\n]*)\n(.*?)```").FindSubmatch(text)
	require.NotNil(t, shown)
	args := strings.Fields(string(shown[1]))
	args[1] = "../../templates/demo/bread.yaml"
	_, out, errs := ran(args...)
	assert.Empty(t, errs)
	assert.Equal(t, string(shown[2]), out)
}

// Every setup in the README is one the program reads, and so are its page formats
// and its house file.
func TestReadmeSetups(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	blocks := regexp.MustCompile("(?s)```yaml\n(.*?)```").FindAllSubmatch(text, -1)
	require.NotEmpty(t, blocks)
	for _, b := range blocks {
		switch first, _, _ := strings.Cut(string(b[1]), "\n"); first {
		case "# my-card.yaml", "# my-sheet.yaml", "# my-stands.yaml":
			document := strings.TrimSuffix(strings.TrimPrefix(first, "# my-"), ".yaml")
			_, problems := layout.ParseFormat(document, first, b[1])
			assert.Empty(t, problems)
			continue
		case "# binder.yaml":
			_, problems := binder.ParseConfig("binder.yaml", b[1])
			assert.Empty(t, problems)
			continue
		case "# gear.yaml":
			lines := strings.ReplaceAll(string(b[1]), "\n", "\n  ")
			s, problems := setup.Parse("x.yaml", []byte("title: x\nlights: [{role: key, head: compact-400, modifier: long-strip, stand: tall-stand}]\ngear:\n  "+lines+"\n"), setup.Options{})
			require.NotNil(t, s, "%v", problems)
			assert.Empty(t, problems)
			continue
		case "# stopleaf.yaml":
			_, problems := setup.ParseHouse("stopleaf.yaml", b[1])
			assert.Empty(t, problems)
			continue
		}
		s, problems := setup.Parse("../../templates/demo/readme.yaml", b[1], setup.Options{NoPhotos: true})
		require.NotNil(t, s, "%v", problems)
		assert.Empty(t, problems, "%v", problems)
	}
}

// DEVELOPERS.md names folders and functions that are there.
func TestDevelopersNamesWhatIsThere(t *testing.T) {
	page, err := os.ReadFile("../../DEVELOPERS.md")
	require.NoError(t, err)
	for _, m := range regexp.MustCompile("(?m)^\\| `([a-z/]+)` \\|").FindAllSubmatch(page, -1) {
		_, err := os.Stat(filepath.Join("../..", string(m[1])))
		assert.NoError(t, err)
	}
	known := map[string]map[string]bool{}
	found := 0
	for _, m := range regexp.MustCompile(`\b(setup|exposure|safety|layout|templates)\.([A-Z]\w+)`).FindAllSubmatch(page, -1) {
		pkg, name := string(m[1]), string(m[2])
		if known[pkg] == nil {
			known[pkg] = exported(t, filepath.Join("../..", pkg))
		}
		assert.True(t, known[pkg][name], "%s.%s", pkg, name)
		found++
	}
	assert.Greater(t, found, 8)
}

// exported gives the exported names of the package in a folder, methods too.
func exported(t *testing.T, dir string) map[string]bool {
	t.Helper()
	names := map[string]bool{}
	files, err := filepath.Glob(filepath.Join(dir, "*.go"))
	require.NoError(t, err)
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), f, nil, parser.SkipObjectResolution)
		require.NoError(t, err)
		ast.Inspect(file, func(n ast.Node) bool {
			switch d := n.(type) {
			case *ast.FuncDecl:
				names[d.Name.Name] = true
				return false
			case *ast.TypeSpec:
				names[d.Name.Name] = true
			}
			return true
		})
	}
	return names
}

// No file that is committed names a path of the machine it was written on.
func TestNoPathOfAMachine(t *testing.T) {
	err := filepath.WalkDir("../..", func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if e.IsDir() && (e.Name() == ".git" || e.Name() == "devlook") {
			return filepath.SkipDir
		}
		ext := filepath.Ext(path)
		if e.IsDir() || ext != ".go" && ext != ".md" && ext != ".yaml" && ext != ".txt" && ext != ".txtar" {
			return nil
		}
		b, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		for _, bad := range []string{"/wo" + "rk/", "/ro" + "ot/"} {
			assert.NotContains(t, string(b), bad, path)
		}
		return nil
	})
	require.NoError(t, err)
}
