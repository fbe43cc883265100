package kit

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
	"stopleaf/safety"
	"stopleaf/setup"
)

// gatherer goes through setups one after another.
type gatherer struct {
	setup *setup.Setup
	index int
	at    map[string]*entry
	list  []*entry // as they were come to
}

// entry is one thing and who asks for it.
type entry struct {
	kind   Kind
	thing  Thing
	body   string // of a modifier: what it is without name, grid and diffusers
	name   string // of a modifier: its name in the gear file
	asked  []Asked
	masses [][]float64 // by asked; NaN for one without
}

// none is the mass of what has none written.
var none = math.NaN()

func mass(kg *float64) float64 {
	if kg == nil {
		return none
	}
	return *kg
}

// key joins what tells two things of a kind apart. Lengths count to the
// centimetre, words whatever their case.
func key(parts ...any) string {
	var b strings.Builder
	for _, p := range parts {
		switch p := p.(type) {
		case *float64:
			if p == nil {
				b.WriteString("-")
			} else {
				fmt.Fprintf(&b, "%d", int(math.Round(*p*100)))
			}
		case string:
			b.WriteString(strings.ToLower(p))
		default:
			fmt.Fprint(&b, p)
		}
		b.WriteByte(0)
	}
	return b.String()
}

// put adds n of a thing, each of that mass, to what the setup asks for.
func (g *gatherer) put(kind Kind, id string, thing Thing, n int, atLeast bool, kg float64, of ...int) *entry {
	id = string(kind) + "\x00" + id
	e := g.at[id]
	if e == nil {
		e = &entry{kind: kind, thing: thing}
		g.at[id] = e
		g.list = append(g.list, e)
	}
	e.add(Asked{Setup: g.index, N: n, AtLeast: atLeast, Of: of}, slices.Repeat([]float64{kg}, n))
	return e
}

// add joins what is asked for to what its setup asked for before.
func (e *entry) add(a Asked, masses []float64) {
	if i := len(e.asked) - 1; i >= 0 && e.asked[i].Setup == a.Setup {
		was := &e.asked[i]
		was.N += a.N
		was.AtLeast = was.AtLeast || a.AtLeast
		was.Of = append(was.Of, a.Of...)
		e.masses[i] = append(e.masses[i], masses...)
		return
	}
	a.Of = slices.Clone(a.Of)
	e.asked, e.masses = append(e.asked, a), append(e.masses, slices.Clone(masses))
}

// all is what one setup needs. A light that a look turns off stands there too.
func (g *gatherer) all() {
	s := g.setup
	bags := safety.StandBags(s)
	for i := range s.Lights {
		g.light(&s.Lights[i])
		g.bags(bags[i])
	}
	for _, p := range s.Packs {
		var of []int
		for i := range s.Lights {
			if u := s.Lights[i].Pack; u != nil && u.Pack == p {
				of = append(of, s.Lights[i].Number)
			}
		}
		g.put(Pack, key(p.Name, p.Kind, p.EnergyWs), Thing{Pack: p}, 1, false, mass(p.Mass), of...)
	}
	for i := range s.Grip {
		gr := &s.Grip[i]
		id := key("grip", gr.Colour, gr.Kind, gr.Width, gr.Height)
		if gr.Colour == "" && gr.Kind == "" && gr.Width == nil {
			id = key("grip", gr.Name)
		}
		g.put(Panel, id, Thing{Grip: gr}, 1, false, none, gr.Number)
		if gr.Stand != nil {
			g.stand(gr.Stand, gr.Number, gr.Stand.Counterweight)
		}
	}
	for _, ld := range safety.CircuitLoads(s) {
		if ld.Circuit != nil && ld.Circuit.Lead != nil && (ld.Circuit.Lead.Length != nil || ld.Circuit.Lead.Section != nil) {
			g.put(Lead, key(ld.Circuit.Lead.Length, ld.Circuit.Lead.Section), Thing{Lead: ld.Circuit.Lead}, 1, false, none)
		}
	}
	if b := s.Background; b != nil && (b.Kind != "" || b.Tone != "" || b.Width != nil) {
		g.put(Background, key(b.Kind, b.Tone, b.Width, b.Height), Thing{Background: b}, 1, false, none)
	}
	if c := &s.Camera; c.FocalMM != nil {
		widest := ""
		if c.WidestAv != nil {
			widest = apex.Third(*c.WidestAv)
		}
		g.put(Lens, key(c.FocalMM, widest), Thing{Camera: c}, 1, false, none)
	}
}

