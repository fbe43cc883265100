package layout

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stopleaf/layout/text"
)

// drawnTexts is what a block says in a box of its least height at a width.
func drawnTexts(b block, w Um) []string {
	p := &pen{}
	b.draw(p, Rect{0, 0, w, b.least(w)})
	var out []string
	for _, it := range p.items {
		if t, ok := it.(*Text); ok {
			out = append(out, t.S)
		}
	}
	return out
}

// sides splits a block over sides of a height as far as it goes; false when it
// does not go on.
func splitOver(b splitter, w, h Um) (parts []block, ok bool) {
	for len(parts) < 200 {
		if b.least(w) <= h {
			return append(parts, b), true
		}
		head, rest := b.split(w, h)
		if head == nil {
			return parts, false
		}
		parts = append(parts, head)
		if rest == nil {
			return parts, true
		}
		b = rest.(splitter)
	}
	return parts, false
}

func plainTable(rows int, word func(row int) string) *table {
	st := style{cap: 2500, kind: "figure", used: true}
	head := style{cap: 1800, kind: "head"}
	t := &table{title: "Lights", small: head, more: "(continued)", foot: []string{"a line under the table"}}
	number, name := column{head: cell{{s: "No.", style: head, split: -1}}, aligns: true}, column{head: cell{{s: "Light", style: head, split: -1}}, wraps: true}
	for i := range rows {
		n := fmt.Sprintf("#%d#", i)
		number.cells = append(number.cells, cell{{s: n, style: st, split: len(n)}})
		name.cells = append(name.cells, cell{{s: word(i), style: st, split: -1}})
		t.of, t.tint = append(t.of, fmt.Sprintf("light %d", i+1)), append(t.tint, i == 0)
	}
	t.columns = []column{number, name}
	return t
}

// A table split over sides shows every row once and in order, its head and its
// foot on each, and no part is higher than its side.
func TestTableSplits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows := rapid.IntRange(1, 30).Draw(t, "rows")
		sizes := rapid.SliceOfN(rapid.IntRange(1, 60), rows, rows).Draw(t, "sizes")
		w := Mm(float64(rapid.IntRange(30, 120).Draw(t, "w")))
		h := Mm(float64(rapid.IntRange(25, 200).Draw(t, "h")))
		tab := plainTable(rows, func(i int) string { return strings.TrimSpace(strings.Repeat("word ", sizes[i])) })
		parts, ok := splitOver(tab, w, h)
		if !ok {
			return // a row alone is higher than the side
		}
		var got []string
		for i, p := range parts {
			require.LessOrEqual(t, p.least(w), h, "part %d", i)
			texts := drawnTexts(p, w)
			require.Contains(t, texts, "No.")
			require.True(t, slices.Contains(texts, "Lights") != slices.Contains(texts, "Lights (continued)"))
			require.Equal(t, i > 0, slices.Contains(texts, "Lights (continued)"))
			require.Equal(t, 1, strings.Count(strings.Join(texts, " "), "a line under the table"))
			for _, s := range texts {
				if strings.HasPrefix(s, "#") {
					got = append(got, s)
				}
			}
		}
		var want []string
		for i := range rows {
			want = append(want, fmt.Sprintf("#%d#", i))
		}
		require.Equal(t, want, got)
	})
}

func TestTableThatFitsIsNotSplit(t *testing.T) {
	tab := plainTable(3, func(int) string { return "Key" })
	head, rest := tab.split(Mm(80), tab.least(Mm(80)))
	assert.NotNil(t, head)
	assert.Nil(t, rest)
	head, rest = tab.split(Mm(80), Mm(5))
	assert.Nil(t, head, "not even one row fits")
	assert.Equal(t, tab, rest)
}

// Figures stand under each other at the split of their lines.
func TestColumnAligns(t *testing.T) {
	st := style{cap: 2500, used: true}
	c := column{aligns: true}
	for _, s := range []string{"1.6 under", "12 over", "as key"} {
		split := decimalPoint(s)
		if split == 0 {
			split = -1
		}
		c.cells = append(c.cells, cell{{s: s, style: st, split: split}})
	}
	tab := &table{columns: []column{c}, of: []string{"a", "b", "c"}, tint: make([]bool, 3), small: style{cap: 1800}}
	p := &pen{}
	tab.draw(p, Rect{0, 0, Mm(60), Mm(60)})
	axis := func(s, left string) Um {
		for _, it := range p.items {
			if x, ok := it.(*Text); ok && x.S == s {
				return x.X + width(left, st)
			}
		}
		t.Fatalf("%q is not there", s)
		return 0
	}
	assert.Equal(t, axis("1.6 under", "1"), axis("12 over", "12"))
	assert.Equal(t, Um(0), axis("as key", ""), "a word stands at the left")
}

func TestDecimalPoint(t *testing.T) {
	for s, want := range map[string]int{"1.6 under": 1, "12.5": 2, "+0.3": 2, "12": 2, "as key": 0, "": 0} {
		assert.Equal(t, want, decimalPoint(s), "%q", s)
	}
	assert.Equal(t, len("−1"), decimalPoint("−1.7"))
}

func words(t *rapid.T) string {
	return strings.Join(rapid.SliceOfN(rapid.SampledFrom([]string{"a", "word", "Überkopf", "f/5.6", "counterweight-and-reach",
		"(low)", "½", "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW"}), 0, 60).Draw(t, "words"), " ")
}

// Running text split over sides loses and repeats nothing, and no part is
// higher than its side.
func TestParagraphsSplit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := &paragraphs{title: rapid.SampledFrom([]string{"", "Notes"}).Draw(t, "title"), more: "(continued)",
			st: style{cap: 2500, kind: "note", used: true}, small: style{cap: 1800, kind: "head"}}
		n := rapid.IntRange(1, 12).Draw(t, "n")
		var want string
		for range n {
			p := para{lead: rapid.SampledFrom([]string{"", "3 Hair", "12 " + strings.Repeat("W", 60)}).Draw(t, "lead"), text: words(t)}
			if p.lead+p.text == "" {
				p.text = "x"
			}
			b.paras = append(b.paras, p)
			want += p.lead + p.text
		}
		w := Mm(float64(rapid.IntRange(80, 200).Draw(t, "w")))
		h := Mm(float64(rapid.IntRange(45, 150).Draw(t, "h")))
		parts, ok := splitOver(b, w, h)
		require.True(t, ok, "a block of text always goes on on a side of %v mm", h.Mm())
		var got []string
		for i, p := range parts {
			require.LessOrEqual(t, p.least(w), h, "part %d", i)
			for _, s := range drawnTexts(p, w) {
				if s != "Notes" && s != "Notes (continued)" {
					got = append(got, s)
				}
			}
			pen := &pen{}
			p.draw(pen, Rect{0, 0, w, p.least(w)})
			for _, it := range pen.items {
				x := it.(*Text)
				require.LessOrEqual(t, x.X+x.W, w, "%q is wider than its column", x.S)
			}
		}
		require.Equal(t, squeeze(want), squeeze(strings.Join(got, "")))
	})
}

func squeeze(s string) string {
	s, _ = text.Clean(s)
	return strings.Map(func(r rune) rune {
		if r == ' ' || r == '\u00a0' {
			return -1
		}
		return r
	}, s)
}
