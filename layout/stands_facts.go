package layout

import (
	"math"
	"strings"

	"stopleaf/exposure"
	"stopleaf/setup"
)

// facts is lines that each begin with a word in bold.
type facts struct {
	*paragraphs
	job Job
	of  string
}

func newFacts(job Job, it standItem, f *format) facts {
	b := textBlock(job, f)
	b.more = ""
	return facts{b, job, it.of}
}

func (b facts) put(key, text string) {
	if text != "" {
		b.paras = append(b.paras, para{lead: b.job.Words.T("stands." + key), text: text, of: b.of})
	}
}

// standPlace is where an item stands and which way it looks.
func standPlace(job Job, it standItem, f *format) *paragraphs {
	b := newFacts(job, it, f)
	b.title = job.Words.T("stands.left")
	b.small = style{cap: capUse, kind: "head", used: true}
	put, w := b.put, job.Words
	if g := it.grip; g != nil {
		put("size", gripText(g, w, job.Setup.Units))
	}
	p := it.place()
	put("from-mark", standMeasure(job, p))
	if p != nil && p.Distance() >= 0.005 {
		put("clock", w.T("stands.clock-words", "clock", clockText(p), "angle", standAngle(job, p)))
	}
	put("face", faceTape(job, p))
	put("height", standHeight(job, p))
	if it.light != nil {
		put("aim", standAim(job, it))
	}
	return b.paragraphs
}

// standAim is what a light is aimed at, with its feathering and its tilt.
func standAim(job Job, it standItem) string {
	w := job.Words
	aim := aimText(it.light, w)
	if it.index >= len(job.Numbers.Lights) {
		return aim
	}
	n := job.Numbers.Lights[it.index]
	if t := n.TiltDeg; t != nil {
		switch deg := whole(math.Abs(*t)); {
		case deg == "0":
			aim += "; " + w.T("stands.level")
		case *t > 0:
			aim += "; " + w.T("stands.up", "deg", deg)
		default:
			aim += "; " + w.T("stands.down", "deg", deg)
		}
	}
	return aim
}

// standSetting is what an item is made up of and how it is set.
func standSetting(job Job, it standItem, f *format) *paragraphs {
	b := newFacts(job, it, f)
	put, w := b.put, job.Words
	if g := it.grip; g != nil {
		put("stand", standWords(job, g.Stand))
		put("look-for", g.LookFor)
		b.wired(g.Trigger, "", g.Mark)
		return b.paragraphs
	}
	l := it.light
	var n exposure.LightOut
	if it.index < len(job.Numbers.Lights) {
		n = job.Numbers.Lights[it.index]
	}
	modifier := modifierText(l, w)
	if l.Modifier == nil { // the line has its own word for it
		modifier = strings.Replace(modifier, w.T("modifier.unknown"), w.T("stands.blank"), 1)
	}
	put("modifier", modifier)
	put("metering", standMeter(job, l))
	put("look-for", l.LookFor)
	if h := l.Head; h != nil {
		put("head", strings.TrimSpace(h.Name+" "+kindWord(kindUnless(h.Kind, h.Name), w)))
	}
	put("stand", standWords(job, l.Stand))
	if len(n.Hold) > 0 && n.Hold[0].ShutterS != nil {
		put("shutter", w.T("stands.holds", "time", timeText(*n.Hold[0].ShutterS)))
	}
	if d := n.DriftM; d.Further != nil && d.Closer != nil {
		put("drift", w.T("stands.drift-words", "closer", smallLength(*d.Closer, job.Setup.Units), "further", smallLength(*d.Further, job.Setup.Units)))
	} else if d.Further != nil {
		put("drift", w.T("stands.drift-further", "further", smallLength(*d.Further, job.Setup.Units)))
	}
	if u := l.Pack; u != nil && u.Outlet != "" {
		put("pack", w.T("stands.outlet", "pack", u.Pack.Name, "outlet", u.Outlet))
	} else if u != nil {
		put("pack", u.Pack.Name)
	}
	b.wired(l.Trigger, l.Circuit, l.Mark)
	return b.paragraphs
}

// wired is a light's trigger, circuit and floor mark on one line.
func (b facts) wired(trigger, circuit, mark string) {
	var parts []string
	first := ""
	for _, x := range []struct{ key, text string }{{"trigger", trigger}, {"circuit", circuit}, {"mark", mark}} {
		switch {
		case x.text == "":
		case first == "":
			first = x.key
			parts = append(parts, x.text)
		default:
			parts = append(parts, b.job.Words.T("stands.and-"+x.key, "text", x.text))
		}
	}
	if len(parts) > 0 {
		b.put(first, phrases(parts))
	}
}

// kindUnless is a head's kind where its name does not say it.
func kindUnless(kind, name string) string {
	if strings.Contains(strings.ToLower(name), strings.ToLower(kind)) {
		return ""
	}
	return kind
}

