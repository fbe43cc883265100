package edit

import (
	"fmt"
	"math"
	"strings"

	"stopleaf/setup"
)

// Floor is what a place as it is written leans on.
type Floor struct {
	Units setup.Units // of bare lengths
	Face  float64     // m, the height that a slant is taped from
	// At gives where something stands now, metres: "subject", "camera",
	// "background" (straight behind the mark), or an item by its name as the file
	// writes it. ok is false where that is not known.
	At func(name string) (right, front float64, ok bool)
}

// FloorOf is the floor of a setup, for an item that stands on a side, "L" or "R",
// of a pair, else "".
func FloorOf(s *setup.Setup, side string) Floor {
	return Floor{Units: s.Units, Face: s.Subject.Face, At: func(name string) (float64, float64, bool) {
		switch strings.ToLower(strings.TrimSpace(name)) {
		case "subject", "mark":
			return 0, 0, true
		case "camera":
			if d := s.Camera.Distance; d != nil {
				return 0, *d, true
			}
			return 0, 0, false
		case "background":
			if b := s.Background; b != nil && b.Distance != nil {
				return 0, -*b.Distance, true
			}
			return 0, 0, false
		}
		for _, called := range []string{name, name + " " + side} {
			if p := placeOf(s, strings.TrimSpace(called)); p != nil {
				return p.Right, p.Front, true
			}
		}
		return 0, 0, false
	}}
}

func placeOf(s *setup.Setup, name string) *setup.Place {
	for i := range s.Lights {
		if strings.EqualFold(s.Lights[i].Name, name) {
			return s.Lights[i].Place
		}
	}
	for i := range s.Grip {
		if strings.EqualFold(s.Grip[i].Name, name) {
			return s.Grip[i].Place
		}
	}
	return nil
}

// The slack of places, metres: how far a place that is read again may be from
// what is meant, and how far a minute of a clock may be.
const (
	samePlace  = 0.001
	sameMinute = 0.01
)

// SetPlace writes a place anew in the form that it stands in: in one line or as a
// mapping, by angle, clock, slant, left or right and front or behind, by tapes, or
// under or over another item; height, or the height of the lower edge. Only what
// changed is touched. Of a pair it is the place of the one that the file speaks of,
// L where it says no side. Where the form no longer holds it, the place is written
// by angle and distance, and the note says so; a clock that holds it to within a
// centimetre stays one, and the note says how far it is off. Right and front of the
// new place are taken, its Height, and its Lower where the file tapes the lower
// edge; a height that is nil is left as it stands.
func (s *Source) SetPlace(p Path, to setup.Place, on Floor) (note string, err error) {
	w := placing{s: s, p: p, to: to, on: on}
	w.deg, w.side = bearing(to)
	before, moved := s.now, append([]column(nil), s.moved...)
	defer func() {
		if err != nil {
			s.now, s.moved = before, moved
		}
	}()
	if _, short := s.Text(p); short {
		err = w.short()
	} else if s.Has(p) {
		err = w.long()
	} else {
		err = w.fresh()
	}
	return w.note, err
}

// placing is one place on its way into the file.
type placing struct {
	s    *Source
	p    Path
	to   setup.Place
	on   Floor
	deg  float64
	side int
	note string
}

// bearing is a place's angle from the camera, and its side.
func bearing(p setup.Place) (deg float64, side int) {
	deg = math.Abs(math.Atan2(p.Right, p.Front)) * 180 / math.Pi
	switch {
	case math.Abs(p.Right) < 1e-9:
		if p.Front < 0 {
			return 180, 0
		}
		return 0, 0
	case p.Right < 0:
		return deg, -1
	}
	return deg, 1
}

// slack is how many degrees keep the place within samePlace.
func (w *placing) slack() float64 {
	return math.Min(samePlace/math.Max(w.to.Distance(), 1e-6)*180/math.Pi, 90)
}

// angle writes the angle as one was written; one of a pair that says no side goes
// on saying none.
func (w *placing) angle(was string, fresh bool) (string, error) {
	side := w.side
	if deg, old, err := setup.ParseAngle(was); !fresh && err == nil && old == 0 && deg > 0 && deg < 180 {
		side = 0
	}
	return Angle(was, w.deg, side, w.slack())
}

func (w *placing) length(was string, m float64) (string, error) {
	return Length(was, m, w.on.Units)
}

// slant is the tape from the face to the centre, and how fine it must be written
// to tell the place; ok is false where the height is not known, and where the light
// is so nearly above or below the face that no tape would tell.
func (w *placing) slant() (m, slack float64, ok bool) {
	if w.to.Height == nil {
		return 0, 0, false
	}
	height := *w.to.Height
	if lower, _ := w.s.Text(w.at("height to")); lower == "" {
		was, _ := w.s.Text(w.at("height"))
		if written, err := setup.ParseLength(was, w.on.Units); err == nil {
			height = written
		}
	}
	d := w.to.Distance()
	m = math.Hypot(d, height-w.on.Face)
	slack = math.Min(sameLength, samePlace*d/math.Max(m, 1e-9))
	return m, slack, slack > sameLength/100
}

// height is what is written as the height; ok is false where it is left alone.
func (w *placing) height(lower bool) (m float64, ok bool) {
	h := w.to.Height
	if lower {
		h = w.to.Lower
	}
	if h == nil {
		return 0, false
	}
	return *h, true
}

// fresh writes a place where none was.
func (w *placing) fresh() error {
	angle, err := w.angle("", true)
	if err != nil {
		return err
	}
	d, err := w.length("", w.to.Distance())
	if err != nil {
		return err
	}
	text := "{angle: " + scalar(angle, 0, true) + ", distance: " + scalar(d, 0, true)
	if m, ok := w.height(false); ok {
		h, err := w.length("", m)
		if err != nil {
			return err
		}
		text += ", height: " + scalar(h, 0, true)
	}
	return w.s.SetYAML(w.p, text+"}")
}

func (w *placing) say(format string, args ...any) { w.note = fmt.Sprintf(format, args...) }

// clock writes a clock position where it holds the place to a centimetre.
func (w *placing) clock(was string) (string, bool) {
	text, off := Clock(was, w.deg, w.side)
	miss := off * math.Pi / 180 * w.to.Distance()
	if deg, side, err := setup.ParseClock(was); err == nil && side*w.side >= 0 { // as it stands
		if math.Abs(deg-w.deg) <= w.slack() {
			return was, true
		}
	}
	switch {
	case miss > sameMinute:
		w.say("no minute of the clock is within a centimetre of the place: it is written as an angle")
		return "", false
	case miss > samePlace:
		w.say("the minute of the clock is %.0f mm off the place", miss*1000)
	}
	return text, true
}

func (w *placing) beside(name string) bool {
	right, front, ok := w.on.At(name)
	return ok && math.Hypot(right-w.to.Right, front-w.to.Front) <= samePlace
}
