package adapt

import (
	"fmt"
	"math"
	"slices"

	"stopleaf/exposure"
	"stopleaf/setup"
)

// otherGear adds what another head or modifier gives less than the old one: by
// what both once read, or by the energies of two heads behind one modifier.
func (p *plan) otherGear(i int, now *exposure.Light) {
	old, l, d := &p.gear.Lights[i], &p.s.Lights[i], &p.dials[i]
	p.aboutGear(i)
	if l.Power == nil {
		return
	}
	before, ok1 := p.reads(&p.gear.Lights[i], &p.was.Lights[i])
	after, ok2 := p.reads(&p.s.Lights[i], &p.was.Lights[i])
	was := p.gear.Input(nil).Lights[i].Head
	switch {
	case ok1 && ok2:
		d.more += before.av - after.av
		d.why = append(d.why, "by what both gave at 1 m")
		d.est = est(before, after)
	case !p.otherModifier(i) && was != nil && now.Head != nil && was.EnergyWs != nil && now.Head.EnergyWs != nil:
		d.add(math.Log2(*was.EnergyWs / *now.Head.EnergyWs), fmt.Sprintf("%s Ws, not %s Ws", short(*now.Head.EnergyWs), short(*was.EnergyWs)))
		d.est = "est."
	case ok2 && l.Aim.Feather != nil:
		d.lost = fmt.Sprintf("it is feathered, and what %s gives beside its axis is not known", headText(l))
	case p.otherModifier(i):
		d.lost = fmt.Sprintf("what %s gives through %s is not known", headText(l), modifierText(l))
	default:
		d.lost = fmt.Sprintf("what %s gives against %s is not known", headText(l), headText(old))
	}
}

func headText(l *setup.Light) string {
	switch {
	case l.Head == nil:
		return "its head"
	case l.Head.Name != "":
		return quoted(l.Head.Name)
	}
	return "the head before"
}

func modifierText(l *setup.Light) string {
	if l.Modifier == nil {
		return "nothing"
	}
	if l.Modifier.Gear != "" {
		return quoted(l.Modifier.Gear)
	}
	return l.Modifier.Text
}

// aboutGear says what else changes with a head or a modifier.
func (p *plan) aboutGear(i int) {
	old, l := &p.gear.Lights[i], &p.s.Lights[i]
	if l.Pair != nil && l.Pair.Side == "R" {
		return
	}
	if p.otherModifier(i) && old.Modifier != nil {
		p.otherShape(old, l)
	}
	st := l.Stand
	if st == nil || st.Counterweight == nil {
		return
	}
	was, okWas := load(old)
	now, okNow := load(l)
	at := l.Where.Key("stand")
	switch {
	case !okWas || !okNow:
		p.warn(at, "counterweight", "balance it anew", "the counterweight of %q, %s kg, balanced what hung there before", called(l), short(*st.Counterweight))
	case math.Abs(was-now) > 0.05:
		hint := "balance it anew"
		if st.Reach != nil && st.Behind != nil && *st.Behind > 0 {
			hint = fmt.Sprintf("%.1f kg at %s balances it, without the arm", now**st.Reach / *st.Behind, p.length(*st.Behind))
		}
		p.warn(at, "counterweight", hint, "the counterweight of %q, %s kg, balanced %.1f kg, and %.1f kg hang there now", called(l), short(*st.Counterweight), was, now)
	}
}

// load is what hangs on the boom of a light, kg.
func load(l *setup.Light) (float64, bool) {
	if l.Head == nil || l.Head.Mass == nil {
		return 0, false
	}
	kg := *l.Head.Mass
	if l.Modifier != nil {
		if l.Modifier.Mass == nil {
			return 0, false
		}
		kg += *l.Modifier.Mass
	}
	return kg, true
}

// otherShape compares two modifiers as they look from the subject, and by what is
// on them.
func (p *plan) otherShape(old, l *setup.Light) {
	a, b := old.Modifier, l.Modifier
	at := l.Where.Key("modifier")
	if a.Gel != nil && b.Gel == nil {
		p.warn(at, "gel", "write it to the other modifier", "%q had the gel %s, and has none now", called(l), quoted(a.Gel.Name))
	}
	if a.Grid != nil && b.Grid == nil {
		p.warn(at, "grid", "", "%q had a grid, and has none now: it spills further", called(l))
	}
	for _, d := range a.Diffusers {
		if !slices.Contains(b.Diffusers, d) {
			p.warn(at, "diffusers", "", "%q had its %s diffuser in, and has none now: it is harder", called(l), d)
		}
	}
	if a.Width == nil || b.Width == nil || a.Shines != b.Shines {
		if a.Shines != b.Shines {
			p.warn(at, "softness", "", "%q was a %s and is a %s now: it shines otherwise", called(l), a.Kind, b.Kind)
		}
		return
	}
	size := func(m *setup.Modifier) float64 {
		if m.Height == nil {
			return *m.Width
		}
		return math.Sqrt(*m.Width * *m.Height)
	}
	from, to := throw0(old), throw0(l)
	larger := size(b) / size(a)
	if from > 0 && to > 0 {
		larger *= from / to
	}
	if math.Abs(larger-1) <= looksAlike || a.Shines == exposure.Hard {
		return
	}
	word, by := "larger", larger-1
	if larger < 1 {
		word, by = "smaller", 1-larger
	}
	p.warn(at, "softness", p.sizeOf(a, to/math.Max(from, 1e-9))+" would look as before", "%q looks %.0f %% %s with %s than with %s", called(l), by*100, word, b.Text, a.Text)
}

func throw0(l *setup.Light) float64 {
	d, ok := throw(l)
	if !ok {
		return 0
	}
	return d
}
