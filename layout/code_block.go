package layout

import (
	"strconv"
	"strings"

	"stopleaf/recovery/symbol"
	"stopleaf/setup"
)

// defaultCodes is how wide one code may be unless a format says otherwise, in
// millimetres: 104 modules and the quiet zone.
const defaultCodes = 45.0

// Measures of the block of codes.
const (
	codeGap   = Um(1500) // between codes
	codeClear = Um(400)  // between a code and its number
	codeWords = Um(34000)
)

// codeBlock is the codes that hold a setup, and in small type what they are.
type codeBlock struct {
	job     Job
	side    Um // no code is wider
	without setup.Without
	from    int // the first of them that stands here
	to      int // the one after the last; 0 is all of them
}

// codeSides are the sides of a code that are tried where more codes than a side has room
// for would be needed, up to the largest that there is.
var codeSides = []Um{55000, 65000, codeModule * (177 + 2*symbol.Quiet)}

// newCodes is the block of codes of a setup; nil where pages do not give it back.
func newCodes(job Job, f *format, without setup.Without) *codeBlock {
	if job.Source == nil {
		return nil
	}
	b := &codeBlock{job: job, side: Mm(f.Codes), without: without}
	go b.set() // drawn while the other blocks are measured
	return b
}

func (b *codeBlock) set() *codeSet { return b.job.Source.codes(b.side, b.without) }

// marks are the codes that stand here.
func (b *codeBlock) marks() []*symbol.Matrix {
	all := b.set().marks
	if b.to == 0 {
		return all
	}
	return all[b.from:b.to]
}

func (b *codeBlock) empty() bool { return false }

func (b *codeBlock) stretches() bool { return false }

// across is how many codes stand side by side in a width, and how wide each is.
func (b *codeBlock) across(w Um) (n int, wide Um) {
	for _, m := range b.marks() {
		wide = max(wide, codeSide(m))
	}
	if wide == 0 {
		return 1, 0
	}
	return max(1, min(len(b.marks()), int((w+codeGap)/(wide+codeGap)))), wide
}

// wide is the width that the block takes of a width.
func (b *codeBlock) wide(w Um) Um {
	n, wide := b.across(w)
	return min(w, max(Um(n)*(wide+codeGap)-codeGap, codeWords))
}

func (b *codeBlock) style() style { return style{cap: capCaption, kind: "caption"} }

// words are the lines under the codes in a width: code, date and fingerprint of what
// they hold, what they are, and what is not in them.
func (b *codeBlock) words(w Um) []string {
	set, t, s := b.set(), b.job.Words, b.job.Setup
	said := []string{s.Code}
	if s.Made != "" {
		said = append(said, s.Made)
	}
	list := []string{strings.Join(append(said, set.print.String()), "  ")}
	switch {
	case set.err != nil:
		list = append(list, t.T("recovery.none"))
	case len(set.marks) > 1:
		list = append(list, t.T("recovery.several", "n", strconv.Itoa(len(set.marks))))
	default:
		list = append(list, t.T("recovery.one"))
	}
	var out []string
	if b.without&setup.Notes != 0 {
		out = append(out, t.T("recovery.notes"))
	}
	for _, p := range s.Photos {
		out = append(out, p.File)
	}
	if len(out) > 0 && set.err == nil {
		list = append(list, t.T("recovery.without", "what", strings.Join(out, ", ")))
	}
	var lines []string
	for _, l := range list {
		lines = append(lines, wrap(l, b.style(), w)...)
	}
	return lines
}

// rowHeight is that of a row of codes: each of several has its number under it.
func (b *codeBlock) rowHeight(wide Um) Um {
	if len(b.set().marks) > 1 {
		return wide + codeClear + pitch(capCaption)
	}
	return wide
}

func (b *codeBlock) least(w Um) Um {
	n, wide := b.across(w)
	rows := Um((len(b.marks()) + n - 1) / n)
	return rows*(b.rowHeight(wide)+codeGap) + Um(len(b.words(b.wide(w))))*pitch(capCaption)
}

// draw stands them at the left of a box that is as wide as the block.
func (b *codeBlock) draw(p *pen, r Rect) {
	n, wide := b.across(r.W)
	marks, all := b.marks(), len(b.set().marks)
	y := r.Y
	for i, m := range marks {
		if i > 0 && i%n == 0 {
			y += b.rowHeight(wide) + codeGap
		}
		x := r.X + Um(i%n)*(wide+codeGap)
		side := codeSide(m)
		alt := b.job.Words.T("recovery.alt", "code", b.job.Setup.Code)
		if all > 1 {
			of := b.job.Words.T("recovery.part", "n", strconv.Itoa(b.from+i+1), "m", strconv.Itoa(all))
			alt += " " + of
			p.textMid(x+wide/2, y+wide+codeClear+capCaption, of, b.style())
		}
		p.add(&Code{Rect: Rect{x + (wide-side)/2, y + wide - side, side, side}, Modules: m, Alt: alt})
	}
	if len(marks) > 0 {
		y += b.rowHeight(wide) + codeGap
	}
	for _, s := range b.words(b.wide(r.W)) {
		p.text(r.X, y+capCaption, s, b.style())
		y += pitch(capCaption)
	}
}
