package layout

import (
	"strconv"

	"stopleaf/setup"
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
	reserve string // the cell is at least as wide as this, so that a strip has one shape on all sides
}

// wide is the width a cell needs.
func (c *titleCell) wide() Um {
	return max(width(c.text, c.st), width(c.reserve, c.st), width(c.caption, style{cap: capCaption})) + 2*titlePad
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
	scale := b.scale
	if scale == "" {
		scale = w.T("title.no-scale")
	}
	all := []struct {
		field, text, reserve string
		st                   style
	}{
		{"title", s.Title, "", strong},
		{"owner", s.By, "", plain},
		{"date", date, "", plain},
		{"scale", scale, b.widestScale(), plain},
		{"units", string(s.Units), "", plain},
		{"recorded", recordedText(b.job), "", plain},
		{"code", s.Code, "", code},
		{"sheet", w.T("title.sheet-of", "n", strconv.Itoa(b.sheet), "m", strconv.Itoa(b.of)), w.T("title.sheet-of", "n", "88", "m", "88"), plain},
	}
	var out []titleCell
	for _, c := range all {
		if c.text != "" && (len(b.fields) == 0 || holds(b.fields, c.field)) {
			out = append(out, titleCell{titleCaption(b.job, c.field), c.text, c.st, c.field == "title", c.reserve})
		}
	}
	return out
}

func titleCaption(job Job, field string) string {
	if field == "recorded" {
		return zeroWords(job, "title.recorded")
	}
	return job.Words.T("title." + field)
}

// widestScale is the longest name a scale of the set's units is likely to have,
// or the word for none where that is longer.
func (b *titleBlock) widestScale() string {
	st := style{cap: capUse}
	if none := b.job.Words.T("title.no-scale"); width(none, st) > width(b.usualScale(), st) {
		return none
	}
	return b.usualScale()
}

func (b *titleBlock) usualScale() string {
	if u := b.job.Setup.Units; u == setup.Feet || u == setup.Inches {
		return "1/16 in = 1 ft"
	}
	return "1:100"
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
		return job.reading(*e.KeyAv)
	}
	return job.Words.T("title.key-camera", "key", job.reading(*e.KeyAv), "camera", job.Setup.Exposure.CameraMark(*e.ApertureAv))
}

const titlePad = Um(1300)

// rows breaks the cells into rows that fit the width; in each row the flexible
// cell takes what is left, and wraps. It stands beside others, or has a row to
// itself where that makes the strip lower.
func (b *titleBlock) rows(w Um) [][]titleCell {
	cells := b.cells()
	beside, alone := rowsWith(cells, w, max(w/4, Mm(40))), rowsWith(cells, w, w)
	if rowsHeight(alone, w) < rowsHeight(beside, w) {
		return alone
	}
	return beside
}

// rowsWith asks no more than so much for the flexible cell.
func rowsWith(cells []titleCell, w, most Um) [][]titleCell {
	var rows [][]titleCell
	var row []titleCell
	var used Um
	for _, c := range cells {
		cw := c.wide()
		if c.flex {
			cw = min(cw, most)
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
		out[i] = c.wide()
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

// headroom is what accents on capitals need between a caption and its text.
func headroom(c titleCell) Um {
	if tall(c.text) {
		return c.st.cap * 3 / 10
	}
	return 0
}

func rowHeightOf(row []titleCell, ws []Um) Um {
	h := Um(0)
	for i, c := range row {
		n := Um(len(wrap(c.text, c.st, ws[i]-2*titlePad)))
		h = max(h, n*c.st.cap*8/5-c.st.cap*3/5+headroom(c)+max(1400, c.st.cap/3+350))
	}
	return capCaption + h + Um(2000)
}

func rowsHeight(rows [][]titleCell, w Um) Um {
	h := Um(0)
	for _, row := range rows {
		h += rowHeightOf(row, cellWidths(row, w))
	}
	return h
}

func (b *titleBlock) least(w Um) Um { return b.leastRows(w) + b.leastMore(w) }

// wide is the width of the strip, which is that of the frame.
func (b *titleBlock) wide(w Um) Um {
	if b.frame {
		return w + Mm(3)
	}
	return w
}

func (b *titleBlock) leastRows(w Um) Um { return rowsHeight(b.rows(b.wide(w)), b.wide(w)) }

// leastMore is what the words above the rows take.
func (b *titleBlock) leastMore(w Um) Um {
	if b.more == "" {
		return 0
	}
	return Um(len(wrap(b.more, b.moreStyle(), b.wide(w)-2*titlePad)))*pitch(capCaption) + 300
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
	drawTitleRows(p, Rect{r.X, y, r.W, 0}, b.rows(r.W))
}

// drawTitleRows draws rows of cells from the top of a box, each under a rule.
func drawTitleRows(p *pen, r Rect, rows [][]titleCell) {
	y := r.Y
	for _, row := range rows {
		ws := cellWidths(row, r.W)
		h := rowHeightOf(row, ws)
		p.polyline("title-rule", lineOutline, nil, Point{r.X, y}, Point{r.X + r.W, y})
		x := r.X
		for i, c := range row {
			if i > 0 {
				p.polyline("title-rule", lineThin, nil, Point{x, y}, Point{x, y + h})
			}
			p.text(x+titlePad, y+1000+capCaption, c.caption, style{cap: capCaption, kind: "caption"})
			ty := y + 1000 + capCaption + 1000 + headroom(c) + c.st.cap
			for _, s := range wrap(c.text, c.st, ws[i]-2*titlePad) {
				p.text(x+titlePad, ty, s, c.st)
				ty += c.st.cap * 8 / 5
			}
			x += ws[i]
		}
		y += h
	}
}
