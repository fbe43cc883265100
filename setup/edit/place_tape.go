package edit

import (
	"math"
	"strings"

	"stopleaf/setup"
)

// longTape writes each tape anew, fine enough that they meet where they should.
func (w *placing) longTape() error {
	tape := w.at("tape")
	f, err := w.s.find(tape)
	if err != nil {
		return err
	}
	var names, was []string
	n := follow(f.last())
	for i := 0; i+1 < len(n.Content); i += 2 {
		names = append(names, strings.TrimSpace(follow(n.Content[i]).Value))
		was = append(was, follow(n.Content[i+1]).Value)
	}
	texts, ok := w.tapes(names, was)
	if !ok {
		w.say("tapes no longer hold the place: it is written by angle and distance")
		if err := w.s.Delete(tape); err != nil {
			return err
		}
		if w.has("side") {
			return w.longAngle("side")
		}
		return w.longFresh()
	}
	for i, text := range texts {
		if text != was[i] {
			if err := w.s.Set(append(tape[:len(tape):len(tape)], names[i]), text); err != nil {
				return err
			}
		}
	}
	side, _ := w.s.Text(w.at("side"))
	if side != "" && w.side != 0 && !strings.EqualFold(side, sideWord(w.side)) {
		return w.s.Set(w.at("side"), sideWord(w.side))
	}
	return nil
}

// longFresh writes angle and distance into a mapping that has no other way left.
func (w *placing) longFresh() error {
	text, err := w.angle("", true)
	if err != nil {
		return err
	}
	if err := w.s.Set(w.at("angle"), text); err != nil {
		return err
	}
	return w.reach()
}

// tapes are the lengths along the floor to a place; ok is false where one starts
// from what has no place, or where they do not tell the place.
func (w *placing) tapes(names, was []string) (texts []string, ok bool) {
	from, plane, exact := make([][2]float64, len(names)), make([]bool, len(names)), make([]float64, len(names))
	for i, name := range names {
		right, front, ok := w.on.At(name)
		if !ok {
			return nil, false
		}
		from[i], plane[i] = [2]float64{right, front}, strings.EqualFold(name, "background")
		exact[i] = math.Hypot(w.to.Right-right, w.to.Front-front)
		if plane[i] {
			if exact[i] = w.to.Front - front; exact[i] < 0 {
				return nil, false
			}
		}
	}
	side, _ := w.s.Text(w.at("side"))
	way := 0
	if side != "" {
		way = w.side
	}
	for _, slack := range []float64{sameLength, sameLength / 10, sameLength / 100} {
		texts = texts[:0]
		read := make([]float64, len(names))
		for i := range names {
			text, err := lengthWithin(was[i], exact[i], w.on.Units, slack)
			if err != nil {
				return nil, false
			}
			if read[i], err = setup.ParseLength(text, w.on.Units); err != nil {
				return nil, false
			}
			texts = append(texts, text)
		}
		if right, front, ok := setup.MeetTapes(from, plane, read, way); ok && math.Hypot(right-w.to.Right, front-w.to.Front) <= 2*samePlace {
			return texts, true
		}
	}
	return nil, false
}
