package adapt

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"stopleaf/exposure"
	"stopleaf/setup"
	"stopleaf/setup/edit"
)

// swaps writes other gear into the text, and reads it again. Lights are called as
// in the file that was read, whatever they are called by now. A power is written as
// stops from full for the while, which every head understands.
func (w *writer) swaps(first *setup.Setup, o Options) error {
	if len(o.Heads)+len(o.Modifiers) == 0 {
		return nil
	}
	s := w.s
	for _, swap := range o.Heads {
		i, err := find(first, "swap", swap.Light)
		if err != nil {
			return err
		}
		h, err := headCalled(s, i, swap.Gear)
		if err != nil {
			return err
		}
		l := &s.Lights[i]
		p := w.item("lights", w.index(i))
		if err := w.setYAML(p.With("head"), called(l), "as given", yamlText(h.Name)); err != nil {
			return err
		}
		if l.Power != nil {
			if err := w.set(p.With("power"), called(l), "", neutral(*l.Power)); err != nil {
				return err
			}
		}
	}
	for _, swap := range o.Modifiers {
		i, err := find(first, "swap-modifier", swap.Light)
		if err != nil {
			return err
		}
		m, err := modifierCalled(s, i, swap.Gear)
		if err != nil {
			return err
		}
		l := &s.Lights[i]
		if err := w.setYAML(w.item("lights", w.index(i), "modifier"), called(l), "as given", yamlText(m.Gear+keptGel(l.Modifier, m))); err != nil {
			return err
		}
	}
	return w.read()
}

// yamlText quotes a text for SetYAML, which else might read more into it.
func yamlText(s string) string { return strconv.Quote(s) }

// neutral is a power as stops from full.
func neutral(power float64) string {
	if power > -1e-9 {
		return "full"
	}
	return edit.Number("-0", power, 1e-6)
}

// keptGel is the gel of a modifier in the shorthand, where that says all of it and
// the other has none.
func keptGel(was, now *setup.Modifier) string {
	if was == nil || was.Gel == nil || now.Gel != nil || was.Gear != "" || was.Gel.Mired != nil || was.Gel.Loss != nil {
		return ""
	}
	return ", gel " + was.Gel.Name
}

// find looks up the light that an option names: by name, by that of a pair, or by
// number.
func find(s *setup.Setup, option, name string) (int, error) {
	var known []string
	for i := range s.Lights {
		l := &s.Lights[i]
		switch {
		case strings.EqualFold(called(l), name):
			return i, nil
		case strconv.Itoa(l.Number) == name && (l.Pair == nil || l.Pair.Side == "L"):
			return i, nil
		case strings.EqualFold(l.Name, name):
			return 0, &Refusal{Option: option, Message: fmt.Sprintf("%s is one of a pair, which the file writes as one light", quoted(l.Name)), Hint: "name the pair: " + l.Pair.Of}
		case !slices.Contains(known, called(l)):
			known = append(known, called(l))
		}
	}
	return 0, &Refusal{Option: option, Message: "there is no light " + quoted(name), Hint: nearest(name, known)}
}

func nearest(name string, known []string) string {
	if near := setup.Nearest(name, known); near != "" {
		return fmt.Sprintf("did you mean %s? there are %s", quoted(near), strings.Join(known, ", "))
	}
	if len(known) == 0 {
		return ""
	}
	return "there are " + strings.Join(known, ", ")
}

// headCalled finds a head of the gear that a light can take.
func headCalled(s *setup.Setup, i int, name string) (*setup.Head, error) {
	l := &s.Lights[i]
	refuse := func(hint, message string, args ...any) error {
		return &Refusal{Option: "swap", Message: fmt.Sprintf(message, args...), Hint: hint}
	}
	if l.Source == exposure.Bounce || l.Source == exposure.Daylight {
		return nil, refuse("", "%s is %s and has no head", quoted(called(l)), sourceWord(l.Source))
	}
	var known []string
	for k := range s.GearHeads {
		h := &s.GearHeads[k]
		if !strings.EqualFold(h.Name, name) {
			known = append(known, h.Name)
			continue
		}
		switch lamp := h.Watts != nil && h.EnergyWs == nil; {
		case lamp && l.Source == exposure.Flash:
			return nil, refuse("", "%s is a continuous lamp, and %s is a flash", quoted(h.Name), quoted(called(l)))
		case h.EnergyWs != nil && h.Watts == nil && l.Source == exposure.Continuous:
			return nil, refuse("", "%s is a flash head, and %s is a continuous light", quoted(h.Name), quoted(called(l)))
		}
		return h, nil
	}
	if len(known) == 0 {
		return nil, refuse("write it under \"heads\" in a gear file, and name that with \"gear\"", "there is no head %s: the setup has no gear with heads", quoted(name))
	}
	return nil, refuse(nearest(name, known), "there is no head %s in the gear", quoted(name))
}

func sourceWord(s exposure.Source) string {
	if s == exposure.Bounce {
		return "a bounce"
	}
	return string(s)
}

func modifierCalled(s *setup.Setup, i int, name string) (*setup.Modifier, error) {
	if l := &s.Lights[i]; l.Source == exposure.Daylight {
		return nil, &Refusal{Option: "swap-modifier", Message: fmt.Sprintf("%s is daylight: its modifier is the window", quoted(called(l)))}
	}
	var known []string
	for k := range s.GearModifiers {
		m := &s.GearModifiers[k]
		if strings.EqualFold(m.Gear, name) {
			return m, nil
		}
		known = append(known, m.Gear)
	}
	if len(known) == 0 {
		return nil, &Refusal{Option: "swap-modifier", Message: "there is no modifier " + quoted(name) + ": the setup has no gear with modifiers",
			Hint: "write it under \"modifiers\" in a gear file, and name that with \"gear\""}
	}
	return nil, &Refusal{Option: "swap-modifier", Message: "there is no modifier " + quoted(name) + " in the gear", Hint: nearest(name, known)}
}

// swapped reports whether a light has another head or modifier than before.
func (p *plan) swapped(i int) bool { return p.otherHead(i) || p.otherModifier(i) }

func (p *plan) otherHead(i int) bool { return p.asked(p.o.Heads, i) }

func (p *plan) otherModifier(i int) bool { return p.asked(p.o.Modifiers, i) }

func (p *plan) asked(list []Swap, i int) bool {
	if l := &p.first.Lights[i]; l.Pair != nil && l.Pair.Side == "R" {
		i--
	}
	return slices.ContainsFunc(list, func(s Swap) bool {
		at, err := find(p.first, "", s.Light)
		return err == nil && at == i
	})
}

// keepPlaces makes a light with another modifier stand where it stood, though the
// file may say so by its lower edge.
func (p *plan) keepPlaces() {
	for i := range p.was.Lights {
		if p.otherModifier(i) {
			p.was.Lights[i].Place, p.was.Lights[i].Aim = p.gear.Lights[i].Place, p.gear.Lights[i].Aim
			p.s.Lights[i].Place, p.s.Lights[i].Aim = copied(p.gear.Lights[i].Place), p.gear.Lights[i].Aim
		}
	}
}
