package layout

import (
	"math"
)

// setting draws what stands around the lights: walls, ceiling or floor,
// background, the frame's edges and the camera's axis.
func (d *drawing) setting(must extent) {
	if d.side {
		d.floorAndCeiling()
	} else {
		d.walls()
	}
	d.backdrop(must)
	d.frameEdges()
	d.axis()
}

// wall is one wall of the room as the plan shows it.
type wall struct {
	m       *float64 // from the subject mark
	upright bool     // runs up the page
	sign    float64  // which way from the mark, in page axes
}

func (d *drawing) wallsOf() []wall {
	r := d.job.Setup.Room
	if r == nil {
		return nil
	}
	return []wall{{r.Left, true, -1}, {r.Right, true, 1}, {r.Behind, false, -1}, {r.Front, false, 1}}
}

// walls draws each wall where it stands; one that stands further off is drawn
// at the edge behind a break, with its true distance.
func (d *drawing) walls() {
	d.of = "room"
	in := d.area
	ws := d.wallsOf()
	ends := func(upright bool) (lo, hi Um) { // how far a wall runs
		if upright {
			return in.Y, in.bottom()
		}
		return in.X, in.right()
	}
	pos := func(w wall) (Um, bool) { // where it stands, and whether in truth
		v := d.sc.um(w.sign * *w.m)
		if w.upright {
			x := d.origin.X + v
			if x < in.X+400 {
				return in.X + 400, false
			}
			if x > in.right()-400 {
				return in.right() - 400, false
			}
			return x, true
		}
		y := d.origin.Y + v
		if y < in.Y+400 {
			return in.Y + 400, false
		}
		if y > in.bottom()-400 {
			return in.bottom() - 400, false
		}
		return y, true
	}
	limit := func(upright bool, sign float64) (Um, bool) { // where the neighbour cuts it
		for _, w := range ws {
			if w.upright == upright && w.sign == sign && w.m != nil {
				return pos(w)
			}
		}
		return 0, false
	}
	for _, w := range ws {
		if w.m == nil {
			d.ends = append(d.ends, [2]Point{})
			continue
		}
		p, inPlace := pos(w)
		lo, hi := ends(w.upright)
		if c, ok := limit(!w.upright, -1); ok {
			lo = c
		}
		if c, ok := limit(!w.upright, 1); ok {
			hi = c
		}
		a, b := Point{p, lo}, Point{p, hi}
		if !w.upright {
			a, b = Point{lo, p}, Point{hi, p}
		}
		d.ends = append(d.ends, [2]Point{a, b})
		d.walled = append(d.walled, segment{a, b, 0})
		if inPlace {
			d.line("wall", lineFace, nil, a, b)
		} else {
			d.line("wall", lineThin, dashHidden(lineThin), a, b)
			q := Point{a.X + (b.X-a.X)/4, a.Y + (b.Y-a.Y)/4}
			d.breakMark(q, w.upright)
		}
	}
	d.of = ""
}

// wallLabels writes each wall's distance beside it.
func (d *drawing) wallLabels() {
	d.of = "room"
	st := d.figureStyle()
	for i, w := range d.wallsOf() {
		if w.m == nil {
			continue
		}
		s := d.job.Words.T("plan.wall", "distance", d.figures(*w.m))
		a, b := d.ends[i][0], d.ends[i][1]
		if !d.label(s, st, beside(a, b, width(s, st), st.cap)...) {
			d.miss(0, s)
		}
	}
	d.of = ""
}

// floorAndCeiling draws both for the side view.
func (d *drawing) floorAndCeiling() {
	d.of = "room"
	y := d.at(vec{}).Y
	d.line("floor", lineFace, nil, Point{d.area.X, y}, Point{d.area.right(), y})
	r := d.job.Setup.Room
	if r == nil || r.Ceiling == nil {
		d.of = ""
		return
	}
	c := d.at(vec{Z: *r.Ceiling}).Y
	if c >= d.area.Y+400 {
		d.line("ceiling", lineFace, nil, Point{d.area.X, c}, Point{d.area.right(), c})
	} else {
		c = d.area.Y + 400
		d.line("ceiling", lineThin, dashHidden(lineThin), Point{d.area.X, c}, Point{d.area.right(), c})
		d.breakMark(Point{d.area.X + d.area.W/4, c}, false)
	}
	d.of = ""
}

