package layout

import (
	"slices"
	"strings"
)

// How wide the columns of a table are.

// natural is a column's width without breaking lines.
func (c *column) natural() Um {
	c.left, c.right = 0, 0
	c.minimum = max(c.minimum, c.ruled)
	for _, cl := range append([]cell{c.head}, c.cells...) {
		for _, l := range cl {
			w := width(l.s, l.style)
			if c.aligns && l.split >= 0 {
				a := width(l.s[:l.split], l.style)
				c.left, c.right = max(c.left, a), max(c.right, w-a)
			} else if l.style.kind == "head" && !l.whole {
				c.minimum = max(c.minimum, longestWord(l))
			} else if !c.wraps || l.whole {
				c.minimum = max(c.minimum, w)
			}
		}
	}
	if c.aligns {
		c.left = max(c.left, c.minimum-c.right) + c.pad
	}
	w := max(c.left+c.right, c.minimum+c.pad)
	if c.wraps {
		for _, cl := range c.cells {
			for _, l := range cl {
				w = max(w, width(l.s, l.style))
			}
		}
	}
	return w
}

// widthsAt shares a width among the columns: fixed ones get what they need,
// wrapping ones what is left, in whichever of three ways makes the table
// lowest: the widest give way first, all give way alike, or the others give way
// to the widest.
func (t *table) widthsAt(w Um) []Um {
	if ws, ok := t.shared[w]; ok {
		return ws
	}
	natural := make([]Um, len(t.columns))
	least := make([]Um, len(t.columns))
	left := w - cellGap*Um(len(t.columns)-1)
	var wish, need Um
	widest := -1
	for i := range t.columns {
		c := &t.columns[i]
		natural[i] = c.natural()
		if !c.wraps {
			left -= natural[i]
			continue
		}
		least[i] = min(natural[i], c.narrowest())
		wish += natural[i]
		need += least[i]
		if widest < 0 || natural[i] > natural[widest] {
			widest = i
		}
	}
	best := natural
	if wish > left && widest >= 0 {
		spare := float64(max(0, left-need)) / float64(max(1, wish-need))
		ways := []func(i int) Um{
			t.capped(natural, least, left),
			func(i int) Um { return least[i] + Um(spare*float64(natural[i]-least[i])) },
			func(i int) Um {
				if i == widest {
					return max(least[i], min(natural[i], left-need+least[i]))
				}
				return least[i]
			},
		}
		var height Um
		for n, way := range ways {
			ws := slices.Clone(natural)
			for i := range t.columns {
				if t.columns[i].wraps {
					ws[i] = way(i)
				}
			}
			h := t.headHeight(ws)
			for row := t.from; row < len(t.of); row++ {
				h += t.rowHeight(row, ws)
			}
			if n == 0 || h < height {
				best, height = ws, h
			}
		}
	}
	best = t.written(best, w)
	if t.shared == nil {
		t.shared = map[Um][]Um{}
	}
	t.shared[w] = best
	return best
}

// capped gives widths no wider than a cap that makes them fit, nor narrower
// than the longest word.
func (t *table) capped(natural, least []Um, left Um) func(i int) Um {
	sum := func(c Um) (all Um) {
		for i := range t.columns {
			if t.columns[i].wraps {
				all += max(least[i], min(natural[i], c))
			}
		}
		return all
	}
	lo, hi := Um(0), max(left, 0)
	for hi-lo > 100 {
		if mid := (lo + hi) / 2; sum(mid) <= left {
			lo = mid
		} else {
			hi = mid
		}
	}
	return func(i int) Um { return max(least[i], min(natural[i], lo)) }
}

// needs is the least width the table can be set in.
func (t *table) needs() Um {
	w := cellGap * Um(len(t.columns)-1)
	for i := range t.columns {
		c := &t.columns[i]
		n := c.natural()
		if c.wraps {
			n = min(n, c.narrowest())
		}
		w += n
	}
	return w
}

// narrowest is a wrapping column's longest word, but no more than 24 mm, where
// even a word is broken.
func (c *column) narrowest() Um {
	var w, whole Um
	for _, cl := range append([]cell{c.head}, c.cells...) {
		for _, l := range cl {
			if l.whole {
				whole = max(whole, width(l.s, l.style))
			} else {
				w = max(w, longestWord(l))
			}
		}
	}
	return max(whole, min(w, Mm(24)))
}

func longestWord(l cellLine) Um {
	var w Um
	for _, word := range strings.Split(keepFigures(l.s), " ") {
		w = max(w, width(word, l.style))
	}
	return w
}

// written gives what width is left over to the spaces that a hand fills in.
func (t *table) written(ws []Um, w Um) []Um {
	left, n := w-cellGap*Um(len(ws)-1), Um(0)
	for i := range ws {
		left -= ws[i]
		if c := &t.columns[i]; c.ruled > 0 && !c.square {
			n++
		}
	}
	if n == 0 || left <= 0 {
		return ws
	}
	out := slices.Clone(ws)
	for i := range ws {
		if c := &t.columns[i]; c.ruled > 0 && !c.square {
			out[i] += min(left/n, c.ruled) // no wider than twice what it needs
		}
	}
	return out
}
