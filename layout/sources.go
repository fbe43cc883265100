package layout

import (
	"cmp"
	"math"
	"slices"
	"strconv"
)

// stacked says which bodies are drawn dashed on the plan: the lower of two
// that stand at the same place.
func (d *drawing) stacked(bodies []body) map[string]bool {
	under := map[string]bool{}
	if d.side {
		return under
	}
	for i, a := range bodies {
		for _, b := range bodies[i+1:] {
			if math.Hypot(a.centre.X-b.centre.X, a.centre.Y-b.centre.Y) < samePlace && a.centre.Z != b.centre.Z {
				if a.centre.Z < b.centre.Z {
					under[a.of] = true
				} else {
					under[b.of] = true
				}
			}
		}
	}
	return under
}

// aims draws each light's aim line, from the face that shines to an arrow short
// of the point aimed at.
func (d *drawing) aims(bodies []body) {
	for _, b := range bodies {
		if b.aim == nil || d.side && !b.tall {
			continue
		}
		a, tip := d.at(b.centre), d.at(*b.aim)
		tip = short(a, tip, 900)
		d.of = b.of
		if d.line("aim", lineThin, dashAim(lineThin), a, tip) {
			d.arrow(a, tip)
		}
	}
	d.of = ""
}

// short moves the end of a line back by some micrometres.
func short(a, b Point, by float64) Point {
	l := math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y))
	if l <= 2*by {
		return b
	}
	k := (l - by) / l
	return Point{a.X + Um(math.Round(k*float64(b.X-a.X))), a.Y + Um(math.Round(k*float64(b.Y-a.Y)))}
}

// drawBodies draws the subject and every light and grip item at its true size.
// From above the subject is lowest and what hangs highest is drawn last; from
// the side what stands nearest the eye is drawn last, and a flat thing is left
// open, so that it hides nothing.
func (d *drawing) drawBodies(bodies []body) {
	under := d.stacked(bodies)
	order := append([]body(nil), bodies...)
	if !d.side {
		slices.SortStableFunc(order, func(a, b body) int { return cmp.Compare(a.centre.Z, b.centre.Z) })
		d.subject()
	} else {
		slices.SortStableFunc(order, func(a, b body) int { return cmp.Compare(b.centre.X, a.centre.X) })
	}
	if d.only > 0 { // the one that is filled in lies over the others
		slices.SortStableFunc(order, func(a, b body) int { return btoi(d.chosen(a)) - btoi(d.chosen(b)) })
	}
	seen := !d.side
	for _, b := range order {
		if !seen && b.centre.X <= 0 {
			d.subject()
			seen = true
		}
		d.of = b.of
		d.support(b)
		var dash []Um
		if under[b.of] {
			dash = dashHidden(lineOutline)
		}
		d.drawBody(b, dash)
	}
	if !seen {
		d.subject()
	}
	d.of = ""
}

func (d *drawing) drawBody(b body, dash []Um) {
	face := d.all(b.face)
	leaf, edge, front := lineFrame, lineOutline, lineFace
	if d.only > 0 && !d.chosen(b) {
		leaf, edge, front = lineThin, lineThin, lineThin
	}
	if b.open && !d.side { // seen from above each leaf is a line: its upper edge
		d.line("outline", leaf, nil, face[1], face[2])
		d.line("outline", leaf, nil, face[2], face[3])
		return
	}
	fill := grey(White)
	if !d.side && insideHull(d.at(vec{}), hull(append(append([]Point(nil), face...), d.all(b.back)...))) {
		fill = nil // it hangs over the subject, which is seen through it
	}
	if len(b.back) > 0 {
		shell := hull(append(append([]Point(nil), face...), d.all(b.back)...))
		if d.chosen(b) && fill != nil {
			d.filled(shell)
			return
		}
		d.shape("outline", edge, dash, fill, shell...)
	} else if d.side || b.clear {
		fill = nil
	}
	if d.chosen(b) {
		if fill != nil {
			d.filled(hull(face))
			return
		}
		front = lineFrame // filled in it would hide the subject
	}
	d.shape("face", front, dash, fill, hull(face)...)
}

// chosen says whether a body is the one item that the view is about.
func (d *drawing) chosen(b body) bool { return d.only > 0 && b.number == d.only }

