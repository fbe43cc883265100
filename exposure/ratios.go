package exposure

import "math"

// fromLens is the angle off the lens axis, in degrees, up to which a fill
// reaches what the key lights, so that light and shadow sides may be compared.
const fromLens = 30

// ratios are key:fill = 1 / sum of 2^delta over the fills, and (key+fill):fill,
// one more. Where another light or ambient is the zero there is no key to have
// a ratio to.
func ratios(in Input) Ratios {
	var out Ratios
	if in.Zero != "" {
		return out
	}
	sum := 0.0
	for i := range in.Lights {
		l := &in.Lights[i]
		if l.Role != "fill" || l.Off {
			continue
		}
		sum += math.Exp2(l.Delta)
		cos, ok := cosToLens(in, l)
		if !ok || degrees(math.Acos(cos)) > fromLens+same {
			out.LitToShadowEst = true
		}
	}
	if sum > 0 {
		out.KeyToFill, out.LitToShadow = value(1/sum), value(1/sum+1)
	}
	return out
}

// together adds the frontal lights: key and fills, unless the file says
// otherwise of one.
func together(in Input) Together {
	out := Together{}
	sum, dome, known, any, all := 0.0, 0.0, true, false, true
	for i := range in.Lights {
		l := &in.Lights[i]
		if l.Off || !frontal(l) {
			continue
		}
		any = true
		all = all && l.TowardCamera
		e := math.Exp2(l.Delta)
		sum += e
		w, ok := domeWeight(in, l)
		known = known && ok
		dome += e * w
	}
	if !any {
		return out
	}
	delta := math.Log2(sum)
	out.Delta = value(delta)
	if in.KeyAv != nil {
		out.Av = value(*in.KeyAv + delta)
	}
	if known && dome > 0 {
		out.DomeToCamera = value(math.Log2(dome))
	}
	out.AllToCamera = all
	return out
}

func frontal(l *Light) bool {
	if l.Front != nil {
		return *l.Front
	}
	return l.Role == "key" || l.Role == "fill"
}

// domeWeight is the part of a light metered toward itself that a dome toward
// the camera shows, (1 + cos θ)/2; all of one that was metered so.
func domeWeight(in Input, l *Light) (float64, bool) {
	if l.TowardCamera {
		return 1, true
	}
	cos, ok := cosToLens(in, l)
	return (1 + cos) / 2, ok
}

// cosToLens is the cosine of the angle between a light and the camera, seen
// from the face; ok is false when either place is not known.
func cosToLens(in Input, l *Light) (float64, bool) {
	c := in.Camera
	if l.At == nil || l.NoHeight || c == nil || c.DistanceM == nil || c.HeightM == nil {
		return 0, false
	}
	face := Vec{0, 0, in.FaceHeight}
	camera := Vec{0, *c.DistanceM, *c.HeightM}
	return cosBetween(l.At.Minus(face), camera.Minus(face))
}
