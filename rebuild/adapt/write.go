package adapt

import (
	"math"
	"strings"

	"stopleaf/exposure"
	"stopleaf/setup"
	"stopleaf/setup/edit"
)

// write edits the text until it says what is planned.
func (w *writer) write(p *plan) error {
	read := func(*plan) error { return w.read() }
	for _, step := range []func(*plan) error{w.settings, w.room, read, w.readings, w.outputs, w.frame, w.places, read} {
		if err := step(p); err != nil {
			return err
		}
	}
	return nil
}

// settings writes speed and shutter.
func (w *writer) settings(p *plan) error {
	e, was := &p.s.Exposure, &w.s.Exposure
	at := func(key string) edit.Path { return edit.Path{"exposure", key} }
	if differ(e.ISO, was.ISO, 1e-9) {
		old, _ := w.src.Text(at("iso"))
		if err := w.set(at("iso"), "exposure", "as given", edit.Number(old, *e.ISO, 1e-6)); err != nil {
			return err
		}
	}
	if differ(e.ShutterS, was.ShutterS, 1e-9) {
		why := "as given"
		if p.o.ShutterS == nil {
			why = p.why["exposure shutter"]
		}
		return w.time(at("shutter"), "exposure", why, *e.ShutterS)
	}
	return nil
}

// differ compares two figures that may not be known, with a slack that is a part
// of the first.
func differ(a, b *float64, part float64) bool {
	if a == nil || b == nil {
		return a != b
	}
	return math.Abs(*a-*b) > part*math.Max(1, math.Abs(*a))
}

// frame writes camera, subject and what of them moved.
func (w *writer) frame(p *plan) error {
	c, was := &p.s.Camera, &w.s.Camera
	sub, old := &p.s.Subject, &w.s.Subject
	for _, v := range []struct {
		key, item string
		to, from  *float64
	}{
		{"distance", "camera", c.Distance, was.Distance},
		{"height", "camera", c.Height, was.Height},
		{"face", "subject", &sub.Face, &old.Face},
		{"top", "subject", sub.Top, old.Top},
	} {
		if differ(v.to, v.from, 1e-9) {
			if err := w.length(edit.Path{v.item, v.key}, v.item, p.why[v.item+" "+v.key], *v.to); err != nil {
				return err
			}
		}
	}
	if differ(c.FocalMM, was.FocalMM, 1e-9) {
		old, _ := w.src.Text(edit.Path{"camera", "lens"})
		return w.set(edit.Path{"camera", "lens"}, "camera", "as given", edit.Number(old, *c.FocalMM, 1e-6))
	}
	return nil
}

// room writes the walls.
func (w *writer) room(p *plan) error {
	if p.s.Room == nil {
		return nil
	}
	was := w.s.Room
	if was == nil {
		was = &setup.Room{}
	}
	r := p.s.Room
	for _, v := range []struct {
		key      string
		to, from *float64
	}{{"left", r.Left, was.Left}, {"right", r.Right, was.Right}, {"front", r.Front, was.Front}, {"behind", r.Behind, was.Behind}, {"ceiling", r.Ceiling, was.Ceiling}} {
		if v.to != nil && differ(v.to, v.from, 1e-9) {
			if err := w.length(edit.Path{"room", v.key}, "room", p.why["room"], *v.to); err != nil {
				return err
			}
		}
	}
	return nil
}

// readings writes every aperture and exposure value that means another now.
func (w *writer) readings(p *plan) error {
	e, was := &p.s.Exposure, &w.s.Exposure
	one := func(path edit.Path, item, why string, to, from *float64) error {
		if to == nil || !w.src.Has(path) || !differ(to, from, 1e-6) {
			return nil
		}
		return w.reading(path, item, why, *to)
	}
	base := p.why["base"]
	if err := one(edit.Path{"exposure", "key"}, "exposure", base, e.KeyAv, was.KeyAv); err != nil {
		return err
	}
	if err := one(edit.Path{"exposure", "aperture"}, "exposure", "as it was placed against the key", e.ApertureAv, was.ApertureAv); err != nil {
		return err
	}
	ambient := edit.Path{"exposure", "ambient"}
	if _, text := w.src.Text(ambient); !text {
		ambient = ambient.With("reading")
	}
	if err := one(ambient, "exposure", "at the new shutter and speed", e.AmbientAv, was.AmbientAv); err != nil {
		return err
	}
	if b := p.s.Background; b != nil {
		if err := one(edit.Path{"background", "reading"}, "background", base, b.ReadingAv, w.s.Background.ReadingAv); err != nil {
			return err
		}
	}
	if err := one(edit.Path{"camera", "widest"}, "camera", "", p.s.Camera.WidestAv, w.s.Camera.WidestAv); err != nil {
		return err
	}
	if err := w.bases(p); err != nil {
		return err
	}
	for i := range p.s.Lights {
		if err := w.lightReading(p, i); err != nil {
			return err
		}
	}
	return nil
}

