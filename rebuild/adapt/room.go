package adapt

import (
	"fmt"
	"math"
	"strings"

	"stopleaf/exposure"
	"stopleaf/setup"
)

// The limits of bringing a light inside. Along its own line it may come to four
// fifths of its throw, where it looks a quarter larger; then it is turned, by as
// little as will do; and only where no turn will do it may come to half its throw.
const (
	slack    = 0.05 // m that something may reach into a wall before it is moved, as proof takes it
	close    = 0.8  // of its throw
	closest  = 0.5  // of its throw, where nothing else will do
	mostTurn = 45   // degrees about its aim point
	ways     = 24   // directions that are tried for a turn
)

// bound is a wall, the ceiling or the floor: what is beyond it has a positive
// measure.
type bound struct {
	name  string
	out   exposure.Vec // square to it, outward
	at    float64      // m from the origin
	given bool         // asked for; the others are the file's own
}

func (b bound) beyond(v exposure.Vec) float64 { return v.Dot(b.out) - b.at }

// bounds of the room as it is to be.
func (p *plan) bounds() []bound {
	out := []bound{{name: "floor", out: exposure.Vec{Z: -1}}}
	r, o := p.s.Room, &p.o.Room
	if r == nil {
		return out
	}
	for _, b := range []struct {
		name       string
		out        exposure.Vec
		at, option *float64
	}{
		{"left wall", exposure.Vec{X: -1}, r.Left, o.Left},
		{"right wall", exposure.Vec{X: 1}, r.Right, o.Right},
		{"wall behind the camera", exposure.Vec{Y: 1}, r.Front, o.Front},
		{"wall behind the subject", exposure.Vec{Y: -1}, r.Behind, o.Behind},
		{"ceiling", exposure.Vec{Z: 1}, r.Ceiling, o.Ceiling},
	} {
		if b.at != nil {
			out = append(out, bound{b.name, b.out, *b.at, b.option != nil})
		}
	}
	return out
}

// room takes the new walls and brings inside what does not fit between them.
func (p *plan) room() {
	o := &p.o.Room
	if o.Left == nil && o.Right == nil && o.Front == nil && o.Behind == nil && o.Ceiling == nil {
		return
	}
	if p.s.Room == nil {
		p.s.Room = &setup.Room{}
	}
	r := p.s.Room
	for _, w := range []struct {
		to   **float64
		from *float64
	}{{&r.Left, o.Left}, {&r.Right, o.Right}, {&r.Front, o.Front}, {&r.Behind, o.Behind}, {&r.Ceiling, o.Ceiling}} {
		if w.from != nil {
			*w.to = w.from
		}
	}
	p.why["room"] = "the room as given"
	bounds := p.bounds()
	for _, it := range p.items() {
		switch place := p.place(it); {
		case place == nil:
			p.notPlaced(it)
		case it.grip >= 0:
			p.gripInside(it, bounds)
		case fixed(&p.s.Lights[it.lights[0]]):
		default:
			p.lightInside(it, bounds)
		}
	}
	p.endsInside()
}

func (p *plan) notPlaced(it item) {
	if it.grip < 0 && !fixed(&p.s.Lights[it.lights[0]]) {
		p.warn(p.whereOf(it).Item, "no-place", "write place: 55 left, 1.4 m, 2.15 high", "%q has no place: whether it fits the room is not known", it.name)
	}
}

// lightInside moves a light along its own aim line until it fits, and turns it
// about its aim point where that is not enough.
func (p *plan) lightInside(it item, bounds []bound) {
	l := &p.s.Lights[it.lights[0]]
	if on := p.spot(it, at(l.Place)); on != at(l.Place) { // what it stands under was moved
		p.move(it, on, "it stays where "+quoted(l.Place.Ref)+" is")
	}
	if l.Place.Height == nil && p.o.Room.Ceiling != nil {
		p.warn(l.Where.Key("place"), "no-height", "write its height in its place", "%q has no height: whether it fits under the ceiling is not known", it.name)
	}
	here := at(l.Place)
	was := p.measure(it, here, bounds)
	wall, by := worst(bounds, was)
	if wall == nil {
		p.baseInside(it, bounds)
		return
	}
	if l.Aim.Unknown {
		p.warn(l.Where.Key("place"), code(wall), "move it by hand", "%q reaches %s beyond the %s, and where it is aimed is not known: it is left there", it.name, p.length(by), wall.name)
		return
	}
	aim := aimed(l.Aim)
	if l.Place.Height == nil {
		aim.Z = 0
	}
	free := allowed(bounds, was)
	for _, least := range []float64{close, closest} {
		if to, turn, ok := p.fits(it, here, aim, bounds, free, least); ok {
			why := fmt.Sprintf("inside the %s, along its own line", wall.name)
			if turn > 0 {
				why = fmt.Sprintf("inside the %s, turned %d° about what it is aimed at", wall.name, turn)
				p.warn(l.Where.Key("place"), "turned", "look at the shadows; a smaller modifier may fit where it was",
					"%q does not fit inside the %s along its own line: it comes from %d° %s its old direction", it.name, wall.name, turn, toward(here, to, aim))
			}
			p.move(it, p.handy(it, here, to, bounds, free), why)
			p.baseInside(it, bounds)
			return
		}
	}
	p.warn(l.Where.Key("place"), code(wall), "take a smaller modifier, or leave the light out",
		"%q reaches %s beyond the %s, and fits neither along its own line nor turned by up to %d° about what it is aimed at: it is left there",
		it.name, p.length(by), wall.name, mostTurn)
}

