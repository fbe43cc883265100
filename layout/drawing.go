package layout

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"stopleaf/setup"
)

// drawing is one view of the set being drawn: overhead (page x is right, page
// y is toward the camera) or from the side (seen from camera left: page x is
// toward the camera, page y is down).
type drawing struct {
	pen
	job    Job
	side   bool
	sc     drawScale
	area   Rect  // where ink may be
	origin Point // the subject mark on the page
	ink    *inkGrid
	hard   *inkGrid    // texts, balloons and leaders: what a leader may not cross
	num    Um          // cap height in balloons
	fig    Um          // cap height of figures
	boxes  []Rect      // around each light and grip item
	lost   []lostLabel // labels that found no place, for the list under the drawing
	walled []segment   // walls and the background as drawn, which a figure may not stand across
	ends   [][2]Point  // of each wall as drawn, in the order of wallsOf

	named      bool // balloons that find no place are listed with their names
	only       int  // the number of the one item that is filled in and labelled; 0 is all
	tabled     bool // figures that find no place are not listed
	ok         bool // all that must be seen is inside at this scale
	giveUp     bool // a smaller scale can still be tried: nothing is drawn where this one does not fit
	whole      bool // the background stands inside too
	cameraSeen bool // so does the camera; else both are behind a break
}

// extent is a box in the view's own axes, in metres: x to the right of the
// page, y down it.
type extent struct{ x0, y0, x1, y1 float64 }

func (e *extent) include(x, y float64) {
	e.x0, e.x1 = min(e.x0, x), max(e.x1, x)
	e.y0, e.y1 = min(e.y0, y), max(e.y1, y)
}

func (e extent) union(o extent) extent {
	return extent{min(e.x0, o.x0), min(e.y0, o.y0), max(e.x1, o.x1), max(e.y1, o.y1)}
}

// view gives a point of the set in the view's axes.
func (d *drawing) view(v vec) (x, y float64) {
	if d.side {
		return v.Y, -v.Z
	}
	return v.X, v.Y
}

// at is where a point of the set stands on the page.
func (d *drawing) at(v vec) Point {
	x, y := d.view(v)
	return Point{d.origin.X + d.sc.um(x), d.origin.Y + d.sc.um(y)}
}

func (d *drawing) all(vs []vec) []Point {
	out := make([]Point, len(vs))
	for i, v := range vs {
		out[i] = d.at(v)
	}
	return out
}

// line draws an open line, cut to the area, and remembers its ink. It reports
// whether any of it was drawn.
func (d *drawing) line(kind string, w Um, dash []Um, pts ...Point) bool {
	drawn := false
	inside := d.area.grow(-w / 2)
	for i := 1; i < len(pts); i++ {
		a, b, ok := clip(pts[i-1], pts[i], inside)
		if !ok || a == b {
			continue
		}
		d.polyline(kind, w, dash, a, b)
		d.ink.line(a, b, w/2, markCells)
		drawn = true
	}
	return drawn
}

// shape draws a closed shape and remembers it, inside and all.
func (d *drawing) shape(kind string, w Um, dash []Um, fill *Grey, pts ...Point) {
	p := d.polygon(kind, w, fill, pts...)
	p.Stroke.Dash = dash
	if len(pts) > 2 {
		d.ink.convex(hull(pts), w/2, markCells)
	} else if len(pts) == 2 {
		d.ink.line(pts[0], pts[1], w/2, markCells)
	}
}

// fits says whether a box is inside the area and clear of all ink.
func (d *drawing) fits(r Rect) bool { return d.area.contains(r) && d.ink.rect(r, cellsFree) }

func (d *drawing) take(r Rect) {
	d.ink.rect(r, markCells)
	d.hard.rect(r, markCells)
}

// clearance is the least distance between a label and other ink.
const clearance = Um(300)

// label sets a text centred on the first of the places where it touches
// nothing; false when there is none.
func (d *drawing) label(s string, st style, centres ...Point) bool {
	return d.labelWhere(s, st, centres, func(Point) bool { return true })
}

// labelWhere is label at a place that is good.
func (d *drawing) labelWhere(s string, st style, centres []Point, good func(Point) bool) bool {
	w := width(s, st)
	for _, c := range centres {
		t := Text{X: c.X - w/2, Y: c.Y + st.cap/2, S: s, Cap: st.cap, W: w}
		box := textBox(&t).grow(clearance)
		if d.fits(box) && good(c) {
			d.text(t.X, t.Y, s, st)
			d.take(box.grow(500)) // two figures must not read as one
			return true
		}
	}
	return false
}

// lostLabel is a number, with its name or not, or a figure that found no place.
type lostLabel struct {
	number int
	text   string
}

// miss notes a figure that found no place, unless a table gives it; number is
// the item it belongs to, or 0.
func (d *drawing) miss(number int, s string) {
	if d.tabled {
		return
	}
	if number > 0 {
		s = whole(float64(number)) + ": " + s
	}
	d.lost = append(d.lost, lostLabel{text: s})
}

