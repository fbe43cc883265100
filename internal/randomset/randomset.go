// Package randomset draws random setup files for property tests: every form of
// place, units, names of many scripts, packs, looks, other zeros, notes of all lengths.
package randomset

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"pgregory.net/rapid"
)

// Set is a setup file in pieces, so that a failing one can be made smaller by
// leaving pieces out.
type Set struct {
	Top    []string // whole top-level sections
	Lights []string // list items
	Grip   []string
	Look   string // the look that is shown; "" for the set as written
	Photo  int    // 0: the photo's file is missing; 1 level, 2 upright, 3 turned by its Exif
}

// YAML is the file.
func (r Set) YAML() string {
	var b strings.Builder
	for _, s := range r.Top {
		b.WriteString(s + "\n")
	}
	b.WriteString("lights:\n")
	for _, s := range r.Lights {
		b.WriteString("  - " + s + "\n")
	}
	if len(r.Grip) > 0 {
		b.WriteString("grip:\n")
		for _, s := range r.Grip {
			b.WriteString("  - " + s + "\n")
		}
	}
	return b.String()
}

// maker draws the pieces of one setup.
type maker struct {
	t      *rapid.T
	unit   string
	perM   float64
	camera float64 // its distance, m; 0 unknown
	face   float64
	reach  float64  // how far lights may stand, m
	first  string   // the name of the first light
	names  []string // of the lights; "" for those of a pair
	placed bool     // the first light has a place
	used   map[string]bool
}

func (m *maker) in(lo, hi int) int             { return rapid.IntRange(lo, hi).Draw(m.t, "n") }
func (m *maker) one(of ...string) string       { return rapid.SampledFrom(of).Draw(m.t, "one") }
func (m *maker) chance(percent int) bool       { return m.in(0, 99) < percent }
func (m *maker) metres(lo, hi float64) float64 { return lo + (hi-lo)*float64(m.in(0, 1000))/1000 }
func (m *maker) maybe(percent int, s string) string {
	if m.chance(percent) {
		return s
	}
	return ""
}

// l is a length in the file's units, to a tenth of a millimetre.
func (m *maker) l(metres float64) string {
	return strconv.FormatFloat(math.Round(metres*m.perM*1e4)/1e4, 'f', -1, 64)
}

// words for names and notes: plain, accented, Greek, Cyrillic, long.
var randomWords = []string{
	"Key", "light", "fill", "rim", "of", "the", "hair", "back", "left", "Überkopf", "Ångström", "naïve", "façade", "Žižkov",
	"ΦΩΣ", "Свет", "jig", "gypsy", "½", "2.5", "f/8", "(low)", "[two]", "Øre", "Ÿ", "Ğ", "kicker-from-below", "counterweight", "É", "i",
}

// say gives text of about n runes: words, or one unbroken run.
func (m *maker) say(n int) string {
	if m.chance(10) {
		return strings.Repeat(m.one("W", "i", "Å", "gj", "—"), n)[:min(n, 60)]
	}
	var out []string
	for size := 0; size < n; {
		w := m.one(randomWords...)
		out = append(out, w)
		size += len([]rune(w)) + 1
	}
	r := []rune(strings.Join(out, " "))
	return strings.TrimSpace(strings.ToValidUTF8(string(r[:min(n, len(r))]), ""))
}

func quoted(s string) string { return strconv.Quote(strings.ToValidUTF8(s, "")) }

// name gives a name that no other item has.
func (m *maker) name() string {
	n := []int{4, 4, 4, 9, 9, 20, 40, 80}[m.in(0, 7)]
	s := m.say(n)
	for i := 2; m.used[strings.ToLower(s)] || m.used[strings.ToLower(s+" l")] || s == ""; i++ {
		s = fmt.Sprintf("%s %d", s, i)
	}
	for _, end := range []string{"", " l", " r"} {
		m.used[strings.ToLower(s+end)] = true
	}
	return s
}

// Setups generates setup files of least to most lights, pairs counted as two.
func Setups(least, most int) *rapid.Generator[Set] {
	return rapid.Custom(func(t *rapid.T) Set {
		m := &maker{t: t, used: map[string]bool{}}
		m.unit = m.one("m", "m", "m", "cm", "ft", "in")
		m.perM = map[string]float64{"m": 1, "cm": 100, "ft": 1 / 0.3048, "in": 1 / 0.0254}[m.unit]
		m.reach = []float64{0.8, 2, 3, 3, 5, 8, 20}[m.in(0, 6)]
		r := Set{Top: []string{"title: " + quoted(m.say([]int{8, 20, 40, 80}[m.in(0, 3)])), "units: " + m.unit}, Photo: m.in(0, 3)}
		r.Top = append(r.Top, m.about()...)
		placed := []int{0, 50, 100, 100, 100}[m.in(0, 4)]
		n := m.in(least, most)
		for i := 0; len(m.names) < n; i++ {
			r.Lights = append(r.Lights, m.light(i, placed, n-len(m.names)))
		}
		for i := m.in(0, 4); i > 0 && m.chance(60); i-- {
			r.Grip = append(r.Grip, m.gripItem(placed))
		}
		if m.chance(25) {
			m.another(&r)
		}
		if m.chance(25) {
			m.packs(&r)
		}
		if m.chance(35) {
			m.looks(&r)
		}
		return r
	})
}

