package check_test

import (
	"fmt"
	"math"
	"testing"

	"stopleaf/exposure"
	"stopleaf/rebuild/check"
)

// One light is wrong: its dial, turned from where the record puts it to the mark
// that the remedy names, makes it right.
func TestTheDialPutsItRight(t *testing.T) {
	turned := 0
	worlds(t, func(w *world) string {
		i := w.rand.IntN(len(w.s.Lights))
		l := &w.s.Lights[i]
		if l.Off || l.Source != exposure.Flash || i == w.zero() || l.Power == nil {
			return ""
		}
		for _, said := range []bool{false, true} {
			w.own = map[int]float64{i: (w.rand.Float64() - 0.5) * 6}
			r := check.Run(w.s, w.today(said))
			f := finding(t, r, l.Name)
			if f.Within {
				continue
			}
			d := remedy(f.Remedies, "dial")
			if d == nil { // full is short, or the least too much
				want := w.stands(i) - w.own[i]
				if want <= 1e-9 && (l.Head.Range == nil || want >= -*l.Head.Range-1e-9) {
					return fmt.Sprintf("no dial for %q, which needs %v of %v", l.Name, want, l.Head.Range)
				}
				continue
			}
			turned++
			before := w.own[i]
			w.own[i] = before + *d.ToStops - w.stands(i)
			if f := finding(t, check.Run(w.s, w.today(said)), l.Name); !f.Within {
				return fmt.Sprintf("%q is %v off after %q", l.Name, *f.Off, d.Text)
			}
			w.own[i] = before + d.Stops
			if r := check.Run(w.s, w.today(said)); !r.Within {
				return fmt.Sprintf("not all right after %q", d.Text)
			}
		}
		return ""
	})
	if turned < howMany()/8 {
		t.Fatalf("only %d dials were turned", turned)
	}
}

// One light is wrong: moved as the remedy says, the light of its face integrated at
// the new distance makes it right.
func TestTheDistancePutsItRight(t *testing.T) {
	moved := 0
	worlds(t, func(w *world) string {
		in := w.s.Input(nil)
		n := exposure.Compute(in)
		for i := range w.s.Lights {
			l := &w.s.Lights[i]
			if l.Off || i == w.zero() || n.Lights[i].ThrowM == nil || l.Source == exposure.Daylight {
				continue
			}
			w.own = map[int]float64{i: (w.rand.Float64() - 0.5) * 0.9}
			f := finding(t, check.Run(w.s, w.today(true)), l.Name)
			d := remedy(f.Remedies, "distance")
			if f.Within || d == nil || d.ToM == nil {
				continue
			}
			moved++
			from := *n.Lights[i].ThrowM
			if math.Abs(*d.ToM-from-*d.MoveM) > 1e-8 || math.Abs(*d.MoveM) > 0.15*from+1e-8 {
				return fmt.Sprintf("%q moves %v from %v to %v", l.Name, *d.MoveM, from, *d.ToM)
			}
			w.own[i] += math.Log2(evenly(&in.Lights[i], *d.ToM) / evenly(&in.Lights[i], from))
			r := check.Run(w.s, w.today(true))
			if f := finding(t, r, l.Name); !r.Within || math.Abs(*f.Off) > 0.02 {
				return fmt.Sprintf("%q is %v off after %q", l.Name, *f.Off, d.Text)
			}
		}
		return ""
	})
	if moved < howMany()/4 {
		t.Fatalf("only %d lights were moved", moved)
	}
}

// apply does the first thing that can be done at once about a light or a common
// cause; false where another base is all there is.
func (w *world) apply(list []check.Remedy, i int, left float64) bool {
	if len(list) == 0 || list[0].Kind == "follow" {
		return true
	}
	switch m := list[0]; m.Kind {
	case "base", "none":
		return false
	case "shutter":
		for j := -1; j < len(w.s.Lights); j++ {
			if w.steady(j) && w.feederless(j) {
				w.own[j] += m.Stops
			}
		}
	default:
		w.own[i] -= left
	}
	return true
}

func (w *world) feederless(i int) bool { return i < 0 || w.feeder(i) < 0 }

// All is wrong: doing what is said, the common cause first, and metering again
// comes to an end with all right.
func TestFollowingItEnds(t *testing.T) {
	ended := 0
	worlds(t, func(w *world) string {
		for i := -1; i < len(w.s.Lights); i++ {
			if w.chance(60) {
				w.own[i] = float64(w.rand.IntN(31)-15) / 10
			}
		}
		said := w.chance(30)
		for range 12 {
			r := check.Run(w.s, w.today(said))
			if r.Within {
				ended++
				return ""
			}
			if c := r.Common; c != nil {
				switch {
				case c.Cause == "zero":
					if !w.apply(c.Remedies, w.zero(), -c.Stops) {
						return ""
					}
				case c.Cause == "shutter":
					if !w.apply(c.Remedies, -1, 0) {
						return ""
					}
				default: // the meter, or the base: all read alike
					for i := range r.Lights {
						if j := w.index(&r.Lights[i]); w.feederless(j) {
							w.own[j] -= c.Stops
						}
					}
				}
				continue
			}
			some, shutter := false, false
			for i := range r.Lights {
				f := &r.Lights[i]
				if len(f.Remedies) > 0 && f.Remedies[0].Kind == "shutter" {
					if shutter { // it has been moved already: meter again first
						continue
					}
					shutter = true
				}
				if !w.apply(f.Remedies, w.index(f), f.Left) {
					return ""
				}
				some = some || len(f.Remedies) > 0
			}
			if !some {
				return "something is off, and nothing is said about it"
			}
		}
		r := check.Run(w.s, w.today(said))
		out := ""
		for _, f := range r.Lights {
			if !f.Within {
				out += fmt.Sprintf(" %q is %v off: %v;", f.Name, *f.Off, f.Remedies[:min(1, len(f.Remedies))])
			}
		}
		return "no end to it:" + out
	})
	if ended < howMany()/4 {
		t.Fatalf("only %d ended", ended)
	}
}

// What is right is left alone.
func TestRightIsLeftAlone(t *testing.T) {
	worlds(t, func(w *world) string {
		for _, said := range []bool{false, true} {
			for i := range w.s.Lights {
				if i != w.zero() {
					w.own[i] = (w.rand.Float64() - 0.5) * 0.1
				}
			}
			r := check.Run(w.s, w.today(said))
			if !r.Within || r.Common != nil || len(r.ToMeter) > 0 {
				return "something is said of a set that is right"
			}
			for _, f := range r.Lights {
				if len(f.Remedies) > 0 {
					return fmt.Sprintf("%q: %v", f.Name, f.Remedies)
				}
			}
		}
		return ""
	})
}
