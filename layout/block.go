package layout

// block is one named part of a page. A block with nothing to say has a least
// height of 0 and is left out with the gap beside it. What it says does not
// change once it is made, so its height at a width is worked out once.
type block interface {
	// empty says whether it has nothing to say.
	empty() bool
	// least is the height it needs at a width.
	least(w Um) Um
	// stretches says whether it takes more height where there is some.
	stretches() bool
	// draw puts it inside a box at least as high as least.
	draw(p *pen, r Rect)
}

// capped is a block that stretches only up to a height.
type capped interface {
	most(w Um) Um
}

// splitter is a block that can go on on a further side.
type splitter interface {
	block
	// split gives what fits into a height and what is left, or nil and itself
	// when nothing fits.
	split(w, h Um) (head, rest block)
}

// cutter is a splitter that can be cut even where no whole part fits a side.
type cutter interface {
	cut(w, h Um) (head, rest block)
}

// box is a block with its place in a format, or a row or column of such.
type box struct {
	name   string
	block  block // nil for a row or column
	across bool
	parts  []box
	width  Um
	share  float64
	min    Um        // least height of a block that stretches
	known  map[Um]Um // the block's least heights so far, by width
	gap    Um
	flow   bool // a row whose columns may go on on the next side
}

// empty says whether there is nothing in it to draw.
func (b *box) empty() bool {
	if b.block != nil {
		return b.block.empty()
	}
	for i := range b.parts {
		if !b.parts[i].empty() {
			return false
		}
	}
	return true
}

func (b *box) stretches() bool {
	if b.block != nil {
		return !b.empty() && b.block.stretches()
	}
	for i := range b.parts {
		if b.parts[i].stretches() {
			return true
		}
	}
	return false
}

// least is the height a box needs at a width.
func (b *box) least(w Um) Um {
	if b.empty() {
		return 0
	}
	if b.block != nil {
		h, ok := b.known[w]
		if !ok {
			h = b.block.least(w)
			b.known[w] = h
		}
		return max(h, b.min)
	}
	var h Um
	if b.across {
		for i, pw := range b.widths(w) {
			if pw > 0 {
				h = max(h, b.parts[i].least(pw))
			}
		}
		return h
	}
	for i := range b.parts {
		if ph := b.parts[i].least(w); ph > 0 {
			if h > 0 {
				h += b.gap
			}
			h += ph
		}
	}
	return h
}

// widths shares a width among the parts of a row: fixed ones first, the rest
// by share; an empty part gets none.
func (b *box) widths(w Um) []Um {
	out := make([]Um, len(b.parts))
	var shares float64
	left, n := w, 0
	for i := range b.parts {
		p := &b.parts[i]
		if p.empty() {
			continue
		}
		n++
		if p.width > 0 {
			out[i] = p.width
			left -= p.width
		} else {
			shares += p.share
		}
	}
	left -= Um(max(0, n-1)) * b.gap
	for i := range b.parts {
		if p := &b.parts[i]; !p.empty() && p.width == 0 {
			out[i] = Um(float64(left) * p.share / shares)
		}
	}
	if shares == 0 && n > 0 { // only fixed parts: the last takes what is left
		for i := len(out) - 1; i >= 0; i-- {
			if out[i] > 0 {
				out[i] += left
				break
			}
		}
	}
	return out
}

// draw fills a box of the page; what is spare goes to the parts that stretch,
// in equal shares.
func (b *box) draw(p *pen, r Rect) {
	if b.empty() {
		return
	}
	if b.block != nil {
		b.block.draw(p, r)
		return
	}
	if b.across {
		x := r.X
		for i, pw := range b.widths(r.W) {
			if pw > 0 {
				b.parts[i].draw(p, Rect{x, r.Y, pw, r.H})
				x += pw + b.gap
			}
		}
		return
	}
	y := r.Y
	for i, h := range b.heights(r.W, r.H) {
		if h > 0 {
			b.parts[i].draw(p, Rect{r.X, y, r.W, h})
			y += h + b.gap
		}
	}
}

// leastStretched is as low as a drawing or a picture gets on a side that has
// less room than it asks for.
const leastStretched = Um(18000)

// heights shares a height among the parts of a column: each what it needs, and
// what is spare by share to those that stretch, up to what they can use.
func (b *box) heights(w, h Um) []Um {
	out := make([]Um, len(b.parts))
	spare, n := h, 0
	var open []int
	for i := range b.parts {
		if out[i] = b.parts[i].least(w); out[i] > 0 {
			spare -= out[i]
			n++
			if b.parts[i].stretches() {
				open = append(open, i)
			}
		}
	}
	spare -= Um(max(0, n-1)) * b.gap
	for _, i := range open { // what stretches gives way where the side is too low
		if spare < 0 {
			give := min(-spare, max(0, out[i]-leastStretched))
			out[i] -= give
			spare += give
		}
	}
	for spare > 0 && len(open) > 0 {
		var shares float64
		for _, i := range open {
			shares += b.parts[i].share
		}
		all := spare
		var still []int
		for _, i := range open {
			share := Um(float64(all) * b.parts[i].share / shares)
			give := share
			if c, ok := b.parts[i].block.(capped); ok {
				give = max(0, min(share, c.most(w)-out[i]))
			}
			out[i] += give
			spare -= give
			if give == share {
				still = append(still, i)
			}
		}
		if len(still) == len(open) {
			break
		}
		open = still
	}
	return out
}

// without gives the box with the named block taken out, and that block.
func (b *box) without(name string) (box, *box) {
	if b.block != nil {
		if b.name == name {
			return box{across: true}, b
		}
		return *b, nil
	}
	out := *b
	out.parts = nil
	var found *box
	for i := range b.parts {
		p, f := b.parts[i].without(name)
		if f != nil {
			found = f
		}
		if p.block != nil || len(p.parts) > 0 {
			out.parts = append(out.parts, p)
		}
	}
	return out, found
}

// has says whether a named block with something to say is in it.
func (b *box) has(name string) bool {
	if b.block != nil {
		return b.name == name && !b.empty()
	}
	for i := range b.parts {
		if b.parts[i].has(name) {
			return true
		}
	}
	return false
}
