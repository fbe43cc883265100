package layout_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/layout"
	"stopleaf/setup"
	"stopleaf/templates"
)

// sheetFaults says what a careful eye finds on the sheet of a random setup.
func sheetFaults(r random, paper string, words templates.Words) (faults []string) {
	defer func() {
		if p := recover(); p != nil {
			faults = append(faults, fmt.Sprintf("panic: %v", p))
		}
	}()
	job, err := r.job(words)
	if err != nil {
		return []string{"setup: not a setup: " + err.Error()}
	}
	doc, err := layout.Sheet([]layout.Job{job}, layout.SheetOptions{Paper: paper})
	if err != nil {
		return []string{"sheet: " + err.Error()}
	}
	for i := range doc.Pages {
		for _, f := range layout.Check(&doc.Pages[i]) {
			faults = append(faults, fmt.Sprintf("sheet %s, page %d: %s", paper, i+1, f))
		}
	}
	faults = append(faults, misnamed(doc.Pages, words)...)
	return append(faults, lostOnSheet(job, doc)...)
}

// misnamed says what is said to go on and has not begun on an earlier side, or goes on
// on the side where it began.
func misnamed(pages []layout.Page, words templates.Words) (out []string) {
	on := map[string]int{} // the side on which a name stood last
	for i := range pages {
		layout.Walk(pages[i].Items, func(it layout.Item) {
			text, ok := it.(*layout.Text)
			if !ok {
				return
			}
			name, goesOn := strings.CutSuffix(text.S, " "+words.T("table.continued"))
			if at, began := on[name]; goesOn && !began {
				out = append(out, fmt.Sprintf("sheet: %q has not begun before side %d", text.S, i+1))
			} else if goesOn && at == i {
				out = append(out, fmt.Sprintf("sheet: %q is named again on side %d", text.S, i+1))
			}
			on[name] = i
		})
	}
	return out
}

// lostOnSheet says what of a setup is not on its sheet.
func lostOnSheet(job layout.Job, doc *layout.Document) (out []string) {
	all, first, by := textOf(doc.Pages), textOf(doc.Pages[:1]), textBy(doc.Pages)
	want := func(s, of string) {
		if strings.Contains(all, squeezed(s)) {
			return
		}
		found := false
		for _, text := range by { // of one thing, but on two sides
			found = found || strings.Contains(text, squeezed(s))
		}
		if !found {
			out = append(out, fmt.Sprintf("sheet: lost %q of %s", s, of))
		}
	}
	s := job.Setup
	want(s.Title, "the title")
	want(s.Code, "the code")
	for i, l := range s.Lights {
		of := fmt.Sprintf("light %d", l.Number)
		for _, text := range []string{l.Name, l.Note, l.LookFor, l.Mark, l.Trigger, l.Circuit} {
			want(text, of)
		}
		for _, t := range job.Numbers.Lights[i].Targets {
			want(t.Tenths, of)
		}
	}
	for _, g := range s.Grip {
		for _, text := range []string{g.Name, g.Note, g.LookFor, g.Mark} {
			want(text, fmt.Sprintf("grip %d", g.Number))
		}
	}
	want(s.Subject.Note, "the subject")
	want(s.Subject.Mark, "the subject")
	want(s.Camera.Note, "the camera")
	for _, line := range strings.Split(s.Notes, "\n") {
		want(line, "the notes")
	}
	for _, b := range job.Numbers.Bases {
		want(b.Mark, "the bases")
	}
	for _, n := range job.Safety {
		want(n.Text, "caution "+n.Code)
		if !strings.Contains(first, squeezed(n.Text)) && (n.Short == "" || !strings.Contains(first, squeezed(n.Short))) {
			out = append(out, "sheet: caution "+n.Code+" is not on the first side")
		}
	}
	for _, step := range append(layout.BuildOrder(job), layout.StrikeOrder(job)...) {
		want(step.Lead+step.Text, "the order")
	}
	for _, k := range layout.KitList(job) {
		want(k.What, "the kit")
	}
	for _, p := range s.Photos {
		want(p.Caption, "the photo")
	}
	for _, private := range privates(s) {
		if private != "" && strings.Contains(all, squeezed(private)) {
			out = append(out, fmt.Sprintf("sheet: private %q is printed", private))
		}
	}
	return out
}

// privates are the file's own words that nobody else may read.
func privates(s *setup.Setup) []string {
	out := []string{s.Private, s.Camera.Private, s.Subject.Private}
	if s.Background != nil {
		out = append(out, s.Background.Private)
	}
	for _, l := range s.Lights {
		out = append(out, l.Private)
	}
	for _, g := range s.Grip {
		out = append(out, g.Private)
	}
	return out
}

func TestRandomSheets(t *testing.T) {
	words, papers := wording(t), layout.SheetPapers()
	forRandom(t, howMany(100, 2000), 1, 20, func(seed int, r random) []string {
		return sheetFaults(r, papers[seed%len(papers)], words)
	})
}

func TestRandomSheetsOfManyLights(t *testing.T) {
	words, papers := wording(t), layout.SheetPapers()
	forRandom(t, howMany(4, 40), 21, 64, func(seed int, r random) []string {
		return sheetFaults(r, papers[seed%len(papers)], words)
	})
}

