package layout

import (
	"math"
	"strconv"
	"strings"

	"stopleaf/exposure"
)

// What is read from two metres off.
const (
	capNumber = Um(14000)
	capFar    = Um(10000)
)

// standHead is the head of a side: the item's number large, its name, and how
// it stands to the key. On further sides it is smaller.
type standHead struct {
	job     Job
	item    standItem
	further bool
}

func (b *standHead) empty() bool { return false }

func (b *standHead) stretches() bool { return false }

func (b *standHead) number() (string, style) {
	st := style{cap: capNumber, bold: true, kind: "number", used: true}
	if b.further {
		st.cap = capFar
	}
	return strconv.Itoa(b.item.number), st
}

const standGap = Um(3500) // between the number and the name

// lines are the name, as large as it fits on two lines, and the difference.
func (b *standHead) lines(w Um) (name []string, st style, words []string, ws style) {
	n, ns := b.number()
	w -= width(n, ns) + standGap
	what := b.item.name
	caps := []Um{capTitle, capLarge, capUse}
	switch {
	case b.item.light != nil:
		what = lightName(b.item.light, b.job.Words)
	case !b.further:
		caps = []Um{7000, capTitle, capLarge, capUse}
	}
	if b.further {
		caps = caps[1:]
	}
	for _, c := range caps {
		st = style{cap: c, bold: true, kind: "name", used: true}
		if name = wrap(what, st, w); len(name) <= 2 && fitsWords(what, st, w) {
			break
		}
	}
	ws = style{cap: capLarge, kind: "difference", used: true}
	if s := b.difference(); s != "" && !b.further {
		words = wrap(s, ws, w)
	}
	return name, st, words, ws
}

// fitsWords says whether no word is broken at a width.
func fitsWords(s string, st style, w Um) bool {
	return longestWord(cellLine{s: s, style: st}) <= w
}

// difference is how a light stands to the key, in words.
func (b *standHead) difference() string {
	w := b.job.Words
	switch {
	case b.item.light == nil:
		return ""
	case b.item.light.Off:
		return w.T("stands.off")
	case b.job.Setup.IsZero(b.item.light):
		return zeroWords(b.job, "stands.is-key")
	}
	delta := b.item.light.Delta
	if math.Abs(delta) < 0.05 {
		return zeroWords(b.job, "stands.as-key")
	}
	return zeroWords(b.job, "stands.from-key", "difference", differenceText(delta, w))
}

// headroomOf is what accents on the capitals of a line need over it.
func headroomOf(lines []string, c Um) Um {
	for _, s := range lines {
		if tall(s) {
			return c * 3 / 10
		}
	}
	return 0
}

// overshoot is how far round letters and figures reach over the cap height.
func overshoot(c Um) Um { return c * 3 / 100 }

func (b *standHead) least(w Um) Um {
	name, st, words, ws := b.lines(w)
	_, ns := b.number()
	h := overshoot(ns.cap) + headroomOf(name, st.cap) + Um(len(name))*pitch(st.cap) + headroomOf(words, ws.cap) + Um(len(words))*pitch(ws.cap)
	return max(ns.cap+overshoot(ns.cap)+1500, h)
}

func (b *standHead) draw(p *pen, r Rect) {
	if !b.further {
		p.of = b.item.of
	}
	n, ns := b.number()
	r.Y += overshoot(ns.cap)
	p.text(r.X, r.Y+ns.cap, n, ns)
	x := r.X + width(n, ns) + standGap
	name, st, words, ws := b.lines(r.W)
	y := r.Y + headroomOf(name, st.cap)
	for _, s := range name {
		p.text(x, y+st.cap, s, st)
		y += pitch(st.cap)
	}
	y += headroomOf(words, ws.cap)
	for _, s := range words {
		p.text(x, y+ws.cap, s, ws)
		y += pitch(ws.cap)
	}
	p.of = ""
}

// today is what the meter must show and where the dial goes, at today's base.
type today struct {
	head  string
	cap   Um // of the figures, capFar at least
	rows  []todayRow
	of    string
	bases *table // the other bases, small under the figures; nil for none
}

type todayRow struct {
	label, text, kind string // the first row has no label: the heading says it
	blank             bool   // a ruled space to write in
}

func newToday(job Job, it standItem, f *format, size Um, withBases bool) *today {
	b := &today{of: it.of, cap: max(capFar, Mm(f.Type.Target))}
	if it.light == nil || it.index >= len(job.Numbers.Lights) {
		return b
	}
	w, n := job.Words, job.Numbers.Lights[it.index]
	base := job.Numbers.Bases[0]
	b.head = zeroWords(job, "stands.today", "base", job.base(base.Mark))
	if job.Numbers.Exposure.Placing != nil {
		b.head += ", " + w.T("base.camera", "mark", job.Setup.Exposure.CameraMark(base.CameraAv))
	}
	if len(n.Targets) == 0 {
		b.rows = append(b.rows, todayRow{text: w.T("difference.off"), kind: "target"})
		return b
	}
	b.rows = append(b.rows, todayRow{text: job.target(n.Targets[0]), kind: "target"})
	l := it.light
	switch dial := dialText(job, it.index, 0); {
	case dial != "":
		b.rows = append(b.rows, todayRow{label: w.T("stands.dial"), text: dial, kind: "dial"})
	case l.Dimmer != nil:
		b.rows = append(b.rows, todayRow{label: w.T("stands.dimmer"), text: trimFloat(*l.Dimmer) + " %", kind: "dial"})
	case l.Source == exposure.Flash || l.Source == "" || l.Source == exposure.Continuous:
		b.rows = append(b.rows, todayRow{label: w.T("stands.dial"), kind: "dial", blank: true})
	}
	if t := otherBases(job, it, size); withBases && !t.empty() {
		b.bases = t
	}
	return b
}

