package layout

import (
	"slices"
	"strings"
)

// drawOptions says how a view is drawn into its box.
type drawOptions struct {
	side  bool
	scale int // denominator; 0 picks the largest that fits
	num   Um  // cap height in balloons
	fig   Um  // cap height of figures
	only  int // on a stand card: the number filled in; 0 for none
}

// drawn is a finished view.
type drawn struct {
	group *Group
	scale drawScale
	fits  bool // all lights are inside at that scale
}

// stripHeight is kept clear below a drawing for the scale bar and its words.
const stripHeight = Um(6500)

// draw makes one view of the set inside a box, with its scale bar below. Labels
// that find no place are listed under the drawing, which then gets smaller.
func draw(job Job, box Rect, opt drawOptions) drawn {
	var d *drawing
	var fit bool
	notes := unplaced(job, opt.side)
	for pass := 0; ; pass++ {
		lines := listLines(job, notes, box.W)
		d, fit = drawOnce(job, Rect{box.X, box.Y, box.W, box.H - stripHeight - pitch(capUse)*Um(len(lines))}, opt)
		if len(d.lost) == 0 || pass == 2 {
			notes = append(notes, d.lost...)
			d.strip(box, listLines(job, notes, box.W))
			break
		}
		if pass == 0 {
			notes = append(notes, d.lost...)
		} else { // the smaller drawing lost others
			notes = append(unplaced(job, opt.side), d.lost...)
		}
		if same := listLines(job, append(unplaced(job, opt.side), d.lost...), box.W); len(same) == len(lines) {
			d.strip(box, same)
			break
		}
	}
	w := job.Words
	id, label := "plan", w.T("plan.aria-overhead", "scale", d.sc.text)
	if opt.side {
		id, label = "side", w.T("plan.aria-side", "scale", d.sc.text)
	}
	return drawn{&Group{ID: id, Label: label, Items: d.items}, d.sc, fit}
}

// unplaced names what cannot stand in a view: no place, or no height.
func unplaced(job Job, side bool) []string {
	var none, flat []string
	for _, l := range job.Setup.Lights {
		switch {
		case l.Place == nil:
			none = append(none, number(body{number: l.Number})+" "+l.Name)
		case side && l.Place.Height == nil:
			flat = append(flat, number(body{number: l.Number})+" "+l.Name)
		}
	}
	for _, g := range job.Setup.Grip {
		if g.Place == nil {
			none = append(none, number(body{number: g.Number})+" "+g.Name)
		} else if side && g.Place.Height == nil {
			flat = append(flat, number(body{number: g.Number})+" "+g.Name)
		}
	}
	var out []string
	if len(none) > 0 {
		out = append(out, job.Words.T("plan.no-place", "names", strings.Join(none, ", ")))
	}
	if len(flat) > 0 {
		out = append(out, job.Words.T("plan.no-height", "names", strings.Join(flat, ", ")))
	}
	return out
}

func listLines(job Job, notes []string, w Um) []string {
	if len(notes) == 0 {
		return nil
	}
	return wrap(job.Words.T("plan.list", "labels", strings.Join(notes, "; ")), style{cap: capUse}, w)
}

// drawOnce makes the view inside an area without its strip.
func drawOnce(job Job, area Rect, opt drawOptions) (*drawing, bool) {
	d := &drawing{job: job, side: opt.side, area: area, num: opt.num, fig: opt.fig}
	d.ink, d.hard = newGrid(area), newGrid(area)
	bodies := scene(job)
	if opt.side {
		bodies = slices.DeleteFunc(bodies, func(b body) bool { return !b.tall })
	}
	must := d.content(bodies)
	may, cameraAt := d.optional()
	cameraSeen := false
	try := func(sc drawScale) bool {
		d.sc = sc
		// First with the camera where it stands, then with it behind a break.
		for _, seen := range []bool{true, false} {
			pad := d.padding(seen)
			m := must
			if cameraAt != nil && seen {
				m = m.union(*cameraAt)
			} else if seen {
				continue
			}
			if o, _, ok := frameOf(area, sc, pad, m, may); ok {
				d.origin, cameraSeen = o, seen
				return true
			}
		}
		return false
	}
	fit := false
	if opt.scale > 0 {
		fit = try(scaleOf(opt.scale, job.Setup.Units))
	} else {
		d.sc, fit = pickScale(job.Setup.Units, try)
	}
	if !fit {
		d.origin, _, _ = frameOf(area, d.sc, d.padding(false), must, nil)
	}
	if len(bodies) == 0 && job.Setup.Camera.Distance == nil {
		st := style{cap: d.fig, kind: "note", used: true}
		for i, s := range wrap(job.Words.T("plan.empty"), st, area.W-4000) {
			d.textMid(area.mid().X, area.Y+area.H/3+Um(i)*pitch(st.cap), s, st)
		}
		return d, true
	}
	d.setting(must, cameraSeen)
	d.aims(bodies)
	d.subject()
	d.drawBodies(bodies)
	subject := d.at(vec{Z: job.Setup.Subject.Face})
	spots := d.spots(bodies)
	for _, s := range spots {
		if opt.side {
			s.after = d.figures(s.bodies[0].centre.Z)
		}
		d.balloon(s, subject)
	}
	if !opt.side {
		d.throws(bodies)
	}
	d.cameraLabel(cameraSeen)
	d.backdropLabel(must)
	if !opt.side {
		d.wallLabels()
	}
	return d, fit
}