func (g *gatherer) light(l *setup.Light) {
	if l.Source == exposure.Daylight {
		return
	}
	if l.Source != exposure.Bounce {
		g.head(l)
	}
	if m := l.Modifier; m != nil && m.Kind != "bare" {
		kind := Modifier
		if l.Source == exposure.Bounce {
			kind = Panel
		}
		body := bodyKey(m)
		e := g.put(kind, key("modifier", body, m.Gear, m.Grid, sorted(m.Diffusers)), Thing{Modifier: m}, 1, false, mass(m.Mass), l.Number)
		e.body, e.name = string(kind)+body, strings.ToLower(m.Gear)
		if m.Gel != nil {
			g.put(Gel, key(m.Gel.Name, m.Gel.Mired), Thing{Gel: m.Gel}, 1, false, none, l.Number)
		}
	}
	var weight *float64
	if l.Stand != nil {
		weight, _ = safety.BoomWeight(l)
	}
	g.stand(l.Stand, l.Number, weight)
}

// bodyKey is a modifier's kind and size, whichever way up it hangs.
func bodyKey(m *setup.Modifier) string {
	a, b := m.Width, m.Height
	if a != nil && b != nil && *a < *b {
		a, b = b, a
	}
	return key(m.Kind, a, b)
}

func sorted(list []string) string { return strings.Join(slices.Sorted(slices.Values(list)), " ") }

func (g *gatherer) head(l *setup.Light) {
	h, continuous := l.Head, l.Source == exposure.Continuous
	if h == nil || h.Name == "" && h.Kind == "" && h.EnergyWs == nil && h.Supply != "battery" {
		kg := none
		if h != nil {
			kg = mass(h.Mass)
		}
		g.put(Head, key("?", continuous), Thing{Continuous: continuous}, 1, false, kg, l.Number)
		return
	}
	unnamed := h.Name == "" && h.Kind == "" && continuous
	g.put(Head, key(h.Name, h.Kind, h.EnergyWs, h.Supply == "battery", unnamed), Thing{Head: h, Continuous: continuous}, 1, false, mass(h.Mass), l.Number)
}

// stand puts a stand, with the counterweight that its boom needs.
func (g *gatherer) stand(st *setup.Stand, number int, weight *float64) {
	if st == nil {
		g.put(Stand, key("?"), Thing{}, 1, false, none, number)
		return
	}
	thing := Thing{Stand: st}
	called := st.Name
	if called == "" {
		called = "a " + cmp.Or(st.Kind, "stand")
	}
	switch st.Kind {
	case "hanging":
		g.put(Fixing, key(called), thing, 1, false, none, number)
	case "boom":
		g.put(Boom, key(called, st.Footprint, st.Reach), thing, 1, false, mass(st.Mass), number)
		if weight != nil {
			tenths := math.Round(*weight*10) / 10 // as the cautions say it
			weight = &tenths
		}
		g.put(Counterweight, key(weight), Thing{Kg: weight}, 1, false, mass(weight), number)
	default:
		g.put(Stand, key(called, st.Footprint), thing, 1, false, mass(st.Mass), number)
	}
}

func (g *gatherer) bags(b safety.StandBag) {
	n := b.Bags
	if n == 0 && b.Plain {
		n = 1
	}
	if n > 0 {
		size := safety.BagSize(g.setup)
		g.put(Bag, key(&size), Thing{Kg: &size}, n, b.Bags == 0, size, b.Light)
	}
}
