package layout

import (
	"fmt"
	"slices"
)

// The fields of a table of lights without which a set cannot be built again;
// any of a group will do.
var (
	meteringFields = [][]string{{"number"}, {"name", "light"}, {"difference"}, {"target"}, {"dial"}, {"modifier"}, {"meter"}}
	placingFields  = [][]string{{"place", "measure"}, {"height"}, {"aim"}}
)

// order is what stands on a document's further sides where a format does not
// place it.
func order(document string) []string {
	switch document {
	case "sheet":
		return []string{"lights", "places", "side", "camera", "build", "today", "bases", "circuits", "set", "kit", "photos", "notes", "cautions", "strike", "plan", "photo"}
	case "stands":
		return []string{"stand-bases", "stand-place", "stand-setting", "stand-note", "cautions", "plan"}
	}
	return []string{"lights", "places", "side", "sums", "camera", "notes", "cautions", "plan", "photo"}
}

// complete sees to it that nothing is lost: what stands neither under "next" nor
// "leave out" goes on further sides after it.
func (r *formatReader) complete(sides []placed) {
	f := r.f
	var has []string
	for _, n := range f.Next {
		has = append(has, n.blocks()...)
	}
	if holds(has, "rulers") && !r.Top().Has("filler") {
		f.Filler = nil
	}
	for _, name := range order(f.For) {
		if holds(has, name) || f.leavesOut(name) {
			continue
		}
		n := node{Block: name, Run: name == "cautions"}
		switch name {
		case "lights", "places":
			n = node{Block: "lights", Columns: r.kept(defaultColumns(name, r.inner())), auto: true}
			if name == "places" {
				n.As = name
			}
		case "today":
			n.Columns = r.kept(defaultColumns(name, r.inner()))
		}
		f.Next = append(f.Next, n)
	}
	if f.For == "stands" {
		f.Sides = append(f.Sides, r.lastStands()...)
		return
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
	if !r.f.leavesOut("plan") {
		last = node{Down: []node{{Block: "plan", Least: 60}, cautions}, Give: []string{"plan"}}
	}
	return []node{{Down: []node{targets, cautions}}, last}
}

// lastStands are those of stand cards: what every first side has with the other
// bases and the place, then that alone.
func (r *formatReader) lastStands() []node {
	head, today, cautions := node{Block: "stand-head"}, node{Block: "stand-today"}, node{Block: "cautions", Short: true}
	first := []node{head, today, cautions}
	if !r.f.leavesOut("stand-bases") {
		first[1].As = "stand-bases"
	}
	if !r.f.leavesOut("stand-place") {
		first = append(first, node{Block: "stand-place"})
	}
	return []node{{Down: first}, {Down: []node{head, today, cautions}}}
}

// kept are columns without the fields that are left out.
func (r *formatReader) kept(columns [][]string) [][]string {
	var out [][]string
	for _, c := range columns {
		c = slices.DeleteFunc(slices.Clone(c), func(f string) bool { return r.f.leavesOut(f) })
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
		any := slices.ContainsFunc(group, func(f string) bool { return holds(fields, f) || r.f.leavesOut(f) })
		if !any {
			r.Err(side.at, "no-field", fmt.Sprintf("with this side no table of lights gives %q, here or on a further side", group[0]),
				"put it in the columns of a table, or under \"leave out\"")
		}
	}
}