// ceilingLabel writes the ceiling's height beside it.
func (d *drawing) ceilingLabel() {
	r := d.job.Setup.Room
	if r == nil || r.Ceiling == nil {
		return
	}
	d.of = "room"
	s, st := d.job.Words.T("plan.ceiling", "height", d.figures(*r.Ceiling)), d.figureStyle()
	y := max(d.at(vec{Z: *r.Ceiling}).Y, d.area.Y+400)
	if !d.label(s, st, beside(Point{d.area.X, y}, Point{d.area.right(), y}, width(s, st), st.cap)...) {
		d.miss(0, s)
	}
	d.of = ""
}

// backdrop draws the background's plane: at its width where that is recorded,
// else across what stands before it, with its ends left open.
func (d *drawing) backdrop(must extent) {
	b := d.job.Setup.Background
	if b == nil || b.Distance == nil {
		return
	}
	d.of = "background"
	y := -*b.Distance
	if d.side {
		top := d.area.Y
		if r := d.job.Setup.Room; r != nil && r.Ceiling != nil {
			top = max(top, d.at(vec{Z: *r.Ceiling}).Y)
		}
		if b.Height != nil {
			top = max(top, d.at(vec{Z: *b.Height}).Y)
		}
		x := d.at(vec{Y: y}).X
		if !d.whole {
			x = d.area.X + 400
			d.breakMark(Point{x + 3000, d.at(vec{}).Y - 3000}, false)
		}
		d.line("background", lineFrame, nil, Point{x, top}, Point{x, d.at(vec{}).Y})
		d.of = ""
		return
	}
	x0, x1 := must.x0, must.x1
	if b.Width != nil {
		x0, x1 = -*b.Width/2, *b.Width/2
	}
	p, q := d.at(vec{X: x0, Y: y}), d.at(vec{X: x1, Y: y})
	if !d.whole { // behind a break, at the head of the drawing
		p.Y, q.Y = d.area.Y+d.brokenBackdrop(), d.area.Y+d.brokenBackdrop()
		d.breakMark(Point{d.origin.X, p.Y + 3000}, true)
	}
	d.line("background", lineFrame, nil, p, q)
	d.walled = append(d.walled, segment{p, q, 0})
	if b.Width == nil {
		d.breakMark(p, false)
		d.breakMark(q, false)
	}
	d.of = ""
}

// brokenBackdrop is how far from the head of the drawing a background behind a
// break stands: clear of a wall that is behind one too.
func (d *drawing) brokenBackdrop() Um {
	if r := d.job.Setup.Room; r != nil && r.Behind != nil {
		return 2400
	}
	return 400
}

// backdropLabel names the background beside it.
func (d *drawing) backdropLabel(must extent) {
	b := d.job.Setup.Background
	if b == nil || b.Distance == nil {
		return
	}
	d.of = "background"
	s := d.job.Words.T("plan.background", "distance", d.figures(*b.Distance))
	st := d.figureStyle()
	p, q := d.at(vec{X: must.x0, Y: -*b.Distance}), d.at(vec{X: must.x1, Y: -*b.Distance})
	if d.side {
		p, q = d.at(vec{Y: -*b.Distance, Z: -must.y0}), d.at(vec{Y: -*b.Distance})
		if !d.whole {
			p.X, q.X = d.area.X+400, d.area.X+400
		}
	} else if !d.whole {
		p.Y, q.Y = d.area.Y+d.brokenBackdrop(), d.area.Y+d.brokenBackdrop()
	}
	if !d.label(s, st, beside(p, q, width(s, st), st.cap)...) {
		d.miss(0, s)
	}
	d.of = ""
}

// frameEdges draws the edges of what the lens sees, from the camera to the
// background or to the edge of the drawing.
func (d *drawing) frameEdges() {
	cam := d.job.Setup.Camera
	view := d.job.Numbers.Camera.ViewDeg
	if cam.Distance == nil || view.Width == nil || view.Height == nil || d.side && cam.Height == nil {
		return
	}
	d.of = "frame"
	eye := vec{Y: *cam.Distance}
	half := *view.Width / 2
	if d.side {
		eye.Z, half = *cam.Height, *view.Height/2
	}
	reach := *cam.Distance + 50
	if b := d.job.Setup.Background; b != nil && b.Distance != nil {
		reach = *cam.Distance + *b.Distance
	}
	spread := reach * math.Tan(half*math.Pi/180)
	for _, s := range []float64{-1, 1} {
		far := vec{X: s * spread, Y: eye.Y - reach}
		if d.side {
			far = vec{Y: eye.Y - reach, Z: eye.Z + s*spread}
		}
		from, to := d.at(eye), d.at(far)
		// Nothing of the frame is drawn past the camera's own symbol or, from
		// the side, under the floor.
		if d.side {
			if floor := d.at(vec{}).Y; to.Y > floor {
				k := float64(floor-from.Y) / float64(to.Y-from.Y)
				to = Point{from.X + Um(math.Round(k*float64(to.X-from.X))), floor}
			}
		}
		in := d.area
		in.H -= 8000
		if d.side {
			in = d.area
			in.W -= 9000
		}
		if a, b, ok := clip(from, to, in); ok {
			d.line("frame-edge", lineGrid, dashFrame(lineGrid), a, b)
		}
	}
	d.of = ""
}

