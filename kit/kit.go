// Package kit says what a shoot needs: the heads, packs, modifiers, stands, bags,
// leads, panels, background and lens of its setups, each as many times as the
// hungriest setup needs it.
//
// It belongs here when it is about things and how many of them. What they are
// called on a page, in which language, belongs to package layout.
package kit

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"stopleaf/setup"
)

// Kind is a sort of thing.
type Kind string

// The kinds.
const (
	Pack          Kind = "pack"
	Head          Kind = "head" // a flash head or a continuous light
	Modifier      Kind = "modifier"
	Gel           Kind = "gel"
	Panel         Kind = "panel" // and every other grip item
	Stand         Kind = "stand"
	Boom          Kind = "boom"
	Counterweight Kind = "counterweight"
	Fixing        Kind = "fixing" // of a light that hangs
	Bag           Kind = "bag"
	Lead          Kind = "lead"
	Background    Kind = "background"
	Lens          Kind = "lens"
)

// Kinds are all of them, in the order in which a list has them.
var Kinds = []Kind{Pack, Head, Modifier, Gel, Panel, Stand, Boom, Counterweight, Fixing, Bag, Lead, Background, Lens}

// Thing is what something is: the one member that its kind speaks of. A head, a
// stand or the mass of a counterweight that is nil is not described in the file,
// and still needed.
type Thing struct {
	Pack       *setup.Pack
	Head       *setup.Head
	Continuous bool // of a head: no flash
	Modifier   *setup.Modifier
	Part       Part // of the modifier: only that is meant
	Named      bool // other modifiers of this kind and size go by another name
	Gel        *setup.Gel
	Grip       *setup.Grip
	Stand      *setup.Stand
	Kg         *float64 // of a bag or a counterweight
	Lead       *setup.Lead
	Background *setup.Background
	Camera     *setup.Camera // its lens
}

// Part is a piece of a modifier that is counted by itself.
type Part string

// The parts; Whole is the modifier with its grid and its diffusers.
const (
	Whole Part = ""
	Body  Part = "body" // without grid and diffusers
	Grid  Part = "grid"
	Inner Part = "inner"
	Front Part = "front"
)

// Item is so many of one thing.
type Item struct {
	Kind    Kind
	Thing   Thing
	N       int     // as many as the setup that asks for most
	AtLeast bool    // one of the setups may want more
	Kg      float64 // of those that have a mass
	NoMass  int     // how many of the N have none written
	Asked   []Asked // by setup, in the order of the list
}

// Asked is how many of a thing one setup needs.
type Asked struct {
	Setup   int // its index in List.Setups
	N       int
	AtLeast bool
	Of      []int // the numbers of its lights and grip items; none for what serves the whole set
}

// List is the kit of some setups.
type List struct {
	Setups []*setup.Setup
	Items  []Item   // by kind, then as the setups come to them
	Always []string // what the house packs for every shoot
}

// For gives the kit of setups, each thing once.
func For(setups ...*setup.Setup) *List {
	g := gatherer{at: map[string]*entry{}}
	for i, s := range setups {
		g.setup, g.index = s, i
		g.all()
	}
	l := &List{Setups: setups}
	for _, e := range g.settled() {
		l.Items = append(l.Items, e.item())
	}
	slices.SortStableFunc(l.Items, func(a, b Item) int { return slices.Index(Kinds, a.Kind) - slices.Index(Kinds, b.Kind) })
	seen := map[string]bool{}
	for _, s := range setups {
		if s.House == nil {
			continue
		}
		for _, what := range s.House.Always {
			if low := strings.ToLower(what); !seen[low] {
				seen[low] = true
				l.Always = append(l.Always, what)
			}
		}
	}
	return l
}

// Units are those of all the setups, or metres.
func (l *List) Units() setup.Units {
	for _, s := range l.Setups {
		if s.Units != l.Setups[0].Units {
			return setup.Metres
		}
	}
	if len(l.Setups) == 0 {
		return setup.Metres
	}
	return l.Setups[0].Units
}

// Weight is the mass of everything that has one written, kg, and how many things
// have none.
func (l *List) Weight() (kg float64, without int) {
	for _, it := range l.Items {
		kg += it.Kg
		without += it.NoMass
	}
	return math.Round(kg*1e6) / 1e6, without
}

// Called is a setup's code, or what stands for it.
func Called(s *setup.Setup) string { return cmp.Or(s.Code, s.Title, s.File) }

// Names are those of a setup's lights and grip items, by number.
func Names(s *setup.Setup, numbers []int) []string {
	var out []string
	for _, n := range numbers {
		if n <= len(s.Lights) {
			out = append(out, s.Lights[n-1].Name)
		} else {
			out = append(out, s.Grip[n-len(s.Lights)-1].Name)
		}
	}
	return out
}
