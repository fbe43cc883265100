package adapt

import (
	"fmt"
	"math"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
	"stopleaf/setup"
)

// shift moves what was read.
func (p *plan) shift(m moved) {
	was, e := &p.was.Exposure, &p.s.Exposure
	if was.KeyAv != nil {
		e.KeyAv = ptr(*was.KeyAv + m.base)
	}
	if was.AmbientAv != nil {
		e.AmbientAv = ptr(*was.AmbientAv + m.gain)
	}
	if b := p.s.Background; b != nil && b.ReadingAv != nil {
		b.ReadingAv = ptr(*b.ReadingAv + m.base)
	}
	for i := range p.s.Lights {
		if l := &p.s.Lights[i]; l.ReadingAv != nil {
			l.ReadingAv = ptr(*l.ReadingAv + m.base)
		}
	}
	if m.base == 0 || was.KeyAv == nil {
		return
	}
	p.why["base"] = fmt.Sprintf("the key reads %s, not %s", p.reading(*e.KeyAv), p.reading(*was.KeyAv))
	if was.Zero != "" {
		p.why["base"] = fmt.Sprintf("%s reads %s, not %s", was.Zero, p.reading(*e.KeyAv), p.reading(*was.KeyAv))
	}
	if was.ApertureAv != nil {
		p.aperture(*e.KeyAv + *was.ApertureAv - *was.KeyAv)
	}
	p.bases(m.base)
}

// aperture sets the camera as it was placed against the key: to the nearest mark
// that it has.
func (p *plan) aperture(av float64) {
	e := &p.s.Exposure
	steps := 3.0
	if e.Halves {
		steps = 2
	}
	av = math.Floor(av*steps+0.5+1e-9) / steps
	if w := p.s.Camera.WidestAv; w != nil && av < *w-1e-6 {
		p.warn(p.was.Camera.Where.Key("widest"), "widest", "take a smaller base, or a lens that opens further",
			"the camera would be set to %s, and the lens opens to %s: the picture is %s darker than it was placed",
			e.CameraMark(av), e.CameraMark(*w), stops(*w-av))
		av = *w
	}
	e.ApertureAv = ptr(av)
}

// bases moves the list of bases as the key moves: by the same where they are
// marks then too, else by whole stops.
func (p *plan) bases(by float64) {
	e := &p.s.Exposure
	if len(e.Bases) == 0 {
		return
	}
	has, marks := false, true
	for _, b := range e.Bases {
		has = has || math.Abs(b.Av-*p.was.Exposure.KeyAv) < 1e-6
		marks = marks && p.isMark(b.Av+by)
	}
	if !has || !marks {
		by = math.Round(by)
	}
	var kept []exposure.Base
	for _, b := range e.Bases {
		if av := b.Av + by; av >= -1 && av <= 13 {
			kept = append(kept, exposure.NewBase(av))
		}
	}
	if gone := len(e.Bases) - len(kept); gone > 0 {
		p.warn(e.Where.Key("bases"), "bases", "", "%d of the bases would lie beyond f/0.7 or f/90, and are left out", gone)
	}
	if len(kept) == 0 {
		kept = []exposure.Base{exposure.NewBase(*e.KeyAv)}
	}
	e.Bases = kept
}

func (p *plan) isMark(av float64) bool {
	steps := 3.0
	if p.s.Exposure.Halves {
		steps = 2
	}
	return math.Abs(av*steps-math.Round(av*steps)) < 1e-6
}

