package layout

import (
	"fmt"
	"strconv"
	"strings"

	"stopleaf/exposure"
	"stopleaf/setup"
)

// blankColumn is a column of the form's table; at is its left edge from that of
// the table.
type blankColumn struct {
	key   string
	heads []string
	at, w Um
}

// blankRow is a light or a grip item: what is filled in already, by the columns'
// keys.
type blankRow struct {
	of   string
	name string
	says map[string]blankSaid
	shut []string // columns with nothing to fill in
}

type blankSaid []blankLine

type blankLine struct {
	s  string
	st style
}

// blankShares is what each column takes of the width, in percent: in an empty
// form, and where light and modifier are filled in.
var blankShares = []struct {
	key          string
	empty, setup float64
	one          bool // a single line of head
}{
	{"number", 3.2, 3.2, true}, {"light", 14.2, 13, false}, {"modifier", 16.6, 21, false}, {"angle", 9.2, 8.8, false}, {"distance", 10.2, 10.2, false},
	{"height", 9.3, 9.3, false}, {"reading", 8.2, 7.4, false}, {"power", 8.2, 7.4, false}, {"meter", 9.5, 9.5, false}, {"look", 11.4, 10.2, true},
}

// columns shares the width among the columns.
func (b *blankForm) columns() {
	const between = Um(1800)
	at := Um(0)
	for i, c := range blankShares {
		percent := c.empty
		if b.job != nil {
			percent = c.setup
		}
		w := Um(float64(b.inner.W) * percent / 100)
		if i == len(blankShares)-1 {
			w = b.inner.W - at + between
		}
		heads := []string{b.t("col-" + c.key)}
		if !c.one {
			heads = append(heads, b.t("col-"+c.key+"-2"))
		}
		b.cols = append(b.cols, blankColumn{c.key, heads, at, w - between})
		at += w
	}
}

// emptyRows is how many rows a form without a setup has.
const emptyRows = 8

// lights gives a row for each light and grip item, in the file's order.
func (b *blankForm) lights() {
	plain := func(n int, of string) blankRow {
		bold := b.text
		bold.bold = true
		return blankRow{of: of, says: map[string]blankSaid{"number": {{strconv.Itoa(n), bold}}}}
	}
	if b.job == nil {
		for i := range emptyRows {
			b.rows = append(b.rows, plain(i+1, fmt.Sprintf("light %d", i+1)))
		}
		return
	}
	name := b.text
	name.kind, name.bold = "name", true
	s := b.job.Setup
	for i := range s.Lights {
		l := &s.Lights[i]
		r := plain(l.Number, fmt.Sprintf("light %d", l.Number))
		r.name, r.says["light"] = l.Name, blankSaid{{l.Name, name}}
		if l.Role != "" && !strings.EqualFold(l.Role, l.Name) {
			r.says["light"] = append(r.says["light"], blankLine{fileWord(l.Role, b.words), b.small})
		}
		if l.Modifier != nil {
			r.says["modifier"] = blankSaid{{modifierText(l, b.words), b.text}}
		}
		if l.Source == exposure.Bounce || l.Source == exposure.Daylight {
			r.says["power"] = blankSaid{{b.t("no-dial"), b.small}}
			r.shut = []string{"power"}
		}
		b.rows = append(b.rows, r)
	}
	for i := range s.Grip {
		b.grip(&s.Grip[i], name, plain)
	}
}

func (b *blankForm) grip(g *setup.Grip, name style, plain func(int, string) blankRow) {
	r := plain(g.Number, fmt.Sprintf("grip %d", g.Number))
	r.name, r.says["light"] = g.Name, blankSaid{{g.Name, name}}
	if what := gripText(g, b.words, b.units); what != "" {
		r.says["modifier"] = blankSaid{{what, b.text}}
	}
	r.shut = []string{"reading", "power", "meter"}
	b.rows = append(b.rows, r)
}

