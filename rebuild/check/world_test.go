package check_test

import (
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
