package layout

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/templates"
)

// Our own formats are read alike by the short way and by the strict one.
func TestStrictReadsOurs(t *testing.T) {
	for _, paper := range Papers() {
		src, err := templates.Read("formats/card-" + paper + ".yaml")
		require.NoError(t, err)
		own, problems := ParseFormat("card-"+paper+".yaml", src)
		require.Empty(t, problems, paper)
		ours, err := loadFormat("card", paper)
		require.NoError(t, err)
		got := *own.f
		require.True(t, got.own)
		got.own = false
		// what is added stands after what is written
		require.Len(t, got.Sides, len(ours.Sides)+2)
		require.GreaterOrEqual(t, len(got.Next), len(ours.Next))
		got.Sides, got.Next = got.Sides[:len(ours.Sides)], got.Next[:len(ours.Next)]
		assert.Equal(t, *ours, got, paper)
	}
}

// The blocks that a format may name are those that are built, and every field
// of the title block is known.
func TestFormatWords(t *testing.T) {
	for _, name := range blockNames {
		_, known := templateWords(t)["block."+name]
		assert.True(t, known, name)
	}
	for _, name := range stripFields {
		_, known := templateWords(t)["title."+name]
		assert.True(t, known || name == "sheet" || name == "recorded", name)
	}
	for _, name := range tableNames {
		_, known := templateWords(t)["block."+name]
		assert.True(t, known, name)
	}
}

func templateWords(t *testing.T) templates.Words {
	t.Helper()
	w, err := templates.Load("en")
	require.NoError(t, err)
	return w
}

// FuzzParseFormat: whatever the bytes, there is a format or an error with its
// place, and nothing panics.
func FuzzParseFormat(f *testing.F) {
	for _, pattern := range []string{"../templates/formats/card-*.yaml", "../testdata/format/*.yaml"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			f.Fatal("no seeds", pattern, err)
		}
		for _, file := range files {
			b, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(b)
		}
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		own, problems := ParseFormat("f.yaml", src)
		if (own == nil) != problems.HasErrors() {
			t.Fatalf("format %v, problems %v", own != nil, problems)
		}
		lines := strings.Count(string(src), "\n") + strings.Count(string(src), "\r") + 1
		for _, p := range problems {
			if p.Message == "" || p.Code == "" || p.Pos.Line > lines || p.Pos.Line > 0 && p.Pos.Col < 1 || strings.Contains(p.Message, "yaml:") {
				t.Fatalf("badly worded or placed: %q %+v", p.String(), p.Pos)
			}
		}
		if own == nil {
			return
		}
		if own.f.Width < leastPage || own.f.Width > mostPage || len(own.f.Sides) < 2 || own.f.Type.Text < leastType {
			t.Fatalf("out of bounds: %+v", own.f)
		}
	})
}
