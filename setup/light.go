package setup

import (
	"fmt"
	"strings"

	"stopleaf/exposure"
	"stopleaf/setup/grammar"
)

// The bounds of a set.
const (
	maxLights = 64 // after pairs
	maxGrip   = 256
	maxDelta  = 20.0 // stops, either way
)

// draft is a light as written, understood but for what leans on other lights.
type draft struct {
	Light
	w        *written
	place    *placeSpec
	aim      aimSpec
	base     *placeSpec // a boom's
	readings []*float64
	delta    *float64
	pairing  *Pair // nil: a single light
	wrote    int   // of a pair: the side the file speaks of, -1 or 1
	index    int   // of the item in the file
	uses     []*PackUse
	powers   []*float64 // of each of uses
}

// everything reads the lights and the grip, and solves their places together.
func (m *meaning) everything(top *written) {
	drafts := m.lights(top.get("lights"), top)
	grips, gripPlaces := m.grips(top.get("grip"))
	m.names(drafts, grips)
	m.differences(drafts)
	s := m.newSolver(drafts, grips, gripPlaces)
	s.solve()
	for i := range drafts {
		d := &drafts[i]
		d.Place = s.items[i].place
		if s.items[i].aimed != nil {
			d.Aim = *s.items[i].aimed
		}
		m.boomBase(s, i, d)
		m.references(d, drafts)
		d.Number = i + 1
		m.s.Lights = append(m.s.Lights, d.Light)
	}
	m.packCircuits(m.s.Lights)
	for i := range grips {
		g := &grips[i]
		g.Place = s.items[len(drafts)+i].place
		g.Number = len(drafts) + i + 1
		m.s.Grip = append(m.s.Grip, *g)
	}
}

// lights reads the list and makes two of each pair.
func (m *meaning) lights(w *written, top *written) []draft {
	if w == nil && top.has("lights") {
		return nil
	}
	if w == nil || len(w.items) == 0 {
		at := Pos{File: m.s.File}
		if w != nil {
			at = top.keyPos("lights")
		}
		if w == nil || w.whole {
			m.err(at, "no-lights", "the setup has no lights", "the smallest useful file is a title, and lights with a role and a delta")
		}
		return nil
	}
	var out []draft
	m.plugs(w.items)
	for i, item := range w.items {
		d := m.light(item, i)
		if d.pairing == nil {
			out = append(out, d)
		} else {
			out = append(out, d.half(-1), d.half(1))
		}
		if len(out) > maxLights {
			m.err(item.pos, "too-many-lights", fmt.Sprintf("more than %d lights, pairs counted as two", maxLights), "")
			break
		}
	}
	m.defaultNames(out)
	return out
}

// light reads one item of the list.
func (m *meaning) light(w *written, index int) draft {
	d := draft{w: w, index: index}
	d.Where = w.where()
	d.Name = line(w.get("name"))
	if role := w.get("role"); role != nil {
		d.Role = m.openWord(role, grammar.Roles, "role")
	}
	if d.Role == "" {
		d.Role = "other"
		if w.get("role") == nil {
			m.warn(w.pos, "no-role", fmt.Sprintf("%s has no \"role\", and is taken as \"other\"", m.called(d.Name, index)), "allowed: "+strings.Join(grammar.Roles, ", "))
		}
	}
	d.Source = exposure.Source(m.word(w.get("source"), wordsOf("light", "source")))
	if d.Source == "" {
		d.Source = exposure.Flash
	}
	d.LitBy = line(w.get("lit by"))
	d.pairing = m.pair(w.get("pair"))
	d.place = m.place(w.get("place"), d.pairing != nil)
	d.Where.add(w.get("place"))
	d.wrote = -1
	if d.place != nil && d.place.side != 0 {
		d.wrote = d.place.side
	}
	d.aim = m.aim(w.get("aim"), w.get("feather"), d.Role)
	d.Modifier = m.modifier(w.get("modifier"))
	d.Head = m.head(w.get("head"))
	switch {
	case d.Head == nil && w.has("head"): // the head is what is wrong
	case w.has("pack"):
		m.packed(&d)
	default:
		d.Power = m.power(w.get("power"), d.Head)
	}
	d.PowerText = line(w.get("power"))
	d.Dimmer = m.number(w.get("dimmer"), "a dimmer at", "%", 0, 100)
	d.Stand = m.stand(w.get("stand"))
	if st := w.get("stand"); st != nil {
		d.base = m.place(st.get("base"), false)
	}
	d.Meter = m.meter(w.get("meter"))
	d.Front = m.yesNo(w.get("front"))
	d.Tolerance = m.stops(w.get("tolerance"))
	d.Trigger, d.Circuit, d.Mark = line(w.get("trigger")), line(w.get("circuit")), line(w.get("mark"))
	d.LookFor, d.Note, d.Private = block(w.get("look for")), block(w.get("note")), block(w.get("private"))
	m.howMuch(&d)
	m.oddities(&d)
	return d
}

