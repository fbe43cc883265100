package compare

import (
	"math"
	"slices"
	"strings"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
	"stopleaf/setup"
)

// light gathers the facts of one light.
func (c *comparison) light(p matched) Pair {
	out := Pair{How: p.how}
	var a, b *setup.Light
	if p.a >= 0 {
		a = &c.a.Lights[p.a]
		out.A = &Item{a.Number, a.Name, a.Role, a.Off}
	}
	if p.b >= 0 {
		b = &c.b.Lights[p.b]
		out.B = &Item{b.Number, b.Name, b.Role, b.Off}
	}
	f := c.newFacts()
	c.amount(f, a, b, &out)
	f.power(c.dialOf(0, a), c.dialOf(1, b))
	out.Moved = f.place(placeOf(a), placeOf(b))
	c.aim(f, a, b)
	f.modifier(modifierOf(a), modifierOf(b))
	c.kind(f, a, b)
	c.metered(f, a, b)
	out.Facts = f.list
	return out
}

// of reads one text of a light; "" for no light.
func of(l *setup.Light, text func(*setup.Light) string) string {
	if l == nil {
		return ""
	}
	return text(l)
}

// amount is how bright the light is: from the reference, and as it reads.
func (c *comparison) amount(f *facts, a, b *setup.Light, p *Pair) {
	delta := func(side int, l *setup.Light) *float64 {
		if l == nil {
			return nil
		}
		return at(l.Delta - c.zero[side])
	}
	reading := func(side int, l *setup.Light) *float64 {
		av := []*setup.Setup{c.a, c.b}[side].Exposure.KeyAv
		if l == nil || av == nil || l.Off {
			return nil
		}
		return at(*av + l.Delta)
	}
	alike := a != nil && b != nil && meteredAlike(a, b) && !a.Off && !b.Off
	d := f.stops("delta", "difference", delta(0, a), delta(1, b), apex.FormatDelta)
	if !alike || !c.compares() {
		d.incomparable()
	}
	p.Stops = d.Change
	read := f.stops("reading_av", "reads", reading(0, a), reading(1, b), c.style.Reading)
	if !alike {
		read.incomparable()
	}
	if read.echo = c.compares(); !read.echo && p.Stops == nil {
		p.Stops = read.Change
	}
}

// dial is the power of a light and what it is set on.
type dial struct {
	light *setup.Light
	power *float64 // stops from full
	head  *exposure.Head
}

func (c *comparison) dialOf(side int, l *setup.Light) dial {
	if l == nil {
		return dial{}
	}
	s := []*setup.Setup{c.a, c.b}[side]
	for _, in := range s.Input(nil).Lights {
		if in.Number == l.Number && l.Source == exposure.Flash {
			return dial{l, in.Power, in.Head}
		}
	}
	return dial{light: l}
}

func (d dial) text(stops float64) string {
	if d.head == nil {
		return apex.FormatDial(stops, apex.Dial{}, nil, nil)
	}
	return apex.FormatDial(stops, apex.Dial{Kind: d.head.Dial.Kind, Full: d.head.Dial.Full}, d.head.Step, d.head.EnergyWs)
}

// full is the energy at full; nil where it is not known.
func (d dial) full() *float64 {
	if d.head == nil {
		return nil
	}
	return d.head.EnergyWs
}

func (d dial) energy() *float64 {
	if d.full() == nil || d.power == nil {
		return nil
	}
	return at(*d.full() * math.Exp2(*d.power))
}

func (d dial) dimmer() *float64 {
	if d.light == nil {
		return nil
	}
	return d.light.Dimmer
}

// power is what the head is set to. Stops from full compare on heads of one
// energy, or where no energy is known; else the energies do.
func (f *facts) power(a, b dial) {
	p := f.stops("power_stops", "power", a.power, b.power, a.text)
	if b.power != nil {
		p.TextB = b.text(*b.power)
	}
	ea, eb := a.full(), b.full()
	other := (ea == nil) != (eb == nil) || ea != nil && !near(doubled(*ea, *eb), 0, 1e-6)
	if other {
		p.incomparable()
	}
	e := f.speed("energy_ws", "energy", a.energy(), b.energy(), energyText)
	e.echo = !other || e.Same == nil
	f.plain("dimmer_percent", "dimmer", " %", a.dimmer(), b.dimmer(), 1)
}

