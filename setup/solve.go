package setup

import (
	"fmt"
	"math"
	"strings"
)

// solver turns places as written into places as meant, each after those it
// leans on.
type solver struct {
	m      *meaning
	items  []solveItem
	byName map[string]int
	pairs  map[string]bool // lower-case names that stand for a pair
	stack  []int           // the items being solved, to name a ring
}

// solveItem is one light or grip item on its way to a place.
type solveItem struct {
	name string
	side string // "L" or "R" of a pair
	pos  Pos
	spec *placeSpec
	aim  aimSpec
	half *float64 // m, half the height of what shines (or of a grip item)
	grip bool     // stands upright, aimed at nothing

	state  solveState // of the place
	height solveState // of the centre's height
	place  *Place
	aimed  *Aim
}

type solveState uint8

const (
	unsolved solveState = iota
	solving
	solved
	failed
)

func (s *solver) names() []string {
	out := make([]string, len(s.items))
	for i, it := range s.items {
		out[i] = it.name
	}
	return out
}

// find looks an item up by name. The name of a pair means the one on the same
// side as the item that asks.
func (s *solver) find(name string, from *solveItem) (int, bool) {
	low := strings.ToLower(name)
	if i, ok := s.byName[low]; ok {
		return i, true
	}
	if s.pairs[low] && from != nil && from.side != "" {
		i, ok := s.byName[low+" "+strings.ToLower(from.side)]
		return i, ok
	}
	return 0, false
}

// solve gives every item its place, its aim and both its heights.
func (s *solver) solve() {
	for i := range s.items {
		s.centre(i)
	}
	for i := range s.items {
		it := &s.items[i]
		if it.grip {
			s.gripEdge(it)
			continue
		}
		if it.state != failed {
			s.aimOf(i)
			s.lowerEdge(i)
			s.stacked(i)
		}
	}
}

// enter marks an item as being solved; false when it already is: a ring.
func (s *solver) enter(i int, state *solveState, at Pos) bool {
	if *state != solving {
		*state = solving
		s.stack = append(s.stack, i)
		return true
	}
	var ring []string
	for k := len(s.stack) - 1; k >= 0; k-- {
		name := quote(s.items[s.stack[k]].name)
		if len(ring) == 0 || ring[0] != name {
			ring = append([]string{name}, ring...)
		}
		if s.stack[k] == i && k < len(s.stack)-1 {
			break
		}
	}
	ring = append(ring, quote(s.items[i].name))
	s.m.err(at, "ring", "places refer to each other in a ring: "+strings.Join(ring, ", "), "write one of them as a place of its own")
	return false
}

func (s *solver) leave(state *solveState, ok bool) {
	s.stack = s.stack[:len(s.stack)-1]
	*state = solved
	if !ok {
		*state = failed
	}
}

// floor solves where an item stands on the floor; nil without a place.
func (s *solver) floor(i int, at Pos) *Place {
	it := &s.items[i]
	if it.state == solved || it.state == failed {
		return it.place
	}
	if it.spec == nil {
		it.state = solved
		return nil
	}
	if !s.enter(i, &it.state, at) {
		return nil
	}
	p, ok := s.floorOf(it.spec, i, it.spec.height)
	if ok {
		p.Height = nil
		it.place = p
	}
	s.leave(&it.state, ok)
	return it.place
}

// centre solves an item's place with the height of its centre.
func (s *solver) centre(i int) *Place {
	it := &s.items[i]
	if it.height == solved || it.height == failed {
		return it.place
	}
	at := it.pos
	if it.spec != nil {
		at = it.spec.w.pos
	}
	p := s.floor(i, at)
	if p == nil || it.spec.height == nil {
		it.height = solved
		return p
	}
	h := *it.spec.height
	switch {
	case !it.spec.lowerEdge:
		p.Height = &h
	case it.grip:
		if it.half != nil {
			c := h + *it.half
			p.Height = &c
		}
		p.Lower = &h
	default:
		if !s.enter(i, &it.height, at) {
			it.height = failed
			return p
		}
		p.Lower = &h
		p.Height = s.fromLowerEdge(i, p, h)
		s.leave(&it.height, true)
	}
	it.height = solved
	return p
}

