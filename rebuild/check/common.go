package check

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// What counts as the same. All figures are project choices but the last, which is
// what a dome makes against a flat receptor: log2(320/250) to log2(340/250), by
// the constants that ISO 2720 allows each.
const (
	sameStops   = 0.15 // from their median
	leastCommon = 0.1  // stops that lights must share before a cause is looked for
	manyLights  = 5    // of so many one may stand out
	mostISO     = 3    // whole stops that a meter's ISO is taken to be wrong by
	dome        = 0.4
	domeWithin  = 0.05
)

// common looks for one cause behind several lights: never behind one alone.
func (c *checker) common() {
	var others, all []*Finding
	zeroRight := !c.said
	zeroGiven := false
	for i := range c.out.Lights {
		f := &c.out.Lights[i]
		switch {
		case f.Off == nil:
			zeroGiven = true
			continue
		case f.IsZero:
			zeroGiven, zeroRight = true, f.Within
		default:
			others = append(others, f)
		}
		all = append(all, f)
	}
	if c.said && (zeroGiven || aperturesOnly(all)) && c.everything(all) {
		return
	}
	if c.shutter(others) {
		return
	}
	if zeroRight {
		c.zeroAlone(others)
	}
}

func aperturesOnly(all []*Finding) bool {
	return !slices.ContainsFunc(all, func(f *Finding) bool { return f.given.Av == nil })
}

// agree finds what lights have in common: all are off by the same, within
// sameStops of their median, but for one of many that has a dial. stops is that
// median; ok is false where there are fewer than two, or most are within their
// tolerance.
func (c *checker) agree(list []*Finding) (same []*Finding, stops float64, ok bool) {
	if len(list) < 2 {
		return nil, 0, false
	}
	stops = median(list)
	out, alone := 0, 0
	for _, f := range list {
		if math.Abs(*f.Off-stops) > sameStops+near {
			if alone++; c.sky(f) {
				alone = len(list)
			}
			continue
		}
		same = append(same, f)
		if !f.Within {
			out++
		}
	}
	ok = alone == 0 || alone == 1 && len(list) >= manyLights
	return same, stops, ok && 2*out > len(same) && math.Abs(stops) >= leastCommon-near
}

func median(list []*Finding) float64 {
	offs := make([]float64, 0, len(list))
	for _, f := range list {
		offs = append(offs, *f.Off)
	}
	slices.Sort(offs)
	n := len(offs)
	return (offs[(n-1)/2] + offs[n/2]) / 2
}

// share sets down a cause and what it leaves of each light.
func (c *checker) share(cause string, stops float64, same []*Finding, text ...string) *Common {
	c.out.Common = &Common{Cause: cause, Stops: round(stops), Remedies: []Remedy{}, Text: strings.Join(text, " ")}
	for _, f := range same {
		f.shared = true
		c.out.Common.Lights = append(c.out.Common.Lights, f.Name)
	}
	return c.out.Common
}

// everything looks at all that was metered, the zero with it, against a base that
// was said.
func (c *checker) everything(all []*Finding) bool {
	same, stops, ok := c.agree(all)
	if !ok {
		return false
	}
	for _, f := range all {
		f.Left = *f.Off - stops
	}
	how := fmt.Sprintf("%s %s.", counted(same, len(all), ""), reading(same, stops))
	whole := math.Round(stops)
	switch n := math.Abs(whole); {
	case math.Abs(stops-whole) <= sameStops+near && n >= 1 && n <= mostISO:
		c.share("meter", stops, same, how, c.wholeStops(whole))
	case math.Abs(math.Abs(stops)-dome) <= domeWithin+near:
		c.share("dome", stops, same, how, "About 0.4 everywhere is what the dome makes, in or out, or the meter turned to the camera and not to each light: hold it as the record says, and meter again.")
	default:
		c.share("base", stops, same, how, "The lights are right among themselves.")
	}
	base := *c.out.BaseAv + stops
	c.out.Common.Remedies = []Remedy{{
		Kind: "base", Stops: 0, BaseAv: finite(base),
		Short: "base " + c.s.Style().Reading(base),
		Text:  fmt.Sprintf("If the meter is right: take %s as today's base%s, or turn every light %s %s.", c.s.Style().Reading(base), c.camera(base), way(-stops), amount(stops)),
	}}
	return true
}

// wholeStops says what makes every reading wrong by whole stops.
func (c *checker) wholeStops(whole float64) string {
	n := "One whole stop everywhere"
	if math.Abs(whole) > 1 {
		n = fixed(math.Abs(whole), 0) + " whole stops everywhere"
	}
	iso := "is not the camera's"
	if c.out.ISO != nil {
		iso = fmt.Sprintf("stands at %s where %s is meant", isoText(*c.out.ISO*math.Exp2(whole)), isoText(*c.out.ISO))
	}
	diffuser := "a diffuser was left off"
	if whole < 0 {
		diffuser = "there is a diffuser too many"
	}
	if math.Abs(whole) > 1 {
		return fmt.Sprintf("%s: see first whether the meter's ISO %s. Put that right and meter again.", n, iso)
	}
	return fmt.Sprintf("%s: see first whether the meter's ISO %s, then whether %s. Put that right and meter again.", n, iso, diffuser)
}

