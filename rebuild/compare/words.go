package compare

import (
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"stopleaf/exposure/apex"
)

// Words says what differs, a sentence for each light, grip item and part of the
// setup that does, those that change the light most first.
func (r *Result) Words() []string {
	var out []string
	put := func(sentence string) {
		if sentence != "" {
			out = append(out, sentence)
		}
	}
	for i := range r.Lights {
		put(r.lightWords(&r.Lights[i]))
	}
	for i := range r.Grip {
		put(r.gripWords(&r.Grip[i]))
	}
	for i := range r.Set {
		put(r.Set[i].words())
	}
	return out
}

// called is how a sentence begins with a light: "The fill", or its name.
func (p *Pair) called() string {
	name := p.Name()
	if p.A != nil && strings.EqualFold(name, p.A.Role) || p.A == nil && strings.EqualFold(name, p.B.Role) {
		name = "The " + strings.ToLower(name)
	}
	if p.How == ByName || p.How == "" {
		return name
	}
	return fmt.Sprintf("%s (%s in B, matched by %s)", name, p.B.Name, p.How)
}

func (r *Result) lightWords(p *Pair) string {
	if p.Alone() {
		return aloneWords(p)
	}
	if !p.Differs() {
		return ""
	}
	var more, other []string // "1.2 stops brighter"; "1/4 in A, 1/2 in B"
	if p.Stops != nil && !near(*p.Stops, 0, Stops) {
		way := " stops brighter"
		if *p.Stops < 0 {
			way = " stops darker"
		}
		if r.From[0] == "" {
			way += " as metered"
		}
		size := strings.TrimLeft(apex.FormatSigned(math.Abs(*p.Stops)), "+")
		more = append(more, size+way)
	}
	more = append(more, placeWords(p.Facts)...)
	other = append(other, r.kitWords(p)...)
	return sentence(p.called(), more, other)
}

// sentence joins "is X in B, Y and Z" with what else differs.
func sentence(name string, more, other []string) string {
	if len(more)+len(other) == 0 {
		return ""
	}
	s := name
	if len(more) > 0 {
		what, figures, _ := strings.Cut(more[0], " (")
		first := what + " in B"
		if figures != "" {
			first += " (" + figures
		}
		s += " is " + join(append([]string{first}, more[1:]...))
		if len(other) > 0 {
			s += "; "
		}
	} else {
		s += ": "
	}
	return s + strings.Join(other, "; ")
}

// join is "a, b and c".
func join(list []string) string {
	if len(list) < 2 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:len(list)-1], ", ") + " and " + list[len(list)-1]
}

// placeWords says how it moved: "30 cm closer".
func placeWords(list []Fact) []string {
	var out []string
	way := func(key, down, up string) {
		f := get(list, key)
		if !f.Differs() {
			return
		}
		word := up
		if *f.Change < 0 {
			word = down
		}
		out = append(out, strings.TrimLeft(f.TextChange, "+\u2212")+" "+word)
	}
	way("distance_m", "closer", "further away")
	way("height_m", "lower", "higher")
	if f := get(list, "bearing_deg"); f.Differs() {
		out = append(out, bearingWords(f))
	}
	return out
}

// bearingWords says how far round a light went.
func bearingWords(f *Fact) string {
	from, to := f.A.(float64), f.B.(float64)
	angles := fmt.Sprintf(" (%s, %s in B)", f.TextA, f.TextB)
	switch {
	case sideOf(from)*sideOf(to) < 0:
		return "on the other side" + angles
	case math.Abs(to) > math.Abs(from):
		return f.TextChange + " further round" + angles
	}
	return f.TextChange + " more frontal" + angles
}

// sideOf is -1 left, 1 right, 0 on the axis.
func sideOf(bearing float64) int {
	switch off := math.Abs(bearing); {
	case near(off, 0, Angle) || near(off, 180, Angle):
		return 0
	case bearing < 0:
		return -1
	}
	return 1
}