// energyText is whole from 20 Ws up, as dials show it.
func energyText(ws float64) string {
	if ws >= 19.95 {
		ws = round0(ws)
	}
	return trim(ws) + " Ws"
}

func placeOf(l *setup.Light) *setup.Place {
	if l == nil {
		return nil
	}
	return l.Place
}

// place is where an item stands; it gives how far that is apart.
func (f *facts) place(a, b *setup.Place) (moved *float64) {
	f.bearing(a, b)
	length := func(p *setup.Place, of func(*setup.Place) *float64) *float64 {
		if p == nil {
			return nil
		}
		return of(p)
	}
	floor := func(p *setup.Place) *float64 { return at(p.Distance()) }
	height := func(p *setup.Place) *float64 { return p.Height }
	f.length("distance_m", "distance", length(a, floor), length(b, floor))
	f.length("height_m", "height", length(a, height), length(b, height))
	if d := apart(a, b); !math.IsInf(d, 1) {
		moved = at(round(d))
	}
	return moved
}

// bearing is the angle from the subject, 0 toward the camera, positive to the
// camera's right, 180 straight behind. On the mark there is none.
func (f *facts) bearing(a, b *setup.Place) {
	bearing := func(p *setup.Place) *float64 {
		if p == nil || p.Distance() < Length {
			return nil
		}
		return at(math.Atan2(p.Right, p.Front) * 180 / math.Pi)
	}
	within := Angle
	if a != nil && b != nil {
		if nearest := min(a.Distance(), b.Distance()); nearest > 0 {
			within = max(within, Length/nearest*180/math.Pi)
		}
	}
	f.angle("bearing_deg", "angle", bearing(a), bearing(b), bearingText, within)
}

func round0(v float64) float64 { return math.Floor(v + 0.5 + 1e-9) }

// bearingText is "45° left", "in front", "behind".
func bearingText(deg float64) string {
	off := math.Abs(deg)
	switch {
	case off < 0.5:
		return "in front"
	case off >= 179.5:
		return "behind"
	case deg < 0:
		return trim(round0(off)) + "° left"
	}
	return trim(round0(off)) + "° right"
}

// aim is what the light points at, and how far it is turned off it.
func (c *comparison) aim(f *facts, a, b *setup.Light) {
	aim := func(units setup.Units) func(l *setup.Light) string {
		return func(l *setup.Light) string { return aimText(l, units) }
	}
	fact := f.word("aim", "aim", of(a, aim(setup.Metres)), of(b, aim(setup.Metres)), func(x, y string) bool {
		if a.Aim.Target == "place" && b.Aim.Target == "place" {
			return near(a.Aim.Right, b.Aim.Right, Length) && near(a.Aim.Front, b.Aim.Front, Length) && near(a.Aim.Height, b.Aim.Height, Length)
		}
		return c.alike(x, y)
	})
	fact.TextA, fact.TextB = of(a, aim(f.units)), of(b, aim(f.units))
	feather := func(l *setup.Light) string {
		if l.Aim.Feather == nil || l.Aim.Feather.Deg == 0 {
			return "none"
		}
		return trim(l.Aim.Feather.Deg) + "° toward " + l.Aim.Feather.Toward
	}
	f.word("feather", "feather", of(a, feather), of(b, feather), func(string, string) bool {
		x, y := a.Aim.Feather, b.Aim.Feather
		if x == nil {
			x = &setup.Feather{}
		}
		if y == nil {
			y = &setup.Feather{}
		}
		if x.Toward != y.Toward {
			return near(x.Deg+y.Deg, 0, Angle)
		}
		return near(x.Deg, y.Deg, Angle)
	})
}

// aimText is what a light is aimed at; "" for a place that is not known.
func aimText(l *setup.Light, units setup.Units) string {
	switch {
	case l.Aim.Target != "place":
		return l.Aim.Target
	case l.Aim.Unknown:
		return ""
	}
	side, way := "right", "front"
	if l.Aim.Right < 0 {
		side = "left"
	}
	if l.Aim.Front < 0 {
		way = "behind"
	}
	length := func(m float64) string { return setup.FormatLength(math.Abs(m), units) }
	return length(l.Aim.Right) + " " + side + ", " + length(l.Aim.Front) + " " + way + ", " + length(l.Aim.Height) + " high"
}

