package check_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
	"stopleaf/internal/randomset"
	"stopleaf/rebuild/check"
	"stopleaf/setup"
)

// howMany is how many random sets a test takes.
func howMany() int {
	if os.Getenv("STOPLEAF_CI") == "1" {
		return 1000
	}
	return 200
}

// world is a set as it really burns today: each light reads its target and by how
// much it is wrong by its own doing.
type world struct {
	s    *setup.Setup
	rand *rand.Rand
	base float64         // what the zero would read if it were right
	own  map[int]float64 // stops too bright, by its own doing; -1 is the room's own light
}

// worlds calls f with random sets. Their lights hang on random heads, and some
// are cards that others light.
func worlds(t *testing.T, f func(w *world) string) {
	t.Helper()
	gen := randomset.Setups(2, 12)
	for seed := range howMany() {
		set := gen.Example(seed)
		s, problems := setup.Parse("random.yaml", []byte(set.YAML()), setup.Options{SkipPhotos: true})
		require.NotNil(t, s, "%v", problems)
		if set.Look != "" {
			var err error
			s, err = s.WithLook(set.Look)
			require.NoError(t, err)
		}
		w := &world{s: s, rand: rand.New(rand.NewPCG(uint64(seed), 4)), own: map[int]float64{}}
		w.furnish()
		if fault := f(w); fault != "" {
			t.Fatalf("seed %d: %s\n%s", seed, fault, set.YAML())
		}
	}
}

func (w *world) chance(percent int) bool { return w.rand.IntN(100) < percent }

// furnish gives the lights heads with steps and ranges of their own, on which the
// record can be had at today's base, and makes some of them cards.
func (w *world) furnish() {
	w.base = float64(w.rand.IntN(60)+20) / 10
	if w.s.Exposure.KeyAv == nil {
		v := w.base
		w.s.Exposure.KeyAv = &v
	}
	dials := []exposure.Dial{{}, {Kind: "fractions"}, {Kind: "number", Full: 10}, {Kind: "ws"}, {Kind: "percent"}}
	steps := []*float64{nil, p(0.1), p(1. / 3), p(0.5), p(1)}
	flash := func(i int) bool { return w.s.Lights[i].Source == exposure.Flash }
	for i := range w.s.Lights {
		l := &w.s.Lights[i]
		l.Pack, l.Head, l.Power, l.Tolerance = nil, nil, nil, nil
		switch {
		case l.Role == "fill" && l.Pair == nil && !w.s.IsZero(l) && i > 0 && w.s.Lights[0].Pair == nil && flash(i) && flash(0) && w.chance(40):
			l.Source, l.LitBy = exposure.Bounce, w.s.Lights[w.rand.IntN(i)].Name
			if w.s.Lights[0].Off || !flash(0) {
				l.LitBy = ""
			}
		case flash(i):
			l.Head = &setup.Head{EnergyWs: p(400), Range: p(float64(w.rand.IntN(7) + 3)), Step: steps[w.rand.IntN(len(steps))], Dial: dials[w.rand.IntN(len(dials))]}
			today := w.rand.Float64() * -*l.Head.Range
			l.Power = p(today - w.base + *w.s.Exposure.KeyAv)
			if w.chance(20) {
				l.Head.Range = nil
			}
			if w.chance(20) {
				l.Power = nil
			}
			if w.chance(20) {
				l.Tolerance = p(0.5 + w.rand.Float64()/4)
			}
		}
	}
}

// today is what the meter shows of every light, at a base that is said or not.
func (w *world) today(said bool) check.Today {
	var out check.Today
	if said {
		out.BaseAv = p(w.base)
	}
	if e := &w.s.Exposure; e.Zero == exposure.Ambient || e.AmbientAv != nil {
		delta := 0.0
		if e.Zero != exposure.Ambient {
			delta = *e.AmbientAv - *e.KeyAv
		}
		out.Readings = append(out.Readings, check.Given{Av: p(w.base + delta + w.own[-1])})
	}
	for i := range w.s.Lights {
		if l := &w.s.Lights[i]; !l.Off {
			out.Readings = append(out.Readings, check.Given{Lights: []int{i}, Av: p(w.base + l.Delta + w.off(i))})
		}
	}
	return out
}

// feeder is the light that a card is lit by, -1 for none.
func (w *world) feeder(i int) int {
	for j := range w.s.Lights {
		if l := &w.s.Lights[i]; l.Source == exposure.Bounce && j != i && w.s.Lights[j].Name == l.LitBy {
			return j
		}
	}
	return -1
}

// off is how wrong a light is, with what it has from the light that feeds it.
func (w *world) off(i int) float64 {
	if f := w.feeder(i); f >= 0 {
		return w.own[i] + w.off(f)
	}
	return w.own[i]
}

// steady reports whether the shutter moves a light.
func (w *world) steady(i int) bool {
	if i < 0 {
		return true
	}
	if f := w.feeder(i); f >= 0 {
		return w.steady(f)
	}
	s := w.s.Lights[i].Source
	return s == exposure.Continuous || s == exposure.Daylight
}

// index is the light of a finding, -1 for the room's own.
func (w *world) index(f *check.Finding) int {
	if len(f.Numbers) == 0 {
		return -1
	}
	for i := range w.s.Lights {
		if w.s.Lights[i].Number == f.Numbers[0] {
			return i
		}
	}
	panic("no such light")
}

// zero is what every difference is from, -1 for the room's own light.
func (w *world) zero() int {
	for i := range w.s.Lights {
		if w.s.IsZero(&w.s.Lights[i]) {
			return i
		}
	}
	return -1
}

// evenly integrates the light of an evenly shining face on its axis, without the
// closed forms that the program has: cos² over the square of the distance, over the
// whole face, by the midpoint rule.
func evenly(l *exposure.Light, d float64) float64 {
	const n = 160
	switch l.Shape {
	case exposure.Hard, exposure.Lens:
		return 1 / (d * d)
	case exposure.Disc:
		sum, r := 0.0, *l.Width/2
		for i := range n {
			x := (float64(i) + 0.5) / n * r
			q := x*x + d*d
			sum += 2 * math.Pi * x * r / n * d * d / (q * q)
		}
		return sum
	}
	sum := 0.0
	for i := range n {
		for j := range n {
			x, y := ((float64(i)+0.5)/n-0.5)**l.Width, ((float64(j)+0.5)/n-0.5)**l.Height
			q := x*x + y*y + d*d
			sum += d * d / (q * q) * *l.Width * *l.Height / n / n
		}
	}
	return sum
}

// stands is the power of a dial that was set as the record puts it today.
func (w *world) stands(i int) float64 {
	l := &w.s.Lights[i]
	return apex.DialStops(*l.Power+w.base-*w.s.Exposure.KeyAv, apex.Dial(l.Head.Dial), l.Head.Step, l.Head.EnergyWs)
}

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
