package layout_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/layout"
	"stopleaf/setup/grammar"
	"stopleaf/templates"
)

// example is the page format of that name that README.md shows.
func example(t testing.TB, name string) []byte {
	t.Helper()
	b, err := os.ReadFile("../README.md")
	require.NoError(t, err)
	_, after, ok := strings.Cut(string(b), "```yaml\n# "+name)
	require.True(t, ok, "README.md shows no %s", name)
	text, _, ok := strings.Cut(after, "```")
	require.True(t, ok)
	return []byte("# " + name + text)
}

func ownFormat(t testing.TB, document string, src []byte) *layout.Format {
	t.Helper()
	f, problems := layout.ParseFormat(document, "my-card.yaml", src)
	require.Empty(t, problems)
	return f
}

// ownPages is what is wrong with a document on a format of one's own.
func ownPages(job layout.Job, document string, f *layout.Format, duplex bool) (faults []string, refused error) {
	jobs := []layout.Job{job}
	var doc *layout.Document
	switch document {
	case "sheet":
		doc, refused = layout.Sheet(jobs, layout.SheetOptions{Format: f})
	case "stands":
		doc, refused = layout.Stands(jobs, layout.StandsOptions{Format: f, Duplex: duplex})
	default:
		doc, refused = layout.Card(jobs, layout.CardOptions{Format: f})
	}
	if refused != nil {
		return nil, refused
	}
	for i := range doc.Pages {
		for _, fault := range layout.Check(&doc.Pages[i]) {
			faults = append(faults, fmt.Sprintf("own, page %d: %s", i+1, fault))
		}
	}
	gone := lost(job, doc)
	switch document {
	case "sheet":
		gone = lostOnSheet(job, doc)
	case "stands":
		gone = lostOnStands(job, doc, "stands")
	}
	for _, l := range gone {
		faults = append(faults, "own: "+l)
	}
	return faults, nil
}

// The formats that are documented hold any setup, in every language.
func TestExampleFormat(t *testing.T) {
	var languages []templates.Words
	for _, lang := range templates.Languages() {
		w, err := templates.Load(lang)
		require.NoError(t, err)
		languages = append(languages, w)
	}
	for document, name := range map[string]string{"card": "my-card.yaml", "sheet": "my-sheet.yaml", "stands": "my-stands.yaml"} {
		f := ownFormat(t, document, example(t, name))
		forRandom(t, howMany(40, 250), 1, 20, func(seed int, r random) []string {
			return ownFaults(r, document, f, languages[seed%len(languages)], seed%2 == 0)
		})
	}
}

// tooLow is a refusal for want of height.
var tooLow = regexp.MustCompile(`^refused: page format ".*" cannot hold .* take [0-9.]+ mm in their short form, and the first side has [0-9.]+; take a larger page$`)

// ownFaults are those of a random setup; a setup that is refused is one.
func ownFaults(r random, document string, f *layout.Format, words templates.Words, duplex bool) []string {
	job, err := r.job(words)
	if err != nil {
		return []string{"setup: not a setup: " + err.Error()}
	}
	faults, refused := ownPages(job, document, f, duplex)
	if refused != nil {
		return []string{"refused: " + refused.Error()}
	}
	return faults
}

// Ours, read as a person's own, give pages as good. A card cut from Letter has
// no room for the longest titles and cautions there are, and says so.
func TestOurFormatsAsOnesOwn(t *testing.T) {
	words := wording(t)
	for document, papers := range map[string][]string{"card": layout.Papers(), "sheet": layout.SheetPapers(), "stands": layout.StandPapers()} {
		for _, paper := range papers {
			src, err := templates.Read("formats/" + document + "-" + paper + ".yaml")
			require.NoError(t, err)
			f := ownFormat(t, document, src)
			var refused atomic.Int64
			n := howMany(4, 30)
			forRandom(t, n, 1, 12, func(seed int, r random) []string {
				faults := ownFaults(r, document, f, words, seed%2 == 0)
				if document == "stands" && len(faults) == 1 && tooLow.MatchString(faults[0]) {
					refused.Add(1)
					return nil
				}
				return faults
			})
			assert.LessOrEqual(t, int(refused.Load()), n/10, "%s %s", document, paper)
		}
	}
}

// A format is for one document, and says so.
func TestFormatOfAnotherDocument(t *testing.T) {
	f := ownFormat(t, "card", example(t, "my-card.yaml"))
	_, err := layout.Sheet(nil, layout.SheetOptions{Format: f})
	assert.EqualError(t, err, `page format "my-card" is for a card, not for a sheet`)
	_, err = layout.Stands(nil, layout.StandsOptions{Format: f})
	assert.EqualError(t, err, `page format "my-card" is for a card, not for stand cards`)
}

// TestFormatMistakes reads every file of testdata/format, each with mistakes
// that a person makes, and compares what is printed, byte for byte.
func TestFormatMistakes(t *testing.T) {
	files, err := filepath.Glob("../testdata/format/*.yaml")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 10)
	for _, file := range files {
		src, err := os.ReadFile(file)
		require.NoError(t, err)
		document, _, _ := strings.Cut(filepath.Base(file), "-")
		if document != "sheet" && document != "stands" {
			document = "card"
		}
		f, problems := layout.ParseFormat(document, filepath.Base(file), src)
		require.True(t, problems.HasErrors(), file)
		assert.Nil(t, f)
		got := problems.Error() + "\n"
		out := strings.TrimSuffix(file, ".yaml") + ".out"
		if *update {
			require.NoError(t, os.WriteFile(out, []byte(got), 0o644))
		}
		want, err := os.ReadFile(out)
		require.NoError(t, err)
		assert.Equal(t, string(want), got)
	}
}

