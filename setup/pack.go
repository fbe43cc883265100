package setup

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"stopleaf/exposure"
)

// Pack is a power pack. It shares its energy among the outlets that a head is
// plugged into: evenly, or by the shares that are written. A pack is one load on
// the mains, however many heads hang on it.
type Pack struct {
	Name     string
	Kind     string
	EnergyWs *float64 // Ws, of all outlets together
	Range    *float64 // stops from full to least, positive
	Step     *float64 // stops
	Dial     exposure.Dial
	Supply   string   // "mains", "battery", ""
	Mass     *float64 // kg
	Current  *float64 // A, the maker's figure, for the whole pack
	Outlets  []Outlet // by name; empty where they have none
	Most     int      // how many heads it takes; 0 where that is not written
	Heads    int      // plugged in on this set, those that a look turns off among them
	Where    Where
}

// Outlet is one outlet of a pack.
type Outlet struct {
	Name  string
	Share *float64 // of the pack's energy, over 0 to 1; nil where all are even
}

// PackUse is what one head gets of a pack.
type PackUse struct {
	Pack   *Pack
	Outlet string  // "" where it is not written
	Share  float64 // of the pack's energy, over 0 to 1
}

// onPack is a head as its pack drives it: the pack's own range and dial, and as
// its energy at full what the outlet gives, or what the head takes where that is
// less. h may be nil.
func (u *PackUse) onPack(h *Head) *Head {
	var out Head
	if h != nil {
		out = *h
	}
	most := out.EnergyWs
	out.EnergyWs = nil
	if e := u.Pack.EnergyWs; e != nil {
		v := *e * u.Share
		if most != nil {
			v = math.Min(v, *most)
		}
		out.EnergyWs = &v
	}
	if u.Pack.Range != nil {
		out.Range = u.Pack.Range
	}
	if u.Pack.Step != nil {
		out.Step = u.Pack.Step
	}
	if u.Pack.Dial.Kind != "" {
		out.Dial = u.Pack.Dial
	}
	return &out
}

// dialled is what sets a light's power: its head, or the head as its pack
// drives it; nil when neither is known.
func (l *Light) dialled() *Head {
	if l.Pack != nil {
		return l.Pack.onPack(l.Head)
	}
	return l.Head
}

func (m *meaning) writtenPack(w *written) *Pack {
	h := m.writtenDial(w)
	p := &Pack{
		Name: h.Name, Kind: h.Kind, EnergyWs: h.EnergyWs, Range: h.Range, Step: h.Step, Dial: h.Dial,
		Supply: h.Supply, Mass: h.Mass, Current: h.Current, Where: h.Where,
	}
	if w.get("dial") == nil {
		p.Dial = exposure.Dial{} // the head's then, if it has one
	}
	m.outlets(p, w.get("outlets"))
	return p
}

// mostOutlets is the most a pack can have.
const mostOutlets = 64

// outlets takes how many there are, or a list of their names, with shares or
// without.
func (m *meaning) outlets(p *Pack, w *written) {
	if w == nil {
		return
	}
	if w.kind == isText && digits(w.text) {
		if n := m.number(w, "a number of outlets of", "", 1, mostOutlets); n != nil {
			p.Most = int(*n)
		}
		return
	}
	sum, shares := 0.0, 0
	for _, item := range m.texts(w) {
		o := Outlet{Name: line(item)}
		if item.kind == isMap {
			o.Name = line(item.get("name"))
			o.Share = m.share(item.get("share"))
		}
		switch {
		case o.Name == "":
			m.err(item.pos, "no-name", "an outlet has no \"name\"", "{name: A, share: 2/3}")
			continue
		case p.outlet(o.Name) != nil:
			m.err(item.pos, "name-twice", "two outlets are called "+quote(o.Name), "give each a name of its own")
			continue
		}
		if item.has("share") {
			shares++
		}
		if o.Share != nil {
			sum += *o.Share
		}
		p.Outlets = append(p.Outlets, o)
	}
	p.Most = len(p.Outlets)
	switch {
	case shares > 0 && shares < len(p.Outlets):
		m.err(w.pos, "half-shares", fmt.Sprintf("only %d of %d outlets of %s have a \"share\"", shares, len(p.Outlets), quote(p.Name)), "write it for all; without any, the outlets in use share evenly")
	case sum > 1+1e-6:
		m.err(w.pos, "shares", fmt.Sprintf("the shares of the outlets of %s come to %s, more than the pack has", quote(p.Name), short(math.Round(sum*1000)/1000)), "together they are 1 at most: 2/3 and 1/3")
	}
}

