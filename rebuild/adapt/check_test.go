package adapt

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stopleaf/exposure"
	"stopleaf/rebuild/check"
	"stopleaf/setup"
)

// today is what a light of the old setup reads once it is set and stands as the
// new one says: a flash by its power and the speed, what follows the shutter by
// that too, and each by the emission of its own size. ok is false where the two
// files do not say.
func today(a, b *setup.Setup, i int) (av float64, ok bool) {
	x, y := &a.Lights[i], &b.Lights[i]
	av = *a.Exposure.KeyAv + x.Delta
	if a.Exposure.ISO != nil {
		av += math.Log2(*b.Exposure.ISO / *a.Exposure.ISO)
	}
	if slow(x) && a.Exposure.ShutterS != nil {
		av += math.Log2(*b.Exposure.ShutterS / *a.Exposure.ShutterS)
	}
	from, okFrom := throw(x)
	to, okTo := throw(y)
	if okFrom != okTo || okFrom && math.Abs(from-to) > 1e-6 {
		in := a.Input(nil).Lights[i]
		near, okNear := exposure.Emission(in.Shape, in.Width, in.Height, from)
		far, okFar := exposure.Emission(in.Shape, in.Width, in.Height, to)
		if !okNear || !okFar {
			return 0, false
		}
		av += math.Log2(far / near)
	}
	switch {
	case x.Source == exposure.Bounce:
		return 0, false
	case x.Power != nil && y.Power != nil:
		return av + *y.Power - *x.Power, true
	case x.Dimmer != nil && y.Dimmer != nil:
		return av + math.Log2(*y.Dimmer / *x.Dimmer), true
	}
	return av, slow(x) && x.Power == nil && x.Dimmer == nil
}

// What was adapted and is then set as the new file says reads what the new file
// asks for: check finds nothing off, but for what dials, shutters and places are
// rounded to.
func TestCheckFindsNothingOff(t *testing.T) {
	checked := 0
	t.Parallel()
	onMany(t, 400, func(t require.TestingT, name, src string, turn int) bool {
		a, _ := setup.Parse(name, []byte(src), setup.Options{NoPhotos: true, AllowOutside: true})
		if a.Exposure.KeyAv == nil {
			return false
		}
		done := false
		for _, o := range some([]Options{
			{BaseAv: v(*a.Exposure.KeyAv - 1)}, {BaseAv: v(*a.Exposure.KeyAv + 0.7)}, {ISO: v(400)}, {Scale: 0.8}, {Scale: 1.25, BaseAv: v(*a.Exposure.KeyAv - 1.3)},
			{Room: setup.Room{Left: v(2), Right: v(2), Front: v(3), Behind: v(2), Ceiling: v(2.4)}},
		}, 2, turn) {
			r := run(t, name, src, o)
			gone, ok := lost(r)
			if !ok {
				continue
			}
			b := r.Setup
			var given []check.Given
			for i := range b.Lights {
				l := &b.Lights[i]
				av, known := today(a, b, i)
				joint := l.Pair != nil && l.Pair.Metered == "both" // the two are metered at once
				switch {
				case !known || gone[strings.ToLower(called(l))] || gone[strings.ToLower(l.Name)]:
				case joint && l.Pair.Side == "L":
					given = append(given, check.Given{Lights: []int{i, i + 1}, Av: v(av + 1)})
				case !joint:
					given = append(given, check.Given{Lights: []int{i}, Av: &av})
				}
			}
			for _, f := range check.Run(b, check.Today{Readings: given, BaseAv: b.Exposure.KeyAv}).Lights {
				if f.Off == nil {
					continue
				}
				slack := 0.051 // half a tenth, the step of these heads
				for _, n := range f.Numbers {
					if slow(&b.Lights[n-1]) {
						slack = 1.0/6 + 0.011 // half a step of the shutter
					}
				}
				if o.Scale != 0 || o.Room.Left != nil {
					slack += 0.03 // and what a place is rounded to
				}
				require.LessOrEqual(t, math.Abs(*f.Off), slack, "%s, %+v\n%s", f.Name, o, r.Source)
				checked++
				done = true
			}
		}
		return done
	})
	require.Greater(t, checked, 100)
}