// about draws the sections that stand above the lights.
func (m *maker) about() []string {
	var out []string
	put := func(percent int, s string) {
		if m.chance(percent) {
			out = append(out, s)
		}
	}
	put(60, "code: "+quoted(m.one("B-014", "X", "LONG-CODE-0001", "Å-9")))
	put(60, "made: 2026-03-14")
	put(60, "by: "+quoted(m.say(m.in(3, 30))))
	put(40, "notes: "+quoted(m.notes()))
	put(40, "hazards: ["+m.one("dust", "water, glass", "dust, haze, water, aerosol, flame, glass, ladder, outdoors, child, baby, animal, trip")+"]")
	put(40, "photos: [{file: some-result.jpg, shows: result, caption: "+quoted(m.say(m.in(1, 60)))+"}]")
	put(70, "exposure:"+m.exposure())
	if m.chance(70) {
		m.camera = m.metres(0.4, 6)
		out = append(out, "camera: {distance: "+m.l(m.camera)+m.maybe(70, ", height: "+m.l(m.metres(0.2, 2.5)))+
			m.maybe(70, ", lens: "+m.one("24", "50", "85", "200")+" mm")+m.maybe(50, ", frame: "+m.one("upright", "level"))+
			m.maybe(20, ", note: "+quoted(m.say(40)))+"}")
	} else {
		put(30, "camera: {height: "+m.l(m.metres(0.2, 2.5))+"}")
	}
	m.face = 1.55
	if m.chance(60) {
		m.face = m.metres(0.2, 1.8)
		kind := m.one("person", "person", "group", "object", "animal")
		out = append(out, "subject: {kind: "+kind+", face: "+m.l(m.face)+m.maybe(40, ", turned: "+m.one("20 left", "45 right", "90 left", "180 right"))+
			m.maybe(40, ", posture: "+m.one("standing", "seated", "lying"))+m.maybe(30, ", width: "+m.l(m.metres(0.05, 2)))+
			m.maybe(30, ", height: "+m.l(m.metres(0.05, 2)))+m.maybe(20, ", mark: "+quoted(m.say(12)))+"}")
	}
	put(60, "background: {kind: canvas, distance: "+m.l(m.metres(0.2, 5))+m.maybe(60, ", width: "+m.l(m.metres(0.5, 6)))+
		m.maybe(40, ", height: "+m.l(m.metres(0.5, 4)))+m.maybe(30, ", tone: "+quoted(m.say(20)))+"}")
	if m.chance(60) {
		var walls []string
		for _, w := range []string{"left", "right", "front", "behind", "ceiling"} {
			if m.chance(75) {
				walls = append(walls, w+": "+m.l(m.metres(0.5, 7)))
			}
		}
		if len(walls) > 0 {
			out = append(out, "room: {"+strings.Join(walls, ", ")+"}")
		}
	}
	put(30, "mains: {volts: 230, circuits: [{name: A, breaker: 16, lead: {length: 20 m, section: 1.5}}]}")
	return out
}

func (m *maker) notes() string {
	if m.chance(30) {
		return m.say(4000)
	}
	return m.say(m.in(1, 120)) + "\n" + m.say(m.in(1, 200))
}

func (m *maker) exposure() string {
	s := ""
	if m.chance(80) {
		s += "\n  iso: " + m.one("50", "100", "800")
	}
	if m.chance(80) {
		s += "\n  shutter: " + m.one("1/125", "1/200", "2 s")
	}
	if m.chance(70) {
		s += "\n  key: " + m.one("f/8 +0.4", "f/1.4", "f/45", "f/11")
	}
	if m.chance(60) {
		s += "\n  aperture: " + m.one("f/9", "f/8", "f/16")
	}
	if m.chance(60) {
		all := []string{"f/8", "f/5.6", "f/11 +0.5", "f/1.2", "f/64", "f/2", "f/4", "f/22"}
		s += "\n  bases: [" + strings.Join(all[:m.in(1, 8)], ", ") + "]"
	}
	if m.chance(40) {
		s += "\n  ambient: {reading: f/1.4}"
	}
	return s + "\n  white balance: 5400"
}

