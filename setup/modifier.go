package setup

import (
	"fmt"
	"strings"

	"stopleaf/exposure"
	"stopleaf/setup/grammar"
)

// modifier takes a name of the gear file, the shorthand, or the modifier
// written out.
func (m *meaning) modifier(w *written) *Modifier {
	switch {
	case w == nil:
		return nil
	case w.kind == isMap:
		mod := m.writtenModifier(w)
		if mod.Kind == "" {
			m.err(w.pos, "no-kind", "a modifier has no \"kind\"", suggestKinds(""))
			return nil
		}
		return mod
	case !m.isText(w, "modifier"):
		return nil
	}
	return m.shortModifier(w)
}

func (m *meaning) writtenModifier(w *written) *Modifier {
	mod := &Modifier{
		Kind: line(w.get("kind")), Width: m.length(w.get("width")), Height: m.length(w.get("height")),
		Diameter: m.length(w.get("diameter")), Mass: m.mass(w.get("mass")), Grid: m.grid(w.get("grid")), Where: w.where(),
	}
	if g := w.get("gel"); g != nil {
		mod.Gel = &Gel{Name: line(g)}
		if g.kind == isMap {
			mod.Gel = &Gel{Name: line(g.get("name")), Mired: m.number(g.get("mired"), "a shift of", "mired", -1000, 1000), Loss: m.stops(g.get("loss"))}
		}
	}
	for _, t := range m.texts(w.get("diffusers")) {
		m.diffusers(mod, t)
	}
	if mod.Kind != "" {
		m.settleKind(mod, w.get("kind").pos, m.word(w.get("shines"), wordsOf("modifier", "shines")))
	}
	if mod.Diameter != nil && (mod.Width != nil || mod.Height != nil) {
		m.warn(w.keyPos("diameter"), "two-sizes", "the modifier has a \"diameter\" and a width or height; the diameter is taken", "keep one")
	}
	m.settleSize(mod)
	if mod.Diameter == nil && (mod.Width == nil) != (mod.Height == nil) && mod.Shines != exposure.Disc {
		m.warn(w.pos, "half-size", "the modifier has a width or a height, not both", "its size is not known without the other")
	}
	return mod
}

// grid takes degrees, or yes for a grid without a size.
func (m *meaning) grid(w *written) *float64 {
	if w == nil || w.kind != isText {
		return nil
	}
	switch strings.ToLower(w.text) {
	case "yes", "true", "on":
		zero := 0.0
		return &zero
	case "no", "false", "off", "none":
		return nil
	}
	return m.number(w, "a grid of", "°", 1, 180)
}

// What is read as less, or as another word. A Replacer does its work at its first
// use.
var (
	diffuserWords = strings.NewReplacer("diffusers", "", "diffuser", "", " and ", " ", "+", " ", "&", " ")
	timesSigns    = strings.NewReplacer("×", "x", "X", "x", " by ", "x")
)

// diffusers takes "inner", "front", "inner and front".
func (m *meaning) diffusers(mod *Modifier, w *written) {
	text := diffuserWords.Replace(strings.ToLower(w.text))
	for _, word := range strings.Fields(text) {
		d := among(word, wordsOf("modifier", "diffusers"))
		if d == "" {
			m.err(w.pos, "unknown-word", quote(word)+" is no diffuser", "allowed: inner, front")
			return
		}
		if among(d, mod.Diffusers) == "" {
			mod.Diffusers = append(mod.Diffusers, d)
		}
	}
}

// settleKind finds how a kind shines; shines is the file's own word for it.
func (m *meaning) settleKind(mod *Modifier, at Pos, shines string) {
	k := grammar.FindKind(mod.Kind)
	switch {
	case k != nil:
		mod.Known, mod.Kind, mod.Shines = true, canonicalKind(mod.Kind, k), exposure.Shape(k.Shines)
		if shines != "" {
			mod.Shines = exposure.Shape(shines)
		}
	case shines != "":
		mod.Shines = exposure.Shape(shines)
	default:
		m.warn(at, "unknown-modifier", quote(mod.Kind)+" is no modifier the program knows; it is kept as written", suggestKinds(mod.Kind))
	}
}

