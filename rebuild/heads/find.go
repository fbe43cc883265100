package heads

import (
	"strings"

	"stopleaf/exposure"
	"stopleaf/setup"
)

// Find looks up a head and a modifier: its shorthand in any notation a setup
// file takes, or its name in the gear file; "" is a bare head. ok is false where
// there is none, and where there are several: two heads of one name, or two
// modifiers of one kind and size.
func (t *Table) Find(head, modifier string) (o Output, ok bool) {
	id, known := modifierID{kind: bare, shines: exposure.Hard}, strings.TrimSpace(modifier) == ""
	if m := setup.ParseModifier(modifier, t.Units); m != nil {
		id, known = idOf(m), true
	}
	name := strings.TrimSpace(modifier)
	return t.only(func(o *Output) bool {
		called := o.gear != "" && strings.EqualFold(o.gear, name)
		return strings.EqualFold(o.Head, strings.TrimSpace(head)) && (called || known && o.fits(id))
	})
}

// For looks up the head and the modifier of a light. ok is false as with Find,
// and for a light without a named head, on a pack, or without a modifier.
func (t *Table) For(l *setup.Light) (o Output, ok bool) {
	if l.Head == nil || l.Head.Name == "" || l.Pack != nil || l.Modifier == nil {
		return Output{}, false
	}
	head, id := idOfHead(l.Head), idOf(l.Modifier)
	return t.only(func(o *Output) bool { return o.isHead(head) && o.fits(id) })
}

// isHead reports whether a head is the one of this output.
func (o *Output) isHead(id headID) bool {
	known := id.energy > 0 && o.head.energy > 0 || o.sameName
	return o.head.name == id.name && (o.head.energy == id.energy || !known)
}

// fits reports whether a modifier is the one of this output.
func (o *Output) fits(id modifierID) bool {
	switch {
	case o.id.unnamed() != id.unnamed():
		return false
	case o.split:
		return o.gear == id.gear
	}
	return o.gear == "" || id.gear == "" || o.gear == id.gear
}

// only finds the one that matches.
func (t *Table) only(matches func(*Output) bool) (found Output, ok bool) {
	for i := range t.Outputs {
		if !matches(&t.Outputs[i]) {
			continue
		}
		if ok {
			return Output{}, false
		}
		found, ok = t.Outputs[i], true
	}
	return found, ok
}

// Writable reports whether "with" of an output can say the modifier: its kind is
// one that the shorthand knows, or it goes by its name in the gear file.
func (o *Output) Writable() bool {
	if o.split && o.gear != "" {
		return true
	}
	m := setup.ParseModifier(o.Modifier, setup.Metres)
	return m != nil && idOf(m) == o.id.unnamed()
}

// Reads is what the head reads (Av) through the modifier m, nil for a bare head,
// at a throw (m), a power (stops from full) and a speed: est., and as sure as
// Spread. It is nil where it would be a guess: m is another modifier than this
// output's (another size, grid or diffuser makes another), its gel's loss is not
// known, or a lens is close in.
func (o *Output) Reads(m *setup.Modifier, throw, power, iso float64) *float64 {
	loss, known := gelLoss(m)
	if !known || !o.fits(idOf(m)) {
		return nil
	}
	av, ok := o.light.Carry(o.Av, exposure.AtOne, exposure.FlashAt{ThrowM: throw, Power: power, ISO: iso, Loss: loss})
	if !ok {
		return nil
	}
	return &av
}