// fromLowerEdge works the centre's height out of that of the lower edge:
// half the height of what shines, foreshortened by its tilt.
func (s *solver) fromLowerEdge(i int, p *Place, lower float64) *float64 {
	it := &s.items[i]
	if it.half == nil {
		s.m.warn(it.spec.w.keyPos("height to"), "no-centre", fmt.Sprintf("the height of the centre of %s is not known", quote(it.name)),
			"to work it out from the lower edge the modifier needs its height or diameter")
		return nil
	}
	aim := s.aimOf(i)
	if aim.Unknown {
		return nil
	}
	c := lower + *it.half
	for range 80 {
		c = lower + *it.half*math.Cos(tilt(p.Right, p.Front, c, levelled(*aim, c)))
	}
	return &c
}

// levelled is an aim whose point is at the light's own height where it is the
// background.
func levelled(a Aim, own float64) Aim {
	if a.Target == "background" {
		a.Height = own
	}
	return a
}

// tilt is the angle of the line from a centre to the aim above the horizontal,
// radians.
func tilt(x, y, z float64, a Aim) float64 {
	return math.Atan2(a.Height-z, math.Hypot(a.Right-x, a.Front-y))
}

// aimOf works an item's aim out once.
func (s *solver) aimOf(i int) *Aim {
	it := &s.items[i]
	if it.aimed == nil {
		a := s.aimPoint(i)
		it.aimed = &a
	}
	if it.place != nil && it.place.Height != nil {
		*it.aimed = levelled(*it.aimed, *it.place.Height)
	}
	return it.aimed
}

// lowerEdge works the lower edge out of the centre's height.
func (s *solver) lowerEdge(i int) {
	it := &s.items[i]
	p := it.place
	if p == nil || p.Height == nil || p.Lower != nil || it.half == nil || it.aimed.Unknown {
		return
	}
	low := *p.Height - *it.half*math.Cos(tilt(p.Right, p.Front, *p.Height, *it.aimed))
	if low < -0.005 {
		s.m.warn(it.spec.w.keyPos("height"), "under-floor", fmt.Sprintf("the lower edge of %s would be %.0f cm under the floor", quote(it.name), -low*100),
			"is the height that of the lower edge? then write height to: lower edge")
		return
	}
	low = max(low, 0)
	p.Lower = &low
}

// stacked warns of a light under another and above it, and of a pair that
// stands on one spot.
func (s *solver) stacked(i int) {
	it := &s.items[i]
	if it.place == nil {
		return
	}
	if it.side == "R" && i > 0 && s.items[i-1].place != nil && math.Abs(it.place.Right) < 1e-6 && math.Abs(it.place.Front-s.items[i-1].place.Front) < 1e-6 {
		s.m.warn(it.spec.w.pos, "pair-in-one-spot", fmt.Sprintf("%s and %s stand on one spot", quote(s.items[i-1].name), quote(it.name)), "a pair is mirrored about the line from the camera to the subject")
	}
	if it.place.Ref == "" || it.place.Height == nil {
		return
	}
	j, ok := s.find(it.place.Ref, it)
	if !ok || s.items[j].place == nil || s.items[j].place.Height == nil {
		return
	}
	own, other := *it.place.Height, *s.items[j].place.Height
	if it.place.Form == "under" && own > other || it.place.Form == "over" && own < other {
		s.m.warn(it.spec.w.keyPos("height"), "wrong-way-up", fmt.Sprintf("%s is written as %s %s, and its height says otherwise", quote(it.name), it.place.Form, quote(it.place.Ref)),
			fmt.Sprintf("it is at %s, and %s at %s", FormatLength(own, s.m.s.Units), quote(it.place.Ref), FormatLength(other, s.m.s.Units)))
	}
}

