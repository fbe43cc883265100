package layout

import (
	"fmt"
	"math"
	"strings"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
	"stopleaf/setup"
	"stopleaf/templates"
)

// The phrases of the tables: one light's place, height, modifier and so on in
// the words of a page. What is not known is a ruled blank where a rebuild needs
// it, else nothing.

func lightName(l *setup.Light, w templates.Words) string {
	if l.Role == "" || strings.EqualFold(l.Role, l.Name) || strings.EqualFold(fileWord(l.Role, w), l.Name) || strings.HasPrefix(strings.ToLower(l.Name), strings.ToLower(l.Role)) {
		return l.Name
	}
	return w.T("light.name-role", "name", l.Name, "role", fileWord(l.Role, w))
}

// fileWord is a word of the file format in the language of the page; a word of
// the person's own stays as it was written.
func fileWord(s string, w templates.Words) string {
	if t, ok := w["word."+strings.ToLower(s)]; ok {
		return t
	}
	return s
}

// kindWord is a kind of thing that the file knows by name in the language of the
// page; one of the person's own stays as it was written.
func kindWord(s string, w templates.Words) string {
	if t, ok := w["kind."+strings.ToLower(s)]; ok {
		return t
	}
	return s
}

// shapeText is what a modifier is, with its size.
func shapeText(m *setup.Modifier, w templates.Words) string {
	if size, ok := strings.CutPrefix(m.Text, m.Kind); ok {
		return kindWord(m.Kind, w) + size
	}
	return m.Text
}

// colouredKind is "black V-flat", or as much of it as is known.
func colouredKind(colour, kind string, w templates.Words) string {
	if t, ok := w["colour."+strings.ToLower(colour)]; ok {
		colour = t
	}
	if colour == "" || kind == "" {
		return colour + kindWord(kind, w)
	}
	return w.T("kind.coloured", "colour", colour, "kind", kindWord(kind, w))
}

func fileWords(list []string, w templates.Words) []string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = fileWord(s, w)
	}
	return out
}

// deltaText is a difference in words, to a tenth: "1.6 under". Rounding is that
// of apex.FormatDelta.
func deltaText(delta float64, w templates.Words) string {
	n, way, ok := strings.Cut(apex.FormatDelta(delta), " ")
	if !ok {
		return w.T("delta.zero")
	}
	return w.T("delta."+way, "n", n)
}

func differenceText(delta float64, w templates.Words) string {
	if math.Abs(delta) < 0.05 {
		return w.T("difference.same")
	}
	return deltaText(delta, w)
}

func modifierText(l *setup.Light, w templates.Words) string {
	var parts []string
	m := l.Modifier
	if m == nil {
		parts = append(parts, w.T("modifier.unknown"))
	} else {
		parts = append(parts, shapeText(m, w))
		if m.Grid != nil {
			if *m.Grid > 0 {
				parts = append(parts, w.T("modifier.grid", "deg", trimFloat(*m.Grid)))
			} else {
				parts = append(parts, w.T("modifier.grid-plain"))
			}
		}
		if len(m.Diffusers) > 0 {
			parts = append(parts, w.T("modifier.diffuser", "which", strings.Join(fileWords(m.Diffusers, w), " + ")))
		}
		if m.Gel != nil {
			parts = append(parts, gelText(m.Gel, w))
		}
	}
	switch {
	case l.Source == exposure.Bounce && l.LitBy != "":
		parts = append(parts, w.T("light.lit-by", "name", l.LitBy))
	case l.Source == exposure.Continuous && l.Dimmer != nil:
		parts = append(parts, w.T("light.dimmer", "percent", trimFloat(*l.Dimmer)))
	case l.Source == exposure.Continuous || l.Source == exposure.Daylight:
		parts = append(parts, w.T("light."+string(l.Source)))
	}
	return strings.Join(parts, ", ")
}

func gelText(g *setup.Gel, w templates.Words) string {
	s := w.T("modifier.gel", "name", g.Name)
	if g.Mired != nil {
		s += " " + w.T("modifier.mired", "mired", signedWhole(*g.Mired))
	}
	return s
}

func signedWhole(v float64) string {
	if v < 0 {
		return "−" + whole(-v)
	}
	return "+" + whole(v)
}

func gripText(g *setup.Grip, w templates.Words, u setup.Units) string {
	s := colouredKind(g.Colour, g.Kind, w)
	if g.Width != nil && g.Height != nil {
		s += " " + setup.FormatLength(*g.Width, u) + " × " + setup.FormatLength(*g.Height, u)
	} else if g.Width != nil {
		s += " " + setup.FormatLength(*g.Width, u)
	}
	return s
}

