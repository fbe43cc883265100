package templates

import (
	"regexp"
	"slices"
	"sort"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var places = regexp.MustCompile(`\{[a-z0-9-]+\}`)

// Every language says everything, fills the same places, and leaves nothing out.
func TestLanguagesAreComplete(t *testing.T) {
	english, err := Load("en")
	require.NoError(t, err)
	require.Contains(t, Languages(), "en")
	for _, lang := range Languages() {
		words, err := Load(lang)
		require.NoError(t, err, lang)
		for key, text := range english {
			said, ok := words[key]
			if !assert.True(t, ok, "%s: no %q", lang, key) || key == "lang" {
				continue
			}
			want, got := places.FindAllString(text, -1), places.FindAllString(said, -1)
			sort.Strings(want)
			sort.Strings(got)
			assert.Equal(t, slices.Compact(want), slices.Compact(got), "%s: %q", lang, key)
			assert.Equal(t, text == "", said == "", "%s: %q", lang, key)
		}
		for key := range words {
			assert.Contains(t, english, key, "%s has %q, which nothing prints", lang, key)
		}
	}
}
