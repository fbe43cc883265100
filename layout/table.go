package layout

import (
	"slices"
	"strings"

	"stopleaf/layout/text"
)

// cell is what stands in one column of one row: lines, stacked. In an aligned
// column the split of each line (bytes) stands on the column's axis, so that
// figures stand under each other at the decimal point.
type cell []cellLine

type cellLine struct {
	s     string
	style style
	split int  // bytes left of the axis, in a column that aligns
	whole bool // is never broken
}

func (l cellLine) pitch() Um { return pitchOf(l.s, l.style.cap) }

// column is one column of a table.
type column struct {
	head    cell
	aligns  bool // to the axis; else left
	wraps   bool // takes what width is left, breaking its lines
	cells   []cell
	pad     Um // more space before it than between other columns
	left    Um // widest part left of the axis
	right   Um
	minimum Um   // width under which a wrapping column is not squeezed
	ruled   Um   // each row has a ruled space to fill in, at least so wide
	square  bool // the space is a box of that side to tick
}

// table is rows under a head, with horizontal rules only. It splits between
// rows; the head is repeated.
type table struct {
	title   string
	columns []column
	of      []string    // each row's item, "light 3"
	tint    []bool      // rows on a grey tint
	foot    []string    // plain lines under the table
	small   style       // the head's and the foot's
	from    int         // the first row, after a split
	rest    bool        // this is what a split left
	shared  map[Um][]Um // the widths of the columns so far, by that of the table
	more    string      // said in the title when rest
	high    Um          // the least height of a row, for a hand to write in
}

const (
	cellGap = Um(2000) // between columns
	rowPad  = Um(1050) // above the first and below the last line of a row
)

// lines gives a cell's lines broken to a column's width. A head breaks in any
// column.
func (c *column) lines(cl cell, w Um) []cellLine {
	asTheyAre := 0
	for asTheyAre < len(cl) && c.stays(cl[asTheyAre], w) {
		asTheyAre++
	}
	if asTheyAre == len(cl) {
		return cl[:len(cl):len(cl)]
	}
	out := append(make([]cellLine, 0, len(cl)+2), cl[:asTheyAre]...)
	for _, l := range cl[asTheyAre:] {
		if c.stays(l, w) {
			out = append(out, l)
			continue
		}
		for _, s := range wrap(l.s, l.style, w-c.pad) {
			out = append(out, cellLine{s: s, style: l.style, split: -1})
		}
	}
	return out
}

// stays tells whether a line is set as it is: it is never broken, or fits.
func (c *column) stays(l cellLine, w Um) bool {
	if l.whole || !c.wraps && l.style.kind != "head" {
		return true
	}
	clean, _ := text.Clean(l.s)
	return l.split < 0 && clean == l.s && !strings.HasSuffix(l.s, " ") && !strings.Contains(l.s, noBreak) && l.s != "" && width(l.s, l.style) <= w-c.pad
}

func cellHeight(lines []cellLine) Um {
	var h Um
	for _, l := range lines {
		h += l.pitch()
	}
	return h
}

// pitchPad is the part of a line's pitch that stands above the cap height of
// the first line: the rest of the row is padded by rowPad alone.
func pitchPad(lines []cellLine) Um {
	if len(lines) == 0 {
		return 0
	}
	return lines[0].pitch() - lines[0].style.cap
}

func (t *table) rowHeight(row int, ws []Um) Um {
	h, top, bottom := Um(0), rowPad, rowPad
	for i := range t.columns {
		ls := t.columns[i].lines(t.columns[i].cells[row], ws[i])
		h = max(h, cellHeight(ls)-pitchPad(ls))
		top = max(top, topPad(ls))
		if len(ls) > 0 { // room for what reaches below the baseline
			bottom = max(bottom, ls[len(ls)-1].style.cap/2)
		}
	}
	return max(h+top+bottom, t.high)
}

// topPad is what the first line of a row needs above it: more than rowPad where
// marks stand on large capitals.
func topPad(lines []cellLine) Um {
	if len(lines) > 0 && tall(lines[0].s) {
		return max(rowPad, lines[0].style.cap*2/5)
	}
	return rowPad
}

// titleHeight is what the title takes above the head; nothing where it fits
// over the short heads of the first columns, beside the tall ones.
func (t *table) titleHeight(ws []Um, w Um) Um {
	if t.title == "" {
		return 0
	}
	st := t.small
	st.bold = true
	free, x := t.headHeight(ws)-rowPad-pitch(st.cap), Um(0)
	for i := range t.columns {
		if cellHeight(t.columns[i].lines(t.columns[i].head, ws[i])) > free {
			break
		}
		x += ws[i] + cellGap
	}
	if width(t.heading(), st) <= x-cellGap {
		return 0
	}
	return pitch(st.cap)*Um(len(wrap(t.heading(), st, w))) + 500
}

func (t *table) heading() string {
	if t.rest {
		return t.title + " " + t.more
	}
	return t.title
}

func (t *table) headHeight(ws []Um) Um {
	h := Um(0)
	for i := range t.columns {
		ls := t.columns[i].lines(t.columns[i].head, ws[i])
		h = max(h, cellHeight(ls))
	}
	return h + rowPad
}

func (t *table) footLines(w Um) []string {
	var out []string
	for _, s := range t.foot {
		out = append(out, wrap(s, t.small, w)...)
	}
	return out
}

