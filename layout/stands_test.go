package layout_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/exposure"
	"stopleaf/internal/outside"
	"stopleaf/layout"
	"stopleaf/render/pdf"
	"stopleaf/safety"
	"stopleaf/setup"
	"stopleaf/templates"
)

func stands(t *testing.T, job layout.Job, opt layout.StandsOptions) *layout.Document {
	t.Helper()
	doc, err := layout.Stands([]layout.Job{job}, opt)
	require.NoError(t, err)
	for i := range doc.Pages {
		assert.Empty(t, layout.Check(&doc.Pages[i]), "page %d", i+1)
	}
	return doc
}

// fileJob is a setup written in a test.
func fileJob(t *testing.T, yaml string) layout.Job {
	t.Helper()
	s, problems := setup.Parse("test.yaml", []byte(yaml), setup.Options{})
	require.NotNil(t, s, "%v", problems)
	job, err := jobOf(s, wording(t))
	require.NoError(t, err)
	return job
}

// far are the texts of a kind on a page that are read from two metres off.
func far(p *layout.Page, of, kind string) string {
	var out []string
	layout.Walk(p.Items, func(it layout.Item) {
		if t, ok := it.(*layout.Text); ok && t.Of == of && t.Kind == kind && t.Cap >= layout.Mm(10) {
			out = append(out, t.S)
		}
	})
	return strings.Join(out, " ")
}

// firstSide is the first side of an item's card among single cards.
func firstSide(t *testing.T, doc *layout.Document, job layout.Job, number int) *layout.Page {
	t.Helper()
	for i := range doc.Pages {
		if doc.Pages[i].Label == fmt.Sprintf("%s/%d", job.Setup.Code, number) {
			return &doc.Pages[i]
		}
	}
	t.Fatalf("no card of item %d", number)
	return nil
}

// Today is the base that was recorded: the target is then what the meter read
// and the dial what the head stood at, as the file has them.
func TestStandsToday(t *testing.T) {
	job := demos(t)["bread"]
	at := func(base string) (targets, dials []string) {
		doc := stands(t, job, layout.StandsOptions{Base: base})
		for _, l := range job.Setup.Lights {
			p, of := firstSide(t, doc, job, l.Number), fmt.Sprintf("light %d", l.Number)
			assert.Equal(t, fmt.Sprint(l.Number), far(p, of, "number"))
			targets, dials = append(targets, far(p, of, "target")), append(dials, far(p, of, "dial"))
		}
		return targets, dials
	}
	// Key: key f/8 +0.4, power 1/4 +0.2. Card: 2.2 under, a card has no dial.
	// Hair: reading f/6.3, which is f/5.6 and a third, power 7.3. Wall: 2.4
	// under is f/8 +0.4 -2.4 = f/4 less 0.0; power 5.5. Oven: a dimmer at 70 %.
	targets, dials := at("")
	assert.Equal(t, []string{"f/8 +0.4", "f/4 +0.2", "f/5.6 +0.3", "f/4", "f/4", "f/2.8 +0.7"}, targets)
	assert.Equal(t, []string{"1/4 +0.2", "", "7.3", "5.5", "5.5", "70 %"}, dials)
	// A whole stop up at f/11 +0.4: every target and dial a stop more.
	targets, dials = at("f/11 +0.4")
	assert.Equal(t, []string{"f/11 +0.4", "f/5.6 +0.2", "f/8 +0.3", "f/5.6", "f/5.6", "f/4 +0.7"}, targets)
	assert.Equal(t, []string{"1/2 +0.2", "", "8.3", "6.5", "6.5", "70 %"}, dials)

	// Without a reading of the key it is the middle base.
	job = fileJob(t, "title: A\ncode: A\nexposure: {bases: [f/4, f/5.6, f/16]}\nlights:\n  - {name: Key, role: key}\n  - {name: Fill, role: fill, delta: -1}\n")
	doc := stands(t, job, layout.StandsOptions{})
	assert.Equal(t, "f/4", far(firstSide(t, doc, job, 2), "light 2", "target"))
	// Its dial is not known: a ruled space, with nothing in it.
	assert.Empty(t, far(firstSide(t, doc, job, 2), "light 2", "dial"))
	blanks := 0
	layout.Walk(doc.Pages[0].Items, func(it layout.Item) {
		if p, ok := it.(*layout.Path); ok && p.Kind == "blank" {
			blanks++
		}
	})
	assert.Equal(t, 1, blanks)

	_, err := layout.Stands([]layout.Job{job}, layout.StandsOptions{Base: "soft"})
	assert.Error(t, err)
	_, err = layout.Stands([]layout.Job{job}, layout.StandsOptions{Paper: "a3"})
	assert.ErrorContains(t, err, "a6, a5, 4x6, a4, letter")
}

