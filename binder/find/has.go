package find

import (
	"fmt"
	"slices"
	"strings"

	"stopleaf/exposure"
	"stopleaf/setup"
)

// thing is what a set may have.
type thing struct {
	name string
	has  func(*setup.Setup) bool
}

func things() []thing {
	return []thing{
		{"grid", withModifier(func(m *setup.Modifier) bool { return m.Grid != nil })},
		{"gel", withModifier(func(m *setup.Modifier) bool { return m.Gel != nil })},
		{"diffuser", withModifier(func(m *setup.Modifier) bool { return len(m.Diffusers) > 0 })},
		{"boom", withLight(func(l *setup.Light) bool { return l.Stand != nil && l.Stand.Kind == "boom" })},
		{"pair", withLight(func(l *setup.Light) bool { return l.Pair != nil })},
		{"pack", withLight(func(l *setup.Light) bool { return l.Pack != nil })},
		{"flash", withSource(exposure.Flash)},
		{"continuous", withSource(exposure.Continuous)},
		{"bounce", withSource(exposure.Bounce)},
		{"daylight", withSource(exposure.Daylight)},
		{"ambient", func(s *setup.Setup) bool { return s.Exposure.AmbientAv != nil }},
		{"grip", func(s *setup.Setup) bool { return len(s.Grip) > 0 }},
		{"looks", func(s *setup.Setup) bool { return len(s.Looks) > 0 }},
		{"photo", func(s *setup.Setup) bool { return len(s.Photos) > 0 }},
		{"notes", func(s *setup.Setup) bool { return s.Notes != "" }},
	}
}

func hasNames() []string {
	var out []string
	for _, t := range things() {
		out = append(out, t.name)
	}
	return out
}

func withLight(has func(*setup.Light) bool) func(*setup.Setup) bool {
	return func(s *setup.Setup) bool {
		return slices.ContainsFunc(s.Lights, func(l setup.Light) bool { return has(&l) })
	}
}

func withModifier(has func(*setup.Modifier) bool) func(*setup.Setup) bool {
	return withLight(func(l *setup.Light) bool { return l.Modifier != nil && has(l.Modifier) })
}

func withSource(source exposure.Source) func(*setup.Setup) bool {
	return withLight(func(l *setup.Light) bool { return l.Source == source })
}

func has(f *written) (func(*candidate) bool, error) {
	want := strings.ToLower(f.value)
	for _, t := range things() {
		if (t.name == want || t.name+"s" == want || t.name == want+"s") && (f.op == ":" || f.op == "=") {
			return func(c *candidate) bool { return t.has(c.setup) }, nil
		}
	}
	if f.op != ":" && f.op != "=" {
		return nil, fmt.Errorf("%q: a set has a thing or not: write has:grid", f.text)
	}
	return nil, fmt.Errorf("%q: %s", f.text, setup.Suggest(f.value, hasNames()))
}