// toward says to which side of its old direction, seen from what it is aimed at, a
// light was turned: "below" or "above" where that is most of it, else "beside".
func toward(was, is, aim exposure.Vec) string {
	up := func(p exposure.Vec) float64 { return math.Atan2(p.Z-aim.Z, math.Hypot(p.X-aim.X, p.Y-aim.Y)) }
	round := func(p exposure.Vec) float64 { return math.Atan2(p.Y-aim.Y, p.X-aim.X) }
	tilted := up(is) - up(was)
	turned := math.Abs(math.Remainder(round(is)-round(was), 2*math.Pi)) * math.Cos(up(was))
	switch {
	case tilted < -turned:
		return "below"
	case tilted > turned:
		return "above"
	}
	return "beside"
}

// code is that of proof for the same finding.
func code(b *bound) string {
	switch b.name {
	case "ceiling":
		return "above-ceiling"
	}
	return "outside-room"
}

// baseInside brings a boom's column between the walls; nearer to the head than
// before, so that it still reaches. The two of a pair stay each other's mirror image.
func (p *plan) baseInside(it item, bounds []bound) {
	l, was := &p.s.Lights[it.lights[0]], &p.was.Lights[it.lights[0]]
	if l.Stand == nil || l.Stand.Base == nil {
		return
	}
	from := exposure.Vec{X: l.Stand.Base.Right, Y: l.Stand.Base.Front}
	to := from
	if was.Stand.Base.Right != from.X || was.Stand.Base.Front != from.Y { // it went along
		to = exposure.Vec{X: math.Round(from.X*100) / 100, Y: math.Round(from.Y*100) / 100}
	}
	for _, b := range bounds {
		if !b.given || b.out.Z != 0 {
			continue
		}
		if by := b.beyond(to); by > slack {
			to = to.Minus(b.out.Times(by))
		}
		if by := b.beyond(mirrored(to)); len(it.lights) > 1 && by > slack {
			to = mirrored(mirrored(to).Minus(b.out.Times(by)))
		}
	}
	if to == from {
		return
	}
	for _, i := range it.lights {
		base := p.s.Lights[i].Stand.Base
		base.Right, base.Front = to.X, to.Y
		to = mirrored(to)
	}
	if p.moved[it.name] == "" {
		p.moved[it.name] = "its column inside the room"
	}
}

func mirrored(v exposure.Vec) exposure.Vec { return exposure.Vec{X: -v.X, Y: v.Y, Z: v.Z} }

func (p *plan) gripInside(it item, bounds []bound) {
	g := &p.s.Grip[it.grip]
	if on := p.spot(it, at(g.Place)); on != at(g.Place) {
		p.move(it, on, "it stays where "+quoted(g.Place.Ref)+" is")
	}
	here := at(g.Place)
	was := p.measure(it, here, bounds)
	wall, by := worst(bounds, was)
	if wall == nil {
		return
	}
	mark := exposure.Vec{Z: here.Z}
	if s := p.along(it, here, mark, bounds, allowed(bounds, was)); s >= closest {
		p.move(it, mark.Plus(here.Minus(mark).Times(s)), fmt.Sprintf("inside the %s, toward the subject", wall.name))
		return
	}
	p.warn(g.Where.Key("place"), code(wall), "move it by hand, or take a smaller one", "%q reaches %s beyond the %s: it is left there", it.name, p.length(by), wall.name)
}

// endsInside says what of camera and background does not fit.
func (p *plan) endsInside() {
	r, o := p.s.Room, &p.o.Room
	if c := &p.s.Camera; o.Front != nil && c.Distance != nil && *c.Distance > *r.Front+slack {
		hint := ""
		if c.FocalMM != nil {
			hint = fmt.Sprintf("a lens of %.0f mm shows the same frame from %s: --lens", math.Floor(*c.FocalMM**r.Front / *c.Distance), p.length(*r.Front))
		}
		p.warn(c.Where.Key("distance"), "outside-room", hint, "the camera would stand %s beyond the wall behind it: it is left there", p.length(*c.Distance-*r.Front))
	}
	b := p.s.Background
	if b == nil {
		return
	}
	if o.Behind != nil && b.Distance != nil && *b.Distance > *r.Behind+slack {
		p.warn(b.Where.Key("distance"), "outside-room", "measure the walls from a mark further forward",
			"the background would hang %s beyond the wall behind the subject: it is left there", p.length(*b.Distance-*r.Behind))
	}
	if o.Ceiling != nil && b.Height != nil && *b.Height > *r.Ceiling+slack {
		p.warn(b.Where.Key("height"), "above-ceiling", "", "the background is %s high, %s more than the room", p.length(*b.Height), p.length(*b.Height-*r.Ceiling))
	}
}

func quoted(s string) string { return "\"" + strings.ReplaceAll(s, "\"", "'") + "\"" }
