package adapt

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stopleaf/exposure"
	"stopleaf/setup"
)

// tenth is the difference that counts as one, stops; less is what a meter and a
// dial leave open.
const tenth = 0.1 + 1e-9

// plan is what the file says and what it is to say.
type plan struct {
	o      Options
	first  *setup.Setup      // as it was read
	gear   *setup.Setup      // with its sides changed, and the gear it had
	was    *setup.Setup      // with its sides and its gear changed
	s      *setup.Setup      // what is to be
	dials  []dial            // by light
	why    map[string]string // by section and key
	moved  map[string]string // why an item stands elsewhere, by its name
	warned setup.Problems
	found  setup.Problems // what reading said before anything was planned
}

// dial is what becomes of the setting of a light that has one.
type dial struct {
	more float64  // stops that it must give beyond what was recorded
	why  []string // what asks for that
	lost string   // why no setting can be given
	est  string   // how sure it is, where it is an estimate
}

func newPlan(o Options, s *setup.Setup) *plan {
	return &plan{o: o, was: s, s: clone(s), dials: make([]dial, len(s.Lights)), why: map[string]string{}, moved: map[string]string{}}
}

// clone copies a setup as far as a plan changes it.
func clone(s *setup.Setup) *setup.Setup {
	out := *s
	out.Lights = slices.Clone(s.Lights)
	out.Grip = slices.Clone(s.Grip)
	out.Exposure.Bases = slices.Clone(s.Exposure.Bases)
	for i := range out.Lights {
		l := &out.Lights[i]
		l.Place = copied(l.Place)
		if l.Stand = copied(l.Stand); l.Stand != nil {
			l.Stand.Base = copied(l.Stand.Base)
		}
	}
	for i := range out.Grip {
		out.Grip[i].Place = copied(out.Grip[i].Place)
	}
	out.Background, out.Room = copied(s.Background), copied(s.Room)
	return &out
}

func copied[T any](v *T) *T {
	if v == nil {
		return nil
	}
	out := *v
	return &out
}

func ptr(v float64) *float64 { return &v }

// warn says at a place of the old file what could not be kept.
func (p *plan) warn(at setup.Pos, code, hint, message string, args ...any) {
	if at.Line == 0 {
		at = setup.Pos{File: p.was.File}
	}
	w := setup.Problem{Pos: at, Level: setup.Warning, Code: code, Message: fmt.Sprintf(message, args...), Hint: hint}
	if !slices.Contains(p.warned, w) {
		p.warned = append(p.warned, w)
	}
}

// lacks refuses an option for want of something in the file.
func (p *plan) lacks(option string, at setup.Pos, message, hint string) error {
	if at.Line == 0 {
		at = setup.Pos{File: p.was.File}
	}
	return &Refusal{Option: option, Pos: at, Message: message, Hint: hint}
}

// length, reading and so on print figures as the pages do.
func (p *plan) length(m float64) string   { return setup.FormatLength(m, p.s.Units) }
func (p *plan) reading(av float64) string { return p.s.Style().Reading(av) }

// stops prints a size in stops, to a tenth.
func stops(v float64) string {
	v = math.Abs(v)
	if text := fmt.Sprintf("%.1f", v); text != "1.0" {
		return text + " stops"
	}
	return "1.0 stop"
}

// called is the name of a light in the file: that of the pair for one of a pair.
func called(l *setup.Light) string {
	if l.Pair != nil {
		return l.Pair.Of
	}
	return l.Name
}

// item is what moves as one: a light, the two of a pair, or a grip item.
type item struct {
	name   string
	lights []int // one, or L and R
	grip   int   // -1 for lights
}

// items gives every item, each after those that it is aimed at or stands under
// or over.
func (p *plan) items() []item {
	var list []item
	at := map[string]int{}
	for i := range p.s.Lights {
		l := &p.s.Lights[i]
		at[l.Name] = len(list)
		if l.Pair != nil && l.Pair.Side == "R" && len(list) > 0 {
			at[l.Name] = len(list) - 1
			list[len(list)-1].lights = append(list[len(list)-1].lights, i)
			continue
		}
		list = append(list, item{name: called(l), lights: []int{i}, grip: -1})
	}
	for i := range p.s.Grip {
		at[p.s.Grip[i].Name] = len(list)
		list = append(list, item{name: p.s.Grip[i].Name, grip: i})
	}
	var out []item
	seen := make([]bool, len(list))
	var visit func(i int)
	visit = func(i int) {
		if seen[i] {
			return
		}
		seen[i] = true
		for _, name := range p.leansOn(list[i]) {
			if j, ok := at[name]; ok {
				visit(j)
			}
		}
		out = append(out, list[i])
	}
	for i := range list {
		visit(i)
	}
	return out
}

