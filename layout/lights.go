package layout

import (
	"fmt"
	"strings"

	"stopleaf/exposure"
	"stopleaf/setup"
)

// The spaces, at least so wide and so high.
const (
	todayWide = Um(21000)
	todayHigh = Um(9000)
)

// lightsTable builds the table of lights with the columns that a format asks
// for. Grip items stand below the lights in a table that says where things
// stand.
//
// Bases are those from lo up to hi; past the first part only the number and the
// name stand beside them.
func lightsTable(job Job, n node, f *format, lo, hi int) *table {
	text := style{cap: Mm(f.Type.Text), kind: "figure", used: true}
	t := &table{title: job.Words.T("lights.title"), small: style{cap: capCaption, kind: "head"}, more: job.Words.T("table.continued")}
	where := false
	for _, c := range n.Columns {
		for _, field := range c {
			where = where || field == "place"
		}
	}
	if where {
		t.title = job.Words.T("places.title")
		if u := job.Setup.Units; u == setup.Metres || u == setup.Centimetres {
			t.title = job.Words.T("places.title-in", "units", string(u))
		}
	}
	rows := len(job.Setup.Lights)
	if where {
		rows += len(job.Setup.Grip)
	}
	for i := 0; i < rows; i++ {
		if i < len(job.Setup.Lights) {
			t.of = append(t.of, fmt.Sprintf("light %d", job.Setup.Lights[i].Number))
			t.tint = append(t.tint, job.Setup.IsZero(&job.Setup.Lights[i]))
		} else {
			t.of = append(t.of, fmt.Sprintf("grip %d", job.Setup.Grip[i-len(job.Setup.Lights)].Number))
			t.tint = append(t.tint, false)
		}
	}
	for _, fields := range n.Columns {
		if holds(fields, "target") || holds(fields, "dial") {
			for b := lo; b < hi; b++ {
				t.columns = append(t.columns, baseColumn(job, fields, b, rows, text, Mm(f.Type.Target)))
			}
			continue
		}
		if lo > 0 && !holds(fields, "number") && !holds(fields, "name") && !holds(fields, "light") {
			continue
		}
		if lo > 0 && holds(fields, "light") {
			fields = []string{"name"}
		}
		col := plainColumn(job, fields, rows, text)
		if holds(fields, "reads") || holds(fields, "set") { // today's, to fill in
			col.ruled, t.high = todayWide, todayHigh
			t.title = job.Words.T("sheet.today")
		}
		if !col.blank() || col.ruled > 0 {
			t.columns = append(t.columns, col)
		}
	}
	if lo == 0 {
		t.foot = lightFoot(job, n)
	}
	return t
}

// lightsBlock is the table of lights, in as many parts as its bases need at the
// width it gets.
type lightsBlock struct {
	job   Job
	n     node
	f     *format
	parts map[Um][]*table // by width
	all   *table          // of all bases
	needs Um              // the least width of all
	rest  []*table        // what a split left, instead
}

// whole is the table of all bases, and the least width it can be set in.
func (b *lightsBlock) whole() (*table, Um) {
	if b.all == nil {
		b.all = lightsTable(b.job, b.n, b.f, 0, b.bases())
		b.needs = b.all.needs()
	}
	return b.all, b.needs
}

// bases is for how many bases it has columns.
func (b *lightsBlock) bases() int {
	for _, c := range b.n.Columns {
		if holds(c, "target") || holds(c, "dial") {
			return len(b.job.Numbers.Bases)
		}
	}
	return 0
}

// onePart says whether a width is enough for it as one table.
func (b *lightsBlock) onePart(w Um) bool {
	if b.rest != nil {
		return len(b.rest) == 1 && b.rest[0].needs() <= w
	}
	_, needs := b.whole()
	return needs <= w
}

func (b *lightsBlock) tables(w Um) []*table {
	if b.rest != nil {
		return b.rest
	}
	if ts, ok := b.parts[w]; ok {
		return ts
	}
	bases := b.bases()
	var ts []*table
	for lo := 0; ; {
		hi := bases
		t, needs := b.whole()
		if lo > 0 {
			t = lightsTable(b.job, b.n, b.f, lo, hi)
			needs = t.needs()
		}
		for ; hi > lo+1 && needs > w; needs = t.needs() {
			hi--
			t = lightsTable(b.job, b.n, b.f, lo, hi)
		}
		ts = append(ts, t)
		if lo = hi; lo >= bases {
			break
		}
	}
	if b.parts == nil {
		b.parts = map[Um][]*table{}
	}
	b.parts[w] = ts
	return ts
}

