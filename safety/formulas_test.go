package safety

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// Plain geometry: R cos(pi/n) for n feet on a circle of radius R.
func TestTipArm(t *testing.T) {
	assert.InDelta(t, 0.5, TipArm(1, 3), 1e-12)
	assert.InDelta(t, 0.7071068, TipArm(1, 4), 1e-7)
	assert.InDelta(t, 0.8090170, TipArm(1, 5), 1e-7)
	assert.Zero(t, TipArm(1, 2))
}

// Plain statics: atan(arm / height of the centre of mass). R = 0.5 m and
// h = 1.5 m lean 9.462 degrees between legs and 18.435 over a leg.
func TestTiltLimit(t *testing.T) {
	assert.InDelta(t, 9.462, TiltLimit(TipArm(0.5, 3), 1.5), 0.001)
	assert.InDelta(t, 18.435, TiltLimit(0.5, 1.5), 0.001)
}

// The tilts of published tests as arms: 6 degrees (IEC 60598-2-4, 4.6.3), 10
// (IEC 62368-1), 15 (IEC 60598-2-7 and -10).
func TestArmForTilt(t *testing.T) {
	assert.InDelta(t, 0.10510, ArmForTilt(1, 6), 1e-5)
	assert.InDelta(t, 0.17633, ArmForTilt(1, TiltDeg), 1e-5)
	assert.InDelta(t, 0.26795, ArmForTilt(1, 15), 1e-5)
}

// Plain statics, m1 L1 = m2 L2: 2 kg at 1.5 m against 0.5 m, then with a beam
// of 1 kg whose centre is 0.3 m out.
func TestBoomBalance(t *testing.T) {
	assert.InDelta(t, 6.0, BoomBalance(2, 1.5, 0, 0, 0.5), 1e-12)
	assert.InDelta(t, 6.6, BoomBalance(2, 1.5, 1, 0.3, 0.5), 1e-12)
	assert.True(t, math.IsInf(BoomBalance(2, 1.5, 0, 0, 0), 1))
}

// Plain statics: a stand of 6 kg on feet of R = 0.5 m, a head of 3 kg 0.4 m
// out between two legs: 6 x 0.25 / (3 x 0.15) = 3.333.
func TestOverturning(t *testing.T) {
	l := Load{StandKg: 6, HeadKg: 3, OverhangM: 0.4, ArmM: TipArm(0.5, 3)}
	assert.InDelta(t, 3.3333, OverturnRatio(l, 0), 1e-4)
	kg, ok := BagForOverturning(l)
	assert.True(t, ok)
	assert.Zero(t, kg)

	l.OverhangM = 1.25 // 1.5 x 3 x 1.0 / 0.25 = 18, less the stand's 6
	kg, ok = BagForOverturning(l)
	assert.True(t, ok)
	assert.InDelta(t, 12, kg, 1e-9)
	assert.InDelta(t, OverturnFactor, OverturnRatio(l, kg), 1e-9)
}

// Worked by hand: stand 3 kg with its centre at 0.8, head 4 kg at 2.4, feet
// 1.0 m across; tan 10 x (3 x 0.8 + 4 x 2.4) - 0.25 x 7 = 0.36592 short, and
// each kilogram of bag brings 0.25 - 0.15 tan 10 = 0.22355: 1.6369 kg.
func TestBagForTilt(t *testing.T) {
	l := Load{StandKg: 3, StandHeightM: 0.8, HeadKg: 4, HeadHeightM: 2.4, ArmM: 0.25}
	kg, ok := BagForTilt(l)
	assert.True(t, ok)
	assert.InDelta(t, 1.6369, kg, 0.0005)
	assert.InDelta(t, TiltDeg, TiltLimit(l.ArmM, CommonCentre(l, kg)), 1e-9)

	l.ArmM = 0.02 // under 0.15 tan 10: a bag's own centre is too high
	_, ok = BagForTilt(l)
	assert.False(t, ok)
}

func TestWholeBags(t *testing.T) {
	assert.Equal(t, 0, WholeBags(0, 7))
	assert.Equal(t, 1, WholeBags(0.2, 7))
	assert.Equal(t, 1, WholeBags(7, 7))
	assert.Equal(t, 2, WholeBags(7.01, 7))
	assert.Equal(t, 0, WholeBags(-1, 7))
}

