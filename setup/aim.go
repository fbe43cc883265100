package setup

import (
	"fmt"
	"strings"

	"stopleaf/setup/grammar"
)

// Heights of the parts of a person from the face, metres; the drawing and the
// arithmetic aim by them.
const (
	crownAbove = 0.15
	chestBelow = 0.35
	handsBelow = 0.55
)

// aimSpec is an aim as written.
type aimSpec struct {
	target  string // a part, "background", "place", or an item's name
	place   *placeSpec
	feather *Feather
	pos     Pos
	given   bool
}

// aim reads what a light is aimed at; a background light aims at the
// background unless said, others at the face.
func (m *meaning) aim(w, feather *written, role string) aimSpec {
	a := aimSpec{target: "face", feather: m.feather(feather)}
	if role == "background" {
		a.target = "background"
	}
	if w == nil {
		return a
	}
	a.given, a.pos = true, w.pos
	if w.kind == isMap {
		a.target, a.place = "place", m.place(w, false)
		return a
	}
	if !m.isText(w, "aim") {
		return a
	}
	text := line(w)
	if k := among(text, append([]string{"background"}, grammar.Parts...)); k != "" {
		a.target = k
		return a
	}
	if isDigit(text[0]) && strings.Contains(text, ",") {
		a.target, a.place = "place", m.place(w, false)
		return a
	}
	a.target = text // an item, looked up when all are known
	return a
}

// feather reads "20 toward camera" or the mapping.
func (m *meaning) feather(w *written) *Feather {
	if w == nil {
		return nil
	}
	ways := wordsOf("feather", "toward")
	angle, toward := w.get("angle"), w.get("toward")
	if w.kind == isText {
		if !m.isText(w, "feather") {
			return nil
		}
		low := strings.ToLower(line(w))
		deg, way, ok := strings.Cut(strings.Replace(low, " towards ", " toward ", 1), " toward ")
		if !ok { // "20 left", "10 up"
			if i := strings.LastIndexByte(low, ' '); i > 0 {
				deg, way, ok = low[:i], low[i+1:], true
			}
		}
		if !ok {
			m.err(w.pos, "bad-feather", quote(w.text)+" does not say which way", "write 20 toward camera; allowed: "+strings.Join(ways, ", "))
			return nil
		}
		angle = &written{pos: w.pos, kind: isText, text: deg}
		toward = &written{pos: w.pos, kind: isText, text: strings.TrimPrefix(way, "the ")}
	}
	if angle == nil || toward == nil {
		m.err(w.pos, "bad-feather", "a feather needs \"angle\" and \"toward\"", "write 20 toward camera; allowed: "+strings.Join(ways, ", "))
		return nil
	}
	deg := m.number(angle, "a feather of", "°", 0, 90)
	way := m.word(toward, ways)
	if deg == nil || way == "" {
		return nil
	}
	return &Feather{Deg: *deg, Toward: way}
}

// forSide is the aim of one of a pair; wrote is the side the file speaks of.
func (a aimSpec) forSide(side, wrote int) aimSpec {
	if side == wrote {
		if a.place != nil && a.place.side == 0 && a.place.form != "cartesian" {
			a.place = a.place.forSide(side)
		}
		return a
	}
	if a.place != nil {
		p := *a.place
		p.side, p.right = -p.side, -p.right
		if p.side == 0 {
			p.side = side
		}
		p.mirrored = true
		a.place = &p
	}
	if a.feather != nil {
		f := *a.feather
		switch f.Toward {
		case "left":
			f.Toward = "right"
		case "right":
			f.Toward = "left"
		}
		a.feather = &f
	}
	return a
}

// Part is how high a part of the subject is, m: the face, and what is told from it.
// ok is false for what is no part.
func (s *Subject) Part(name string) (height float64, ok bool) {
	switch name {
	case "face":
		return s.Face, true
	case "crown":
		return s.Face + crownAbove, true
	case "chest":
		return max(s.Face-chestBelow, 0), true
	case "hands":
		return max(s.Face-handsBelow, 0), true
	}
	return 0, false
}

// aimPoint works out the point a light is aimed at.
func (s *solver) aimPoint(i int) Aim {
	it := &s.items[i]
	a := it.aim
	out := Aim{Target: a.target, Feather: a.feather, Given: a.given}
	if h, ok := s.m.s.Subject.Part(a.target); ok {
		out.Height = h
		return out
	}
	switch a.target {
	case "background":
		s.aimAtBackground(i, &out)
	case "place":
		s.aimAtPlace(i, &out)
	default:
		s.aimAtItem(i, &out)
	}
	return out
}

// aimAtBackground is level, straight behind the mark.
func (s *solver) aimAtBackground(i int, out *Aim) {
	it := &s.items[i]
	bg := s.m.s.Background
	if bg == nil || bg.Distance == nil {
		out.Unknown = true
		at := it.aim.pos
		if !it.aim.given {
			at = it.pos
		}
		s.m.warn(at, "aim-unknown", fmt.Sprintf("%s is aimed at the background, and where that is is not known", quote(it.name)),
			"write \"distance\" under \"background\"")
		return
	}
	out.Front = -*bg.Distance
	if it.place != nil && it.place.Height != nil {
		out.Height = *it.place.Height
	} else if it.spec != nil && it.spec.height != nil {
		out.Height = *it.spec.height
	}
}

func (s *solver) aimAtPlace(i int, out *Aim) {
	it := &s.items[i]
	if it.aim.place == nil {
		out.Unknown = true
		return
	}
	p, ok := s.floorOf(it.aim.place, i, it.aim.place.height)
	if !ok {
		out.Unknown = true
		return
	}
	out.Right, out.Front = p.Right, p.Front
	if it.aim.place.height == nil { // as high as the face, like every other aim
		out.Height = s.m.s.Subject.Face
		return
	}
	out.Height = *it.aim.place.height
}

func (s *solver) aimAtItem(i int, out *Aim) {
	it := &s.items[i]
	j, ok := s.find(it.aim.target, it)
	if !ok {
		out.Unknown = true
		s.m.err(it.aim.pos, "unknown-name", fmt.Sprintf("%s is aimed at %s, which is no part of the subject and no item", quote(it.name), quote(it.aim.target)),
			suggest(it.aim.target, append(append([]string(nil), grammar.Parts...), append([]string{"background"}, s.names()...)...)))
		return
	}
	out.Target = s.items[j].name
	if j == i {
		out.Unknown = true
		s.m.err(it.aim.pos, "ring", quote(it.name)+" is aimed at itself", "")
		return
	}
	p := s.centre(j)
	if p == nil || p.Height == nil {
		out.Unknown = true
		if s.items[j].state != failed {
			s.m.warn(it.aim.pos, "aim-unknown", fmt.Sprintf("%s is aimed at %s, whose place or height is not known", quote(it.name), quote(s.items[j].name)), "give it a \"place\" with a height")
		}
		return
	}
	out.Right, out.Front, out.Height = p.Right, p.Front, *p.Height
}
