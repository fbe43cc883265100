package exposure

import "math"

// ambient is the room's own light: it keeps its aperture value at one shutter
// and ISO, so its difference moves against the base.
func ambient(in Input) AmbientOut {
	out := AmbientOut{At: []AmbientAt{}}
	if in.AmbientAv == nil {
		return out
	}
	out.Delta = difference(in.AmbientAv, in.KeyAv)
	for _, b := range in.Bases {
		at := AmbientAt{Base: b.Mark, Delta: round(*in.AmbientAv - b.Av)}
		at.HoldShutterS, at.SlowerThanSync = hold(in, b)
		out.At = append(out.At, at)
	}
	return out
}

// hold is the exposure time at which a light that follows the shutter keeps
// its recorded difference at a base, and whether it is longer than the
// camera's fastest with flash.
func hold(in Input, b Base) (seconds *float64, slower *bool) {
	if in.ShutterS == nil || in.KeyAv == nil {
		return nil, nil
	}
	t := *in.ShutterS * math.Exp2(b.Av-*in.KeyAv)
	if in.SyncS != nil {
		s := t > *in.SyncS*(1+same)
		slower = &s
	}
	return value(t), slower
}

// holds gives that time for a continuous light or daylight at each base.
func holds(in Input, l *Light) []HoldAt {
	out := []HoldAt{}
	if l.Source != Continuous && l.Source != Daylight {
		return out
	}
	for _, b := range in.Bases {
		at := HoldAt{Base: b.Mark}
		if at.ShutterS, at.SlowerThanSync = hold(in, b); at.ShutterS != nil {
			out = append(out, at)
		}
	}
	return out
}
