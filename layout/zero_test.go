package layout_test

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/layout"
	"stopleaf/setup"
)

// pageTexts are all texts of a card of a file of testdata/ok, in one of its
// looks or as written.
func pageTexts(t *testing.T, name, look string) string {
	t.Helper()
	s, problems := setup.Read(filepath.Join("..", "testdata", "ok", name+".yaml"), setup.Options{})
	require.NotNil(t, s, "%v", problems)
	if look != "" {
		var err error
		s, err = s.WithLook(look)
		require.NoError(t, err)
	}
	job, err := jobOf(s, wording(t))
	require.NoError(t, err)
	doc, err := layout.Card([]layout.Job{job}, layout.CardOptions{Rulers: true})
	require.NoError(t, err)
	var out []string
	var walk func(items []layout.Item)
	walk = func(items []layout.Item) {
		for _, it := range items {
			switch x := it.(type) {
			case *layout.Text:
				out = append(out, x.S)
			case *layout.Group:
				walk(x.Items)
			}
		}
	}
	for i := range doc.Pages {
		assert.Empty(t, layout.Check(&doc.Pages[i]), "%s %s", name, look)
		walk(doc.Pages[i].Items)
	}
	return strings.Join(out, "\n")
}

func TestPagesSpeakOfTheZero(t *testing.T) {
	text := pageTexts(t, "zero-light", "")
	assert.Contains(t, text, "Window reads")
	assert.Contains(t, text, "Window read, camera at")
	assert.NotContains(t, text, "key")
	text = pageTexts(t, "zero-ambient", "")
	assert.Contains(t, text, "ambient reads")
	assert.NotContains(t, text, "Key")
}

func TestPagesOfALook(t *testing.T) {
	text := pageTexts(t, "looks", "low")
	assert.Contains(t, text, "Portrait, three ways: Low")
	assert.Contains(t, text, "Hair, Wall L, Wall R off, Fill 2.6 under")
	off := 0
	for _, line := range strings.Split(text, "\n") {
		if line == "off" {
			off++
		}
	}
	assert.Equal(t, 3*4, off, "three lights: difference and three bases")
	assert.NotContains(t, text, "No hair")
	text = pageTexts(t, "looks", "")
	assert.Contains(t, text, "No hair: Hair off;")
	assert.NotContains(t, "\n"+text+"\n", "\noff\n")
}

func TestPagesOfPacks(t *testing.T) {
	text := pageTexts(t, "packs", "")
	assert.Contains(t, text, "Pack split, outlet B")
	assert.Contains(t, text, "300 Ws")
}
