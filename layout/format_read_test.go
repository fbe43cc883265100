package layout

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/setup/grammar"
	"stopleaf/templates"
)

// ourFormats calls f for every built-in format.
func ourFormats(t *testing.T, f func(document, paper string, src []byte)) {
	t.Helper()
	for document, papers := range map[string][]string{"card": Papers(), "sheet": SheetPapers(), "stands": StandPapers()} {
		for _, paper := range papers {
			src, err := templates.Read("formats/" + document + "-" + paper + ".yaml")
			require.NoError(t, err)
			f(document, paper, src)
		}
	}
}

// Our own formats are read alike by the short way and by the strict one.
func TestStrictReadsOurs(t *testing.T) {
	ourFormats(t, func(document, paper string, src []byte) {
		name := document + "-" + paper
		own, problems := ParseFormat(document, name+".yaml", src)
		require.Empty(t, problems, name)
		ours, err := loadFormat(document, paper)
		require.NoError(t, err)
		got := *own.f
		require.True(t, got.own)
		got.own = false
		// what is added stands after what is written
		require.Len(t, got.Sides, len(ours.Sides)+2, name)
		require.GreaterOrEqual(t, len(got.Next), len(ours.Next))
		got.Sides, got.Next = got.Sides[:len(ours.Sides)], got.Next[:len(ours.Next)]
		assert.Equal(t, *ours, got, name)
	})
}

// Every block that a format may name is built and has its word, and every field
// of the title block and of the tables is known.
func TestFormatWords(t *testing.T) {
	words := templateWords(t)
	known := func(key string) bool { return !strings.Contains(words.T(key), "‹") }
	job := set(t, "title: one\nlights: [{name: Key, role: key}]\n")
	for _, document := range grammar.Documents {
		for _, name := range grammar.PageWords(document, "give") {
			assert.True(t, known("block."+name), name)
		}
		b := builder{job: job, f: &format{For: document, Gap: 2}, made: map[string]box{}}
		b.f.Type.Text = 2.5
		switch document {
		case "sheet":
			b.own = func(n node) (block, error) { return b.sheetBlock(n) }
		case "stands":
			b.own = func(n node) (block, error) {
				return standBlock(job, standItems(job.Setup)[0], b.f, b.f, capUse, n, Mm(50))
			}
		}
		for _, name := range grammar.BlockNames(document) {
			_, err := b.build(node{Block: name})
			assert.NoError(t, err, "%s of %s", name, document)
		}
		for _, name := range order(document) {
			assert.True(t, holds(grammar.PageWords(document, "give"), name), "%s of %s", name, document)
		}
		for _, name := range grammar.PageWords(document, "leave out") {
			assert.False(t, holds(stay(document), name), name)
		}
	}
	for _, name := range grammar.StripFields {
		assert.True(t, known("title."+name) || name == "sheet" || name == "recorded", name)
	}
	for _, name := range append(slices.Clone(grammar.LightFields), grammar.TodayFields...) {
		if name != "target" && name != "dial" { // their heads are the bases
			assert.True(t, known("lights."+name), name)
		}
	}
	// What is no block of a document is placed by no completion: nothing stands
	// twice, and nothing that a document is made of is forgotten.
	for _, document := range grammar.Documents {
		for _, name := range grammar.BlockNames(document) {
			assert.True(t, holds(order(document), name) || holds(stay(document), name) || name == "rulers", "%s of %s is lost where a format does not place it", name, document)
		}
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
	for _, pattern := range []string{"../templates/formats/*.yaml", "../testdata/format/*.yaml"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			f.Fatal("no seeds", pattern, err)
		}
		for _, file := range files {
			b, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			for i := range grammar.Documents {
				f.Add(byte(i), b)
			}
		}
	}
	f.Fuzz(func(t *testing.T, which byte, src []byte) {
		document := grammar.Documents[int(which)%len(grammar.Documents)]
		own, problems := ParseFormat(document, "f.yaml", src)
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
		if s := own.f.Sheet; own.f.For != document || s.Width != 0 && (document != "stands" || s.Across < 1 || s.Down < 1 ||
			own.f.Width*float64(s.Across)+2*s.Margin > s.Width+1e-3 || own.f.Height*float64(s.Down)+2*s.Margin > s.Height+1e-3) {
			t.Fatalf("cards off their sheet: %+v", own.f)
		}
	})
}
