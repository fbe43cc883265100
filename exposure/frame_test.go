package exposure

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// A 50 mm lens on 36 x 24 sees 0.36 m to each side and 0.24 m up and down at
// each metre: 18/50 and 12/50.
func TestInFrame(t *testing.T) {
	camera := &Camera{DistanceM: p(3), HeightM: p(1.5), FocalMM: p(50), FrameWMM: 36, FrameHMM: 24}
	level := Vec{0, 0, 1.5}
	wall := &Background{DistanceM: 2}
	box := func(x, y, z, w, h float64, toward Vec) Body {
		return Body{At: Vec{x, y, z}, Toward: toward, Width: w, Height: h}
	}
	for _, c := range []struct {
		what string
		b    Body
		bg   *Background
		want bool
	}{
		{"a point on the axis", Body{At: Vec{0, 1, 1.5}}, nil, true},
		{"a point just inside the side, 0.72 m at 2 m", Body{At: Vec{0.68, 1, 1.5}}, nil, true},
		{"a point just outside it", Body{At: Vec{0.74, 1, 1.5}}, nil, false},
		{"a point just inside the top, 0.48 m at 2 m", Body{At: Vec{0, 1, 1.94}}, nil, true},
		{"a point just outside it", Body{At: Vec{0, 1, 2.0}}, nil, false},
		{"behind the camera", Body{At: Vec{0, 4, 1.5}}, nil, false},
		{"a box whose edge hangs in", box(0, 1, 2.3, 0.9, 0.9, Vec{0, -4, 2.3}), nil, true},
		{"the same box, higher", box(0, 1, 2.5, 0.9, 0.9, Vec{0, -4, 2.5}), nil, false},
		{"the same box, turned edge on from above", box(0, 1, 2.3, 0.9, 0.9, Vec{0, 1, 0}), nil, false},
		{"a strip beside the frame, turned across it", box(1.1, 1, 1.5, 1.2, 0.3, Vec{1.1, -4, 1.5}), nil, true},
		{"the same strip, turned along the view", box(1.1, 1, 1.5, 1.2, 0.3, Vec{0, 1, 1.5}), nil, false},
		{"a panel larger than the frame", box(0, 0, 1.5, 9, 9, Vec{0, 3, 1.5}), nil, true},
		{"behind the background", Body{At: Vec{0, -2.5, 1.5}}, wall, false},
		{"before the background", Body{At: Vec{0, -1.5, 1.5}}, wall, true},
	} {
		in, known := InFrame(camera, level, c.bg, c.b)
		assert.True(t, known, c.what)
		assert.Equal(t, c.want, in, c.what)
	}
	// Aimed up at 45 degrees the same camera loses the axis and finds the ceiling.
	up := Vec{0, 0, 4.5}
	in, _ := InFrame(camera, up, nil, Body{At: Vec{0, 1, 1.5}})
	assert.False(t, in)
	in, _ = InFrame(camera, up, nil, Body{At: Vec{0, 1, 3.5}})
	assert.True(t, in)
	_, known := InFrame(&Camera{DistanceM: p(3)}, level, nil, Body{})
	assert.False(t, known)
	_, known = InFrame(nil, level, nil, Body{})
	assert.False(t, known)
}

func TestInFrameIsMirrored(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		camera := &Camera{DistanceM: p(g("d", 1, 8)), HeightM: p(g("h", 0.2, 3)), FocalMM: p(g("f", 20, 200)), FrameWMM: 36, FrameHMM: 24}
		b := Body{At: Vec{g("x", -3, 3), g("y", -3, 6), g("z", 0, 3)}, Toward: Vec{g("tx", -1, 1), g("ty", -1, 1), g("tz", 0, 2)},
			Round: rapid.Bool().Draw(t, "round"), Width: g("w", 0.1, 2), Height: g("bh", 0.1, 2)}
		m := b
		m.At.X, m.Toward.X = -b.At.X, -b.Toward.X
		aim := Vec{0, 0, 1.5}
		a, _ := InFrame(camera, aim, nil, b)
		c, _ := InFrame(camera, aim, nil, m)
		assert.Equal(t, a, c)
		if point, _ := InFrame(camera, aim, nil, Body{At: b.At}); point {
			assert.True(t, a, "a body is in the frame when its centre is")
		}
	})
}

func TestBodyTop(t *testing.T) {
	aimed := Body{At: Vec{0, 2, 2}, Toward: Vec{0, 0, 0}, Width: 0.6, Height: 1} // 45 degrees down
	assert.InDelta(t, 2+0.5/math.Sqrt2, aimed.Top(), 1e-9)
	assert.InDelta(t, 2.0, Body{At: Vec{0, 0, 2}, Toward: Vec{}, Width: 1, Height: 1}.Top(), 1e-9)
	assert.InDelta(t, 2.0, Body{At: Vec{0, 0, 2}}.Top(), 1e-9)
}
