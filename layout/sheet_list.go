package layout

import "strconv"

// checklist is a numbered list with a box to tick before each entry, under
// headings. It splits between entries; a heading stays with its first entry.
type checklist struct {
	title   string
	under   string // one line under the title, or ""
	more    string // said after the title when rest
	entries []entry
	st      style
	small   style
	rest    bool
}

type entry struct {
	head string // a heading over this entry, or ""
	n    int    // 0: the rest of an entry that was cut
	para para
}

// Measures of the list: the box, and where the words begin.
const (
	tickBox   = Um(3200)
	tickAt    = Um(7600) // the number stands before it
	listWords = Um(13000)
	entryGap  = Um(900)
	headGap   = Um(1200)
)

// newChecklist numbers steps and puts the name of each phase over its first.
func newChecklist(job Job, f *format, title, under string, steps []step) *checklist {
	b := &checklist{title: title, under: under, more: job.Words.T("table.continued"),
		st: style{cap: Mm(f.Type.Text), kind: "step", used: true}, small: style{cap: capUse, kind: "head", bold: true, used: true}}
	phase := ""
	for i, s := range steps {
		e := entry{n: i + 1, para: para{lead: s.lead, text: s.text, of: s.of}}
		if s.phase != phase {
			phase = s.phase
			e.head = sheetHead(job, "sheet.phase-"+phase)
		}
		b.entries = append(b.entries, e)
	}
	return b
}

func (b *checklist) empty() bool { return len(b.entries) == 0 }

func (b *checklist) stretches() bool { return false }

// words breaks entries into lines.
func (b *checklist) words() *paragraphs { return &paragraphs{st: b.st} }

// pitch is that of the tallest line.
func (b *checklist) pitch() Um {
	p := Um(0)
	for i := range b.entries {
		p = max(p, b.entries[i].para.pitch(b.st))
	}
	return p
}

func (b *checklist) titleHeight(w Um) Um {
	return pitch(capLarge)*Um(len(b.titleLines(w))) + Um(len(b.underLines(w)))*pitch(b.st.cap)
}

// titleStyle is that of the list's name.
var titleStyle = style{cap: capLarge, bold: true, kind: "head", used: true}

func (b *checklist) titleLines(w Um) []string {
	if b.title == "" { // it goes on from above
		return nil
	}
	s := b.title
	if b.rest {
		s += " " + b.more
	}
	return wrap(s, titleStyle, w)
}

func (b *checklist) underLines(w Um) []string {
	if b.under == "" || b.rest {
		return nil
	}
	return wrap(b.under, b.st, w)
}

// height is what one entry takes with its heading and the gap after it.
func (b *checklist) height(e entry, w, pitch Um) Um {
	h := max(Um(len(b.words().lines(e.para, w-listWords)))*pitch, tickBox) + entryGap
	if e.head != "" {
		h += headGap + Um(len(wrap(e.head, b.small, w)))*pitch + 500
	}
	return h
}

func (b *checklist) least(w Um) Um {
	if len(b.entries) == 0 {
		return 0
	}
	h, p := b.titleHeight(w), b.pitch()
	for _, e := range b.entries {
		h += b.height(e, w, p)
	}
	return h
}

func (b *checklist) split(w, h Um) (head, rest block) {
	used, p := b.titleHeight(w), b.pitch()
	n := 0
	for _, e := range b.entries {
		eh := b.height(e, w, p)
		if used+eh > h {
			break
		}
		used += eh
		n++
	}
	switch {
	case n == 0 || n < 3 && n < len(b.entries) && !b.rest: // a title with next to nothing under it
		return nil, b
	case n == len(b.entries):
		return b, nil
	}
	return b.parts(b.entries[:n], b.entries[n:])
}

func (b *checklist) parts(first, second []entry) (head, rest block) {
	x, y := *b, *b
	x.entries, y.entries, y.rest = first, second, true
	return &x, &y
}

// cut breaks an entry that is higher than a whole side between its lines.
func (b *checklist) cut(w, h Um) (head, rest block) {
	if x, y := b.split(w, h); x != nil {
		return x, y
	}
	e, p := b.entries[0], b.pitch()
	over := b.height(e, w, p) - Um(len(b.words().lines(e.para, w-listWords)))*p
	lines := b.words().lines(e.para, w-listWords)
	fit := int((h - b.titleHeight(w) - over) / p)
	if fit < 1 || fit >= len(lines) {
		if len(b.entries) > 1 && fit >= len(lines) {
			return b.parts(b.entries[:1], b.entries[1:])
		}
		return nil, b
	}
	first, second := e, entry{para: para{text: join(lines[fit:]), of: e.para.of}}
	first.para.text = join(lines[:fit])
	return b.parts([]entry{first}, append([]entry{second}, b.entries[1:]...))
}

func (b *checklist) draw(p *pen, r Rect) {
	y := r.Y
	lines := b.titleLines(r.W)
	for i, s := range lines {
		p.text(r.X, y+capLarge+Um(i)*pitch(capLarge), s, titleStyle)
	}
	for i, u := range b.underLines(r.W) {
		p.text(r.X, y+Um(len(lines))*pitch(capLarge)+Um(i)*pitch(b.st.cap)+b.st.cap, u, b.st)
	}
	y += b.titleHeight(r.W)
	words := b.words()
	pitch := b.pitch()
	bold := b.st
	bold.bold = true
	for _, e := range b.entries {
		if e.head != "" {
			y += headGap
			for _, s := range wrap(e.head, b.small, r.W) {
				p.text(r.X, y+b.small.cap, s, b.small)
				y += pitch
			}
			y += 500
		}
		p.of = e.para.of
		lines := words.lines(e.para, r.W-listWords)
		if e.n > 0 {
			p.rect("tick", lineThin, nil, Rect{r.X + tickAt, y + (max(pitch, tickBox)-tickBox)/2, tickBox, tickBox})
			p.textRight(r.X+tickAt-1300, y+(max(pitch, tickBox)+b.st.cap)/2, strconv.Itoa(e.n), style{cap: b.st.cap, kind: "number", used: true})
		}
		base := y + (max(pitch, tickBox)+b.st.cap)/2
		for _, l := range lines {
			x := r.X + listWords
			if l.lead != "" {
				p.text(x, base, l.lead, bold)
				x += width(l.lead, bold) + width(" ", b.st)
			}
			p.text(x, base, l.text, b.st)
			base += pitch
		}
		y += max(Um(len(lines))*pitch, tickBox) + entryGap
		p.of = ""
	}
}
