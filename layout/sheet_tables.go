package layout

import (
	"strings"

	"stopleaf/kit"
	"stopleaf/safety"
	"stopleaf/setup"
)

// fillIn is the table of lights with spaces for today's readings and dials, under
// one row of spaces for the base, the camera, who metered and when. It splits
// where the table does.
type fillIn struct {
	job   Job
	table *lightsBlock
	gap   Um
	rest  bool // what a split left: the table alone
}

const todayStrip = Um(11500)

func (b *fillIn) empty() bool { return b.table.empty() }

func (b *fillIn) stretches() bool { return false }

// over is what the strip takes with the gap under it.
func (b *fillIn) over(w Um) Um {
	if b.rest {
		return 0
	}
	return b.stripHeight(w) + b.gap
}

func (b *fillIn) least(w Um) Um { return b.over(w) + b.table.least(w) }

func (b *fillIn) parts(head, rest block) (block, block) {
	if head == nil {
		return nil, b
	}
	x := *b
	x.table = head.(*lightsBlock)
	if rest == nil {
		return &x, nil
	}
	y := *b
	y.table, y.rest = rest.(*lightsBlock), true
	return &x, &y
}

// split leaves no fewer than four rows on a side, nor the strip alone.
func (b *fillIn) split(w, h Um) (head, rest block) {
	x, y := b.table.split(w, h-b.over(w))
	if x != nil && y != nil && !b.rest && x.(*lightsBlock).rest[0].rows() < 4 {
		return nil, b
	}
	return b.parts(x, y)
}

func (b *fillIn) cut(w, h Um) (head, rest block) { return b.parts(b.table.cut(w, h-b.over(w))) }

func (b *fillIn) draw(p *pen, r Rect) {
	if !b.rest {
		b.strip(p, Rect{r.X, r.Y, r.W, b.stripHeight(r.W)})
	}
	over := b.over(r.W)
	b.table.draw(p, Rect{r.X, r.Y + over, r.W, r.H - over})
}

// sheetHead is a head that may speak of the key.
func sheetHead(job Job, key string) string {
	switch key {
	case "sheet.today-key-reads", "sheet.col-key", "sheet.phase-meter":
		return zeroWords(job, key)
	}
	return job.Words.T(key)
}

// fillInFields are the spaces over the table.
var fillInFields = []string{"key-reads", "camera", "iso", "shutter", "date", "by"}

var stripStyle = style{cap: capCaption, kind: "caption"}

// captions are those of the spaces at a width, in the lines that each takes: the
// first may name a light.
func (b *fillIn) captions(w Um) (lines [][]string, most int) {
	for _, f := range fillInFields {
		ls := wrap(sheetHead(b.job, "sheet.today-"+f), stripStyle, w/Um(len(fillInFields))-2*titlePad)
		lines, most = append(lines, ls), max(most, len(ls))
	}
	return lines, most
}

func (b *fillIn) stripHeight(w Um) Um {
	_, most := b.captions(w)
	return todayStrip + Um(most-1)*pitch(capCaption)
}

// stripNeeds is the least width of the row of spaces: the words of its captions
// are not broken, but for a long name's.
func (b *fillIn) stripNeeds() Um {
	if b.rest {
		return 0
	}
	var most Um
	for _, f := range fillInFields {
		most = max(most, min(Mm(14), longestWord(cellLine{s: sheetHead(b.job, "sheet.today-"+f), style: stripStyle})))
	}
	return Um(len(fillInFields)) * (most + 2*titlePad)
}

func (b *fillIn) strip(p *pen, r Rect) {
	captions, _ := b.captions(r.W)
	for i, lines := range captions {
		x, next := r.X+r.W*Um(i)/Um(len(captions)), r.X+r.W*Um(i+1)/Um(len(captions))
		for k, s := range lines {
			p.text(x+titlePad, r.Y+1000+capCaption+Um(k)*pitch(capCaption), s, stripStyle)
		}
		p.rect("blank", lineThin, nil, Rect{x + 125, r.Y + 125, next - x - 250, r.H - 250})
	}
}

// basesTable is the camera at each base: what the key reads, what the camera is
// set to, what is sharp, the room's light and the time that holds it.
func basesTable(job Job, f *format) *table {
	w, n, u := job.Words, job.Numbers, job.Setup.Units
	g := newRuled(job, f, w.T("sheet.bases"))
	if v := job.Setup.Exposure.ISO; v != nil {
		g.title = listed(g.title, w.T("camera.iso", "iso", trimFloat(*v)))
	}
	for _, b := range n.Bases {
		g.row("", false)
		g.cell("key", job.base(b.Mark), true)
		camera := ""
		if n.Exposure.Placing != nil {
			camera = job.Setup.Exposure.CameraMark(b.CameraAv)
		}
		if v := job.Setup.Exposure.ShutterS; v != nil {
			camera = listed(camera, timeText(*v))
		}
		g.cell("camera", camera, false)
		for _, d := range n.Camera.DepthOfField {
			if d.Base != b.Mark || d.NearM == nil {
				continue
			}
			far := w.T("camera.infinity")
			if d.FarM != nil {
				far = bareLength(*d.FarM, u)
			}
			g.cell("sharp", w.T("sheet.sharp", "near", bareLength(*d.NearM, u), "far", far), false)
		}
		for _, a := range n.Ambient.At {
			if a.Base != b.Mark {
				continue
			}
			g.cell("ambient", deltaText(a.Delta, g.job.Words), false)
			if a.HoldShutterS != nil {
				g.cell("hold", holdText(job, *a.HoldShutterS), false)
			}
		}
	}
	if c := g.cols["sharp"]; c != nil && (u == setup.Metres || u == setup.Centimetres) {
		c.head[0].s = w.T("sheet.sharp-in", "units", string(u))
	}
	if len(g.names) < 2 { // the bases alone say nothing new
		return newRuled(job, f, "").table()
	}
	return g.table()
}

