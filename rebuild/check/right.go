package check

import (
	"fmt"
	"math"
)

// putRight gives each light what is left of its error once the common cause, the
// shutter and what feeds it are right, and what to do about that.
func (c *checker) putRight() {
	by := map[int]*Finding{}
	for i := range c.out.Lights {
		f := &c.out.Lights[i]
		for _, l := range f.lights {
			by[l] = f
		}
	}
	set, moved := c.shutterFirst()
	for i := range c.out.Lights {
		if f := &c.out.Lights[i]; f.Off != nil && f != set && c.steady(f.lights) {
			f.Left += moved
		}
	}
	own := map[*Finding]float64{}
	for i := range c.out.Lights {
		f := &c.out.Lights[i]
		own[f] = f.Left
	}
	for i := range c.out.Lights {
		f := &c.out.Lights[i]
		if f.Off == nil {
			continue
		}
		fed, from := c.fed(f, by, own)
		f.Left = round(own[f] - fed)
		first := ""
		switch {
		case fed != 0:
			first = listed(from)
		case moved != 0 && f != set && c.steady(f.lights):
			first = "the shutter"
		}
		switch {
		case f == set:
		case f.shared && math.Abs(f.Left) <= sameStops+near:
		case math.Abs(f.Left) > f.Tolerance+near:
			f.Remedies = c.remedies(f, f.Left, "it")
			if first != "" {
				f.Remedies = append([]Remedy{follow(first, "will then be "+over(f.Left))}, f.Remedies...)
			}
		case first != "" && !f.Within:
			f.Remedies = []Remedy{follow(first, "will follow")}
		}
	}
}

// shutterFirst finds the light that the shutter is to put right, and by how much
// that moves all that burns on: a light with a dimmer comes after it.
func (c *checker) shutterFirst() (set *Finding, moved float64) {
	for i := range c.out.Lights {
		f := &c.out.Lights[i]
		if f.Off == nil || f.shared || !c.sky(f) || math.Abs(f.Left) <= f.Tolerance+near {
			continue
		}
		f.Left = round(f.Left)
		if f.Remedies = c.remedies(f, f.Left, "it"); f.Remedies[0].Kind == "shutter" {
			return f, f.Remedies[0].Stops
		}
	}
	return nil, 0
}

// follow puts what moves a light right first.
func follow(first, then string) Remedy {
	return Remedy{Kind: "follow", Short: "first " + first, Text: fmt.Sprintf("Put %s right first, and meter this again: it moves with that, and %s.", first, then)}
}

// fed is what a card is off by because what lights it is, in stops, and the names
// of that; 0 where that is right, not given, or not the same for two that feed it.
func (c *checker) fed(f *Finding, by map[int]*Finding, own map[*Finding]float64) (stops float64, from []string) {
	if len(f.lights) != 1 {
		return 0, nil
	}
	feeders := c.feeders(f.lights[0])
	for _, i := range feeders {
		g := by[i]
		switch {
		case g == nil || g.Off == nil || g == f:
			return 0, nil
		case math.Abs(own[g]) <= g.Tolerance+near || g.shared && math.Abs(own[g]) <= sameStops+near:
			return 0, nil
		case math.Abs(own[g]-own[by[feeders[0]]]) > sameStops:
			return 0, nil
		}
		stops += own[g] / float64(len(feeders))
		from = append(from, c.s.Lights[i].Name)
	}
	return stops, from
}
