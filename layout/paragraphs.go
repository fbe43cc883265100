package layout

// paragraphs is running text under a heading: cautions, notes, the camera's
// line. Each paragraph may start with a bold word. It splits between
// paragraphs.
type paragraphs struct {
	title string
	paras []para
	st    style
	small style  // the heading's
	more  string // said after the title when rest
	rest  bool   // this is what a split left
}

type para struct {
	lead string // set bold, "3 Hair"
	text string
	of   string
}

const paraGap = Um(700)

func (b *paragraphs) empty() bool { return len(b.paras) == 0 }

func (b *paragraphs) stretches() bool { return false }

func (b *paragraphs) titleHeight() Um {
	if b.title == "" {
		return 0
	}
	return pitch(b.small.cap) + 300
}

// lines breaks one paragraph; the first line leaves room for its lead.
func (b *paragraphs) lines(p para, w Um) []string {
	if p.lead == "" {
		return wrap(p.text, b.st, w)
	}
	bold := b.st
	bold.bold = true
	// Blank the lead's width with no-break spaces so that the first line is
	// broken where it must be.
	pad := width(p.lead, bold) + width(" ", b.st)
	n := int(pad/width(" ", b.st)) + 1
	fill := make([]rune, n)
	for i := range fill {
		fill[i] = '\u00a0'
	}
	if p.text == "" {
		return []string{""}
	}
	ls := wrap(string(fill)+"x"+p.text, b.st, w)
	first := []rune(ls[0])
	if len(first) > n {
		ls[0] = string(first[n+1:])
	} else { // the lead fills the line
		ls = append([]string{""}, wrap(p.text, b.st, w)...)
	}
	return ls
}

func (b *paragraphs) least(w Um) Um {
	if len(b.paras) == 0 {
		return 0
	}
	h := b.titleHeight() - paraGap
	for _, p := range b.paras {
		h += Um(len(b.lines(p, w)))*pitch(b.st.cap) + paraGap
	}
	return h
}

func (b *paragraphs) split(w, h Um) (head, rest block) {
	used := b.titleHeight() - paraGap
	n := 0
	for _, p := range b.paras {
		ph := Um(len(b.lines(p, w)))*pitch(b.st.cap) + paraGap
		if used+ph > h {
			break
		}
		used += ph
		n++
	}
	if n == len(b.paras) {
		return b, nil
	}
	x, y := *b, *b
	x.paras, y.paras = b.paras[:n], b.paras[n:]
	if b.more != "" && y.title != "" && !b.rest {
		y.title, y.rest = y.title+" "+b.more, true
	}
	if n == 0 {
		// One paragraph higher than the page is cut between its lines.
		lines := b.lines(b.paras[0], w)
		fit := int((h - b.titleHeight()) / pitch(b.st.cap))
		if fit < 4 || fit >= len(lines) {
			return nil, b
		}
		first, second := b.paras[0], b.paras[0]
		first.text, second.text, second.lead = join(lines[:fit]), join(lines[fit:]), ""
		x.paras = []para{first}
		y.paras = append([]para{second}, b.paras[1:]...)
	}
	return &x, &y
}

func join(lines []string) string {
	s := ""
	for i, l := range lines {
		if i > 0 && l != "" && s != "" && s[len(s)-1] != ' ' {
			s += " "
		}
		s += l
	}
	return s
}

func (b *paragraphs) draw(p *pen, r Rect) {
	y := r.Y
	if b.title != "" {
		st := b.small
		st.bold = true
		p.text(r.X, y+st.cap, b.title, st)
		y += b.titleHeight()
	}
	bold := b.st
	bold.bold = true
	for _, q := range b.paras {
		p.of = q.of
		for i, s := range b.lines(q, r.W) {
			y += pitch(b.st.cap)
			x := r.X
			base := y - (pitch(b.st.cap)-b.st.cap)/2
			if i == 0 && q.lead != "" {
				p.text(x, base, q.lead, bold)
				x += width(q.lead, bold) + width(" ", b.st)
			}
			p.text(x, base, s, b.st)
		}
		y += paraGap
	}
	p.of = ""
}
