package layout

import (
	"cmp"
	"math"
	"slices"
	"sync"
)

// radius is that of the circle about a number, the same for all on a drawing:
// wider where some numbers have two digits.
func (d *drawing) radius() Um {
	if len(d.job.Setup.Lights)+len(d.job.Setup.Grip) > 9 {
		return d.num * 23 / 20
	}
	return d.num * 19 / 20
}

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
		d.boxes = append(d.boxes, box)
		c := box.mid()
		if b.open && !d.side { // the hinge of its leaves
			c = d.at(b.face[2])
		}
		for i := range out {
			if d.side && d.figures(b.centre.Z) != d.figures(out[i].bodies[0].centre.Z) {
				continue // each has its own height written
			}
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
		for deg := -180; deg < 180; deg += 10 {
			sin, cos := math.Sincos(float64(deg) * math.Pi / 180)
			out = append(out, turnout{sin, cos, dist, float64(dist) + 4000*(1-cos)})
		}
	}
	slices.SortStableFunc(out, func(a, b turnout) int { return cmp.Compare(a.cost, b.cost) })
	return out
})

// balloons numbers every spot. Places are found one spot after another, those
// with the fewest free places first; where one is left over or pushed far out
// it is tried again ahead of the others, and the best of a few rounds is drawn.
func (d *drawing) balloons(spots []spot, from Point) {
	order := make([]int, len(spots))
	open := make([]choice, len(spots)) // what is free before any balloon stands
	for i, s := range spots {
		order[i] = i
		open[i] = d.openRows(s, from)
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(len(open[a].turns), len(open[b].turns)) })
	// The places are free of what stands already; the grids of a round have what it adds.
	ink, hard := d.ink, d.hard
	d.ink, d.hard = newGrid(ink.area), newGrid(hard.area)
	var best []placing
	least := math.Inf(1)
	for round := 0; round < 6; round++ {
		if round > 0 {
			d.ink.clear()
			d.hard.clear()
		}
		found := make([]placing, len(spots))
		total := 0.0
		var first, rest []int
		for _, i := range order {
			found[i] = d.findBalloon(spots[i], open[i], hard)
			total += found[i].cost
			if found[i].cost > 12000 {
				first = append(first, i)
			} else {
				rest = append(rest, i)
			}
		}
		if total < least {
			best, least = found, total
		}
		if len(first) == 0 {
			break
		}
		next := append(first, rest...)
		if slices.Equal(next, order) { // and so would the places be
			break
		}
		order = next
	}
	d.ink.free()
	d.hard.free()
	d.ink, d.hard = ink, hard
	for i, s := range spots {
		if !best[i].ok {
			for _, b := range s.bodies {
				lost := lostLabel{number: b.number}
				if d.named {
					lost.text = b.name
				}
				d.lost = append(d.lost, lost)
			}
			continue
		}
		d.drawBalloon(s, best[i])
	}
}

// placing is where a row of balloons may stand.
type placing struct {
	row
	start Point // of the leader
	ok    bool
}

// row is a row of balloons, with the figure behind them, at one place.
type row struct {
	box   Rect
	c     Point // the balloon that the leader starts from
	first Um    // left edge of the first balloon
	fig   Um    // left end of the figure
	cost  float64
}

const balloonGap = Um(500)

// choice is the places where a spot's balloons touch nothing.
type choice struct {
	turns    []uint16 // of turnouts, cheapest first
	ways     []way    // of the leader from each
	anchor   Point
	reach    Um
	r        Um      // of a balloon
	balloons Um      // how wide they are together
	w        Um      // with the figure
	ux, uy   float64 // the way out
}

// way says whether a leader crosses what stands before any balloon does.
type way uint8

const (
	notTried way = iota
	openWay
	noWay
)

// row is the row of balloons at one turnout.
func (c *choice) row(t turnout) row {
	dx, dy := c.ux*t.cos-c.uy*t.sin, c.ux*t.sin+c.uy*t.cos
	far := float64(c.reach + t.dist + c.r)
	m := Point{c.anchor.X + Um(math.Round(dx*far)), c.anchor.Y + Um(math.Round(dy*far))}
	at := row{box: Rect{m.X - c.r, m.Y - c.r, c.w, 2 * c.r}, c: m, first: m.X - c.r, fig: m.X - c.r + c.balloons + 700, cost: t.cost}
	if dx < 0 { // grow away from the light, the figure beyond the balloons
		at.box.X = m.X + c.r - c.w
		at.first, at.fig = m.X+c.r-c.balloons, at.box.X
	}
	return at
}

