package setup

import (
	"fmt"
	"math"
	"strings"
)

// grips reads the grip items and their places as written.
func (m *meaning) grips(w *written) ([]Grip, []*placeSpec) {
	if w == nil {
		return nil, nil
	}
	if len(w.items) > maxGrip {
		m.err(w.pos, "too-many-grip", fmt.Sprintf("%d grip items are given; %d is the most", len(w.items), maxGrip), "")
		return nil, nil
	}
	var out []Grip
	var places []*placeSpec
	used := map[string]bool{}
	for _, item := range w.items {
		used[strings.ToLower(line(item.get("name")))] = true
	}
	for _, item := range w.items {
		g := Grip{
			Name: line(item.get("name")), Kind: line(item.get("kind")), Colour: line(item.get("colour")),
			Width: m.length(item.get("width")), Height: m.length(item.get("height")),
			Turned: m.turned(item.get("turned")), Stand: m.stand(item.get("stand")),
			Mark: line(item.get("mark")), LookFor: block(item.get("look for")), Note: block(item.get("note")),
			Trigger: line(item.get("trigger")), Private: block(item.get("private")), Where: item.where(),
		}
		if g.Name == "" {
			kind := g.Kind
			if kind == "" {
				kind = "grip"
				m.warn(item.pos, "no-kind", "a grip item has neither \"name\" nor \"kind\"", "say what it is: V-flat, flag, net, table")
			}
			g.Name = freeName(kind, used)
		}
		g.Where.add(item.get("place"))
		out = append(out, g)
		places = append(places, m.place(item.get("place"), false))
	}
	return out, places
}

// newSolver lines up lights and grip.
func (m *meaning) newSolver(drafts []draft, grips []Grip, gripPlaces []*placeSpec) *solver {
	s := &solver{m: m, byName: map[string]int{}, pairs: map[string]bool{}}
	add := func(it solveItem) {
		if low := strings.ToLower(it.name); s.byName[low] == 0 {
			if _, taken := s.byName[low]; !taken {
				s.byName[low] = len(s.items)
			}
		}
		s.items = append(s.items, it)
	}
	for i := range drafts {
		d := &drafts[i]
		it := solveItem{name: d.Name, pos: d.Where.Item, spec: d.place, aim: d.aim}
		if d.Pair != nil {
			it.side = d.Pair.Side
			s.pairs[strings.ToLower(d.Pair.Of)] = true
		}
		if d.Modifier != nil {
			it.half = halved(d.Modifier.Height)
		}
		add(it)
	}
	for i, g := range grips {
		add(solveItem{name: g.Name, pos: g.Where.Item, spec: gripPlaces[i], half: halved(g.Height), grip: true})
	}
	return s
}

func halved(v *float64) *float64 {
	if v == nil {
		return nil
	}
	h := *v / 2
	return &h
}

// boomSlack is how far beyond its reach a boom's head may be written before it
// is said, metres.
const boomSlack = 0.05

// boomBase solves where a boom's column stands.
func (m *meaning) boomBase(s *solver, i int, d *draft) {
	if d.base == nil || d.Stand == nil {
		return
	}
	height := d.base.height
	p, ok := s.floorOf(d.base, i, height)
	if !ok {
		return
	}
	p.Height = height
	d.Stand.Base = p
	at := d.base.w.pos
	if d.Place == nil || d.Stand.Reach == nil {
		return
	}
	if away := math.Hypot(p.Right-d.Place.Right, p.Front-d.Place.Front); away > *d.Stand.Reach+boomSlack {
		m.warn(at, "beyond-reach", fmt.Sprintf("the boom of %s reaches %s, and its base stands %s from the head",
			quote(d.Name), FormatLength(*d.Stand.Reach, m.s.Units), FormatLength(away, m.s.Units)), "move the base, or check the reach")
	}
}

// references checks the names a light gives of others.
func (m *meaning) references(d *draft, drafts []draft) {
	if d.Circuit != "" && m.s.Mains.Circuit(d.Circuit) == nil {
		var known []string
		if m.s.Mains != nil {
			for _, c := range m.s.Mains.Circuits {
				known = append(known, c.Name)
			}
		}
		hint := "write \"circuits\" under \"mains\""
		if len(known) > 0 {
			hint = suggest(d.Circuit, known)
		}
		m.warn(d.Where.Key("circuit"), "unknown-circuit", fmt.Sprintf("%s is on circuit %s, which is not under \"mains\"", quote(d.Name), quote(d.Circuit)), hint)
	}
	if d.LitBy == "" {
		return
	}
	var known []string
	for _, o := range drafts {
		name := o.Name
		if o.Pair != nil && strings.EqualFold(o.Pair.Of, d.LitBy) && d.Pair != nil && d.Pair.Side == o.Pair.Side {
			d.LitBy = o.Name
		}
		if strings.EqualFold(name, d.LitBy) {
			d.LitBy = name
			if name == d.Name {
				m.warn(d.Where.Key("lit by"), "lit-by", quote(d.Name)+" is lit by itself", "name the light that feeds it")
			}
			return
		}
		if o.Pair != nil && strings.EqualFold(o.Pair.Of, d.LitBy) {
			d.LitBy = o.Pair.Of
			return
		}
		known = append(known, name)
	}
	if among(d.LitBy, []string{"daylight", "sun", "window", "ambient"}) != "" {
		return
	}
	m.warn(d.Where.Key("lit by"), "unknown-name", fmt.Sprintf("%s is lit by %s, and there is no such light", quote(d.Name), quote(d.LitBy)), suggest(d.LitBy, known))
}
