package paper

import (
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stopleaf/layout"
)

func TestMm(t *testing.T) {
	for u, want := range map[layout.Um]string{
		0: "0", 1: "0.001", -1: "-0.001", 500: "0.5", -500: "-0.5", 12345: "12.345", 12300: "12.3", 50000: "50", -7010: "-7.01",
	} {
		assert.Equal(t, want, Mm(u))
	}
	rapid.Check(t, func(t *rapid.T) {
		u := layout.Um(rapid.Int64Range(-1e9, 1e9).Draw(t, "um"))
		v, err := strconv.ParseFloat(Mm(u), 64)
		require.NoError(t, err)
		require.Equal(t, u, layout.Mm(v))
	})
}

func TestNum(t *testing.T) {
	assert.Equal(t, "0", Num(-0.0000001, 3))
	assert.Equal(t, "0", Num(math.Copysign(0, -1), 3))
	assert.Equal(t, "100", Num(100, 0))
	assert.Equal(t, "-1.25", Num(-1.250, 4))
}

// Every turn maps the unit square onto itself; 3, 6 and 8 are the half and the
// quarter turns, 2 and 4 the mirrors.
func TestTurn(t *testing.T) {
	for o := 1; o <= 8; o++ {
		m := Turn(o)
		seen := map[[2]float64]bool{}
		for _, c := range [][2]float64{{0, 0}, {1, 0}, {0, 1}, {1, 1}} {
			x, y := m.Apply(c[0], c[1])
			assert.Contains(t, []float64{0, 1}, x)
			assert.Contains(t, []float64{0, 1}, y)
			seen[[2]float64{x, y}] = true
		}
		assert.Len(t, seen, 4)
	}
	assert.Equal(t, Turn(1), Turn(0))
	assert.Equal(t, Turn(1), Turn(99))
	x, y := Turn(6).Apply(0, 0)
	assert.Equal(t, [2]float64{1, 0}, [2]float64{x, y}, "the stored top left is seen at the top right")
}

func TestDirection(t *testing.T) {
	for _, d := range []int{0, 90, 180, 270, 360, -90, 450} {
		c, s := Direction(d)
		assert.Equal(t, 1.0, c*c+s*s)
	}
	c, s := Direction(-90)
	assert.Equal(t, [2]float64{0, -1}, [2]float64{c, s})
	c, s = Direction(30)
	assert.InDelta(t, 0.5, s, 1e-15)
	assert.InDelta(t, math.Sqrt(3)/2, c, 1e-15)
	assert.False(t, Matrix{A: math.NaN()}.Finite())
	assert.False(t, Matrix{F: math.Inf(1)}.Finite())
}

type stranger struct{ layout.Path }

func TestCheckRefuses(t *testing.T) {
	page := func(items ...layout.Item) *layout.Page { return &layout.Page{W: 1000, H: 1000, Items: items} }
	loop := &layout.Group{}
	loop.Items = []layout.Item{loop}
	seg := layout.Seg{Kind: layout.MoveTo}
	cases := map[string]*layout.Page{
		"page of 0 x 1 mm":       {W: 0, H: 1000},
		"page of 6000 x 1 mm":    {W: 6_000_000, H: 1000},
		"groups nested deeper":   page(loop),
		"does not begin":         page(&layout.Path{Segs: []layout.Seg{{Kind: layout.LineTo}}}),
		"line width":             page(&layout.Path{Stroke: layout.Stroke{Width: -1}}),
		"dash of -0.001 mm":      page(&layout.Path{Segs: []layout.Seg{seg}, Stroke: layout.Stroke{Width: 1, Dash: []layout.Um{-1}}}),
		"dashes of no length":    page(&layout.Path{Segs: []layout.Seg{seg}, Stroke: layout.Stroke{Width: 1, Dash: []layout.Um{0, 0}}}),
		"out of all measure":     page(&layout.Text{X: math.MaxInt64, Cap: 1}),
		"cap height":             page(&layout.Text{}),
		"not jpeg or png":        page(&layout.Image{Format: "tiff"}),
		"has no size":            page(&layout.Image{Format: "png"}),
		"box of -0.001 x 0 mm":   page(&layout.Link{Rect: layout.Rect{W: -1}}),
		"cannot be written":      page(nil),
		"*paper.stranger cannot": page(&stranger{}),
		"box of 0 x -0.001 mm":   page(&layout.Group{Clip: &layout.Rect{H: -1}}),
	}
	for says, p := range cases {
		assert.ErrorContains(t, Check(p), says)
	}
	assert.NoError(t, Check(page()))
}
