package layout

import (
	"math"
	"slices"
	"strings"

	"stopleaf/setup"
)

// drawOptions says how a view is drawn into its box.
type drawOptions struct {
	side   bool
	scale  int  // denominator; 0 picks the largest that fits
	num    Um   // cap height in balloons
	fig    Um   // cap height of figures
	tabled bool // a table on the same document gives every distance: those lost here are not listed
	only   int  // the number of the one item that is filled in and labelled; the others are thin; 0 is all
}

// drawn is a finished view.
type drawn struct {
	group *Group
	scale drawScale
	fits  bool // all lights are inside at that scale
}

// stripHeight is kept clear below a drawing for the scale bar and its words.
const stripHeight = Um(6500)

// draw makes one view of the set inside a box, with its scale bar below. The
// largest scale at which the set fits is taken, unless one of the next two
// shows the background in its place or loses fewer labels. Labels that find no
// place are listed under the drawing.
func draw(job Job, box Rect, opt drawOptions) drawn {
	named := !opt.tabled // a table beside it tells what the numbers are
	notes := opt.unplaced(job, named)
	if named && pitch(capUse)*Um(len(listLines(job, notes, box.W))) > box.H/5 {
		named = false
		notes = opt.unplaced(job, named)
	}
	listed := func(lost []lostLabel) []string {
		return listLines(job, append(slices.Clone(notes), lostWords(lost)...), box.W)
	}
	reserve := len(listed(nil)) // lines kept for the list
	try := func(sc drawScale, giveUp bool) *drawing {
		d := newDrawing(job, Rect{box.X, box.Y, box.W, box.H - stripHeight - pitch(capUse)*Um(reserve)}, sc, opt)
		d.named = named
		d.giveUp = giveUp
		d.draw()
		return d
	}
	candidates := scales(job.Setup.Units)
	if opt.scale > 0 {
		candidates = []drawScale{scaleOf(opt.scale, job.Setup.Units)}
	}
	var best *drawing
	least, tries, at, first := 0.0, 0, 0, 0
	for i, sc := range candidates {
		d := try(sc, i < len(candidates)-1)
		if !d.ok && i < len(candidates)-1 {
			continue
		}
		if tries == 0 {
			first = sc.den
		}
		smaller := 3.5 * math.Log2(float64(sc.den)/float64(first)) // what a drawing half the size costs
		cost := smaller + 2.2*float64(min(len(d.lost), 2))
		if !d.whole {
			cost += 1.5
		}
		if best == nil || cost < least {
			best, least, at = d, cost, i
		}
		if tries++; tries == 3 || least <= smaller {
			break
		}
	}
	// The list takes room, in which less may fit and more may be lost.
	for pass := 0; pass < 12 && len(listed(best.lost)) > reserve; pass++ {
		reserve = len(listed(best.lost))
		if named && pitch(capUse)*Um(reserve) > box.H/5 {
			named = false
			notes = opt.unplaced(job, named)
			reserve = len(listed(nil))
		}
		best = try(candidates[at], false)
		for !best.ok && at < len(candidates)-1 {
			at++
			best = try(candidates[at], false)
		}
	}
	w := job.Words
	if nothingPlaced(job) {
		return drawn{&Group{ID: "plan", Label: w.T("plan.empty"), Items: best.items}, drawScale{}, true}
	}
	best.strip(box, listed(best.lost))
	id, label := "plan", w.T("plan.aria-overhead", "scale", best.sc.text)
	if opt.side {
		id, label = "side", w.T("plan.aria-side", "scale", best.sc.text)
	}
	return drawn{&Group{ID: id, Label: label, Items: best.items}, best.sc, best.ok}
}

// nothingPlaced says whether there is nothing to draw: no light, no grip item
// and no camera has a place.
func nothingPlaced(job Job) bool {
	for _, l := range job.Setup.Lights {
		if l.Place != nil {
			return false
		}
	}
	for _, g := range job.Setup.Grip {
		if g.Place != nil {
			return false
		}
	}
	return job.Setup.Camera.Distance == nil
}

// unplaced says what cannot stand in the view, but for a view of one item.
func (o drawOptions) unplaced(job Job, named bool) []string {
	if o.only > 0 {
		return nil
	}
	return unplaced(job, o.side, named)
}

// unplaced says what cannot stand in a view: no place, or no height; by number,
// with the names if asked for.
func unplaced(job Job, side, named bool) []string {
	if nothingPlaced(job) {
		return nil
	}
	var none, flat []lostLabel
	put := func(n int, name string, p *setup.Place) {
		l := lostLabel{number: n}
		if named {
			l.text = name
		}
		switch {
		case p == nil:
			none = append(none, l)
		case side && p.Height == nil:
			flat = append(flat, l)
		}
	}
	for _, l := range job.Setup.Lights {
		put(l.Number, l.Name, l.Place)
	}
	for _, g := range job.Setup.Grip {
		put(g.Number, g.Name, g.Place)
	}
	var out []string
	if len(none) > 0 {
		out = append(out, job.Words.T("plan.no-place", "names", strings.Join(lostWords(none), ", ")))
	}
	if len(flat) > 0 {
		out = append(out, job.Words.T("plan.no-height", "names", strings.Join(lostWords(flat), ", ")))
	}
	return out
}

func listLines(job Job, notes []string, w Um) []string {
	if len(notes) == 0 {
		return nil
	}
	return wrap(job.Words.T("plan.list", "labels", strings.Join(notes, "; ")), style{cap: capUse}, w)
}

// newDrawing is a view at a scale inside an area without its strip.
func newDrawing(job Job, area Rect, sc drawScale, opt drawOptions) *drawing {
	area.H = max(area.H, 0)
	return &drawing{job: job, side: opt.side, area: area, num: opt.num, fig: opt.fig, tabled: opt.tabled, only: opt.only, sc: sc}
}