// placeText is "55° left, 1.40 m": the angle from the camera's axis and the
// tape along the floor.
func placeText(p *setup.Place, w templates.Words, u setup.Units) string {
	if p == nil {
		return w.T("place.blank")
	}
	deg, side := p.Angle()
	d := bareLength(p.Distance(), u)
	if p.Distance() < 0.005 {
		return w.T("place.mark")
	}
	switch {
	case side == "" && deg < 90:
		return w.T("place.front", "distance", d)
	case side == "":
		return w.T("place.behind", "distance", d)
	}
	return w.T("place.angle", "deg", whole(deg), "side", w.T("side."+side), "distance", d)
}

func heightText(p *setup.Place, w templates.Words, u setup.Units) string {
	switch {
	case p == nil:
		return ""
	case p.Height == nil:
		return w.T("height.blank")
	case p.Lower == nil:
		return w.T("height.centre", "centre", bareLength(*p.Height, u))
	}
	return w.T("height.both", "centre", bareLength(*p.Height, u), "edge", bareLength(*p.Lower, u))
}

// measureText is the place by two tapes square to each other.
func measureText(p *setup.Place, w templates.Words, u setup.Units) string {
	if p == nil {
		return ""
	}
	var parts []string
	if v := math.Abs(p.Right); v >= 0.005 {
		side := "right"
		if p.Right < 0 {
			side = "left"
		}
		parts = append(parts, w.T("measure."+side, "distance", bareLength(v, u)))
	}
	if v := math.Abs(p.Front); v >= 0.005 {
		side := "front"
		if p.Front < 0 {
			side = "behind"
		}
		parts = append(parts, w.T("measure."+side, "distance", bareLength(v, u)))
	}
	return strings.Join(parts, ", ")
}

// bareLength prints a length in a table whose head names the unit; feet and
// inches keep theirs.
func bareLength(m float64, u setup.Units) string {
	s := setup.FormatLength(m, u)
	if u == setup.Metres || u == setup.Centimetres {
		s = strings.TrimSuffix(s, " "+string(u))
	}
	return s
}

// clockText is the place on a clock face with the camera at six, to the quarter
// hour; nothing for what stands on the mark.
func clockText(p *setup.Place) string {
	if p == nil || p.Distance() < 0.005 {
		return ""
	}
	// Seen from above with the camera at the foot: left of the subject is nine.
	deg := math.Atan2(-p.Right, p.Front) * 180 / math.Pi // 0 at six, growing clockwise
	quarters := int(math.Round(math.Mod(deg+360, 360) / 7.5))
	minutes := (6*60 + quarters*15) % 720
	h := minutes / 60
	if h == 0 {
		h = 12
	}
	return fmt.Sprintf("%d:%02d", h, minutes%60)
}

// meterText is where and how a light is metered; nothing for the usual way.
func meterText(m setup.Meter, w templates.Words) string {
	var parts []string
	if m.At != "" && m.At != "face" {
		parts = append(parts, fileWord(m.At, w))
	}
	if m.Dome == "in" {
		parts = append(parts, w.T("meter.dome-in"))
	}
	if m.Toward != "" && m.Toward != "light" {
		parts = append(parts, w.T("meter.toward", "what", fileWord(m.Toward, w)))
	}
	return strings.Join(parts, ", ")
}

func aimText(l *setup.Light, w templates.Words) string {
	s := fileWord(l.Aim.Target, w)
	if l.Aim.Target == "place" {
		s = w.T("aim.place")
	}
	if f := l.Aim.Feather; f != nil && f.Deg != 0 {
		s += ", " + w.T("aim.feather", "deg", trimFloat(f.Deg), "toward", fileWord(f.Toward, w))
	}
	return s
}

func looksText(l exposure.Looks, w templates.Words) string {
	if l.Width == nil || l.Height == nil {
		return ""
	}
	if math.Abs(*l.Width-*l.Height) < 0.5 {
		return whole(*l.Width) + "°"
	}
	return whole(*l.Width) + "° × " + whole(*l.Height) + "°"
}

func driftText(d exposure.Drift, w templates.Words, u setup.Units) string {
	if d.Further == nil {
		return ""
	}
	if d.Closer == nil {
		return "+" + smallLength(*d.Further, u)
	}
	return "−" + smallLength(*d.Closer, u) + " +" + smallLength(*d.Further, u)
}

// smallLength prints a few centimetres, or inches where the set is in feet.
func smallLength(m float64, u setup.Units) string {
	if u == setup.Feet || u == setup.Inches {
		return fmt.Sprintf("%.1f in", m/0.0254)
	}
	return fmt.Sprintf("%.0f cm", m*100)
}

func falloffText(f exposure.Falloff, w templates.Words) string {
	var parts []string
	if f.Cheek != nil {
		parts = append(parts, w.T("falloff.cheek", "stops", apex.FormatSigned(-*f.Cheek)))
	}
	if f.Background != nil {
		parts = append(parts, w.T("falloff.background", "stops", apex.FormatSigned(-*f.Background)))
	}
	return strings.Join(parts, ", ")
}
