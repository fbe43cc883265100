package layout

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"sync"
)

// balloonRadius is the circle about a number of up to two digits.
func balloonRadius(cap Um) Um { return cap * 23 / 20 }

// spot is one or more bodies that coincide in a view and so share a leader.
type spot struct {
	bodies []body
	anchor Point  // where the leader ends
	reach  Um     // half the size of what stands there
	after  string // a figure set behind the balloons, or ""
}

// spots gathers bodies whose anchors lie within 1.5 mm of each other.
func (d *drawing) spots(bodies []body) []spot {
	var out []spot
next:
	for _, b := range bodies {
		pts := d.all(append(append([]vec{}, b.face...), b.back...))
		box, _ := bounds(pts)
		c := box.mid()
		for i := range out {
			if abs(out[i].anchor.X-c.X) <= 1500 && abs(out[i].anchor.Y-c.Y) <= 1500 {
				out[i].bodies = append(out[i].bodies, b)
				out[i].reach = max(out[i].reach, max(box.W, box.H)/2)
				continue next
			}
		}
		out = append(out, spot{bodies: []body{b}, anchor: c, reach: max(box.W, box.H) / 2})
	}
	for _, s := range out {
		slices.SortFunc(s.bodies, func(a, b body) int {
			return cmp.Or(cmp.Compare(b.centre.Z, a.centre.Z), cmp.Compare(a.centre.X, b.centre.X), cmp.Compare(a.name, b.name))
		})
	}
	return out
}

// turnout is one direction and distance to try for a balloon, relative to the
// way out from the subject.
type turnout struct {
	sin, cos float64
	dist     Um
	cost     float64
}

var turnouts = sync.OnceValue(func() []turnout {
	var out []turnout
	for _, dist := range []Um{1200, 2200, 3400, 5000, 7000, 9500, 13000, 18000, 24000, 32000} {
		for deg := -180; deg < 180; deg += 12 {
			sin, cos := math.Sincos(float64(deg) * math.Pi / 180)
			out = append(out, turnout{sin, cos, dist, float64(dist) + 4000*(1-cos)})
		}
	}
	slices.SortStableFunc(out, func(a, b turnout) int { return cmp.Compare(a.cost, b.cost) })
	return out
})

// balloon sets the numbers of a spot near it, clear of everything, with a
// leader that crosses no other; from is the point the light looks at, away from
// which it is tried first.
func (d *drawing) balloon(s spot, from Point) {
	r := balloonRadius(d.num)
	st := style{cap: d.num, bold: true, kind: "number", used: true}
	n := Um(len(s.bodies))
	balloons := n*2*r + (n-1)*300
	w, fig := balloons, style{}
	if s.after != "" {
		fig = d.figureStyle()
		w += 700 + width(s.after, fig)
	}
	ux, uy := awayFrom(from, s.anchor)
	for _, t := range turnouts() {
		dx, dy := ux*t.cos-uy*t.sin, ux*t.sin+uy*t.cos
		c := Point{s.anchor.X + Um(math.Round(dx*float64(s.reach+t.dist+r))), s.anchor.Y + Um(math.Round(dy*float64(s.reach+t.dist+r)))}
		row := Rect{c.X - r, c.Y - r, w, 2 * r}
		if dx < 0 { // grow away from the light
			row.X = c.X + r - w
		}
		if !d.fits(row.grow(clearance)) {
			continue
		}
		first := row.X // the left edge of the first balloon; the figure stands beyond them
		if dx < 0 {
			first = row.right() - balloons
		}
		a, ok := leaderStart(c, s.anchor, r)
		if !ok || !d.hard.line(a, s.anchor, lineThin/2+200, cellsFree) {
			continue
		}
		d.of = s.bodies[0].of
		d.polyline("leader", lineThin, nil, a, s.anchor)
		d.circle("leader-end", s.anchor, 350, 0, grey(Black))
		for i, b := range s.bodies {
			d.of = b.of
			c := Point{first + r + Um(i)*(2*r+300), row.Y + r}
			d.circle("balloon", c, r, lineOutline, grey(White))
			d.textMid(c.X, c.Y+d.num/2, strconv.Itoa(b.number), st)
		}
		if s.after != "" {
			x := row.X
			if dx >= 0 {
				x = first + balloons + 700
			}
			d.text(x, row.Y+r+d.fig/2, s.after, fig)
		}
		d.of = ""
		d.take(row.grow(clearance))
		d.ink.line(a, s.anchor, lineThin, markCells)
		d.hard.line(a, s.anchor, lineThin+200, markCells)
		return
	}
	for _, b := range s.bodies {
		d.lost = append(d.lost, strconv.Itoa(b.number)+" "+b.name)
	}
}

// awayFrom is the direction from a to b on the page, up when they coincide.
func awayFrom(a, b Point) (ux, uy float64) {
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	if l := math.Hypot(dx, dy); l > 500 {
		return dx / l, dy / l
	}
	return 0, -1
}

// leaderStart is where the line from c to the anchor leaves the circle.
func leaderStart(c, anchor Point, r Um) (Point, bool) {
	dx, dy := float64(anchor.X-c.X), float64(anchor.Y-c.Y)
	l := math.Hypot(dx, dy)
	if l <= float64(r)+300 {
		return c, false
	}
	k := float64(r) / l
	return Point{c.X + Um(math.Round(k*dx)), c.Y + Um(math.Round(k*dy))}, true
}
