package pdf

import (
	"slices"
	"strings"

	"stopleaf/layout"
	"stopleaf/layout/text"
)

// rowLength tells how many items from the first on are the cells of one row:
// runs of text that follow each other on one baseline, from left to right.
func rowLength(list []layout.Item) int {
	n := 0
	var last *layout.Text
	for _, it := range list {
		t, ok := it.(*layout.Text)
		if !ok || t.Turn != 0 || strings.TrimSpace(t.S) == "" {
			break
		}
		if last != nil && (t.Y != last.Y || t.X <= last.X) {
			break
		}
		last = t
		n++
	}
	return n
}

// readingOrder brings together the first lines of a row's cells: of texts that
// follow each other and belong to one item, those on the first one's baseline
// go before the rest, which keep their order. A cell of several lines would
// else stand between the parts of the row.
func readingOrder(list []layout.Item) []layout.Item {
	var out []layout.Item
	for i := 0; i < len(list); {
		n := sameItem(list[i:])
		if n > 2 {
			if out == nil {
				out = append(out, list...)
			}
			first := list[i].(*layout.Text)
			slices.SortStableFunc(out[i:i+n], func(a, b layout.Item) int {
				return onLine(a, first.Y) - onLine(b, first.Y)
			})
		}
		i += max(n, 1)
	}
	if out == nil {
		return list
	}
	return out
}

// onLine is 0 for a text on the baseline and 1 for another.
func onLine(it layout.Item, y layout.Um) int {
	if it.(*layout.Text).Y == y {
		return 0
	}
	return 1
}

// sameItem tells how many texts from the first on belong to one item.
func sameItem(list []layout.Item) int {
	n := 0
	of := ""
	for _, it := range list {
		t, ok := it.(*layout.Text)
		if !ok || t.Turn != 0 || t.Of == "" || n > 0 && t.Of != of {
			break
		}
		of = t.Of
		n++
	}
	return n
}

// cellGap stands between the cells of a row in what is read out of the file.
const cellGap = "  "

// row sets the cells of a row and says, as the file's own word for what stands
// there (ActualText, ISO 32000-1, 14.9.4), that they are one line: a reader that
// goes by the gaps would take a table column by column.
func (d *drawing) row(list []layout.Item) {
	words := make([]string, len(list))
	for i, it := range list {
		words[i], _ = text.Clean(it.(*layout.Text).S)
	}
	d.line("/Span <</ActualText %s>> BDC", literal(strings.Join(words, cellGap)))
	for _, it := range list {
		d.text(it.(*layout.Text))
	}
	d.line("EMC")
}