// followers works out what each light must give.
func (p *plan) followers(m moved) {
	rest := m.base - m.gain // of what follows the shutter
	for i := range p.s.Lights {
		l := &p.s.Lights[i]
		switch {
		case l.Source == exposure.Flash:
			p.dials[i].add(m.base-m.speed, p.flashWhy(m))
		case l.Source == exposure.Continuous && (l.Dimmer != nil || l.Power != nil):
			if math.Abs(rest) > tenth/2 || p.s.Exposure.ShutterS == p.was.Exposure.ShutterS {
				p.dials[i].add(rest, "what the shutter leaves")
			}
		case slow(l) && p.was.IsZero(l):
		case l.Source == exposure.Continuous && math.Abs(rest) > tenth:
			p.unset(l, rest)
		case l.Source == exposure.Daylight && math.Abs(rest) > tenth:
			p.drift(l, -rest)
		case l.Source == exposure.Bounce && math.Abs(rest) > tenth && p.fedSlow(l):
			p.drift(l, -rest)
		}
	}
	if av := p.s.Exposure.AmbientAv; av != nil && math.Abs(rest) > tenth && p.s.Exposure.Zero != exposure.Ambient && p.was.Exposure.KeyAv != nil {
		p.warn(p.was.Exposure.Where.Key("ambient"), "ambient", p.holdHint(), "the room's own light would be %s, not %s",
			apex.FormatDelta(*av-*p.s.Exposure.KeyAv), apex.FormatDelta(*p.was.Exposure.AmbientAv-*p.was.Exposure.KeyAv))
	}
}

// unset says what a light must give whose setting is not written.
func (p *plan) unset(l *setup.Light, more float64) {
	if l.Pair == nil || l.Pair.Side == "L" {
		p.warn(l.Where.Item, "no-dimmer", "find its setting with the meter", "%q must give %s %s, and its setting is not written", called(l), stops(more), moreOrLess(more))
	}
}

func moreOrLess(v float64) string {
	if v < 0 {
		return "less"
	}
	return "more"
}

func (p *plan) flashWhy(m moved) string {
	var out string
	if m.base != 0 {
		out = p.why["base"]
	}
	if m.speed != 0 {
		if out != "" {
			out += ", "
		}
		out += fmt.Sprintf("ISO %s, not %s", short(*p.s.Exposure.ISO), short(*p.was.Exposure.ISO))
	}
	return out
}

// holdHint says which shutter would hold what follows it.
func (p *plan) holdHint() string {
	was, now := p.was.Exposure, p.s.Exposure
	if was.ShutterS == nil || was.KeyAv == nil {
		return ""
	}
	t := *was.ShutterS * math.Exp2(*now.KeyAv-*was.KeyAv)
	if was.ISO != nil && now.ISO != nil {
		t *= *was.ISO / *now.ISO
	}
	hint := fmt.Sprintf("%s would hold it", apex.FormatTime(t))
	if now.SyncS != nil && t < *now.SyncS*(1-1e-9) && p.flash() {
		hint += fmt.Sprintf(", and the fastest with flash is %s", apex.FormatTime(*now.SyncS))
	}
	return hint
}

// drift is what daylight does that cannot be held: its difference becomes another.
func (p *plan) drift(l *setup.Light, by float64) {
	was := l.Delta
	l.Delta += by
	if l.ReadingAv != nil {
		l.ReadingAv = ptr(*l.ReadingAv + by)
	}
	p.moved[called(l)+" delta"] = "it follows the shutter"
	if l.Pair == nil || l.Pair.Side == "L" {
		p.warn(l.Where.Key("delta"), "not-held", p.holdHint(), "%q follows the shutter, and would be %s, not %s", called(l), apex.FormatDelta(l.Delta), apex.FormatDelta(was))
	}
}

// fedSlow reports whether a bounce is fed by what follows the shutter and is not
// held otherwise.
func (p *plan) fedSlow(l *setup.Light) bool {
	switch l.LitBy {
	case "daylight", "sun", "window", "ambient":
		return true
	}
	for i := range p.was.Lights {
		f := &p.was.Lights[i]
		if f.Name == l.LitBy || f.Pair != nil && f.Pair.Of == l.LitBy {
			return f.Source == exposure.Daylight
		}
	}
	return false
}

func (d *dial) add(more float64, why string) {
	if math.Abs(more) < 1e-9 {
		return
	}
	d.more += more
	d.why = append(d.why, why)
}