// openRows are the places where a spot's balloons touch nothing; from is the
// point the light looks at, away from which is cheap.
func (d *drawing) openRows(s spot, from Point) choice {
	c := choice{anchor: s.anchor, reach: s.reach, r: d.radius()}
	n := Um(len(s.bodies))
	c.balloons = n*2*c.r + (n-1)*balloonGap
	c.w = c.balloons
	if s.after != "" {
		c.w += 700 + width(s.after, d.figureStyle())
	}
	c.ux, c.uy = awayFrom(from, s.anchor)
	for i, t := range turnouts() {
		if d.fits(c.row(t).box.grow(clearance)) {
			c.turns = append(c.turns, uint16(i))
		}
	}
	c.ways = make([]way, len(c.turns))
	return c
}

// findBalloon finds the nearest place for a spot's numbers that is clear of
// everything, with a leader that crosses no other, and takes it. hard is what no
// leader crosses besides what the round has placed.
func (d *drawing) findBalloon(s spot, open choice, hard *inkGrid) placing {
	best := placing{row: row{cost: 1e6}}
	for k, i := range open.turns {
		t := turnouts()[i]
		if t.cost >= best.cost {
			break
		}
		if open.ways[k] == noWay {
			continue
		}
		at := open.row(t)
		if !d.fits(at.box.grow(clearance)) {
			continue
		}
		a, ok := leaderStart(at.c, s.anchor, open.r)
		if open.ways[k] == notTried {
			open.ways[k] = openWay
			if !ok || !hard.line(a, s.anchor, leaderRoom, cellsFree) {
				open.ways[k] = noWay
				continue
			}
		}
		if !d.hard.line(a, s.anchor, leaderRoom, cellsFree) {
			continue
		}
		for _, o := range d.boxes { // a leader over another light misleads
			if !o.has(s.anchor) && (segment{a, s.anchor, 0}).hits(o) {
				at.cost += 7000
			}
		}
		for _, b := range s.bodies { // one that runs on into a boom or an aim line reads as that line
			if b.base != nil && d.runsOn(a, s.anchor, d.at(*b.base)) || b.aim != nil && d.runsOn(a, s.anchor, d.at(*b.aim)) {
				at.cost += 5000
			}
		}
		if at.cost < best.cost {
			best = placing{at, a, true}
		}
	}
	if best.ok {
		d.takeBalloon(s, best)
	}
	return best
}

// leaderRoom is how far from its middle a leader crosses nothing.
const leaderRoom = lineThin/2 + 200

// runsOn says whether a leader from a to the anchor lies within 15 degrees of a
// line from there, before or behind it.
func (d *drawing) runsOn(a, anchor, end Point) bool {
	ux, uy := float64(a.X-anchor.X), float64(a.Y-anchor.Y)
	vx, vy := float64(end.X-anchor.X), float64(end.Y-anchor.Y)
	return math.Abs(ux*vx+uy*vy) > 0.966*math.Hypot(ux, uy)*math.Hypot(vx, vy)
}

func (d *drawing) takeBalloon(s spot, p placing) {
	d.take(p.box.grow(clearance))
	d.ink.line(p.start, s.anchor, lineThin, markCells)
	d.hard.line(p.start, s.anchor, lineThin+200, markCells)
}

// drawBalloon draws a spot's leader, balloons and figure where they were found
// a place.
func (d *drawing) drawBalloon(s spot, p placing) {
	r := d.radius()
	st := style{cap: d.num, bold: true, kind: "number", used: true}
	d.of = s.bodies[0].of
	d.polyline("leader", lineThin, nil, p.start, s.anchor)
	d.circle("leader-end", s.anchor, 350, 0, grey(Black))
	for i, b := range s.bodies {
		d.of = b.of
		c := Point{p.first + r + Um(i)*(2*r+balloonGap), p.c.Y}
		d.circle("balloon", c, r, lineOutline, grey(White))
		d.textMid(c.X, c.Y+d.num/2, number(b), st)
	}
	d.text(p.fig, p.c.Y+d.fig/2, s.after, d.figureStyle())
	d.of = ""
	d.takeBalloon(s, p)
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
