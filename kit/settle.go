package kit

import (
	"cmp"
	"math"
	"slices"
)

// settled gives the entries once modifiers that are the same go by one, and their
// grids and diffusers by themselves where that saves a modifier.
func (g *gatherer) settled() []*entry {
	groups := map[string][]*entry{}
	for _, e := range g.list {
		if e.body != "" {
			groups[e.body] = append(groups[e.body], e)
		}
	}
	var out []*entry
	for _, e := range g.list {
		switch group := groups[e.body]; {
		case e.body == "":
			out = append(out, e)
		case group[0] == e: // all of its kind and size, where the first of them is
			out = append(out, modifiers(group)...)
		}
	}
	return out
}

// modifiers settles those of one kind and size. Without a name in the gear file,
// or with the only name there is, they are one thing; two names are two.
func modifiers(group []*entry) []*entry {
	var names []string
	for _, e := range group {
		if e.name != "" && !slices.Contains(names, e.name) {
			names = append(names, e.name)
		}
	}
	if len(names) < 2 {
		return oneBody(joined(group))
	}
	var out []*entry
	for _, name := range append(names, "") {
		var same []*entry
		for _, e := range group {
			if e.name == name {
				e.thing.Named = name != ""
				same = append(same, e)
			}
		}
		if len(same) > 0 {
			out = append(out, oneBody(same)...)
		}
	}
	return out
}

// joined makes one of entries that differ in their names alone.
func joined(group []*entry) []*entry {
	at := map[string]*entry{}
	var out []*entry
	for _, e := range group {
		m := e.thing.Modifier
		id := key(m.Grid, sorted(m.Diffusers))
		if at[id] == nil {
			at[id] = e
			out = append(out, e)
			continue
		}
		at[id].take(e)
	}
	return out
}

// take adds to an entry what another asks for.
func (e *entry) take(other *entry) {
	for i, a := range other.asked {
		e.merge(a, other.masses[i])
	}
}

// merge is add, whatever the order of the setups.
func (e *entry) merge(a Asked, masses []float64) {
	i, found := slices.BinarySearchFunc(e.asked, a, func(x, y Asked) int { return cmp.Compare(x.Setup, y.Setup) })
	if !found {
		a.Of = slices.Clone(a.Of)
		e.asked = slices.Insert(e.asked, i, a)
		e.masses = slices.Insert(e.masses, i, slices.Clone(masses))
		return
	}
	was := &e.asked[i]
	was.N += a.N
	was.Of = append(was.Of, a.Of...)
	slices.Sort(was.Of)
	e.masses[i] = append(e.masses[i], masses...)
}

// oneBody takes entries of one modifier with different grids and diffusers. Where
// no setup needs them all at once fewer of the modifier do, and its parts are
// counted by themselves.
func oneBody(group []*entry) []*entry {
	body := &entry{kind: group[0].kind, thing: group[0].thing}
	body.thing.Part = Body
	each := 0
	for _, e := range group {
		each += e.most()
		body.take(e)
	}
	if body.most() == each {
		return group
	}
	out := []*entry{body}
	for _, e := range group {
		for _, part := range parts(e.thing) {
			thing := e.thing
			thing.Part = part
			i := slices.IndexFunc(out, func(x *entry) bool { return x.thing.Part == part && samePart(x.thing, thing) })
			if i < 0 {
				out = append(out, &entry{kind: e.kind, thing: thing})
				i = len(out) - 1
			}
			for _, a := range e.asked {
				out[i].merge(a, slices.Repeat([]float64{none}, a.N))
			}
		}
	}
	slices.SortStableFunc(out, func(a, b *entry) int {
		order := []Part{Body, Grid, Inner, Front}
		return slices.Index(order, a.thing.Part) - slices.Index(order, b.thing.Part)
	})
	return out
}

// parts are what can be taken off a modifier.
func parts(t Thing) []Part {
	var out []Part
	if t.Modifier.Grid != nil {
		out = append(out, Grid)
	}
	for _, d := range t.Modifier.Diffusers {
		out = append(out, Part(d))
	}
	return out
}

// samePart tells grids apart by their degrees.
func samePart(a, b Thing) bool {
	return a.Part != Grid || key(a.Modifier.Grid) == key(b.Modifier.Grid)
}

// most is what the hungriest setup asks for.
func (e *entry) most() int {
	n := 0
	for _, a := range e.asked {
		n = max(n, a.N)
	}
	return n
}

// item is an entry finished. Things that are the same weigh the same: one
// without a mass has that of the others, where these agree.
func (e *entry) item() Item {
	it := Item{Kind: e.kind, Thing: e.thing, N: e.most(), Asked: e.asked}
	agreed := none
	agree := true
	hungriest := 0
	for i, a := range e.asked {
		it.AtLeast = it.AtLeast || a.AtLeast
		if a.N > e.asked[hungriest].N {
			hungriest = i
		}
		for _, kg := range e.masses[i] {
			if math.IsNaN(kg) {
				continue
			}
			agree = agree && (math.IsNaN(agreed) || math.Abs(agreed-kg) < 1e-6)
			agreed = kg
		}
	}
	for _, kg := range e.masses[hungriest] {
		switch {
		case !math.IsNaN(kg):
			it.Kg += kg
		case agree && !math.IsNaN(agreed):
			it.Kg += agreed
		default:
			it.NoMass++
		}
	}
	return it
}