// canonicalKind keeps the user's own name of a known kind, lower-cased, but for
// the dish, the octabox and spellings that differ in a space alone.
func canonicalKind(written string, k *grammar.Kind) string {
	name := grammar.Canonical(written)
	for _, plain := range []string{"beauty dish", "octa", "octagon", "octobox", "octa box", "soft box", "strip box", "stripbox", "gridspot", "none", "no modifier"} {
		if name == plain {
			return k.Name
		}
	}
	if name == grammar.Canonical(k.Name) {
		return k.Name
	}
	return name
}

func suggestKinds(kind string) string {
	var names []string
	for _, k := range grammar.ModifierKinds {
		names = append(names, k.Name)
	}
	if near := Nearest(kind, names); near != "" && kind != "" {
		return "did you mean \"" + near + "\"? or say how it shines with \"shines\": rectangle, disc, hard"
	}
	return "known: " + strings.Join(names, ", ") + "; say how another shines with \"shines\": rectangle, disc, hard"
}

// mostModifier is wider than anything one light shines through, m.
const mostModifier = 15.0

// settleSize makes a disc as wide as tall, and words the modifier.
func (m *meaning) settleSize(mod *Modifier) {
	for _, size := range []**float64{&mod.Width, &mod.Height, &mod.Diameter} {
		if *size != nil && **size > mostModifier {
			m.err(mod.Where.Item, "huge", fmt.Sprintf("the %s would be %s across", mod.Kind, FormatLength(**size, m.s.Units)),
				"a bare length is in the file's units; write 60 x 90 cm")
			*size = nil
		}
	}
	if mod.Diameter == nil && mod.Shines == exposure.Disc {
		switch {
		case mod.Width != nil && mod.Height == nil:
			mod.Diameter = mod.Width
		case mod.Height != nil && mod.Width == nil:
			mod.Diameter = mod.Height
		}
	}
	if mod.Diameter != nil {
		mod.Width, mod.Height = mod.Diameter, mod.Diameter
	}
	mod.Text = mod.Kind
	switch {
	case mod.Diameter != nil:
		mod.Text += " " + FormatSize(*mod.Diameter, m.s.Units)
	case mod.Width != nil && mod.Height != nil:
		mod.Text += " " + FormatSides(*mod.Width, *mod.Height, m.s.Units)
	}
}

// FormatSize words a size without idle zeros: "1.2 m".
func FormatSize(v float64, u Units) string {
	text := FormatLength(v, u)
	if n, ok := strings.CutSuffix(text, " m"); ok && strings.Contains(n, ".") {
		return strings.TrimSuffix(strings.TrimRight(n, "0"), ".") + " m"
	}
	return text
}

// FormatSides words a width and a height: "0.3 x 0.9 m", "1 ft x 3 ft".
func FormatSides(w, h float64, u Units) string {
	a, b := FormatSize(w, u), FormatSize(h, u)
	if u == Metres || u == Centimetres {
		a, _, _ = strings.Cut(a, " ")
	}
	return a + " x " + b
}

// shortModifier reads "KIND [W x H | DIAMETER], grid N, inner and front
// diffuser, gel NAME", commas between, in any order after the kind.
func (m *meaning) shortModifier(w *written) *Modifier {
	p := parts(w.text)
	if m.gear.modifier(p[0]) == nil {
		first := uncomma(p[0])
		// A kind that is not known may have such words in it.
		if kind, _ := cutSize(first[0]); grammar.FindKind(kind) != nil || m.gear.modifier(first[0]) != nil {
			p = append(first, p[1:]...)
		}
	}
	mod := m.kindAndSize(w, p[0])
	for _, part := range p[1:] {
		low := strings.ToLower(part)
		piece := &written{pos: w.pos, kind: isText, text: part}
		switch {
		case part == "":
		case strings.Contains(low, "diffuser"):
			m.diffusers(mod, piece)
		case low == "grid" || strings.HasPrefix(low, "grid ") || strings.HasSuffix(low, " grid"):
			piece.text = strings.TrimSpace(strings.TrimSuffix(strings.TrimPrefix(low, "grid"), "grid"))
			if piece.text == "" {
				piece.text = "yes"
			}
			mod.Grid = m.grid(piece)
		case strings.HasPrefix(low, "gel ") || strings.HasSuffix(low, " gel"):
			mod.Gel = &Gel{Name: strings.TrimSpace(cutFold(cutFold(part, "gel ", true), " gel", false))}
		default:
			m.err(w.pos, "bad-modifier", quote(part)+" is not understood after the modifier's kind",
				"allowed after the kind and its size: grid 40, inner diffuser, front diffuser, gel NAME")
		}
	}
	return mod
}