// circuitsTable is what each circuit carries against its breaker.
func circuitsTable(job Job, f *format) *table {
	w := job.Words
	g := newRuled(job, f, w.T("sheet.circuits"))
	loads := safety.CircuitLoads(job.Setup)
	if len(loads) > 0 && loads[0].Circuit == nil { // no circuit of the file carries anything
		loads = nil
	}
	for _, ld := range loads {
		g.row("circuit "+ld.Name, false)
		if ld.Circuit == nil {
			g.cell("circuit", w.T("sheet.no-circuit"), true)
			g.cell("feeds", ranges(ld.Lights), false)
			continue
		}
		g.cell("circuit", ld.Name, true)
		g.cell("feeds", ranges(ld.Lights), false)
		load := w.T("sheet.amps", "a", oneDecimal(ld.LoadA))
		if len(ld.Unknown) == len(ld.Lights) {
			load = w.T("sheet.blank")
		} else if len(ld.Unknown) > 0 {
			load = w.T("sheet.amps-partly", "a", oneDecimal(ld.LoadA), "numbers", ranges(ld.Unknown))
		}
		g.cell("load", load, true)
		breaker := w.T("sheet.blank")
		if ld.Circuit.Breaker != nil {
			if breaker = w.T("sheet.amps", "a", trimFloat(*ld.Circuit.Breaker)); ld.OverLoad {
				breaker = w.T("sheet.breaker-over", "a", trimFloat(*ld.Circuit.Breaker))
			}
		}
		g.cell("breaker", breaker, false)
		g.cell("lead", leadText(ld.Circuit.Lead, job.Setup.Units), false)
		if ld.HasDrop {
			drop := w.T("sheet.drop", "v", oneDecimal(ld.DropV), "pct", oneDecimal(ld.DropPct))
			if ld.OverDrop {
				drop = w.T("sheet.drop-over", "v", oneDecimal(ld.DropV), "pct", oneDecimal(ld.DropPct))
			}
			g.cell("drop", drop, false)
		}
	}
	if !g.empty() && job.Setup.Mains != nil && job.Setup.Mains.Volts > 0 {
		g.title = w.T("sheet.circuits-volts", "v", trimFloat(job.Setup.Mains.Volts))
	}
	return g.table()
}

// kitTable is the kit list with a box for each line.
func kitTable(job Job, f *format) *table {
	g := newRuled(job, f, job.Words.T("sheet.kit"))
	list := kit.For(job.Setup)
	kind := kit.Kind("")
	for i, k := range KitRows(list, job.Words) {
		it := &list.Items[i]
		g.row("kit", false)
		g.box("packed", tickBox)
		if it.Kind != kind {
			kind = it.Kind
			g.cell("sort", k.Sort, false)
		}
		g.cell("count", k.Count, true)
		g.cell("what", k.What, false)
		g.cell("feeds", ranges(it.Asked[0].Of), false)
	}
	return g.table()
}

// ruledGrid gathers the cells of a small table by the names of its columns; a
// column in which nothing is said is left out.
type ruledGrid struct {
	job   Job
	title string
	st    style
	names []string
	cols  map[string]*column
	of    []string
	tint  []bool
}

func newRuled(job Job, f *format, title string) *ruledGrid {
	return &ruledGrid{job: job, title: title, st: style{cap: Mm(f.Type.Text), kind: "figure", used: true}, cols: map[string]*column{}}
}

func (g *ruledGrid) empty() bool { return len(g.of) == 0 }

func (g *ruledGrid) row(of string, tint bool) {
	g.of, g.tint = append(g.of, of), append(g.tint, tint)
}

// column finds a column, or makes it behind the others.
func (g *ruledGrid) column(name string) *column {
	c := g.cols[name]
	if c == nil {
		head := style{cap: capCaption, kind: "head"}
		c = &column{wraps: true, head: cell{{s: sheetHead(g.job, "sheet.col-"+name), style: head, split: -1}}}
		g.cols[name] = c
		g.names = append(g.names, name)
	}
	for len(c.cells) < len(g.of) {
		c.cells = append(c.cells, nil)
	}
	return c
}

func (g *ruledGrid) cell(name, s string, bold bool) {
	if s == "" {
		return
	}
	st := g.st
	st.bold = bold
	c := g.column(name)
	c.cells[len(g.of)-1] = cell{{s: s, style: st, split: -1}}
}

// figure is a cell of a column whose figures stand under each other at the decimal
// point.
func (g *ruledGrid) figure(name, s string) {
	c := g.column(name)
	c.wraps, c.aligns = false, true
	c.cells[len(g.of)-1] = cell{{s: s, style: g.st, split: max(strings.IndexByte(s, '.'), 0)}}
}

// box is a column of boxes to tick.
func (g *ruledGrid) box(name string, side Um) {
	c := g.column(name)
	c.wraps, c.ruled, c.square = false, side, true
}

func (g *ruledGrid) table() *table {
	t := &table{title: g.title, small: style{cap: capCaption, kind: "head"}, more: g.job.Words.T("table.continued"), of: g.of, tint: g.tint}
	for _, name := range g.names {
		c := g.column(name)
		t.columns = append(t.columns, *c)
	}
	return t
}

// rows is how many rows a table has after a split.
func (t *table) rows() int { return len(t.of) - t.from }
