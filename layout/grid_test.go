package layout

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A grid answers as a plain list of the cells that were marked does.
func TestInkGridAgainstPlainCells(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.Map(rapid.IntRange(-50, 500), func(v int) Um { return Um(v) * 97 })
		size := rapid.Map(rapid.IntRange(0, 300), func(v int) Um { return Um(v) * 97 })
		g := newGrid(Rect{at.Draw(t, "x"), at.Draw(t, "y"), size.Draw(t, "w"), size.Draw(t, "h")})
		marked := map[[2]int]bool{}
		cells := func(r Rect) (list [][2]int) {
			for c := range g.w {
				for row := range g.h {
					x, y := g.area.X+Um(c)*gridCell, g.area.Y+Um(row)*gridCell
					if r.X < x+gridCell && r.right() >= x && r.Y < y+gridCell && r.bottom() >= y {
						list = append(list, [2]int{c, row})
					}
				}
			}
			return list
		}
		work := g
		for range rapid.IntRange(1, 12).Draw(t, "n") {
			r := Rect{at.Draw(t, "rx"), at.Draw(t, "ry"), size.Draw(t, "rw"), size.Draw(t, "rh")}
			a, b := Point{r.X, r.Y}, Point{r.right(), r.Y}
			free := true
			for _, c := range cells(r) {
				free = free && !marked[c]
			}
			switch rapid.IntRange(0, 4).Draw(t, "do") {
			case 0:
				require.True(t, work.rect(r, markCells))
				for _, c := range cells(r) {
					marked[c] = true
				}
			case 1: // a level line is a box
				require.True(t, work.line(a, b, 0, markCells))
				for _, c := range cells(Rect{r.X, r.Y, r.W, 0}) {
					marked[c] = true
				}
			case 2:
				work.clear()
				clear(marked)
			case 3: // its cells may go to another
				work.free()
				work = newGrid(g.area)
				clear(marked)
			default:
				require.Equal(t, free, work.rect(r, cellsFree), "%v", r)
			}
		}
	})
}
