package layout_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/internal/outside"
	"stopleaf/kit"
	"stopleaf/layout"
	"stopleaf/render/pdf"
	"stopleaf/setup"
	"stopleaf/templates"
)

// packFaults says what a careful eye finds on the kit list of setups: every thing,
// who asks for it, two boxes for each, nothing over anything.
func packFaults(setups []*setup.Setup, paper string, words templates.Words) (faults []string) {
	defer func() {
		if p := recover(); p != nil {
			faults = append(faults, fmt.Sprintf("panic: %v", p))
		}
	}()
	list := kit.For(setups...)
	doc, err := layout.Pack(list, words, layout.PackOptions{Paper: paper})
	if err != nil {
		return []string{"pack: " + err.Error()}
	}
	boxes := 0
	for i := range doc.Pages {
		for _, f := range layout.Check(&doc.Pages[i]) {
			faults = append(faults, fmt.Sprintf("pack %s, page %d: %s", paper, i+1, f))
		}
		boxes += ticks(doc.Pages[i].Items)
	}
	all, by := textOf(doc.Pages), textBy(doc.Pages)
	want := func(s, of string) {
		found := strings.Contains(all, squeezed(s))
		for _, text := range by {
			found = found || strings.Contains(text, squeezed(s))
		}
		if !found {
			faults = append(faults, fmt.Sprintf("pack: lost %q of %s", s, of))
		}
	}
	rows := layout.KitRows(list, words)
	for _, row := range rows {
		want(row.What, "the list")
		want(row.For, "the list")
	}
	for _, what := range list.Always {
		want(what, "the house")
	}
	for _, s := range setups {
		want(s.Title, "the setups")
		want(layout.PackLoad(s, words), "the setups")
	}
	want(layout.PackWeight(list, words), "the sums")
	if lines := len(rows) + len(list.Always); boxes < 2*lines { // a row on two sides has them twice
		faults = append(faults, fmt.Sprintf("pack: %d boxes for %d lines", boxes, lines))
	}
	return faults
}

// ticks counts boxes to tick.
func ticks(items []layout.Item) (n int) {
	for _, it := range items {
		switch it := it.(type) {
		case *layout.Group:
			n += ticks(it.Items)
		case *layout.Path:
			if it.Kind == "tick" {
				n++
			}
		}
	}
	return n
}

func TestRandomPacks(t *testing.T) {
	papers := layout.SheetPapers()
	for _, lang := range templates.Languages() {
		words, err := templates.Load(lang)
		require.NoError(t, err)
		t.Run(lang, func(t *testing.T) {
			forRandom(t, howMany(20, 500), 1, 14, func(seed int, r random) []string {
				job, err := r.job(words)
				if err != nil {
					return []string{"setup: not a setup: " + err.Error()}
				}
				job.Setup.House = &setup.House{Always: []string{"tape measure", "a ladder", "light meter and its spare battery"}[:seed%4]}
				setups := []*setup.Setup{job.Setup}
				if seed%2 == 1 {
					bread, problems := setup.Read("../templates/demo/bread.yaml", setup.Options{NoPhotos: true})
					require.NotNil(t, bread, "%v", problems)
					setups = append(setups, bread)
				}
				return packFaults(setups, papers[seed%len(papers)], words)
			})
		})
	}
}

// demoSetups are the three of the demo, by name.
func demoSetups(t *testing.T) []*setup.Setup {
	var out []*setup.Setup
	for _, name := range []string{"bread", "coat", "ink"} {
		s, problems := setup.Read(filepath.Join("..", "templates", "demo", name+".yaml"), setup.Options{NoPhotos: true})
		require.NotNil(t, s, "%v", problems)
		out = append(out, s)
	}
	return out
}

// The kit of the demo. Look at the page before taking a change.
func TestGoldenPack(t *testing.T) {
	doc, err := layout.Pack(kit.For(demoSetups(t)...), wording(t), layout.PackOptions{})
	require.NoError(t, err)
	golden(t, "pack-a4", doc)
}

// Another reader of PDF gives each row on one line: quantity, thing, mass, who
// asks for it.
func TestPackByAnotherReader(t *testing.T) {
	outside.Tool(t, "pdftotext")
	list := kit.For(demoSetups(t)...)
	doc, err := layout.Pack(list, wording(t), layout.PackOptions{Paper: "letter"})
	require.NoError(t, err)
	name := filepath.Join(t.TempDir(), "pack.pdf")
	var b bytes.Buffer
	require.NoError(t, pdf.Write(&b, doc))
	require.NoError(t, os.WriteFile(name, b.Bytes(), 0o600))
	text := outside.Run(t, "pdftotext", "-layout", name, "-")
	lines := map[string]bool{}
	for line := range strings.Lines(text) {
		lines[strings.Join(strings.Fields(line), " ")] = true
	}
	for i, row := range layout.KitRows(list, wording(t)) {
		kg := ""
		if it := list.Items[i]; it.NoMass == 0 {
			kg = fmt.Sprintf(" %.1f", it.Kg)
		}
		said := strings.Join(strings.Fields(row.Count+" "+row.What+kg+" "+row.For), " ")
		assert.True(t, lines[said] || lines[row.Sort+" "+said], "%s\n%s", said, text)
	}
	assert.Contains(t, text, "147.1 kg, and 34 things whose mass is not written")
}
