package main

import (
	"os"
	"path/filepath"
	"sort"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/layout"
	"stopleaf/render/raster"
	"stopleaf/setup"
	"stopleaf/setup/grammar"
)

// A watch follows the house file and the page format as it follows the setup.
func TestWatchHouseAndFormat(t *testing.T) {
	dir := sample(t)
	small, out := filepath.Join(dir, "small.yaml"), filepath.Join(dir, "small.pdf")
	house, format := filepath.Join(dir, "stopleaf.yaml"), filepath.Join(dir, "my-card.yaml")
	page := "width: 210\nheight: 148\nsides: [{down: [lights, {block: cautions, short: true}]}]\n"
	require.NoError(t, os.WriteFile(house, []byte("by: Halvard Studio\n"), 0o666))
	require.NoError(t, os.WriteFile(format, []byte(page), 0o666))
	said, end := watching(t, "card", small, "--format", format, "-o", out, "--watch")
	said("watching", 1)
	first := read(t, out)

	require.NoError(t, os.WriteFile(house, []byte("by: Another Studio\n"), 0o666))
	said("stopleaf.yaml changed", 1)
	said("watching", 2)
	second := read(t, out)
	assert.NotEqual(t, first, second)

	require.NoError(t, os.WriteFile(format, []byte(page+"margin: 9\n"), 0o666))
	said("my-card.yaml changed", 1)
	said("watching", 3)
	third := read(t, out)
	assert.NotEqual(t, second, third)

	// A mistake in either does not end it.
	require.NoError(t, os.WriteFile(format, []byte(page+"margn: 9\n"), 0o666))
	said(`unknown key "margn"`, 1)
	require.NoError(t, os.WriteFile(house, []byte("papr: a4\n"), 0o666))
	said(`unknown key "papr"`, 1)
	assert.Equal(t, third, read(t, out))
	assert.Equal(t, exitDone, end())
}

// What a house may name is what there is.
func TestHouseNamesWhatThereIs(t *testing.T) {
	ours, theirs := append([]string{}, grammar.Papers...), layout.Papers()
	sort.Strings(ours)
	assert.Equal(t, theirs, ours)
	assert.ElementsMatch(t, papers, ours)
	for dpi, ok := range map[int]bool{raster.LeastDPI: true, raster.MostDPI: true, raster.LeastDPI - 1: false, raster.MostDPI + 1: false} {
		_, problems := setup.ParseHouse("stopleaf.yaml", []byte("dpi: "+strconv.Itoa(dpi)+"\n"))
		assert.Equal(t, !ok, problems.HasErrors(), dpi)
	}
}
