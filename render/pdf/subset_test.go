package pdf

import (
	"bytes"
	"encoding/binary"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/layout/text"
)

// allGlyphs are the glyphs of every rune of a face, none first.
func allGlyphs(bold bool) []uint16 {
	glyphs := []uint16{0}
	for r := rune(' '); r < 0xFFFF; r++ {
		if text.Has(r) {
			glyphs = append(glyphs, text.Glyph(r))
		}
	}
	return glyphs
}

// same tells whether two glyphs of two fonts are drawn alike: the same bytes, but
// for the numbers of their parts, and those alike in turn.
func same(t *testing.T, a, b *sfnt, ga, gb uint16) {
	t.Helper()
	oa, err := a.outline(ga)
	require.NoError(t, err)
	ob, err := b.outline(gb)
	require.NoError(t, err)
	ob = append([]byte(nil), ob...)
	places, err := parts(oa)
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(ob), len(oa))
	for _, at := range places {
		same(t, a, b, binary.BigEndian.Uint16(oa[at:]), binary.BigEndian.Uint16(ob[at:]))
		copy(ob[at:], oa[at:at+2])
	}
	require.True(t, bytes.Equal(oa, ob[:len(oa)]), "glyph %d as %d", ga, gb)
	require.Less(t, len(ob)-len(oa), 4, "no more than what fills a word")
	ma, err := a.metric(ga)
	require.NoError(t, err)
	mb, err := b.metric(gb)
	require.NoError(t, err)
	require.Equal(t, ma, mb)
}

func TestSubsetKeepsTheGlyphs(t *testing.T) {
	for _, bold := range []bool{false, true} {
		whole, err := openFont(text.Font(bold))
		require.NoError(t, err)
		all := allGlyphs(bold)
		for _, glyphs := range [][]uint16{{0}, all, all[len(all)/2:], {0, all[1], all[1], all[130], all[20]}} {
			program, err := subset(text.Font(bold), glyphs)
			require.NoError(t, err)
			assert.Equal(t, uint32(0xB1B0AFBA), sum32(program), "the sum of a whole font; OpenType 1.9, head")
			cut, err := openFont(program)
			require.NoError(t, err)
			for i, g := range glyphs {
				same(t, whole, cut, g, uint16(i))
			}
		}
	}
}

// A damaged font is an error, wherever the damage lies, and never a panic.
func TestSubsetOfDamagedFonts(t *testing.T) {
	whole := text.Font(false)
	glyphs := allGlyphs(false)[:150]
	for i := 0; i < len(whole); i += 1 + i/300 {
		ttf := append([]byte(nil), whole...)
		ttf[i] ^= 0xFF
		_, _ = subset(ttf, glyphs)
		_, _ = subset(whole[:i], glyphs)
	}
	_, err := subset(nil, glyphs)
	assert.Error(t, err)
	_, err = subset(whole, []uint16{60000})
	assert.Error(t, err)
}
