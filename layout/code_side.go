package layout

import "slices"

// A side that bears the codes has them at its lower right. The first blocks go across the
// whole side, the last few beside the codes where they can be as narrow.

// besideLeast is the least width of what stands beside the codes, and of any part of it.
const besideLeast = Um(38000)

// bearer says which sides bear the codes.
type bearer uint8

// Sides that bear them: all; the back, which is the second; the back where there is one;
// the front.
const (
	everySide bearer = iota
	backSide
	backIfAny
	frontSide
)

// bears says whether a side must bear the codes.
func (b *builder) bears(i int) bool {
	if b.codes == nil {
		return false
	}
	switch b.bearer {
	case everySide:
		return true
	case frontSide:
		return i == 0 || !b.borne
	}
	return i > 0 && !b.borne
}

// owed says whether the codes want a side of their own, since none bears them yet.
func (b *builder) owed() bool {
	return b.codes != nil && !b.borne && b.bearer != everySide && b.bearer != backIfAny
}

// settleCodes takes larger codes where those of the format do not go on one side. Those
// that would take too much of every side stand on the back alone, and those for which
// one side has no room on sides of their own.
func (b *builder) settleCodes() {
	if b.codes == nil {
		return
	}
	w, room := b.inner().W, b.whole()
	given := b.codes
	for i := 0; b.codes.set().err != nil || b.codes.least(w) > room; i++ {
		if i == len(codeSides) || codeSides[i] > w {
			b.dealt, b.codes = given.dealt(w, room), nil
			return
		}
		larger := *b.codes
		larger.side = max(larger.side, codeSides[i])
		b.codes = &larger
	}
	if b.bearer == everySide && b.codes.least(w) > room*2/5 {
		b.bearer = backSide
	}
}

// dealt are the codes of a setup by sides, as many on each as it has room for; none
// where a side has no room for one.
func (b *codeBlock) dealt(w, room Um) (out []*codeBlock) {
	all := len(b.set().marks)
	for from := 0; from < all; {
		next := *b
		next.from, next.to = from, from+1
		if next.least(w) > room {
			return nil
		}
		for next.to < all {
			more := next
			if more.to++; more.least(w) > room {
				break
			}
			next = more
		}
		out = append(out, &next)
		from = next.to
	}
	return out
}

// codeBox is the width and height of the codes, with the gap above or beside them.
func (b *builder) codeBox(w Um) (wide, high Um) {
	wide = b.codes.wide(w)
	return wide, b.codes.least(w)
}

// part is how a side that bears the codes is divided: what goes across it, and what
// stands beside the codes, which may be nothing.
// The first way that fits the room is taken, with as little beside the codes as may be;
// else the lowest.
func (b *builder) part(root *box, w, room Um) (upper, low box, h Um) {
	if i, ws := host(root, w); i >= 0 {
		upper, low, h = b.part(&root.parts[i], ws[i], room)
		for k, pw := range ws {
			if k != i && pw > 0 {
				h = max(h, root.parts[k].least(pw))
			}
		}
		return upper, low, h
	}
	wide, high := b.codeBox(w)
	h = -1
	gap := Mm(b.f.Gap)
	beside := w - wide - gap
	n := len(root.parts)
	if root.block != nil || root.across {
		n = 0
	}
	for k := 0; k <= n; k++ {
		first, last := *root, box{gap: root.gap}
		if k > 0 {
			first.parts, last.parts = root.parts[:n-k], root.parts[n-k:]
			if beside < besideLeast || cramped(&root.parts[n-k], beside) {
				break
			}
		}
		need := max(high, last.least(beside))
		if u := first.least(w); u > 0 {
			need += u + gap
		}
		if h < 0 || need < h {
			upper, low, h = first, last, need
		}
		if h <= room {
			break
		}
	}
	return upper, low, h
}

// host is the last column of a row, where that is a column with room for the codes; -1
// for none.
func host(root *box, w Um) (i int, ws []Um) {
	if root.block != nil || !root.across {
		return -1, nil
	}
	ws = root.widths(w)
	for i = len(ws) - 1; i >= 0 && ws[i] == 0; i-- {
	}
	if i < 0 || root.parts[i].block != nil || root.parts[i].across || ws[i] < 2*besideLeast {
		return -1, nil
	}
	return i, ws
}

// cramped says whether a box is too narrow for something in it to be read.
func cramped(b *box, w Um) bool {
	if b.empty() {
		return false
	}
	if b.block != nil {
		switch v := b.block.(type) {
		case *rulers:
			return w < Mm(100)
		case *fillIn: // it is written in
			return true
		case *lightsBlock:
			return w < besideLeast || !v.onePart(w)
		}
		return w < besideLeast || needed(b.block, w) > w
	}
	ws := b.widths(w)
	for i := range b.parts {
		pw := w
		if b.across {
			pw = ws[i]
		}
		if cramped(&b.parts[i], pw) {
			return true
		}
	}
	return false
}