func modifierOf(l *setup.Light) *setup.Modifier {
	if l == nil {
		return nil
	}
	return l.Modifier
}

// modifier is what shapes the light. Where one has a modifier, what it does not
// name, a grid or a gel, it has not.
func (f *facts) modifier(a, b *setup.Modifier) {
	text := func(m *setup.Modifier, of func(*setup.Modifier) string) string {
		if m == nil {
			return ""
		}
		return of(m)
	}
	word := func(key, name string, of func(*setup.Modifier) string, alike func(x, y string) bool) {
		f.word(key, name, text(a, of), text(b, of), alike)
	}
	size := func(m *setup.Modifier, of func(*setup.Modifier) *float64) *float64 {
		if m == nil {
			return nil
		}
		return of(m)
	}
	width := func(m *setup.Modifier) *float64 { return m.Width }
	height := func(m *setup.Modifier) *float64 { return m.Height }
	word("modifier", "modifier", func(m *setup.Modifier) string { return m.Kind }, strings.EqualFold)
	f.length("modifier_width_m", "its width", size(a, width), size(b, width))
	f.length("modifier_height_m", "its height", size(a, height), size(b, height))
	word("grid", "grid", gridText, func(string, string) bool {
		x, y := a.Grid, b.Grid
		return x == nil && y == nil || x != nil && y != nil && (*x == 0) == (*y == 0) && near(*x, *y, Angle)
	})
	word("gel", "gel", gelText, func(string, string) bool { return sameGel(a.Gel, b.Gel) })
	word("diffusers", "diffusers", func(m *setup.Modifier) string {
		if len(m.Diffusers) == 0 {
			return "none"
		}
		return strings.Join(slices.Sorted(slices.Values(m.Diffusers)), " + ")
	}, strings.EqualFold)
	for i := range f.list { // a modifier that is not known says it all
		switch f.list[i].Key {
		case "modifier_width_m", "modifier_height_m", "grid", "gel", "diffusers":
			f.list[i].echo = a == nil || b == nil
		}
	}
}

func gridText(m *setup.Modifier) string {
	switch {
	case m.Grid == nil:
		return "none"
	case *m.Grid == 0:
		return "yes"
	}
	return trim(*m.Grid) + "°"
}

func gelText(m *setup.Modifier) string {
	g := m.Gel
	if g == nil {
		return "none"
	}
	s := g.Name
	if s == "" {
		s = "gel"
	}
	if g.Mired != nil {
		s += " " + signed(*g.Mired, trim) + " mired"
	}
	return s
}

// sameGel compares shifts, to the mired, where both are known, else names.
func sameGel(a, b *setup.Gel) bool {
	switch {
	case a == nil || b == nil:
		return a == nil && b == nil
	case a.Mired != nil && b.Mired != nil && !near(*a.Mired, *b.Mired, 1):
		return false
	}
	return strings.EqualFold(a.Name, b.Name)
}

// kind is what the light is and is called.
func (c *comparison) kind(f *facts, a, b *setup.Light) {
	word := func(key, name string, text func(*setup.Light) string, alike func(x, y string) bool) {
		f.word(key, name, of(a, text), of(b, text), alike)
	}
	word("role", "role", func(l *setup.Light) string { return l.Role }, strings.EqualFold)
	word("source", "source", func(l *setup.Light) string { return string(l.Source) }, strings.EqualFold)
	word("lit_by", "lit by", func(l *setup.Light) string { return l.LitBy }, c.alike)
	word("head", "head", headText, strings.EqualFold)
}

func headText(l *setup.Light) string {
	if l.Head == nil {
		return ""
	}
	if l.Head.Name != "" {
		return l.Head.Name
	}
	return l.Head.Kind
}

// metered is how the meter was held, and a note where that differs.
func (c *comparison) metered(f *facts, a, b *setup.Light) {
	f.word("meter", "metered", of(a, meterText), of(b, meterText), func(string, string) bool { return meteredAlike(a, b) })
	if a == nil || b == nil || meteredAlike(a, b) || a == c.ref[0] && b == c.ref[1] {
		return
	}
	c.note("metered-differently", "%s was metered %s in A and %s in B: its stops do not compare", both(a.Name, b.Name), meterText(a), meterText(b))
}
