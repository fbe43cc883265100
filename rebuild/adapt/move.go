package adapt

import (
	"fmt"
	"math"

	"stopleaf/exposure"
	"stopleaf/setup"
)

// onFloor is how near its lower edge is to the floor where a grip item stands on
// it, m.
const onFloor = 0.1

// face puts the whole set lower or higher with the face: lights, what they are
// aimed at, the camera, and the grip that does not stand on the floor. The
// picture stays, behind the face too.
func (p *plan) face() {
	if p.o.FaceM == nil {
		return
	}
	sub := &p.s.Subject
	up := *p.o.FaceM - sub.Face
	if math.Abs(up) < 1e-9 {
		return
	}
	why := fmt.Sprintf("the face at %s, not %s", p.length(*p.o.FaceM), p.length(sub.Face))
	sub.Face, sub.FaceGiven = *p.o.FaceM, true
	if sub.Top != nil {
		sub.Top = ptr(math.Max(*sub.Top+up, 0))
	}
	if h := p.s.Camera.Height; h != nil {
		p.s.Camera.Height = ptr(*h + up)
		if *h+up < 0 {
			p.warn(p.was.Camera.Where.Key("height"), "under-floor", "", "the camera would be %s under the floor; it is left on it", p.length(-*h-up))
			p.s.Camera.Height = ptr(0)
		}
	}
	for i := range p.s.Lights {
		a := &p.s.Lights[i].Aim
		if h, ok := sub.Part(a.Target); ok {
			a.Height = h
		} else if a.Target == "place" {
			a.Height = math.Max(a.Height+up, 0)
		}
	}
	for _, it := range p.items() {
		place := p.place(it)
		if place == nil || place.Height == nil || it.grip >= 0 && p.standing(it.grip) {
			continue
		}
		if it.grip < 0 && fixed(&p.s.Lights[it.lights[0]]) {
			p.staysPut(it, fmt.Sprintf("it stands %s against the face than before", p.higher(-up)))
			continue
		}
		to := p.spot(it, at(place).Plus(exposure.Vec{Z: up}))
		p.move(it, p.aboveFloor(it, to), why)
	}
	p.why["subject face"], p.why["subject top"], p.why["camera height"] = why, why, why
	p.oldSubject()
}

// higher words a difference of height: "12 cm lower".
func (p *plan) higher(by float64) string {
	if by < 0 {
		return p.length(-by) + " lower"
	}
	return p.length(by) + " higher"
}

// oldSubject names what is recorded of the subject and may not hold of the new one.
func (p *plan) oldSubject() {
	sub := &p.was.Subject
	switch {
	case sub.Kind == "object" || sub.Kind == "group":
	case sub.Where.Keys["posture"].Line > 0:
		p.warn(sub.Where.Key("posture"), "subject", "write the posture, and the hazard child where it is one",
			"the posture is still %s, and whether the subject sits now or is smaller is not said", sub.Posture)
	}
	if sub.Height != nil && sub.Kind != "object" {
		p.warn(sub.Where.Key("height"), "subject", "", "the height of %s is that of the subject before", p.length(*sub.Height))
	}
}

// standing reports whether a grip item stands on the floor, or may: its lower
// edge is not known.
func (p *plan) standing(i int) bool {
	low := p.s.Grip[i].Place.Lower
	return low == nil || *low <= onFloor
}

// spot takes the place on the floor from what the item stands under or over.
func (p *plan) spot(it item, to exposure.Vec) exposure.Vec {
	ref := p.place(it).Ref
	if ref == "" {
		return to
	}
	if on := p.placeOf(ref); on != nil {
		to.X, to.Y = on.Right, on.Front
	}
	return to
}

// aboveFloor keeps the lower edge of an item out of the floor.
func (p *plan) aboveFloor(it item, to exposure.Vec) exposure.Vec {
	place := p.place(it)
	low := to.Z
	if place.Lower != nil && place.Height != nil {
		low += *place.Lower - *place.Height
	}
	if low >= -0.0005 {
		return to
	}
	p.warn(p.whereOf(it).Key("height"), "under-floor", "take a smaller modifier, or another place",
		"the lower edge of %q would be %s under the floor; it is left on it, with its centre at %s", it.name, p.length(-low), p.length(to.Z-low))
	to.Z -= low
	return to
}