// filled draws the one item that a view is about, black; no label comes near.
func (d *drawing) filled(shape []Point) {
	d.shape("face", lineFace, nil, grey(Black), shape...)
	if box, ok := bounds(shape); ok {
		d.ink.rect(box.grow(lineFace), markCells)
	}
}

// insideHull says whether a point lies inside a convex polygon.
func insideHull(p Point, poly []Point) bool {
	if len(poly) < 3 {
		return false
	}
	sign := int64(0)
	for i, a := range poly {
		b := poly[(i+1)%len(poly)]
		c := int64(b.X-a.X)*int64(p.Y-a.Y) - int64(b.Y-a.Y)*int64(p.X-a.X)
		if c != 0 && sign != 0 && (c > 0) != (sign > 0) {
			return false
		}
		if c != 0 {
			sign = c
		}
	}
	return true
}

// support draws what holds a body: from the side its column, from above the
// boom's arm and the circle of the column's feet.
func (d *drawing) support(b body) {
	foot := b.centre
	if b.base != nil {
		foot = *b.base
		top := vec{X: foot.X, Y: foot.Y, Z: b.centre.Z}
		d.line("boom", lineOutline, nil, d.at(b.centre), d.at(top))
		if !d.side {
			r := max(d.sc.um(b.feet), 900)
			d.circle("feet", d.at(foot), r, lineThin, nil)
			box := Rect{d.at(foot).X - r, d.at(foot).Y - r, 2 * r, 2 * r}
			d.ink.rect(box, markCells)
		}
	}
	if d.side && (b.stands || b.base != nil) {
		d.line("stand", lineGrid, nil, d.at(vec{X: foot.X, Y: foot.Y, Z: b.centre.Z}), d.at(vec{X: foot.X, Y: foot.Y}))
	}
}

// throws sets each light's distance along its aim line: nearer to it than to
// any other, on the same side of every wall.
func (d *drawing) throws(bodies []body) {
	st := d.figureStyle()
	for i, b := range bodies {
		if b.throw == nil || b.aim == nil {
			continue
		}
		s := d.figures(*b.throw)
		if d.sharesPlace(b, bodies) { // whose it is could not be told
			d.miss(b.number, s)
			continue
		}
		d.of = b.of
		if !d.labelWhere(s, st, beside(d.at(b.centre), d.at(*b.aim), width(s, st), st.cap), func(c Point) bool { return d.speaksOf(c, i, bodies) }) {
			d.miss(b.number, s)
		}
	}
	d.of = ""
}

// speaksOf says whether a figure at c is read as that of one body's throw: no other's
// line is nearer, and no wall is between.
func (d *drawing) speaksOf(c Point, i int, bodies []body) bool {
	own, foot := distanceTo(c, d.at(bodies[i].centre), d.at(*bodies[i].aim))
	for j, o := range bodies {
		if j == i || o.aim == nil {
			continue
		}
		if other, _ := distanceTo(c, d.at(o.centre), d.at(*o.aim)); other < own {
			return false
		}
	}
	return !slices.ContainsFunc(d.walled, func(w segment) bool { return crosses(c, foot, w.a, w.b) })
}

// sharesPlace says whether another body stands over or under this one.
func (d *drawing) sharesPlace(b body, bodies []body) bool {
	for _, o := range bodies {
		if o.of != b.of && math.Hypot(b.centre.X-o.centre.X, b.centre.Y-o.centre.Y) < samePlace {
			return true
		}
	}
	return false
}

// samePlace is how near two centres are on the floor, m, when one light stands
// over the other.
const samePlace = 0.15

// distanceTo is how far a point is from a line, and the nearest point of it.
func distanceTo(p, a, b Point) (float64, Point) {
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	t := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		t = max(0, min(1, (float64(p.X-a.X)*dx+float64(p.Y-a.Y)*dy)/l))
	}
	foot := Point{a.X + Um(math.Round(t*dx)), a.Y + Um(math.Round(t*dy))}
	return math.Hypot(float64(p.X-foot.X), float64(p.Y-foot.Y)), foot
}

func number(b body) string { return strconv.Itoa(b.number) }

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}
