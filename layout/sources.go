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
			if math.Hypot(a.centre.X-b.centre.X, a.centre.Y-b.centre.Y) < 0.15 && a.centre.Z != b.centre.Z {
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
		slices.SortStableFunc(order, func(a, b body) int { return cmp.Compare(a.centre.X, b.centre.X) })
	}
	seen := !d.side
	for _, b := range order {
		if !seen && b.centre.X >= 0 {
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
	if b.open && !d.side { // seen from above each leaf is a line: its upper edge
		d.line("outline", lineFrame, nil, face[1], face[2])
		d.line("outline", lineFrame, nil, face[2], face[3])
		return
	}
	fill := grey(White)
	if len(b.back) > 0 {
		shell := hull(append(append([]Point(nil), face...), d.all(b.back)...))
		d.shape("outline", lineOutline, dash, fill, shell...)
	} else if d.side {
		fill = nil
	}
	d.shape("face", lineFace, dash, fill, hull(face)...)
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

// throws sets each light's distance along its aim line.
func (d *drawing) throws(bodies []body) {
	st := d.figureStyle()
	for _, b := range bodies {
		if b.throw == nil || b.aim == nil {
			continue
		}
		s := d.figures(*b.throw)
		d.of = b.of
		if !d.label(s, st, beside(d.at(b.centre), d.at(*b.aim), width(s, st), st.cap)...) {
			d.miss(number(b) + " " + s)
		}
	}
	d.of = ""
}

func number(b body) string { return strconv.Itoa(b.number) }
