package layout_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stopleaf/layout"
	"stopleaf/templates"
)

// example is the page format that README.md shows.
func example(t testing.TB) []byte {
	t.Helper()
	b, err := os.ReadFile("../README.md")
	require.NoError(t, err)
	_, after, ok := strings.Cut(string(b), "```yaml\n# my-card.yaml")
	require.True(t, ok, "README.md shows no my-card.yaml")
	text, _, ok := strings.Cut(after, "```")
	require.True(t, ok)
	return []byte("# my-card.yaml" + text)
}

func ownFormat(t testing.TB, src []byte) *layout.Format {
	t.Helper()
	f, problems := layout.ParseFormat("my-card.yaml", src)
	require.Empty(t, problems)
	return f
}

// ownCard is what is wrong with the card of a setup on a format of one's own.
func ownCard(job layout.Job, f *layout.Format) (faults []string, refused error) {
	doc, err := layout.Card([]layout.Job{job}, layout.CardOptions{Format: f})
	if err != nil {
		return nil, err
	}
	for i := range doc.Pages {
		for _, fault := range layout.Check(&doc.Pages[i]) {
			faults = append(faults, fmt.Sprintf("own, page %d: %s", i+1, fault))
		}
	}
	for _, l := range lost(job, doc) {
		faults = append(faults, "own: "+l)
	}
	return faults, nil
}

// The format that is documented holds any setup.
func TestExampleFormat(t *testing.T) {
	f, words := ownFormat(t, example(t)), wording(t)
	forRandom(t, howMany(100, 500), 1, 20, func(seed int, r random) []string {
		job, err := r.job(words)
		if err != nil {
			return []string{"setup: not a setup: " + err.Error()}
		}
		faults, refused := ownCard(job, f)
		if refused != nil {
			return []string{"refused: " + refused.Error()}
		}
		return faults
	})
}

// Ours, read as a person's own, give pages as good.
func TestOurFormatsAsOnesOwn(t *testing.T) {
	words := wording(t)
	for _, paper := range layout.Papers() {
		src, err := templates.Read("formats/card-" + paper + ".yaml")
		require.NoError(t, err)
		f := ownFormat(t, src)
		forRandom(t, howMany(5, 50), 1, 12, func(seed int, r random) []string {
			job, err := r.job(words)
			if err != nil {
				return []string{"setup: not a setup: " + err.Error()}
			}
			faults, refused := ownCard(job, f)
			if refused != nil {
				return []string{"refused: " + refused.Error()}
			}
			return faults
		})
	}
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
		f, problems := layout.ParseFormat(filepath.Base(file), src)
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
		f := ownFormat(t, []byte(size+"sides: [{down: [lights, {block: cautions, short: true}]}]\n"))
		began := time.Now()
		_, refused := ownCard(job, f)
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
	taken, held := 0, 0
	gen := formats()
	for seed := range howMany(60, 400) {
		src := gen.Example(seed)
		f, problems := layout.ParseFormat("random.yaml", []byte(src))
		if problems.HasErrors() {
			continue
		}
		taken++
		job, err := setups(1, 12).Example(seed).job(words)
		require.NoError(t, err)
		faults, refused := ownCard(job, f)
		if refused != nil {
			assert.Regexp(t, `^page format "random" cannot hold ".*": .*[0-9]`, refused.Error())
			continue
		}
		held++
		require.Empty(t, faults, "%d\n%s", seed, src)
	}
	t.Logf("%d formats taken, %d held their setup", taken, held)
	assert.Greater(t, taken, 20)
	assert.Greater(t, held, 10)
}

// dice draws the parts of a random page format.
type dice struct{ t *rapid.T }

func (d dice) in(lo, hi int) int       { return rapid.IntRange(lo, hi).Draw(d.t, "n") }
func (d dice) one(of ...string) string { return rapid.SampledFrom(of).Draw(d.t, "one") }
func (d dice) chance(percent int) bool { return d.in(0, 99) < percent }

// formats generates page formats, most of them sound.
func formats() *rapid.Generator[string] {
	return rapid.Custom(func(t *rapid.T) string {
		m := dice{t}
		var b strings.Builder
		fmt.Fprintf(&b, "width: %d\nheight: %d\nmargin: %d\ngap: %d\nframe: %s\n", m.in(100, 420), m.in(90, 420), m.in(3, 12), m.in(1, 5), m.one("yes", "no"))
		fmt.Fprintf(&b, "type: {text: %s, target: %s, title: %s, code: %s, balloon: %s}\n", m.one("2.5", "2.5", "3.5"), m.one("2.5", "3.5", "5"), m.one("2.5", "5"), m.one("3.5", "7"), m.one("2.5", "3.5"))
		b.WriteString("sides:\n")
		for range m.in(1, 3) {
			fmt.Fprintf(&b, "  - %s: [%s]\n    give: [%s]\n", m.one("down", "down", "across"), strings.Join([]string{
				m.one("lights", "{block: lights, as: targets}", "{block: lights, columns: [[number], [name], [difference], [target, dial], [place, height], [aim, meter, modifier]]}"),
				m.one("{across: [{block: photo, width: 40}, plan]}", "plan", "{down: [plan, side]}"),
				m.one("{block: cautions, short: true}", "cautions", "{block: cautions, run: true}"),
				m.one("camera", "{across: [camera, sums]}", "{down: [notes, rulers]}"),
			}, ", "), m.one("plan", "plan, plan")[:4])
		}
		if m.chance(50) {
			b.WriteString("next: [" + m.one("notes, {across: [camera, sums]}", "{block: lights, as: places}, plan", "photo") + "]\n")
		}
		return b.String()
	})
}

// FuzzFormatCard: whatever format is taken, a setup is laid out on it or refused,
// soon, and nothing panics.
func FuzzFormatCard(f *testing.F) {
	files, err := filepath.Glob("../templates/formats/card-*.yaml")
	require.NoError(f, err)
	for _, file := range files {
		b, err := os.ReadFile(file)
		require.NoError(f, err)
		f.Add(b)
	}
	f.Add([]byte("width: 90\nheight: 120\nmargin: 3\nsides: [{down: [plan, lights, {across: [camera, sums]}, cautions], give: [plan]}]\n"))
	job, err := setups(3, 3).Example(1).job(wording(f))
	require.NoError(f, err)
	f.Fuzz(func(t *testing.T, src []byte) {
		own, _ := layout.ParseFormat("f.yaml", src)
		if own == nil {
			return
		}
		began := time.Now()
		faults, refused := ownCard(job, own)
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
	f := ownFormat(t, []byte("width: 105\nheight: 90\nmargin: 2\ngap: 1\nframe: no\nstrip: [title, code, sheet]\nstrip next: [title, code, sheet]\n"+
		"sides: [{down: [lights, {block: cautions, short: true}], give: [lights]}]\n"))
	job, err := setups(64, 64).Example(3).job(words)
	require.NoError(t, err)
	job.Setup.Title, job.Setup.Code = "Flour", "F"
	job.Setup.Notes = strings.Repeat("flour in the air ", 250)
	began := time.Now()
	_, refused := ownCard(job, f)
	t.Log(time.Since(began), refused)
	assert.Less(t, time.Since(began), 20*time.Second)
}
