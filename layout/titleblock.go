package layout

import (
	"strconv"

	"stopleaf/exposure/apex"
)

// titleBlock is the strip at the foot of every side: the fields of ISO 7200
// that apply (owner, number, title, date, sheet and sheets, document type), and
// what a rebuild wants beside them.
type titleBlock struct {
	job    Job
	f      *format
	scale  string
	sheet  int
	of     int
	fields []string // which of the fields; empty is all
	more   string   // what goes on or comes from another side, or ""
	frame  bool
}

type titleCell struct {
	caption string
	text    string
	st      style
	flex    bool
}

func (b *titleBlock) empty() bool { return false }

func (b *titleBlock) stretches() bool { return false }

func (b *titleBlock) cells() []titleCell {
	w, s := b.job.Words, b.job.Setup
	plain := style{cap: capUse, kind: "title", used: true}
	strong := style{cap: Mm(b.f.Type.Title), bold: true, kind: "title", used: true}
	code := style{cap: Mm(b.f.Type.Code), bold: true, kind: "code", used: true}
	date := s.Made
	if date == "" {
		date = w.T("title.blank")
	}
	all := []struct {
		field, text string
		st          style
	}{
		{"title", s.Title, strong},
		{"owner", s.By, plain},
		{"date", date, plain},
		{"scale", b.scale, plain},
		{"units", string(s.Units), plain},
		{"recorded", recordedText(b.job), plain},
		{"code", s.Code, code},
		{"sheet", w.T("title.sheet-of", "n", strconv.Itoa(b.sheet), "m", strconv.Itoa(b.of)), plain},
	}
	var out []titleCell
	for _, c := range all {
		if c.text != "" && (len(b.fields) == 0 || holds(b.fields, c.field)) {
			out = append(out, titleCell{w.T("title." + c.field), c.text, c.st, c.field == "title"})
		}
	}
	return out
}

// recordedText is the base the setup was recorded at: what the key read and
// what the camera was set to.
func recordedText(job Job) string {
	e := job.Numbers.Exposure
	switch {
	case e.KeyAv == nil && e.ApertureAv == nil:
		return ""
	case e.KeyAv == nil:
		return job.Words.T("title.camera-only", "mark", job.Setup.Exposure.CameraMark(*e.ApertureAv))
	case e.ApertureAv == nil:
		return apex.Tenths(*e.KeyAv)
	}
	return job.Words.T("title.key-camera", "key", apex.Tenths(*e.KeyAv), "camera", job.Setup.Exposure.CameraMark(*e.ApertureAv))
}

const titlePad = Um(1300)

// rows breaks the cells into rows that fit the width; in each row the flexible
// cell takes what is left, and wraps.
func (b *titleBlock) rows(w Um) [][]titleCell {
	var rows [][]titleCell
	var row []titleCell
	var used Um
	for _, c := range b.cells() {
		cw := max(width(c.text, c.st), width(c.caption, style{cap: capCaption})) + 2*titlePad
		if c.flex {
			cw = min(cw, max(w/4, Mm(40)))
		}
		if used+cw > w && len(row) > 0 {
			rows, row, used = append(rows, row), nil, 0
		}
		row = append(row, c)
		used += cw
	}
	return append(rows, row)
}

// cellWidths gives each cell of a row its width; what is left goes to the
// flexible one, else to the last.
//
// A title too long for its cell is set smaller before it is broken.
func cellWidths(row []titleCell, w Um) []Um {
	out := make([]Um, len(row))
	left, flex := w, len(row)-1
	for i, c := range row {
		if c.flex {
			flex = i
		}
		out[i] = max(width(c.text, c.st), width(c.caption, style{cap: capCaption})) + 2*titlePad
	}
	for i := range row {
		if i != flex {
			left -= out[i]
		}
	}
	out[flex] = left
	if c := &row[flex]; c.flex && width(c.text, c.st) > left-2*titlePad {
		c.st.cap = capUse
	}
	return out
}

func rowHeightOf(row []titleCell, ws []Um) Um {
	h := Um(0)
	for i, c := range row {
		n := Um(len(wrap(c.text, c.st, ws[i]-2*titlePad)))
		h = max(h, n*c.st.cap*8/5-c.st.cap*3/5)
	}
	return capCaption + h + Um(3400)
}

func (b *titleBlock) least(w Um) Um {
	if b.frame { // the strip is as wide as the frame
		w += Mm(3)
	}
	h := Um(0)
	for _, row := range b.rows(w) {
		h += rowHeightOf(row, cellWidths(row, w))
	}
	if b.more != "" {
		h += Um(len(wrap(b.more, b.moreStyle(), w-2*titlePad)))*pitch(capCaption) + 300
	}
	return h
}

func (b *titleBlock) moreStyle() style { return style{cap: capCaption, bold: true, kind: "caption"} }

func (b *titleBlock) draw(p *pen, r Rect) {
	y := r.Y
	if b.more != "" {
		for _, s := range wrap(b.more, b.moreStyle(), r.W-2*titlePad) {
			y += pitch(capCaption)
			p.text(r.X+titlePad, y-700, s, b.moreStyle())
		}
		y += 300
	}
	for _, row := range b.rows(r.W) {
		ws := cellWidths(row, r.W)
		h := rowHeightOf(row, ws)
		p.polyline("title-rule", lineOutline, nil, Point{r.X, y}, Point{r.X + r.W, y})
		x := r.X
		for i, c := range row {
			if i > 0 {
				p.polyline("title-rule", lineThin, nil, Point{x, y}, Point{x, y + h})
			}
			p.text(x+titlePad, y+1000+capCaption, c.caption, style{cap: capCaption, kind: "caption"})
			ty := y + 1000 + capCaption + 1000 + c.st.cap
			for _, s := range wrap(c.text, c.st, ws[i]-2*titlePad) {
				p.text(x+titlePad, ty, s, c.st)
				ty += c.st.cap * 8 / 5
			}
			x += ws[i]
		}
		y += h
	}
}