// What a card says, in full.
func TestStandsSay(t *testing.T) {
	job := fileJob(t, `title: Words
code: W-1
private: the setup's secret
exposure: {key: f/8, bases: [f/5.6, f/8]}
subject: {face: 1.5, private: the subject's secret}
lights:
  - {name: Key, role: key, place: {left: 3, front: 4, height: 1.5}, modifier: {kind: softbox, width: 0.6, height: 0.9, grid: 40, diffusers: [inner, front], gel: {name: straw}},
     feather: 10 toward camera, look for: the nose, trigger: radio two, circuit: A, mark: red cross, note: the note, private: the key's secret}
  - {name: Card, role: fill, source: bounce, lit by: Key, delta: 1.6 under, place: {right: 1, front: 0, height: 1}, modifier: reflector panel 1.0 x 1.5}
grip:
  - {name: Flag, kind: flag, colour: black, place: {right: 1, behind: 1, height: 2}, width: 0.5, height: 0.7, note: off the lens, private: the flag's secret}
`)
	for _, paper := range layout.StandPapers() {
		doc := stands(t, job, layout.StandsOptions{Paper: paper, Duplex: true})
		of, all := textBy(doc.Pages), textOf(doc.Pages)
		for item, texts := range map[string][]string{
			// 3-4-5: the tape from a face as high as the light is 5 m.
			"light 1": {"4.00 m to the front, 3.00 m to the left", "7:15, camera at 6", "37° left, 5.00 m along the floor", "Tape to face 5.00 m", "lower edge 1.05 m, centre 1.50 m",
				"face, 10° to camera; level", "softbox 0.6 x 0.9 m, grid 40°, inner + front diffuser, gel straw", "the nose", "radio two", "circuit A", "floor mark red cross",
				"the note", "at the face, dome out, toward this light", "est."},
			"light 2": {"1.6 under key", "at the face, the key on, dome facing the card, the key shaded by hand", "3:00"},
			"grip 3":  {"black flag 0.50 m × 0.70 m", "1.00 m behind, 1.00 m to the right", "off the lens"},
		} {
			for _, s := range texts {
				assert.Contains(t, strings.ReplaceAll(of[item], "×", "x"), strings.ReplaceAll(squeezed(s), "×", "x"), "%s on %s", item, paper)
			}
		}
		assert.Contains(t, all, squeezed("LEFT = camera left"))
		assert.NotContains(t, all, "secret")
	}
}

// standFaults says what a careful eye finds on the stand cards of a random
// setup.
func standFaults(r random, opt layout.StandsOptions, words templates.Words) (faults []string) {
	defer func() {
		if p := recover(); p != nil {
			buf := make([]byte, 4096)
			faults = append(faults, fmt.Sprintf("stands: panic: %v", p), string(buf[:runtime.Stack(buf, false)]))
		}
	}()
	job, err := r.job(words)
	if err != nil {
		return []string{"setup: not a setup: " + err.Error()}
	}
	doc, err := layout.Stands([]layout.Job{job}, opt)
	if err != nil {
		return []string{"stands: " + err.Error()}
	}
	name := "stands " + opt.Paper
	for i := range doc.Pages {
		for _, f := range layout.Check(&doc.Pages[i]) {
			faults = append(faults, fmt.Sprintf("%s, page %d: %s", name, i+1, f))
		}
	}
	return append(faults, lostOnStands(job, doc, name)...)
}

