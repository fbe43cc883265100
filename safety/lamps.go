package safety

import (
	"strings"

	"stopleaf/setup"
)

// lampKind tells a lamp's kind: "halogen", "led", "none" for a light without
// one, or "" when the file does not say.
func lampKind(l *setup.Light) string {
	if !isLamp(l) {
		return "none"
	}
	if l.Head == nil {
		return ""
	}
	if m := l.Head.Modelling; m != nil {
		if m.Watts != nil && *m.Watts == 0 {
			return "none"
		}
		if m.Lamp != "" {
			return m.Lamp
		}
	}
	kind := strings.ToLower(l.Head.Kind)
	if strings.Contains(kind, "led") || strings.Contains(kind, "panel") {
		return "led"
	}
	return ""
}

// holdsHeat says whether a modifier is closed, gridded or snooted, so that a
// hot lamp's heat stays in it.
func holdsHeat(m *setup.Modifier) bool {
	if m == nil {
		return false
	}
	if m.Grid != nil || len(m.Diffusers) > 0 {
		return true
	}
	switch m.Kind {
	case "softbox", "strip", "octabox", "parabolic", "lantern", "snoot", "grid spot", "optical spot":
		return true
	}
	return false
}

// lamps warns of halogen heat in closed modifiers, and gives the plain rule
// where the kind of lamp is not known. LED is not warned of.
func lamps(c *set) []Note {
	var halogen, unknown []*setup.Light
	watts := 0.0
	for i := range c.s.Lights {
		l := &c.s.Lights[i]
		if !holdsHeat(l.Modifier) {
			continue
		}
		switch lampKind(l) {
		case "halogen":
			halogen = append(halogen, l)
			if m := l.Head.Modelling; m != nil && m.Watts != nil && *m.Watts > watts {
				watts = *m.Watts
			}
		case "":
			unknown = append(unknown, l)
		}
	}
	var out []Note
	if len(halogen) > 0 {
		items := itemsOf(halogen)
		n := c.note("modelling-heat", 5, only(items), "safety.halogen", c.list(items)...)
		if watts > 0 {
			n = n.figures(map[string]float64{"watts": watts})
		}
		out = append(out, n)
	}
	// With something in the air every lamp is off already.
	if len(unknown) > 0 && !has(c.s.Hazards, "dust") && !has(c.s.Hazards, "aerosol") {
		items := itemsOf(unknown)
		out = append(out, c.note("modelling-heat", 5, only(items), "safety.lamp-unknown", c.list(items)...))
	}
	return out
}

// gels warns of gels on anything hot: a flash tube always, a lamp unless it is
// an LED.
func gels(c *set) []Note {
	var on []*setup.Light
	for i := range c.s.Lights {
		l := &c.s.Lights[i]
		if l.Modifier == nil || l.Modifier.Gel == nil || !isLamp(l) {
			continue
		}
		if isFlash(l) || lampKind(l) != "led" {
			on = append(on, l)
		}
	}
	if len(on) == 0 {
		return nil
	}
	items := itemsOf(on)
	return []Note{c.note("gels", 5, only(items), "safety.gels", c.list(items)...)}
}