// cameraPoint is where the camera's front stands on the page: in its place, or
// at the edge of the drawing behind a break; ok is false when it cannot be drawn.
func (d *drawing) cameraPoint() (c Point, ok bool) {
	cam := d.job.Setup.Camera
	if !cam.Given || d.side && cam.Height == nil {
		return Point{}, false
	}
	h := 0.0
	if cam.Height != nil {
		h = *cam.Height
	}
	switch {
	case d.cameraSeen && cam.Distance != nil:
		return d.at(vec{Y: *cam.Distance, Z: h}), true
	case d.side:
		return Point{d.area.right() - 4500, d.at(vec{Z: h}).Y}, true
	}
	return Point{d.origin.X, d.area.bottom() - 3500}, true
}

// axis draws the line from the camera to the subject on the plan, broken where
// the camera stands behind a break.
func (d *drawing) axis() {
	c, ok := d.cameraPoint()
	if !ok {
		return
	}
	d.of = "camera"
	defer func() { d.of = "" }()
	if d.side {
		if !d.cameraSeen {
			d.breakMark(Point{c.X - 5000, c.Y}, false)
		}
		return
	}
	from := Point{c.X, c.Y - 1400}
	if !d.cameraSeen {
		b := Point{c.X, c.Y - 4200}
		d.breakMark(b, true)
		d.line("axis", lineGrid, dashAim(lineGrid), from, Point{b.X, b.Y + 1300})
		from = Point{b.X, b.Y - 1300}
	}
	subject := d.at(vec{})
	d.line("axis", lineGrid, dashAim(lineGrid), from, Point{subject.X, subject.Y + d.sc.um(0.3)})
}

// camera draws the camera, over whatever stands before it; the symbol is 4 mm
// across on paper, its front face where the camera stands.
func (d *drawing) camera() {
	c, ok := d.cameraPoint()
	if !ok {
		return
	}
	d.of = "camera"
	const w = Um(2000)
	if d.side {
		d.shape("outline", lineOutline, nil, grey(White), Point{c.X, c.Y - w*2/3}, Point{c.X + 3200, c.Y - w*2/3}, Point{c.X + 3200, c.Y + w*2/3}, Point{c.X, c.Y + w*2/3})
		d.shape("outline", lineOutline, nil, grey(White), Point{c.X, c.Y - 900}, Point{c.X - 1400, c.Y - 900}, Point{c.X - 1400, c.Y + 900}, Point{c.X, c.Y + 900})
	} else {
		d.shape("outline", lineOutline, nil, grey(White), Point{c.X - w, c.Y}, Point{c.X + w, c.Y}, Point{c.X + w, c.Y + 2400}, Point{c.X - w, c.Y + 2400})
		d.shape("outline", lineOutline, nil, grey(White), Point{c.X - 900, c.Y}, Point{c.X - 900, c.Y - 1400}, Point{c.X + 900, c.Y - 1400}, Point{c.X + 900, c.Y})
	}
	d.of = ""
}

// cameraLabel writes the camera's distance, lens and height beside it.
func (d *drawing) cameraLabel() {
	c, ok := d.cameraPoint()
	if !ok {
		return
	}
	cam := d.job.Setup.Camera
	d.of = "camera"
	st := d.figureStyle()
	w := d.job.Words
	s := w.T("plan.camera-unknown")
	if cam.Distance != nil {
		s = w.T("plan.camera", "distance", d.figures(*cam.Distance))
	}
	box := Rect{c.X - 2000, c.Y - 1400, 4000, 3800}
	if d.side {
		s = d.figures(*cam.Height)
		box = Rect{c.X - 1400, c.Y - 1400, 4600, 2800}
	}
	if !d.label(s, st, sidesFirst(around(box, width(s, st), st.cap))...) {
		d.miss(0, s)
	}
	d.of = ""
}

// sidesFirst prefers right and left of a box over below and above it.
func sidesFirst(pts []Point) []Point {
	for i := 0; i+3 < len(pts); i += 8 {
		pts[i], pts[i+1], pts[i+2], pts[i+3] = pts[i+2], pts[i+3], pts[i], pts[i+1]
	}
	return pts
}
