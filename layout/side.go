package layout

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// side is one side of a card before it is drawn.
type side struct {
	root  box
	bears bool       // the codes that hold the setup stand on it
	alone *codeBlock // codes that have it to themselves
	names []string   // the blocks that came over from the side before
}

// sides fits the blocks to as many sides as they need.
func (b *builder) sides() ([]side, error) {
	b.settleCodes()
	inner := b.inner()
	first, moved, err := b.firstSide(inner)
	if err != nil {
		return nil, err
	}
	sides := []side{first}
	for len(moved) > 0 || b.owed() {
		if len(sides) == 999 {
			return nil, fmt.Errorf("%s: more than 999 sides on %s; take a larger paper", b.job.Setup.File, b.f.Name)
		}
		var s side
		s, moved = b.stacked(moved, inner, false, b.bears(len(sides)))
		b.borne = b.borne || s.bears
		sides = append(sides, s)
	}
	if err := b.fill(&sides[len(sides)-1], inner); err != nil {
		return nil, err
	}
	for _, codes := range b.dealt {
		sides = append(sides, side{alone: codes, names: []string{"recovery"}})
	}
	return sides, nil
}

// pages draws the sides.
func (b *builder) pages(sides []side) []Page {
	pages := make([]Page, len(sides))
	var wg sync.WaitGroup
	for i := range sides { // no block is on two sides, so they can be drawn at once
		wg.Go(func() { pages[i] = b.page(sides, i, b.inner()) })
	}
	wg.Wait()
	return pages
}

// fill adds to the last side what goes there only if there is room.
func (b *builder) fill(last *side, inner Rect) error {
	for _, n := range b.f.Filler {
		x, err := b.build(n)
		if err != nil {
			return err
		}
		if x.empty() || last.root.has(x.name) || last.root.across {
			continue
		}
		try := last.root
		try.parts = append(slices.Clone(try.parts), x)
		if b.fits(&try, inner.W, b.room(inner, "", false), last.bears) {
			last.root = try
		}
	}
	return nil
}

// firstSide takes the first arrangement on which everything fits, once blocks
// have left it in its own order; the last one is taken as it then is. What it
// does not hold goes to further sides, as the format stacks it there.
func (b *builder) firstSide(inner Rect) (side, []box, error) {
	if b.bears(0) { // unless they would take the place of what must be there
		s, next, err := b.firstSideWith(inner, true)
		if err == nil && s.bears {
			b.borne = true
			return s, next, nil
		}
	}
	return b.firstSideWith(inner, false)
}

func (b *builder) firstSideWith(inner Rect, bears bool) (side, []box, error) {
	for i, n := range b.f.Sides {
		root, err := b.build(n)
		if err != nil {
			return side{}, nil, err
		}
		next, err := b.rest(&root, n)
		if err != nil {
			return side{}, nil, err
		}
		fits := func() bool {
			return b.fits(&root, inner.W, b.room(inner, b.onNext(names(next)), true), bears) && !b.tooNarrow(&root, inner.W)
		}
		fit := fits()
		for i := 0; !fit && i < len(n.Give); i++ {
			smaller, gone := root.without(n.Give[i])
			if gone == nil || gone.empty() {
				continue
			}
			root = smaller
			if next, err = b.rest(&root, n); err != nil {
				return side{}, nil, err
			}
			fit = fits()
		}
		if fit {
			return side{root: root, bears: bears}, next, nil
		}
		if i == len(b.f.Sides)-1 && bears {
			break
		}
		if i == len(b.f.Sides)-1 && b.f.own {
			return side{}, nil, b.noCautions(&root, inner, b.room(inner, b.onNext(names(next)), true))
		}
		if i == len(b.f.Sides)-1 { // not even that: all blocks one below the other
			all := leaves(root)
			slices.SortStableFunc(all, func(x, y box) int { return turnsOver(x.name) - turnsOver(y.name) })
			s, left := b.stacked(append(all, next...), inner, true, false)
			s.names = nil
			return s, left, nil
		}
	}
	if bears {
		return side{}, nil, nil
	}
	return side{}, nil, fmt.Errorf("format %s has no sides", b.f.Name)
}

