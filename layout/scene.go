package layout

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"stopleaf/exposure"
	"stopleaf/setup"
)

type vec = exposure.Vec

// body is one light or grip item as it stands on the set, in metres.
type body struct {
	number int
	name   string
	of     string // "light 3"
	centre vec
	tall   bool  // its height is known
	face   []vec // the outline of what shines, or of the panel
	back   []vec // what stands behind the face; empty for a flat panel
	open   bool  // the face is a line of leaves, not a closed outline
	clear  bool  // it lies level and hides nothing
	aim    *vec
	throw  *float64 // m, centre to aim
	base   *vec     // where a boom's column stands
	feet   float64  // m, radius of the circle of its feet; 0 unknown
	stands bool     // a column goes down to the floor below it
}

func add(a, b vec) vec            { return vec{X: a.X + b.X, Y: a.Y + b.Y, Z: a.Z + b.Z} }
func scaled(a vec, k float64) vec { return vec{X: k * a.X, Y: k * a.Y, Z: k * a.Z} }
func minus(a, b vec) vec          { return add(a, scaled(b, -1)) }
func length(a vec) float64        { return math.Sqrt(a.X*a.X + a.Y*a.Y + a.Z*a.Z) }
func mix(c, r, u vec, x, y float64) vec {
	return add(c, add(scaled(r, x), scaled(u, y)))
}

// unit is the direction of a, or (0, 1, 0) for nothing at all.
func unit(a vec) vec {
	if l := length(a); l > 1e-9 {
		return scaled(a, 1/l)
	}
	return vec{Y: 1}
}

// scene gives every placed light and grip item, in an order that depends on
// where they stand, not on the order of the file.
func scene(job Job) []body {
	var out []body
	for i := range job.Setup.Lights {
		l := &job.Setup.Lights[i]
		if l.Place == nil {
			continue
		}
		var throw *float64
		if i < len(job.Numbers.Lights) {
			throw = job.Numbers.Lights[i].ThrowM
		}
		out = append(out, lightBody(l, throw, job.Setup))
	}
	for i := range job.Setup.Grip {
		if g := &job.Setup.Grip[i]; g.Place != nil {
			out = append(out, gripBody(g))
		}
	}
	slices.SortFunc(out, func(a, b body) int {
		return cmp.Or(cmp.Compare(a.centre.Y, b.centre.Y), cmp.Compare(a.centre.X, b.centre.X),
			cmp.Compare(a.centre.Z, b.centre.Z), cmp.Compare(a.name, b.name))
	})
	return out
}

func placePoint(p *setup.Place) (vec, bool) {
	v := vec{X: p.Right, Y: p.Front}
	if p.Height != nil {
		v.Z = *p.Height
	}
	return v, p.Height != nil
}

func lightBody(l *setup.Light, throw *float64, s *setup.Setup) body {
	c, tall := placePoint(l.Place)
	b := body{number: l.Number, name: l.Name, of: fmt.Sprintf("light %d", l.Number), centre: c, tall: tall, throw: throw}
	aim := vec{X: l.Aim.Right, Y: l.Aim.Front, Z: l.Aim.Height}
	if l.Aim.Unknown { // it faces the subject, for want of better, and gets no aim line
		aim = vec{Z: s.Subject.Face}
	} else {
		b.aim = &aim
	}
	axis := minus(aim, c)
	if !tall {
		axis.Z = 0
	}
	axis = feathered(unit(axis), l.Aim.Feather, c, s)
	r, u := basis(axis)
	w, h, shape, flat := shining(l)
	b.face = outline(shape, c, r, u, w, h)
	if !flat {
		depth := min(0.4*max(w, h), 0.45)
		if shape == exposure.Hard || shape == exposure.Lens || shape == exposure.ShapeUnknown {
			depth = max(0.22, 1.2*w)
		}
		half := min(0.09, w/2)
		b.back = outline(exposure.Rectangle, add(c, scaled(axis, -depth)), r, u, 2*half, 2*half)
	}
	if st := l.Stand; st != nil {
		b.stands = st.Kind == "" || st.Kind == "stand"
		if st.Footprint != nil {
			b.feet = *st.Footprint / 2
		}
		if st.Base != nil {
			p, _ := placePoint(st.Base)
			b.base = &p
		}
	} else {
		b.stands = l.Source != exposure.Daylight
	}
	return b
}