// inTwo says whether a text stands in two parts: one that goes on on a further side of a
// card does not follow itself where cards lie beside each other on a sheet.
func inTwo(all, what string) bool {
	for i := range what {
		if i > 0 && strings.Contains(all, what[:i]) && strings.Contains(all, what[i:]) {
			return true
		}
	}
	return false
}

// lostOnStands says what of a setup is not on its stand cards.
func lostOnStands(job layout.Job, doc *layout.Document, name string) (faults []string) {
	say := func(format string, a ...any) { faults = append(faults, name+": "+fmt.Sprintf(format, a...)) }
	of := textBy(doc.Pages)
	single := doc.Pages[0].W < layout.Mm(160)
	want := func(item, what string) {
		if !single && len(what) > 200 { // its parts need not follow each other on sheets
			return
		}
		if !strings.Contains(of[item], squeezed(what)) && (single || !inTwo(of[item], squeezed(what))) {
			say("lost %q of %s", what[:min(len(what), 80)], item)
		}
	}
	bases, _ := job.Setup.ChooseBases("")
	if k := job.Setup.Exposure.KeyAv; k != nil {
		bases = append(bases, exposure.Base{Mark: "today", Av: *k})
	}
	n := exposure.Compute(job.Setup.Input(bases))
	for i, l := range job.Setup.Lights {
		item := fmt.Sprintf("light %d", l.Number)
		for b, t := range n.Lights[i].Targets {
			want(item, t.Tenths)
			if d := n.Lights[i].Dials; b < len(d) && d[b].Possible != nil && *d[b].Possible {
				want(item, d[b].Text)
			}
		}
		for _, s := range []string{fmt.Sprint(l.Number), l.Name, l.LookFor, l.Trigger, l.Circuit, l.Mark} {
			want(item, s)
		}
		for _, s := range strings.Split(l.Note, "\n") {
			want(item, s)
		}
	}
	for _, g := range job.Setup.Grip {
		item := fmt.Sprintf("grip %d", g.Number)
		for _, s := range []string{fmt.Sprint(g.Number), g.Name, kindIn(job.Words, g.Kind), g.Note} {
			want(item, s)
		}
	}
	if single {
		for i := range doc.Pages {
			if p := &doc.Pages[i]; !strings.Contains(p.Label[strings.LastIndex(p.Label, "/"):], "-") {
				faults = append(faults, farFaults(job, p, name)...)
			}
		}
	}
	return faults
}

// farFaults says what the first side of a card lacks of what is read from far
// off, and of its own cautions.
func farFaults(job layout.Job, p *layout.Page, name string) (out []string) {
	number, item, _ := strings.Cut(p.Title, " ")
	of, light := "grip "+number, false
	for _, l := range job.Setup.Lights {
		if fmt.Sprint(l.Number) == number {
			of, light = "light "+number, true
		}
	}
	say := func(format string, a ...any) {
		out = append(out, fmt.Sprintf("%s, first side of %s: ", name, of)+fmt.Sprintf(format, a...))
	}
	if far(p, of, "number") != number {
		say("no number")
	}
	if light && far(p, of, "target") == "" {
		say("no target")
	}
	text := textOf([]layout.Page{*p})
	for _, note := range safety.Own(job.Setup, job.Numbers, job.Words, item) {
		if !strings.Contains(text, squeezed(note.Text)) && (note.Short == "" || !strings.Contains(text, squeezed(note.Short))) {
			say("no caution %s", note.Code)
		}
	}
	layout.Walk(p.Items, func(it layout.Item) {
		if t, ok := it.(*layout.Text); ok && t.Kind == "caution" && t.Cap < layout.Mm(3.5) {
			say("small caution %q", t.S)
		}
	})
	return out
}

