package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/internal/outside"
	"stopleaf/internal/randomset"
)

// A binder of random setups is the same file twice and for its setups named in any
// order; after one of them is edited, the sheets to change are its own, and the
// lists. Other readers of PDF find no fault with it.
func TestBinderIsKeptUp(t *testing.T) {
	n := 12
	if os.Getenv("STOPLEAF_CI") == "1" {
		n = 200
	}
	dir := t.TempDir()
	t.Chdir(dir)
	var names []string
	for i := range n {
		set := randomset.Setups(1, 12).Example(i)
		set.Top = append(slices.DeleteFunc(set.Top, func(l string) bool { return strings.HasPrefix(l, "code:") }), fmt.Sprintf("code: R-%d", i+1))
		name := fmt.Sprintf("%d.yaml", i+1)
		require.NoError(t, os.WriteFile(name, []byte(set.YAML()), 0o666))
		names = append(names, name)
	}
	made := func(name string, args ...string) string {
		code, stdout, stderr := ran(append(append([]string{"binder"}, args...), "--photos", "skip", "--duplex", "-o", name)...)
		require.Equal(t, exitDone, code, stderr)
		return stdout
	}
	made("a.pdf", names...)
	rand.Shuffle(len(names), func(i, j int) { names[i], names[j] = names[j], names[i] })
	made("b.pdf", names...)
	require.Equal(t, read(t, dir, "a.pdf"), read(t, dir, "b.pdf"))

	outside.Run(t, "qpdf", "--check", "a.pdf")
	assert.NotContains(t, outside.Run(t, "pdfinfo", "a.pdf"), "rror")
	assert.NotContains(t, outside.Run(t, "mutool", "info", "a.pdf"), "error")

	edited := filepath.Join(dir, "5.yaml")
	text := read(t, dir, "5.yaml")
	require.NoError(t, os.WriteFile(edited, []byte(strings.Replace(text, "lights:\n", "lights:\n  - {name: One more than there was, role: other, delta: 1.5 under}\n", 1)), 0o666))
	var out, in []string
	list := &out
	for line := range strings.Lines(made("c.pdf", append(names, "--only-changed", "a.pdf")...)) {
		switch {
		case strings.HasPrefix(line, "Take out"):
		case strings.HasPrefix(line, "Put in"):
			list = &in
		default:
			code, _, _ := strings.Cut(strings.TrimSpace(line), "/")
			*list = append(*list, code)
		}
	}
	for _, list := range [][]string{out, in} {
		for _, code := range list {
			assert.Contains(t, []string{"R-5", "C", "X", "K"}, code)
		}
		assert.Contains(t, list, "R-5")
	}
}

// Setups that are read again when their turn comes give the same binder, photos and
// what gives them back with it.
func TestBinderReadsAgainWhatItDoesNotKeep(t *testing.T) {
	dir, _ := photoCase(t, largePhoto(t))
	writeSetups(t, dir, 6)
	made := func() string {
		code, stdout, stderr := ran("binder", dir, "-o", "-")
		require.Equal(t, exitDone, code, stderr)
		return stdout
	}
	want := made()
	before := mostKept
	t.Cleanup(func() { mostKept = before })
	for _, mostKept = range []int64{0, 3} {
		require.True(t, want == made())
	}
}