// fits says whether blocks fit a side, with the codes where it bears them.
func (b *builder) fits(root *box, w, room Um, bears bool) bool {
	if !bears {
		return root.least(w) <= room
	}
	_, _, h := b.part(root, w, room)
	return h <= room
}

// splitBeside divides a block that does not fit a side that bears the codes: as much as
// goes above them, and then as much as goes beside.
func (b *builder) splitBeside(root box, next box, w, room Um) (with box, rest *box, ok bool) {
	if next.block == nil && !next.flow {
		return root, nil, false
	}
	wide, high := b.codeBox(w)
	gap := Mm(b.f.Gap)
	beside := w - wide - gap
	left := room - root.least(w) // below what is there
	if len(root.parts) > 0 {
		left -= gap
	}
	parts := slices.Clone(root.parts)
	take := func(w, h Um) bool {
		head, tail, done := next.divide(w, h)
		if !done || head.empty() || w == beside && cramped(&head, w) {
			return false
		}
		if ok {
			head = seamless(head, names(parts[len(parts)-1:]))
		}
		parts = append(parts, head)
		left -= head.least(w) + gap
		next = tail
		return true
	}
	if !next.flow || left-high-gap >= flowLeast || len(root.parts) == 0 {
		ok = take(w, left-high-gap)
	}
	_, table := next.block.(*lightsBlock) // which goes on with a head of its own
	if !next.empty() && !table && beside >= besideLeast && !cramped(&next, beside) && left >= high {
		ok = take(beside, left) || ok
	}
	root.parts = parts
	if !next.empty() {
		rest = &next
	}
	return root, rest, ok
}

// seamless is a box that goes on from the one above it on the same side: a list that
// began there is not named again.
func seamless(b box, above []string) box {
	b.parts = slices.Clone(b.parts)
	for i := range b.parts {
		b.parts[i] = seamless(b.parts[i], above)
	}
	if !slices.Contains(above, b.name) {
		return b
	}
	switch v := b.block.(type) {
	case *checklist:
		c := *v
		c.title, c.more, c.under = "", "", ""
		b.block, b.known = &c, map[Um]Um{}
	case *paragraphs:
		c := *v
		c.title = ""
		b.block, b.known = &c, map[Um]Um{}
	case *table:
		c := v.clone()
		c.title = ""
		b.block, b.known = c, map[Um]Um{}
	}
	return b
}

// drawBody draws the blocks of a side, and the codes where it bears them.
func (b *builder) drawBody(p *pen, s *side, r Rect) {
	switch {
	case s.alone != nil:
		b.drawCodes(p, s.alone, r)
	case s.bears:
		b.drawBearing(p, &s.root, r)
	default:
		s.root.draw(p, r)
	}
}

// drawBearing draws blocks with the codes at their lower right.
func (b *builder) drawBearing(p *pen, root *box, r Rect) {
	if i, ws := host(root, r.W); i >= 0 {
		x := r.X
		for k, w := range ws {
			switch at := (Rect{x, r.Y, w, r.H}); {
			case w == 0:
				continue
			case k == i:
				b.drawBearing(p, &root.parts[k], at)
			default:
				root.parts[k].draw(p, at)
			}
			x += w + root.gap
		}
		return
	}
	wide, high := b.codeBox(r.W)
	gap := Mm(b.f.Gap)
	upper, low, _ := b.part(root, r.W, r.H)
	beside := r.W - wide - gap
	top := r.Y
	if !upper.empty() {
		h := r.H - max(high, low.least(beside)) - gap
		if !upper.stretches() {
			h = min(h, upper.least(r.W))
		}
		upper.draw(p, Rect{r.X, r.Y, r.W, h})
		top += h + gap
	}
	if !low.empty() {
		low.draw(p, Rect{r.X, top, beside, r.bottom() - top})
	}
	b.drawCodes(p, b.codes, r)
}

// drawCodes puts codes into the lower right corner of a box.
func (b *builder) drawCodes(p *pen, codes *codeBlock, r Rect) {
	wide, high := codes.wide(r.W), codes.least(r.W)
	q := &pen{}
	codes.draw(q, Rect{r.right() - wide, r.bottom() - high, wide, high})
	p.add(&Group{ID: "recovery", Label: b.job.Words.T("recovery.one"), Items: q.items})
}