// Random setups give stand cards without an overlap or ink in the margin, that
// lose nothing and keep on the first side what is read from far off.
func TestRandomStands(t *testing.T) {
	words, papers := wording(t), layout.StandPapers()
	forRandom(t, howMany(100, 1000), 1, 9, func(seed int, r random) []string {
		return standFaults(r, layout.StandsOptions{Paper: papers[seed%len(papers)], Duplex: seed%2 == 0}, words)
	})
}

func TestRandomStandsOfManyLights(t *testing.T) {
	words, papers := wording(t), layout.StandPapers()
	forRandom(t, howMany(2, 40), 21, 64, func(seed int, r random) []string {
		return standFaults(r, layout.StandsOptions{Paper: papers[seed%len(papers)], Duplex: seed%2 == 1}, words)
	})
}

// cardsOn gives what stands at each place of a sheet, by the group's label.
func cardsOn(p *layout.Page) map[string]string {
	out := map[string]string{}
	for _, it := range p.Items {
		if g, ok := it.(*layout.Group); ok && strings.HasPrefix(g.ID, "card-") {
			out[g.ID] = g.Label
		}
	}
	return out
}

// The piles that are cut from a stack of sheets, laid on each other, are in the
// order of the single cards.
func TestStandsCutInOrder(t *testing.T) {
	for name, job := range demos(t) {
		for _, duplex := range []bool{false, true} {
			sheets := stands(t, job, layout.StandsOptions{Paper: "a4", Duplex: duplex}).Pages
			var cut []string
			for pos := 1; pos <= 4; pos++ {
				for i := 0; i < len(sheets); i++ {
					if s := cardsOn(&sheets[i])[fmt.Sprintf("card-%d", pos)]; s != "" {
						cut = append(cut, s)
					}
					if duplex {
						i++
						if s := cardsOn(&sheets[i])[fmt.Sprintf("card-%d", pos)]; s != "" {
							cut = append(cut, s)
						}
					}
				}
			}
			number := func(s string) (n int) {
				_, err := fmt.Sscanf(s, "Stand card of %d", &n)
				if err != nil {
					_, err = fmt.Sscanf(s, "Back of the stand card of %d", &n)
				}
				require.NoError(t, err, s)
				return n
			}
			var numbers []int
			for _, s := range cut {
				numbers = append(numbers, number(s))
			}
			assert.True(t, slices.IsSorted(numbers), "%s: %v", name, numbers)
			assert.Equal(t, len(job.Setup.Lights)+len(job.Setup.Grip), len(slices.Compact(numbers)))
		}
	}
}

// The display list of a portrait's cards, as text.
func TestGoldenStands(t *testing.T) {
	golden(t, "bread-stands-a6", stands(t, goldenJobs(t)["bread"], layout.StandsOptions{}))
}

// Another reader of PDF finds each card's target and dial in one piece.
func TestStandsByAnotherReader(t *testing.T) {
	outside.Tool(t, "pdftotext")
	job := demos(t)["bread"]
	var b bytes.Buffer
	require.NoError(t, pdf.Write(&b, stands(t, job, layout.StandsOptions{Base: "f/11"})))
	path := filepath.Join(t.TempDir(), "stands.pdf")
	require.NoError(t, os.WriteFile(path, b.Bytes(), 0o600))
	text := outside.Run(t, "pdftotext", "-layout", "-f", "1", "-l", "1", path, "-")
	assert.Regexp(t, `Meter today: key reads f/11[^\n]*\s+f/11\n`, text)
	assert.Regexp(t, `Dial\s+1/4 \+0\.8\n`, text)
	assert.Contains(t, text, "0.80 m to the front, 1.15 m to the left")
}
