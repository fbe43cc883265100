package setup

import (
	"math"
	"slices"
	"strings"

	"stopleaf/exposure"
)

// outputs compares what each flash was recorded to read with what its head once
// gave: reading, plus the difference of powers and of speeds, less the fall-off
// between the two distances by the source's own emission.
func (c *checker) outputs() {
	for i := range c.s.Lights {
		l := &c.s.Lights[i]
		recorded, known := c.recordedAv(l)
		expected, ok := c.expectedAv(i)
		if !known || !ok {
			continue
		}
		if d := recorded - expected; math.Abs(d) > contradiction+1e-9 {
			more := "more"
			if d < 0 {
				more = "less"
			}
			c.warn(l.Where, "power", "output", "check its power, its place and its modifier; est.",
				"by what its head once gave %q should read %s here, and %s is recorded, %.1f stops %s",
				l.Name, c.s.Style().Reading(expected), c.s.Style().Reading(recorded), math.Abs(d), more)
		}
	}
}

// expectedAv is what a light should read by the output of its head. ok is false
// where the comparison would be a guess: no output with this modifier, no
// power, place or size, light turned off its aim, metered toward the camera, or
// driven by a pack.
func (c *checker) expectedAv(i int) (av float64, ok bool) {
	l := &c.s.Lights[i]
	if l.Off || l.Pack != nil || l.Source != exposure.Flash || l.Head == nil || l.Power == nil || c.s.Exposure.ISO == nil || c.n == nil || i >= len(c.n.Lights) {
		return 0, false
	}
	throw := c.n.Lights[i].ThrowM
	if throw == nil || l.Aim.Feather != nil || l.Meter.Toward == "camera" {
		return 0, false
	}
	in := l.input()
	best := math.Inf(1)
	for j := range l.Head.Outputs {
		o := &l.Head.Outputs[j]
		loss, same := c.withSame(l.Modifier, o.With)
		reads, known := in.Carry(o.ReadsAv, o.Then(), exposure.FlashAt{ThrowM: *throw, Power: *l.Power, ISO: *c.s.Exposure.ISO, Loss: loss})
		if gap := math.Abs(math.Log2(o.At / *throw)); same && known && gap < best {
			best, av = gap, reads
		}
	}
	return av, !math.IsInf(best, 0)
}

// Then is how a head was set when its output was metered.
func (o *Output) Then() exposure.FlashAt {
	return exposure.FlashAt{ThrowM: o.At, Power: o.PowerStops, ISO: o.ISO}
}

// withSame reports whether an output was metered with the modifier a light
// has, and what a gel on the light takes that was not on it then.
func (c *checker) withSame(m *Modifier, with string) (loss float64, same bool) {
	if m != nil && m.Gel != nil {
		if m.Gel.Loss == nil {
			return 0, false
		}
		loss = *m.Gel.Loss
	}
	with = strings.TrimSpace(with)
	switch {
	case m == nil || strings.EqualFold(m.Kind, "bare"):
		return loss, with == "" || strings.EqualFold(with, "bare")
	case with == "":
		return 0, false
	case m.Gear != "" && strings.EqualFold(m.Gear, with):
		return loss, true
	}
	for _, units := range []Units{c.s.Units, Metres} { // a gear file has its own
		if o := modifierOf(with, units, &gearList{}); o != nil && sameModifier(m, o) {
			return loss, o.Gel == nil
		}
	}
	return 0, false
}

// modifierOf reads the shorthand of a modifier, which may name one of the gear;
// nil when it is none.
func modifierOf(text string, units Units, gear *gearList) *Modifier {
	m := &meaning{log: &log{}, units: units, s: &Setup{Units: units}, gear: gear}
	o := m.shortModifier(&written{kind: isText, text: text})
	if m.problems.HasErrors() {
		return nil
	}
	return o
}

func sameModifier(a, b *Modifier) bool {
	if !strings.EqualFold(a.Kind, b.Kind) || !near(a.Grid, b.Grid) {
		return false
	}
	if len(b.Diffusers) > 0 && !slices.Equal(slices.Sorted(slices.Values(a.Diffusers)), slices.Sorted(slices.Values(b.Diffusers))) {
		return false
	}
	return near(a.Width, b.Width) && near(a.Height, b.Height) || near(a.Width, b.Height) && near(a.Height, b.Width)
}

func near(a, b *float64) bool {
	if a == nil || b == nil {
		return a == b
	}
	return math.Abs(*a-*b) < 0.011
}

// backgroundReading compares the reading of the background with all the light
// that can reach it: its own lights as metered there, what spills from those
// on the subject, and the room's. A lower reading can be the tone; a higher one
// cannot be.
func (c *checker) backgroundReading() {
	b := c.s.Background
	if b == nil || b.ReadingAv == nil || c.n == nil || len(c.n.Lights) != len(c.s.Lights) {
		return
	}
	sum := 0.0
	if c.s.Exposure.AmbientAv != nil {
		sum += math.Exp2(*c.s.Exposure.AmbientAv)
	}
	for i := range c.s.Lights {
		l := &c.s.Lights[i]
		av, ok := c.recordedAv(l)
		if !ok {
			return
		}
		switch spill := c.n.Lights[i].Falloff.Background; {
		case l.Role == "background" || l.Aim.Target == "background":
			sum += math.Exp2(av)
		case spill != nil:
			sum += math.Exp2(av - *spill)
		case l.Place != nil && l.Place.Front < 0 && !l.Aim.Unknown && l.Aim.Front >= l.Place.Front:
			// from behind, toward the subject: nothing of it falls there
		default:
			return // how much of it falls there is not known
		}
	}
	if !(sum > 0) {
		return
	}
	most := math.Log2(sum)
	if d := *b.ReadingAv - most; d > contradiction+1e-9 {
		c.warn(b.Where, "reading", "background-reading", "is a light missing from the file, or one of the readings wrong? est.",
			"the background reads %s, and all that reaches it gives %s, %.1f stops less", c.s.Style().Reading(*b.ReadingAv), c.s.Style().Reading(most), d)
	}
}