func (p *plan) leansOn(it item) (names []string) {
	if it.grip >= 0 {
		if at := p.s.Grip[it.grip].Place; at != nil {
			names = append(names, at.Ref)
		}
	}
	for _, i := range it.lights {
		l := &p.s.Lights[i]
		names = append(names, l.Aim.Target)
		if l.Place != nil {
			names = append(names, l.Place.Ref)
		}
	}
	return names
}

// place of an item; of a pair that of L.
func (p *plan) place(it item) *setup.Place {
	if it.grip >= 0 {
		return p.s.Grip[it.grip].Place
	}
	return p.s.Lights[it.lights[0]].Place
}

// placeOf finds an item's place by its full name, "Rim L".
func (p *plan) placeOf(name string) *setup.Place {
	for i := range p.s.Lights {
		if strings.EqualFold(p.s.Lights[i].Name, name) {
			return p.s.Lights[i].Place
		}
	}
	for i := range p.s.Grip {
		if strings.EqualFold(p.s.Grip[i].Name, name) {
			return p.s.Grip[i].Place
		}
	}
	return nil
}

func at(p *setup.Place) exposure.Vec {
	v := exposure.Vec{X: p.Right, Y: p.Front}
	if p.Height != nil {
		v.Z = *p.Height
	}
	return v
}

func aimed(a setup.Aim) exposure.Vec { return exposure.Vec{X: a.Right, Y: a.Front, Z: a.Height} }

// apart is how far from the middle one of a pair stays, m.
const apart = 0.05

// move puts an item at a point, and the other of a pair at its mirror image; those
// do not change sides. A boom's column goes along.
func (p *plan) move(it item, to exposure.Vec, why string) {
	if from := p.place(it).Right; len(it.lights) > 1 && from != 0 && to.X*from < apart*math.Abs(from) {
		to.X = math.Copysign(math.Min(apart, math.Abs(from)), from)
		p.warn(p.whereOf(it).Key("place"), "pair-crosses", "write two lights", "the two of %q would change sides: they stay %s from the middle", it.name, p.length(math.Abs(to.X)))
	}
	if it.grip >= 0 {
		put(p.s.Grip[it.grip].Place, to)
	}
	for _, i := range it.lights {
		l := &p.s.Lights[i]
		from := at(l.Place)
		put(l.Place, to)
		if l.Stand != nil && l.Stand.Base != nil {
			l.Stand.Base.Right += to.X - from.X
			l.Stand.Base.Front += to.Y - from.Y
		}
		to.X = -to.X
	}
	p.moved[it.name] = why
	p.aims()
}

func put(p *setup.Place, to exposure.Vec) {
	p.Right, p.Front = to.X+0, to.Y+0
	if p.Height != nil {
		to.Z = math.Max(to.Z, 0)
		if p.Lower != nil { // it keeps its tilt
			p.Lower = ptr(*p.Lower + to.Z - *p.Height)
		}
		p.Height = ptr(to.Z)
	}
}

// aims follows with every aim what it is aimed at.
func (p *plan) aims() {
	for i := range p.s.Lights {
		l := &p.s.Lights[i]
		if l.Aim.Unknown {
			continue
		}
		if _, part := p.s.Subject.Part(l.Aim.Target); part || l.Aim.Target == "place" {
			continue
		}
		switch l.Aim.Target {
		case "background":
			if l.Place != nil && l.Place.Height != nil {
				l.Aim.Height = *l.Place.Height
			}
		default:
			if to := p.placeOf(l.Aim.Target); to != nil && to.Height != nil {
				l.Aim.Right, l.Aim.Front, l.Aim.Height = to.Right, to.Front, *to.Height
			}
		}
	}
}

// throw is the straight line from a light to where it is aimed, m.
func throw(l *setup.Light) (float64, bool) {
	if l.Place == nil || l.Place.Height == nil || l.Aim.Unknown {
		return 0, false
	}
	d := aimed(l.Aim).Minus(at(l.Place)).Length()
	return d, d > 1e-6
}

// fixed reports whether a light cannot be put elsewhere: a window, the sun.
func fixed(l *setup.Light) bool { return l.Source == exposure.Daylight }
