package exposure

import (
	"math"

	"stopleaf/exposure/apex"
)

func lightOut(in Input, l *Light) LightOut {
	out := LightOut{
		Number: l.Number, Name: l.Name, Role: l.Role, Source: l.Source,
		Delta: round(l.Delta), RatioToKey: round(math.Exp2(l.Delta)), Off: l.Off,
		Place: placeOut(l), Pack: packOut(l.Pack),
		Targets: []Target{}, Dials: []DialAt{}, Hold: []HoldAt{},
	}
	if !l.Off {
		out.Targets, out.Dials, out.Hold = targets(in.Bases, l.Delta), dials(in, l), holds(in, l)
	}
	throw, ok := l.Throw()
	if !ok {
		return out
	}
	out.ThrowM = value(throw)
	out.TiltDeg = value(l.tilt())
	out.DriftM = l.drift(throw)
	out.LooksDeg = l.looks(throw)
	out.Falloff = l.falloff(in, throw)
	return out
}

func packOut(p *PackShare) *PackOut {
	if p == nil {
		return nil
	}
	return &PackOut{Name: p.Name, Outlet: p.Outlet, Share: round(p.Share), EnergyWs: kept(p.EnergyWs)}
}

func placeOut(l *Light) PlaceOut {
	if l.At == nil {
		return PlaceOut{}
	}
	angle, side := direction(l.At.X, l.At.Y)
	out := PlaceOut{
		RightM: value(l.At.X), FrontM: value(l.At.Y),
		DistanceM: value(math.Hypot(l.At.X, l.At.Y)),
		AngleDeg:  value(angle), Side: &side,
	}
	if !l.NoHeight {
		out.HeightM = value(l.At.Z)
	}
	return out
}

// onAxis is the angle, in degrees, within which a light counts as on the line
// through camera and subject.
const onAxis = 0.05

func direction(right, front float64) (deg float64, side string) {
	deg = math.Abs(degrees(math.Atan2(right, front)))
	switch {
	case deg < onAxis || deg > 180-onAxis:
		return deg, ""
	case right < 0:
		return deg, "left"
	}
	return deg, "right"
}

// Throw is the straight line from the light to where it is aimed, m; ok is false
// where its place, its height or its aim is not known.
func (l *Light) Throw() (float64, bool) {
	if l.At == nil || l.Aim == nil || l.NoHeight {
		return 0, false
	}
	d := l.Aim.Minus(*l.At).Length()
	return d, d > 1e-6 && !math.IsInf(d, 0)
}

// tilt is the angle of the aim line above (+) or below (-) the horizontal.
func (l *Light) tilt() float64 {
	d := l.Aim.Minus(*l.At)
	return degrees(math.Atan2(d.Z, math.Hypot(d.X, d.Y)))
}

func targets(bases []Base, delta float64) []Target {
	out := make([]Target, 0, len(bases))
	for _, b := range bases {
		av := b.Av + delta
		out = append(out, Target{
			Base: b.Mark, Av: round(av), F: round(apex.FNumber(av)),
			Tenths: apex.Tenths(av), Third: apex.Third(av), Decimal: apex.Decimal(av),
		})
	}
	return out
}

// dials gives a flash head's setting at each base; none without its recorded
// power and the key's reading, since the setting moves with the key.
func dials(in Input, l *Light) []DialAt {
	out := []DialAt{}
	if l.Source != Flash || l.Power == nil || in.KeyAv == nil {
		return out
	}
	head := Head{}
	if l.Head != nil {
		head = *l.Head
	}
	for _, b := range in.Bases {
		stops := *l.Power + b.Av - *in.KeyAv
		at := DialAt{
			Base: b.Mark, Stops: round(stops),
			Text:     apex.FormatDial(stops, apex.Dial(head.Dial), head.Step, head.EnergyWs),
			Possible: possible(stops, head.Range),
			Just:     stops > same && stops <= overFull+same,
		}
		if positive(head.EnergyWs) {
			at.EnergyWs = value(*head.EnergyWs * math.Exp2(stops))
		}
		out = append(out, at)
	}
	return out
}

// overFull is how far above full is still called "just", in stops.
const overFull = 0.1

func possible(stops float64, rng *float64) *bool {
	can := false
	switch {
	case stops > same:
	case rng == nil:
		return nil
	default:
		can = stops >= -*rng-same
	}
	return &can
}

// looks is how wide and tall a source of known size is, seen from where it is
// aimed, degrees.
func (l *Light) looks(throw float64) Looks {
	w, h := l.Width, l.Height
	if l.Shape == Disc && h == nil {
		h = w
	}
	return Looks{Width: angleOf(w, throw), Height: angleOf(h, throw)}
}

func angleOf(side *float64, distance float64) *float64 {
	if !positive(side) {
		return nil
	}
	return value(degrees(2 * math.Atan(*side/2/distance)))
}

const (
	cheekM  = 0.15 // m, from the lit to the far cheek
	atMark  = 0.6  // m: what is aimed within this of the mark lights the subject
	overTop = 1e-3 // m: a light this near the mark in plan has no direction
)

// falloff is how much darker a light on the subject is across the face and on
// the background straight behind it. A light that is aimed elsewhere has
// neither; one behind the subject has no figure for the background.
func (l *Light) falloff(in Input, throw float64) Falloff {
	var out Falloff
	if math.Hypot(l.Aim.X, l.Aim.Y) > atMark {
		return out
	}
	if math.Hypot(l.At.X, l.At.Y) > overTop {
		turned := in.TurnedDeg * math.Pi / 180
		between := math.Atan2(l.At.X, l.At.Y) - turned
		if s, ok := l.stopsBetween(throw, throw+cheekM*math.Abs(math.Sin(between))); ok {
			out.Cheek = value(s)
		}
	}
	if in.Background != nil && l.At.Y >= 0 {
		behind := Vec{0, -in.Background.DistanceM, in.FaceHeight}
		if s, ok := l.stopsBetween(throw, behind.Minus(*l.At).Length()); ok {
			out.Background = value(s)
		}
	}
	return out
}
