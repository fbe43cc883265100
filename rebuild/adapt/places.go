package adapt

import (
	"math"
	"strings"

	"stopleaf/exposure"
	"stopleaf/setup"
	"stopleaf/setup/edit"
)

// places writes where everything stands, in the form it has. What leans on another
// thing, by a tape or a slant, is written anew where that moved.
func (w *writer) places(p *plan) error {
	for _, it := range p.items() {
		if it.grip >= 0 {
			if err := w.gripPlace(p, it); err != nil {
				return err
			}
			continue
		}
		if err := w.lightPlaces(p, it); err != nil {
			return err
		}
	}
	return nil
}

func (w *writer) gripPlace(p *plan, it item) error {
	to, was := p.s.Grip[it.grip].Place, p.was.Grip[it.grip].Place
	path := w.item("grip", it.grip, "place")
	if to == nil || !p.anew(w, path, to, was, false) {
		return nil
	}
	place := *to
	if h := p.s.Grip[it.grip].Height; h != nil && place.Height != nil {
		place.Lower = ptr(math.Max(*place.Height-*h/2, 0))
	}
	return w.place(p, path, it.name, p.moved[it.name], place, edit.FloorOf(p.s, ""))
}

// lightPlaces writes the place of a light, its boom's column and what it is aimed
// at; of a pair those of the one that the file speaks of.
func (w *writer) lightPlaces(p *plan, it item) error {
	path := w.item("lights", w.index(it.lights[0]))
	i := it.lights[0]
	if len(it.lights) > 1 && w.speaksOfRight(path.With("place")) {
		i = it.lights[1]
	}
	l, was := &p.s.Lights[i], &p.was.Lights[i]
	side := ""
	if l.Pair != nil {
		side = l.Pair.Side
	}
	on := edit.FloorOf(p.s, side)
	why := p.moved[it.name]
	turned := aimed(l.Aim) != aimed(was.Aim) || p.otherModifier(i)
	if l.Place != nil && p.anew(w, path.With("place"), l.Place, was.Place, turned) {
		place := *l.Place
		place.Lower = lowerEdge(l)
		if err := w.place(p, path.With("place"), it.name, why, place, on); err != nil {
			return err
		}
	}
	if l.Stand != nil && l.Stand.Base != nil && p.anew(w, path.With("stand", "base"), l.Stand.Base, was.Stand.Base, false) {
		if err := w.place(p, path.With("stand", "base"), it.name, why, *l.Stand.Base, on); err != nil {
			return err
		}
	}
	if l.Aim.Target != "place" || l.Aim.Unknown {
		return nil
	}
	to := setup.Place{Right: l.Aim.Right, Front: l.Aim.Front}
	aim := path.With("aim")
	if w.hasHeight(aim) {
		to.Height = ptr(l.Aim.Height)
	}
	from := setup.Place{Right: was.Aim.Right, Front: was.Aim.Front, Height: ptr(was.Aim.Height)}
	if to.Height == nil {
		from.Height = nil
	}
	if !p.anew(w, aim, &to, &from, false) {
		return nil
	}
	return w.place(p, aim, it.name, p.why["subject face"], to, on)
}

// lowerEdge is that of a light where it stands and is aimed; nil where its size is
// not known.
func lowerEdge(l *setup.Light) *float64 {
	if l.Place.Height == nil {
		return nil
	}
	if l.Modifier == nil || l.Modifier.Height == nil || l.Aim.Unknown {
		return l.Place.Lower
	}
	line := aimed(l.Aim).Minus(at(l.Place))
	tilt := math.Atan2(line.Z, math.Hypot(line.X, line.Y))
	return ptr(math.Max(*l.Place.Height-*l.Modifier.Height/2*math.Cos(tilt), 0))
}

// hasHeight reports whether a place says how high.
func (w *writer) hasHeight(p edit.Path) bool {
	text, ok := w.src.Text(p)
	if !ok {
		return w.src.Has(p.With("height"))
	}
	low := strings.ToLower(text)
	return strings.Contains(low, " high") || strings.Contains(low, " up") || strings.Contains(low, "lower edge")
}

// speaksOfRight reports whether what the file says of a pair is of R.
func (w *writer) speaksOfRight(place edit.Path) bool {
	if text, ok := w.src.Text(place); ok {
		if side, _ := clockSide(text); side != 0 {
			return side > 0
		}
		return sideIn(text) > 0
	}
	if text, ok := w.src.Text(place.With("clock")); ok {
		side, _ := clockSide(text)
		return side > 0
	}
	angle, _ := w.src.Text(place.With("angle"))
	side, _ := w.src.Text(place.With("side"))
	return w.src.Has(place.With("right")) || sideIn(angle) > 0 || sideIn(side) > 0
}

