package layout

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestKeepFigures(t *testing.T) {
	for s, want := range map[string]string{
		"":                             "",
		"2 m":                          "2_m",
		"1 2 3":                        "1 2 3",
		"f/8 +0.4 and 1.2 × 0.3 m, up": "f/8_+0.4 and 1.2_×_0.3_m, up",
		"½ stop":                       "½_stop",
		"a  2 m ":                      "a  2_m ",
		"x 3":                          "x_3",
		"m 2":                          "m 2",
	} {
		assert.Equal(t, strings.ReplaceAll(want, "_", noBreak), keepFigures(s))
	}
}

// The first line takes words one by one as long as they fit, and nothing is
// lost.
func TestFirstLine(t *testing.T) {
	word := rapid.SampledFrom([]string{"a", "key", "f/8", "+0.3", "2.5", "m", "½", "Žižkov", "漢字", "e\u0301", "counterweight", "×", "  ", "\n"})
	rapid.Check(t, func(t *rapid.T) {
		b := &paragraphs{st: style{cap: capUse, bold: rapid.Bool().Draw(t, "bold")}}
		s := strings.Join(rapid.SliceOfN(word, 0, 12).Draw(t, "words"), " ")
		w := Um(rapid.IntRange(-10, 60_000).Draw(t, "w"))
		first, rest := b.firstLine(s, w)
		require.Equal(t, strings.Fields(s), strings.Fields(first+" "+rest))
		words := strings.Split(keepFigures(strings.Join(strings.Fields(s), " ")), " ")
		n := 0
		for n < len(words) && width(strings.Join(words[:n+1], " "), b.st) <= w {
			n++
		}
		require.Equal(t, strings.ReplaceAll(strings.Join(words[:n], " "), noBreak, " "), first)
	})
}