// A page on which the title block or the cautions have no room is refused, with
// figures, at once.
func TestFormatTooSmall(t *testing.T) {
	words := wording(t)
	job, err := setups(3, 3).Example(1).job(words)
	require.NoError(t, err)
	job.Setup.Title = "Flour"
	for size, want := range map[string]string{
		"width: 60\nheight: 50\n":                     `title block takes [0-9.]+ mm of the [0-9.]+ mm between the margins, and 18 must be left`,
		"width: 70\nheight: 85\ntype: {text: 5}\n":    ` [0-9.]+ mm`,
		"width: 150\nheight: 55\ngap: 1\nmargin: 2\n": ` [0-9.]+ mm`,
	} {
		f := ownFormat(t, "card", []byte(size+"sides: [{down: [lights, {block: cautions, short: true}]}]\n"))
		began := time.Now()
		_, refused := ownPages(job, "card", f, false)
		require.Error(t, refused, size)
		assert.Regexp(t, want, refused.Error())
		assert.Contains(t, refused.Error(), `page format "my-card" cannot hold "Flour": `)
		assert.Less(t, time.Since(began), 5*time.Second)
	}
}

// Any format that is taken gives good pages that lose nothing, or says why a
// setup cannot be on it.
func TestRandomFormats(t *testing.T) {
	words := wording(t)
	for _, document := range grammar.Documents {
		taken, held := 0, 0
		gen := formats(document)
		n := howMany(40, 400)
		for seed := range n {
			src := gen.Example(seed)
			f, problems := layout.ParseFormat(document, "random.yaml", []byte(src))
			if problems.HasErrors() {
				continue
			}
			taken++
			job, err := setups(1, 12).Example(seed).job(words)
			require.NoError(t, err)
			faults, refused := ownPages(job, document, f, seed%2 == 0)
			if refused != nil {
				assert.Regexp(t, `^page format "random" cannot hold ".*": .*[0-9]`, refused.Error())
				continue
			}
			held++
			require.Empty(t, faults, "%d\n%s", seed, src)
		}
		t.Logf("%s: %d formats taken, %d held their setup", document, taken, held)
		assert.Greater(t, taken, n/3, document)
		assert.Greater(t, held, n/6, document)
	}
}

// FuzzFormatPages: whatever format is taken, a setup is laid out on it or
// refused, soon, and nothing panics.
func FuzzFormatPages(f *testing.F) {
	files, err := filepath.Glob("../templates/formats/*.yaml")
	require.NoError(f, err)
	for _, file := range files {
		b, err := os.ReadFile(file)
		require.NoError(f, err)
		for i := range grammar.Documents {
			f.Add(byte(i), b)
		}
	}
	f.Add(byte(0), []byte("width: 90\nheight: 120\nmargin: 3\nsides: [{down: [plan, lights, {across: [camera, sums]}, cautions], give: [plan]}]\n"))
	f.Add(byte(1), []byte("for: sheet\nwidth: 120\nheight: 160\nsides: [{down: [lights, cautions]}]\nnext: [{flow: true, across: [build, notes]}]\n"))
	f.Add(byte(2), []byte("for: stands\nsheet: a4\nwidth: 64\nheight: 90\nmargin: 3\nsides: [{down: [stand-head, stand-today, cautions]}]\n"))
	job, err := setups(3, 3).Example(1).job(wording(f))
	require.NoError(f, err)
	f.Fuzz(func(t *testing.T, which byte, src []byte) {
		document := grammar.Documents[int(which)%len(grammar.Documents)]
		own, _ := layout.ParseFormat(document, "f.yaml", src)
		if own == nil {
			return
		}
		began := time.Now()
		faults, refused := ownPages(job, document, own, which > 127)
		if refused == nil && len(faults) > 0 {
			t.Fatalf("%v\n%s", faults, src)
		}
		if took := time.Since(began); took > 10*time.Second {
			t.Fatalf("took %s", took)
		}
	})
}

// The most that a setup may hold, on a small page, comes to an end.
func TestFormatOfManySides(t *testing.T) {
	words := wording(t)
	job, err := setups(64, 64).Example(3).job(words)
	require.NoError(t, err)
	job.Setup.Title, job.Setup.Code = "Flour", "F"
	job.Setup.Notes = strings.Repeat("flour in the air ", 250)
	page := "width: 105\nheight: 90\nmargin: 2\ngap: 1\nframe: no\nstrip: [title, code, sheet]\nstrip next: [title, code, sheet]\n"
	for document, sides := range map[string]string{
		"card":   "sides: [{down: [lights, {block: cautions, short: true}], give: [lights]}]\n",
		"sheet":  "for: sheet\nsides: [{down: [lights, {block: cautions, short: true}], give: [lights]}]\nnext: [{flow: true, across: [{block: build, width: 50}, notes]}]\n",
		"stands": "for: stands\nsides: [{down: [stand-head, stand-today, {block: cautions, short: true}]}]\n",
	} {
		f := ownFormat(t, document, []byte(page+sides))
		began := time.Now()
		_, refused := ownPages(job, document, f, true)
		t.Log(document, time.Since(began), refused)
		assert.Less(t, time.Since(began), 20*time.Second)
	}
}
