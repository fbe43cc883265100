package exposure

import "math"

// Body is a light or another thing that may stand in the picture: a flat face
// of Width by Height (m) around At, turned toward Toward. A disc has its
// diameter for both; without a size it is a point.
type Body struct {
	At, Toward    Vec
	Round         bool
	Width, Height float64
}

// grazing is how far, in metres, a body must reach into the frame to count.
const grazing = 0.02

// InFrame reports whether any part of a body is inside the pyramid that the
// camera sees when it is aimed at a point straight above, below or behind the
// mark. What is behind the lens or behind the background does not count; what
// may hide the body is not looked at. known is false when the camera's place,
// lens or frame is not.
func InFrame(c *Camera, aim Vec, background *Background, b Body) (in, known bool) {
	if c == nil || !positive(c.DistanceM) || c.HeightM == nil || !positive(c.FocalMM) || !(c.FrameWMM > 0) || !(c.FrameHMM > 0) {
		return false, false
	}
	eye := Vec{0, *c.DistanceM, *c.HeightM}
	forward, ok := unit(aim.Minus(eye))
	if !ok {
		return false, false
	}
	face := b.Outline()
	for _, p := range pyramid(c, eye, forward, background) {
		if face = p.clip(face); len(face) == 0 {
			return false, true
		}
	}
	return true, true
}

// plane keeps the points for which normal·p >= offset.
type plane struct {
	normal Vec
	offset float64
}

func planeAt(p, normal Vec, inset float64) plane { return plane{normal, normal.Dot(p) + inset} }

func pyramid(c *Camera, eye, forward Vec, background *Background) []plane {
	// The camera stands on the line x = 0 and is not rolled, so its sides lie
	// along x, and its upright is square to both.
	side := Vec{X: 1}
	upright := Vec{Y: forward.Z, Z: -forward.Y}
	across := c.FrameWMM / 2 / *c.FocalMM
	tall := c.FrameHMM / 2 / *c.FocalMM
	planes := []plane{planeAt(eye, forward, grazing)}
	for _, e := range []struct {
		dir Vec
		tan float64
	}{{side, across}, {side.Times(-1), across}, {upright, tall}, {upright.Times(-1), tall}} {
		// inside: dir·q <= tan forward·q, q from the eye
		n, _ := unit(forward.Times(e.tan).Minus(e.dir))
		planes = append(planes, planeAt(eye, n, grazing))
	}
	if background != nil {
		planes = append(planes, plane{Vec{Y: 1}, -background.DistanceM})
	}
	return planes
}

// clip cuts a convex outline, or a single point, at a plane.
func (p plane) clip(outline []Vec) []Vec {
	var kept []Vec
	for i, v := range outline {
		next := outline[(i+1)%len(outline)]
		dv, dn := p.normal.Dot(v)-p.offset, p.normal.Dot(next)-p.offset
		if dv >= 0 {
			kept = append(kept, v)
		}
		if (dv >= 0) != (dn >= 0) {
			kept = append(kept, v.Plus(next.Minus(v).Times(dv/(dv-dn))))
		}
	}
	return kept
}

// roundSides is how many sides stand for a round outline.
const roundSides = 24

// Outline gives the corners of the face, a round one by 24 points, and a body
// without a size as its one point.
func (b Body) Outline() []Vec {
	if !(b.Width > 0) || !(b.Height > 0) {
		return []Vec{b.At}
	}
	n, ok := unit(b.Toward.Minus(b.At))
	if !ok {
		n = Vec{Y: 1}
	}
	across, ok := unit(Vec{X: n.Y, Y: -n.X})
	if !ok { // it looks straight up or down
		across = Vec{X: 1}
	}
	up := Vec{n.Y*across.Z - n.Z*across.Y, n.Z*across.X - n.X*across.Z, n.X*across.Y - n.Y*across.X}
	corner := func(x, y float64) Vec {
		return b.At.Plus(across.Times(x * b.Width / 2)).Plus(up.Times(y * b.Height / 2))
	}
	if !b.Round {
		return []Vec{corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)}
	}
	out := make([]Vec, 0, roundSides)
	for i := range roundSides {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / roundSides)
		out = append(out, corner(cos, sin))
	}
	return out
}

// Top is the height of the body's highest point above the floor, m.
func (b Body) Top() float64 {
	top := math.Inf(-1)
	for _, v := range b.Outline() {
		top = math.Max(top, v.Z)
	}
	return top
}

func unit(v Vec) (Vec, bool) {
	l := v.Length()
	if !(l > 1e-9) || math.IsInf(l, 0) {
		return Vec{}, false
	}
	return v.Times(1 / l), true
}