// bases writes the list of bases: each in its place, or the list anew where some
// are gone.
func (w *writer) bases(p *plan) error {
	path := edit.Path{"exposure", "bases"}
	to, from := p.s.Exposure.Bases, w.s.Exposure.Bases
	same := len(to) == len(from)
	for i := 0; same && i < len(to); i++ {
		same = math.Abs(to[i].Av-from[i].Av) < 1e-6
	}
	if same {
		return nil
	}
	return w.changed(path, "exposure", p.why["base"], func() error {
		if w.src.Len(path) == len(to) && len(to) == len(from) {
			for i := range to {
				if err := w.setReading(path.With(itoa(i)), to[i].Av); err != nil {
					return err
				}
			}
			return nil
		}
		var list []string
		for _, b := range to {
			list = append(list, b.Mark)
		}
		if _, text := w.src.Text(path); text {
			return w.src.Set(path, strings.Join(list, ", "))
		}
		return w.src.SetYAML(path, "["+strings.Join(list, ", ")+"]")
	})
}

func (w *writer) setReading(p edit.Path, av float64) error {
	was, _ := w.src.Text(p)
	text, err := w.readingText(was, av)
	if err != nil {
		return err
	}
	return w.src.Set(p, text)
}

// lightReading writes what a light read; of a pair with two readings each.
func (w *writer) lightReading(p *plan, i int) error {
	l, was := &p.s.Lights[i], &w.s.Lights[i]
	path := w.item("lights", w.index(i), "reading")
	if l.ReadingAv == nil || !w.src.Has(path) || !differ(l.ReadingAv, was.ReadingAv, 1e-6) {
		return nil
	}
	why := p.why["base"]
	two := l.Pair != nil && p.two(path, w)
	side := 0
	if l.Pair != nil && l.Pair.Side == "R" {
		side = 1
	}
	text, scalar := w.src.Text(path)
	switch {
	case side == 1 && !two:
		return nil // written with L
	case two && !scalar:
		return w.changed(path, called(l), why, func() error {
			return w.setReading(path.With(itoa(side)), *l.ReadingAv)
		})
	case two:
		both := strings.SplitN(text, ", ", 2)
		var err error
		if both[side], err = w.readingText(both[side], *l.ReadingAv); err != nil {
			return err
		}
		return w.set(path, called(l), why, strings.Join(both, ", "))
	}
	return w.reading(path, called(l), why, *l.ReadingAv)
}

// two reports whether a pair has a reading for each.
func (p *plan) two(path edit.Path, w *writer) bool {
	text, ok := w.src.Text(path)
	return w.src.Len(path) == 2 || ok && strings.Contains(text, ", ")
}

// outputs writes powers, dimmers and differences.
func (w *writer) outputs(p *plan) error {
	in := p.s.Input(nil)
	for i := range p.s.Lights {
		l, was, d := &p.s.Lights[i], &w.s.Lights[i], &p.dials[i]
		if l.Pair != nil && l.Pair.Side == "R" {
			continue
		}
		path := w.item("lights", w.index(i))
		if l.Pair != nil && i+1 < len(p.s.Lights) { // one power is written for both: what either cannot do
			if r := &p.s.Lights[i+1]; r.Power == nil && p.was.Lights[i+1].Power != nil {
				l.Power, d = nil, &p.dials[i+1]
			}
		}
		if err := w.output(path.With("power"), l, was, in.Lights[i].Head, d, p.swapped(i)); err != nil {
			return err
		}
		if err := w.dimmer(path.With("dimmer"), l, was, d); err != nil {
			return err
		}
		if why := p.moved[called(l)+" delta"]; why != "" && w.src.Has(path.With("delta")) {
			delta := l.Delta
			if l.Pair != nil && l.Pair.Metered == "both" {
				delta++
			}
			if err := w.delta(path.With("delta"), called(l), why, delta); err != nil {
				return err
			}
		}
	}
	return nil
}

func (w *writer) output(path edit.Path, l, was *setup.Light, h *exposure.Head, d *dial, swapped bool) error {
	switch {
	case l.Power == nil && was.Power == nil:
		return nil
	case l.Power == nil:
		return w.drop(path, called(l), d.lost)
	case was.Power != nil && math.Abs(*l.Power-*was.Power) < 1e-9 && !swapped:
		return nil
	}
	why := strings.Join(d.why, ", ")
	if d.est != "" && !strings.Contains(why, "est.") {
		why += ", " + d.est
	}
	if err := w.power(path, called(l), strings.TrimPrefix(why, ", "), *l.Power, h, swapped || was.Power == nil); err != nil {
		return err
	}
	if d.est == "" {
		return nil
	}
	return w.src.Comment(path, "power "+d.est)
}

func (w *writer) dimmer(path edit.Path, l, was *setup.Light, d *dial) error {
	switch {
	case l.Dimmer == nil && was.Dimmer == nil:
		return nil
	case l.Dimmer == nil:
		return w.drop(path, called(l), d.lost)
	case was.Dimmer != nil && math.Abs(*l.Dimmer-*was.Dimmer) < 1e-9:
		return nil
	}
	old, _ := w.src.Text(path)
	return w.set(path, called(l), strings.Join(d.why, ", ")+", est.", edit.Number(old, *l.Dimmer, *l.Dimmer*0.0035))
}