func (b *lightsBlock) empty() bool { return len(b.job.Setup.Lights) == 0 }

func (b *lightsBlock) stretches() bool { return false }

func (b *lightsBlock) least(w Um) Um {
	var h Um
	for _, t := range b.tables(w) {
		if th := t.least(w); th > 0 {
			if h > 0 {
				h += Mm(b.f.Gap)
			}
			h += th
		}
	}
	return h
}

func (b *lightsBlock) draw(p *pen, r Rect) {
	for _, t := range b.tables(r.W) {
		h := t.least(r.W)
		t.draw(p, Rect{r.X, r.Y, r.W, h})
		r.Y += h + Mm(b.f.Gap)
	}
}

func (b *lightsBlock) cut(w, h Um) (head, rest block) {
	ts := b.tables(w)
	a, z := ts[0].cut(w, h)
	if a == nil {
		return nil, b
	}
	left := ts[1:]
	if z != nil {
		left = append([]*table{z.(*table)}, left...)
	}
	return &lightsBlock{job: b.job, f: b.f, rest: []*table{a.(*table)}}, &lightsBlock{job: b.job, f: b.f, rest: left}
}

func (b *lightsBlock) split(w, h Um) (head, rest block) {
	ts := b.tables(w)
	var fit []*table
	for i, t := range ts {
		th := t.least(w)
		if th <= h {
			fit = append(fit, t)
			h -= th + Mm(b.f.Gap)
			continue
		}
		left := ts[i:]
		if a, z := t.split(w, h); a != nil {
			fit = append(fit, a.(*table))
			left = ts[i+1:]
			if z != nil {
				left = append([]*table{z.(*table)}, left...)
			}
		}
		if len(fit) == 0 {
			return nil, b
		}
		return &lightsBlock{job: b.job, f: b.f, rest: fit}, &lightsBlock{job: b.job, f: b.f, rest: left}
	}
	return b, nil
}

func holds(fields []string, f string) bool {
	for _, x := range fields {
		if x == f {
			return true
		}
	}
	return false
}

// blank says whether no row has anything in the column.
func (c *column) blank() bool {
	for _, cl := range c.cells {
		if len(cl) > 0 {
			return false
		}
	}
	return true
}

func plainColumn(job Job, fields []string, rows int, st style) column {
	head := st
	head.cap, head.kind, head.used = capCaption, "head", false
	c := column{}
	for _, f := range fields {
		switch f {
		case "light", "name", "modifier", "place", "meter", "aim", "measure", "height", "falloff", "drift", "looks":
			c.wraps = true
		case "difference", "number", "clock", "throw":
			c.aligns = !c.wraps
		}
	}
	for _, f := range fields {
		if s := job.Words.T("lights." + f); s != "" {
			c.head = append(c.head, cellLine{s: s, style: head, split: -1})
		}
	}
	for i := 0; i < rows; i++ {
		var cl cell
		for _, f := range fields {
			s := ""
			if i < len(job.Setup.Lights) {
				s = lightField(job, i, f)
			} else {
				s = gripField(job, &job.Setup.Grip[i-len(job.Setup.Lights)], f)
			}
			if s == "" {
				continue
			}
			l := cellLine{s: s, style: st, split: -1}
			switch f {
			case "number":
				l.style.bold, l.style.kind, l.split = true, "number", len(s)
			case "clock", "throw":
				l.split = len(s)
			case "light", "name":
				l.style.bold, l.style.kind = true, "name"
			case "difference":
				l.style, l.whole = l.style.apart(), true
				l.style.bold = true
				if l.split = decimalPoint(s); l.split == 0 {
					l.split = -1
				}
			}
			if c.wraps {
				l.split = -1
			}
			cl = append(cl, l)
		}
		c.cells = append(c.cells, cl)
	}
	return c
}

// decimalPoint is where a figure's decimal point stands, or the end of its
// leading digits.
func decimalPoint(s string) int {
	for i, r := range s {
		if (r < '0' || r > '9') && r != '−' && r != '+' {
			return i
		}
	}
	return len(s)
}

