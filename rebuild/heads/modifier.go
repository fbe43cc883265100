package heads

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"stopleaf/exposure"
	"stopleaf/setup"
)

// bare is the kind of a head with nothing on it.
const bare = "bare"

// modifierID tells modifiers apart: kind and size, grid and diffusers, whichever
// way up, and whichever gel is on.
type modifierID struct {
	kind        string
	shines      exposure.Shape
	long, short int    // cm; 0 unknown
	grid        string // "grid", "grid 40"
	diffusers   string
	gear        string // its name in the gear file
}

// unnamed is the modifier whatever the gear file calls it.
func (id modifierID) unnamed() modifierID {
	id.gear = ""
	return id
}

// idOf tells a modifier; nil is a bare head.
func idOf(m *setup.Modifier) modifierID {
	if m == nil {
		return modifierID{kind: bare, shines: exposure.Hard}
	}
	id := modifierID{
		kind: strings.Join(strings.Fields(strings.ToLower(m.Kind)), " "), shines: m.Shines,
		grid: gridText(m.Grid), diffusers: diffuserText(m.Diffusers), gear: strings.ToLower(m.Gear),
	}
	long, short := sides(m)
	id.long, id.short = centimetres(long), centimetres(short)
	return id
}

// sides of a modifier, the longer first; nil where they are not known.
func sides(m *setup.Modifier) (long, short *float64) {
	long, short = m.Width, m.Height
	if long == nil || short != nil && *short > *long {
		long, short = short, long
	}
	return long, short
}

func centimetres(v *float64) int {
	if v == nil {
		return 0
	}
	return int(math.Round(*v * 100))
}

func gridText(deg *float64) string {
	switch {
	case deg == nil:
		return ""
	case *deg == 0:
		return "grid"
	}
	return "grid " + strconv.FormatFloat(*deg, 'f', -1, 64)
}

func diffuserText(list []string) string {
	if len(list) == 0 {
		return ""
	}
	in := slices.Sorted(slices.Values(list))
	slices.Reverse(in) // inner before front
	return strings.Join(in, " and ") + " diffuser"
}

// text is the modifier in the shorthand, m one of those that it is. Two of one
// kind and size go by their names in the gear file.
func (id modifierID) text(m *setup.Modifier, units setup.Units) string {
	if m == nil {
		return bare
	}
	parts := []string{id.kind + sizeText(m, units), id.grid, id.diffusers}
	if id.gear != "" {
		parts[0] = m.Gear
	}
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), ", ")
}

func sizeText(m *setup.Modifier, units setup.Units) string {
	long, short := sides(m)
	round := long != nil && short != nil && (m.Diameter != nil || m.Shines == exposure.Disc)
	switch {
	case round && *long == *short:
		return " " + setup.FormatSize(*long, units)
	case long != nil && short != nil:
		return " " + setup.FormatSides(*long, *short, units)
	}
	return ""
}

// shapeOf is what the emission of a modifier goes by.
func shapeOf(m *setup.Modifier) exposure.Light {
	if m == nil {
		return exposure.Light{Shape: exposure.Hard}
	}
	return exposure.Light{Shape: m.Shines, Width: m.Width, Height: m.Height}
}

// gelLoss is what a gel on the modifier takes, stops; known is false for a gel
// whose loss is not written.
func gelLoss(m *setup.Modifier) (loss float64, known bool) {
	switch {
	case m == nil || m.Gel == nil:
		return 0, true
	case m.Gel.Loss == nil:
		return 0, false
	}
	return *m.Gel.Loss, true
}
