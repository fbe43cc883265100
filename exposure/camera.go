package exposure

import (
	"math"

	"stopleaf/exposure/apex"
)

const (
	mm       = 1e-3
	closeUp  = 0.2  // magnification 1:5, beyond which depth of field gives way to bellows loss
	blurPart = 1500 // the circle of confusion is the frame's diagonal over this
)

// cameraOut is what the camera sees, for the frame as held. Distances are from
// the camera; the subject's is the one along the floor.
func cameraOut(in Input, bases []BaseOut) CameraOut {
	out := CameraOut{DepthOfField: make([]DepthAt, 0, len(bases))}
	c := in.Camera
	if c == nil {
		c = &Camera{}
	}
	depth := func(BaseOut) (near, far *float64) { return nil, nil }
	if positive(c.FocalMM) && c.FrameWMM > 0 && c.FrameHMM > 0 {
		f := *c.FocalMM * mm
		out.ViewDeg = Looks{Width: angleOf(ptr(c.FrameWMM*mm), f), Height: angleOf(ptr(c.FrameHMM*mm), f)}
		if positive(c.DistanceM) && *c.DistanceM > f {
			s := *c.DistanceM
			out.FrameM.AtSubject = frameAt(c, f, s)
			if in.Background != nil {
				out.FrameM.AtBackground = frameAt(c, f, s+in.Background.DistanceM)
			}
			if m := f / (s - f); m > closeUp+same {
				out.Magnification, out.LossStops = value(m), value(2*math.Log2(1+m))
			} else {
				blur := math.Hypot(c.FrameWMM, c.FrameHMM) / blurPart * mm
				depth = func(b BaseOut) (near, far *float64) {
					return DepthOfField(f, apex.FNumber(b.CameraAv), blur, s)
				}
			}
		}
	}
	for _, b := range bases {
		near, far := depth(b)
		out.DepthOfField = append(out.DepthOfField, DepthAt{Base: b.Mark, NearM: near, FarM: far})
	}
	return out
}

func ptr(x float64) *float64 { return &x }

// frameAt is the frame's size at the distance d, m.
func frameAt(c *Camera, f, d float64) Size {
	return Size{Width: value(c.FrameWMM * mm * (d - f) / f), Height: value(c.FrameHMM * mm * (d - f) / f)}
}

// Hyperfocal is f²/(N c) + f, all lengths in one unit.
func Hyperfocal(f, n, c float64) float64 { return f*f/(n*c) + f }

// DepthOfField is the nearest and farthest distance that is sharp when a lens
// of focal length f at the f-number n is set to s, for the circle of confusion
// c, all lengths in one unit. far is nil for infinity. From the hyperfocal
// distance H: near = s(H-f)/(H+s-2f), far = s(H-f)/(H-s).
func DepthOfField(f, n, c, s float64) (near, far *float64) {
	h := Hyperfocal(f, n, c)
	near = value(s * (h - f) / (h + s - 2*f))
	if s < h {
		far = value(s * (h - f) / (h - s))
	}
	return near, far
}
