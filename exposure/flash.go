package exposure

import "math"

// FlashAt is how a flash was set and how far from it the meter was held.
type FlashAt struct {
	ThrowM float64 // m, along its axis, from what shines to the meter
	Power  float64 // stops from full, 0 or less
	ISO    float64 // the speed the meter was set to
	Loss   float64 // stops that a gel takes, positive
}

// AtOne is how the output of a head is told: at 1 m and full power, ISO 100.
var AtOne = FlashAt{ThrowM: 1, ISO: 100}

// Carry gives what the flash reads at now through the same modifier, when it
// read av at then: the reading, plus the difference of powers and of speeds
// (guide numbers go with the root of both), less the fall-off between the two
// distances by the source's own emission, less what a gel takes now and did not
// then. At 1 m a softbox is no point, so its figure there is not the one that
// the inverse square would give. ok is false where Emission is not known, and
// for a speed that is none. est.
func (l *Light) Carry(av float64, then, now FlashAt) (reads float64, ok bool) {
	near, okNow := Emission(l.Shape, l.Width, l.Height, now.ThrowM)
	far, okThen := Emission(l.Shape, l.Width, l.Height, then.ThrowM)
	if !okNow || !okThen {
		return 0, false
	}
	reads = av + (now.Power - then.Power) + math.Log2(now.ISO/then.ISO) + math.Log2(near/far) - (now.Loss - then.Loss)
	return reads, !math.IsNaN(reads) && !math.IsInf(reads, 0)
}