// lostWords are the labels for the list: numbers first, in their order, runs of
// them as a range; then the rest.
func lostWords(lost []lostLabel) []string {
	var numbers []int
	var out, rest []string
	named := slices.Clone(lost)
	slices.SortStableFunc(named, func(a, b lostLabel) int { return cmp.Compare(a.number, b.number) })
	for _, l := range named {
		switch {
		case l.number > 0 && l.text == "":
			numbers = append(numbers, l.number)
		case l.number > 0:
			out = append(out, whole(float64(l.number))+" "+l.text)
		default:
			rest = append(rest, l.text)
		}
	}
	if len(numbers) > 0 {
		out = append(out, ranges(numbers))
	}
	return append(out, rest...)
}

// ranges prints sorted whole numbers, three or more in a run as "2–6".
func ranges(ns []int) string {
	var parts []string
	for i := 0; i < len(ns); {
		j := i
		for j+1 < len(ns) && ns[j+1] == ns[j]+1 {
			j++
		}
		if j-i >= 2 {
			parts = append(parts, whole(float64(ns[i]))+"–"+whole(float64(ns[j])))
			i = j + 1
			continue
		}
		parts = append(parts, whole(float64(ns[i])))
		i++
	}
	return strings.Join(parts, ", ")
}

// beside gives places for a label of width w along the line a-b, near its
// middle first, on either side of it.
func beside(a, b Point, w, cap Um) []Point {
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	l := math.Hypot(dx, dy)
	if l == 0 {
		return nil
	}
	nx, ny := -dy/l, dx/l
	// Half the box of the text, projected on the normal of the line.
	off := math.Abs(nx)*float64(w)/2 + math.Abs(ny)*float64(cap)*0.7 + 700
	var out []Point
	for _, extra := range []float64{0, 600, 1500} {
		for _, t := range []float64{0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82, 0.1, 0.9} {
			for _, s := range []float64{1, -1} {
				out = append(out, Point{
					a.X + Um(math.Round(t*dx+s*nx*(off+extra))),
					a.Y + Um(math.Round(t*dy+s*ny*(off+extra))),
				})
			}
		}
	}
	return out
}

// around gives places for a label of width w about a box: below, above, right,
// left, then the corners, ever further out.
func around(r Rect, w, cap Um) []Point {
	var out []Point
	c := r.mid()
	for _, gap := range []Um{900, 1800, 3000, 5000, 8000} {
		dx, dy := r.W/2+w/2+gap, r.H/2+cap*7/10+gap
		out = append(out, Point{c.X, c.Y + dy}, Point{c.X, c.Y - dy}, Point{c.X + dx, c.Y}, Point{c.X - dx, c.Y},
			Point{c.X + dx, c.Y + dy}, Point{c.X - dx, c.Y + dy}, Point{c.X + dx, c.Y - dy}, Point{c.X - dx, c.Y - dy})
	}
	return out
}

// breakMark is the zigzag that says a line is not drawn to its length: across
// the line at c, which runs along dir (0 level, 1 upright).
func (d *drawing) breakMark(c Point, upright bool) {
	const a, b = Um(1300), Um(700)
	pts := []Point{{c.X - a, c.Y}, {c.X - b, c.Y}, {c.X - b/3, c.Y - a}, {c.X + b/3, c.Y + a}, {c.X + b, c.Y}, {c.X + a, c.Y}}
	if upright {
		for i, p := range pts {
			pts[i] = Point{c.X + p.Y - c.Y, c.Y + p.X - c.X}
		}
	}
	d.line("break", lineThin, nil, pts...)
	box, _ := bounds(pts)
	d.ink.rect(box.grow(300), markCells)
}

// arrow draws an open arrow head at tip, pointing from a.
func (d *drawing) arrow(a, tip Point) {
	dx, dy := float64(tip.X-a.X), float64(tip.Y-a.Y)
	l := math.Hypot(dx, dy)
	if l < 2500 {
		return
	}
	ux, uy := dx/l, dy/l
	wing := func(s float64) Point {
		return Point{tip.X - Um(math.Round(1600*ux-s*500*uy)), tip.Y - Um(math.Round(1600*uy+s*500*ux))}
	}
	d.line("aim", lineThin, nil, wing(1), tip)
	d.line("aim", lineThin, nil, wing(-1), tip)
}

// figures prints a length of the set.
func (d *drawing) figures(m float64) string { return setup.FormatLength(m, d.job.Setup.Units) }

func (d *drawing) figureStyle() style { return style{cap: d.fig, kind: "figure", used: true} }

// frameOf finds the origin at a scale: what must be seen, then as much of what
// may be seen as also fits, in their order.
func frameOf(area Rect, sc drawScale, pad [4]Um, must extent, may []extent) (origin Point, ok bool) {
	inner := Rect{area.X + pad[3], area.Y + pad[0], area.W - pad[1] - pad[3], area.H - pad[0] - pad[2]}
	fits := func(e extent) bool { return sc.um(e.x1-e.x0) <= inner.W && sc.um(e.y1-e.y0) <= inner.H }
	ok = fits(must)
	e := must
	for _, m := range may {
		if u := e.union(m); ok && fits(u) {
			e = u
		}
	}
	origin = Point{
		inner.X + (inner.W-sc.um(e.x1-e.x0))/2 - sc.um(e.x0),
		inner.Y + (inner.H-sc.um(e.y1-e.y0))/2 - sc.um(e.y0),
	}
	return origin, ok
}
