package render

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/exposure"
	"stopleaf/internal/outside"
	"stopleaf/internal/randomset"
	"stopleaf/internal/readback"
	"stopleaf/layout"
	"stopleaf/render/pdf"
	"stopleaf/safety"
	"stopleaf/setup"
	"stopleaf/templates"
)

// binderOf makes a binder of random setups in two sections, the last one broken.
func binderOf(t *testing.T, n int, as string, duplex bool) *layout.Binder {
	t.Helper()
	words, err := templates.Load("en")
	require.NoError(t, err)
	jobs := map[string]layout.Job{}
	b := &layout.Binder{Title: "Random", Owner: "Halvard Studio", Words: words, As: as, Duplex: duplex, Laid: func(*layout.BinderSetup, layout.Job) {},
		Sections: []layout.BinderSection{{Title: "First"}, {Title: "Second"}}}
	b.Open = func(s *layout.BinderSetup) (layout.Job, []string, error) { return jobs[s.Code], s.Faults, nil }
	for i := range n {
		s, problems := setup.Parse("r.yaml", []byte(randomset.Setups(1, 8).Example(i).YAML()), setup.Options{NoPhotos: true})
		require.NotNil(t, s, "%v", problems)
		s.Code = fmt.Sprintf("R-%d", i+1)
		bases, err := s.ChooseBases("")
		require.NoError(t, err)
		num := exposure.Compute(s.Input(bases))
		jobs[s.Code] = layout.Job{Setup: s, Numbers: &num, Safety: safety.Notes(s, &num, words), Words: words, Source: layout.NewSource(s)}
		e := &layout.BinderSetup{Path: "r.yaml", Code: s.Code, Title: s.Title, Setup: s, Ratio: num.Ratios.KeyToFill}
		if i == n-1 {
			e.Setup, e.Faults = nil, []string{"r.yaml:1:1: broken"}
		}
		b.Sections[i*2/n].Setups = append(b.Sections[i*2/n].Setups, e)
	}
	require.NoError(t, b.Prepare())
	return b
}

// Another reader of PDF follows every entry of the outline, every line of the
// contents and every code of the indexes to the page that carries that code, and
// back from it to the contents.
func TestBinderLeadsWhereItSays(t *testing.T) {
	n := 9
	if os.Getenv("STOPLEAF_CI") == "1" {
		n = 60
	}
	for _, c := range []struct {
		as     string
		duplex bool
	}{{"sheet", true}, {"card", false}} {
		b := binderOf(t, n, c.as, c.duplex)
		var out bytes.Buffer
		w := pdf.NewWriter(&out, pdf.Options{})
		pieces, first := make([][]layout.Page, b.Pieces()), make([]string, b.Pieces())
		require.NoError(t, w.Pages(b.Pieces(), func(i int) ([]layout.Page, error) {
			made, err := b.Piece(i)
			pieces[i] = made
			if err == nil {
				first[i] = made[0].Label
			}
			return made, err
		}))
		require.NoError(t, w.Close(b.Document(func(i int) string { return first[i] })))
		path := filepath.Join(t.TempDir(), "binder.pdf")
		require.NoError(t, os.WriteFile(path, out.Bytes(), 0o666))
		outside.Run(t, "qpdf", "--check", path)
		pages := slices.Concat(pieces...)
		file := readback.Open(t, path)
		require.Len(t, file.Labels, len(pages))
		for i := range pages {
			assert.Equal(t, pages[i].Label, file.Labels[i])
		}
		carries := func(page int, code string) bool {
			return slices.ContainsFunc(strings.Split(file.Labels[page-1], " "), func(l string) bool { return l == code+"/1" })
		}
		seen := linksLead(t, file, pages, carries)
		for _, s := range slices.Concat(b.Sections[0].Setups, b.Sections[1].Setups) {
			assert.GreaterOrEqual(t, seen[s.Code], 1, s.Code)
		}
		require.Equal(t, []string{"Random", "Contents", "First", "Second", "Indexes", "Kit over all"}, titles(file.Outline))
		entries := 0
		for _, e := range slices.Concat(file.Outline[2].Under, file.Outline[3].Under) {
			for _, code := range strings.Split(strings.Fields(e.Title)[0], ",") {
				if code != "" {
					assert.True(t, carries(e.Page, code), "%q leads to %s", e.Title, file.Labels[e.Page-1])
				}
			}
			entries++
		}
		assert.Positive(t, entries)
	}
}

func titles(list []readback.Entry) (out []string) {
	for _, e := range list {
		out = append(out, e.Title)
	}
	return out
}

// linksLead follows every link: one that stands on a code leads to the page that
// carries it, one on the label at the foot of a setup's page to the contents that
// list it. It counts the links to each code.
func linksLead(t *testing.T, file *readback.File, pages []layout.Page, carries func(int, string) bool) map[string]int {
	t.Helper()
	seen := map[string]int{}
	for i := range pages {
		var links []*layout.Link
		layout.Walk(pages[i].Items, func(it layout.Item) {
			if l, ok := it.(*layout.Link); ok {
				links = append(links, l)
			}
		})
		require.Len(t, file.Links[i], len(links), "page %s", pages[i].Label)
		for k, l := range links {
			to := file.Links[i][k]
			text := textUnder(&pages[i], l)
			switch {
			case text == pages[i].Label:
				assert.Contains(t, file.Labels[to-1], "C/", "page %s leads back", pages[i].Label)
				if of, ok := strings.CutPrefix(l.To, "contents of "); ok {
					assert.True(t, lists(&pages[to-1], of), "%s lists %s", file.Labels[to-1], of)
				}
			default:
				code := strings.TrimSuffix(strings.Fields(text + " ?")[0], ",")
				assert.True(t, carries(to, code), "page %s: %q leads to %s", pages[i].Label, text, file.Labels[to-1])
				seen[code]++
			}
		}
	}
	return seen
}

// textUnder is the first text that stands in a link.
func textUnder(p *layout.Page, l *layout.Link) string {
	found := ""
	layout.Walk(p.Items, func(it layout.Item) {
		if t, ok := it.(*layout.Text); ok && found == "" && t.X >= l.X && t.X < l.X+l.W && t.Y >= l.Y && t.Y <= l.Y+l.H {
			found = t.S
		}
	})
	return found
}

func lists(p *layout.Page, code string) bool {
	found := false
	layout.Walk(p.Items, func(it layout.Item) {
		if t, ok := it.(*layout.Text); ok && t.S == code {
			found = true
		}
	})
	return found
}
