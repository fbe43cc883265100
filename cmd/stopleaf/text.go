package main

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
	"stopleaf/safety"
	"stopleaf/setup"
)

// unknown stands in a table for what cannot be derived from the file.
const unknown = "·"

// text writes the figures of one setup as tables.
type text struct {
	*bytes.Buffer
	s *setup.Setup
	n *exposure.Numbers
}

func (t *text) line(format string, a ...any) { fmt.Fprintf(t, format+"\n", a...) }

// section begins a part with a title and, in brackets, what holds for all of it.
func (t *text) section(title, remark string) {
	if remark != "" {
		remark = "  (" + remark + ")"
	}
	t.line("\n%s%s", title, remark)
}

func (t *text) head() {
	t.line("%s", strings.TrimSpace(t.s.Code+"  "+t.s.Title))
	var facts []string
	if t.s.Made != "" {
		facts = append(facts, "made "+t.s.Made)
	}
	if len(t.s.Tags) > 0 {
		facts = append(facts, strings.Join(t.s.Tags, ", "))
	}
	if len(facts) > 0 {
		t.line("%s", strings.Join(facts, "; "))
	}
	e := t.n.Exposure
	var recorded []string
	if e.ISO != nil {
		recorded = append(recorded, "ISO "+decimals(*e.ISO, 0))
	}
	if e.ShutterS != nil {
		recorded = append(recorded, seconds(*e.ShutterS))
	}
	if e.KeyAv != nil {
		recorded = append(recorded, t.zero()+" reads "+t.s.Style().Reading(*e.KeyAv))
	}
	if e.ApertureAv != nil {
		recorded = append(recorded, "camera at "+t.s.Exposure.CameraMark(*e.ApertureAv))
	}
	if len(recorded) > 0 {
		t.line("recorded: %s%s", strings.Join(recorded, ", "), placing(e.Placing, t.theZero()))
	}
}

// zero is what every difference is from: "key", "ambient" or a light's name.
func (t *text) zero() string {
	if z := t.s.Exposure.Zero; z != "" {
		return z
	}
	return "key"
}

func (t *text) theZero() string {
	if t.s.Exposure.Zero == "" {
		return "the key"
	}
	return t.zero()
}

// base prints the base of that mark as the house prints readings.
func (t *text) base(mark string) string {
	for _, b := range t.n.Bases {
		if b.Mark == mark {
			return t.s.Style().Base(b.Av)
		}
	}
	return mark
}

// placing says how far the camera stood from the zero's reading.
func placing(p *float64, zero string) string {
	switch {
	case p == nil || math.Abs(*p) < 0.05:
		return ""
	case *p > 0:
		return fmt.Sprintf(" (%s stops closed from %s)", decimals(*p, 1), zero)
	}
	return fmt.Sprintf(" (%s stops opened from %s)", decimals(-*p, 1), zero)
}

func (t *text) bases() {
	t.section("Bases", "what "+t.theZero()+" is set to read, and the camera then")
	rows := [][]string{{t.zero() + " reads", "set camera", "exactly"}}
	for _, b := range t.n.Bases {
		rows = append(rows, []string{t.base(b.Mark), t.s.Exposure.CameraMark(b.CameraAv), t.s.Style().Reading(b.CameraAv)})
	}
	writeTable(t.Buffer, rows, "lll")
}

func (t *text) lights() {
	t.section("Lights", "what the meter must read for each light alone, by base")
	head := []string{"", "name", "role", "source", "difference", "x " + t.zero()}
	align := "rllllr"
	for _, b := range t.n.Bases {
		head, align = append(head, t.base(b.Mark)), align+"l"
	}
	rows := [][]string{head}
	for _, l := range t.n.Lights {
		row := []string{strconv.Itoa(l.Number), l.Name, l.Role, string(l.Source), t.difference(l), decimals(l.RatioToKey, 2)}
		if l.Off {
			row[len(row)-1] = ""
		}
		for _, target := range l.Targets {
			row = append(row, t.s.Style().Reading(target.Av))
		}
		rows = append(rows, row)
	}
	writeTable(t.Buffer, rows, align)
}

func (t *text) difference(l exposure.LightOut) string {
	switch {
	case l.Off:
		return "off"
	case t.s.Exposure.Zero == "" && l.Role == "key":
		return "the key"
	case l.Name == t.s.Exposure.Zero:
		return "the zero"
	}
	return apex.FormatDelta(l.Delta)
}

// dials is what each head is set to; only the heads whose setting is known.
func (t *text) dials() {
	head, align := []string{"", "name"}, "rl"
	for _, b := range t.n.Bases {
		head, align = append(head, t.base(b.Mark)), align+"l"
	}
	rows := [][]string{head}
	for _, l := range t.n.Lights {
		if len(l.Dials) == 0 {
			continue
		}
		row := []string{strconv.Itoa(l.Number), l.Name}
		for _, d := range l.Dials {
			row = append(row, dialText(d))
		}
		rows = append(rows, row)
	}
	if len(rows) == 1 {
		return
	}
	t.section("Dials", "on each head's own scale, by base")
	writeTable(t.Buffer, rows, align)
}

