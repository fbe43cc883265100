package layout

import "slices"

// flowLeast is the least height in which a row of columns begins on a side that
// has something on it already.
const flowLeast = Um(22000)

// divide gives what of a box fits into a height, and what is left of it: a
// column goes on part by part, and of a row each column by itself. ok is false
// where a part that cannot be divided does not fit.
func (b *box) divide(w, h Um) (head, rest box, ok bool) {
	if b.least(w) <= h {
		return *b, b.emptied(), true
	}
	if b.block != nil {
		s, can := b.block.(splitter)
		if !can {
			return box{}, box{}, false
		}
		x, y := s.split(w, h)
		if x == nil {
			return b.emptied(), *b, true
		}
		head, rest = *b, b.emptied()
		head.block, head.known = x, map[Um]Um{}
		if y != nil {
			rest = *b
			rest.block, rest.known = y, map[Um]Um{}
		}
		return head, rest, true
	}
	head, rest = *b, *b
	head.parts, rest.parts = nil, nil
	if b.across {
		for i, pw := range b.widths(w) {
			if pw == 0 {
				continue
			}
			x, y, ok := b.parts[i].divide(pw, h)
			if !ok {
				return box{}, box{}, false
			}
			head.parts, rest.parts = append(head.parts, x), append(rest.parts, y)
		}
		return head, rest, !head.empty()
	}
	for i := range b.parts {
		p := &b.parts[i]
		if p.empty() {
			continue
		}
		used := head.least(w)
		if used > 0 {
			used += b.gap
		}
		if used+p.least(w) <= h {
			head.parts = append(head.parts, *p)
			continue
		}
		x, y, ok := p.divide(w, h-used)
		if !ok {
			x, y = p.emptied(), *p
		}
		if !x.empty() {
			head.parts = append(head.parts, x)
		}
		if !y.empty() {
			rest.parts = append(rest.parts, y)
		}
		rest.parts = append(rest.parts, slices.Clone(b.parts[i+1:])...)
		break
	}
	return head, rest, true
}

// emptied is a box in the same place that says nothing.
func (b *box) emptied() box {
	return box{name: b.name, width: b.width, share: b.share, gap: b.gap, across: true}
}
