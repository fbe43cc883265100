package layout

import (
	"math"
	"strconv"
	"strings"

	"stopleaf/exposure"
	"stopleaf/setup"
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
		if strings.ContainsAny(s, above) {
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
	h := overshoot(ns.cap) + headroomOf(name, st.cap) + Um(len(name))*pitch(st.cap) + Um(len(words))*pitch(ws.cap)
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
	for _, s := range words {
		p.text(x, y+ws.cap, s, ws)
		y += pitch(ws.cap)
	}
	p.of = ""
}

// today is what the meter must show and where the dial goes, at today's base.
type today struct {
	head  string
	rows  []todayRow
	of    string
	bases *table // the other bases, beside the figures or under them; nil for none
}

type todayRow struct {
	label, text, kind string
	blank             bool // a ruled space to write in
}

func newToday(job Job, it standItem, f *format, withBases bool) *today {
	b := &today{of: it.of}
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
		b.rows = append(b.rows, todayRow{label: w.T("stands.meter"), text: w.T("difference.off"), kind: "target"})
		return b
	}
	b.rows = append(b.rows, todayRow{label: w.T("stands.meter"), text: job.target(n.Targets[0]), kind: "target"})
	l := it.light
	switch dial := dialText(job, it.index, 0); {
	case dial != "":
		b.rows = append(b.rows, todayRow{label: w.T("stands.dial"), text: dial, kind: "dial"})
	case l.Dimmer != nil:
		b.rows = append(b.rows, todayRow{label: w.T("stands.dimmer"), text: trimFloat(*l.Dimmer) + " %", kind: "dial"})
	case l.Source == exposure.Flash || l.Source == "" || l.Source == exposure.Continuous:
		b.rows = append(b.rows, todayRow{label: w.T("stands.dial"), kind: "dial", blank: true})
	}
	if t := otherBases(job, it, f); withBases && !t.empty() {
		b.bases = t
	}
	return b
}

func (b *today) empty() bool { return len(b.rows) == 0 }

func (b *today) stretches() bool { return false }

const (
	todayGap = Um(4200) // between the figures, and above the first
	labelGap = Um(1500)
)

func (b *today) headStyle() style { return style{cap: capUse, bold: true, kind: "head", used: true} }

func (b *today) labelStyle() style { return style{cap: capUse, kind: "head", used: true} }

func (b *today) farStyle(kind string) style {
	return style{cap: capFar, bold: true, kind: kind, used: true}
}

// column is the width of the labels before the figures.
func (b *today) column() Um {
	var w Um
	for _, r := range b.rows {
		w = max(w, width(r.label, b.labelStyle()))
	}
	return w + labelGap
}

// lines breaks a figure between its words where it is wider than its room.
func (r todayRow) lines(st style, w Um) []string {
	var out []string
	for _, word := range strings.Fields(r.text) {
		if n := len(out); n > 0 && width(out[n-1]+" "+word, st) <= w {
			out[n-1] += " " + word
		} else {
			out = append(out, word)
		}
	}
	if r.blank {
		return []string{""}
	}
	return out
}

func (b *today) least(w Um) Um {
	if b.empty() {
		return 0
	}
	h := b.headHeight(w) + b.figuresHeight(w)
	if x := b.beside(w); x > 0 {
		return max(h, b.headHeight(w)+b.bases.least(w-x)+1200)
	}
	if b.bases != nil {
		h += 1200 + b.bases.least(w)
	}
	return h
}

// headHeight is what stands over the figures; the gap over the first of them is
// wide enough to close up a little.
func (b *today) headHeight(w Um) Um {
	return Um(len(wrap(b.head, b.headStyle(), w)))*pitch(capUse) + 1200
}

func (b *today) figuresHeight(w Um) Um {
	h := Um(1200 - 1400)
	for _, r := range b.rows {
		h += Um(len(r.lines(b.farStyle(r.kind), w-b.column()))) * (capFar + todayGap)
	}
	return h
}

// beside is where the table of the other bases begins beside the figures, or 0
// where it has no room there.
func (b *today) beside(w Um) Um {
	if b.bases == nil {
		return 0
	}
	var wide Um
	for _, r := range b.rows {
		for _, s := range r.lines(b.farStyle(r.kind), w-b.column()) {
			wide = max(wide, width(s, b.farStyle(r.kind)))
		}
		if r.blank {
			wide = max(wide, Mm(60))
		}
	}
	x := b.column() + wide + Mm(5)
	if w-x < b.bases.needs() {
		return 0
	}
	return x
}

