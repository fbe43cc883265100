package layout_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/layout"
	"stopleaf/setup/grammar"
	"stopleaf/templates"
)

// Every kind of modifier that the file knows has its word in every language; a
// kind and a name of the person's own stay as they were written.
func TestKindsInEveryLanguage(t *testing.T) {
	job := demos(t)["bread"]
	for _, lang := range templates.Languages() {
		words, err := templates.Load(lang)
		require.NoError(t, err)
		for _, k := range grammar.ModifierKinds {
			assert.Contains(t, words, "kind."+strings.ToLower(k.Name), lang)
		}
		job.Words = words
		var kit []string
		for _, k := range layout.KitList(job) {
			kit = append(kit, k.What)
		}
		all := strings.Join(kit, "\n")
		for _, ours := range []string{"compact head", "reflector panel", "V-flat", "table"} {
			if said := words["kind."+strings.ToLower(ours)]; assert.NotEmpty(t, said, "%s: %s", lang, ours) {
				assert.Contains(t, all, said, lang)
			}
		}
		for _, theirs := range []string{"compact-400", "half orange", "oak", "dark olive"} {
			assert.Contains(t, all, theirs, lang)
		}
		if lang == "de" { // from the trade's catalogues, from memory
			assert.True(t, slices.Contains(kit, "V-Flat schwarz 1.20 m × 2.40 m"), all)
			assert.True(t, slices.Contains(kit, "compact-400, Kompaktblitz, 400 Ws"), all)
			assert.True(t, slices.Contains(kit, "Normalreflektor 0.18 m"), all)
		}
	}
}

// kindIn is a kind in the words of a page.
func kindIn(words templates.Words, kind string) string {
	if s, ok := words["kind."+strings.ToLower(kind)]; ok {
		return s
	}
	return kind
}