func (m *meaning) called(name string, index int) string {
	if name != "" {
		return quote(name)
	}
	return fmt.Sprintf("light %d", index+1)
}

// howMuch reads the difference or the reading, of which a light has one.
func (m *meaning) howMuch(d *draft) {
	w, index := d.w, d.index
	d.delta, d.DeltaText = m.delta(w.get("delta")), line(w.get("delta"))
	if r := w.get("reading"); r != nil {
		items := []*written{r}
		if r.kind == isList || strings.Contains(r.text, ", ") {
			items = m.texts(r)
			if d.pairing == nil || len(items) != 2 {
				m.err(w.keyPos("reading"), "bad-reading", fmt.Sprintf("%d readings are given for %s", len(items), m.called(d.Name, index)), "a pair takes two, L and then R; a single light one")
			}
		}
		for _, t := range items {
			d.readings = append(d.readings, m.reading(t))
		}
	}
	if w.has("delta") && w.has("reading") {
		m.err(w.keyPos("reading"), "two-amounts", fmt.Sprintf("%s has both \"delta\" and \"reading\"", m.called(d.Name, index)), "keep the one that was measured")
	}
}

// amounts asks every light but the zero for its difference or its reading, and
// the zero for none.
func (m *meaning) amounts(drafts []draft, zero *draft) {
	for i := range drafts {
		d := &drafts[i]
		hasDelta, hasReading := d.w.has("delta"), d.w.has("reading")
		switch {
		case d == zero && d.delta != nil && *d.delta != 0 && d.Role == "key":
			m.err(d.w.keyPos("delta"), "key-delta", "the key's own delta is not 0", "the key is the zero of every difference: take \"delta\" out")
		case d == zero && d.delta != nil && *d.delta != 0:
			m.err(d.w.keyPos("delta"), "key-delta", fmt.Sprintf("%s is the zero, and its own delta is not 0", quote(d.Name)), "take \"delta\" out")
		case !hasDelta && !hasReading && d != zero && d.Role != "key":
			m.err(d.w.pos, "no-amount", fmt.Sprintf("%s has neither \"delta\" nor \"reading\"", m.called(line(d.w.get("name")), d.index)), "write delta: 1.6 under, or reading: f/5.6")
		}
	}
}

// oddities warns of what is written and cannot be meant.
func (m *meaning) oddities(d *draft) {
	w := d.w
	if d.LitBy != "" && d.Source != exposure.Bounce {
		m.warn(w.keyPos("lit by"), "lit-by", "\"lit by\" belongs to a bounce, and this source is "+string(d.Source), "write source: bounce")
	}
	if d.Source == exposure.Bounce && (d.Power != nil || d.Head != nil) {
		m.warn(w.pos, "bounce-power", "a bounce has no head and no power of its own", "they belong to the light that feeds it")
	}
	if d.Dimmer != nil && d.Source == exposure.Flash {
		m.warn(w.keyPos("dimmer"), "dimmer", "\"dimmer\" belongs to a continuous light", "write source: continuous, or power: 1/4 for a flash")
	}
}

// pair reads how a mirrored pair was metered; nil for a single light.
func (m *meaning) pair(w *written) *Pair {
	if w == nil {
		return nil
	}
	word := w
	if w.kind == isMap {
		word = w.get("metered")
	}
	if w.kind == isText {
		switch strings.ToLower(w.text) {
		case "no", "false", "off":
			return nil
		case "yes", "true", "on":
			word = nil
		}
	}
	if word == nil {
		m.warn(w.pos, "pair-metered", "the pair does not say how it was metered; it is taken as each alone", "write pair: each, or pair: both if the two were metered together")
		return &Pair{Metered: "each"}
	}
	metered := m.word(word, wordsOf("pair", "metered"))
	if metered == "" {
		metered = "each"
	}
	return &Pair{Metered: metered}
}