func (b *today) draw(p *pen, r Rect) {
	p.of = b.of
	y := r.Y
	p.polyline("rule", lineOutline, nil, Point{r.X, y}, Point{r.right(), y})
	y += 1200
	for _, s := range wrap(b.head, b.headStyle(), r.W) {
		p.text(r.X, y+capUse, s, b.headStyle())
		y += pitch(capUse)
	}
	if x := b.beside(r.W); x > 0 {
		b.bases.draw(p, Rect{r.X + x, y + 1200, r.W - x, r.H})
	} else if b.bases != nil {
		b.bases.draw(p, Rect{r.X, y + b.figuresHeight(r.W) + 1200, r.W, r.H})
	}
	p.of = b.of
	y -= 1400
	col := b.column()
	for _, row := range b.rows {
		st := b.farStyle(row.kind)
		for i, s := range row.lines(st, r.W-col) {
			y += capFar + todayGap
			if i == 0 {
				p.text(r.X, y, row.label, b.labelStyle())
			}
			p.text(r.X+col, y, s, st)
			if row.blank {
				p.polyline("blank", lineThin, nil, Point{r.X + col, y}, Point{r.X + col + min(r.W-col, Mm(60)), y})
			}
		}
	}
	p.of = ""
}

// otherBases is the target and the dial at every other base, small.
func otherBases(job Job, it standItem, f *format) *table {
	st := style{cap: Mm(f.Type.Text), kind: "figure", used: true}
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
			one := st
			one.kind = kind
			one.bold = kind == "target"
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

// facts is lines that each begin with a word in bold.
type facts struct {
	*paragraphs
	job Job
	of  string
}

func newFacts(job Job, it standItem, f *format) facts {
	b := textBlock(job, f)
	b.more = ""
	return facts{b, job, it.of}
}

func (b facts) put(key, text string) {
	if text != "" {
		b.paras = append(b.paras, para{lead: b.job.Words.T("stands." + key), text: text, of: b.of})
	}
}

// standPlace is where an item stands and which way it looks.
func standPlace(job Job, it standItem, f *format) *paragraphs {
	b := newFacts(job, it, f)
	b.title = job.Words.T("stands.left")
	b.small = style{cap: capUse, kind: "head", used: true}
	put, w := b.put, job.Words
	if g := it.grip; g != nil {
		put("size", gripText(g, w, job.Setup.Units))
	}
	p := it.place()
	put("from-mark", standMeasure(job, p))
	if p != nil && p.Distance() >= 0.005 {
		put("clock", w.T("stands.clock-words", "clock", clockText(p), "angle", standAngle(job, p)))
	}
	put("face", faceTape(job, p))
	put("height", standHeight(job, p))
	if it.light != nil {
		put("aim", standAim(job, it))
	}
	return b.paragraphs
}

// standAim is what a light is aimed at, with its feathering and its tilt.
func standAim(job Job, it standItem) string {
	w := job.Words
	aim := aimText(it.light, w)
	if it.index >= len(job.Numbers.Lights) {
		return aim
	}
	n := job.Numbers.Lights[it.index]
	if t := n.TiltDeg; t != nil {
		switch deg := whole(math.Abs(*t)); {
		case deg == "0":
			aim += "; " + w.T("stands.level")
		case *t > 0:
			aim += "; " + w.T("stands.up", "deg", deg)
		default:
			aim += "; " + w.T("stands.down", "deg", deg)
		}
	}
	return aim
}

// standSetting is what an item is made up of and how it is set.
func standSetting(job Job, it standItem, f *format) *paragraphs {
	b := newFacts(job, it, f)
	put, w := b.put, job.Words
	if g := it.grip; g != nil {
		put("stand", standWords(job, g.Stand))
		put("look-for", g.LookFor)
		b.wired(g.Trigger, "", g.Mark)
		return b.paragraphs
	}
	l := it.light
	var n exposure.LightOut
	if it.index < len(job.Numbers.Lights) {
		n = job.Numbers.Lights[it.index]
	}
	put("modifier", modifierText(l, w))
	put("metering", standMeter(job, l))
	put("look-for", l.LookFor)
	if h := l.Head; h != nil {
		put("head", strings.TrimSpace(h.Name+" "+kindUnless(h.Kind, h.Name)))
	}
	put("stand", standWords(job, l.Stand))
	if len(n.Hold) > 0 && n.Hold[0].ShutterS != nil {
		put("shutter", w.T("stands.holds", "time", timeText(*n.Hold[0].ShutterS)))
	}
	if d := n.DriftM; d.Further != nil && d.Closer != nil {
		put("drift", w.T("stands.drift-words", "closer", smallLength(*d.Closer, job.Setup.Units), "further", smallLength(*d.Further, job.Setup.Units)))
	} else if d.Further != nil {
		put("drift", w.T("stands.drift-further", "further", smallLength(*d.Further, job.Setup.Units)))
	}
	if u := l.Pack; u != nil && u.Outlet != "" {
		put("pack", w.T("stands.outlet", "pack", u.Pack.Name, "outlet", u.Outlet))
	} else if u != nil {
		put("pack", u.Pack.Name)
	}
	b.wired(l.Trigger, l.Circuit, l.Mark)
	return b.paragraphs
}

// wired is a light's trigger, circuit and floor mark on one line.
func (b facts) wired(trigger, circuit, mark string) {
	var parts []string
	first := ""
	for _, x := range []struct{ key, text string }{{"trigger", trigger}, {"circuit", circuit}, {"mark", mark}} {
		switch {
		case x.text == "":
		case first == "":
			first = x.key
			parts = append(parts, x.text)
		default:
			parts = append(parts, b.job.Words.T("stands.and-"+x.key, "text", x.text))
		}
	}
	if len(parts) > 0 {
		b.put(first, phrases(parts))
	}
}

// kindUnless is a head's kind where its name does not say it.
func kindUnless(kind, name string) string {
	if strings.Contains(strings.ToLower(name), strings.ToLower(kind)) {
		return ""
	}
	return kind
}

// standMeasure is a place by two tapes square to each other, with their units.
func standMeasure(job Job, p *setup.Place) string {
	w, u := job.Words, job.Setup.Units
	if p == nil {
		return w.T("stands.blank")
	}
	if p.Distance() < 0.005 {
		return w.T("place.mark")
	}
	var parts []string
	if v := math.Abs(p.Front); v >= 0.005 {
		key := "stands.front"
		if p.Front < 0 {
			key = "stands.behind"
		}
		parts = append(parts, w.T(key, "distance", setup.FormatLength(v, u)))
	}
	if v := math.Abs(p.Right); v >= 0.005 {
		key := "stands.to-right"
		if p.Right < 0 {
			key = "stands.to-left"
		}
		parts = append(parts, w.T(key, "distance", setup.FormatLength(v, u)))
	}
	return strings.Join(parts, ", ")
}

// standAngle is the angle from the camera's axis and the tape along the floor.
func standAngle(job Job, p *setup.Place) string {
	w := job.Words
	d := setup.FormatLength(p.Distance(), job.Setup.Units)
	switch deg, side := p.Angle(); {
	case side == "" && deg < 90:
		return w.T("place.front", "distance", d)
	case side == "":
		return w.T("place.behind", "distance", d)
	default:
		return w.T("place.angle", "deg", whole(deg), "side", w.T("side."+side), "distance", d)
	}
}

// faceTape is the straight tape from the face to the centre of what shines.
func faceTape(job Job, p *setup.Place) string {
	if p == nil || p.Height == nil {
		return ""
	}
	return setup.FormatLength(math.Hypot(p.Distance(), *p.Height-job.Setup.Subject.Face), job.Setup.Units)
}

func standHeight(job Job, p *setup.Place) string {
	w, u := job.Words, job.Setup.Units
	switch {
	case p == nil || p.Height == nil:
		return w.T("stands.blank")
	case p.Lower == nil:
		return w.T("stands.centre", "centre", setup.FormatLength(*p.Height, u))
	}
	return w.T("stands.edge-centre", "edge", setup.FormatLength(*p.Lower, u), "centre", setup.FormatLength(*p.Height, u))
}

// standMeter is where the meter is held and which way, in full.
func standMeter(job Job, l *setup.Light) string {
	w, m := job.Words, l.Meter
	at := m.At
	if at == "" {
		at = "face"
	}
	if l.Source == exposure.Bounce {
		lit := l.LitBy
		if k := job.Setup.Key(); lit == "" || k != nil && k.Name == lit {
			lit = w.T("stands.the-key")
		}
		return w.T("stands.meter-bounce", "at", at, "lit", lit)
	}
	dome := w.T("stands.dome-out")
	if m.Dome == "in" {
		dome = w.T("meter.dome-in")
	}
	toward := m.Toward
	if toward == "" || toward == "light" {
		toward = w.T("stands.this-light")
	}
	return w.T("stands.meter-at", "at", at, "dome", dome, "toward", toward)
}

// standWords is what an item hangs on.
func standWords(job Job, s *setup.Stand) string {
	if s == nil {
		return ""
	}
	w, u := job.Words, job.Setup.Units
	var parts []string
	if s.Name != "" && !strings.EqualFold(s.Name, s.Kind) {
		parts = append(parts, s.Name)
	}
	if s.Kind != "" && !strings.Contains(s.Name, s.Kind) {
		parts = append(parts, w.T("stands.kind-"+s.Kind))
	}
	if s.Base != nil {
		parts = append(parts, w.T("stands.column", "place", standMeasure(job, s.Base)))
	}
	for _, x := range []struct {
		key string
		v   *float64
	}{{"stands.reach", s.Reach}, {"stands.arm-behind", s.Behind}} {
		if x.v != nil {
			parts = append(parts, w.T(x.key, "length", setup.FormatLength(*x.v, u)))
		}
	}
	for _, x := range []struct {
		key string
		v   *float64
	}{{"stands.counterweight", s.Counterweight}, {"stands.bag", s.Bag}} {
		if x.v != nil {
			parts = append(parts, w.T(x.key, "mass", trimFloat(math.Round(*x.v*10)/10)))
		}
	}
	return strings.Join(parts, ", ")
}

// standNote is the file's own note on an item.
func standNote(job Job, it standItem, f *format) *paragraphs {
	b := textBlock(job, f)
	note := ""
	if it.light != nil {
		note = it.light.Note
	} else {
		note = it.grip.Note
	}
	for i, line := range strings.Split(strings.TrimSpace(note), "\n") {
		if line = strings.TrimSpace(line); line == "" {
			continue
		}
		p := para{text: line, of: it.of}
		if i == 0 {
			p.lead = job.Words.T("stands.note")
		}
		b.paras = append(b.paras, p)
	}
	return b
}
