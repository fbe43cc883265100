// Package compare says what differs between two setups: light by light in
// stops, degrees and lengths, then camera, exposure, subject, background and
// room.
//
// It belongs here when it is about two setups side by side. What one setup says
// belongs to package setup, its figures to package exposure.
package compare

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
	"stopleaf/setup"
)

// What counts as the same, each up to and including it.
const (
	Stops  = 0.1  // stops; readings, times and speeds by the stops between them
	Length = 0.02 // m
	Angle  = 2.0  // degrees; an angle from the subject is also the same where its arc is within Length
)

// Side is one of the two setups, in the look that is compared, with its figures.
type Side struct {
	Setup   *setup.Setup
	Numbers *exposure.Numbers
}

// Result is what Compare found.
type Result struct {
	A, B     Side
	From     [2]string // what stops are from in A and in B: a light's name or exposure.Ambient; "" where differences do not compare
	Mirrored bool      // B looks like A mirrored
	Notes    []Note
	Lights   []Pair // those that change the light most first
	Grip     []Pair
	Set      []Group
}

// Note is what to know before the differences are read.
type Note struct {
	Code string `json:"code"` // stable, kebab-case: "metered-differently"
	Text string `json:"text"`
}

// How two items were matched.
const (
	ByName  = "name"
	ByRole  = "role"
	ByKind  = "kind" // of grip
	ByPlace = "place"
)

// Pair is a light or a grip item of A and what it is in B.
type Pair struct {
	A, B  *Item  // nil for one that only the other has
	How   string // "" for one alone
	Facts []Fact
	Stops *float64 // how much brighter it is in B; nil where that is unknown or does not compare
	Moved *float64 // m, between its two places; on the floor where a height is unknown
}

// Item is one light or grip item as it is called.
type Item struct {
	Number int    `json:"number"`
	Name   string `json:"name"`
	Role   string `json:"role"` // of grip: its kind
	Off    bool   `json:"off"`
}

// Group is a part of the setup that both have once: "camera".
type Group struct {
	Name  string
	Facts []Fact
}

// Compare compares two setups.
func Compare(a, b Side) *Result {
	r := &Result{A: a, B: b}
	m := matching{a: a.Setup, b: b.Setup}
	m.lights()
	m.grip()
	c := comparison{Result: r, matching: &m, units: a.Setup.Units, style: a.Setup.Style()}
	c.reference()
	for _, p := range m.ofLights {
		r.Lights = append(r.Lights, c.light(p))
	}
	for _, p := range m.ofGrip {
		r.Grip = append(r.Grip, c.gripItem(p))
	}
	byImportance(r.Lights)
	byImportance(r.Grip)
	r.Set = c.set()
	c.mirrored()
	return r
}

// byImportance puts what only one has first, then by stops, then by how far it
// moved, what changed otherwise, the rest.
func byImportance(list []Pair) {
	slices.SortStableFunc(list, func(p, q Pair) int {
		return cmp.Or(cmp.Compare(q.weight(), p.weight()), cmp.Compare(q.moved(), p.moved()),
			cmp.Compare(count(q.Facts), count(p.Facts)), cmp.Compare(strings.ToLower(p.Name()), strings.ToLower(q.Name())))
	})
}

func (p *Pair) weight() float64 {
	switch {
	case p.Alone():
		return math.Inf(1)
	case p.Stops == nil || near(*p.Stops, 0, Stops):
		return 0
	}
	return math.Abs(*p.Stops)
}

func (p *Pair) moved() float64 {
	if p.Moved == nil || near(*p.Moved, 0, Length) {
		return 0
	}
	return *p.Moved
}

func count(facts []Fact) (n int) {
	for i := range facts {
		if facts[i].Differs() {
			n++
		}
	}
	return n
}

// Alone reports whether only one of the two has it, or has it on.
func (p *Pair) Alone() bool { return p.A == nil || p.B == nil || p.A.Off != p.B.Off }

// Differs reports whether it is not the same in both.
func (p *Pair) Differs() bool { return p.Alone() || count(p.Facts) > 0 }

// Name is what it is called in A, else in B.
func (p *Pair) Name() string {
	if p.A != nil {
		return p.A.Name
	}
	return p.B.Name
}

// Differs reports whether any of its facts does.
func (g *Group) Differs() bool { return count(g.Facts) > 0 }

// Same reports whether nothing that both say differs.
func (r *Result) Same() bool {
	for _, list := range [][]Pair{r.Lights, r.Grip} {
		for i := range list {
			if list[i].Differs() {
				return false
			}
		}
	}
	return !slices.ContainsFunc(r.Set, func(g Group) bool { return g.Differs() })
}

