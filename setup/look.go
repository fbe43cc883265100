package setup

import (
	"fmt"
	"math"
	"strings"

	"stopleaf/exposure"
)

// Look is a variant of the set: lights that are off, and lights that differ by
// another amount from the zero than the set as written.
type Look struct {
	Name  string
	Off   []string // names of lights, pairs as two
	Delta []LookDelta
	Where Where
}

// LookDelta is one light's difference in a look.
type LookDelta struct {
	Light string
	Delta float64 // stops from the zero; of one of a pair, each alone
	Text  string  // as written
}

func (k *Look) off(light string) bool {
	for _, name := range k.Off {
		if name == light {
			return true
		}
	}
	return false
}

func (k *Look) delta(light string) *LookDelta {
	for i := range k.Delta {
		if k.Delta[i].Light == light {
			return &k.Delta[i]
		}
	}
	return nil
}

// LookNames gives the names of the looks, in the order of the file.
func (s *Setup) LookNames() []string {
	out := []string{}
	for _, k := range s.Looks {
		out = append(out, k.Name)
	}
	return out
}

// WithLook gives the setup as it is in one of its looks: lights that are off
// keep their place and are marked so; a light with another difference has its
// power moved by as much, so that its dial follows. The title says the look. s
// itself is left as it is. The error says that there is no such look and which
// there are.
func (s *Setup) WithLook(name string) (*Setup, error) {
	var look *Look
	for i := range s.Looks {
		if strings.EqualFold(s.Looks[i].Name, strings.TrimSpace(name)) {
			look = &s.Looks[i]
		}
	}
	switch {
	case len(s.Looks) == 0:
		return nil, fmt.Errorf("no look %s: the setup has no \"looks\"", quote(name))
	case look == nil:
		return nil, fmt.Errorf("no look %s: %s", quote(name), suggest(name, s.LookNames()))
	}
	out := *s
	out.Look = look.Name
	out.titled = s.Title
	if out.Title == "" {
		out.Title = look.Name
	} else {
		out.Title += ": " + look.Name
	}
	out.Lights = append([]Light(nil), s.Lights...)
	for i := range out.Lights {
		l := &out.Lights[i]
		l.Off = look.off(l.Name)
		if d := look.delta(l.Name); d != nil {
			l.differ(d)
		}
	}
	return &out, nil
}

// TitleAsWritten is the title without the look.
func (s *Setup) TitleAsWritten() string {
	if s.Look != "" {
		return s.titled
	}
	return s.Title
}

// differ gives a light another difference. What was read off the set as written
// and does not hold in the look is no longer known.
func (l *Light) differ(d *LookDelta) {
	if l.Power != nil && l.Source == exposure.Flash {
		p := *l.Power + d.Delta - l.Delta
		l.Power = &p
	} else {
		l.Power = nil
	}
	l.Delta, l.DeltaText = d.Delta, d.Text
	l.ReadingAv, l.Dimmer, l.PowerText = nil, nil, ""
}

// looks reads the variants. All lights are known by then.
func (m *meaning) looks(w *written) {
	if w == nil {
		return
	}
	for i, item := range w.items {
		k := Look{Name: line(item.get("name")), Where: item.where()}
		called := quote(k.Name)
		switch {
		case k.Name == "":
			m.err(item.pos, "no-name", fmt.Sprintf("look %d has no \"name\"", i+1), "--look calls it by its name")
			continue
		case m.hasLook(k.Name):
			m.err(item.keyPos("name"), "name-twice", "two looks are called "+called, "give each a name of its own")
			continue
		case !item.has("off") && !item.has("delta"):
			m.warn(item.pos, "look-empty", "the look "+called+" changes nothing", "write off: [Hair], or delta: {Card: -2.6}")
		}
		m.lookOff(&k, item.get("off"))
		m.lookDelta(&k, item.get("delta"))
		m.lookBounces(&k, item)
		m.s.Looks = append(m.s.Looks, k)
	}
}

func (m *meaning) hasLook(name string) bool {
	for _, k := range m.s.Looks {
		if strings.EqualFold(k.Name, name) {
			return true
		}
	}
	return false
}

