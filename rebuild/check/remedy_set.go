package check

import (
	"fmt"
	"math"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
)

// mark is a power on the dial of a light.
func (c *checker) mark(i int, stops float64) string {
	head := exposure.Head{}
	if h := c.in.Lights[i].Head; h != nil {
		head = *h
	}
	return apex.FormatDial(stops, apex.Dial(head.Dial), head.Step, head.EnergyWs)
}

// shutterFor is the shutter as a remedy for a light that burns on, where it moves
// that light against the zero.
func (c *checker) shutterFor(f *Finding, x float64) []Remedy {
	flashes := false // something that the shutter leaves as it is
	for i := range c.s.Lights {
		flashes = flashes || !c.s.Lights[i].Off && !c.steady([]int{i})
	}
	if !flashes || !f.IsZero && c.zeroSteady() {
		return nil
	}
	if c.tooFast(-x) || c.unsettles(f, x) != nil {
		return nil
	}
	return []Remedy{c.shutterRemedy(-x, f.Name)}
}

// unsettles finds a light of the sky's or the room's that a shutter which takes x
// stops off f would put wrong, or more wrong, and that nothing puts right again; nil
// for none.
func (c *checker) unsettles(f *Finding, x float64) *Finding {
	for i := range c.out.Lights {
		g := &c.out.Lights[i]
		if g.Off == nil || g.Name == f.Name || !c.sky(g) {
			continue
		}
		if then := math.Abs(g.Left - x); then > g.Tolerance+near && then > math.Abs(g.Left) {
			return g
		}
	}
	return nil
}

// sky reports whether a light is taken as it comes: daylight, the room's own.
func (c *checker) sky(f *Finding) bool {
	return len(f.lights) == 0 || c.s.Lights[f.lights[0]].Source == exposure.Daylight
}

// shutterRemedy changes what burns on by so many stops, with the shutter. but is
// the light it is for, which is not told that it moves.
func (c *checker) shutterRemedy(stops float64, but string) Remedy {
	longer := "longer"
	if stops < 0 {
		longer = "shorter"
	}
	r := Remedy{Kind: "shutter", Stops: round(stops), Short: fmt.Sprintf("shutter %s %s", amount(stops), longer)}
	r.Text = fmt.Sprintf("Make the shutter %s stops %s", amount(stops), longer)
	if t := c.out.ShutterS; t != nil {
		then := *t * math.Exp2(stops)
		r.ShutterS = finite(then)
		r.Short = "shutter " + seconds(then)
		r.Text = fmt.Sprintf("Set the shutter to %s, from %s", seconds(then), seconds(*t))
	}
	r.Text += ": the flashes stay as they are"
	if moved := c.moved(but); len(moved) > 0 {
		r.Text += ", and " + listed(moved) + " " + moves(len(moved)) + " by as much"
	}
	r.Text += "."
	return r
}

// tooFast reports whether a shutter that changes what burns on by so many stops
// would cut the flashes off.
func (c *checker) tooFast(stops float64) bool {
	t, sync := c.out.ShutterS, c.s.Exposure.SyncS
	return t != nil && sync != nil && *t*math.Exp2(stops) < *sync*(1-1e-6)
}

func moves(n int) string {
	if n == 1 {
		return "moves"
	}
	return "move"
}

// moved are the lights that the shutter moves, but for one.
func (c *checker) moved(but string) []string {
	var out []string
	for i := range c.s.Lights {
		if l := &c.s.Lights[i]; l.Name != but && !l.Off && c.steady([]int{i}) {
			out = append(out, l.Name)
		}
	}
	if e := &c.s.Exposure; but != "Ambient" && (e.AmbientAv != nil || e.Zero == exposure.Ambient) {
		out = append(out, "the room's own light")
	}
	return out
}

// limits are the bases that today's flashes can do, as they read now, and who
// stops them; an end that nothing stops is infinite.
func (c *checker) limits() (low, high float64, lowBy, highBy string) {
	low, high = math.Inf(-1), math.Inf(1)
	off := map[int]float64{}
	for i := range c.out.Lights {
		f := &c.out.Lights[i]
		for _, l := range f.lights {
			if f.Off != nil {
				off[l] = *f.Off
			}
		}
	}
	for i := range c.in.Lights {
		l := &c.in.Lights[i]
		if l.Off || l.Source != exposure.Flash || l.Power == nil || c.in.KeyAv == nil {
			continue
		}
		full := *c.in.KeyAv - *l.Power + off[i]
		if full < high-near {
			high, highBy = full, l.Name
		}
		if l.Head != nil && l.Head.Range != nil && full-*l.Head.Range > low+near {
			low, lowBy = full-*l.Head.Range, l.Name
		}
	}
	if w := c.in.WidestAv; w != nil {
		lens := *w
		if p := c.n.Exposure.Placing; p != nil {
			lens -= *p
		}
		if lens > low+near {
			low, lowBy = lens, "the lens"
		}
	}
	return low, high, lowBy, highBy
}

// otherBase is the nearest base that a light whose dial cannot can still do with
// all the others.
func (c *checker) otherBase(f *Finding, d dialled) (Remedy, bool) {
	low, high, lowBy, highBy := c.limits()
	low, high = inward(low, high)
	if low > high {
		return Remedy{Kind: "none", Short: "no base", Text: fmt.Sprintf("%s. No base does it for the whole set: %s cannot go low enough where %s cannot go high enough.", d.why, lowBy, highBy)}, true
	}
	base := math.Max(low, math.Min(high, *c.out.BaseAv))
	if math.Abs(base-*c.out.BaseAv) < near {
		return Remedy{}, false
	}
	style := c.s.Style()
	text := fmt.Sprintf("%s: another base for the whole set, %s%s", d.why, style.Reading(base), c.camera(base))
	switch {
	case math.IsInf(low, 0):
		text += fmt.Sprintf(" (%s is the highest it can do)", style.Reading(high))
	case math.IsInf(high, 0):
		text += fmt.Sprintf(" (%s is the lowest it can do)", style.Reading(low))
	default:
		text += fmt.Sprintf(" (it can do %s to %s)", style.Reading(low), style.Reading(high))
	}
	return Remedy{Kind: "base", Stops: round(base - *c.out.BaseAv), BaseAv: finite(base), Short: "base " + style.Reading(base), Text: text + "."}, true
}

// inward rounds a range of bases inward to tenths; what is infinite stays so.
func inward(low, high float64) (float64, float64) {
	return math.Ceil(low*10-near) / 10, math.Floor(high*10+near) / 10
}

// baseForSteady moves the flashes to a light that the shutter may not move.
func (c *checker) baseForSteady(f *Finding, x float64) []Remedy {
	if f.IsZero || c.zeroSteady() || c.out.BaseAv == nil {
		return nil
	}
	if g := c.unsettles(f, x); g != nil {
		return []Remedy{{Kind: "none", Stops: round(-x), Short: way(-x) + " " + amount(x),
			Text: fmt.Sprintf("It must come %s %s by itself: the shutter, or another base, would put %s wrong.", way(-x), amount(x), g.Name)}}
	}
	base := *c.out.BaseAv + x
	low, high, _, _ := c.limits()
	if base < low-near || base > high+near {
		return nil
	}
	mark := c.s.Style().Reading(base)
	return []Remedy{{
		Kind: "base", Stops: round(x), BaseAv: finite(base), Short: "base " + mark,
		Text: fmt.Sprintf("The shutter would be faster than the sync: take %s as the base, every flash %s %s%s.", mark, way(x), amount(x), c.camera(base)),
	}}
}