// The demos' sheets are whole, their private notes are not on them, and every
// photo is there once.
func TestSheetsOfTheDemos(t *testing.T) {
	for name, job := range demos(t) {
		for _, paper := range layout.SheetPapers() {
			doc, err := layout.Sheet([]layout.Job{job}, layout.SheetOptions{Paper: paper})
			require.NoError(t, err)
			pictures := 0
			for i := range doc.Pages {
				assert.Empty(t, layout.Check(&doc.Pages[i]), "%s %s, page %d", name, paper, i+1)
				layout.Walk(doc.Pages[i].Items, func(it layout.Item) {
					if _, ok := it.(*layout.Image); ok {
						pictures++
					}
				})
			}
			assert.Empty(t, lostOnSheet(job, doc), "%s %s", name, paper)
			assert.Equal(t, len(job.Setup.Photos), pictures, "%s %s", name, paper)
			assert.NotContains(t, textOf(doc.Pages), "‹", "%s %s: a key has no wording", name, paper)
		}
	}
}

// The name of what every difference is from stands over a space to fill in, on
// as many lines as it takes.
func TestTodayWithALongZero(t *testing.T) {
	job := fileJob(t, "title: A\ncode: A\nexposure: {zero: WWWWWWWWWWWW, bases: [f/4]}\nlights:\n  - {name: WWWWWWWWWWWW, role: other, source: daylight, reading: f/4}\n  - {name: Fill, role: fill, delta: 1 under}\n")
	faults, refused := ownPages(job, "sheet", ownFormat(t, "sheet", example(t, "my-sheet.yaml")), false)
	assert.NoError(t, refused)
	assert.Empty(t, faults)
}

// What a block that is left out would have said, and another relies on, is still
// said: triggers and circuits by the notes, depth of field by the camera.
func TestSheetWithBlocksLeftOut(t *testing.T) {
	job := demos(t)["bread"]
	page := "for: sheet\nwidth: 210\nheight: 297\nsides: [{down: [lights, cautions]}]\n"
	said := func(more string) string {
		doc, err := layout.Sheet([]layout.Job{job}, layout.SheetOptions{Format: ownFormat(t, "sheet", []byte(page+more))})
		require.NoError(t, err)
		return textOf(doc.Pages)
	}
	all, without := said(""), said("leave out: [build, bases, circuits, strike, kit]\n")
	for _, key := range []string{"sheet.build", "sheet.bases", "sheet.circuits", "sheet.strike", "sheet.kit"} {
		head, _, _ := strings.Cut(job.Words.T(key), "{")
		assert.Contains(t, all, squeezed(head), key)
		assert.NotContains(t, without, squeezed(head), key)
	}
	for _, s := range []string{"radio, channel 2", "red cross", "nose shadow just meets the cheek"} {
		assert.Contains(t, without, squeezed(s))
	}
	for _, l := range job.Setup.Lights {
		if l.Circuit != "" {
			assert.Contains(t, without, squeezed(job.Words.T("notes.circuit", "text", l.Circuit)))
		}
	}
	assert.NotRegexp(t, `sharp[0-9]`, all)
	assert.Regexp(t, `sharp[0-9]`, without)
}

// A bare setup has no empty blocks: nothing of rooms, circuits, photos, bases
// that say nothing.
func TestSheetOfABareSetup(t *testing.T) {
	job := goldenJobs(t)["bare"]
	doc, err := layout.Sheet([]layout.Job{job}, layout.SheetOptions{})
	require.NoError(t, err)
	all := textOf(doc.Pages)
	for _, key := range []string{"sheet.circuits", "sheet.photos", "sheet.phase-background", "notes.title", "sheet.bases", "sheet.phase-arms"} {
		assert.NotContains(t, all, squeezed(job.Words.T(key)), key)
	}
	for _, key := range []string{"sheet.build", "sheet.strike", "sheet.kit", "sheet.today"} {
		assert.Contains(t, all, squeezed(job.Words.T(key)), key)
	}
}

func TestSheetsOfSeveralSetups(t *testing.T) {
	jobs := demos(t)
	doc, err := layout.Sheet([]layout.Job{jobs["bread"], jobs["ink"]}, layout.SheetOptions{Paper: "letter"})
	require.NoError(t, err)
	assert.Equal(t, jobs["bread"].Setup.Title+"; "+jobs["ink"].Setup.Title, doc.Title)
	labels := map[string]bool{}
	for _, p := range doc.Pages {
		labels[p.Label] = true
	}
	assert.Len(t, labels, len(doc.Pages), "each side has its own label")
	_, err = layout.Sheet([]layout.Job{jobs["bread"]}, layout.SheetOptions{Paper: "a6"})
	assert.EqualError(t, err, `paper "a6" is not known; there are a4, letter`)
}

func TestGoldenSheet(t *testing.T) {
	for name, job := range goldenJobs(t) {
		if name != "bread" && name != "bare" {
			continue
		}
		doc, err := layout.Sheet([]layout.Job{job}, layout.SheetOptions{})
		require.NoError(t, err)
		golden(t, name+"-sheet-a4", doc)
	}
}
