package layout

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Turned over about its upright edge, a sheet shows the back of every card
// exactly where its front was; no two cards overlap, and all are on the sheet.
func TestBacksMirrorExactly(t *testing.T) {
	for _, paper := range []string{"a4", "letter"} {
		f, err := loadFormat("stands", paper)
		require.NoError(t, err)
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
		for r := range seen { // a back lies on the place of a front, to the micrometre
			r.X = w - r.right()
			assert.True(t, seen[r], "%s: %v", paper, r)
		}
	}
}

// The cut marks stand outside all cards and point at their edges.
func TestCutMarks(t *testing.T) {
	for _, paper := range []string{"a4", "letter"} {
		f, err := loadFormat("stands", paper)
		require.NoError(t, err)
		p := &pen{}
		cutMarks(p, f)
		assert.Len(t, p.items, 12) // two ends of three upright cuts and of three level ones
		first, last := cardRect(f, 0, false), cardRect(f, f.Sheet.Across*f.Sheet.Down-1, false)
		cards := Rect{first.X, first.Y, last.right() - first.X, last.bottom() - first.Y}
		for _, it := range p.items {
			m := it.(*Path)
			a, b := m.Segs[0].P[0], m.Segs[1].P[0]
			assert.False(t, cards.has(a) || cards.has(b), "%v %v", a, b)
			if a.X == b.X {
				assert.Contains(t, []Um{first.X, first.right(), last.right()}, a.X)
			} else {
				assert.Equal(t, a.Y, b.Y)
				assert.Contains(t, []Um{first.Y, first.bottom(), last.bottom()}, a.Y)
			}
		}
	}
}
