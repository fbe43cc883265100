package layout_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/layout"
	"stopleaf/templates"
)

// In every language every document of random setups is as whole as in English,
// and speaks one language.
func TestPagesInEveryLanguage(t *testing.T) {
	for _, lang := range templates.Languages() {
		if lang == "en" {
			continue
		}
		words, err := templates.Load(lang)
		require.NoError(t, err)
		t.Run(lang, func(t *testing.T) {
			forRandom(t, howMany(24, 240), 1, 12, func(seed int, r random) []string {
				cards, sheets, stands := layout.Papers(), layout.SheetPapers(), layout.StandPapers()
				out := faultsOf(r, cards[seed%len(cards)], words)
				out = append(out, sheetFaults(r, sheets[seed%len(sheets)], words)...)
				return append(out, standFaults(r, layout.StandsOptions{Paper: stands[seed%len(stands)], Duplex: seed%2 == 0}, words)...)
			})
			for _, paper := range layout.BlankPapers() {
				doc, err := layout.Blank(nil, words, layout.BlankOptions{Paper: paper})
				require.NoError(t, err)
				for i := range doc.Pages {
					assert.Empty(t, layout.Check(&doc.Pages[i]), "%s, side %d", paper, i+1)
				}
				assert.Equal(t, lang, doc.Lang)
			}
		})
	}
}
