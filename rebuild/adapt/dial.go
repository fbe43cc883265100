package adapt

import (
	"fmt"
	"math"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
	"stopleaf/setup"
)

// looksAlike is the change of apparent size, as a part of it, that still counts
// as the same softness.
const looksAlike = 0.15

// output works out what each light must be set to: what the settings ask of it,
// what its distance changes, and what other gear gives.
func (p *plan) output() {
	in := p.s.Input(nil)
	for i := range p.s.Lights {
		l, d := &p.s.Lights[i], &p.dials[i]
		p.distance(i, &in.Lights[i])
		switch {
		case l.Source == exposure.Bounce || fixed(l):
			continue
		case p.swapped(i):
			p.otherGear(i, &in.Lights[i])
		}
		switch {
		case l.Power != nil:
			p.power(i, in.Lights[i].Head)
		case l.Dimmer != nil:
			p.dimmer(i)
		case l.Source == exposure.Flash && (d.more != 0 || d.lost != "" || p.swapped(i)):
			p.learned(i, in.Lights[i].Head)
		}
	}
}

// distance adds what a light that was moved must give for it, by the emission of
// its own size.
func (p *plan) distance(i int, in *exposure.Light) {
	l, was, d := &p.s.Lights[i], &p.was.Lights[i], &p.dials[i]
	if l.Place == nil || at(l.Place) == at(was.Place) && aimed(l.Aim) == aimed(was.Aim) {
		return
	}
	to, okTo := throw(l)
	from, okFrom := throw(was)
	if okTo && okFrom && math.Abs(to-from) < 5e-4 {
		return
	}
	if !okTo || !okFrom {
		if math.Hypot(l.Place.Right-was.Place.Right, l.Place.Front-was.Place.Front) > 5e-4 {
			d.lost = "how far it is from what it is aimed at is not known"
		}
		return
	}
	p.softness(i, from, to)
	near, okNear := exposure.Emission(in.Shape, in.Width, in.Height, from)
	far, okFar := exposure.Emission(in.Shape, in.Width, in.Height, to)
	if !okNear || !okFar {
		d.lost = "how its light falls off is not known"
		return
	}
	more := math.Log2(near / far)
	if l.Source == exposure.Bounce {
		if math.Abs(more) > tenth && (l.Pair == nil || l.Pair.Side == "L") {
			p.warn(l.Where.Key("place"), "bounce", "meter it; a bounce has no dial: its distance or its size makes the difference",
				"%q would give about %s %s at %s, not %s, est.", called(l), stops(more), moreOrLess(-more), p.length(to), p.length(from))
		}
		return
	}
	if l.Source == exposure.Continuous && l.Power == nil && l.Dimmer == nil && math.Abs(more) > tenth {
		p.unset(l, more)
	}
	d.add(more, fmt.Sprintf("%s away, not %s, est.", p.length(to), p.length(from)))
	d.est = "est."
}

// softness says which size would look as the light did before.
func (p *plan) softness(i int, from, to float64) {
	l := &p.s.Lights[i]
	larger := from / to
	if l.Modifier == nil || l.Modifier.Width == nil || l.Modifier.Shines == exposure.Hard || l.Modifier.Shines == exposure.Lens || p.swapped(i) {
		return
	}
	if math.Abs(larger-1) <= looksAlike || l.Pair != nil && l.Pair.Side == "R" {
		return
	}
	word, by := "larger", larger-1
	if larger < 1 {
		word, by = "smaller", 1-larger
	}
	p.warn(l.Where.Key("modifier"), "softness", p.sizeOf(l.Modifier, to/from)+" would look as before",
		"%q looks %.0f %% %s from %s than from %s", called(l), by*100, word, p.length(to), p.length(from))
}

// sizeOf words a modifier of a kind at k times its size.
func (p *plan) sizeOf(m *setup.Modifier, k float64) string {
	if m.Height == nil || m.Diameter != nil || m.Shines == exposure.Disc {
		return m.Kind + " " + p.length(*m.Width*k)
	}
	return m.Kind + " " + p.length(*m.Width*k) + " x " + p.length(*m.Height*k)
}

// power is the recorded power and what must be added to it.
func (p *plan) power(i int, h *exposure.Head) {
	l, d := &p.s.Lights[i], &p.dials[i]
	if d.lost == "" && math.Abs(d.more) < 1e-9 {
		return
	}
	if d.lost == "" {
		p.set(i, *l.Power+d.more, h)
		return
	}
	if !p.learned(i, h) {
		p.takeOut(i, "power", d.lost)
	}
}

// set takes a power as the head clicks to it, if it can.
func (p *plan) set(i int, power float64, h *exposure.Head) {
	l, d := &p.s.Lights[i], &p.dials[i]
	power = clicked(power, h)
	at := l.Where.Key("power")
	switch {
	case power > 1e-9:
		p.overFull(i, power)
		d.lost = fmt.Sprintf("it would be %s over full", stops(power))
		l.Power = nil
		return
	case power < -12:
		p.overFull(i, power)
		d.lost = "no head goes so low"
		l.Power = nil
		return
	case h != nil && h.Range != nil && power < -*h.Range-1e-9:
		p.warn(at, "below-range", "put a neutral density or a further diffuser on it, or stand it further away",
			"%q would be at %s, %s below its least", called(l), apex.FormatDial(power, apex.Dial(h.Dial), h.Step, h.EnergyWs), stops(power+*h.Range))
	}
	l.Power = ptr(power + 0)
}

// overFull says that no setting will do, and what would.
func (p *plan) overFull(i int, power float64) {
	l := &p.s.Lights[i]
	if power < 0 {
		p.warn(l.Where.Key("power"), "below-range", "put a neutral density on it", "%q would be %s below full, and no power is so low: it is taken out", called(l), stops(power))
		return
	}
	hint := "a stronger head, or ISO and distance in its favour"
	if key := p.s.Exposure.KeyAv; key != nil {
		hint = fmt.Sprintf("at full it does %s; %s", p.reading(*key-power), hint)
	}
	p.warn(l.Where.Key("power"), "over-full", hint, "%q would be %s over full: its power is taken out", called(l), stops(power))
}

// takeOut drops a setting that holds no longer.
func (p *plan) takeOut(i int, key, why string) {
	l := &p.s.Lights[i]
	p.warn(l.Where.Key(key), "no-"+key, "find it with the meter", "the %s of %q is taken out: %s", key, called(l), why)
	if key == "power" {
		l.Power = nil
	} else {
		l.Dimmer = nil
	}
}

// dimmer is a continuous light's setting, taken as a part of its light.
func (p *plan) dimmer(i int) {
	l, d := &p.s.Lights[i], &p.dials[i]
	if d.lost != "" {
		p.takeOut(i, "dimmer", d.lost)
		return
	}
	if math.Abs(d.more) < 1e-9 {
		return
	}
	to := *l.Dimmer * math.Exp2(d.more)
	switch {
	case to > 100*math.Exp2(0.05):
		p.warn(l.Where.Key("dimmer"), "over-full", "a slower shutter, more speed, or nearer", "%q would be %s over its full: its dimmer is taken out", called(l), stops(math.Log2(to/100)))
		l.Dimmer, d.lost = nil, "it would be over its full"
		return
	case to < 0.5:
		p.warn(l.Where.Key("dimmer"), "below-range", "put a neutral density on it", "%q would be dimmed to %.2f %%: its dimmer is taken out", called(l), to)
		l.Dimmer, d.lost = nil, "it would be too low"
		return
	}
	l.Dimmer = ptr(math.Min(to, 100))
	d.est = "est."
}
