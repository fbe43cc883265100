package code

import (
	"strings"
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

func TestBits(t *testing.T) {
	c := drawn(t)
	rows, n := Bits(c)
	require.Equal(t, dots*c.Side(), n)
	stride := (n + 7) / 8
	require.Len(t, rows, stride*n)
	for y := range n {
		for x := range n {
			mx, my := x/dots-symbol.Quiet, y/dots-symbol.Quiet
			dark := mx >= 0 && my >= 0 && mx < c.Modules.Size && my < c.Modules.Size && c.Modules.Dark(mx, my)
			assert.Equal(t, dark, rows[y*stride+x/8]&(0x80>>(x%8)) == 0, "%d, %d", x, y)
		}
	}
}

func BenchmarkBits(b *testing.B) {
	m, err := symbol.Draw(strings.Repeat("A0:", 417), 104)
	if err != nil {
		b.Fatal(err)
	}
	c := &layout.Code{Rect: layout.Rect{W: 43600, H: 43600}, Modules: m}
	for b.Loop() {
		Bits(c)
	}
}