// shutter looks at the lights that the shutter moves against the zero: where they
// share an amount, it is the shutter that is off.
func (c *checker) shutter(others []*Finding) bool {
	steadyZero := c.zeroSteady()
	var moved []*Finding
	for _, f := range others {
		if c.steady(f.lights) != steadyZero {
			moved = append(moved, f)
		}
	}
	same, stops, ok := c.agree(moved)
	if !ok || steadyZero && (c.said || len(moved) == len(others)) { // the zero stays, or it alone is off
		return false
	}
	change := -stops // of the light that burns on
	text := fmt.Sprintf("%s of the lights that the shutter moves %s, and the flashes do not.", counted(same, len(moved), ""), reading(same, stops))
	if steadyZero {
		change = stops
		text = fmt.Sprintf("%s of the flashes %s, and what burns on does not.", counted(same, len(moved), ""), reading(same, stops))
	}
	remedies := []Remedy{c.shutterRemedy(change, "")}
	if c.tooFast(change) {
		if remedies = c.baseForSteady(moved[0], stops); len(remedies) == 0 {
			return false
		}
	}
	unchanged := true
	for _, f := range moved {
		f.Left = *f.Off - stops
		unchanged = unchanged && f.Unchanged
	}
	if unchanged {
		text += " They give what they gave when recorded: it is the base, or the shutter, that is another."
	}
	c.share("shutter", stops, same, text).Remedies = remedies
	return true
}

// zeroAlone looks at all but the zero: where they share an amount, it is the zero
// that is off. What it feeds moves with it, and says nothing.
func (c *checker) zeroAlone(others []*Finding) {
	var free []*Finding
	for _, f := range others {
		if !c.fedByZero(f.lights) {
			free = append(free, f)
		}
	}
	same, stops, ok := c.agree(free)
	if !ok {
		return
	}
	for _, f := range free {
		f.Left = *f.Off - stops
	}
	zero := c.zeroFinding()
	text := []string{fmt.Sprintf("%s is %s %s: %s %s.", capital(c.out.Zero), way(-stops), amount(stops), lower(counted(same, len(free), "others")), reading(same, stops))}
	switch whole := math.Round(stops); {
	case math.Abs(whole) == 1 && math.Abs(stops-whole) <= sameStops+near:
		text = append(text, fmt.Sprintf("A whole stop: see first whether %s has a diffuser or a grid %s, and whether it was metered at the same ISO as the others.", c.out.Zero, tooMany(stops)))
	case math.Abs(math.Abs(stops)-dome) <= domeWithin+near:
		text = append(text, fmt.Sprintf("About 0.4: see first whether %s was metered as the others were, dome and aim.", c.out.Zero))
	}
	common := c.share("zero", stops, same, text...)
	common.Remedies = c.zeroRemedies(zero, stops, len(same))
}

func tooMany(stops float64) string {
	if stops > 0 {
		return "too many"
	}
	return "too few"
}

// zeroRemedies turns the zero, or where the base must stay all the others.
func (c *checker) zeroRemedies(zero *Finding, stops float64, others int) []Remedy {
	list := c.remedies(zero, -stops, c.out.Zero)
	if len(list) == 0 {
		return list
	}
	first := &list[0]
	if first.Kind == "dial" || first.Kind == "dimmer" {
		first.Text = strings.TrimSuffix(first.Text, ".") + fmt.Sprintf(", not the other %d.", others)
	}
	if c.out.BaseAv != nil && first.Kind != "base" {
		base := *c.out.BaseAv + stops
		first.Text += fmt.Sprintf(" %s then reads %s, and that is the base%s.", capital(it(c.out.Zero)), c.s.Style().Reading(base), c.camera(base))
		list = append(list, Remedy{
			Kind: "others", Stops: round(-stops), BaseAv: c.out.BaseAv, Short: way(-stops) + " " + amount(stops) + " each",
			Text: fmt.Sprintf("To stay at %s: turn each of the others %s %s.", c.out.Base, way(-stops), amount(stops)),
		})
	}
	return list
}

// zeroFinding is the zero as a finding, given or not.
func (c *checker) zeroFinding() *Finding {
	for _, list := range [][]Finding{c.out.Lights, c.out.ToMeter} {
		for i := range list {
			if list[i].IsZero {
				return &list[i]
			}
		}
	}
	return nil
}

func (c *checker) zeroSteady() bool {
	z := c.zeroFinding()
	return z != nil && c.steady(z.lights)
}

// camera is where the camera goes at another base, as a clause.
func (c *checker) camera(base float64) string {
	p := c.n.Exposure.Placing
	if p == nil {
		return ""
	}
	return ", the camera at " + c.s.Exposure.CameraMark(base+*p)
}