func clockSide(text string) (int, error) {
	first, _, _ := strings.Cut(text, ",")
	_, side, err := setup.ParseClock(first)
	return side, err
}

// sideIn is -1 for a text that says left, 1 for one that says right.
func sideIn(text string) int {
	if before, _, _ := cutRef(text); before != "" {
		return 0
	}
	for _, part := range strings.Split(text, ",") {
		word := strings.ToLower(sideWord().FindString(part))
		if word == "" {
			if m := sideMark().FindStringSubmatch(part); m != nil {
				word = strings.ToLower(m[2])
			}
		}
		switch word {
		case "left", "l":
			return -1
		case "right", "r":
			return 1
		}
	}
	return 0
}

// anew reports whether a place must be written again: it is another, or what it is
// measured from is elsewhere.
func (p *plan) anew(w *writer, path edit.Path, to, was *setup.Place, turned bool) bool {
	if !near(at(to), at(was)) {
		return true
	}
	faceMoved := math.Abs(p.s.Subject.Face-p.was.Subject.Face) > 1e-9
	text := strings.ToLower(w.text(path))
	switch {
	case strings.Contains(text, "slant") && faceMoved:
		return true
	case strings.Contains(text, "lower edge") && (turned || faceMoved):
		return true
	}
	names := append(w.refs(path), tapedFrom(w, path)...)
	before, after := edit.FloorOf(p.was, ""), edit.FloorOf(p.s, "")
	for _, name := range names {
		for _, side := range []string{"", " L", " R"} {
			x0, y0, ok := before.At(name + side)
			x1, y1, _ := after.At(name + side)
			if ok && !near(exposure.Vec{X: x0, Y: y0}, exposure.Vec{X: x1, Y: y1}) {
				return true
			}
		}
	}
	return false
}

func near(a, b exposure.Vec) bool { return a.Minus(b).Length() < 1e-6 }

// refs are the names that a place stands under or over.
func (w *writer) refs(path edit.Path) (names []string) {
	if text, ok := w.src.Text(path); ok {
		if _, name, _ := cutRef(text); name != "" {
			return []string{name}
		}
		return nil
	}
	for _, key := range []string{"under", "over"} {
		if name, ok := w.src.Text(path.With(key)); ok {
			names = append(names, name)
		}
	}
	return names
}

func tapedFrom(w *writer, path edit.Path) []string { return w.src.Keys(path.With("tape")) }

// place writes one place; what form it could not keep is part of the reason, and
// said where that loses how it was measured.
func (w *writer) place(p *plan, path edit.Path, item, why string, to setup.Place, on edit.Floor) error {
	from := w.text(path)
	note, err := w.src.SetPlace(path, to, on)
	if err != nil {
		return err
	}
	if note != "" {
		why = strings.TrimPrefix(why+", "+note, ", ")
		if strings.HasPrefix(note, "tapes") || strings.HasPrefix(note, "it is no longer") {
			p.warn(p.whereNamed(item).Key("place"), "place-form", "", "the place of %q: %s", item, note)
		}
	}
	w.note(path, item, why, from, w.text(path))
	return nil
}

// whereNamed is where an item stands in the old file.
func (p *plan) whereNamed(name string) setup.Where {
	for _, it := range p.items() {
		if it.name == name {
			return p.whereOf(it)
		}
	}
	return setup.Where{}
}

// misplaced compares what the text says with what was planned, and names what it
// does not say.
func (p *plan) misplaced(s *setup.Setup) {
	off := func(where setup.Where, name, what string, by float64) {
		p.warn(where.Key("place"), "not-written", "write it by hand", "%s of %q could not be written as it should be: it is %s off", what, name, p.length(by))
	}
	check := func(where setup.Where, name, what string, a, b *setup.Place) {
		if a == nil || b == nil {
			return
		}
		if by := at(a).Minus(at(b)).Length(); by > math.Max(0.012, 0.004*a.Distance()) {
			off(where, name, what, by)
		}
	}
	for i := range p.s.Lights {
		l, now := &p.s.Lights[i], &s.Lights[i]
		check(p.was.Lights[i].Where, called(l), "the place", l.Place, now.Place)
		if l.Stand != nil && now.Stand != nil {
			check(p.was.Lights[i].Where, called(l), "the boom's column", l.Stand.Base, now.Stand.Base)
		}
		if !l.Aim.Unknown && !now.Aim.Unknown {
			if by := aimed(l.Aim).Minus(aimed(now.Aim)).Length(); by > 0.02 {
				off(p.was.Lights[i].Where, called(l), "the aim", by)
			}
		}
	}
	for i := range p.s.Grip {
		check(p.was.Grip[i].Where, p.s.Grip[i].Name, "the place", p.s.Grip[i].Place, s.Grip[i].Place)
	}
}