// standMeasure is a place by two tapes square to each other, with their units.
func standMeasure(job Job, p *setup.Place) string {
	w, u := job.Words, job.Setup.Units
	if p == nil {
		return w.T("stands.blank")
	}
	if p.Distance() < 0.005 {
		return w.T("place.mark")
	}
	var parts []string
	if v := math.Abs(p.Front); v >= 0.005 {
		key := "stands.front"
		if p.Front < 0 {
			key = "stands.behind"
		}
		parts = append(parts, w.T(key, "distance", setup.FormatLength(v, u)))
	}
	if v := math.Abs(p.Right); v >= 0.005 {
		key := "stands.to-right"
		if p.Right < 0 {
			key = "stands.to-left"
		}
		parts = append(parts, w.T(key, "distance", setup.FormatLength(v, u)))
	}
	return strings.Join(parts, ", ")
}

// standAngle is the angle from the camera's axis and the tape along the floor.
func standAngle(job Job, p *setup.Place) string {
	w := job.Words
	d := setup.FormatLength(p.Distance(), job.Setup.Units)
	switch deg, side := p.Angle(); {
	case side == "" && deg < 90:
		return w.T("place.front", "distance", d)
	case side == "":
		return w.T("place.behind", "distance", d)
	default:
		return w.T("place.angle", "deg", whole(deg), "side", w.T("side."+side), "distance", d)
	}
}

// faceTape is the straight tape from the face to the centre of what shines.
func faceTape(job Job, p *setup.Place) string {
	if p == nil || p.Height == nil {
		return ""
	}
	return setup.FormatLength(math.Hypot(p.Distance(), *p.Height-job.Setup.Subject.Face), job.Setup.Units)
}

func standHeight(job Job, p *setup.Place) string {
	w, u := job.Words, job.Setup.Units
	switch {
	case p == nil || p.Height == nil:
		return w.T("stands.blank")
	case p.Lower == nil:
		return w.T("stands.centre", "centre", setup.FormatLength(*p.Height, u))
	}
	return w.T("stands.edge-centre", "edge", setup.FormatLength(*p.Lower, u), "centre", setup.FormatLength(*p.Height, u))
}

// standMeter is where the meter is held and which way, in full.
func standMeter(job Job, l *setup.Light) string {
	w, m := job.Words, l.Meter
	at := m.At
	if at == "" {
		at = "face"
	}
	if l.Source == exposure.Bounce {
		lit := l.LitBy
		if k := job.Setup.Key(); lit == "" || k != nil && k.Name == lit {
			lit = w.T("stands.the-key")
		}
		return w.T("stands.meter-bounce", "at", fileWord(at, w), "lit", lit)
	}
	dome := w.T("stands.dome-out")
	if m.Dome == "in" {
		dome = w.T("meter.dome-in")
	}
	toward := m.Toward
	if toward == "" || toward == "light" {
		toward = w.T("stands.this-light")
	}
	return w.T("stands.meter-at", "at", fileWord(at, w), "dome", dome, "toward", fileWord(toward, w))
}

// standWords is what an item hangs on.
func standWords(job Job, s *setup.Stand) string {
	if s == nil {
		return ""
	}
	w, u := job.Words, job.Setup.Units
	var parts []string
	if s.Name != "" && !strings.EqualFold(s.Name, s.Kind) {
		parts = append(parts, s.Name)
	}
	if s.Kind != "" && !strings.Contains(s.Name, s.Kind) {
		parts = append(parts, w.T("stands.kind-"+s.Kind))
	}
	if s.Base != nil {
		parts = append(parts, w.T("stands.column", "place", standMeasure(job, s.Base)))
	}
	for _, x := range []struct {
		key string
		v   *float64
	}{{"stands.reach", s.Reach}, {"stands.arm-behind", s.Behind}} {
		if x.v != nil {
			parts = append(parts, w.T(x.key, "length", setup.FormatLength(*x.v, u)))
		}
	}
	for _, x := range []struct {
		key string
		v   *float64
	}{{"stands.counterweight", s.Counterweight}, {"stands.bag", s.Bag}} {
		if x.v != nil {
			parts = append(parts, w.T(x.key, "mass", trimFloat(math.Round(*x.v*10)/10)))
		}
	}
	return strings.Join(parts, ", ")
}

// standNote is the file's own note on an item.
func standNote(job Job, it standItem, f *format) *paragraphs {
	b := textBlock(job, f)
	note := ""
	if it.light != nil {
		note = it.light.Note
	} else {
		note = it.grip.Note
	}
	for i, line := range strings.Split(strings.TrimSpace(note), "\n") {
		if line = strings.TrimSpace(line); line == "" {
			continue
		}
		p := para{text: line, of: it.of}
		if i == 0 {
			p.lead = job.Words.T("stands.note")
		}
		b.paras = append(b.paras, p)
	}
	return b
}