// half is one of a pair: side -1 is L, at camera left, 1 is R.
func (d draft) half(side int) draft {
	letter := "L"
	if side > 0 {
		letter = "R"
	}
	d.Pair = &Pair{Of: d.Name, Side: letter, Metered: d.pairing.Metered}
	d.place = d.place.forSide(side)
	d.aim = d.aim.forSide(side, d.wrote)
	if d.base != nil && side != d.wrote {
		b := *d.base
		b.right, b.side, b.mirrored = -b.right, -b.side, true
		d.base = &b
	}
	if len(d.readings) == 2 {
		if side < 0 {
			d.readings = d.readings[:1]
		} else {
			d.readings = d.readings[1:]
		}
	}
	if len(d.uses) == 2 {
		at := (side + 1) / 2
		d.Pack, d.Power = d.uses[at], d.powers[at]
	}
	if d.Stand != nil {
		st := *d.Stand
		d.Stand = &st
	}
	return d
}

// defaultNames names what has no name after its role, with a number where two
// would be alike, and gives pairs their letters.
func (m *meaning) defaultNames(drafts []draft) {
	used := map[string]bool{}
	for _, d := range drafts {
		used[strings.ToLower(d.Name)] = true
	}
	for i := range drafts {
		d := &drafts[i]
		switch {
		case d.Name != "":
		case d.Pair != nil && d.Pair.Side == "R" && i > 0:
			d.Name = drafts[i-1].Pair.Of
		default:
			d.Name = freeName(d.Role, used)
		}
		if d.Pair != nil {
			d.Pair.Of = d.Name
		}
	}
	for i := range drafts {
		if p := drafts[i].Pair; p != nil {
			drafts[i].Name = p.Of + " " + p.Side
		}
	}
}

// DefaultName names an item without a name after its role or kind, with a number
// where that name is used (names in lower case), and takes the name up.
func DefaultName(role string, used map[string]bool) string { return freeName(role, used) }

func freeName(role string, used map[string]bool) string {
	r := []rune(role)
	base := strings.ToUpper(string(r[:1])) + string(r[1:])
	name := base
	for n := 2; used[strings.ToLower(name)]; n++ {
		name = fmt.Sprintf("%s %d", base, n)
	}
	used[strings.ToLower(name)] = true
	return name
}

// names refuses two names alike, after pairs and whatever the case.
func (m *meaning) names(drafts []draft, grips []Grip) {
	type named struct {
		name string
		at   Pos
	}
	first := map[string]named{}
	check := func(name string, at Pos) {
		low := strings.ToLower(name)
		if before, twice := first[low]; twice {
			m.err(at, "name-twice", "two items are called "+quote(before.name),
				fmt.Sprintf("the first stands in line %d; give each a name of its own, not told apart by capitals alone", before.at.Line))
			return
		}
		first[low] = named{name, at}
	}
	for _, d := range drafts {
		check(d.Name, d.Where.Key("name"))
	}
	for _, g := range grips {
		check(g.Name, g.Where.Key("name"))
	}
}

// meter reads where and how a light was metered.
func (m *meaning) meter(w *written) Meter {
	out := Meter{At: "face", Toward: "light"}
	if w == nil {
		return out
	}
	out.Given = true
	at, dome, toward := w.get("at"), w.get("dome"), w.get("toward")
	if w.kind == isText {
		for _, part := range parts(w.text) {
			low := strings.ToLower(part)
			piece := func(s string) *written { return &written{pos: w.pos, kind: isText, text: strings.TrimSpace(s)} }
			switch {
			case strings.HasPrefix(low, "dome "):
				dome = piece(part[len("dome "):])
			case strings.HasPrefix(low, "toward "):
				toward = piece(part[len("toward "):])
			case strings.HasPrefix(low, "towards "):
				toward = piece(part[len("towards "):])
			case strings.HasPrefix(low, "at "):
				at = piece(part[len("at "):])
			default:
				at = piece(part)
			}
		}
	}
	if at != nil && line(at) != "" {
		out.At = line(at)
	}
	out.Dome = m.word(dome, wordsOf("meter", "dome"))
	if toward != nil && line(toward) != "" {
		out.Toward = strings.TrimPrefix(strings.ToLower(line(toward)), "the ")
	}
	return out
}