// content is what must be seen: every light and grip item, what they are aimed
// at, the subject, the background.
func (d *drawing) content(bodies []body) extent {
	e := d.subjectExtent()
	for _, b := range bodies {
		for _, v := range b.face {
			e.include(d.view(v))
		}
		for _, v := range b.back {
			e.include(d.view(v))
		}
		if b.base != nil {
			e.include(d.view(*b.base))
		}
		if b.aim != nil {
			e.include(d.view(*b.aim))
		}
	}
	if b := d.job.Setup.Background; b != nil && b.Distance != nil {
		e.include(d.view(vec{Y: -*b.Distance}))
		if b.Width != nil && !d.side {
			e.include(-*b.Width/2, -*b.Distance)
			e.include(*b.Width/2, -*b.Distance)
		}
	}
	return e
}

// optional is what is shown in truth where it fits at no cost of scale: the
// camera apart, each wall, the ceiling.
func (d *drawing) optional() (may []extent, camera *extent) {
	s := d.job.Setup
	if s.Camera.Distance != nil && (!d.side || s.Camera.Height != nil) {
		x, y := 0.0, *s.Camera.Distance
		if d.side {
			x, y = *s.Camera.Distance, -*s.Camera.Height
		}
		camera = &extent{x, y, x, y}
	}
	if d.side {
		if s.Room != nil && s.Room.Ceiling != nil {
			may = append(may, extent{0, -*s.Room.Ceiling, 0, 0})
		}
		return may, camera
	}
	for _, w := range d.wallsOf() {
		if w.m == nil {
			continue
		}
		v := w.sign * *w.m
		if w.upright {
			may = append(may, extent{v, 0, v, 0})
		} else {
			may = append(may, extent{0, v, 0, v})
		}
	}
	return may, camera
}

// padding is kept clear about the content for balloons and labels: top, right,
// bottom, left.
func (d *drawing) padding(cameraSeen bool) [4]Um {
	p := 2*balloonRadius(d.num) + 1800
	pad := [4]Um{p, p, p, p}
	switch {
	case d.side:
		pad[2] = 1000
		if d.job.Setup.Camera.Height != nil {
			if cameraSeen {
				pad[1] = 5000
			} else {
				pad[1] = 12500
			}
		}
	case d.job.Setup.Camera.Given && cameraSeen:
		pad[2] = 5000
	case d.job.Setup.Camera.Given:
		pad[2] = max(p, 9500)
	}
	return pad
}

// strip draws, at the foot of the box, the list of labels that found no place,
// the scale bar, the scale in words and which way is left.
func (d *drawing) strip(box Rect, lines []string) {
	y := box.bottom() - stripHeight - pitch(capUse)*Um(len(lines))
	for _, s := range lines {
		y += pitch(capUse)
		d.text(box.X, y-600, s, style{cap: capUse, kind: "list", used: true})
	}
	w := d.job.Words
	st := style{cap: capCaption, kind: "caption"}
	base := box.bottom() - 500
	x := d.scaleBar(Point{box.X + 1000, base - capCaption - 1600})
	words := w.T("plan.overhead", "scale", d.sc.text)
	if d.side {
		words = w.T("plan.side", "scale", d.sc.text)
	}
	room := box.right() - x - 2500
	out := wrap(words, st, room)
	if len(out) > 2 {
		out = wrap(w.T("plan.scale-only", "scale", d.sc.text), st, room)
	}
	for i, s := range out {
		d.textRight(box.right()-200, base-Um(len(out)-1-i)*pitch(capCaption), s, st)
	}
}

// scaleBar draws one metre (or the round length near 20 mm on paper) from p and
// gives the x where it ends.
func (d *drawing) scaleBar(p Point) Um {
	feet := d.job.Setup.Units == "ft" || d.job.Setup.Units == "in"
	unit, sizes, word := 1.0, []float64{0.1, 0.2, 0.5, 1, 2, 5, 10}, "m"
	if feet {
		unit, sizes, word = 0.3048, []float64{0.5, 1, 2, 5, 10, 20}, "ft"
	}
	n := sizes[0]
	for _, s := range sizes {
		if d.sc.um(s*unit) <= 25000 {
			n = s
		}
	}
	end := Point{p.X + d.sc.um(n*unit), p.Y}
	half := Point{p.X + d.sc.um(n*unit/2), p.Y}
	d.polyline("scale-bar", lineOutline, nil, p, end)
	for _, q := range []Point{p, half, end} {
		d.polyline("scale-bar", lineThin, nil, Point{q.X, q.Y - 900}, Point{q.X, q.Y + 900})
	}
	st := style{cap: capCaption, kind: "caption"}
	y := p.Y + 1400 + capCaption
	d.textMid(p.X, y, "0", st)
	t := trimFloat(n) + " " + word
	d.textMid(end.X, y, t, st)
	return end.X + width(t, st)/2
}
