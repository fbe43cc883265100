package setup

import (
	"fmt"
	"math"
	"strings"

	"stopleaf/exposure"
)

// gearList is what the shared gear file holds, as meant.
type gearList struct {
	file      string // as written
	broken    bool   // named, but not read: names are then not checked
	heads     []Head
	packs     []*Pack
	modifiers []Modifier
	stands    []Stand
}

// readGear reads the shared gear file, or what stands in its place. Its lengths
// are in its own units, metres unless said.
func (m *meaning) readGear(w *written) {
	m.gear = &gearList{}
	if w == nil {
		return
	}
	if w.kind == isMap {
		m.s.gearTop = w
		m.gearAsMeant(w)
		return
	}
	m.gear.broken = true
	m.gear.file = line(w)
	m.s.Gear = m.gear.file
	path := m.path(w, "the gear file")
	if path == "" {
		return
	}
	m.s.Files = append(m.s.Files, path)
	f := m.opt.Shared.gear(path)
	if f.err != nil {
		m.err(w.pos, "gear-file", fmt.Sprintf("the gear file %s: %s", quote(m.gear.file), f.err), "it is looked for from the folder of the setup")
		return
	}
	for _, p := range f.problems {
		m.add(p)
	}
	top := f.top
	if top == nil {
		return
	}
	m.gear.broken = false
	m.s.gearTop, m.s.gearSrc = top, f.src
	m.gearAsMeant(top)
}

// gearAsMeant reads the lists of the gear, in units of their own.
func (m *meaning) gearAsMeant(top *written) {
	setupUnits := m.units
	m.units = Metres
	if u := m.word(top.get("units"), wordsOf("gear", "units")); u != "" {
		m.units = Units(u)
	}
	m.gearItems(top)
	m.units = setupUnits
	m.s.GearHeads, m.s.GearModifiers = m.gear.heads, m.gear.modifiers
}

// named goes through a list of gear, each of which has a name of its own.
func (m *meaning) named(top *written, list string, add func(name string, w *written)) {
	seen := map[string]bool{}
	w := top.get(list)
	if w == nil {
		return
	}
	for _, item := range w.items {
		name := line(item.get("name"))
		low := strings.ToLower(name)
		switch {
		case name == "":
			m.err(item.pos, "no-name", fmt.Sprintf("an item of %q has no \"name\"", list), "lights call gear by its name")
		case seen[low]:
			m.err(item.keyPos("name"), "name-twice", fmt.Sprintf("two items of %q are called %s", list, quote(name)), "give each a name of its own")
		default:
			seen[low] = true
			add(name, item)
		}
	}
}

func (m *meaning) gearItems(top *written) {
	named := func(list string, add func(name string, w *written)) { m.named(top, list, add) }
	named("packs", func(_ string, w *written) { m.gear.packs = append(m.gear.packs, m.writtenPack(w)) })
	named("modifiers", func(name string, w *written) {
		mod := m.writtenModifier(w)
		mod.Gear = name
		if mod.Kind == "" {
			m.err(w.pos, "no-kind", "the modifier "+quote(name)+" has no \"kind\"", "write what it is: softbox, octabox, bowl, ...")
		}
		m.gear.modifiers = append(m.gear.modifiers, *mod)
	})
	named("heads", func(name string, w *written) { // their outputs name modifiers
		h := m.writtenHead(w)
		h.Name = name
		m.gear.heads = append(m.gear.heads, *h)
	})
	named("stands", func(name string, w *written) {
		st := m.writtenStand(w)
		st.Name = name
		m.gear.stands = append(m.gear.stands, *st)
	})
}

// names of one list of the gear.
func gearNames[T any](list []T, name func(T) string) []string {
	out := make([]string, len(list))
	for i, v := range list {
		out[i] = name(v)
	}
	return out
}

func (g *gearList) head(name string) *Head {
	for i := range g.heads {
		if strings.EqualFold(g.heads[i].Name, name) {
			return &g.heads[i]
		}
	}
	return nil
}