func (b *today) empty() bool { return len(b.rows) == 0 }

func (b *today) stretches() bool { return false }

const (
	farGap   = Um(2700) // over a figure
	labelGap = Um(2000) // over its label
)

func (b *today) headStyle() style { return style{cap: capUse, bold: true, kind: "head", used: true} }

func (b *today) labelStyle() style { return style{cap: capUse, kind: "head", used: true} }

func (b *today) farStyle(kind string) style {
	return style{cap: b.cap, bold: true, kind: kind, used: true}
}

// lines breaks a figure between its words where it is wider than its room.
func (r todayRow) lines(st style, w Um) []string {
	if r.blank {
		return []string{""}
	}
	var out []string
	for _, word := range strings.Fields(r.text) {
		if n := len(out); n > 0 && width(out[n-1]+" "+word, st) <= w {
			out[n-1] += " " + word
		} else {
			out = append(out, word)
		}
	}
	return out
}

// needs is the least width of its figures, whose words are not broken.
func (b *today) needs() Um {
	var most Um
	for _, r := range b.rows {
		for _, word := range strings.Fields(r.text) {
			most = max(most, width(word, b.farStyle(r.kind)))
		}
	}
	if b.bases != nil {
		most = max(most, b.bases.needs())
	}
	return most
}

func (b *today) least(w Um) Um {
	if b.empty() {
		return 0
	}
	h := Um(len(wrap(b.head, b.headStyle(), w)))*pitch(capUse) + 1200
	for _, r := range b.rows {
		if r.label != "" {
			h += labelGap + capUse
		}
		h += Um(len(r.lines(b.farStyle(r.kind), w))) * (farGap + b.cap)
	}
	h -= pitch(capUse) - capUse // the heading's own pitch is over the first figure
	if b.bases != nil {
		h += 1700 + b.bases.least(w)
	}
	return h + 900
}

// draw keeps each figure on lines of its own: nothing small stands beside it.
func (b *today) draw(p *pen, r Rect) {
	p.of = b.of
	y := r.Y
	p.polyline("rule", lineOutline, nil, Point{r.X, y}, Point{r.right(), y})
	y += 1200
	for _, s := range wrap(b.head, b.headStyle(), r.W) {
		p.text(r.X, y+capUse, s, b.headStyle())
		y += pitch(capUse)
	}
	y -= pitch(capUse) - capUse
	for _, row := range b.rows {
		if row.label != "" {
			y += labelGap + capUse
			p.text(r.X, y, row.label, b.labelStyle())
		}
		st := b.farStyle(row.kind)
		for _, s := range row.lines(st, r.W) {
			y += farGap + b.cap
			p.text(r.X, y, s, st)
		}
		if row.blank {
			p.polyline("blank", lineThin, nil, Point{r.X, y}, Point{r.X + min(r.W, Mm(60)), y})
		}
	}
	if b.bases != nil {
		b.bases.draw(p, Rect{r.X, y + 1700, r.W, r.H})
	}
	p.of = ""
}

// narrowBases is the table of the other bases in a column, which an arrangement
// may make too narrow for it.
type narrowBases struct{ *table }

func (b narrowBases) least(w Um) Um {
	if !b.empty() && b.needs() > w {
		return Mm(1e4) // that arrangement is passed over
	}
	return b.table.least(w)
}

// otherBases is the target and the dial at every other base, smaller than today's.
func otherBases(job Job, it standItem, size Um) *table {
	st := style{cap: size, kind: "figure", used: true}
	t := &table{small: style{cap: capCaption, kind: "head"}}
	if it.light == nil || it.index >= len(job.Numbers.Lights) {
		return t
	}
	w, n := job.Words, job.Numbers.Lights[it.index]
	figures := func(head, kind string, split func(string) int, text func(b int) string) {
		c := column{aligns: true, head: cell{{s: head, style: t.small, split: -1, whole: true}}}
		if len(t.columns) > 0 {
			c.pad = 3500
		}
		some := false
		for b := 1; b < len(job.Numbers.Bases); b++ {
			s := text(b)
			one := st.apart()
			one.kind = kind
			one.bold = kind != "base"
			c.cells = append(c.cells, cell{{s: s, style: one, split: split(s)}})
			some = some || s != ""
		}
		if some {
			t.columns = append(t.columns, c)
		}
	}
	if len(n.Targets) == 0 {
		return t
	}
	for range job.Numbers.Bases[1:] {
		t.of = append(t.of, it.of)
		t.tint = append(t.tint, false)
	}
	figures(zeroWords(job, "stands.other-base"), "base", job.readingSplit, func(b int) string { return job.base(job.Numbers.Bases[b].Mark) })
	figures(w.T("stands.meter"), "target", job.readingSplit, func(b int) string { return job.target(n.Targets[b]) })
	figures(w.T("stands.dial"), "dial", beforeRest, func(b int) string { return dialText(job, it.index, b) })
	return t
}
