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

	"stopleaf/exposure/apex"
	"stopleaf/internal/outside"
	"stopleaf/layout"
	"stopleaf/render/pdf"
	"stopleaf/setup"
	"stopleaf/templates"
)

// demos are the embedded demo setups by name.
func demos(t testing.TB) map[string]layout.Job {
	t.Helper()
	out := map[string]layout.Job{}
	names, err := templates.List("demo")
	require.NoError(t, err)
	for _, name := range names {
		path := filepath.Join("..", "templates", "demo", name)
		src, err := os.ReadFile(path)
		require.NoError(t, err)
		if filepath.Ext(name) != ".yaml" || !setup.IsSetup(src) {
			continue
		}
		s, problems := setup.Read(path, setup.Options{})
		require.NotNil(t, s, "%v", problems)
		job, err := jobOf(s, wording(t))
		require.NoError(t, err)
		out[strings.TrimSuffix(name, ".yaml")] = job
	}
	require.Len(t, out, 3)
	return out
}

// Another reader of PDF gives each row of the table of lights whole and in
// order: number, name, difference and the targets, on one line.
func TestRowsByAnotherReader(t *testing.T) {
	outside.Tool(t, "pdftotext")
	for name, job := range demos(t) {
		doc, err := layout.Card([]layout.Job{job}, layout.CardOptions{})
		require.NoError(t, err)
		var b bytes.Buffer
		require.NoError(t, pdf.Write(&b, doc))
		path := filepath.Join(t.TempDir(), name+".pdf")
		require.NoError(t, os.WriteFile(path, b.Bytes(), 0o600))
		for _, args := range [][]string{{"-layout", path, "-"}, {path, "-"}} {
			text := outside.Run(t, "pdftotext", args...)
			var lines []string
			for l := range strings.Lines(text) {
				lines = append(lines, strings.Join(strings.Fields(l), " "))
			}
			last := -1
			for i, l := range job.Setup.Lights {
				want := rowOf(job, i)
				at := -1
				for n, line := range lines { // a label of the plan may stand before it on the line
					row, ok := strings.CutSuffix(line, want)
					row = strings.TrimSuffix(strings.TrimSpace(row), " ("+l.Role+")")
					if n > last && ok && strings.HasSuffix(" "+row, fmt.Sprintf(" %d %s", l.Number, l.Name)) {
						at = n
						break
					}
				}
				assert.Greater(t, at, last, "%s %v: no row %d %s ... %s after line %d in\n%s", name, args, l.Number, l.Name, want, last, text)
				last = at
			}
		}
	}
}

// rowOf is how a light's row ends: its difference and what the meter must show
// at each base, from the numbers by the notation alone.
func rowOf(job layout.Job, i int) string {
	l := job.Numbers.Lights[i]
	parts := []string{apex.FormatDelta(l.Delta)}
	if job.Setup.Lights[i].Role == "key" {
		parts = []string{"key, 0"}
	}
	for _, b := range job.Numbers.Bases {
		parts = append(parts, apex.Tenths(b.Av+l.Delta))
	}
	return strings.Join(parts, " ")
}

// What the demos say, worked out by hand from their files: the target is the
// base plus the difference, the dial the recorded power plus the base less the
// key's reading.
func TestDemoNumbers(t *testing.T) {
	for name, rows := range map[string][][]string{
		"bread": {
			{"light 1", "key, 0", "f/5.6", "f/8", "f/11", "1/16 +0.8", "1/8 +0.8", "1/4 +0.8"},                                                            // 1/4 +0.2 is -1.8; f/8 +0.4 to f/5.6, f/8, f/11 is -1.4, -0.4, +0.6
			{"light 3", "1.1 under", "f/2.8 +0.9", "f/4 +0.9", "f/5.6 +0.9", "5.9", "6.9", "7.9", "165° right, 1.30", "0.34 right, 1.26 behind", "12:30"}, // f/6.3 is Av 5.333, 1.067 under 6.4
			{"light 4", "139° left, 1.98", "10:45"}, // atan(1.3/1.5) is 40.9° short of 180
			{"light 6", "2.7 under", "f/2 +0.3", "f/2.8 +0.3", "f/4 +0.3", "120° left, 1.50", "10:00"},
		},
		"ink": {
			{"light 1", "key, 0", "10.2 %", "20 %", "41 %"}, // 25 % at f/11 +0.3: 2^-3.3, 2^-2.3, 2^-1.3
			{"light 2", "1.2 under"},                        // EV 13.1 at 1/128 s is Av 6.1, 1.2 under 7.3
		},
		"coat": {
			{"light 1", "45° right, 6 ft", "4 ft 3 in right, 4 ft 3 in front", "4:30"}, // 6 ft sin 45° is 4.243 ft
		},
	} {
		job := demos(t)[name]
		doc, err := layout.Card([]layout.Job{job}, layout.CardOptions{Paper: "a4"})
		require.NoError(t, err)
		by := map[string][]string{}
		for i := range doc.Pages {
			layout.Walk(doc.Pages[i].Items, func(it layout.Item) {
				if x, ok := it.(*layout.Text); ok {
					by[x.Of] = append(by[x.Of], x.S)
				}
			})
		}
		for _, row := range rows {
			for _, s := range row[1:] {
				assert.Contains(t, by[row[0]], s, "%s, %s", name, row[0])
			}
		}
	}
}
