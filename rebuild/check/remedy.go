package check

import (
	"fmt"
	"math"
	"strings"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
)

// remedies are what can be done about lights that are too bright by x stops (too
// dim where x is negative), best first. who is how the first sentence calls them.
func (c *checker) remedies(f *Finding, x float64, who string) []Remedy {
	source := exposure.Daylight // the room's own light is taken as it comes
	if len(f.lights) > 0 {
		source = c.s.Lights[f.lights[0]].Source
	}
	if who == "it" && len(f.lights) > 1 {
		who = "both"
	}
	var out []Remedy
	switch source {
	case exposure.Flash:
		out = c.flash(f, x, who)
	case exposure.Bounce:
		out = c.bounce(f, x, who)
	case exposure.Continuous:
		out = c.dimmer(f, x, who)
		out = append(out, c.shutterFor(f, x)...)
		if x >= leastDensity {
			out = append(out, c.density(x, f.Tolerance, "dimmer"))
		}
		out = append(out, c.distance(f, x, who)...)
	default:
		if out = c.shutterFor(f, x); len(out) == 0 {
			out = c.baseForSteady(f, x)
		}
	}
	if len(out) == 0 {
		out = append(out, Remedy{Kind: "none", Stops: round(-x), Short: way(-x) + " " + amount(x),
			Text: fmt.Sprintf("It must come %s %s, and nothing that the record knows of does that.", way(-x), amount(x))})
	}
	return out
}

// flash is the dial, then a neutral density, then the distance, then another base.
func (c *checker) flash(f *Finding, x float64, who string) []Remedy {
	d := c.dial(f, x, who)
	var out []Remedy
	if d.short == 0 {
		out = append(out, d.remedy)
		if x >= leastDensity && !d.sure {
			out = append(out, c.density(x, f.Tolerance, "dial"))
		}
		return append(out, c.distance(f, x, who)...)
	}
	if d.short < 0 {
		out = append(out, c.densityBelow(f, d))
	}
	out = append(out, c.distance(f, x, who)...)
	if base, ok := c.otherBase(f, d); ok {
		out = append(out, base)
	}
	if len(out) == 0 {
		out = append(out, Remedy{Kind: "none", Stops: round(-x), Short: way(-x) + " " + amount(x), Text: d.why + "."})
	}
	return out
}

// dialled is what a light's dial can do.
type dialled struct {
	remedy Remedy
	power  float64 // what it must be set to, stops from full, where that is known
	short  float64 // stops over full (positive) or under the least (negative) that is; 0 where it can
	sure   bool    // that it can is known
	why    string  // why it cannot
}

// dial turns the dial: by so many stops, and from where the record puts it today
// to where it must be, where its power is known.
func (c *checker) dial(f *Finding, x float64, who string) dialled {
	out := dialled{remedy: Remedy{Kind: "dial", Stops: round(-x), Short: way(-x) + " " + amount(x)}, sure: true}
	out.remedy.Text = fmt.Sprintf("Turn %s %s %s", who, way(-x), amount(x))
	var from, to []string
	for _, i := range f.lights {
		l := &c.in.Lights[i]
		head := exposure.Head{}
		if l.Head != nil {
			head = *l.Head
		}
		if l.Power == nil || c.in.KeyAv == nil || c.out.BaseAv == nil {
			out.sure = false
			out.remedy.Text += unknownDial(head, x)
			return out
		}
		marked := func(stops float64) float64 {
			return apex.DialStops(stops, apex.Dial(head.Dial), head.Step, head.EnergyWs)
		}
		now := marked(*l.Power + *c.out.BaseAv - *c.in.KeyAv) // it stands on one of its marks
		then := now - x
		out.power = then
		most, least := 0.0, math.Inf(-1)
		if head.Range != nil {
			least = -*head.Range
		} else {
			out.sure = false
		}
		mark := func(stops float64) string {
			return apex.FormatDial(stops, apex.Dial(head.Dial), head.Step, head.EnergyWs)
		}
		switch {
		case then > most+f.Tolerance+near:
			out.short = then
			out.why = fmt.Sprintf("Its dial cannot: full is %s short", amount(then))
		case then < least-f.Tolerance-near:
			out.short = then - least
			out.why = fmt.Sprintf("Its dial cannot: %s is its least, and %s too much", mark(least), amount(out.short))
		}
		then = math.Max(least, math.Min(most, marked(then)))
		if now <= most+near && now >= least-near {
			from = appendNew(from, mark(now))
		}
		to = appendNew(to, mark(then))
		out.remedy.ToStops = finite(then)
	}
	out.remedy.From, out.remedy.To = strings.Join(from, " and "), strings.Join(to, " and ")
	out.remedy.Short += ", to " + out.remedy.To
	switch {
	case out.remedy.From == out.remedy.To:
		out.remedy.Text += fmt.Sprintf(", which is less than a step of its dial from %s.", out.remedy.To)
	case out.remedy.From == "":
		out.remedy.Text += fmt.Sprintf(", to %s.", out.remedy.To)
	default:
		out.remedy.Text += fmt.Sprintf(": from %s to %s.", out.remedy.From, out.remedy.To)
	}
	return out
}

func appendNew(list []string, s string) []string {
	if len(list) > 0 && list[len(list)-1] == s {
		return list
	}
	return append(list, s)
}

// unknownDial says what a turn is on a head's own scale where its power is not
// known.
func unknownDial(h exposure.Head, x float64) string {
	switch {
	case h.Dial.Kind == "percent" || h.Dial.Kind == "ws":
		return fmt.Sprintf(", to %s times what its dial shows.", fixed(math.Exp2(-x), 2))
	case h.Step != nil && *h.Step > usualStep+near:
		n := math.Max(1, math.Round(math.Abs(x) / *h.Step))
		if n == 1 {
			return ", one step of its dial."
		}
		return fmt.Sprintf(", %s steps of its dial.", fixed(n, 0))
	}
	return "."
}