func (t *table) least(w Um) Um {
	if len(t.columns) == 0 || t.from >= len(t.of) {
		return 0
	}
	ws := t.widthsAt(w)
	h := t.titleHeight(ws, w) + t.headHeight(ws)
	for i := t.from; i < len(t.of); i++ {
		h += t.rowHeight(i, ws)
	}
	if f := t.footLines(w); len(f) > 0 {
		h += pitch(t.small.cap)*Um(len(f)) + 400
	}
	return h
}

func (t *table) empty() bool { return len(t.columns) == 0 || t.from >= len(t.of) }

func (t *table) stretches() bool { return false }

func (t *table) split(w, h Um) (head, rest block) {
	ws := t.widthsAt(w)
	used := t.titleHeight(ws, w) + t.headHeight(ws)
	if f := t.footLines(w); len(f) > 0 {
		used += pitch(t.small.cap)*Um(len(f)) + 400
	}
	n := t.from
	for n < len(t.of) {
		rh := t.rowHeight(n, ws)
		if used+rh > h {
			break
		}
		used += rh
		n++
	}
	if n == t.from {
		return nil, t
	}
	a, b := t.clone(), t.clone()
	a.of = t.of[:n]
	b.from, b.rest = n, true
	if n == len(t.of) {
		return a, nil
	}
	return a, b
}

func (t *table) clone() *table {
	c := *t
	c.columns = slices.Clone(t.columns)
	c.shared = nil
	return &c
}

// cut splits a row that is higher than a whole side between its lines.
func (t *table) cut(w, h Um) (head, rest block) {
	ws := t.widthsAt(w)
	room := h - t.titleHeight(ws, w) - t.headHeight(ws) - 3*rowPad
	if f := t.footLines(w); len(f) > 0 {
		room -= pitch(t.small.cap)*Um(len(f)) + 400
	}
	c := t.clone()
	row := t.from
	c.of = slices.Insert(slices.Clone(t.of), row, t.of[row])
	c.tint = slices.Insert(slices.Clone(t.tint), row, t.tint[row])
	for i := range c.columns {
		col := &c.columns[i]
		ls := slices.Clone(col.lines(col.cells[row], ws[i]))
		n, used := 0, Um(0)
		for n < len(ls) && used+ls[n].pitch() <= room {
			used += ls[n].pitch()
			n++
		}
		for j := range ls { // broken already
			ls[j].whole = true
		}
		col.cells = slices.Replace(slices.Clone(col.cells), row, row+1, cell(ls[:n]), cell(ls[n:]))
	}
	return c.split(w, h)
}

func (t *table) draw(p *pen, r Rect) {
	ws := t.widthsAt(r.W)
	y := r.Y
	if t.title != "" {
		st := t.small
		st.bold = true
		for i, s := range wrap(t.heading(), st, r.W) {
			p.text(r.X, y+st.cap+Um(i)*pitch(st.cap), s, st)
		}
		y += t.titleHeight(ws, r.W)
	}
	hh := t.headHeight(ws)
	x := r.X
	for i := range t.columns {
		c := &t.columns[i]
		ls := c.lines(c.head, ws[i])
		ly := y + hh - rowPad - cellHeight(ls)
		for _, l := range ls {
			ly += l.pitch()
			t.place(p, c, l, x, ly-l.style.cap/4)
		}
		x += ws[i] + cellGap
	}
	y += hh
	p.polyline("rule", lineOutline, nil, Point{r.X, y}, Point{r.X + r.W, y})
	for row := t.from; row < len(t.of); row++ {
		h := t.rowHeight(row, ws)
		p.of = t.of[row]
		if t.tint[row] {
			p.rect("tint", 0, grey(Tint), Rect{r.X, y + lineOutline/2, r.W, h - lineOutline/2 - lineGrid/2})
		}
		top := rowPad
		for i := range t.columns {
			top = max(top, topPad(t.columns[i].lines(t.columns[i].cells[row], ws[i])))
		}
		x := r.X
		for i := range t.columns {
			c := &t.columns[i]
			ls := c.lines(c.cells[row], ws[i])
			ly := y + top - pitchPad(ls)
			for _, l := range ls {
				ly += l.pitch()
				t.place(p, c, l, x, ly)
			}
			if c.ruled > 0 {
				t.space(p, c, Rect{x, y, ws[i], h})
			}
			x += ws[i] + cellGap
		}
		y += h
		p.of = ""
		p.polyline("rule", lineGrid, nil, Point{r.X, y}, Point{r.X + r.W, y})
	}
	y += 400
	for _, s := range t.footLines(r.W) {
		y += pitch(t.small.cap)
		p.text(r.X, y, s, t.small)
	}
}

// place sets one line of a cell at its column's left edge or on its axis.
func (t *table) place(p *pen, c *column, l cellLine, x, y Um) {
	if c.aligns && l.split >= 0 {
		x += c.left - width(l.s[:l.split], l.style)
	} else {
		x += c.pad
	}
	p.text(x, y, l.s, l.style)
}

// space rules what is filled in by hand in one row of a column: a box to tick
// beside the first line, or the whole cell.
func (t *table) space(p *pen, c *column, r Rect) {
	r.W = max(r.W, c.ruled)
	if c.square {
		p.rect("tick", lineThin, nil, Rect{r.X + lineThin, r.Y + rowPad - 400, c.ruled - 2*lineThin, c.ruled - 2*lineThin})
		return
	}
	p.rect("blank", lineThin, grey(White), Rect{r.X, r.Y + 700, r.W, r.H - 1400})
}