// packs is what the heads of each power pack get of it.
func (t *text) packs() {
	rows := [][]string{{"", "name", "pack", "outlet", "share", "gets at full"}}
	for _, l := range t.n.Lights {
		if l.Pack == nil {
			continue
		}
		row := []string{strconv.Itoa(l.Number), l.Name, l.Pack.Name, l.Pack.Outlet, decimals(l.Pack.Share*100, 0) + " %", unknown}
		if row[3] == "" {
			row[3] = unknown
		}
		if l.Pack.EnergyWs != nil {
			row[5] = decimals(*l.Pack.EnergyWs, 0) + " Ws"
		}
		rows = append(rows, row)
	}
	if len(rows) == 1 {
		return
	}
	t.section("Packs", "what each head gets of its power pack")
	writeTable(t.Buffer, rows, "rlllrr")
}

func dialText(d exposure.DialAt) string {
	switch {
	case d.Just:
		return d.Text + " (just over)"
	case d.Possible != nil && !*d.Possible && d.Stops > 0:
		return d.Text + " (too much)"
	case d.Possible != nil && !*d.Possible:
		return d.Text + " (too little)"
	}
	return d.Text
}

func (t *text) places() {
	rows := [][]string{{"", "name", "angle", "on the floor", "height", "to its aim", "tilt"}}
	for _, l := range t.n.Lights {
		row := []string{strconv.Itoa(l.Number), l.Name, unknown, unknown, unknown, unknown, unknown}
		if p := l.Place; p.AngleDeg != nil {
			row[2] = degrees(*p.AngleDeg)
			if p.Side != nil && *p.Side != "" {
				row[2] += " " + *p.Side
			}
			row[3], row[4] = t.length(p.DistanceM), t.length(p.HeightM)
		}
		row[5] = t.length(l.ThrowM)
		if l.TiltDeg != nil {
			row[6] = tilt(*l.TiltDeg)
		}
		rows = append(rows, row)
	}
	t.section("Places", "from the subject mark; angle 0 toward the camera, left and right as the camera sees")
	writeTable(t.Buffer, rows, "rllrrrl")
}

func tilt(deg float64) string {
	switch d := decimals(math.Abs(deg), 0); {
	case d == "0":
		return "level"
	case deg < 0:
		return d + "° down"
	default:
		return d + "° up"
	}
}

func (t *text) estimates() {
	rows := [][]string{{"", "name", "closer", "further", "looks wide", "looks tall", "far cheek", "background"}}
	any := false
	for _, l := range t.n.Lights {
		row := []string{strconv.Itoa(l.Number), l.Name,
			t.small(l.DriftM.Closer), t.small(l.DriftM.Further),
			maybeDegrees(l.LooksDeg.Width), maybeDegrees(l.LooksDeg.Height),
			falloff(l.Falloff.Cheek), falloff(l.Falloff.Background)}
		for _, cell := range row[2:] {
			any = any || cell != unknown
		}
		rows = append(rows, row)
	}
	if !any {
		return
	}
	t.section("Care and fall-off", "est.: the move that changes a light by 0.1 stop; its size as seen; stops lost on the way")
	writeTable(t.Buffer, rows, "rlrrrrrr")
}

func falloff(stops *float64) string {
	if stops == nil {
		return unknown
	}
	return apex.FormatSigned(-*stops)
}

func (t *text) whole() {
	var rows [][]string
	add := func(what, value string) { rows = append(rows, []string{what, value}) }
	if r := t.n.Ratios; r.KeyToFill != nil {
		add("key : fill", decimals(*r.KeyToFill, 2)+" : 1")
		if r.LitToShadow != nil && r.LitToShadowEst {
			add("key + fill : fill", decimals(*r.LitToShadow, 2)+" : 1, est., fill from the side or its place not known")
		} else if r.LitToShadow != nil {
			add("key + fill : fill", decimals(*r.LitToShadow, 2)+" : 1")
		}
	}
	if text := together(t.s.Style(), t.n.Together, t.theZero()); text != "" {
		add("front lights together", text)
	}
	if text := baseRange(t.s.Style(), t.n.BaseRange); text != "" {
		add("base range", text)
	}
	if a := t.n.Ambient; a.Delta != nil {
		add("the room's own light", from(*a.Delta, t.theZero())+", as recorded")
		for _, at := range a.At {
			add("  "+t.zero()+" at "+t.base(at.Base), t.ambient(at))
		}
	}
	for _, l := range t.n.Lights { // continuous light and daylight follow the shutter
		for _, h := range l.Hold {
			if h.ShutterS != nil {
				add(l.Name+" with "+t.theZero()+" at "+t.base(h.Base), "held by "+t.hold(*h.ShutterS))
			}
		}
	}
	if len(rows) == 0 {
		return
	}
	t.section("The whole", "")
	writeTable(t.Buffer, rows, "ll")
}