func (p *plan) whereOf(it item) setup.Where {
	if it.grip >= 0 {
		return p.was.Grip[it.grip].Where
	}
	return p.was.Lights[it.lights[0]].Where
}

func (p *plan) staysPut(it item, so string) {
	p.warn(p.whereOf(it).Key("place"), "daylight", "", "%q is daylight and cannot be moved: %s", it.name, so)
}

// scale puts every light k times as far from what it is aimed at, on the same
// line, and the grip k times as far from the subject mark.
func (p *plan) scale() error {
	k := p.o.Scale
	if k == 0 || k == 1 {
		return nil
	}
	why := fmt.Sprintf("distances times %s", short(k))
	before := clone(p.s)
	any := false
	for _, it := range p.items() {
		place := p.place(it)
		switch {
		case place == nil:
			continue
		case it.grip >= 0:
			p.move(it, p.spot(it, p.taped(it, p.scaledGrip(it, k), nearestWhole)), why)
			continue
		case fixed(&p.s.Lights[it.lights[0]]):
			p.staysPut(it, "it is as far away as before")
			continue
		}
		any = true
		i := it.lights[0]
		from, aim := aimed(before.Lights[i].Aim), aimed(p.s.Lights[i].Aim)
		if p.s.Lights[i].Aim.Unknown {
			from, aim = exposure.Vec{}, exposure.Vec{}
			from.Z, aim.Z = at(place).Z, at(place).Z
		}
		if aimsLevel(&p.s.Lights[i]) {
			from.Z, aim.Z = at(place).Z, at(place).Z
		}
		to := aim.Plus(at(place).Minus(from).Times(k))
		p.move(it, p.aboveFloor(it, p.spot(it, p.taped(it, to, nearestWhole))), why)
	}
	if !any {
		return p.lacks("scale-distances", p.was.Where.Key("lights"), "no light has a place that could be scaled", "write place: 55 left, 1.4 m, 2.15 high")
	}
	return nil
}

func nearestWhole(v float64) float64 { return math.Floor(v + 0.5) }

// aimsLevel reports whether a light is aimed at its own height, whatever that is.
func aimsLevel(l *setup.Light) bool { return l.Aim.Target == "background" }

// scaledGrip keeps what hangs in the air on its line to the face, and what stands
// on the floor on the floor.
func (p *plan) scaledGrip(it item, k float64) exposure.Vec {
	place := p.place(it)
	to := at(place).Times(k)
	to.Z = at(place).Z
	if place.Height != nil && !p.standing(it.grip) {
		face := p.s.Subject.Face
		to.Z = face + (to.Z-face)*k
	}
	return to
}

func short(v float64) string { return fmt.Sprintf("%g", math.Round(v*1e6)/1e6) }

// lens moves the camera to where another lens shows the same frame at the
// subject. The frame is side x (d - f) / f, so d goes with f.
func (p *plan) lens() error {
	f := p.o.LensMM
	if f == nil {
		return nil
	}
	c := &p.s.Camera
	switch {
	case c.FocalMM == nil || !(*c.FocalMM > 0):
		return p.lacks("lens", c.Where.Item, "the lens is not written: the frame that is to be kept is not known", "write lens: 85 mm under \"camera\"")
	case c.Distance == nil || !(*c.Distance > 0):
		return p.lacks("lens", c.Where.Item, "the camera's distance is not written: the frame that is to be kept is not known", "write distance: 3.2 under \"camera\"")
	case *c.FocalMM == *f:
		return nil
	}
	was := *c.FocalMM
	c.Distance = ptr(*c.Distance * *f / was)
	c.FocalMM = f
	p.why["camera distance"] = fmt.Sprintf("%s mm in place of %s mm shows the same frame at the subject from there", short(*f), short(was))
	if c.WidestAv != nil {
		p.warn(c.Where.Key("widest"), "widest", "write what the other lens opens to",
			"the widest aperture, %s, is that of the %s mm lens", p.s.Exposure.CameraMark(*c.WidestAv), short(was))
	}
	return nil
}