func (g *gearList) modifier(name string) *Modifier {
	for i := range g.modifiers {
		if strings.EqualFold(g.modifiers[i].Gear, name) {
			return &g.modifiers[i]
		}
	}
	return nil
}

func (g *gearList) stand(name string) *Stand {
	for i := range g.stands {
		if strings.EqualFold(g.stands[i].Name, name) {
			return &g.stands[i]
		}
	}
	return nil
}

// notInGear says that a name is not found, unless the gear file itself could
// not be read and said so.
func (m *meaning) notInGear(w *written, what string, known []string) {
	if m.gear.broken {
		return
	}
	hint := "write it out here, or name a gear file with \"gear\""
	if m.gear.file != "" {
		hint = fmt.Sprintf("%q has no %s", m.gear.file, what+"s")
		if len(known) > 0 {
			hint = suggest(w.text, known)
		}
	}
	m.err(w.pos, "not-in-gear", fmt.Sprintf("the %s %s is not found", what, quote(line(w))), hint)
}

// head takes a name of the gear file or the head written out.
func (m *meaning) head(w *written) *Head {
	switch {
	case w == nil:
		return nil
	case w.kind == isMap:
		return m.writtenHead(w)
	case !m.isText(w, "head"):
		return nil
	}
	if h := m.gear.head(line(w)); h != nil {
		out := *h
		return &out
	}
	m.notInGear(w, "head", gearNames(m.gear.heads, func(h Head) string { return h.Name }))
	return nil
}

func (m *meaning) writtenHead(w *written) *Head {
	h := m.writtenDial(w)
	h.Watts = m.number(w.get("watts"), "a lamp of", "W", 0, 100_000)
	h.Modelling = m.modelling(w.get("modelling"))
	if o := w.get("output"); o != nil {
		items := []*written{o}
		if o.kind == isList {
			items = o.items
		}
		for _, item := range items {
			if out := m.output(item, h); out != nil {
				h.Outputs = append(h.Outputs, *out)
			}
		}
	}
	return h
}

// writtenDial reads what heads and packs have alike.
func (m *meaning) writtenDial(w *written) *Head {
	h := &Head{
		Name: line(w.get("name")), Kind: line(w.get("kind")),
		EnergyWs: m.number(w.get("energy"), "an energy of", "Ws", 0.1, 100_000),
		Range:    m.headRange(w.get("range")),
		Step:     m.stops(w.get("step")),
		Supply:   m.word(w.get("supply"), wordsOf("head", "supply")),
		Mass:     m.mass(w.get("mass")),
		Current:  m.number(w.get("current"), "a current of", "A", 0, 1000),
		Where:    w.where(),
	}
	h.Dial = exposure.Dial{Kind: m.word(w.get("dial"), wordsOf("head", "dial"))}
	if h.Dial.Kind == "" {
		h.Dial.Kind = "fractions"
	}
	if full := m.number(w.get("full"), "a dial's figure at full of", "", 0.1, 1000); full != nil {
		h.Dial.Full = *full
	}
	switch {
	case h.Dial.Kind == "number" && h.Dial.Full == 0:
		m.err(w.keyPos("dial"), "no-full", "a number dial needs \"full\", what it shows at full power", "full: 10")
	case h.Dial.Kind != "number" && h.Dial.Full != 0:
		m.warn(w.keyPos("full"), "full", "\"full\" means something on a number dial alone", "write dial: number, or take it out")
	}
	if h.Step != nil && !(*h.Step > 0) {
		m.err(w.keyPos("step"), "bad-stops", "a step of 0 is none", "write the stops of one click: 0.1, 1/3")
	}
	return h
}

// headRange takes stops, or the least power as a fraction: "1/128" is 7 stops.
func (m *meaning) headRange(w *written) *float64 {
	v := m.stops(w)
	if v != nil && *v > 0 && *v <= 0.5 && strings.HasPrefix(w.text, "1/") {
		r := -math.Log2(*v)
		return &r
	}
	if v != nil && *v == 0 {
		m.err(w.pos, "bad-stops", "a range of 0 stops is none", "write the stops from full to least power: 7")
		return nil
	}
	return v
}

