package layout

import (
	"fmt"
	"strconv"
	"strings"
)

// A page format of a person's own may be too small for a setup. What does not
// fit it is refused, with figures, and never printed over something else.

// leastBody is the height that must be left beside the title block, for a row
// of a table or a line of cautions under their heads.
var leastBody = Mm(18)

func (b *builder) refuse(format string, a ...any) error {
	what := strconv.Quote(b.job.Setup.Title)
	if b.of != "" {
		what = fmt.Sprintf("%q of %s", b.of, what)
	}
	return fmt.Errorf("page format %q cannot hold %s: %s", b.f.Name, what, fmt.Sprintf(format, a...))
}

// roomy refuses a page whose title block leaves no room.
func (b *builder) roomy(inner Rect) error {
	var all []string
	for _, n := range b.f.Next {
		all = append(all, n.blocks()...)
	}
	for _, first := range []bool{true, false} {
		if room := b.room(inner, b.onNext(all), first); room < leastBody {
			return b.refuse("its title block takes %s mm of the %s mm between the margins, and %s must be left; take a larger page, fewer fields under \"strip\" or smaller type",
				mm((inner.H - room).Mm()), mm(inner.H.Mm()), mm(leastBody.Mm()))
		}
	}
	return nil
}

// needed is the least width of a block, at a width that it may get.
func needed(x block, w Um) Um {
	switch b := x.(type) {
	case *lightsBlock:
		var most Um
		for _, t := range b.tables(w) {
			most = max(most, t.needs())
		}
		return most
	case *fillIn:
		return max(needed(b.table, w), b.stripNeeds())
	case *table:
		return b.needs()
	case narrowBases:
		return b.needs()
	case *today:
		return b.needs()
	}
	return 0
}

// narrow finds a block that is wider than its place: its name, what it needs and
// what it gets.
func (b *box) narrow(w Um) (name string, need, has Um) {
	if b.empty() {
		return "", 0, 0
	}
	if b.block != nil {
		if n := needed(b.block, w); n > w {
			return b.name, n, w
		}
		return "", 0, 0
	}
	ws := b.widths(w)
	for i := range b.parts {
		pw := w
		if b.across {
			pw = ws[i]
		}
		if name, need, has = b.parts[i].narrow(pw); name != "" {
			return name, need, has
		}
	}
	return "", 0, 0
}

// tooNarrow says whether a block is wider than its place; only a format of a
// person's own is asked.
func (b *builder) tooNarrow(root *box, w Um) bool {
	if !b.f.own {
		return false
	}
	name, _, _ := root.narrow(w)
	return name != ""
}

// tooWide refuses a box in which a block is wider than its place.
func (b *builder) tooWide(root *box, w Um) error {
	if name, need, has := root.narrow(w); name != "" {
		return b.refuse("the block %q needs %s mm of width, and gets %s; take a larger page, or fewer columns", name, mm(need.Mm()), mm(has.Mm()))
	}
	return nil
}

// noCautions refuses a page on whose first side what never leaves it has no
// room, the cautions in their short form.
func (b *builder) noCautions(root *box, inner Rect, room Um) error {
	if err := b.tooWide(root, inner.W); err != nil {
		return err
	}
	what := "the cautions, which are never left to a further side alone, take"
	if b.f.For == "stands" {
		what = "number, today's target and dial, and the cautions, which are never left to a further side alone, take"
	}
	return b.refuse("%s %s mm in their short form, and the first side has %s; take a larger page", what, mm(root.least(inner.W).Mm()), mm(room.Mm()))
}

// holdsAll refuses sides on which a block is wider or higher than its place.
func (b *builder) holdsAll(sides []side, inner Rect) error {
	for i := range sides {
		s := &sides[i]
		if err := b.tooWide(&s.root, inner.W); err != nil {
			return err
		}
		more := ""
		if i+1 < len(sides) {
			more = b.onNext(sides[i+1].names)
		}
		room := b.room(inner, more, i == 0)
		need := s.root.least(inner.W)
		if s.bears {
			_, _, need = b.part(&s.root, inner.W, room)
		}
		if need > room {
			return b.refuse("%s needs %s mm of height, and side %d has %s; take a larger page", strings.Join(names([]box{s.root}), ", "), mm(need.Mm()), i+1, mm(room.Mm()))
		}
	}
	return nil
}

// clean refuses drawn pages on which anything overlaps or leaves the margins.
func (b *builder) clean(pages []Page) error {
	for i := range pages {
		if found := Check(&pages[i]); len(found) > 0 {
			return b.refuse("on side %d %s; take a larger page, or another arrangement", i+1, strings.Join(found[:min(3, len(found))], "; "))
		}
	}
	return nil
}

// covered says whether the tables of a side give every field of another table.
func (b *box) covered(n node) bool {
	var fields []string
	for _, leaf := range leaves(*b) {
		if lights, ok := leaf.block.(*lightsBlock); ok {
			for _, c := range lights.n.Columns {
				fields = append(fields, c...)
			}
		}
	}
	for _, c := range n.Columns {
		for _, f := range c {
			if !holds(fields, f) && !(f == "light" && holds(fields, "name")) && !(f == "name" && holds(fields, "light")) {
				return false
			}
		}
	}
	return true
}

// fitted are the sides of a setup; a format of a person's own that cannot hold
// them says why.
func (b *builder) fitted() ([]side, error) {
	if !b.f.own {
		return b.sides()
	}
	inner := b.inner()
	if err := b.roomy(inner); err != nil {
		return nil, err
	}
	sides, err := b.sides()
	if err != nil {
		return nil, err
	}
	return sides, b.holdsAll(sides, inner)
}

// drawn are the pages of sides, looked over where the format is a person's own.
func (b *builder) drawn(sides []side) ([]Page, error) {
	pages := b.pages(sides)
	if !b.f.own {
		return pages, nil
	}
	return pages, b.clean(pages)
}

// formatOf is the format of a document on a paper, or a copy of the person's
// own.
func formatOf(document, paper string, own *Format) (*format, error) {
	switch {
	case own == nil:
		return loadFormat(document, paper)
	case own.f.For != document:
		return nil, fmt.Errorf("page format %q is for %s, not for %s", own.f.Name, documentWords(own.f.For), documentWords(document))
	}
	f := *own.f
	return &f, nil
}
