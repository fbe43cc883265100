// Package check holds today's readings against a setup: what each light should
// read, by how much it is off, and what to do about it, a common cause first.
//
// It belongs here when it follows from a setup and some readings alone. It reads
// and writes no files and prints nothing; its sentences are plain English, as a
// terminal shows them.
//
// Every difference is in stops and positive where a light is too bright. A
// remedy's stops say how the light is to change: negative is down.
package check

import (
	"math"
	"slices"

	"stopleaf/exposure"
	"stopleaf/setup"
)

// Today is what is known of today.
type Today struct {
	Readings []Given
	BaseAv   *float64 // what the zero is to read, where that was said
	ISO      *float64 // where it was said; else that of the record
	ShutterS *float64 // seconds, likewise
	// Tolerance is what every light may be off, in stops; nil is each light's own,
	// else the larger of a tenth and half a step of its dial.
	Tolerance *float64
}

// Result is what the readings say.
type Result struct {
	ISO      *float64  `json:"iso"`
	ShutterS *float64  `json:"shutter_s"`
	BaseAv   *float64  `json:"base_av"`   // null where all readings are differences
	Base     string    `json:"base"`      // in the setup's notation, "" without one
	BaseFrom string    `json:"base_from"` // "reading", "said" or ""
	Zero     string    `json:"zero"`      // what every difference is from
	Within   bool      `json:"within"`    // all that was given is within its tolerance
	Common   *Common   `json:"common"`    // null without a common cause
	Lights   []Finding `json:"lights"`    // in metering order
	ToMeter  []Finding `json:"to_meter"`  // those not given, in metering order
}

// Finding is one light, both of a pair metered together, or the room's own light.
type Finding struct {
	Numbers     []int    `json:"numbers"` // of the table of lights; empty for the room's own
	Name        string   `json:"name"`
	IsZero      bool     `json:"is_zero"`
	ShouldDelta float64  `json:"should_delta"` // from the zero, as recorded
	ShouldAv    *float64 `json:"should_av"`    // null without a base
	Should      string   `json:"should"`
	ReadsAv     *float64 `json:"reads_av"`
	Reads       string   `json:"reads"`
	Off         *float64 `json:"off"` // null where it sets the base, or was not given
	Tolerance   float64  `json:"tolerance"`
	Within      bool     `json:"within"`
	// Left is what is still off once the common cause, the shutter, and what feeds
	// this light are put right.
	Left float64 `json:"left"`
	// UnchangedAv is what a light that follows the shutter gives today if nothing
	// about it has changed since the record; null for all others.
	UnchangedAv *float64 `json:"unchanged_av"`
	Remedies    []Remedy `json:"remedies"` // best first

	// Unchanged: a light that follows the shutter gives what it gave then.
	Unchanged bool `json:"unchanged"`

	lights []int
	given  *Given
	shared bool // the common cause is behind it
}

// Remedy is one way to put a light right. "follow" is to put another right first,
// "others" to turn all the others and not the zero, "none" what must be and nothing
// known of does. What a kind does not have is null, or "".
type Remedy struct {
	Kind      string   `json:"kind"`  // "dial", "dimmer", "density", "distance", "size", "shutter", "base", "follow", "others", "none"
	Stops     float64  `json:"stops"` // how the light changes
	From      string   `json:"from"`  // on the dial, by the record at this base
	To        string   `json:"to"`
	ToStops   *float64 `json:"to_stops"` // from full
	Density   *float64 `json:"density"`
	MoveM     *float64 `json:"move_m"` // along the aim line, positive further off
	ToM       *float64 `json:"to_m"`
	Sides     *float64 `json:"sides"` // times each side of the panel
	ShutterS  *float64 `json:"shutter_s"`
	BaseAv    *float64 `json:"base_av"`
	Estimated bool     `json:"est"`
	Short     string   `json:"short"` // for a table
	Text      string   `json:"text"`
}

