package setup

import (
	"math"

	"stopleaf/exposure"
)

// wallSlack is how far, in metres, something may reach into a wall or the
// ceiling before it is said: what a tape and a bulging front leave open.
const wallSlack = 0.05

// nearestM is nearer to the mark than any tape is read: what is written nearer, and not
// straight over it, is a unit mistaken.
const nearestM = 0.02

// thing is a light or a grip item as it stands in the room.
type thing struct {
	called string // "Key" in quotes, or in words
	where  Where
	body   exposure.Body
	flat   bool // its height is not known: only walls can be compared
}

// space compares every thing that has a place with the picture and the room.
func (c *checker) space() {
	for i := range c.s.Lights {
		l := &c.s.Lights[i]
		if l.Place == nil || l.Source == exposure.Daylight {
			continue // a window may well be in the picture, and its sun outside
		}
		t := thing{called: quote(l.Name), where: l.Where, body: l.Body(), flat: l.Place.Height == nil}
		if d := l.Place.Distance(); d > 1e-4 && d < nearestM {
			c.warn(l.Where, "place", "on-the-mark", "is the unit meant? a bare length is in the file's units", "%q is %.3g mm from the mark along the floor", l.Name, d*1000)
		}
		if !t.flat && c.s.InFrame(t.body) {
			c.warn(l.Where, "place", "in-frame", "move it out, unless the subject hides it", "%q is in the picture", l.Name)
		}
		c.ceiling(t)
		c.walls(t)
		if l.Stand != nil && l.Stand.Base != nil {
			base := exposure.Body{At: exposure.Vec{X: l.Stand.Base.Right, Y: l.Stand.Base.Front}}
			c.walls(thing{called: "the boom's base of " + quote(l.Name), where: l.Where, body: base, flat: true})
		}
	}
	for i := range c.s.Grip {
		g := &c.s.Grip[i]
		if g.Place == nil {
			continue
		}
		t := thing{called: quote(g.Name), where: g.Where, body: g.Body(), flat: g.Place.Height == nil}
		c.ceiling(t)
		c.walls(t)
	}
	c.ends()
}

// Body is the face of a light that shines, turned to its aim; a light whose
// size is not known is a point.
func (l *Light) Body() exposure.Body {
	b := exposure.Body{At: exposure.Vec{X: l.Place.Right, Y: l.Place.Front}}
	if l.Place.Height != nil {
		b.At.Z = *l.Place.Height
	}
	b.Toward = exposure.Vec{X: l.Aim.Right, Y: l.Aim.Front, Z: l.Aim.Height}
	if l.Aim.Unknown {
		return b
	}
	if m := l.Modifier; m != nil && positive(m.Width) && positive(m.Height) && l.Place.Height != nil {
		b.Width, b.Height, b.Round = *m.Width, *m.Height, m.Shines == exposure.Disc
	}
	return b
}

// Body is a grip item, upright and facing the way it is turned.
func (g *Grip) Body() exposure.Body {
	b := exposure.Body{At: exposure.Vec{X: g.Place.Right, Y: g.Place.Front}}
	if g.Place.Height != nil {
		b.At.Z = *g.Place.Height
	}
	b.Toward = exposure.Vec{Z: b.At.Z} // the subject, level
	if g.Turned != nil {
		sin, cos := math.Sincos(*g.Turned * math.Pi / 180)
		b.Toward = b.At.Plus(exposure.Vec{X: sin, Y: cos})
	}
	if positive(g.Width) && positive(g.Height) && g.Place.Height != nil {
		b.Width, b.Height = *g.Width, *g.Height
	}
	return b
}

// InFrame reports whether a body is in the picture however the camera was
// tilted: both aimed at the face and, where a level camera still sees the face,
// level. The file does not say which it was.
func (s *Setup) InFrame(b exposure.Body) bool {
	in := s.Input(nil)
	face := exposure.Vec{Z: s.Subject.Face}
	aimed, known := exposure.InFrame(in.Camera, face, in.Background, b)
	if !known || !aimed {
		return false
	}
	level := exposure.Vec{Z: *in.Camera.HeightM}
	if sees, _ := exposure.InFrame(in.Camera, level, nil, exposure.Body{At: face}); !sees {
		return true
	}
	is, _ := exposure.InFrame(in.Camera, level, in.Background, b)
	return is
}

func (c *checker) ceiling(t thing) {
	if c.s.Room == nil || c.s.Room.Ceiling == nil || t.flat {
		return
	}
	ceiling := *c.s.Room.Ceiling
	if top := t.body.Top(); top > ceiling+wallSlack {
		c.warn(t.where, "place", "above-ceiling", "is the height that of its centre? \"height to: lower edge\" is written for the other",
			"the top of %s would be at %s, and the ceiling is at %s", t.called, c.length(top), c.length(ceiling))
	}
}

// wall is one wall, and how far beyond it a point is.
type wall struct {
	name   string
	at     *float64
	beyond func(exposure.Vec) float64
}

func (r *Room) walls() [4]wall {
	return [4]wall{
		{"left wall", r.Left, func(p exposure.Vec) float64 { return -p.X - *r.Left }},
		{"right wall", r.Right, func(p exposure.Vec) float64 { return p.X - *r.Right }},
		{"wall behind the camera", r.Front, func(p exposure.Vec) float64 { return p.Y - *r.Front }},
		{"wall behind the subject", r.Behind, func(p exposure.Vec) float64 { return -p.Y - *r.Behind }},
	}
}

func (c *checker) walls(t thing) {
	if c.s.Room == nil {
		return
	}
	for _, w := range c.s.Room.walls() {
		if w.at == nil {
			continue
		}
		if out := w.beyond(t.body.At); out > wallSlack {
			c.warn(t.where, "place", "outside-room", "walls are measured from the subject mark",
				"%s is outside the room, %s beyond the %s", t.called, c.length(out), w.name)
			continue
		}
		edge := math.Inf(-1)
		for _, p := range t.body.Outline() {
			edge = math.Max(edge, w.beyond(p))
		}
		if edge > wallSlack {
			c.warn(t.where, "place", "through-wall", "walls are measured from the subject mark",
				"%s would reach %s through the %s", t.called, c.length(edge), w.name)
		}
	}
}

// ends compares the camera and the background with the walls they stand before.
func (c *checker) ends() {
	r := c.s.Room
	if r == nil {
		return
	}
	if d := c.s.Camera.Distance; d != nil && r.Front != nil && *d > *r.Front+wallSlack {
		c.warn(c.s.Camera.Where, "distance", "outside-room", "walls are measured from the subject mark",
			"the camera is outside the room, %s beyond the wall behind it", c.length(*d-*r.Front))
	}
	if b := c.s.Background; b != nil && b.Distance != nil && r.Behind != nil && *b.Distance > *r.Behind+wallSlack {
		c.warn(b.Where, "distance", "outside-room", "walls are measured from the subject mark",
			"the background is outside the room, %s beyond the wall behind it", c.length(*b.Distance-*r.Behind))
	}
}

func (c *checker) length(m float64) string { return FormatLength(m, c.s.Units) }
