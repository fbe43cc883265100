package adapt

import (
	"fmt"

	"stopleaf/setup"
	"stopleaf/setup/edit"
)

// warnMirrored says what a mirror cannot turn.
func (p *plan) warnMirrored() {
	for i := range p.was.Lights {
		if l := &p.was.Lights[i]; fixed(l) && l.Place != nil && l.Place.Right != 0 {
			p.warn(l.Where.Key("place"), "daylight", "put the set where the light comes from that side", "%q is daylight: it is written on the other side, and a window stays where it is", l.Name)
		}
	}
	r, o := p.was.Room, &p.o.Room
	if r != nil && r.Left != nil && r.Right != nil && *r.Left != *r.Right && o.Left == nil && o.Right == nil {
		p.warn(r.Where.Item, "room", fmt.Sprintf("in the same room say --room left=%s,right=%s", figure(*r.Right, p.s.Units), figure(*r.Left, p.s.Units)),
			"the walls are changed about with the set: %s left and %s right", p.length(*r.Left), p.length(*r.Right))
	}
}

// sideText finds a side in words that were written for people.
var sideText = lazy(`(?i)\b(left|right|o'clock|clockwise)\b`)

// sideWords names the texts in which a side is said, since words cannot be turned
// surely: the right side, and the right moment.
func (w *writer) sideWords(p *plan) {
	look := func(item string, path edit.Path, where setup.Where) {
		text, ok := w.src.Text(path)
		if word := sideText().FindString(text); ok && word != "" {
			p.warn(where.Key(path[len(path)-1]), "words", "read it again", "%s of %s says %s", quoted(path[len(path)-1]), item, quoted(word))
		}
	}
	texts := func(item string, path edit.Path, where setup.Where) {
		for _, key := range []string{"note", "look for", "mark", "trigger"} {
			look(item, path.With(key), where)
		}
	}
	look("the setup", edit.Path{"title"}, p.first.Where)
	look("the setup", edit.Path{"notes"}, p.first.Where)
	texts("the camera", edit.Path{"camera"}, p.first.Camera.Where)
	texts("the subject", edit.Path{"subject"}, p.first.Subject.Where)
	if b := p.first.Background; b != nil {
		texts("the background", edit.Path{"background"}, b.Where)
	}
	for i := range p.first.Lights {
		l := &p.first.Lights[i]
		path := w.item("lights", w.index(i))
		texts(quoted(called(l)), path, l.Where)
		look(quoted(called(l)), path.With("meter"), l.Where)
		look(quoted(called(l)), path.With("meter", "at"), l.Where)
	}
	for i := range p.first.Grip {
		texts(quoted(p.first.Grip[i].Name), w.item("grip", i), p.first.Grip[i].Where)
	}
	for i := range p.first.Photos {
		if side := sideText().FindString(p.first.Photos[i].Caption); side != "" {
			p.warn(p.first.Photos[i].Where.Item, "words", "read it again", "the caption of %s says %s", quoted(p.first.Photos[i].File), quoted(side))
		}
	}
}