// draw makes the view.
func (d *drawing) draw() {
	job := d.job
	bodies := scene(job)
	if d.side {
		bodies = tallOnes(bodies)
	}
	must := d.content(bodies)
	d.frame(must)
	if !d.ok && d.giveUp {
		return
	}
	if nothingPlaced(job) {
		st := style{cap: d.fig, kind: "note", used: true}
		for i, s := range wrap(job.Words.T("plan.empty"), st, d.area.W-4000) {
			d.textMid(d.area.mid().X, d.area.Y+d.area.H/3+Um(i)*pitch(st.cap), s, st)
		}
		d.ok, d.whole = true, true
		return
	}
	d.ink, d.hard = newGrid(d.area), newGrid(d.area)
	defer d.ink.free()
	defer d.hard.free()
	d.setting(must)
	d.aims(d.told(bodies))
	d.drawBodies(bodies)
	d.camera()
	d.mark()
	subject := d.at(vec{Z: job.Setup.Subject.Face})
	spots := d.spots(d.told(bodies))
	for i := range spots {
		if d.side {
			spots[i].after = d.figures(spots[i].bodies[0].centre.Z)
		}
	}
	d.balloons(spots, subject)
	if !d.side {
		d.throws(d.told(bodies))
	}
	d.cameraLabel()
	d.backdropLabel(must)
	if d.side {
		d.ceilingLabel()
	} else {
		d.wallLabels()
	}
}

// told are the bodies that get a number, an aim line and a distance.
func (d *drawing) told(bodies []body) []body {
	if d.only == 0 {
		return bodies
	}
	var out []body
	for _, b := range bodies {
		if b.number == d.only {
			out = append(out, b)
		}
	}
	return out
}

// tallOnes are the bodies whose height is known.
func tallOnes(bodies []body) []body {
	return slices.DeleteFunc(bodies, func(b body) bool { return !b.tall })
}

// content is what must be seen: every light and grip item, what they are aimed
// at, the subject, the background.
func (d *drawing) content(bodies []body) extent {
	e := d.subjectExtent()
	if h := d.job.Setup.Camera.Height; d.side && h != nil {
		e.include(0, -*h-0.1)
	}
	for _, b := range bodies {
		for _, v := range b.face {
			e.include(d.view(v))
		}
		for _, v := range b.back {
			e.include(d.view(v))
		}
		if b.base != nil {
			for _, r := range []float64{-1, 1} {
				r *= max(b.feet, 0.1)
				x, y := d.view(add(*b.base, vec{X: r, Y: r}))
				if d.side {
					y = -b.centre.Z
				}
				e.include(x, y)
			}
		}
	}
	return e
}

// frame sets the origin: what must be seen, with the background and the camera
// in their places where that fits, else behind a break.
func (d *drawing) frame(must extent) {
	may, camera := d.optional()
	back := d.backgroundExtent()
	for _, c := range []struct{ back, camera bool }{{true, true}, {true, false}, {false, true}, {false, false}} {
		if camera == nil && c.camera || back == nil && !c.back {
			continue
		}
		m := must
		if c.back && back != nil {
			m = m.union(*back)
		}
		if c.camera {
			m = m.union(*camera)
		}
		d.origin, d.ok = frameOf(d.area, d.sc, d.padding(c.camera), m, may)
		d.cameraSeen, d.whole = c.camera, c.back
		if d.ok {
			return
		}
	}
	d.whole = false
}

// backgroundExtent is what the background takes up, or nil.
func (d *drawing) backgroundExtent() *extent {
	b := d.job.Setup.Background
	if b == nil || b.Distance == nil {
		return nil
	}
	x, y := d.view(vec{Y: -*b.Distance})
	e := extent{x, y, x, y}
	if b.Width != nil && !d.side {
		e.include(-*b.Width/2, y)
		e.include(*b.Width/2, y)
	}
	return &e
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

// padding is kept clear about the content, top, right, bottom, left: a little
// for labels, more where the camera stands at the edge.
func (d *drawing) padding(cameraSeen bool) [4]Um {
	const p = Um(1800)
	pad := [4]Um{p, p, p, p}
	cam := d.job.Setup.Camera
	switch {
	case d.side:
		pad[2] = 2600
		if cam.Height != nil && cameraSeen {
			pad[1] = 5000
		} else if cam.Height != nil {
			pad[1] = 12500
		}
	case cam.Given && cameraSeen:
		pad[2] = 4000
	case cam.Given:
		pad[2] = 8000
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
	key := "plan.overhead"
	if d.side {
		key = "plan.side"
	}
	words := w.T("plan.scale-only", "scale", d.sc.text)
	ways := []string{key, key + "-short"}
	if d.tabled { // the title block has the scale
		ways = append(ways, key+"-way")
	}
	for _, k := range ways {
		if s := w.T(k, "scale", d.sc.text); width(s, st) <= box.right()-x-2500 {
			words = s
			break
		}
	}
	d.textRight(box.right()-200, base, words, st)
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
	// Beside it the scale is written.
	longest := min(25000, d.area.W-width(d.job.Words.T("plan.scale-only", "scale", d.sc.text), style{cap: capCaption})-9000)
	for _, s := range sizes {
		if d.sc.um(s*unit) <= longest {
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
	t := trimFloat(n) + " " + word
	if end.X-p.X > (width("0", st)+width(t, st))/2+400 {
		d.textMid(p.X, y, "0", st)
	}
	d.textMid(end.X, y, t, st)
	return end.X + width(t, st)/2
}