// share takes a part of the pack's energy: 2/3, 0.5 or 50 %.
func (m *meaning) share(w *written) *float64 {
	if !m.isText(w, "share") {
		return nil
	}
	v, err := parseShare(w.text)
	if err != nil || !(v > 0 && v <= 1) {
		m.err(w.pos, "bad-share", quote(w.text)+" is not a share", "write a part of the pack's energy: 2/3, 0.5 or 50 %")
		return nil
	}
	return &v
}

func parseShare(s string) (float64, error) {
	if over, under, ok := strings.Cut(s, "/"); ok {
		a, errA := parseNumber(over, "")
		b, errB := parseNumber(under, "")
		if errA != nil || errB != nil || !(b > 0) {
			return 0, fmt.Errorf("%s is no fraction", quote(s))
		}
		return a / b, nil
	}
	if body, ok := strings.CutSuffix(strings.TrimSpace(s), "%"); ok {
		v, err := parseNumber(body, "")
		return v / 100, err
	}
	return parseNumber(s, "")
}

func (p *Pack) outlet(name string) *Outlet {
	for i := range p.Outlets {
		if strings.EqualFold(p.Outlets[i].Name, name) {
			return &p.Outlets[i]
		}
	}
	return nil
}

// outletNames are as written, for hints.
func (p *Pack) outletNames() []string {
	out := make([]string, len(p.Outlets))
	for i, o := range p.Outlets {
		out[i] = o.Name
	}
	return out
}

// ownPacks adds the packs that the setup writes out itself.
func (m *meaning) ownPacks(top *written) {
	m.named(top, "packs", func(name string, w *written) {
		if m.gear.pack(name) != nil {
			m.err(w.keyPos("name"), "name-twice", fmt.Sprintf("the gear file has a pack called %s as well", quote(name)), "give each a name of its own")
			return
		}
		m.gear.packs = append(m.gear.packs, m.writtenPack(w))
	})
}

func (g *gearList) pack(name string) *Pack {
	for _, p := range g.packs {
		if strings.EqualFold(p.Name, name) {
			return p
		}
	}
	return nil
}

// plugs finds what each light gets of its pack, before any light is read: how
// much that is depends on how many hang on it.
func (m *meaning) plugs(items []*written) {
	m.plugged = map[*written][]*PackUse{}
	taken := map[*Pack]map[string]string{}
	for i, w := range items {
		p := m.packOf(w, i)
		if p == nil {
			continue
		}
		heads := 1
		if m.pair(w.get("pair")) != nil {
			heads = 2
		}
		names := m.outletsOf(w, i, p, heads)
		if names == nil {
			continue
		}
		if taken[p] == nil {
			taken[p] = map[string]string{}
			m.s.Packs = append(m.s.Packs, p)
		}
		p.Heads += heads
		if p.Most > 0 && p.Heads > p.Most {
			m.err(w.keyPos("pack"), "too-many-heads", fmt.Sprintf("%d heads hang on the pack %s, which has %s", p.Heads, quote(p.Name), plural(p.Most, "outlet")), "move one to another pack")
		}
		for _, name := range names {
			use := &PackUse{Pack: p, Outlet: name}
			who := m.called(line(w.get("name")), i)
			if other, twice := taken[p][name]; twice && name != "" {
				m.err(w.keyPos("outlet"), "outlet-taken", fmt.Sprintf("%s hangs on outlet %s of %s, and %s does already", who, quote(name), quote(p.Name), other), "an outlet takes one head")
			}
			taken[p][name] = who
			m.plugged[w] = append(m.plugged[w], use)
		}
	}
	for _, uses := range m.plugged {
		for _, u := range uses {
			u.Share = 1 / float64(u.Pack.Heads)
			if o := u.Pack.outlet(u.Outlet); o != nil && o.Share != nil {
				u.Share = *o.Share
			}
		}
	}
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.Itoa(n) + " " + what + "s"
}