func (m *meaning) mass(w *written) *float64 {
	return m.number(w, "a mass of", "kg", 0, 1000)
}

func (m *meaning) modelling(w *written) *Modelling {
	switch {
	case w == nil:
		return nil
	case w.kind == isMap:
		return &Modelling{
			Watts: m.number(w.get("watts"), "a lamp of", "W", 0, 10_000),
			Lamp:  m.word(w.get("lamp"), wordsOf("modelling", "lamp")),
		}
	}
	out := &Modelling{}
	text := strings.ToLower(w.text)
	for _, lamp := range wordsOf("modelling", "lamp") {
		if strings.Contains(text, lamp) {
			out.Lamp = lamp
			text = strings.Trim(strings.Replace(text, lamp, "", 1), " ,")
		}
	}
	if text != "" || out.Lamp == "" {
		out.Watts = m.number(&written{pos: w.pos, kind: isText, text: text}, "a lamp of", "W", 0, 10_000)
	}
	return out
}

func (m *meaning) output(w *written, h *Head) *Output {
	out := &Output{ISO: 100, With: line(w.get("with")), Pos: w.pos}
	reads, at := m.reading(w.get("reads")), m.length(w.get("at"))
	if iso := m.speed(w.get("iso")); iso != nil {
		out.ISO = *iso
	}
	if p := m.power(w.get("power"), h); p != nil {
		out.PowerStops = *p
	}
	if w.get("reads") == nil || w.get("at") == nil {
		m.err(w.pos, "half-output", "an output needs \"reads\" and \"at\"", "{reads: f/22, at: 1 m, iso: 100, with: softbox 0.9 x 0.6}")
		return nil
	}
	if reads == nil || at == nil {
		return nil
	}
	if *at < 0.05 {
		m.err(w.keyPos("at"), "bad-length", "an output metered at 0 m is none", "write how far the meter was from the head")
		return nil
	}
	out.ReadsAv, out.At = *reads, *at
	out.Modifier = modifierOf(out.With, m.units, m.gear)
	return out
}

// stand takes a name of the gear file, a kind, or the stand written out.
func (m *meaning) stand(w *written) *Stand {
	switch {
	case w == nil:
		return nil
	case w.kind == isMap:
		return m.writtenStand(w)
	case !m.isText(w, "stand"):
		return nil
	}
	if st := m.gear.stand(line(w)); st != nil {
		out := *st
		return &out
	}
	kinds := wordsOf("stand", "kind")
	if k := among(w.text, kinds); k != "" {
		return &Stand{Kind: k, Where: Where{Item: w.pos}}
	}
	m.notInGear(w, "stand", append(gearNames(m.gear.stands, func(s Stand) string { return s.Name }), kinds...))
	return nil
}

func (m *meaning) writtenStand(w *written) *Stand {
	st := &Stand{
		Name: line(w.get("name")), Kind: m.word(w.get("kind"), wordsOf("stand", "kind")),
		Footprint: m.length(w.get("footprint")), Mass: m.mass(w.get("mass")), Bag: m.mass(w.get("bag")),
		Reach: m.length(w.get("reach")), Behind: m.length(w.get("behind")),
		Counterweight: m.mass(w.get("counterweight")), Where: w.where(),
	}
	boom := st.Reach != nil || st.Behind != nil || st.Counterweight != nil || w.get("base") != nil
	switch {
	case st.Kind == "" && boom:
		st.Kind = "boom"
	case st.Kind == "":
		st.Kind = "stand"
	case st.Kind != "boom" && boom:
		m.warn(w.keyPos("kind"), "not-a-boom", "\"reach\", \"behind\", \"counterweight\" and \"base\" belong to a boom, and this is a "+st.Kind, "write kind: boom")
	}
	return st
}