// light draws one item of the list of lights, which is two lights for a pair.
func (m *maker) light(i, placed, room int) string {
	name := m.name()
	if i == 0 {
		m.first = name
	}
	f := []string{"name: " + quoted(name)}
	pair := i > 0 && room > 1 && m.chance(15)
	switch {
	case i == 0:
		f = append(f, "role: key")
	default:
		f = append(f, "role: "+m.one("fill", "rim", "kicker", "hair", "background", "accent", "other"))
		f = append(f, "delta: "+m.one("-1.6", "-0.3", "0.4 over", "2 2/3 under", "0", "-7", "+3.3"))
	}
	if pair {
		f = append(f, "pair: {metered: "+m.one("each", "both")+"}")
	}
	if m.chance(placed) {
		f = append(f, "place: "+m.place(pair, i))
		m.placed = m.placed || i == 0
	}
	if m.chance(30) {
		f = append(f, "aim: "+m.one("face", "crown", "chest", "hands", "background", "{right: "+m.l(m.metres(0, 1.5))+", front: 0, height: "+m.l(1)+"}"))
	}
	if m.chance(20) {
		f = append(f, "feather: "+strconv.Itoa(m.in(1, 60))+" toward "+m.one("camera", "background", "left", "right", "up", "down"))
	}
	if m.chance(80) {
		f = append(f, "modifier: "+m.modifier())
	}
	if m.chance(40) {
		f = append(f, "head: {kind: head, energy: 400 Ws, range: 7, step: 0.1, dial: "+m.one("fractions", "number, full: 10", "ws", "percent")+", mass: 2.5, modelling: {watts: 150, lamp: halogen}, supply: mains, current: 6 A}",
			"power: "+m.one("1/4 +0.2", "full", "-3.3"))
	}
	if m.chance(30) {
		f = append(f, "stand: "+m.stand())
	}
	if m.chance(15) {
		f = append(f, "source: "+m.one("continuous", "daylight"))
	}
	if m.chance(20) {
		f = append(f, "meter: {at: "+m.one("crown", "chest", "background")+", dome: "+m.one("in", "out")+", toward: "+m.one("camera", "light")+"}")
	}
	if m.chance(25) {
		f = append(f, "note: "+quoted(m.say([]int{10, 60, 300, 4000}[m.in(0, 3)])))
	}
	if m.chance(25) {
		f = append(f, "look for: "+quoted(m.say(m.in(1, 90))))
	}
	if m.chance(15) {
		f = append(f, "mark: "+quoted(m.say(10)), "trigger: "+quoted(m.say(20)))
	}
	if pair {
		m.names = append(m.names, "", "") // a pair has no one place to stand under
	} else {
		m.names = append(m.names, name)
	}
	return "{" + strings.Join(f, ", ") + "}"
}

// another makes something else than the key the zero: the first light, or the
// room's own light.
func (m *maker) another(r *Set) {
	exposure := -1
	for i, s := range r.Top {
		if strings.HasPrefix(s, "exposure:") {
			exposure = i
		}
	}
	zero := quoted(m.first)
	how := "role: other"
	if m.chance(50) && (exposure < 0 || !strings.Contains(r.Top[exposure], "key:")) {
		zero, how = "ambient", "role: fill, delta: -1"
	}
	r.Lights[0] = strings.Replace(r.Lights[0], "role: key", how, 1)
	if exposure < 0 {
		r.Top = append(r.Top, "exposure:")
		exposure = len(r.Top) - 1
	}
	r.Top[exposure] += "\n  zero: " + zero
}

// packs hangs some of the lights on one of two power packs.
func (m *maker) packs(r *Set) {
	names := []string{quoted(m.name()), quoted(m.name())}
	r.Top = append(r.Top, "packs: [{name: "+names[0]+", energy: 2400 Ws, range: 6, current: 10 A}, {name: "+names[1]+", energy: 1200 Ws"+
		m.maybe(50, ", dial: ws, step: 0.1")+m.maybe(30, ", supply: battery")+"}]")
	for i, s := range r.Lights {
		if m.chance(50) && !strings.Contains(s, "source:") && !strings.Contains(s, "pair:") {
			outlet := ""
			if m.chance(40) {
				outlet = fmt.Sprintf(", outlet: %q", fmt.Sprint(i))
			}
			r.Lights[i] = strings.TrimSuffix(s, "}") + ", pack: " + m.one(names...) + outlet + "}"
		}
	}
}