// uncomma parts "strip 0.3 x 1.2 grid 30" where a comma was forgotten: before the
// words for a grid, a diffuser or a gel.
func uncomma(text string) []string {
	words := strings.Fields(text)
	at := func(i int) string {
		if i < 0 || i >= len(words) {
			return ""
		}
		return strings.ToLower(words[i])
	}
	joins := func(word string) bool { return word == "and" || word == "+" || word == "&" }
	var out []string
	from := 0
	for i := 1; i < len(words); i++ {
		next := at(i + 1)
		begins := false
		switch at(i) {
		case "grid":
			begins = next == "" || isDigit(next[0])
		case "inner", "front":
			other := joins(next) && (at(i+2) == "inner" || at(i+2) == "front")
			begins = !joins(at(i-1)) && (other || strings.HasPrefix(next, "diffuser"))
		case "gel":
			begins = next != ""
		}
		if begins {
			out = append(out, strings.Join(words[from:i], " "))
			from = i
		}
	}
	return append(out, strings.Join(words[from:], " "))
}

// cutFold takes a word off the front or the end, whatever its case.
func cutFold(s, word string, front bool) string {
	if len(s) < len(word) {
		return s
	}
	if front && strings.EqualFold(s[:len(word)], word) {
		return s[len(word):]
	}
	if !front && strings.EqualFold(s[len(s)-len(word):], word) {
		return s[:len(s)-len(word)]
	}
	return s
}

// kindAndSize reads the first part of the shorthand; a name of the gear file
// stands for its kind and size.
func (m *meaning) kindAndSize(w *written, text string) *Modifier {
	if g := m.gear.modifier(text); g != nil {
		out := *g
		out.Diffusers = append([]string(nil), g.Diffusers...)
		return &out
	}
	kind, size := cutSize(text)
	mod := &Modifier{Kind: kind, Where: Where{Item: w.pos}}
	if kind == "" {
		m.err(w.pos, "no-kind", quote(text)+" names no kind of modifier", "write the kind, then its size: octabox 1.2, softbox 0.9 x 0.6")
		return mod
	}
	if known := gearNames(m.gear.modifiers, func(g Modifier) string { return g.Gear }); size == "" && grammar.FindKind(kind) == nil && Nearest(kind, known) != "" {
		m.notInGear(&written{pos: w.pos, kind: isText, text: kind}, "modifier", known)
		return mod
	}
	m.settleKind(mod, w.pos, "")
	if size != "" {
		m.size(mod, w, size)
	}
	m.settleSize(mod)
	return mod
}

// cutSize parts "reflector panel 1.0 x 1.5" before its first figure.
func cutSize(text string) (kind, size string) {
	for i := 0; i < len(text); i++ {
		if isDigit(text[i]) && (i == 0 || text[i-1] == ' ') {
			return strings.Join(strings.Fields(text[:i]), " "), text[i:]
		}
	}
	return strings.Join(strings.Fields(text), " "), ""
}

func (m *meaning) size(mod *Modifier, w *written, size string) {
	one := func(s, unit string) *float64 {
		return m.length(&written{pos: w.pos, kind: isText, text: strings.TrimSpace(s) + unit})
	}
	flat := timesSigns.Replace(size)
	a, b, two := strings.Cut(flat, "x")
	if two && (strings.TrimSpace(a) == "" || strings.TrimSpace(b) == "") {
		m.err(w.pos, "bad-size", quote(size)+" is not a size", "write a diameter, 1.2, or width x height, 0.9 x 0.6")
		return
	}
	if !two {
		d := one(strings.TrimSpace(strings.TrimPrefix(size, "ø")), "")
		if mod.Shines == exposure.Rectangle {
			mod.Width, mod.Height = d, d // a square
			return
		}
		mod.Diameter = d
		return
	}
	unit := ""
	if strings.Trim(a, "0123456789., ") == "" { // "90 x 60 cm": the unit is meant for both
		if u := strings.TrimLeft(strings.TrimSpace(b), "0123456789., "); !strings.ContainsAny(u, "0123456789") {
			unit = " " + u
		}
	}
	mod.Width, mod.Height = one(a, strings.TrimRight(unit, " ")), one(b, "")
}

// ParseModifier reads the shorthand of a modifier, "softbox 0.9 x 0.6, grid 40",
// bare lengths in the given units; nil when it is none.
func ParseModifier(text string, units Units) *Modifier {
	return modifierOf(text, units, &gearList{})
}