// gripEdge is the lower edge of a thing that stands upright.
func (s *solver) gripEdge(it *solveItem) {
	if p := it.place; p != nil && p.Height != nil && p.Lower == nil && it.half != nil {
		if low := *p.Height - *it.half; low >= 0 {
			p.Lower = &low
		}
	}
}

// floorOf solves one place for item i; height is that written, of the centre or
// of the lower edge.
func (s *solver) floorOf(spec *placeSpec, i int, height *float64) (*Place, bool) {
	p := &Place{Form: spec.form, Slant: spec.slant}
	if spec.slant != nil {
		p.Form = "slant"
	}
	switch spec.form {
	case "angle", "clock":
		d := 0.0
		if spec.distance != nil {
			d = *spec.distance
		} else {
			var ok bool
			if d, ok = s.alongFloor(spec, i, *height); !ok {
				return nil, false
			}
		}
		sin, cos := math.Sincos(spec.deg * math.Pi / 180)
		p.Right, p.Front = float64(spec.side)*d*sin, d*cos
		if spec.deg == 0 || spec.deg == 180 {
			p.Right = 0
		}
	case "cartesian":
		p.Right, p.Front = spec.right, spec.front
	case "tape":
		return p, s.byTape(p, spec, i)
	case "under", "over":
		return p, s.sameSpot(p, spec, i)
	}
	p.Right, p.Front = p.Right+0, p.Front+0
	return p, true
}

// alongFloor is the distance on the floor under a tape from the face.
func (s *solver) alongFloor(spec *placeSpec, i int, height float64) (float64, bool) {
	face, slant := s.m.s.Subject.Face, *spec.slant
	along := func(c float64) (float64, bool) {
		rise := math.Abs(c - face)
		if slant < rise-1e-9 {
			s.m.err(spec.w.keyPos("slant"), "slant-short",
				fmt.Sprintf("the slant of %s is shorter than the difference of height between the face and the light, %s",
					FormatLength(slant, s.m.s.Units), FormatLength(rise, s.m.s.Units)),
				fmt.Sprintf("the face is taken at %s; write \"face\" under \"subject\" if it is not", FormatLength(face, s.m.s.Units)))
			return 0, false
		}
		return math.Sqrt(math.Max(slant*slant-rise*rise, 0)), true
	}
	it := &s.items[i]
	if !spec.lowerEdge || it.half == nil || spec != it.spec {
		return along(height)
	}
	if it.grip {
		return along(height + *it.half)
	}
	aim := s.aimOf(i)
	c := height + *it.half
	d := 0.0
	for range 80 {
		var ok bool
		if d, ok = along(c); !ok {
			return 0, false
		}
		if aim.Unknown {
			break
		}
		sin, cos := math.Sincos(spec.deg * math.Pi / 180)
		c = height + *it.half*math.Cos(tilt(float64(spec.side)*d*sin, d*cos, c, levelled(*aim, c)))
	}
	return d, true
}

// sameSpot puts an item over or under another.
func (s *solver) sameSpot(p *Place, spec *placeSpec, i int) bool {
	it := &s.items[i]
	j, ok := s.find(spec.ref, it)
	switch {
	case !ok && s.pairs[strings.ToLower(spec.ref)]:
		s.m.err(spec.refPos, "which-of-pair", fmt.Sprintf("%s is a pair", quote(spec.ref)), fmt.Sprintf("write %s or %s", quote(spec.ref+" L"), quote(spec.ref+" R")))
		return false
	case !ok:
		s.m.err(spec.refPos, "unknown-name", fmt.Sprintf("%s is %s %s, and there is no such item", quote(it.name), spec.form, quote(spec.ref)), suggest(spec.ref, s.names()))
		return false
	}
	p.Ref = s.items[j].name
	at := s.floor(j, spec.refPos)
	if at == nil {
		if s.items[j].state == solved {
			s.m.err(spec.refPos, "no-place", fmt.Sprintf("%s is %s %s, which has no place", quote(it.name), spec.form, quote(p.Ref)), "give "+quote(p.Ref)+" a \"place\"")
		}
		return false
	}
	p.Right, p.Front = at.Right, at.Front
	if spec.mirrored && it.side != s.items[j].side {
		p.Right = -p.Right + 0
	}
	return true
}

