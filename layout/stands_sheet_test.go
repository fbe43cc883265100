package layout

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// cutFormats are ours that are cut from a sheet, and some of a person's own.
func cutFormats(t *testing.T) map[string]*format {
	t.Helper()
	out := map[string]*format{}
	for _, paper := range []string{"a4", "letter"} {
		f, err := loadFormat("stands", paper)
		require.NoError(t, err)
		out[paper] = f
	}
	for _, page := range []string{
		"width: 97\nheight: 93\nsheet: a4", "width: 60.3\nheight: 71.7\nsheet: letter", "width: 5 in\nheight: 7 in\nsheet: {width: 297, height: 420}",
		"width: 190\nheight: 140\nsheet: a4", "width: 80\nheight: 100\nsheet: {width: 13 in, height: 19 in, margin: 12.7, across: 2, down: 1}",
	} {
		f, problems := ParseFormat("stands", "f.yaml", []byte("for: stands\n"+page+"\nsides: [{down: [stand-head, stand-today, cautions]}]\n"))
		require.Empty(t, problems, page)
		out[page] = f.f
	}
	return out
}

// As many cards go on a sheet as there is room for, unless it is said.
func TestCardsOnASheet(t *testing.T) {
	for page, want := range map[string][2]int{"a4": {2, 2}, "letter": {2, 2}, "width: 97\nheight: 93\nsheet: a4": {2, 3},
		"width: 5 in\nheight: 7 in\nsheet: {width: 297, height: 420}": {2, 2}, "width: 190\nheight: 140\nsheet: a4": {1, 2},
		"width: 60.3\nheight: 71.7\nsheet: letter": {3, 3}, "width: 80\nheight: 100\nsheet: {width: 13 in, height: 19 in, margin: 12.7, across: 2, down: 1}": {2, 1}} {
		f := cutFormats(t)[page]
		assert.Equal(t, want, [2]int{f.Sheet.Across, f.Sheet.Down}, page)
	}
}

// Turned over about its upright edge, a sheet shows the back of every card
// exactly where its front was; no two cards overlap, and all are on the sheet.
func TestBacksMirrorExactly(t *testing.T) {
	for paper, f := range cutFormats(t) {
		w, h := Mm(f.Sheet.Width), Mm(f.Sheet.Height)
		sheet := Rect{0, 0, w, h}
		seen := map[Rect]bool{}
		for pos := 0; pos < f.Sheet.Across*f.Sheet.Down; pos++ {
			front, back := cardRect(f, pos, false), cardRect(f, pos, true)
			assert.Equal(t, front.X, w-back.right(), "%s, place %d", paper, pos)
			assert.Equal(t, front.right(), w-back.X)
			assert.Equal(t, [3]Um{front.Y, front.W, front.H}, [3]Um{back.Y, back.W, back.H})
			assert.True(t, sheet.grow(-cutMargin).contains(front))
			for o := range seen {
				assert.False(t, o.overlaps(front))
			}
			seen[front] = true
		}
		for r := range seen { // a back lies on the place of a front, to the micrometre that halves an odd margin
			r.X = w - r.right()
			odd := r
			odd.X--
			assert.True(t, seen[r] || seen[odd], "%s: %v", paper, r)
		}
	}
}

// The cut marks stand outside all cards and point at their edges.
func TestCutMarks(t *testing.T) {
	for name, f := range cutFormats(t) {
		p := &pen{}
		cutMarks(p, f)
		assert.Len(t, p.items, 2*(f.Sheet.Across+1)+2*(f.Sheet.Down+1), name) // two ends of every cut
		first, last := cardRect(f, 0, false), cardRect(f, f.Sheet.Across*f.Sheet.Down-1, false)
		cards := Rect{first.X, first.Y, last.right() - first.X, last.bottom() - first.Y}
		inside := Rect{0, 0, Mm(f.Sheet.Width), Mm(f.Sheet.Height)}.grow(-cutMargin)
		for _, it := range p.items {
			m := it.(*Path)
			a, b := m.Segs[0].P[0], m.Segs[1].P[0]
			assert.False(t, cards.has(a) || cards.has(b), "%s: %v %v", name, a, b)
			assert.True(t, inside.has(a) && inside.has(b), "%s: %v %v", name, a, b)
			assert.GreaterOrEqual(t, max(b.X-a.X, b.Y-a.Y), Mm(2), name)
			if a.X == b.X {
				assert.Zero(t, (a.X-first.X)%first.W, name)
			} else {
				assert.Equal(t, a.Y, b.Y)
				assert.Zero(t, (a.Y-first.Y)%first.H, name)
			}
		}
	}
}
