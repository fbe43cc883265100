package check

import (
	"fmt"
	"math"

	"stopleaf/exposure"
	"stopleaf/setup"
)

// Neutral densities that are made for lights, and what they take in stops: 0.3 is
// one stop (common practice; exactly D / log10 2).
var densities = []struct{ mark, stops float64 }{{0.15, 0.5}, {0.3, 1}, {0.6, 2}, {0.9, 3}, {1.2, 4}}

const leastDensity = 0.4 // stops, below which none is worth putting up

// density takes x stops off a light with the nearest neutral density, and the rest
// on the dial.
func (c *checker) density(x, tolerance float64, dial string) Remedy {
	best := densities[0]
	for _, d := range densities {
		if math.Abs(d.stops-x) < math.Abs(best.stops-x) {
			best = d
		}
	}
	r := Remedy{Kind: "density", Stops: round(-x), Density: finite(best.mark), Short: "ND " + fixed(best.mark, decimalsOf(best.mark))}
	r.Text = fmt.Sprintf("If its %s goes no lower: a neutral density of %s on it takes %s", dial, fixed(best.mark, decimalsOf(best.mark)), stopsOf(best.stops))
	if rest := best.stops - x; math.Abs(rest) > tolerance+near {
		r.Text += fmt.Sprintf(", then turn it %s %s", way(rest), amount(rest))
	}
	r.Text += "."
	return r
}

// densityBelow takes off a light what its dial cannot, and sets the dial for the
// rest.
func (c *checker) densityBelow(f *Finding, d dialled) Remedy {
	need := -d.short
	best := densities[len(densities)-1]
	if need > best.stops+f.Tolerance+near {
		return Remedy{Kind: "none", Stops: round(d.short), Short: "down " + amount(need) + " more than it can",
			Text: d.why + ", which is more than a neutral density takes. Is the reading right?"}
	}
	for _, n := range densities {
		if n.stops >= need-f.Tolerance-near {
			best = n
			break
		}
	}
	mark := fixed(best.mark, decimalsOf(best.mark))
	r := Remedy{Kind: "density", Stops: round(-best.stops), Density: finite(best.mark), Short: "ND " + mark}
	r.Text = fmt.Sprintf("%s: put a neutral density of %s on it, which takes %s", d.why, mark, stopsOf(best.stops))
	then := math.Max(d.power+best.stops, d.power-d.short) // no lower than its least
	if len(f.lights) > 0 && then <= near {
		to := c.mark(f.lights[0], then)
		r.To, r.ToStops = to, finite(then)
		r.Short += ", dial to " + to
		r.Text += ", and set its dial to " + to
	}
	r.Text += "."
	if need <= 1+near {
		r.Text += " Another layer of diffusion takes half a stop to a stop (common practice), and softens it."
	}
	return r
}

func decimalsOf(mark float64) int {
	if math.Abs(mark*10-math.Round(mark*10)) < near {
		return 1
	}
	return 2
}

func stopsOf(n float64) string {
	switch n {
	case 0.5:
		return "half a stop"
	case 1:
		return "1 stop"
	}
	return fixed(n, 0) + " stops"
}

// mostMove is how far a light may be moved to change its level, as a part of its
// distance. What is beyond it is another light.
const mostMove = 0.15

// distance moves a light along its aim line, by the emission model, where that is
// not far.
func (c *checker) distance(f *Finding, x float64, who string) []Remedy {
	if len(f.lights) == 0 {
		return nil
	}
	i := f.lights[0]
	l, throw := &c.in.Lights[i], c.n.Lights[i].ThrowM
	if throw == nil {
		return nil
	}
	to, ok := exposure.DistanceFor(l.Shape, l.Width, l.Height, *throw, x)
	if !ok || math.Abs(to-*throw) > mostMove**throw+near {
		return nil
	}
	move := to - *throw
	where := "further back"
	if move < 0 {
		where = "closer"
	}
	length := setup.FormatLength(to, c.s.Units)
	return []Remedy{{
		Kind: "distance", Stops: round(-x), MoveM: finite(move), ToM: finite(to), Estimated: true,
		Short: fmt.Sprintf("%s %s, to %s", c.small(math.Abs(move)), where, length),
		Text: fmt.Sprintf("Move %s %s %s along its aim line, to %s from %s (est., the look changes).",
			who, c.small(math.Abs(move)), where, length, c.aimed(i)),
	}}
}

