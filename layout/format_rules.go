package layout

import (
	"fmt"
	"slices"
	"strings"

	"stopleaf/setup"
	"stopleaf/setup/grammar"
)

// each calls f for every block of a node.
func (p placed) each(f func(placed)) {
	if p.Block != "" {
		f(p)
	}
	for _, kid := range p.kids {
		kid.each(f)
	}
}

// once refuses a block that stands twice among parts.
func (r *formatReader) once(parts []placed, where string) {
	seen := map[string]bool{}
	for _, p := range parts {
		p.each(func(b placed) {
			if n := b.name(); seen[n] {
				hint := "take one out"
				if b.Block == "lights" {
					hint = "give one of the tables another name with \"as\": " + strings.Join(grammar.FindBlock("lights").As, ", ")
				}
				r.Err(b.at, "twice", fmt.Sprintf("%q stands twice in %s", n, where), hint)
			} else {
				seen[n] = true
			}
		})
	}
}

// stay are the blocks that every first side of a document has, and that never
// leave it.
func stay(document string) []string {
	if document == "stands" {
		return []string{"stand-head", "stand-today", "cautions"}
	}
	return []string{"cautions"}
}

// gives reads which blocks may leave a side, and that those that stay are there.
func (r *formatReader) gives(side *placed, v setup.Value) {
	var names []string
	staying := map[string]bool{} // by name
	has := map[string]bool{}
	side.each(func(b placed) {
		names = append(names, b.name())
		has[b.Block] = true
		staying[b.name()] = holds(stay(r.f.For), b.Block)
	})
	for _, name := range stay(r.f.For) {
		hint := "every first side has them: {block: cautions, short: true} takes the least room"
		if name != "cautions" {
			hint = "every first side has it, to be read from two metres off"
		}
		if !has[name] {
			r.Err(side.at, "no-"+name, fmt.Sprintf("a side has no %q", name), hint)
		}
	}
	give := v.Get("give")
	if !give.Given() {
		return
	}
	side.Give, _ = r.Known(give, names)
	for _, name := range side.Give {
		switch {
		case name == "cautions":
			r.Err(give.Pos(), "cautions-stay", "\"cautions\" stand under \"give\", and never leave the first side", "take them out")
		case staying[name]:
			r.Err(give.Pos(), "stays", fmt.Sprintf("%q stands under \"give\", and never leaves the first side", name), "take it out")
		}
	}
}

// wide refuses what is wider than its place, or has less than it needs; w is in
// millimetres.
func (r *formatReader) wide(p placed, w float64) {
	if b := grammar.FindBlock(p.Block); b != nil && w < b.Wide-1e-6 {
		r.Err(p.at, "narrow", fmt.Sprintf("%q gets %s mm of width, and needs %s", p.Block, mm(w), mm(b.Wide)), "give it more, or put it in a row of its own")
		return
	}
	if len(p.Down) > 0 {
		for _, kid := range p.kids {
			r.wide(kid, w)
		}
		return
	}
	fixed, shares := r.f.Gap*float64(len(p.kids)-1), 0.0
	for _, kid := range p.kids {
		fixed += kid.Width
		if kid.Width == 0 {
			shares += shareOf(kid.node)
		}
	}
	if len(p.kids) > 0 && fixed > w+1e-6 {
		r.Err(p.at, "wide", fmt.Sprintf("the blocks beside each other take %s mm with the gaps between them, and there are %s", mm(fixed), mm(w)), "make one narrower, or leave its \"width\" out")
		return
	}
	for i, kid := range p.kids {
		kw := kid.Width
		if kw == 0 {
			kw = (w - fixed) * shareOf(kid.node) / shares
		} else if shares == 0 && i == len(p.kids)-1 {
			kw += w - fixed
		}
		r.wide(kid, kw)
	}
}

func shareOf(n node) float64 {
	if n.Share == 0 {
		return 1
	}
	return n.Share
}

// areLeftOut refuses a block that is left out and placed too.
func (r *formatReader) areLeftOut(parts []placed) {
	for _, p := range parts {
		p.each(func(b placed) {
			for _, name := range []string{b.Block, b.As} {
				if r.f.leavesOut(name) {
					r.Err(b.at, "left-out", fmt.Sprintf("%q stands here and under \"leave out\"", name), "take one out")
				}
			}
		})
	}
	r.f.Filler = slices.DeleteFunc(r.f.Filler, func(n node) bool { return r.f.leavesOut(n.Block) })
}

// each calls f for every block of a node.
func (n node) each(f func(node)) {
	if n.Block != "" {
		f(n)
	}
	for _, c := range append(slices.Clone(n.Across), n.Down...) {
		c.each(f)
	}
}

// blocks are the names of the blocks of a node.
func (n node) blocks() []string {
	var out []string
	n.each(func(b node) { out = append(out, b.name()) })
	return out
}
