package code

import (
	"bytes"
	"image/png"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/layout"
	"stopleaf/recovery/symbol"
)

func drawn(t *testing.T) *layout.Code {
	t.Helper()
	m, err := symbol.Draw("STOPLEAF:0A1", 177)
	require.NoError(t, err)
	side := layout.Um(m.Size+2*symbol.Quiet) * 400
	return &layout.Code{Rect: layout.Rect{X: 1000, Y: 2000, W: side, H: side}, Modules: m, Alt: "code"}
}

// The area of the path is that of the dark modules, and nothing lies in the quiet zone.
func TestPath(t *testing.T) {
	c := drawn(t)
	dark := 0
	for y := range c.Modules.Size {
		for x := range c.Modules.Size {
			if c.Modules.Dark(x, y) {
				dark++
			}
		}
	}
	area := layout.Um(0)
	segs := Path(c).Segs
	for i := 0; i < len(segs); i += 5 {
		a, b := segs[i].P[0], segs[i+2].P[0]
		area += (b.X - a.X) * (b.Y - a.Y)
		assert.GreaterOrEqual(t, a.X, c.X+1600)
		assert.GreaterOrEqual(t, a.Y, c.Y+1600)
		assert.LessOrEqual(t, b.X, c.X+c.W-1600)
		assert.LessOrEqual(t, b.Y, c.Y+c.H-1600)
	}
	assert.Equal(t, layout.Um(dark)*400*400, area)
}

func TestPicture(t *testing.T) {
	c := drawn(t)
	im, err := Picture(c)
	require.NoError(t, err)
	assert.Equal(t, c.Rect, im.Rect)
	got, err := png.Decode(bytes.NewReader(im.Data))
	require.NoError(t, err)
	for y := range im.PxH {
		for x := range im.PxW {
			mx, my := x-symbol.Quiet, y-symbol.Quiet
			dark := mx >= 0 && my >= 0 && mx < c.Modules.Size && my < c.Modules.Size && c.Modules.Dark(mx, my)
			r, _, _, _ := got.At(x, y).RGBA()
			assert.Equal(t, dark, r == 0, "%d, %d", x, y)
		}
	}
}
