package layout

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"stopleaf/exposure"
	"stopleaf/safety"
	"stopleaf/setup"
	"stopleaf/templates"
)

// stepper words the steps of the build and strike orders.
type stepper struct {
	job   Job
	bags  []safety.StandBag // of each light
	loads []safety.CircuitLoad
	steps []step
}

func (b *stepper) t(key string, pairs ...string) string { return b.job.Words.T("sheet."+key, pairs...) }

func (b *stepper) put(phase, lead string, texts ...string) {
	b.steps = append(b.steps, step{phase: phase, lead: lead, text: sentences(texts...)})
}

// sentences sets short sentences one after another, leaving out empty ones.
func sentences(texts ...string) string {
	var out []string
	for _, s := range texts {
		if s = strings.TrimSpace(s); s == "" {
			continue
		}
		if !strings.ContainsAny(s[len(s)-1:], ".!?:") {
			s += "."
		}
		out = append(out, s)
	}
	return strings.Join(out, " ")
}

// listed joins what is not empty with commas.
func listed(parts ...string) string {
	var out []string
	for _, s := range parts {
		if s != "" {
			out = append(out, s)
		}
	}
	return strings.Join(out, ", ")
}

func (b *stepper) length(m *float64, key string) string {
	if m == nil {
		return ""
	}
	return b.t(key, "d", bareLength(*m, b.job.Setup.Units))
}

// marks puts down what all is taped from, the camera, and what the subject
// stands, sits or lies on.
func (b *stepper) marks() {
	s := b.job.Setup
	b.put("mark", b.t("mark-lead"), b.t("mark"), b.marked(s.Subject.Mark))
	c := &s.Camera
	lens := ""
	if c.FocalMM != nil {
		lens = b.job.Words.T("camera.lens", "mm", trimFloat(*c.FocalMM))
	}
	if what := listed(b.length(c.Distance, "camera-distance"), b.length(c.Height, "camera-height"), lens); what != "" || c.Mark != "" {
		b.put("mark", b.t("camera-lead"), what, b.marked(c.Mark))
	}
	b.items("mark", true)
}

func (b *stepper) marked(mark string) string {
	if mark == "" {
		return ""
	}
	return b.t("marked", "mark", mark)
}

func (b *stepper) background() {
	bg := b.job.Setup.Background
	if bg == nil {
		return
	}
	b.put("background", b.t("background-lead"), listed(backgroundText(bg, b.job.Words, b.job.Setup.Units), b.length(bg.Distance, "background-distance")), b.marked(bg.Mark))
}

// backgroundText is what the background is, with its size.
func backgroundText(bg *setup.Background, w templates.Words, u setup.Units) string {
	what := colouredKind(bg.Tone, bg.Kind, w)
	switch {
	case bg.Width != nil && bg.Height != nil:
		what = strings.TrimSpace(what + " " + setup.FormatLength(*bg.Width, u) + " × " + setup.FormatLength(*bg.Height, u))
	case bg.Width != nil:
		what = strings.TrimSpace(what + " " + setup.FormatLength(*bg.Width, u))
	}
	return what
}

