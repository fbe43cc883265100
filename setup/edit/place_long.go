package edit

import (
	"fmt"
	"math"
	"strings"
)

func (w *placing) at(key string) Path { return append(w.p[:len(w.p):len(w.p)], key) }

func (w *placing) has(key string) bool { return w.s.Has(w.at(key)) }

// set writes one length of the mapping.
func (w *placing) set(key string, m float64) error {
	was, _ := w.s.Text(w.at(key))
	text, err := w.length(was, m)
	if err != nil || text == was {
		return err
	}
	return w.s.Set(w.at(key), text)
}

// long writes a mapping.
func (w *placing) long() error {
	lower, _ := w.s.Text(w.at("height to"))
	if m, ok := w.height(strings.EqualFold(strings.TrimSpace(lower), "lower edge")); ok {
		if err := w.set("height", m); err != nil {
			return err
		}
	}
	switch {
	case w.has("angle"):
		return w.longAngle("angle")
	case w.has("clock"):
		return w.longClock()
	case w.has("tape"):
		return w.longTape()
	case w.has("under"):
		return w.longBeside("under")
	case w.has("over"):
		return w.longBeside("over")
	}
	return w.longFloor()
}

// longAngle writes angle and distance or slant, where key is the first of them.
func (w *placing) longAngle(key string) error {
	was, _ := w.s.Text(w.at(key))
	fresh := key != "angle"
	if fresh {
		was = ""
	}
	text, err := w.angle(was, fresh)
	if err != nil {
		return err
	}
	if fresh {
		if err := w.s.Rename(w.at(key), "angle"); err != nil {
			return err
		}
	}
	if text != was || fresh {
		if err := w.s.Set(w.at("angle"), text); err != nil {
			return err
		}
	}
	return w.reach()
}

// reach writes distance or slant.
func (w *placing) reach() error {
	if !w.has("slant") {
		if w.has("distance") {
			return w.set("distance", w.to.Distance())
		}
		text, err := w.length("", w.to.Distance())
		if err != nil {
			return err
		}
		return w.s.setBehind(w.at("distance"), "angle", text)
	}
	if m, slack, ok := w.slant(); ok {
		was, _ := w.s.Text(w.at("slant"))
		text, err := lengthWithin(was, m, w.on.Units, slack)
		if err != nil {
			return err
		}
		return w.s.Set(w.at("slant"), text)
	}
	w.say("a tape from the face does not tell the place: it is written as a distance along the floor")
	if err := w.s.Rename(w.at("slant"), "distance"); err != nil {
		return err
	}
	return w.set("distance", w.to.Distance())
}

func (w *placing) longClock() error {
	was, _ := w.s.Text(w.at("clock"))
	text, ok := w.clock(was)
	if !ok {
		return w.longAngle("clock")
	}
	if text != was {
		if err := w.s.Set(w.at("clock"), text); err != nil {
			return err
		}
	}
	return w.reach()
}

// longBeside leaves a place under or over another item alone while that stands
// there.
func (w *placing) longBeside(key string) error {
	name, _ := w.s.Text(w.at(key))
	if w.beside(name) {
		return nil
	}
	w.say("it is no longer %s %q: the place is written by angle and distance", key, name)
	return w.longAngle(key)
}

// longFloor writes left or right and front or behind.
func (w *placing) longFloor() error {
	if err := w.axis("right", "left", w.to.Right); err != nil {
		return err
	}
	return w.axis("front", "behind", w.to.Front)
}

// axis writes one of two keys that are each other's opposite.
func (w *placing) axis(plus, minus string, v float64) error {
	key, other := plus, minus
	if v < 0 {
		key, other = minus, plus
	}
	switch {
	case w.has(key):
	case w.has(other):
		if was, _ := w.s.Text(w.at(other)); math.Abs(v) <= sameLength {
			key = other
		} else if err := w.s.Rename(w.at(other), key); err != nil {
			return fmt.Errorf("%s cannot be written: %w", was, err)
		}
	case math.Abs(v) <= sameLength:
		return nil
	default:
		text, err := w.length("", math.Abs(v))
		if err != nil {
			return err
		}
		behind := "left"
		if w.has("right") {
			behind = "right"
		}
		if plus == "right" {
			behind = ""
		}
		return w.s.setBehind(w.at(key), behind, text)
	}
	return w.set(key, math.Abs(v))
}