// looks draws some looks, and shows one of them or none.
func (m *maker) looks(r *Set) {
	var all, names []string
	for i := m.in(1, 4); i > 0; i-- {
		var off, delta []string
		for j, name := range m.names {
			switch {
			case j == 0 || name == "":
			case m.chance(40):
				off = append(off, quoted(name))
			case m.chance(30):
				delta = append(delta, quoted(name)+": "+m.one("-2.6", "1.3 over", "0"))
			}
		}
		names = append(names, fmt.Sprintf("%s %d", strings.ToValidUTF8(m.say(m.in(2, 20)), ""), i))
		all = append(all, "{name: "+quoted(names[len(names)-1])+", off: ["+strings.Join(off, ", ")+"], delta: {"+strings.Join(delta, ", ")+"}}")
	}
	r.Top = append(r.Top, "looks: ["+strings.Join(all, ", ")+"]")
	if m.chance(60) {
		r.Look = m.one(names...)
		r.Top[0] = "title: " + quoted(m.say(m.in(3, 55))) // the look's name comes to it
	}
}

// place draws a place in any form; i is how many items of lights stand before.
func (m *maker) place(pair bool, i int) string {
	deg := m.in(1, 179)
	d := m.metres(0.2, m.reach)
	height := m.metres(0.1, 3.2)
	side := m.one("left", "right")
	h := m.maybe(85, ", height: "+m.l(height))
	forms := []string{"angle", "clock", "slant", "cartesian", "cartesian"}
	if m.camera > 0 && !pair {
		forms = append(forms, "tape")
	}
	if !pair && i > 0 && m.placed {
		forms = append(forms, "stack", "stack")
	}
	switch m.one(forms...) {
	case "clock":
		if pair {
			return fmt.Sprintf("{angle: %d %s, distance: %s%s}", deg, side, m.l(d), h)
		}
		return fmt.Sprintf("{clock: \"%d:%02d\", distance: %s%s}", m.in(1, 12), m.in(0, 3)*15, m.l(d), h)
	case "slant":
		return fmt.Sprintf("{angle: %d %s, slant: %s, height: %s}", deg, side, m.l(math.Hypot(d, height-1.55)+2), m.l(height))
	case "cartesian":
		x, y := m.metres(0, m.reach), m.metres(0, m.reach)
		return fmt.Sprintf("{%s: %s, %s: %s%s}", side, m.l(x+0.05), m.one("front", "behind"), m.l(y), h)
	case "tape":
		a := float64(10+deg%150) * math.Pi / 180 // tapes that are not nearly in line
		return fmt.Sprintf("{tape: {subject: %s, camera: %s}, side: %s%s}", m.l(d), m.l(math.Hypot(d*math.Sin(a), m.camera-d*math.Cos(a))), side, h)
	case "stack":
		return fmt.Sprintf("{%s: %s, height: %s}", m.one("under", "over"), quoted(m.names[0]), m.l(height))
	}
	return fmt.Sprintf("{angle: %d %s, distance: %s%s}", deg, side, m.l(d), h)
}

func (m *maker) modifier() string {
	kind := m.one("softbox", "strip", "octabox", "umbrella", "dish", "bowl", "snoot", "fresnel", "reflector panel", "window", "wonder tube")
	s := "{kind: " + kind
	if m.chance(70) {
		switch kind {
		case "octabox", "umbrella", "dish", "bowl", "snoot", "fresnel":
			s += ", diameter: " + m.l(m.metres(0.05, 2.2))
		default:
			s += ", width: " + m.l(m.metres(0.05, 2)) + ", height: " + m.l(m.metres(0.05, 2.4))
		}
	}
	s += m.maybe(20, ", grid: 40") + m.maybe(20, ", gel: {name: "+quoted(m.say(m.in(2, 25)))+", mired: 109}")
	return s + m.maybe(20, ", diffusers: [inner, front]") + m.maybe(40, ", mass: 1.5") + "}"
}

func (m *maker) stand() string {
	if m.chance(50) {
		return "{kind: " + m.one("stand", "floor", "hanging") + m.maybe(50, ", footprint: "+m.l(1.1)+", mass: 3") + "}"
	}
	base := ""
	if m.chance(60) {
		base = fmt.Sprintf(", base: {%s: %s, %s: %s}", m.one("left", "right"), m.l(m.metres(0.1, m.reach)), m.one("front", "behind"), m.l(m.metres(0, 2)))
	}
	return "{kind: boom, footprint: " + m.l(1.2) + ", mass: 7, reach: " + m.l(1.2) + ", behind: " + m.l(0.7) + base + "}"
}

func (m *maker) gripItem(placed int) string {
	f := []string{"name: " + quoted(m.name()), "kind: " + m.one("V-flat", "flag", "table", "net")}
	if m.chance(placed) {
		f = append(f, "place: "+m.place(true, 0))
	}
	if m.chance(80) {
		f = append(f, "width: "+m.l(m.metres(0.05, 2)), "height: "+m.l(m.metres(0.05, 2.4)))
	}
	if m.chance(30) {
		f = append(f, "note: "+quoted(m.say(m.in(3, 120))))
	}
	if m.chance(20) {
		f = append(f, "turned: "+m.one("0", "30 left", "90 right"))
	}
	return "{" + strings.Join(f, ", ") + "}"
}
