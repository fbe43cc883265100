package layout

import (
	"strings"

	"stopleaf/layout/text"
)

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

// pitch is that of the paragraph's tallest line in a style.
func (p para) pitch(st style) Um { return max(pitchOf(p.lead, st.cap), pitchOf(p.text, st.cap)) }

// linePitch is how far below the line before it a line stands: further where it
// has letters taller than capitals.
func (b *paragraphs) linePitch(l line) Um {
	return max(pitchOf(l.lead, b.st.cap), pitchOf(l.text, b.st.cap))
}

// height is what lines take.
func (b *paragraphs) height(lines []line) (h Um) {
	for _, l := range lines {
		h += b.linePitch(l)
	}
	return h
}

func (b *paragraphs) titleHeight(w Um) Um {
	if b.title == "" {
		return 0
	}
	return pitch(b.small.cap)*Um(len(b.titleLines(w))) + 300
}

func (b *paragraphs) titleLines(w Um) []string {
	st := b.small
	st.bold = true
	return wrap(b.title, st, w)
}

// line is one line of a paragraph: a bold lead, or words, or both.
type line struct{ lead, text string }

// lines breaks one paragraph. The lead stands before the words on the first
// line, or on lines of its own where it leaves them less than half the width.
func (b *paragraphs) lines(p para, w Um) []line {
	bold := b.st
	bold.bold = true
	var out []line
	pad := width(p.lead, bold) + width(" ", b.st)
	switch {
	case p.lead == "":
		for _, s := range wrap(p.text, b.st, w) {
			out = append(out, line{"", s})
		}
	case pad > w/2:
		for _, s := range wrap(p.lead, bold, w) {
			out = append(out, line{s, ""})
		}
		for _, s := range wrap(p.text, b.st, w) {
			out = append(out, line{"", s})
		}
	default:
		first, rest := b.firstLine(p.text, w-pad)
		out = append(out, line{p.lead, first})
		if rest != "" {
			for _, s := range wrap(rest, b.st, w) {
				out = append(out, line{"", s})
			}
		}
	}
	return out
}

// firstLine takes as many whole words of a text as a width holds, perhaps none.
func (b *paragraphs) firstLine(s string, w Um) (first, rest string) {
	s = keepFigures(strings.Join(strings.Fields(s), " "))
	end, units := 0, int64(0) // of the words that fit
	for end < len(s) {
		next := len(s)
		if i := strings.IndexByte(s[end+1:], ' '); i >= 0 {
			next = end + 1 + i
		}
		units += text.Units(s[end:next], b.st.bold)
		if Um(text.FromUnits(units, int64(b.st.cap))) > w {
			break
		}
		end = next
	}
	whole := func(s string) string { return strings.ReplaceAll(strings.TrimPrefix(s, " "), noBreak, " ") }
	return whole(s[:end]), whole(s[end:])
}

func (b *paragraphs) least(w Um) Um {
	if len(b.paras) == 0 {
		return 0
	}
	h := b.titleHeight(w) - paraGap
	for _, p := range b.paras {
		h += b.height(b.lines(p, w)) + paraGap
	}
	return h
}

func (b *paragraphs) split(w, h Um) (head, rest block) {
	used := b.titleHeight(w) - paraGap
	n := 0
	for _, p := range b.paras {
		ph := b.height(b.lines(p, w)) + paraGap
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
		fit := 0
		for fit < len(lines) && b.titleHeight(w)+b.height(lines[:fit+1]) <= h {
			fit++
		}
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

// join puts the words of lines together again; a word that was broken between
// lines stays broken.
func join(lines []line) string {
	var words []string
	for _, l := range lines {
		if l.text != "" {
			words = append(words, l.text)
		}
	}
	return strings.Join(words, " ")
}

func (b *paragraphs) draw(p *pen, r Rect) {
	y := r.Y
	if b.title != "" {
		st := b.small
		st.bold = true
		for i, s := range b.titleLines(r.W) {
			p.text(r.X, y+st.cap+Um(i)*pitch(st.cap), s, st)
		}
		y += b.titleHeight(r.W)
	}
	bold := b.st
	bold.bold = true
	for _, q := range b.paras {
		p.of = q.of
		for _, s := range b.lines(q, r.W) {
			y += b.linePitch(s)
			x := r.X
			base := y - b.st.cap/4
			if s.lead != "" {
				p.text(x, base, s.lead, bold)
				x += width(s.lead, bold) + width(" ", b.st)
			}
			p.text(x, base, s.text, b.st)
		}
		y += paraGap
	}
	p.of = ""
}
