package setup

import (
	"fmt"
	"math"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
)

// apart is how far two figures that should agree may differ, in stops: a little
// over half a third, so that a third-stop mark beside the same value in tenths
// or halves is the same setting.
const apart = 0.17

// contradiction is the difference from which a model of the light counts as
// contradicting what was recorded, in stops.
const contradiction = 0.5

// Check finds what is written rightly and does not add up: lights in the
// picture or outside the room, a mirrored pair that differs, photos taken at
// other settings, readings that a head, or the lights on the background, cannot
// give. n are the setup's own numbers. All are warnings, in the order of the
// file.
func Check(s *Setup, n *exposure.Numbers) Problems {
	c := &checker{s: s, n: n}
	c.basesAlike()
	c.placing()
	c.subject()
	c.camera()
	c.space()
	c.behind()
	if s.Look == "" { // a look need not be what was recorded
		c.pairs()
		c.looks()
	}
	c.powers()
	c.photos()
	c.outputs()
	if s.Look == "" {
		c.backgroundReading()
	}
	c.found.Sort()
	return c.found
}

// CheckPhotos is the part of Check that looks at the photos.
func CheckPhotos(s *Setup) Problems {
	c := &checker{s: s}
	c.photos()
	c.found.Sort()
	return c.found
}

type checker struct {
	s     *Setup
	n     *exposure.Numbers
	found Problems
}

// warn adds a warning at a key of an item, or at the item.
func (c *checker) warn(w Where, key, code, hint, format string, args ...any) {
	c.found = append(c.found, Problem{
		Pos: c.s.at(w, key), Level: Warning, Code: code, Message: fmt.Sprintf(format, args...), Hint: hint,
	})
}

// at is the place of a key, of the item, or of the file as a whole for what was
// not written at all.
func (s *Setup) at(w Where, key string) Pos {
	if p := w.Key(key); p.Line > 0 {
		return p
	}
	return Pos{File: s.File}
}

// recordedAv is what a light was recorded to read, alone: by its difference
// from the key, or as written where the key's reading is not known.
func (c *checker) recordedAv(l *Light) (av float64, ok bool) {
	switch {
	case c.s.Exposure.KeyAv != nil:
		return *c.s.Exposure.KeyAv + l.Delta, true
	case l.ReadingAv != nil:
		return *l.ReadingAv, true
	}
	return 0, false
}

// pairs compares the two of a mirrored pair that were metered each alone.
func (c *checker) pairs() {
	lights := c.s.Lights
	for i := range lights {
		for j := i + 1; j < len(lights); j++ {
			a, b := &lights[i], &lights[j]
			if a.Pair == nil || b.Pair == nil || a.Pair.Of != b.Pair.Of {
				continue
			}
			if d := math.Abs(a.Delta - b.Delta); d > 0.1+1e-9 {
				c.warn(a.Where, "reading", "pair-differs", "a mirrored pair is meant to be even; write two lights if it is not",
					"%q and %q are a mirrored pair, and read %.1f stops apart", a.Name, b.Name, d)
			}
		}
	}
}

// powers compares a recorded power with what its head can do.
func (c *checker) powers() {
	for i := range c.s.Lights {
		l := &c.s.Lights[i]
		h := l.dialled()
		if l.Off || l.Power == nil || h == nil {
			continue
		}
		switch p := *l.Power; {
		case p > 1e-6: // in a look alone
			c.warn(l.Where, "power", "over-full", "give it more by its place or its modifier, or take a wider base",
				"%q would be %.1f stops over full in the look %q", l.Name, p, c.s.Look)
		case h.Range == nil || p >= -*h.Range-1e-6:
		default:
			c.warn(l.Where, "power", "below-range", "check the power, and the head's range",
				"%q is at %s, and its head goes down %s stops from full", l.Name,
				apex.FormatDial(p, apex.Dial(h.Dial), h.Step, h.EnergyWs), short(math.Round(*h.Range*100)/100))
		}
	}
}

// looks finds the lights that a look asks more or less of than their heads can
// give where the zero reads what it was recorded to read.
func (c *checker) looks() {
	for i := range c.s.Looks {
		k := &c.s.Looks[i]
		in, err := c.s.WithLook(k.Name)
		if err != nil {
			continue
		}
		for j := range in.Lights {
			l := &in.Lights[j]
			h := l.dialled()
			switch {
			case k.delta(l.Name) == nil || l.Power == nil:
			case *l.Power > 1e-6:
				c.warn(k.Where, "delta", "look-power", "meter the look, and move the light or take a wider base",
					"%q would be %.1f stops over full in the look %q", l.Name, *l.Power, k.Name)
			case h != nil && h.Range != nil && *l.Power < -*h.Range-1e-6:
				c.warn(k.Where, "delta", "look-power", "meter the look, and move the light or put a gel or a net before it",
					"%q would be %.1f stops under its least in the look %q", l.Name, -(*l.Power + *h.Range), k.Name)
			}
		}
	}
}

// photos compares the settings that the camera wrote with those of the file.
func (c *checker) photos() {
	for i := range c.s.Photos {
		p := &c.s.Photos[i]
		if p.Picture == nil || p.Shows != "result" {
			continue
		}
		e, x := &c.s.Exposure, &p.Picture.Exif
		if e.ApertureAv != nil && positive(x.FNumber) {
			c.setting(p, "photo-aperture", markedAv(*x.FNumber), *e.ApertureAv, apex.Mark)
		}
		if e.ShutterS != nil && positive(x.ExposureS) {
			time := func(tv float64) string { return apex.FormatTime(apex.Seconds(tv)) }
			c.setting(p, "photo-time", markedTv(*x.ExposureS), apex.Tv(*e.ShutterS), time)
		}
		if e.ISO != nil && positive(x.ISO) {
			iso := func(sv float64) string { return fmt.Sprintf("ISO %.0f", apex.ISO(sv)) }
			c.setting(p, "photo-iso", apex.Sv(*x.ISO), apex.Sv(*e.ISO), iso)
		}
		if f := c.s.Camera.FocalMM; f != nil && positive(x.FocalMM) && math.Abs(*x.FocalMM-*f) > 0.6+*f*0.02 {
			c.warn(p.Where, "file", "photo-lens", photoHint,
				"the photo %q was taken at %.0f mm, and the file says %.0f mm", p.File, *x.FocalMM, *f)
		}
	}
}

const photoHint = "is it a picture of another set-up, or was the set-up changed after it was written down?"

// setting compares one APEX value of a photo with the file's.
func (c *checker) setting(p *Photo, code string, photo, file float64, text func(float64) string) {
	if d := math.Abs(photo - file); d > apart {
		c.warn(p.Where, "file", code, photoHint,
			"the photo %q was taken at %s, and the file says %s, %.1f stops apart", p.File, text(photo), text(file), d)
	}
}

// markedAv and markedTv take what a camera wrote by its mark, since a setting of
// the file means the exact step too.
func markedAv(f float64) float64 {
	if av, ok := apex.MarkAv(f, false); ok {
		return av
	}
	return apex.Av(f)
}

func markedTv(seconds float64) float64 {
	if tv, ok := apex.MarkTv(seconds, false); ok {
		return tv
	}
	return apex.Tv(seconds)
}

func positive(v *float64) bool { return v != nil && *v > 0 && !math.IsInf(*v, 0) }
