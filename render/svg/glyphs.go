package svg

import (
	"fmt"
	"strings"

	"stopleaf/layout"
	"stopleaf/layout/text"
	"stopleaf/render/internal/paper"
)

// glyph is one outline of one face.
type glyph struct {
	r    rune
	bold bool
}

// define writes the outline of every glyph on the page once, in the order in
// which they are first used. A glyph without ink has no outline and no id.
func (d *drawing) define(items []layout.Item) {
	d.canvas.Def()
	layout.Walk(items, func(it layout.Item) {
		t, ok := it.(*layout.Text)
		if !ok {
			return
		}
		s, _ := text.Clean(t.S)
		for _, r := range s {
			d.defineGlyph(glyph{r, t.Bold})
		}
	})
	d.canvas.DefEnd()
}

func (d *drawing) defineGlyph(g glyph) {
	if _, done := d.glyphs[g]; done {
		return
	}
	segs, _ := text.Outline(g.r, g.bold)
	if len(segs) == 0 {
		d.glyphs[g] = ""
		return
	}
	kind := "r"
	if g.bold {
		kind = "b"
	}
	id := d.name(fmt.Sprintf("%s%04X", kind, g.r))
	d.glyphs[g] = id
	d.canvas.Path(outlineData(segs), attr("id", id))
}

// outlineData writes an outline in thousandths of the em, to a tenth.
func outlineData(segs []text.OutlineSeg) string {
	var b strings.Builder
	point := func(p text.OutlinePoint) {
		const scale = 1000.0 / text.UnitsPerEm
		b.WriteString(paper.Num(p.X*scale, 1) + " " + paper.Num(p.Y*scale, 1))
	}
	for i, s := range segs {
		switch s.Op {
		case text.OutlineMove:
			if i > 0 {
				b.WriteByte('Z')
			}
			b.WriteByte('M')
			point(s.P[0])
		case text.OutlineLine:
			b.WriteByte('L')
			point(s.P[0])
		case text.OutlineQuad:
			b.WriteByte('Q')
			point(s.P[0])
			b.WriteByte(' ')
			point(s.P[1])
		}
	}
	b.WriteByte('Z')
	return b.String()
}