// kitWords says what differs in power, aim and modifier. How the meter was held is
// a note of its own.
func (r *Result) kitWords(p *Pair) []string {
	var out []string
	put := func(key, lead string) {
		if f := get(p.Facts, key); f.Differs() {
			out = append(out, lead+each(f.TextA, f.TextB))
		}
	}
	put("power_stops", "power ")
	put("energy_ws", "")
	put("dimmer_percent", "dimmer ")
	put("aim", "aimed at ")
	put("feather", "feather ")
	if s := r.modifierWords(p); s != "" {
		out = append(out, s)
	}
	put("grid", "grid ")
	put("gel", "gel ")
	put("diffusers", "diffusers ")
	put("role", "role ")
	put("source", "")
	put("lit_by", "lit by ")
	put("head", "head ")
	return out
}

// modifierWords names the modifiers with their sizes where kind or size differ.
func (r *Result) modifierWords(p *Pair) string {
	for _, key := range []string{"modifier", "modifier_width_m", "modifier_height_m"} {
		if get(p.Facts, key).Differs() {
			a, b := &r.A.Setup.Lights[p.A.Number-1], &r.B.Setup.Lights[p.B.Number-1]
			return each(a.Modifier.Text, b.Modifier.Text)
		}
	}
	return ""
}

func each(a, b string) string { return a + " in A, " + b + " in B" }

// aloneWords is for what only one has, or has on.
func aloneWords(p *Pair) string {
	name := p.called()
	switch {
	case p.A != nil && p.B != nil && p.A.Off:
		return name + " is off in A"
	case p.A != nil && p.B != nil:
		return name + " is off in B"
	}
	it, who, delta := p.A, "A", ""
	if it == nil {
		it, who = p.B, "B"
	}
	if f := get(p.Facts, "delta"); f != nil {
		delta = f.TextA + f.TextB
		if !strings.EqualFold(it.Role, it.Name) {
			delta = it.Role + ", " + delta
		}
	} else if it.Role != "" && !strings.EqualFold(it.Role, it.Name) {
		delta = it.Role
	}
	if it.Off {
		delta += ", off"
	}
	if delta != "" {
		delta = " (" + delta + ")"
	}
	return name + delta + " is in " + who + " only"
}

func (r *Result) gripWords(p *Pair) string {
	if p.Alone() {
		return aloneWords(p)
	}
	var other []string
	for _, key := range []string{"kind", "colour", "width_m", "its_height_m", "turned_deg"} {
		if f := get(p.Facts, key); f.Differs() {
			other = append(other, f.Name+" "+each(f.TextA, f.TextB))
		}
	}
	return sentence(p.called(), placeWords(p.Facts), other)
}

func (g *Group) words() string {
	var out []string
	for i := range g.Facts {
		f := &g.Facts[i]
		if !f.Differs() {
			continue
		}
		s := f.Name + " " + each(f.TextA, f.TextB)
		if f.TextChange != "" {
			s += " (" + f.TextChange + ")"
		}
		out = append(out, s)
	}
	if len(out) == 0 {
		return ""
	}
	return capital(g.Name) + ": " + strings.Join(out, "; ")
}

// Rest names what is the same in both: lights and grip, then parts of the setup.
func (r *Result) Rest() []string {
	var out []string
	for _, list := range [][]Pair{r.Lights, r.Grip} {
		for i := range list {
			if p := &list[i]; !p.Differs() {
				out = append(out, p.Name())
			}
		}
	}
	for i := range r.Set {
		g := &r.Set[i]
		if g.Differs() {
			continue
		}
		for j := range g.Facts {
			if g.Facts[j].Same != nil {
				out = append(out, g.Name)
				break
			}
		}
	}
	return out
}

// Unsaid names what A does not say and B does, or the other way: "Card: power,
// height".
func (r *Result) Unsaid(who string) []string {
	other := map[string]string{"A": "B", "B": "A"}[who]
	var out []string
	put := func(name string, list []Fact) {
		var what []string
		for i := range list {
			if list[i].OnlyOne() == other {
				what = append(what, list[i].Name)
			}
		}
		if len(what) > 0 {
			out = append(out, name+": "+strings.Join(what, ", "))
		}
	}
	for _, list := range [][]Pair{r.Lights, r.Grip} {
		for i := range list {
			if p := &list[i]; p.A != nil && p.B != nil {
				put(p.Name(), p.Facts)
			}
		}
	}
	for i := range r.Set {
		put(r.Set[i].Name, r.Set[i].Facts)
	}
	return out
}

func capital(s string) string {
	r, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[size:]
}