// Each row: one-way length, section, current, the drop at 230 V by IEC
// 60364-5-52 Annex G; beside it what the two neighbours say: twice the
// resistance at 20 C of IEC 60228 class 5 plain, and BS 7671 table 4F3B (cord
// at 60 C). Annex G lies between them.
func TestLeadDrop(t *testing.T) {
	for _, c := range []struct{ length, section, amps, want, pct, cold, cord float64 }{
		{20, 1.5, 10, 6.000, 2.609, 5.320, 6.400},
		{25, 2.5, 13, 5.850, 2.543, 5.187, 6.175},
		{10, 1.0, 8, 3.600, 1.565, 3.120, 3.680},
		{5, 0.75, 6, 1.800, 0.783, 1.560, 1.860},
	} {
		got := LeadDrop(c.length, c.section, c.amps)
		assert.InDelta(t, c.want, got, 0.001)
		assert.InDelta(t, c.pct, got/230*100, 0.001)
		assert.Greater(t, got, c.cold)
		assert.Less(t, got, c.cord)
	}
	// IEC 60364-5-52 Annex G, single phase, power factor 1: 30, 18 and 11.25
	// mV per ampere and metre.
	assert.InDelta(t, 30, LeadDrop(1, 1.5, 1)*1000, 1e-9)
	assert.InDelta(t, 18, LeadDrop(1, 2.5, 1)*1000, 1e-9)
	assert.InDelta(t, 11.25, LeadDrop(1, 4, 1)*1000, 1e-9)
}

func drawLoad(t *rapid.T) Load {
	height := rapid.Float64Range(0.5, 4).Draw(t, "height")
	return Load{
		StandKg:      rapid.Float64Range(0.5, 20).Draw(t, "stand"),
		StandHeightM: height * StandCentre,
		HeadKg:       rapid.Float64Range(0.1, 12).Draw(t, "head"),
		HeadHeightM:  height,
		OverhangM:    rapid.Float64Range(0, 2.5).Draw(t, "overhang"),
		ArmM:         rapid.Float64Range(0.03, 0.6).Draw(t, "arm"),
	}
}

func TestBagSatisfiesBoth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLoad(t)
		kg, ok := Bag(l)
		if !ok {
			t.Fatalf("no bag for an arm of %g m", l.ArmM)
		}
		if TiltLimit(l.ArmM, CommonCentre(l, kg)) < TiltDeg-1e-9 {
			t.Fatalf("tilts at %g degrees", TiltLimit(l.ArmM, CommonCentre(l, kg)))
		}
		if OverturnRatio(l, kg) < OverturnFactor-1e-9 {
			t.Fatalf("overturns at %g", OverturnRatio(l, kg))
		}
		if kg > 0 && TiltLimit(l.ArmM, CommonCentre(l, kg*0.99)) >= TiltDeg && OverturnRatio(l, kg*0.99) >= OverturnFactor {
			t.Fatalf("%g kg is more than it needs", kg)
		}
	})
}

func TestMoreUpHighNeverNeedsLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLoad(t)
		// Above the height at which a head's own mass starts to hold the
		// stand down: arm / tan 10 degrees.
		if l.HeadHeightM < l.ArmM/math.Tan(TiltDeg*math.Pi/180) {
			l.HeadHeightM = l.ArmM/math.Tan(TiltDeg*math.Pi/180) + 0.01
		}
		more := l
		more.HeadKg += rapid.Float64Range(0, 10).Draw(t, "more")
		higher := l
		higher.HeadHeightM += rapid.Float64Range(0, 2).Draw(t, "higher")
		wider := l
		wider.ArmM += rapid.Float64Range(0, 0.5).Draw(t, "wider")
		kg, _ := Bag(l)
		heavy, _ := Bag(more)
		high, _ := Bag(higher)
		wide, _ := Bag(wider)
		if heavy < kg-1e-9 || high < kg-1e-9 || wide > kg+1e-9 {
			t.Fatalf("bag %g, heavier %g, higher %g, wider %g", kg, heavy, high, wide)
		}
	})
}
