package layout_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/layout"
	"stopleaf/render/dump"
	"stopleaf/setup"
	"stopleaf/setup/photo"
)

var update = flag.Bool("update", false, "write the golden dumps anew; then read the difference")

// goldenJobs are the demos, a crowded set and a bare one. A picture of one fixed
// size stands in for every photograph, so that a photograph may change without
// its page's dump.
func goldenJobs(t *testing.T) map[string]layout.Job {
	jobs := demos(t)
	for _, name := range []string{"crowded", "bare"} {
		s, problems := setup.Read(filepath.Join("..", "testdata", "golden", "layout", name+".yaml"), setup.Options{})
		require.NotNil(t, s, "%v", problems)
		job, err := jobOf(s, wording(t))
		require.NoError(t, err)
		jobs[name] = job
	}
	for _, job := range jobs {
		for i := range job.Setup.Photos {
			job.Setup.Photos[i].Picture = &photo.Picture{Format: "jpeg", Data: []byte("a picture"), Width: 800, Height: 1200, Orientation: 1, Channels: 3}
		}
	}
	return jobs
}

// The display lists of whole pages, as text. Look at the pictures before
// taking a change: go test ./layout -run Golden -update.
func TestGolden(t *testing.T) {
	for name, job := range goldenJobs(t) {
		card, err := layout.Card([]layout.Job{job}, layout.CardOptions{})
		require.NoError(t, err)
		plan, err := layout.Plan(job, layout.PlanOptions{})
		require.NoError(t, err)
		for kind, doc := range map[string]*layout.Document{"card-a5": card, "plan": plan} {
			for i := range doc.Pages {
				assert.Empty(t, layout.Check(&doc.Pages[i]), "%s %s, page %d", name, kind, i+1)
			}
			golden(t, name+"-"+kind, doc)
		}
	}
}

// golden holds a document's display list against the one that was read and accepted.
func golden(t *testing.T, name string, doc *layout.Document) {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, dump.Write(&b, doc))
	path := filepath.Join("..", "testdata", "golden", "layout", name+".txt")
	if *update {
		require.NoError(t, os.WriteFile(path, b.Bytes(), 0o644))
		return
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	if !bytes.Equal(want, b.Bytes()) {
		line, was, is := firstDifference(want, b.Bytes())
		t.Errorf("%s differs at line %d:\n  was %s\n  is  %s\nlook at the page, then run with -update", path, line, was, is)
	}
}

func firstDifference(a, b []byte) (line int, was, is []byte) {
	x, y := bytes.Split(a, []byte("\n")), bytes.Split(b, []byte("\n"))
	for i := range max(len(x), len(y)) {
		was, is = nil, nil
		if i < len(x) {
			was = x[i]
		}
		if i < len(y) {
			is = y[i]
		}
		if !bytes.Equal(was, is) {
			return i + 1, was, is
		}
	}
	return 0, nil, nil
}