// Common is a cause that several lights share.
type Common struct {
	Cause    string   `json:"cause"`  // "zero": it is off, the others are not; "meter", "dome", "base", "shutter"
	Stops    float64  `json:"stops"`  // by how much the lights are over
	Lights   []string `json:"lights"` // that say so
	Text     string   `json:"text"`
	Remedies []Remedy `json:"remedies"`
}

// checker is one check.
type checker struct {
	s     *setup.Setup
	today Today
	out   Result

	in      exposure.Input // the record as it would read at today's ISO, the base as its only base
	n       exposure.Numbers
	moreISO float64  // stops that today's ISO gives over the record's
	zeroAv  *float64 // what the zero reads today
	said    bool     // the base was said
}

// near is the smallest difference that counts, in stops.
const near = 1e-9

// Run holds today's readings, as a Reader gives them, against a setup. Without a
// reading of the zero and without a base, what was given as an aperture cannot be
// held against anything: see NeedsBase.
func Run(s *setup.Setup, today Today) Result {
	c := &checker{s: s, today: today}
	c.settle()
	c.findings()
	c.out.Within = !slices.ContainsFunc(c.out.Lights, func(f Finding) bool { return !f.Within })
	c.common()
	c.putRight()
	return c.out
}

// NeedsBase reports whether readings are given as apertures, and neither the zero
// nor a base to hold them against.
func NeedsBase(s *setup.Setup, today Today) bool {
	c := &checker{s: s, today: today}
	if c.settle(); c.out.BaseAv != nil {
		return false
	}
	for i := range today.Readings {
		if today.Readings[i].Av != nil {
			return true
		}
	}
	return false
}

// settle finds today's base and brings the record to it.
func (c *checker) settle() {
	e, t := &c.s.Exposure, &c.today
	c.out = Result{ISO: e.ISO, ShutterS: e.ShutterS, Zero: c.zero(), Lights: []Finding{}, ToMeter: []Finding{}}
	if t.ISO != nil {
		c.out.ISO = t.ISO
	}
	if t.ShutterS != nil {
		c.out.ShutterS = t.ShutterS
	}
	c.out.ISO, c.out.ShutterS = raised(c.out.ISO, 0), raised(c.out.ShutterS, 0)
	for i := range t.Readings {
		if g := &t.Readings[i]; g.Av != nil && c.isZero(g.Lights) {
			c.zeroAv = g.Av
		}
	}
	switch {
	case t.BaseAv != nil:
		c.said = true
		c.out.BaseAv, c.out.BaseFrom = t.BaseAv, "said"
	case c.zeroAv != nil:
		c.out.BaseAv, c.out.BaseFrom = c.zeroAv, "reading"
	}
	bases := []exposure.Base{}
	if c.out.BaseAv != nil {
		c.out.Base = c.s.Style().Base(*c.out.BaseAv)
		bases = append(bases, exposure.NewBase(*c.out.BaseAv))
	}
	c.in = c.s.Input(bases)
	c.moreISO = stopsOver(c.out.ISO, e.ISO)
	c.in.KeyAv, c.in.ApertureAv = raised(c.in.KeyAv, c.moreISO), raised(c.in.ApertureAv, c.moreISO)
	if e.ISO == nil && t.ISO != nil { // at which ISO the powers were found is not known
		c.in.KeyAv = nil
	}
	c.n = exposure.Compute(c.in)
}

// stopsOver is log2 of now over then, 0 where either is not known.
func stopsOver(now, then *float64) float64 {
	if now == nil || then == nil {
		return 0
	}
	return math.Log2(*now / *then)
}

func raised(x *float64, by float64) *float64 {
	if x == nil {
		return nil
	}
	return finite(*x + by)
}

// zero is what every difference is from, as it is called in a sentence.
func (c *checker) zero() string {
	if c.s.Exposure.Zero == "" {
		return "the key"
	}
	return c.s.Exposure.Zero
}

// isZero reports whether lights, none for the room's own, are the zero.
func (c *checker) isZero(lights []int) bool {
	if len(lights) == 0 {
		return c.s.Exposure.Zero == exposure.Ambient
	}
	return len(lights) == 1 && c.s.IsZero(&c.s.Lights[lights[0]])
}