func (m *meaning) lookOff(k *Look, w *written) {
	for _, t := range m.texts(w) {
		for _, l := range m.lightsCalled(k, t.pos, line(t)) {
			switch {
			case m.s.IsZero(l):
				m.err(t.pos, "look-zero", fmt.Sprintf("%s is off in the look %s, and every difference is from it", quote(l.Name), quote(k.Name)), "leave it on; write another setup for a set without it")
			case !k.off(l.Name):
				k.Off = append(k.Off, l.Name)
			}
		}
	}
}

func (m *meaning) lookDelta(k *Look, w *written) {
	if w == nil {
		return
	}
	for _, f := range w.fields {
		lights := m.lightsCalled(k, f.pos, f.name)
		v := m.delta(f.value)
		if v == nil {
			continue
		}
		for _, l := range lights {
			d := LookDelta{Light: l.Name, Delta: *v, Text: line(f.value)}
			if l.Pair != nil && l.Pair.Metered == "both" && strings.EqualFold(f.name, l.Pair.Of) {
				d.Delta-- // each alone gives half of what both give
			}
			switch {
			case m.s.IsZero(l):
				m.err(f.pos, "look-zero", fmt.Sprintf("%s has a difference in the look %s, and is itself what every difference is from", quote(l.Name), quote(k.Name)), "take it out")
			case k.off(l.Name):
				m.err(f.pos, "look-off", fmt.Sprintf("%s is off in the look %s, and has a difference in it", quote(l.Name), quote(k.Name)), "keep one of the two")
			case k.delta(l.Name) != nil:
				m.err(f.pos, "key-twice", fmt.Sprintf("%s is given twice in the look %s", quote(l.Name), quote(k.Name)), "a pair's name stands for both of it")
			case !(math.Abs(d.Delta) <= maxDelta):
				m.err(f.pos, "bad-delta", fmt.Sprintf("%s is %.1f stops from %s; 20 is the most", quote(l.Name), math.Abs(d.Delta), m.zeroInWords()), "")
			default:
				k.Delta = append(k.Delta, d)
			}
		}
	}
}

// lightsCalled finds a light by name, or both of a pair.
func (m *meaning) lightsCalled(k *Look, at Pos, name string) []*Light {
	var out []*Light
	var known []string
	for i := range m.s.Lights {
		l := &m.s.Lights[i]
		if strings.EqualFold(l.Name, name) || l.Pair != nil && strings.EqualFold(l.Pair.Of, name) {
			out = append(out, l)
		}
		if l.Pair == nil || l.Pair.Side == "L" {
			known = append(known, l.shared())
		}
	}
	if len(out) == 0 && len(known) > 0 {
		m.err(at, "unknown-name", fmt.Sprintf("the look %s speaks of %s, and there is no such light", quote(k.Name), quote(name)), suggest(name, known))
	}
	return out
}

// lookBounces follows what feeds each bounce: a card gives nothing when its
// light is off, and something else when its light does.
func (m *meaning) lookBounces(k *Look, w *written) {
	for i := range m.s.Lights {
		l := &m.s.Lights[i]
		if l.Source != exposure.Bounce || l.LitBy == "" || k.off(l.Name) || k.delta(l.Name) != nil {
			continue
		}
		fed, off, changed := 0, 0, 0
		for j := range m.s.Lights {
			f := &m.s.Lights[j]
			if f.Name != l.LitBy && (f.Pair == nil || f.Pair.Of != l.LitBy) {
				continue
			}
			fed++
			if k.off(f.Name) {
				off++
			} else if k.delta(f.Name) != nil {
				changed++
			}
		}
		switch {
		case fed > 0 && off == fed:
			m.err(w.keyPos("off"), "look-bounce", fmt.Sprintf("%s is lit by %s, which is off in the look %s", quote(l.Name), quote(l.LitBy), quote(k.Name)), "it gives nothing then: write it under \"off\" as well")
		case off+changed > 0:
			m.warn(w.pos, "look-bounce", fmt.Sprintf("%s is lit by %s, which differs in the look %s; its own difference is taken as before", quote(l.Name), quote(l.LitBy), quote(k.Name)), "meter it, and write it under \"delta\"")
		}
	}
}