func (t *text) ambient(at exposure.AmbientAt) string {
	words := from(at.Delta, t.theZero())
	if at.HoldShutterS != nil {
		words += "; held by " + t.hold(*at.HoldShutterS)
	}
	return words
}

// hold is a shutter time that holds a light, with a word where the flashes of
// the set would be cut off by it.
func (t *text) hold(s float64) string {
	if sync := t.s.Exposure.SyncS; sync != nil && s < *sync*0.999 {
		return seconds(s) + ", too fast for flash"
	}
	return seconds(s)
}

// together is a plain sum only where every light was metered toward the camera.
func together(style apex.Style, g exposure.Together, zero string) string {
	switch {
	case g.AllToCamera && g.Delta != nil && g.Av != nil:
		return from(*g.Delta, zero) + ", " + style.Reading(*g.Av)
	case g.AllToCamera && g.Delta != nil:
		return from(*g.Delta, zero)
	case g.DomeToCamera != nil:
		return from(*g.DomeToCamera, zero) + " with the dome toward the camera, est."
	}
	return ""
}

// from is a difference from the zero in words.
func from(stops float64, zero string) string {
	if text := apex.FormatDelta(stops); text != "0" {
		return text + " " + zero
	}
	return "as " + zero
}

// baseRange rounds inward, so that no end is promised that a head cannot do.
func baseRange(style apex.Style, r exposure.BaseRange) string {
	switch {
	case r.LowAv != nil && r.HighAv != nil:
		low, high, _ := style.Inward(*r.LowAv, *r.HighAv)
		return fmt.Sprintf("%s to %s%s%s", style.Reading(low), style.Reading(high),
			stopped("; no lower: ", r.LowBy), stopped("; no higher: ", r.HighBy))
	case len(r.LowBy) > 0 && len(r.HighBy) > 0:
		return fmt.Sprintf("none: %s cannot go low enough where %s cannot go high enough",
			strings.Join(r.LowBy, ", "), strings.Join(r.HighBy, ", "))
	}
	return ""
}

func stopped(lead string, names []string) string {
	if len(names) == 0 {
		return ""
	}
	return lead + strings.Join(names, ", ")
}

func (t *text) camera() {
	c := t.n.Camera
	var rows [][]string
	add := func(what, value string) { rows = append(rows, []string{what, value}) }
	if v := c.ViewDeg; v.Width != nil && v.Height != nil {
		add("angle of view", decimals(*v.Width, 1)+"° x "+decimals(*v.Height, 1)+"°")
	}
	if f := c.FrameM.AtSubject; f.Width != nil && f.Height != nil {
		add("frame at the subject", t.length(f.Width)+" x "+t.length(f.Height))
	}
	if f := c.FrameM.AtBackground; f.Width != nil && f.Height != nil {
		add("frame at the background", t.length(f.Width)+" x "+t.length(f.Height))
	}
	for _, d := range c.DepthOfField {
		if d.NearM == nil {
			continue
		}
		far := "infinity"
		if d.FarM != nil {
			far = t.length(d.FarM)
		}
		add("sharp, "+t.zero()+" at "+t.base(d.Base), t.length(d.NearM)+" to "+far)
	}
	if c.Magnification != nil && c.LossStops != nil {
		add("magnification", fmt.Sprintf("%s, which costs %s stops", decimals(*c.Magnification, 2), decimals(*c.LossStops, 1)))
	}
	if len(rows) == 0 {
		return
	}
	t.section("Camera", "")
	writeTable(t.Buffer, rows, "ll")
}

func (t *text) cautions(notes []safety.Note) {
	if len(notes) == 0 {
		return
	}
	t.section("Cautions", "")
	for _, note := range notes {
		words := note.Text
		if note.Light != "" && !strings.Contains(words, note.Light) {
			words = note.Light + ": " + words
		}
		writeWrapped(t.Buffer, "- ", words)
	}
}

// length prints metres in the units of the file.
func (t *text) length(m *float64) string {
	if m == nil {
		return unknown
	}
	return setup.FormatLength(*m, t.s.Units)
}

// small prints a length of some centimetres in the units of the file.
func (t *text) small(m *float64) string {
	switch {
	case m == nil:
		return unknown
	case t.s.Units == setup.Feet || t.s.Units == setup.Inches:
		return decimals(*m/0.0254, 1) + " in"
	}
	return decimals(*m*100, 0) + " cm"
}

// seconds prints a time with its unit.
func seconds(s float64) string {
	return strings.TrimSuffix(apex.FormatTime(s), " s") + " s"
}

func degrees(d float64) string { return decimals(d, 0) + "°" }

func maybeDegrees(d *float64) string {
	if d == nil {
		return unknown
	}
	return degrees(*d)
}

// decimals rounds half away from zero, as people do, and never prints -0.
func decimals(x float64, places int) string {
	p := math.Pow(10, float64(places))
	r := math.Floor(math.Abs(x)*p+0.5+1e-9) / p
	if x < 0 && r != 0 {
		r = -r
	}
	return strconv.FormatFloat(r, 'f', places, 64)
}
