package check

import (
	"fmt"
	"math"
	"slices"

	"stopleaf/exposure"
)

// findings lists what was given and what is still to be metered, in metering
// order: the room's own light where it counts, then the lights.
func (c *checker) findings() {
	e := &c.s.Exposure
	if g := c.given(nil); g != nil || e.Zero == exposure.Ambient || e.AmbientAv != nil && e.KeyAv != nil {
		c.add(nil, g)
	}
	done := map[int]bool{}
	for _, i := range c.s.MeteringOrder() {
		if done[i] {
			continue
		}
		lights := []int{i}
		g := c.given(lights)
		if g != nil {
			lights = g.Lights
		}
		for _, i := range lights {
			done[i] = true
		}
		c.add(lights, g)
	}
}

// given is the reading of the first of lights, or with none of the room's own
// light.
func (c *checker) given(lights []int) *Given {
	for i := range c.today.Readings {
		g := &c.today.Readings[i]
		if len(lights) == 0 && g.Ambient() || len(lights) > 0 && slices.Contains(g.Lights, lights[0]) {
			return g
		}
	}
	return nil
}

// add lists one finding.
func (c *checker) add(lights []int, g *Given) {
	f := Finding{Numbers: []int{}, Name: "Ambient", IsZero: c.isZero(lights), Remedies: []Remedy{}, lights: lights}
	for _, i := range lights {
		f.Numbers = append(f.Numbers, c.s.Lights[i].Number)
	}
	if len(lights) > 0 {
		l := &c.s.Lights[lights[0]]
		if f.Name = l.Name; len(lights) > 1 {
			f.Name = l.Pair.Of + " (both)"
		}
	}
	f.ShouldDelta = round(c.difference(lights))
	f.ShouldAv = raised(c.out.BaseAv, f.ShouldDelta)
	if f.ShouldAv != nil {
		f.Should = c.s.Style().Reading(*f.ShouldAv)
	} else if !f.IsZero {
		f.Should = over(f.ShouldDelta)
	}
	f.Tolerance = round(c.tolerance(lights))
	f.Within = true
	f.UnchangedAv = c.unchanged(lights, f.ShouldDelta)
	if g == nil {
		c.out.ToMeter = append(c.out.ToMeter, f)
		return
	}
	f.given = g
	c.read(&f, g)
	c.out.Lights = append(c.out.Lights, f)
}

// difference is what lights were recorded to read over the zero: of both of a
// pair burning together the sum of their light.
func (c *checker) difference(lights []int) float64 {
	e := &c.s.Exposure
	switch {
	case c.isZero(lights):
		return 0
	case len(lights) == 0:
		return *e.AmbientAv - *e.KeyAv
	}
	sum := 0.0
	for _, i := range lights {
		sum += math.Exp2(c.s.Lights[i].Delta)
	}
	return math.Log2(sum)
}

// read sets down what was read against what should be.
func (c *checker) read(f *Finding, g *Given) {
	f.ReadsAv = raised(g.Av, 0)
	switch {
	case g.Av != nil:
		f.Reads = c.s.Style().Reading(*g.Av)
	default:
		f.Reads = over(*g.Difference)
		from := c.zeroAv
		if from == nil {
			from = c.out.BaseAv
		}
		f.ReadsAv = raised(from, *g.Difference)
	}
	var off float64
	switch {
	case f.IsZero && !c.said:
		return // it sets the base
	case f.ReadsAv != nil && f.ShouldAv != nil:
		off = *f.ReadsAv - *f.ShouldAv
	default:
		off = *g.Difference - f.ShouldDelta
	}
	off = round(off)
	f.Off, f.Left = &off, off
	f.Within = math.Abs(off) <= f.Tolerance+near
	f.Unchanged = f.ReadsAv != nil && f.UnchangedAv != nil && math.Abs(*f.ReadsAv-*f.UnchangedAv) <= f.Tolerance+near
}