// aimed is what a light is aimed at, in a sentence.
func (c *checker) aimed(i int) string {
	switch a := &c.s.Lights[i].Aim; a.Target {
	case "face", "crown", "chest", "hands", "background":
		return "the " + a.Target
	case "", "place":
		return "where it is aimed"
	default:
		return a.Target
	}
}

// bounce is a card's distance, else its size.
func (c *checker) bounce(f *Finding, x float64, who string) []Remedy {
	out := c.distance(f, x, who)
	if len(f.lights) == 1 {
		if r, ok := c.size(f, x); ok {
			out = append(out, r)
		}
	}
	if len(out) == 0 {
		where, from, size := "further", "from", "smaller"
		if x < 0 {
			where, from, size = "closer", "to", "larger"
		}
		out = append(out, Remedy{Kind: "distance", Stops: round(-x), Estimated: true, Short: where + ", or " + size,
			Text: fmt.Sprintf("Move %s %s %s the subject, or take a %s one; how far the record cannot say.", who, where, from, size)})
	}
	return out
}

// mostSides is the most a panel is to grow or to shrink, each side.
const mostSides = 2

// size changes the size of a panel that is evenly lit, where it stands.
func (c *checker) size(f *Finding, x float64) (Remedy, bool) {
	i := f.lights[0]
	l, throw := &c.in.Lights[i], c.n.Lights[i].ThrowM
	if throw == nil || l.Width == nil || l.Height == nil {
		return Remedy{}, false
	}
	brighter := func(k float64) float64 {
		w, h := *l.Width*k, *l.Height*k
		now, ok := exposure.Emission(l.Shape, l.Width, l.Height, *throw)
		then, okThen := exposure.Emission(l.Shape, &w, &h, *throw)
		if !ok || !okThen {
			return math.NaN()
		}
		return math.Log2(then / now)
	}
	low, high := 1.0/mostSides, float64(mostSides)
	if !(brighter(low) <= -x) || !(brighter(high) >= -x) || l.Shape == exposure.Hard || l.Shape == exposure.Lens {
		return Remedy{}, false
	}
	for range 100 {
		if mid := (low + high) / 2; brighter(mid) < -x {
			low = mid
		} else {
			high = mid
		}
	}
	k := (low + high) / 2
	r := Remedy{Kind: "size", Stops: round(-x), Sides: finite(k), Estimated: true}
	size := setup.FormatLength(*l.Width*k, c.s.Units) + " × " + setup.FormatLength(*l.Height*k, c.s.Units)
	r.Short = "a panel of " + size
	r.Text = fmt.Sprintf("Take a panel of about %s (est., the look changes).", size)
	if k < 1 {
		part := fixed(100*(1-k*k), 0) + " %"
		r.Short = "cover " + part
		r.Text = fmt.Sprintf("Cover about %s of it with black from its edges (est., the look changes).", part)
	}
	return r, true
}

// dimmer turns a continuous light down or up.
func (c *checker) dimmer(f *Finding, x float64, who string) []Remedy {
	l := &c.s.Lights[f.lights[0]]
	r := Remedy{Kind: "dimmer", Stops: round(-x), Short: "dimmer " + way(-x) + " " + amount(x)}
	whose := map[string]string{"it": "its dimmer", "both": "both dimmers"}[who]
	if whose == "" {
		whose = "the dimmer of " + who
	}
	turn := fmt.Sprintf("Turn %s %s %s", whose, way(-x), amount(x))
	if f.UnchangedAv == nil || l.Dimmer == nil || f.ShouldAv == nil {
		r.Text = turn + "."
		return []Remedy{r}
	}
	now := *l.Dimmer * math.Exp2(*f.ShouldAv-*f.UnchangedAv)
	then := now * math.Exp2(-x)
	if then > 100*math.Exp2(f.Tolerance) {
		return nil
	}
	then = math.Min(then, 100)
	r.To, r.Estimated = percent(then), true
	r.ToStops = finite(math.Log2(then / 100))
	r.Short += ", to " + r.To
	r.Text = fmt.Sprintf("%s, to %s if it dims evenly (est.).", turn, r.To)
	if now <= 100 {
		r.From = percent(now)
		r.Text = fmt.Sprintf("%s: from %s to %s if it dims evenly (est.).", turn, r.From, r.To)
	}
	return []Remedy{r}
}

func percent(x float64) string {
	if x < 20 {
		return fixed(x, 1) + " %"
	}
	return fixed(x, 0) + " %"
}