func (b *blankForm) headLines(c blankColumn) (out []blankLine) {
	st := b.lead
	for _, s := range c.heads {
		for _, l := range wrap(s, st, c.w) {
			out = append(out, blankLine{l, st})
		}
		st = style{cap: capCaption, kind: "caption"}
	}
	return out
}

func (b *blankForm) headHeight() (h Um) {
	for _, c := range b.cols {
		h = max(h, saidHeight(b.headLines(c)))
	}
	return h + 1200
}

func saidHeight(lines []blankLine) (h Um) {
	for _, l := range lines {
		h += pitch(l.st.cap)
	}
	return h
}

// broken gives what a cell says in the lines of its column.
func (b *blankForm) broken(c blankColumn, r blankRow) (out []blankLine) {
	for _, l := range r.says[c.key] {
		for _, s := range wrap(l.s, l.st, c.w) {
			out = append(out, blankLine{s, l.st})
		}
	}
	return out
}

// besides says whether the last line of a cell stands behind the one before it: a
// role behind its light's name.
func besides(c blankColumn, ls []blankLine) bool {
	return c.key == "light" && len(ls) == 2 && ls[0].st != ls[1].st && width(ls[0].s, ls[0].st)+wordGap+width(ls[1].s, ls[1].st) <= c.w
}

// rowHeight is a ruled line, or more where much is filled in already.
func (b *blankForm) rowHeight(r blankRow) Um {
	h := b.line
	for _, c := range b.cols {
		ls := b.broken(c, r)
		if besides(c, ls) {
			ls = ls[:1]
		}
		if len(ls) > 0 {
			h = max(h, saidHeight(ls)+1600)
		}
	}
	return h
}

// fit says up to which row there is room, and what these rows take with the
// head; nothing when not one fits.
func (b *blankForm) fit(from int, room Um) (next int, h Um) {
	h = b.headHeight()
	for next = from; next < len(b.rows); next++ {
		rh := b.rowHeight(b.rows[next])
		if h+rh > room {
			break
		}
		h += rh
	}
	if next == from {
		return next, 0
	}
	return next, h
}

// table draws rows under a head; what is filled in stands on a rule of its own
// in each column, so that the columns need no upright lines.
func (b *blankForm) table(p *pen, r Rect, from, to int) {
	if from == to {
		return
	}
	hh := b.headHeight()
	for _, c := range b.cols {
		y := r.Y
		for _, l := range b.headLines(c) {
			y += pitch(l.st.cap)
			p.text(r.X+c.at, y-l.st.cap*3/5, l.s, l.st)
		}
	}
	y := r.Y + hh
	p.polyline("rule", lineOutline, nil, Point{r.X, y - lineOutline}, Point{r.right(), y - lineOutline})
	for _, row := range b.rows[from:to] {
		h := b.rowHeight(row)
		p.of = row.of
		for _, c := range b.cols {
			b.cell(p, c, row, Rect{r.X + c.at, y, c.w, h})
		}
		p.of = ""
		y += h
	}
}

func (b *blankForm) cell(p *pen, c blankColumn, row blankRow, r Rect) {
	ls := b.broken(c, row)
	if besides(c, ls) {
		p.text(r.X+width(ls[0].s, ls[0].st)+wordGap, r.bottom()-1500, ls[1].s, ls[1].st)
		ls = ls[:1]
	}
	y := r.bottom() - 1500 - saidHeight(ls)
	for _, l := range ls {
		y += pitch(l.st.cap)
		p.text(r.X, y, l.s, l.st)
	}
	if holds(row.shut, c.key) {
		return
	}
	p.polyline("blank", lineGrid, nil, Point{r.X, r.bottom() - lineThin}, Point{r.right(), r.bottom() - lineThin})
	if c.key == "height" {
		p.rect("tick", lineThin, nil, Rect{r.right() - boxSide, r.bottom() - 1300 - boxSide, boxSide, boxSide})
	}
}