// The least a light may be off, and what a step of a dial is unless said, stops.
const (
	leastTolerance = 0.1
	usualStep      = 0.1
)

// tolerance is what lights may be off: what was said, else their own, else the
// larger of a tenth and half a step of their dial.
func (c *checker) tolerance(lights []int) float64 {
	if c.today.Tolerance != nil {
		return *c.today.Tolerance
	}
	most := leastTolerance
	for _, i := range lights {
		if t := c.s.Lights[i].Tolerance; t != nil {
			return *t
		}
		if h := c.in.Lights[i].Head; h != nil && h.Step != nil {
			most = math.Max(most, *h.Step/2)
		}
	}
	return most
}

// unchanged is what a light that burns on gives at today's ISO and shutter, if
// nothing about it has changed since the record.
func (c *checker) unchanged(lights []int, delta float64) *float64 {
	e := &c.s.Exposure
	if !c.steady(lights) || e.KeyAv == nil || c.out.ISO == nil || e.ISO == nil || c.out.ShutterS == nil || e.ShutterS == nil {
		return nil
	}
	av := round(*e.KeyAv + delta + c.moreISO + stopsOver(c.out.ShutterS, e.ShutterS))
	return &av
}

// steady reports whether lights burn on, and so follow the shutter: continuous
// light, daylight, the room's own, and a card that one of them feeds.
func (c *checker) steady(lights []int) bool {
	if len(lights) == 0 {
		return true
	}
	return c.steadyLight(lights[0], len(c.s.Lights))
}

func (c *checker) steadyLight(i, depth int) bool {
	switch l := &c.s.Lights[i]; l.Source {
	case exposure.Continuous, exposure.Daylight:
		return true
	case exposure.Bounce:
		from := c.feeders(i)
		return len(from) > 0 && depth > 0 && c.steadyLight(from[0], depth-1)
	}
	return false
}

// feeders are the lights that a bounce is lit by.
func (c *checker) feeders(i int) []int {
	l := &c.s.Lights[i]
	var out []int
	if l.Source != exposure.Bounce || l.LitBy == "" {
		return nil
	}
	for j := range c.s.Lights {
		f := &c.s.Lights[j]
		if j != i && (f.Name == l.LitBy || f.Pair != nil && f.Pair.Of == l.LitBy) {
			out = append(out, j)
		}
	}
	return out
}

// fedByZero reports whether all the light of a bounce comes from the zero.
func (c *checker) fedByZero(lights []int) bool {
	if len(lights) != 1 {
		return false
	}
	i := lights[0]
	for range c.s.Lights {
		from := c.feeders(i)
		if len(from) != 1 {
			return false
		}
		if i = from[0]; c.s.IsZero(&c.s.Lights[i]) {
			return true
		}
	}
	return false
}

// over is a difference from the zero or from what should be, in words: "0.4
// over", to a tenth.
func over(stops float64) string { return overTo(stops, 1) }

func overTo(stops float64, places int) string {
	size := fixed(math.Abs(stops), places)
	switch {
	case size == fixed(0, places):
		return "0"
	case stops < 0:
		return size + " under"
	}
	return size + " over"
}

// fixed prints a figure to so many places, ties away from zero.
func fixed(x float64, places int) string {
	p := math.Pow(10, float64(places))
	return fmt.Sprintf("%.*f", places, math.Floor(x*p+0.5+near)/p)
}

// Words is how far off a finding is: "0.4 over", with another place where a
// tenth would say that it is within its tolerance.
func (f *Finding) Words() string {
	switch {
	case f.Off == nil:
		return ""
	case !f.Within && math.Abs(math.Round(*f.Off*10)/10) <= f.Tolerance+near:
		return overTo(*f.Off, 2)
	}
	return over(*f.Off)
}

// round keeps nine places, so that processors agree, and gives no -0.
func round(x float64) float64 { return math.Round(x*1e9)/1e9 + 0 }