// items are the grip items, back to front: tables come before the lights, the
// others after them.
func (b *stepper) items(phase string, tables bool) {
	s := b.job.Setup
	var order []int
	for i := range s.Grip {
		if isTable(&s.Grip[i]) == tables {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(x, y int) int {
		return compareFront(s.Grip[x].Place, s.Grip[y].Place)
	})
	w, u := b.job.Words, s.Units
	for _, i := range order {
		g := &s.Grip[i]
		where := b.where(g.Place)
		if g.Place != nil && g.Place.Height != nil {
			where = listed(where, b.t("at-height", "height", heightText(g.Place, w, u)))
		}
		hold := ""
		if !tables {
			hold = b.t("grip-hold")
		}
		b.steps = append(b.steps, step{phase: phase, of: fmt.Sprintf("grip %d", g.Number), lead: numbered(g.Number, g.Name),
			text: sentences(listed(gripText(g, w, u), where), b.marked(g.Mark), hold)})
	}
}

func isTable(g *setup.Grip) bool { return strings.Contains(strings.ToLower(g.Kind), "table") }

func compareFront(a, b *setup.Place) int {
	switch {
	case a == nil && b == nil:
		return 0
	case a == nil:
		return 1
	case b == nil:
		return -1
	case a.Front < b.Front:
		return -1
	case a.Front > b.Front:
		return 1
	}
	return 0
}

func (b *stepper) grip() { b.items("grip", false) }

func numbered(n int, name string) string { return strconv.Itoa(n) + " " + name }

// called names lights by number and name, all by number where that is long.
func (b *stepper) called(ns []int) string {
	var out []string
	for i := range b.job.Setup.Lights {
		if l := &b.job.Setup.Lights[i]; slices.Contains(ns, l.Number) {
			out = append(out, numbered(l.Number, l.Name))
		}
	}
	if s := strings.Join(out, ", "); len(s) <= 70 {
		return s
	}
	return b.t("numbers", "numbers", ranges(ns))
}

// leads lays the lead of each circuit while the floor is still free.
func (b *stepper) leads() {
	for _, ld := range b.loads {
		if ld.Circuit == nil {
			b.put("leads", b.t("leads-lead"), b.t("leads-to", "lights", b.called(ld.Lights)))
			continue
		}
		b.put("leads", b.t("circuit-lead", "name", ld.Name), listed(leadText(ld.Circuit.Lead, b.job.Setup.Units), b.t("to", "lights", b.called(ld.Lights))))
	}
}

// leadText is "20 m × 1.5 mm²", as far as it is known.
func leadText(ld *setup.Lead, u setup.Units) string {
	if ld == nil {
		return ""
	}
	var parts []string
	if ld.Length != nil {
		parts = append(parts, strings.Replace(setup.FormatLength(*ld.Length, u), ".00 ", " ", 1))
	}
	if ld.Section != nil {
		parts = append(parts, trimFloat(*ld.Section)+" mm²")
	}
	return strings.Join(parts, " × ")
}

// where is a place by tape: the angle and distance, then the two tapes square
// to each other.
func (b *stepper) where(p *setup.Place) string {
	w, u := b.job.Words, b.job.Setup.Units
	s := placeText(p, w, u)
	if p == nil {
		return s
	}
	if _, side := p.Angle(); side != "" && p.Distance() >= 0.005 {
		s += " (" + measureText(p, w, u) + ")"
	}
	return s
}

// light puts up one light: the stand and its bag, the head while all is low,
// then up and aimed.
func (b *stepper) light(i int) {
	l := &b.job.Setup.Lights[i]
	off := ""
	if l.Off {
		off = b.t("off-look")
	}
	put := func(acts []string, texts ...string) {
		texts, off = append(texts, off), ""
		b.steps = append(b.steps, step{phase: "lights", acts: acts, light: l.Number, of: fmt.Sprintf("light %d", l.Number),
			lead: numbered(l.Number, l.Name), text: sentences(texts...)})
	}
	kind := ""
	if l.Stand != nil {
		kind = l.Stand.Kind
	}
	what := listed(b.headText(l), modifierText(l, b.job.Words))
	if l.Modifier != nil && l.Modifier.Kind == "bare" {
		what = listed(b.headText(l), shapeText(l.Modifier, b.job.Words))
	}
	up := b.t("raise-blank", "aim", b.aim(l))
	if l.Place != nil && l.Place.Height != nil {
		up = b.t("raise", "height", heightText(l.Place, b.job.Words, b.job.Setup.Units), "aim", b.aim(l))
	}
	below := ""
	if l.Place != nil && l.Place.Form == "under" {
		below = b.t("below", "light", l.Place.Ref)
	}
	switch {
	case l.Source == exposure.Daylight:
		put([]string{"daylight"}, listed(what, b.where(l.Place)), b.marked(l.Mark))
	case kind == "hanging":
		put([]string{"bond", "head", "raise"}, b.t("hang-at", "where", b.where(l.Place)), b.t("nobody-below"), b.t("hang", "what", what), up, capital(b.fed(l)), b.marked(l.Mark))
	case kind == "boom":
		acts, bag := b.bag(i)
		put(append([]string{"stand"}, append(acts, "arm-low")...), b.t("boom-stand", "where", b.column(l)), bag, b.marked(l.Mark), b.t("arm-low"), below)
		put([]string{"counterweight", "head"}, b.t("boom-load", "what", what, "counterweight", b.counterweight(l)), capital(b.fed(l)))
		put([]string{"raise"}, b.t("nobody-below"), b.t("boom-up", "where", b.where(l.Place)), up)
	default:
		low := "head-low"
		if l.Source == exposure.Bounce {
			low = "panel-low"
		}
		acts, bag := b.bag(i)
		if len(acts) == 0 { // nothing to be done between the stand and the head
			put([]string{"stand", "head", "raise"}, b.t("stand", "where", b.where(l.Place)), b.marked(l.Mark), below, b.t(low, "what", listed(what, b.fed(l))), up)
			return
		}
		put(append([]string{"stand"}, acts...), b.t("stand", "where", b.where(l.Place)), bag, b.marked(l.Mark), below)
		put([]string{"head", "raise"}, b.t(low, "what", listed(what, b.fed(l))), up)
	}
}

// aim is what a light points at; a point in the room by its tapes and height.
func (b *stepper) aim(l *setup.Light) string {
	s := aimText(l, b.job.Words)
	if l.Aim.Target != "place" || l.Aim.Unknown {
		return s
	}
	u := b.job.Setup.Units
	at := measureText(&setup.Place{Right: l.Aim.Right, Front: l.Aim.Front}, b.job.Words, u)
	point := listed(at, b.t("high", "d", bareLength(l.Aim.Height, u)))
	return strings.Replace(s, b.job.Words.T("aim.place"), b.t("aim-point", "where", point), 1)
}

// capital makes the first letter one.
func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

func (b *stepper) headText(l *setup.Light) string {
	if l.Head == nil {
		return ""
	}
	if l.Head.Name != "" {
		return l.Head.Name
	}
	return kindWord(l.Head.Kind, b.job.Words)
}

// fed says where a head's plug goes; it is switched on later.
func (b *stepper) fed(l *setup.Light) string {
	if l.Source == exposure.Bounce {
		return ""
	}
	if u := l.Pack; u != nil {
		if u.Outlet != "" {
			return b.t("plug-outlet", "name", u.Pack.Name, "outlet", u.Outlet)
		}
		return b.t("plug-pack", "name", u.Pack.Name)
	}
	for _, ld := range b.loads {
		switch {
		case !slices.Contains(ld.Lights, l.Number):
		case ld.Name == "":
			return b.t("plug")
		default:
			return b.t("plug-into", "name", ld.Name)
		}
	}
	return b.t("switched-off")
}

// bag is the bag that goes on before anything else; no act where none is asked
// for.
func (b *stepper) bag(i int) (acts []string, text string) {
	boom := ""
	if l := b.job.Setup.Lights[i]; l.Stand != nil && l.Stand.Kind == "boom" {
		boom = "-boom"
	}
	switch bag := b.bags[i]; {
	case bag.Wider:
		return []string{"bag"}, b.t("bag-wider")
	case bag.Bags > 0:
		return []string{"bag"}, b.t("bag"+boom, "n", strconv.Itoa(bag.Bags), "size", trimFloat(safety.BagSize(b.job.Setup)))
	case bag.Plain:
		return []string{"bag"}, b.t("bag-plain" + boom)
	}
	return nil, ""
}

// column is where a boom's column stands.
func (b *stepper) column(l *setup.Light) string {
	if l.Stand.Base == nil {
		return b.t("column-blank")
	}
	return b.where(l.Stand.Base)
}

// counterweight is the weight that balances a boom.
func (b *stepper) counterweight(l *setup.Light) string {
	kg, at := safety.BoomWeight(l)
	s := b.t("counterweight-blank")
	if kg != nil {
		s = b.t("counterweight", "kg", oneDecimal(*kg))
	}
	if at != nil {
		s += " " + b.t("counterweight-at", "d", bareLength(*at, b.job.Setup.Units))
	}
	return s
}

func oneDecimal(v float64) string { return trimFloat(float64(int(v*10+0.5)) / 10) }

// power is what is checked before anything is switched on, and then switched
// on one at a time.
func (b *stepper) power() {
	var loads []string
	for _, ld := range b.loads {
		if ld.Circuit == nil || ld.Circuit.Breaker == nil {
			continue
		}
		key := "load"
		if len(ld.Unknown) > 0 {
			key = "load-partly"
		}
		loads = append(loads, b.t(key, "name", ld.Name, "load", oneDecimal(ld.LoadA), "numbers", ranges(ld.Unknown), "breaker", trimFloat(*ld.Circuit.Breaker)))
	}
	lamps := 0
	var triggers []string
	for i := range b.job.Setup.Lights {
		l := &b.job.Setup.Lights[i]
		if l.Trigger != "" {
			triggers = append(triggers, b.t("trigger", "light", numbered(l.Number, l.Name), "trigger", l.Trigger))
		}
		if l.Source != exposure.Daylight && l.Source != exposure.Bounce {
			lamps++
		}
	}
	if lamps == 0 {
		return
	}
	b.put("power", b.t("check-lead"), b.t("check"), capital(strings.Join(loads, ", ")))
	dust := ""
	if holds(b.job.Setup.Hazards, "dust") || holds(b.job.Setup.Hazards, "aerosol") {
		dust = b.t("on-dust")
	}
	b.put("power", b.t("on-lead"), b.t("on"), dust)
	if len(triggers) > 0 {
		b.put("power", b.t("triggers-lead"), strings.Join(triggers, "; "))
	}
}

// metering is the meter's own setting, the room's light, then each light alone.
func (b *stepper) metering() {
	s, w := b.job.Setup, b.job.Words
	var set []string
	if s.Exposure.ISO != nil {
		set = append(set, w.T("camera.iso", "iso", trimFloat(*s.Exposure.ISO)))
	}
	if s.Exposure.ShutterS != nil {
		set = append(set, timeText(*s.Exposure.ShutterS))
	}
	b.put("meter", b.t("meter-lead"), strings.Join(set, ", "), b.t("meter-base"))
	switch {
	case s.Exposure.Zero == exposure.Ambient:
		b.put("meter", b.t("ambient-lead"), b.t("ambient-zero"))
	case s.Exposure.AmbientAv != nil:
		b.put("meter", b.t("ambient-lead"), b.t("ambient", "mark", b.job.reading(*s.Exposure.AmbientAv)))
	}
	for _, i := range s.MeteringOrder() {
		l := &s.Lights[i]
		look := ""
		if lookNow(l) {
			look = w.T("notes.look-for", "text", l.LookFor)
		}
		diff := ""
		if !s.IsZero(l) && i < len(b.job.Numbers.Lights) {
			diff = b.reads(b.job.Numbers.Lights[i].Delta)
		}
		b.steps = append(b.steps, step{phase: "meter", acts: []string{"meter"}, light: l.Number, of: fmt.Sprintf("light %d", l.Number),
			lead: numbered(l.Number, l.Name), text: sentences(listed(b.alone(l), b.held(l)), diff, look)})
	}
	b.put("meter", b.t("all-lead"), b.t("all"))
}

// lookNow says whether what to look for is short enough to stand where the light
// is metered; else it is in the notes.
func lookNow(l *setup.Light) bool { return l.LookFor != "" && len(l.LookFor) <= 160 && !l.Off }

// reads is a difference as what the meter shows, from the key.
func (b *stepper) reads(delta float64) string {
	switch {
	case b.job.Setup.Exposure.Zero != "":
		return b.t("reads-zero", "difference", deltaText(delta, b.job.Words), "zero", b.job.Setup.Exposure.Zero)
	case math.Abs(delta) < 0.05:
		return b.t("reads-same")
	}
	return b.t("reads", "difference", deltaText(delta, b.job.Words))
}

// alone says what else burns while a light is metered.
func (b *stepper) alone(l *setup.Light) string {
	switch {
	case l.Source == exposure.Bounce && l.LitBy != "":
		return b.t("alone-bounce", "light", l.LitBy)
	case l.Source == exposure.Bounce:
		return b.t("alone-card")
	case l.Source == exposure.Continuous, l.Source == exposure.Daylight:
		return b.t("alone-steady")
	}
	return b.t("alone")
}

// held says where the meter is and which way it is turned.
func (b *stepper) held(l *setup.Light) string {
	at, toward, dome := l.Meter.At, l.Meter.Toward, "dome-out"
	if at == "" {
		at = "face"
	}
	if toward == "" {
		toward = "light"
	}
	if l.Meter.Dome == "in" {
		dome = "dome-in"
	}
	if toward == "light" && l.Source == exposure.Bounce {
		toward = b.t("the-card")
	} else if toward == "light" || toward == "camera" {
		toward = b.t("the-" + toward)
	}
	return listed(b.t("meter-at", "at", fileWord(strings.TrimPrefix(at, "the "), b.job.Words)), b.t(dome, "toward", toward))
}
