package dump

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/layout"
	"stopleaf/render/internal/sample"
)

func dumped(t *testing.T, items ...layout.Item) string {
	t.Helper()
	var b strings.Builder
	require.NoError(t, Write(&b, &layout.Document{Pages: []layout.Page{{W: 1000, H: 2000, Items: items}}}))
	_, body, _ := strings.Cut(b.String(), "scale 0\n")
	return body
}

// Every kind of item is one line, and everything that it holds is on it.
func TestItems(t *testing.T) {
	grey := layout.Tint
	curve := &layout.Path{Kind: "aim", Of: "light 3", Fill: &grey, Stroke: layout.Stroke{Width: 350, Dash: []layout.Um{4000, 1000}, Grey: 90, Round: true}, Segs: []layout.Seg{
		{Kind: layout.MoveTo, P: [3]layout.Point{{X: -1, Y: 2}}},
		{Kind: layout.CubicTo, P: [3]layout.Point{{X: 1, Y: 2}, {X: 3, Y: 4}, {X: 5, Y: 6}}},
		{Kind: layout.Close},
	}}
	assert.Equal(t, "  path aim of \"light 3\" line 350 grey 90 dash 4000 1000 round fill 225: M-1,2 C1,2 3,4 5,6 Z\n", dumped(t, curve))
	text := &layout.Text{X: 1, Y: 2, S: "a \"b\"\n", Cap: 2500, Bold: true, Grey: 10, Turn: 90, W: 7, Kind: "two words", Of: "x", Used: true}
	assert.Equal(t, "  text \"two words\" of \"x\" at 1,2 cap 2500 bold grey 10 turn 90 used wide 7 \"a \\\"b\\\"\\n\"\n", dumped(t, text))
	group := &layout.Group{ID: "g", Label: "l", Clip: &layout.Rect{X: 1, Y: 2, W: 3, H: 4}, Items: []layout.Item{&layout.Link{To: "p"}}}
	assert.Equal(t, "  group \"g\" label \"l\" clip 1,2 3x4\n    link 0,0 0x0 to \"p\"\n", dumped(t, group))
	assert.Contains(t, dumped(t, sample.Photo(layout.Rect{W: 5, H: 6})), "image jpeg 0,0 5x6 32 x 16 px 1 channels orientation 1 sha256 ")
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("full") }

func TestErrors(t *testing.T) {
	assert.EqualError(t, Write(full{}, sample.Document()), "full")
	var b strings.Builder
	assert.ErrorContains(t, Write(&b, &layout.Document{Pages: []layout.Page{{}}}), "page 1: page of 0 x 0 mm")
	assert.Zero(t, b.Len())
}

func TestDocument(t *testing.T) {
	doc := sample.Document()
	doc.Problems = []string{"a rune is missing"}
	var b strings.Builder
	require.NoError(t, Write(&b, doc))
	assert.Contains(t, b.String(), "problem \"a rune is missing\"\n")
	assert.Contains(t, b.String(), "\npage 2 148000 x 105000 margin 0 label \"B-014/2\" title \"Side 2\" scale 0\n")
}