// neverOver are the blocks that stay on a first side whatever else must leave
// it, first those that stay before the others.
var neverOver = []string{"stand-head", "stand-today", "stand-bases", "cautions"}

// turnsOver orders blocks by how readily they turn over.
func turnsOver(name string) int {
	if i := slices.Index(neverOver, name); i >= 0 {
		return i
	}
	return len(neverOver)
}

// leaves are the blocks in a box, in reading order.
func leaves(b box) []box {
	if b.block != nil {
		return []box{b}
	}
	var out []box
	for _, p := range b.parts {
		out = append(out, leaves(p)...)
	}
	return out
}

// rest is what a first side does not hold, as the format stacks it on further
// sides; the cautions too, where the side has only their short form.
func (b *builder) rest(first *box, n node) ([]box, error) {
	short := b.shortened(n)
	var out []box
	for _, m := range b.f.Next {
		if m.auto && first.covered(m) {
			continue
		}
		m, some := m.prune(func(name string) bool {
			if name == "plan" && nothingPlaced(b.job) { // the table of places shows the blanks
				return false
			}
			return name == "cautions" && short || !first.has(name)
		})
		if !some {
			continue
		}
		x, err := b.build(m)
		if err != nil {
			return nil, err
		}
		switch {
		case x.empty():
		case b.tooNarrow(&x, b.inner().W): // its blocks one below the other
			out = append(out, leaves(x)...)
		default:
			out = append(out, x)
		}
	}
	return out, nil
}

// shortened says whether an arrangement has the cautions in their short form
// and some note is longer than that.
func (b *builder) shortened(n node) bool {
	if n.Block == "cautions" && n.Short {
		for _, note := range b.job.Safety {
			if note.Short != "" && note.Short != note.Text {
				return true
			}
		}
	}
	for _, c := range append(slices.Clone(n.Across), n.Down...) {
		if b.shortened(c) {
			return true
		}
	}
	return false
}

// names are the names of all blocks in boxes that have something to say.
func names(boxes []box) []string {
	var out []string
	for i := range boxes {
		if b := &boxes[i]; b.block == nil {
			out = append(out, names(b.parts)...)
		} else if !b.empty() {
			out = append(out, b.name)
		}
	}
	return out
}

// onNext says which blocks stand on the next side.
func (b *builder) onNext(names []string) string {
	if len(names) == 0 {
		return ""
	}
	return b.job.Words.T("card.on-next", "blocks", b.called(names))
}

