package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/internal/outside"
	"stopleaf/internal/randomset"
)

// writeSetups writes n setups of 1 to 12 lights, each with a code of its own. What
// they say goes round a few dozen random ones.
func writeSetups(t *testing.T, dir string, n int) {
	t.Helper()
	const different = 40
	var texts []string
	for i := range min(n, different) {
		set := randomset.Setups(1, 12).Example(i)
		set.Top = slices.DeleteFunc(set.Top, func(l string) bool { return strings.HasPrefix(l, "code:") })
		texts = append(texts, set.YAML())
	}
	for i := range n {
		text := fmt.Sprintf("code: R-%d\n", i+1) + texts[i%len(texts)]
		require.NoError(t, os.WriteFile(filepath.Join(dir, fmt.Sprintf("%d.yaml", i+1)), []byte(text), 0o666))
	}
}

// Readers of PDF by others, qpdf, mutool and pdfinfo, find no fault with a binder of
// one setup, one of some pages and one of 2,000.
func TestReadersOfPDFTakeABinder(t *testing.T) {
	sizes := map[int]int{1: 5, 14: 50} // setups, and the fewest pages of them
	if os.Getenv("STOPLEAF_CI") == "1" {
		sizes[560] = 2000
	}
	for setups, least := range sizes {
		t.Run(strconv.Itoa(setups), func(t *testing.T) {
			dir := t.TempDir()
			writeSetups(t, dir, setups)
			out := filepath.Join(t.TempDir(), "b.pdf")
			code, _, stderr := ran("binder", dir, "--photos", "skip", "--duplex", "-o", out)
			require.Equal(t, exitDone, code, stderr)
			said := regexp.MustCompile(`\((\d+) pages\)`).FindStringSubmatch(stderr)
			require.NotNil(t, said, stderr)
			pages, err := strconv.Atoi(said[1])
			require.NoError(t, err)
			require.GreaterOrEqual(t, pages, least)

			assert.Contains(t, outside.Run(t, "qpdf", "--check", out), "No syntax or stream encoding errors found")
			info := outside.Run(t, "pdfinfo", out)
			assert.Regexp(t, fmt.Sprintf(`(?m)^Pages:\s+%d$`, pages), info)
			assert.NotContains(t, info, "rror")
			few := fmt.Sprintf("1,2,%d,%d", pages/2, pages)
			for _, args := range [][]string{
				{"info", out},
				{"draw", "-q", "-r", "30", "-o", filepath.Join(t.TempDir(), "%d.png"), out, few},
				{"show", out, "outline"},
			} {
				heard := strings.ReplaceAll(outside.Run(t, "mutool", args...), "warning: ICC support is not available\n", "") // of how it was built
				assert.NotRegexp(t, `(?m)^(error|warning)`, heard)
			}
		})
	}
}