// packOf finds the pack that a light names; nil when it has none.
func (m *meaning) packOf(w *written, index int) *Pack {
	name := w.get("pack")
	if name == nil {
		if w.has("outlet") && !w.has("pack") {
			m.err(w.keyPos("outlet"), "outlet-without-pack", m.called(line(w.get("name")), index)+" has an \"outlet\" and no \"pack\"", "write pack: with the pack's name")
		}
		return nil
	}
	if !m.isText(name, "pack") {
		return nil
	}
	if s := w.get("source"); s != nil && among(s.text, wordsOf("light", "source")) != "" && among(s.text, []string{"flash"}) == "" {
		m.err(name.pos, "pack-source", fmt.Sprintf("a power pack drives flash heads, and the source of %s is %s", m.called(line(w.get("name")), index), line(s)), "take \"pack\" out")
		return nil
	}
	if p := m.gear.pack(line(name)); p != nil {
		return p
	}
	known := gearNames(m.gear.packs, func(p *Pack) string { return p.Name })
	switch {
	case m.gear.broken:
	case len(known) > 0:
		m.err(name.pos, "not-in-gear", fmt.Sprintf("the pack %s is not found", quote(line(name))), suggest(line(name), known))
	default:
		m.err(name.pos, "not-in-gear", fmt.Sprintf("the pack %s is not found", quote(line(name))), "write it under \"packs\", here or in the gear file")
	}
	return nil
}

// outletsOf gives the outlets of a light, "" for one without a name; nil when
// they are wrong.
func (m *meaning) outletsOf(w *written, index int, p *Pack, heads int) []string {
	who := m.called(line(w.get("name")), index)
	o := w.get("outlet")
	if o == nil {
		if len(p.Outlets) > 0 && p.Outlets[0].Share != nil {
			m.err(w.keyPos("pack"), "no-outlet", fmt.Sprintf("%s does not say which outlet of %s it hangs on, and they give different shares", who, quote(p.Name)), "write outlet: "+p.Outlets[0].Name)
			return nil
		}
		return make([]string, heads)
	}
	items := m.texts(o)
	if len(items) != heads {
		m.err(w.keyPos("outlet"), "bad-outlet", fmt.Sprintf("%s given for %s", plural(len(items), "outlet"), who), "a single light takes one; a pair two, L and then R")
		return nil
	}
	var out []string
	for _, item := range items {
		name := line(item)
		if len(p.Outlets) > 0 {
			found := p.outlet(name)
			if found == nil {
				m.err(item.pos, "bad-outlet", fmt.Sprintf("%s has no outlet %s", quote(p.Name), quote(name)), suggest(name, p.outletNames()))
				return nil
			}
			name = found.Name
		}
		out = append(out, name)
	}
	return out
}

// packed gives a light what it gets of its pack, and reads its power by that.
func (m *meaning) packed(d *draft) {
	uses := m.plugged[d.w]
	if len(uses) == 0 {
		return
	}
	d.uses = uses
	d.Pack = uses[0]
	for _, u := range uses {
		d.powers = append(d.powers, m.power(d.w.get("power"), u.onPack(d.Head)))
	}
	d.Power = d.powers[0]
	switch h := d.Head; {
	case h == nil:
	case h.Current != nil:
		m.warn(d.w.keyPos("pack"), "head-current", fmt.Sprintf("the head of %s has a \"current\" of its own, and hangs on the pack %s, whose current is counted", quote(d.Name), quote(uses[0].Pack.Name)), "write \"current\" on the pack alone")
	case h.Supply != "":
		m.warn(d.w.keyPos("pack"), "head-supply", fmt.Sprintf("the head of %s has a \"supply\" of its own, and hangs on the pack %s", quote(d.Name), quote(uses[0].Pack.Name)), "write \"supply\" on the pack alone")
	}
}

// packCircuits puts a pack on one circuit: that of the lights on it that name
// one.
func (m *meaning) packCircuits(lights []Light) {
	on := map[*Pack]string{}
	for i := range lights {
		l := &lights[i]
		if l.Pack == nil || l.Circuit == "" {
			continue
		}
		p := l.Pack.Pack
		if c, known := on[p]; known && c != l.Circuit {
			m.err(l.Where.Key("circuit"), "pack-circuits", fmt.Sprintf("the pack %s is on circuit %s already, and %s is on %s", quote(p.Name), quote(c), quote(l.Name), quote(l.Circuit)), "a pack has one plug")
			continue
		}
		on[p] = l.Circuit
	}
	for i := range lights {
		if l := &lights[i]; l.Pack != nil && l.Circuit == "" {
			l.Circuit = on[l.Pack.Pack]
		}
	}
}