func (b *builder) called(names []string) string {
	var out []string
	for _, n := range names {
		if w := b.job.Words.T("block." + n); !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	return strings.Join(out, ", ")
}

// stacked is a side with as many of the moved blocks as fit, one below the
// other; one that is higher than a whole side is split.
func (b *builder) stacked(moved []box, inner Rect, first, bears bool) (side, []box) {
	if s, left, ok := b.stack(moved, inner, first, bears); ok {
		return s, left
	}
	s, left, _ := b.stack(moved, inner, first, false) // what comes next leaves the codes no room
	return s, left
}

// stack stacks with the codes, where nothing may be without them, or without; ok is
// false where they have no room beside the first of what moved.
func (b *builder) stack(moved []box, inner Rect, first, bears bool) (s side, left []box, ok bool) {
	root := box{gap: Mm(b.f.Gap)}
	var from []string
	all := moved
	for len(moved) > 0 {
		try := root
		try.parts = append(slices.Clone(root.parts), moved[0])
		room := b.room(inner, b.onNext(names(all)), first)
		if b.fits(&try, inner.W, room, bears) {
			root = try
			from = append(from, names(moved[:1])...)
			moved = moved[1:]
			continue
		}
		if bears {
			with, rest, ok := b.splitBeside(root, moved[0], inner.W, room)
			if !ok && len(root.parts) == 0 {
				if moved[0].block == nil {
					moved = append(leaves(moved[0]), moved[1:]...)
					continue
				}
				return side{}, nil, false
			}
			if ok {
				from = append(from, names([]box{moved[0]})...)
				root, moved = with, slices.Clone(moved)
				if moved = moved[1:]; rest != nil {
					moved = append([]box{*rest}, moved...)
				}
			}
			break
		}
		spare := room - root.least(inner.W)
		if len(root.parts) > 0 {
			spare -= root.gap
		}
		if moved[0].flow && (spare >= flowLeast || len(root.parts) == 0) {
			if head, rest, ok := moved[0].divide(inner.W, spare); ok && !head.empty() {
				root.parts = append(slices.Clone(root.parts), head)
				from = append(from, names([]box{head})...)
				moved = slices.Clone(moved)
				if moved[0] = rest; rest.empty() {
					moved = moved[1:]
				}
				break
			}
		}
		if moved[0].block == nil && len(root.parts) == 0 { // too high for any side: one below the other
			moved = append(leaves(moved[0]), moved[1:]...)
			continue
		}
		s, ok := moved[0].block.(splitter)
		if !ok && len(root.parts) == 0 { // nothing can be done but give it the side
			root, moved = try, moved[1:]
			break
		}
		if ok {
			head, rest := s.split(inner.W, spare)
			if c, ok := moved[0].block.(cutter); ok && head == nil && len(root.parts) == 0 {
				head, rest = c.cut(inner.W, spare)
			}
			if head != nil {
				m := moved[0]
				m.block, m.known = head, map[Um]Um{}
				root.parts = append(slices.Clone(root.parts), m)
				from = append(from, m.name)
				moved = slices.Clone(moved)
				if rest == nil {
					moved = moved[1:]
				} else {
					moved[0].block, moved[0].known = rest, map[Um]Um{}
				}
			} else if len(root.parts) == 0 {
				root, moved = try, moved[1:]
			}
		}
		break
	}
	return side{root: root, bears: bears, names: from}, moved, true
}

// page draws one side.
func (b *builder) page(sides []side, i int, inner Rect) Page {
	s := sides[i]
	more := ""
	if i+1 < len(sides) {
		more = b.onNext(sides[i+1].names)
	}
	pg := Page{W: Mm(b.f.Width), H: Mm(b.f.Height), Margin: Mm(b.f.Margin),
		Label: b.job.Setup.Code + "/" + strconv.Itoa(i+1),
		Title: b.job.Setup.Title,
		Desc:  b.job.Words.T(cmp.Or(b.doc, "card")+".page-desc", "title", b.job.Setup.Title, "n", strconv.Itoa(i+1), "m", strconv.Itoa(len(sides)))}
	title := &titleBlock{job: b.job, f: b.f, sheet: b.before + i + 1, of: max(b.total, len(sides)), more: more, frame: b.f.Frame, fields: b.fields(i == 0)}
	if !b.f.Frame {
		pg.Margin -= accentRoom
	}
	th := b.newTitle(more, i == 0).least(inner.W)
	var p *pen
	var body Rect
	for pass := 0; pass < 2; pass++ {
		p = &pen{}
		body = Rect{inner.X, inner.Y, inner.W, inner.H - th - Mm(b.f.Gap)}
		if h := b.headed(inner.W, i == 0); h > 0 {
			b.head.draw(p, Rect{body.X, body.Y, body.W, h - Mm(b.f.Gap)})
			body.Y, body.H = body.Y+h, body.H-h
		}
		b.drawBody(p, &s, body)
		title.scale, pg.ScaleDenominator = s.root.scale()
		// A scale longer than the strip kept room for may need another row.
		if h := title.least(inner.W); h > th {
			th = h
			continue
		}
		break
	}
	if b.f.Frame {
		m := Mm(b.f.Margin) + lineFrame/2
		p.rect("frame", lineFrame, nil, Rect{m, m, pg.W - 2*m, pg.H - 2*m})
	}
	at := Rect{inner.X, body.bottom() + Mm(b.f.Gap), inner.W, th}
	if b.f.Frame { // the strip meets the frame
		at = Rect{inner.X - Mm(1.5), body.bottom() + Mm(b.f.Gap) + Mm(1.5), inner.W + Mm(3), th}
	}
	title.draw(p, at)
	pg.Items = p.items
	return pg
}

// scale is the scale of the plan that was drawn in a box, or of its side view.
func (b *box) scale() (text string, den int) {
	if v, ok := b.block.(*viewBlock); ok && v.last.group != nil {
		return v.last.scale.text, v.last.scale.den
	}
	for i := range b.parts {
		if t, d := b.parts[i].scale(); t != "" {
			return t, d
		}
	}
	return "", 0
}