// byTape puts an item where its tapes meet.
func (s *solver) byTape(p *Place, spec *placeSpec, i int) bool {
	var tapes []anchor
	var names []string
	for _, t := range spec.tapes {
		a, name, ok := s.anchor(t, i, spec.mirrored)
		if !ok {
			return false
		}
		tapes, names = append(tapes, a), append(names, name)
		p.Tapes = append(p.Tapes, Tape{From: name, Length: t.length})
	}
	at := spec.w.keyPos("tape")
	best, unsure, gap, fault := bestMeeting(tapes, names, spec.side)
	if fault != nil {
		s.m.err(at, fault.code, fault.message, fault.hint)
		return false
	}
	if unsure {
		s.m.warn(at, "tapes-unsure", fmt.Sprintf("the tapes of %s meet at two points on that side; the one further out is taken", quote(s.items[i].name)), "add a third tape")
	}
	if len(tapes) == 2 && gap > 0.01 {
		s.m.warn(at, "tape-off", fmt.Sprintf("the tapes of %s miss each other by %.0f cm", quote(s.items[i].name), gap*100), "the point between them is taken; measure again")
	}
	if len(tapes) > 2 {
		which, by := oddTapes(best, tapes)
		hint := "measure it again; the place is the best fit of all"
		if len(tapes) == 3 {
			hint = "of three tapes it fits worst: measure all three again; the place is the best fit of all"
		}
		for k, odd := range which {
			s.m.warn(spec.tapes[odd].pos, "tape-off", fmt.Sprintf("the tape from %s disagrees with the others by %.0f cm", quote(names[odd]), math.Abs(by[k])*100), hint)
		}
	}
	p.Right, p.Front = best[0]+0, best[1]+0
	return true
}

// anchor is where a tape begins; for the mirrored one of a pair, the mirror
// image of it.
func (s *solver) anchor(t tapeSpec, i int, mirrored bool) (a anchor, name string, ok bool) {
	a = anchor{r: t.length}
	switch strings.ToLower(t.from) {
	case "subject", "mark":
		return a, "subject", true
	case "camera":
		if s.m.s.Camera.Distance == nil {
			s.m.err(t.pos, "no-anchor", "a tape from the camera, and its distance is not known", "write \"distance\" under \"camera\"")
			return a, "camera", false
		}
		a.y = *s.m.s.Camera.Distance
		return a, "camera", true
	case "background":
		if b := s.m.s.Background; b == nil || b.Distance == nil {
			s.m.err(t.pos, "no-anchor", "a tape from the background, and its distance is not known", "write \"distance\" under \"background\"")
			return a, "background", false
		}
		a.y, a.plane = -*s.m.s.Background.Distance, true
		return a, "background", true
	}
	j, found := s.find(t.from, &s.items[i])
	if !found {
		s.m.err(t.pos, "unknown-name", fmt.Sprintf("a tape from %s, and there is no such item", quote(t.from)), suggest(t.from, append([]string{"subject", "camera", "background"}, s.names()...)))
		return a, t.from, false
	}
	at := s.floor(j, t.pos)
	if at == nil {
		if s.items[j].state == solved {
			s.m.err(t.pos, "no-place", fmt.Sprintf("a tape from %s, which has no place", quote(s.items[j].name)), "give it a \"place\"")
		}
		return a, t.from, false
	}
	a.x, a.y = at.Right, at.Front
	if mirrored && s.items[i].side != s.items[j].side {
		a.x = -a.x
	}
	return a, s.items[j].name, true
}