// shining is the size and shape of what shines; flat is a panel that nothing
// stands behind. A source without a size is drawn 0.12 m across.
func shining(l *setup.Light) (w, h float64, shape exposure.Shape, flat bool) {
	w, h = 0.12, 0.12
	m := l.Modifier
	if m == nil {
		return w, h, exposure.Hard, false
	}
	if m.Width != nil {
		w = *m.Width
		h = w
	}
	if m.Height != nil {
		h = *m.Height
	}
	kind := strings.ToLower(m.Kind)
	flat = l.Source == exposure.Bounce || l.Source == exposure.Daylight || strings.Contains(kind, "panel") ||
		strings.Contains(kind, "scrim") || strings.Contains(kind, "window")
	return w, h, m.Shines, flat
}

func gripBody(g *setup.Grip) body {
	c, tall := placePoint(g.Place)
	b := body{number: g.Number, name: g.Name, of: fmt.Sprintf("grip %d", g.Number), centre: c, tall: tall}
	axis := unit(vec{X: -c.X, Y: -c.Y})
	if g.Turned != nil {
		a := *g.Turned * math.Pi / 180
		axis = vec{X: math.Sin(a), Y: math.Cos(a)}
	}
	r, u := basis(axis)
	w, h := 0.1, 0.1
	if g.Width != nil {
		w = *g.Width
	}
	if g.Height != nil {
		h = *g.Height
	}
	if strings.Contains(strings.ToLower(strings.ReplaceAll(g.Kind, " ", "-")), "v-flat") {
		// Two leaves of half the width, each swung 25 degrees toward the subject.
		swing := 25 * math.Pi / 180
		x, f := w/2*math.Cos(swing), scaled(axis, w/2*math.Sin(swing))
		top, low := scaled(u, h/2), scaled(u, -h/2)
		left, right := add(add(c, scaled(r, -x)), f), add(add(c, scaled(r, x)), f)
		b.face = []vec{add(left, low), add(left, top), add(c, top), add(right, top), add(right, low), add(c, low)}
		b.open = true
		return b
	}
	if strings.Contains(strings.ToLower(g.Kind), "table") { // it lies level; half as deep as wide, which only marks it
		b.face, b.clear = outline(exposure.Rectangle, c, r, axis, w, w/2), true
		return b
	}
	b.face = outline(exposure.Rectangle, c, r, u, w, h)
	return b
}

// basis gives the directions across and up of a face that looks along n: r is
// level, u completes it.
func basis(n vec) (r, u vec) {
	if h := math.Hypot(n.X, n.Y); h > 1e-6 {
		r = vec{X: -n.Y / h, Y: n.X / h}
	} else {
		r = vec{X: 1}
	}
	u = vec{X: r.Y*n.Z - r.Z*n.Y, Y: r.Z*n.X - r.X*n.Z, Z: r.X*n.Y - r.Y*n.X}
	if u.Z < 0 {
		u = scaled(u, -1)
	}
	return r, u
}

// outline is the edge of a face: four corners, or a disc in 32 chords (0.5 % of
// its radius short at worst).
func outline(shape exposure.Shape, c, r, u vec, w, h float64) []vec {
	if shape == exposure.Rectangle {
		return []vec{mix(c, r, u, -w/2, -h/2), mix(c, r, u, w/2, -h/2), mix(c, r, u, w/2, h/2), mix(c, r, u, -w/2, h/2)}
	}
	out := make([]vec, 32)
	for i := range out {
		a := 2 * math.Pi * float64(i) / 32
		out[i] = mix(c, r, u, w/2*math.Cos(a), h/2*math.Sin(a))
	}
	return out
}

// feathered turns an axis by the feather of the aim, toward what it names.
func feathered(n vec, f *setup.Feather, at vec, s *setup.Setup) vec {
	if f == nil || f.Deg == 0 {
		return n
	}
	a := f.Deg * math.Pi / 180
	level := math.Hypot(n.X, n.Y)
	switch f.Toward {
	case "up", "down":
		pitch := math.Atan2(n.Z, level)
		if f.Toward == "down" {
			a = -a
		}
		pitch = max(-math.Pi/2, min(math.Pi/2, pitch+a))
		if level < 1e-9 {
			return n
		}
		return vec{X: n.X / level * math.Cos(pitch), Y: n.Y / level * math.Cos(pitch), Z: math.Sin(pitch)}
	}
	to := vec{Y: 1}
	switch f.Toward {
	case "camera":
		if d := s.Camera.Distance; d != nil {
			to = minus(vec{Y: *d}, vec{X: at.X, Y: at.Y})
		}
	case "background":
		to = vec{Y: -1}
	case "left":
		to = vec{X: -1}
	case "right":
		to = vec{X: 1}
	}
	if n.X*to.Y-n.Y*to.X < 0 { // the target lies clockwise of the axis, seen with Y up
		a = -a
	}
	sin, cos := math.Sincos(a)
	return vec{X: n.X*cos - n.Y*sin, Y: n.X*sin + n.Y*cos, Z: n.Z}
}
