package layout

import (
	"fmt"
	"slices"
	"strings"

	"stopleaf/setup"
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
					hint = "give one of the tables another name with \"as\": " + strings.Join(tableNames, ", ")
				}
				r.Err(b.at, "twice", fmt.Sprintf("%q stands twice in %s", n, where), hint)
			} else {
				seen[n] = true
			}
		})
	}
}

// gives reads which blocks may leave a side, and that the cautions stay.
func (r *formatReader) gives(side *placed, v setup.Value) {
	var names []string
	cautions := false
	side.each(func(b placed) {
		names = append(names, b.name())
		cautions = cautions || b.Block == "cautions"
	})
	if !cautions {
		r.Err(side.at, "no-cautions", "a side has no \"cautions\"", "every first side has them: {block: cautions, short: true} takes the least room")
	}
	if give := v.Get("give"); give.Given() {
		side.Give, _ = r.Known(give, names)
		if holds(side.Give, "cautions") {
			r.Err(give.Pos(), "cautions-stay", "\"cautions\" stand under \"give\", and never leave the first side", "take them out")
		}
	}
}

// wide refuses what is wider than its place, or has less than it needs; w is in
// millimetres.
func (r *formatReader) wide(p placed, w float64) {
	if need := widthOf(p.Block); p.Block != "" && w < need-1e-6 {
		r.Err(p.at, "narrow", fmt.Sprintf("%q gets %s mm of width, and needs %s", p.Block, mm(w), mm(need)), "give it more, or put it in a row of its own")
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

// The fields of a table of lights without which a set cannot be built again;
// any of a group will do.
var (
	meteringFields = [][]string{{"number"}, {"name", "light"}, {"difference"}, {"target"}, {"dial"}, {"modifier"}, {"meter"}}
	placingFields  = [][]string{{"place", "measure"}, {"height"}, {"aim"}}
)

// leavable are the words under "leave out": what can be done without.
func leavable() []string {
	keep := []string{"lights", "cautions", "number", "name", "light", "difference", "target"}
	var out []string
	for _, w := range append(slices.Clone(blockNames), lightFields...) {
		if !holds(keep, w) {
			out = append(out, w)
		}
	}
	return out
}

// leftOut refuses a block that is left out and placed too.
func (r *formatReader) leftOut(parts []placed) {
	for _, p := range parts {
		p.each(func(b placed) {
			if holds(r.leaveOut, b.Block) {
				r.Err(b.at, "left-out", fmt.Sprintf("%q stands here and under \"leave out\"", b.Block), "take one out")
			}
		})
	}
	r.f.Filler = slices.DeleteFunc(r.f.Filler, func(n node) bool { return holds(r.leaveOut, n.Block) })
}

// complete sees to it that nothing is lost: what stands neither under "next" nor
// "leave out" goes on further sides after it.
func (r *formatReader) complete(sides []placed) {
	f := r.f
	var has []string
	for _, n := range f.Next {
		has = append(has, n.blocks()...)
	}
	for _, name := range []string{"lights", "places", "side", "sums", "camera", "notes", "cautions", "plan", "photo"} {
		if holds(has, name) || holds(r.leaveOut, name) {
			continue
		}
		n := node{Block: name, Run: name == "cautions"}
		if c := defaultColumns(name, r.inner()); c != nil {
			n = node{Block: "lights", Columns: r.kept(c), auto: true}
			if name == "places" {
				n.As = name
			}
		}
		f.Next = append(f.Next, n)
	}
	for _, s := range sides {
		r.covers(s)
	}
	f.Sides = append(f.Sides, r.lastSides()...)
}

// lastSides are tried where none of the format's own holds a setup: targets and
// cautions; the plan and cautions; the cautions alone.
func (r *formatReader) lastSides() []node {
	cautions := node{Block: "cautions", Short: true}
	targets := node{Block: "lights", As: "targets", Columns: defaultColumns("targets", r.inner())}
	last := node{Down: []node{cautions}}
	if !holds(r.leaveOut, "plan") {
		last = node{Down: []node{{Block: "plan", Least: 60}, cautions}, Give: []string{"plan"}}
	}
	return []node{{Down: []node{targets, cautions}}, last}
}

// kept are columns without the fields that are left out.
func (r *formatReader) kept(columns [][]string) [][]string {
	var out [][]string
	for _, c := range columns {
		c = slices.DeleteFunc(slices.Clone(c), func(f string) bool { return holds(r.leaveOut, f) })
		if len(c) > 0 {
			out = append(out, c)
		}
	}
	return out
}

// covers refuses a side whose tables, with those that then follow, lack a field.
func (r *formatReader) covers(side placed) {
	var here, next, fields []string
	for _, n := range r.f.Next {
		next = append(next, n.blocks()...)
	}
	side.each(func(b placed) {
		if holds(side.Give, b.name()) && !holds(next, b.name()) { // may go, and does not come again
			return
		}
		here = append(here, b.name())
		for _, c := range b.Columns {
			fields = append(fields, c...)
		}
	})
	for _, n := range r.f.Next {
		n.each(func(b node) {
			if !holds(here, b.name()) {
				for _, c := range b.Columns {
					fields = append(fields, c...)
				}
			}
		})
	}
	for _, group := range append(slices.Clone(meteringFields), placingFields...) {
		any := slices.ContainsFunc(group, func(f string) bool { return holds(fields, f) || holds(r.leaveOut, f) })
		if !any {
			r.Err(side.at, "no-field", fmt.Sprintf("with this side no table of lights gives %q, here or on a further side", group[0]),
				"put it in the columns of a table, or under \"leave out\"")
		}
	}
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
