package safety

import (
	"math"

	"stopleaf/setup"
)

// The choices behind the figures. The tilt is that of the published tests of
// equipment that may be knocked (IEC 62368-1: 10 degrees in all directions);
// no figure for photographic stands was found, so both are a choice of this
// project and the page says so.
const (
	TiltDeg        = 10.0 // a stand must stay up when its floor leans this far
	OverturnFactor = 1.5  // holding moment over overturning moment
	BagSizeKg      = 7.0  // the house's bag unless it says otherwise
	BagHeightM     = 0.15 // a bag's centre above the floor
	StandCentre    = 1.0 / 3
	Legs           = 3
)

// Load is one stand with what it carries. Kilograms and metres.
type Load struct {
	StandKg      float64
	StandHeightM float64 // centre of the stand's own mass above the floor
	HeadKg       float64 // head and modifier
	HeadHeightM  float64
	OverhangM    float64 // head from the column, along the floor
	ArmM         float64 // column to the nearest tipping line, see TipArm
}

// TipArm is the distance in metres from the column to the nearest line between
// two feet, for feet evenly set on a circle of the radius given in metres:
// R cos(pi/n), which is R/2 for three legs (plain geometry).
func TipArm(radiusM float64, legs int) float64 {
	if legs < 3 {
		return 0
	}
	return radiusM * math.Cos(math.Pi/float64(legs))
}

// TiltLimit is the lean in degrees at which a stand goes over: atan of the tip
// arm over the height of the common centre of mass, both in metres.
func TiltLimit(armM, centreM float64) float64 {
	return math.Atan2(armM, centreM) * 180 / math.Pi
}

// ArmForTilt is the tip arm in metres that holds a centre of mass at the height
// given in metres through a lean of deg degrees: h tan(deg).
func ArmForTilt(centreM, deg float64) float64 {
	return centreM * math.Tan(deg*math.Pi/180)
}

// CommonCentre is the height in metres of the common centre of mass of stand,
// head and a bag of bagKg kilograms; 0 for no mass at all.
func CommonCentre(l Load, bagKg float64) float64 {
	mass := l.StandKg + l.HeadKg + bagKg
	if mass <= 0 {
		return 0
	}
	return (l.StandKg*l.StandHeightM + l.HeadKg*l.HeadHeightM + bagKg*BagHeightM) / mass
}

// BagForTilt is the least bag in kilograms with which the stand holds a lean of
// TiltDeg: ArmM >= tan(TiltDeg) x CommonCentre. ok is false when the feet are so
// narrow that no bag does it.
func BagForTilt(l Load) (kg float64, ok bool) {
	t := math.Tan(TiltDeg * math.Pi / 180)
	short := t*(l.StandKg*l.StandHeightM+l.HeadKg*l.HeadHeightM) - l.ArmM*(l.StandKg+l.HeadKg)
	if short <= 0 {
		return 0, true
	}
	each := l.ArmM - t*BagHeightM
	if each <= 0 {
		return 0, false
	}
	return short / each, true
}

// BagForOverturning is the least bag in kilograms with which the moment that
// holds the stand down is OverturnFactor times the moment that turns it over:
// (stand + bag) x arm >= factor x head x (overhang - arm). It counts on no
// counterweight, which may slip. 0 where the head hangs inside the tipping
// line; ok is false when there is no arm at all.
func BagForOverturning(l Load) (kg float64, ok bool) {
	out := l.OverhangM - l.ArmM
	if out <= 0 || l.HeadKg <= 0 {
		return 0, true
	}
	if l.ArmM <= 0 {
		return 0, false
	}
	return math.Max(0, OverturnFactor*l.HeadKg*out/l.ArmM-l.StandKg), true
}

// Bag is the larger of BagForTilt and BagForOverturning, kilograms.
func Bag(l Load) (kg float64, ok bool) {
	a, okA := BagForTilt(l)
	b, okB := BagForOverturning(l)
	return math.Max(a, b), okA && okB
}

// OverturnRatio is the holding moment over the overturning moment about the
// nearest tipping line, +Inf where nothing hangs outside it.
func OverturnRatio(l Load, bagKg float64) float64 {
	out := l.OverhangM - l.ArmM
	if out <= 0 || l.HeadKg <= 0 {
		return math.Inf(1)
	}
	return (l.StandKg + bagKg) * l.ArmM / (l.HeadKg * out)
}

// BagSize is what one bag of the house weighs, kilograms: BagSizeKg unless the
// house settings say otherwise.
func BagSize(s *setup.Setup) float64 {
	if s == nil || s.House == nil || s.House.BagKg == nil {
		return BagSizeKg
	}
	return *s.House.BagKg
}

// WholeBags is how many bags of sizeKg kilograms make up kg; a hair over a
// whole number (1e-9) does not ask for another.
func WholeBags(kg, sizeKg float64) int {
	if kg <= 0 || sizeKg <= 0 {
		return 0
	}
	return int(math.Ceil(kg/sizeKg - 1e-9))
}

// BoomBalance is the counterweight in kilograms that balances a boom about its
// column: m1 L1 + beam x its centre = m2 L2. reachM is column to head, behindM
// column to counterweight, beamCentreM how far the beam's own centre lies to
// the load's side, metres. +Inf when there is nothing behind the column.
func BoomBalance(headKg, reachM, beamKg, beamCentreM, behindM float64) float64 {
	if behindM <= 0 {
		return math.Inf(1)
	}
	return math.Max(0, (headKg*reachM+beamKg*beamCentreM)/behindM)
}

// CopperRho is IEC 60364-5-52 Annex G's resistivity of copper in use, 1.25
// times that at 20 degrees C, ohm mm2/m.
const CopperRho = 0.0225

// LeadDrop is the voltage lost in a single-phase lead by IEC 60364-5-52 Annex
// G: u = b rho L / S x I with b = 2 for the way there and back, power factor 1.
// Length one way in metres, section in mm2, current in amperes; +Inf for no
// section.
func LeadDrop(lengthM, sectionMM2, amps float64) float64 {
	if sectionMM2 <= 0 {
		return math.Inf(1)
	}
	return 2 * CopperRho * lengthM / sectionMM2 * amps
}
