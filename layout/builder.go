package layout

import (
	"fmt"
	"strings"

	"stopleaf/setup/grammar"
)

// builder makes the blocks of one document of one setup and fits them to its sides.
type builder struct {
	job  Job
	f    *format
	made map[string]box // blocks by what they show: arrangements share them

	doc    string                      // the document's name in the wording; "" is "card"
	own    func(n node) (block, error) // a document's own blocks, asked first; nil where it has none
	head   block                       // stands at the head of every further side; nil for none
	of     string                      // of a document of several things, the one that this is of; "" for the whole setup
	before int                         // sheets that come before the first side
	total  int                         // sheets in all; 0 for no more than the sides

	codes  *codeBlock   // that hold the setup; nil for none
	bearer bearer       // the sides that they stand on
	borne  bool         // they stand on one
	dealt  []*codeBlock // those that have sides of their own, one for each

	strips map[stripSide]Um // how high the rows of the title block are, so far
}

// stripSide is the first side or a further one, at a width.
type stripSide struct {
	first bool
	w     Um
}

// accentRoom is how far the accents on a first line's capitals may reach into
// the margin of a page without a frame.
const accentRoom = Um(700)

// inner is where blocks may stand on a page.
func (b *builder) inner() Rect {
	m := Mm(b.f.Margin)
	r := Rect{m, m, Mm(b.f.Width) - 2*m, Mm(b.f.Height) - 2*m}
	if b.f.Frame {
		return r.grow(-(lineFrame + Mm(1.5)))
	}
	return r.grow(-lineOutline / 2)
}

// build makes the boxes of a node with the blocks that have something to say.
func (b *builder) build(n node) (box, error) {
	out := box{name: n.name(), width: Mm(n.Width), share: n.Share, min: Mm(n.Least), gap: Mm(b.f.Gap), flow: n.Flow}
	if out.share == 0 {
		out.share = 1
	}
	parts := n.Down
	if len(n.Across) > 0 {
		out.across, parts = true, n.Across
	}
	for _, c := range parts {
		p, err := b.build(c)
		if err != nil {
			return box{}, err
		}
		out.parts = append(out.parts, p)
	}
	if n.Block == "" {
		return out, nil
	}
	key := fmt.Sprint(n.Block, n.As, n.Columns, n.Short, n.Run)
	made, ok := b.made[key]
	if !ok {
		blk, err := b.block(n)
		if err != nil {
			return box{}, err
		}
		made = box{block: blk, known: map[Um]Um{}}
		b.made[key] = made
	}
	out.block, out.known = made.block, made.known
	return out, nil
}

func (b *builder) block(n node) (block, error) {
	if b.own != nil {
		if blk, err := b.own(n); blk != nil || err != nil {
			return blk, err
		}
	}
	t := b.f.Type
	draw := drawOptions{num: Mm(t.Balloon), fig: Mm(t.Text), tabled: true}
	switch n.Block {
	case "photo":
		return &picture{job: b.job, photo: resultPhoto(b.job.Setup), st: style{cap: Mm(t.Text), kind: "caption", used: true}}, nil
	case "plan":
		return &viewBlock{job: b.job, opt: draw, shown: true, limit: b.whole()}, nil
	case "side":
		draw.side = true
		return &viewBlock{job: b.job, opt: draw, shown: needsSide(b.job), limit: b.whole()}, nil
	case "lights":
		for _, fields := range n.Columns {
			for _, field := range fields {
				if !holds(grammar.LightFields, field) && !holds(grammar.TodayFields, field) {
					return nil, fmt.Errorf("format %s: the table of lights has no field %q; there are %s", b.f.Name, field, strings.Join(grammar.LightFields, ", "))
				}
			}
		}
		return &lightsBlock{job: b.job, n: n, f: b.f}, nil
	case "camera":
		return cameraBlock(b.job, b.f), nil
	case "sums":
		return sumsBlock(b.job, b.f), nil
	case "cautions":
		return cautionsBlock(b.job.Safety, b.job, b.f, n.Short, n.Run), nil
	case "notes":
		return notesBlock(b.job, b.f), nil
	case "rulers":
		return &rulers{b.job, b.f}, nil
	}
	return nil, fmt.Errorf("format %s: no block is called %q; there are %s", b.f.Name, n.Block, strings.Join(grammar.BlockNames(b.f.For), ", "))
}

// newTitle is the title block before the scale and the number of sides are
// known; its cells keep room for them.
func (b *builder) newTitle(more string, first bool) *titleBlock {
	return &titleBlock{job: b.job, f: b.f, sheet: 8, of: 8, more: more, frame: b.f.Frame, fields: b.fields(first)}
}

// whole is the height of a further side that says a little of the next.
func (b *builder) whole() Um { return b.room(b.inner(), b.onNext([]string{"lights"}), false) }

// fields are those of the title block on the first side, or on a further one.
func (b *builder) fields(first bool) []string {
	if !first && len(b.f.StripNext) > 0 {
		return b.f.StripNext
	}
	return b.f.Strip
}

func (b *builder) room(inner Rect, more string, first bool) Um {
	t := b.newTitle(more, first)
	side := stripSide{first, inner.W}
	rows, known := b.strips[side]
	if !known {
		rows = t.leastRows(inner.W)
		if b.strips == nil {
			b.strips = map[stripSide]Um{}
		}
		b.strips[side] = rows
	}
	return inner.H - rows - t.leastMore(inner.W) - Mm(b.f.Gap) - b.headed(inner.W, first)
}

// headed is what the head of a further side takes.
func (b *builder) headed(w Um, first bool) Um {
	if b.head == nil || first {
		return 0
	}
	return b.head.least(w) + Mm(b.f.Gap)
}
