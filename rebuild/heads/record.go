package heads

import (
	"fmt"
	"strings"

	"stopleaf/exposure"
	"stopleaf/setup"
)

// learner gathers what counts, and what does not.
type learner struct {
	records []Record
	leftOut []LeftOut
	seen    map[line]bool
}

// line is what one light or one line of "output" says; the same said again, by
// a setup given twice or by every setup that shares a gear file, counts once.
type line struct {
	pos       setup.Pos
	name      string
	head      headID
	id        modifierID
	reads, at float64
	iso       float64
	power     float64
}

func (l *learner) first(k line) bool {
	if l.seen[k] {
		return false
	}
	l.seen[k] = true
	return true
}

// setup takes the lines of "output" of every head it knows, then its lights.
func (l *learner) setup(s *setup.Setup) {
	for i := range s.GearHeads {
		l.outputs(&s.GearHeads[i])
	}
	in := s.Input(nil)
	for i := range s.Lights {
		light := &s.Lights[i]
		if light.Head != nil && light.Head.Name != "" {
			l.outputs(light.Head)
		}
		if light.Source != exposure.Flash || light.Off || !l.first(line{pos: light.Where.Item, name: light.Name}) {
			continue
		}
		if i > 0 && oneReading(&s.Lights[i-1], light) {
			continue
		}
		r, why := record(s, light, &in.Lights[i])
		if why != "" {
			l.leftOut = append(l.leftOut, LeftOut{Pos: light.Where.Item, Light: light.Name, Why: why})
			continue
		}
		l.records = append(l.records, r)
	}
}

// oneReading reports whether two lights are a pair that one reading was written
// for: it counts once.
func oneReading(a, b *setup.Light) bool {
	return a.Pair != nil && b.Pair != nil && a.Pair.Of == b.Pair.Of && a.Delta == b.Delta
}

// outputs takes the lines of "output" of a head. They are told apart by what
// they say, since two gear files may hold the same one.
func (l *learner) outputs(h *setup.Head) {
	for i := range h.Outputs {
		o := &h.Outputs[i]
		id := idOf(o.Modifier)
		if !l.first(line{head: idOfHead(h), id: id, name: o.With, reads: o.ReadsAv, at: o.At, iso: o.ISO, power: o.PowerStops}) {
			continue
		}
		why := ""
		shape := shapeOf(o.Modifier)
		av, ok := shape.Carry(o.ReadsAv, o.Then(), exposure.AtOne)
		switch {
		case o.Modifier == nil && o.With != "":
			why = fmt.Sprintf("%q is not understood", o.With)
		case o.Modifier != nil && o.Modifier.Gel != nil:
			why = "metered through a gel"
		case !ok:
			why = noEmission(o.Modifier)
		}
		if why != "" {
			l.leftOut = append(l.leftOut, LeftOut{Pos: o.Pos, Why: why})
			continue
		}
		l.records = append(l.records, Record{Pos: o.Pos, Written: true, Av: av, head: idOfHead(h), name: h.Name, id: id, mod: bareAsNil(o.Modifier)})
	}
}

// bareAsNil makes one of "bare" and of nothing at all.
func bareAsNil(m *setup.Modifier) *setup.Modifier {
	if idOf(m) == idOf(nil) {
		return nil
	}
	return m
}

// record carries what a light was recorded to read to 1 m, full power and ISO
// 100. why says what it lacks; then there is no record.
func record(s *setup.Setup, l *setup.Light, in *exposure.Light) (r Record, why string) {
	reads := l.ReadingAv
	if s.Exposure.KeyAv != nil {
		av := *s.Exposure.KeyAv + l.Delta
		reads = &av
	}
	throw, placed := in.Throw()
	loss, lossKnown := gelLoss(l.Modifier)
	switch {
	case l.Head == nil || l.Head.Name == "":
		return r, "no head is named"
	case l.Pack != nil:
		return r, "it hangs on a pack, whose share is not the head's full power"
	case l.Power == nil:
		return r, "no power is written"
	case reads == nil:
		return r, "what the key reads is not known"
	case s.Exposure.ISO == nil:
		return r, "no ISO is written"
	case l.Pair != nil && l.Pair.Metered == "both":
		return r, "the pair was metered together"
	case l.Modifier == nil:
		return r, "no modifier is written"
	case l.Place == nil:
		return r, "no place is written"
	case l.Place.Height == nil:
		return r, "no height is written"
	case !placed:
		return r, "how far it is from where it is aimed is not known"
	case l.Aim.Feather != nil:
		return r, "it is feathered"
	case l.Meter.Toward != "light":
		return r, "it was not metered toward the light"
	case !metered(l):
		return r, fmt.Sprintf("it was metered at %q, which may not be where it is aimed", l.Meter.At)
	case !lossKnown:
		return r, "what its gel takes is not written"
	}
	now := exposure.FlashAt{ThrowM: throw, Power: *l.Power, ISO: *s.Exposure.ISO, Loss: loss}
	av, ok := in.Carry(*reads, now, exposure.AtOne)
	if !ok {
		return r, noEmission(l.Modifier)
	}
	return Record{Pos: l.Where.Item, Setup: s.Code, Light: l.Name, Av: av, head: idOfHead(l.Head), name: l.Head.Name,
		id: idOf(l.Modifier), mod: bareAsNil(l.Modifier)}, ""
}

// metered reports whether a light was metered where it is aimed: said of the
// meter, or not said. "face" is what the meter's place is unless it is written.
func metered(l *setup.Light) bool {
	return strings.EqualFold(l.Meter.At, "face") || strings.EqualFold(l.Meter.At, l.Aim.Target)
}

// noEmission says why a reading through a modifier cannot be carried to 1 m.
func noEmission(m *setup.Modifier) string {
	switch {
	case m != nil && m.Shines == exposure.Lens:
		return "a lens follows no law so close in"
	case m != nil && m.Shines == exposure.ShapeUnknown:
		return "how its modifier shines is not known"
	}
	return "the size of its modifier is not known"
}
