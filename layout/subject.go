package layout

import "math"

// ellipse is a closed outline of half sizes a across and b along, about c, its
// long way turned with the direction facing (degrees from toward the camera,
// positive to camera right).
func ellipse(c vec, a, b, facing float64) []vec {
	sin, cos := math.Sincos(facing * math.Pi / 180)
	pts := make([]vec, 24)
	for i := range pts {
		s, t := math.Sincos(2 * math.Pi * float64(i) / 24)
		x, y := a*t, b*s
		pts[i] = vec{X: c.X + x*cos + y*sin, Y: c.Y - x*sin + y*cos, Z: c.Z}
	}
	return pts
}

// subjectExtent is what the subject takes up, in the view's axes.
func (d *drawing) subjectExtent() extent {
	s := d.job.Setup.Subject
	w, dep := 0.0, 0.0
	if s.Width != nil {
		w, dep = *s.Width, *s.Width
	}
	if s.Depth != nil {
		dep = *s.Depth
	}
	half := max(0.45, math.Hypot(w, dep)/2) // however it is turned
	if s.Kind == "object" {
		half = max(0.15, math.Hypot(w, dep)/2)
	}
	if !d.side {
		return extent{-half, -half, half, half}
	}
	return extent{-half, -max(d.subjectTop(), s.Face+0.2), half, max(0, 0.2-s.Face)}
}

// subjectTop is the highest point of the subject, m: recorded, or a hand's
// breadth over the face.
func (d *drawing) subjectTop() float64 {
	s := d.job.Setup.Subject
	switch {
	case s.Top != nil:
		return *s.Top
	case s.Kind == "person" || s.Kind == "group" || s.Kind == "":
		return s.Face + 0.15
	case s.Height != nil:
		return s.Face + *s.Height/2
	}
	return s.Face + 0.1
}

// subject draws who or what is lit.
func (d *drawing) subject() {
	d.of = "subject"
	s := d.job.Setup.Subject
	switch s.Kind {
	case "object":
		d.object()
	case "animal":
		if d.side {
			d.solidOutline(ellipseSide(vec{Z: s.Face}, 0.35, 0.2))
		} else {
			d.solidOutline(ellipse(vec{}, 0.15, 0.4, s.Turned))
		}
	default:
		d.person()
	}
	d.of = ""
}

// mark draws the cross of the floor mark on the plan, over all that hangs above
// it.
func (d *drawing) mark() {
	if d.side {
		return
	}
	d.of = "subject"
	c := d.at(vec{})
	d.line("mark", lineThin, nil, Point{c.X - 1000, c.Y}, Point{c.X + 1000, c.Y})
	d.line("mark", lineThin, nil, Point{c.X, c.Y - 1000}, Point{c.X, c.Y + 1000})
	d.of = ""
}

func (d *drawing) solidOutline(pts []vec) {
	for i := range pts { // nothing of the subject is under the floor
		pts[i].Z = max(0, pts[i].Z)
	}
	d.shape("outline", lineOutline, nil, grey(White), d.all(pts)...)
}

// ellipseSide is an ellipse in the plane of the side view.
func ellipseSide(c vec, along, up float64) []vec {
	pts := make([]vec, 24)
	for i := range pts {
		s, t := math.Sincos(2 * math.Pi * float64(i) / 24)
		pts[i] = vec{Y: c.Y + along*t, Z: c.Z + up*s}
	}
	return pts
}

// person draws shoulders, head and nose from above; head and body from the
// side. The sizes are those of a grown person and only mark the place.
func (d *drawing) person() {
	s := d.job.Setup.Subject
	if !d.side {
		w := 0.23
		if s.Width != nil {
			w = max(w, *s.Width/2)
		}
		d.solidOutline(ellipse(vec{}, w, 0.12, s.Turned))
		sin, cos := math.Sincos(s.Turned * math.Pi / 180)
		nose := func(x, y float64) vec { return vec{X: x*cos + y*sin, Y: -x*sin + y*cos} }
		d.solidOutline([]vec{nose(-0.05, 0.07), nose(0, 0.17), nose(0.05, 0.07)})
		d.solidOutline(ellipse(vec{}, 0.08, 0.1, s.Turned))
		return
	}
	face := s.Face
	neck := face - 0.2
	switch s.Posture {
	case "seated":
		d.solidOutline([]vec{{Y: -0.06, Z: neck}, {Y: -0.05, Z: face - 0.08}, {Y: 0.05, Z: face - 0.08}, {Y: 0.06, Z: neck}, {Y: 0.12, Z: max(0, neck-0.4)}, {Y: 0.45, Z: max(0, neck-0.42)}, {Y: 0.45, Z: 0}, {Y: 0.32, Z: 0}, {Y: 0.3, Z: max(0, neck-0.56)}, {Y: -0.14, Z: max(0, neck-0.56)}})
	case "lying":
		d.solidOutline(ellipseSide(vec{Z: max(0.1, face-0.05)}, 0.45, 0.12))
	default:
		d.solidOutline([]vec{
			{Y: -0.05, Z: face - 0.08}, {Y: -0.06, Z: neck}, {Y: -0.13, Z: neck - 0.12}, {Y: -0.1, Z: face * 0.62}, {Y: -0.13, Z: face * 0.52},
			{Y: -0.08, Z: face * 0.27}, {Y: -0.1, Z: 0}, {Y: 0.16, Z: 0}, {Y: 0.03, Z: face * 0.05}, {Y: 0.07, Z: face * 0.28},
			{Y: 0.11, Z: face * 0.52}, {Y: 0.11, Z: face * 0.63}, {Y: 0.13, Z: neck - 0.14}, {Y: 0.06, Z: neck}, {Y: 0.05, Z: face - 0.08},
		})
	}
	ahead := math.Cos(s.Turned * math.Pi / 180)
	d.solidOutline([]vec{{Y: 0.08 * ahead, Z: face + 0.05}, {Y: 0.14 * ahead, Z: face - 0.03}, {Y: 0.08 * ahead, Z: face - 0.04}})
	d.solidOutline(ellipseSide(vec{Z: face + 0.02}, 0.09, 0.13))
}

// object draws a thing at its recorded size; without one, a dashed circle that
// only marks the place.
func (d *drawing) object() {
	s := d.job.Setup.Subject
	if s.Width == nil && s.Depth == nil && s.Height == nil {
		c := d.at(vec{Z: s.Face})
		p := d.circle("outline", c, max(d.sc.um(0.12), 1500), lineOutline, grey(White))
		p.Stroke.Dash = dashHidden(lineOutline)
		r := max(d.sc.um(0.12), 1500)
		d.ink.rect(Rect{c.X - r, c.Y - r, 2 * r, 2 * r}, markCells)
		return
	}
	w, dep := 0.1, 0.1
	if s.Width != nil {
		w, dep = *s.Width, *s.Width
	}
	if s.Depth != nil {
		dep = *s.Depth
	}
	if !d.side {
		sin, cos := math.Sincos(s.Turned * math.Pi / 180)
		at := func(x, y float64) vec { return vec{X: x*cos + y*sin, Y: -x*sin + y*cos} }
		d.solidOutline([]vec{at(-w/2, -dep/2), at(w/2, -dep/2), at(w/2, dep/2), at(-w/2, dep/2)})
		return
	}
	top := d.subjectTop()
	low := 0.0
	if s.Height != nil {
		low = max(0, top-*s.Height)
	}
	d.solidOutline([]vec{{Y: -dep / 2, Z: low}, {Y: dep / 2, Z: low}, {Y: dep / 2, Z: top}, {Y: -dep / 2, Z: top}})
}