func baseColumn(job Job, fields []string, b, rows int, st style, target Um) column {
	head := st
	head.cap, head.kind, head.used = capCaption, "head", false
	strong := st.apart()
	strong.bold = true
	base := job.Numbers.Bases[b]
	mark := job.base(base.Mark)
	c := column{aligns: true, pad: 2300}
	w := job.Words
	c.head = cell{{s: zeroWords(job, "base.key-reads"), style: head, split: -1, whole: true}, {s: mark, style: strong, split: job.readingSplit(mark)}}
	if job.Numbers.Exposure.Placing != nil {
		c.head = append(c.head, cellLine{s: w.T("base.camera", "mark", job.Setup.Exposure.CameraMark(base.CameraAv)), style: head, split: -1, whole: true})
	}
	for i := 0; i < rows; i++ {
		var cl cell
		if i < len(job.Numbers.Lights) {
			l := job.Numbers.Lights[i]
			for _, f := range fields {
				switch f {
				case "target":
					if l.Off {
						cl = append(cl, cellLine{s: w.T("difference.off"), style: st, split: -1})
					}
					if b < len(l.Targets) {
						s := job.target(l.Targets[b])
						ts := strong
						ts.cap, ts.kind = target, "target"
						cl = append(cl, cellLine{s: s, style: ts, split: job.readingSplit(s)})
					}
				case "dial":
					s := dialText(job, i, b)
					if s != "" {
						ds := strong
						ds.kind = "dial"
						cl = append(cl, cellLine{s: s, style: ds, split: beforeRest(s)})
					}
				}
			}
		}
		c.cells = append(c.cells, cl)
	}
	return c
}

// beforeRest is where a mark ends and its tenths begin.
func beforeRest(s string) int {
	if i := strings.IndexByte(s, ' '); i >= 0 {
		return i
	}
	return len(s)
}

// dialText is a head's setting at one base; what it cannot give is said.
func dialText(job Job, light, b int) string {
	l := job.Numbers.Lights[light]
	if b >= len(l.Dials) {
		return ""
	}
	d := l.Dials[b]
	switch {
	case d.Possible != nil && !*d.Possible && d.Just:
		return d.Text + " " + job.Words.T("dial.just")
	case d.Possible != nil && !*d.Possible && d.Stops > 0:
		return job.Words.T("dial.over")
	case d.Possible != nil && !*d.Possible:
		return job.Words.T("dial.under")
	}
	return d.Text
}

func lightField(job Job, i int, field string) string {
	l := &job.Setup.Lights[i]
	var n exposure.LightOut
	if i < len(job.Numbers.Lights) {
		n = job.Numbers.Lights[i]
	}
	w, u := job.Words, job.Setup.Units
	switch field {
	case "number":
		return fmt.Sprint(l.Number)
	case "light":
		return lightName(l, w)
	case "name":
		return l.Name
	case "clock":
		return clockText(l.Place)
	case "modifier":
		return modifierText(l, w)
	case "difference":
		switch {
		case l.Off:
			return w.T("difference.off")
		case job.Setup.IsZero(l):
			return zeroWords(job, "difference.key")
		}
		return differenceText(n.Delta, w)
	case "place":
		return placeText(l.Place, w, u)
	case "height":
		return heightText(l.Place, w, u)
	case "measure":
		return measureText(l.Place, w, u)
	case "meter":
		return meterText(l.Meter, w)
	case "aim":
		return aimText(l, w)
	case "throw":
		if n.ThrowM != nil {
			return bareLength(*n.ThrowM, u)
		}
	case "looks":
		return looksText(n.LooksDeg, w)
	case "drift":
		return driftText(n.DriftM, w, u)
	case "falloff":
		return falloffText(n.Falloff, w)
	case "mark":
		return l.Mark
	case "circuit":
		return l.Circuit
	}
	return ""
}

func gripField(job Job, g *setup.Grip, field string) string {
	w, u := job.Words, job.Setup.Units
	switch field {
	case "number":
		return fmt.Sprint(g.Number)
	case "light", "name":
		return g.Name
	case "clock":
		return clockText(g.Place)
	case "modifier":
		return gripText(g, w, u)
	case "place":
		return placeText(g.Place, w, u)
	case "height":
		return heightText(g.Place, w, u)
	case "measure":
		return measureText(g.Place, w, u)
	case "mark":
		return g.Mark
	}
	return ""
}

// lightFoot is what holds for the whole table.
func lightFoot(job Job, n node) []string {
	w := job.Words
	var out []string
	has := func(f string) bool {
		for _, c := range n.Columns {
			if holds(c, f) {
				return true
			}
		}
		return false
	}
	if has("meter") {
		out = append(out, w.T("lights.meter-rule"))
	}
	if has("dial") {
		for i := range job.Numbers.Lights {
			if len(job.Numbers.Lights[i].Dials) > 0 {
				out = append(out, w.T("lights.dial-rule"))
				break
			}
		}
	}
	if has("drift") || has("falloff") || has("looks") {
		out = append(out, w.T("lights.estimates"))
	}
	if len(out) > 1 {
		out = []string{strings.Join(out, " ")}
	}
	return out
}