// comparison is a comparison under way.
type comparison struct {
	*Result
	*matching
	units setup.Units // of every length that is printed: those of A
	style apex.Style
	ref   [2]*setup.Light // the light that stops are from, in each; nil for ambient and for none
	zero  [2]float64      // what ref differs from the zero of its own file, stops
}

func (c *comparison) note(code, format string, args ...any) {
	c.Notes = append(c.Notes, Note{code, fmt.Sprintf(format, args...)})
}

// reference settles what stops are from. Where the two files have not the same
// zero, it is a light that is the zero of one and that both have.
func (c *comparison) reference() {
	a, b := zeroOf(c.a), zeroOf(c.b)
	switch {
	case a == nil && b == nil:
		c.From = [2]string{exposure.Ambient, exposure.Ambient}
		return
	case a != nil && b != nil && c.toB[a] == b:
		c.ref = [2]*setup.Light{a, b}
	default:
		c.ref = c.common(a, b)
		if c.ref[0] == nil {
			c.note("zero-differs", "the zero is %s in A and %s in B, and neither is in both: differences in stops do not compare", zeroName(a), zeroName(b))
			return
		}
		c.zero = [2]float64{c.ref[0].Delta, c.ref[1].Delta}
		c.note("zero-differs", "the zero is %s in A and %s in B: stops are from %s", zeroName(a), zeroName(b), both(c.ref[0].Name, c.ref[1].Name))
	}
	if !meteredAlike(c.ref[0], c.ref[1]) {
		c.note("metered-differently", "%s, which stops are from, was metered %s in A and %s in B: differences in stops do not compare", both(c.ref[0].Name, c.ref[1].Name), meterText(c.ref[0]), meterText(c.ref[1]))
		return
	}
	c.From = [2]string{c.ref[0].Name, c.ref[1].Name}
}

// common finds a light that is the zero of one file and is in both: the key if
// there is one, so that it is the same whichever file is A.
func (c *comparison) common(a, b *setup.Light) (ref [2]*setup.Light) {
	var found [][2]*setup.Light
	if to := c.toB[a]; a != nil && to != nil && !to.Off {
		found = append(found, [2]*setup.Light{a, to})
	}
	if to := c.toA[b]; b != nil && to != nil && !to.Off {
		found = append(found, [2]*setup.Light{to, b})
	}
	if len(found) == 0 {
		return ref
	}
	rank := func(p [2]*setup.Light) string {
		names := []string{strings.ToLower(p[0].Name), strings.ToLower(p[1].Name)}
		slices.Sort(names)
		key := "1"
		if p[0].Role == "key" || p[1].Role == "key" {
			key = "0"
		}
		return key + strings.Join(names, "\x00")
	}
	slices.SortFunc(found, func(p, q [2]*setup.Light) int { return strings.Compare(rank(p), rank(q)) })
	return found[0]
}

// compares reports whether stops from the reference compare.
func (c *comparison) compares() bool { return c.From[0] != "" }

// zeroOf is the light that every difference is from; nil for ambient.
func zeroOf(s *setup.Setup) *setup.Light {
	for i := range s.Lights {
		if s.IsZero(&s.Lights[i]) {
			return &s.Lights[i]
		}
	}
	return nil
}

func zeroName(l *setup.Light) string {
	if l == nil {
		return exposure.Ambient
	}
	return l.Name
}

// both is one name, or two where it goes by another in B.
func both(a, b string) string {
	if strings.EqualFold(a, b) {
		return a
	}
	return a + " (" + b + " in B)"
}

// refAv is what the reference reads in A or B; nil where that is not known.
func (c *comparison) refAv(side int) *float64 {
	av := []*setup.Setup{c.a, c.b}[side].Exposure.KeyAv
	if av == nil {
		return nil
	}
	v := *av + c.zero[side]
	return &v
}

// meteredAlike reports whether the meter was held the same way. A dome that one
// does not speak of is no difference.
func meteredAlike(a, b *setup.Light) bool {
	x, y := a.Meter, b.Meter
	return strings.EqualFold(x.At, y.At) && strings.EqualFold(x.Toward, y.Toward) && (x.Dome == y.Dome || x.Dome == "" || y.Dome == "")
}

func meterText(l *setup.Light) string {
	s := "at the " + strings.TrimPrefix(l.Meter.At, "the ")
	if l.Meter.Dome != "" {
		s += ", dome " + l.Meter.Dome
	}
	toward := strings.TrimPrefix(l.Meter.Toward, "the ")
	return s + ", toward the " + toward
}

func near(a, b, within float64) bool { return math.Abs(a-b) <= within+1e-9 }
