package raster

import (
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// ink is the area that a shape covers on a canvas, in pixels.
func ink(c *canvas) float64 {
	sum := 0.0
	for y := range c.bounds.Dy() {
		for x := range c.bounds.Dx() {
			sum += float64(255-c.pix[y*c.stride+x*c.n]) / 255
		}
	}
	return sum
}

func blank(w, h int) *canvas { return newCanvas(w, h, 1, false, newAlbum()) }

// shoelace is the area of a polygon.
func shoelace(p []point) float64 {
	sum := 0.0
	for i, a := range p {
		sum += cross(a, p[(i+1)%len(p)])
	}
	return sum / 2
}

// What a triangle covers adds up to its area by the shoelace formula, whichever
// way round it is drawn and however it is cut into bands.
func TestAreaOfATriangle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coordinate := rapid.Float64Range(2, 398)
		var p []point
		for range 3 {
			p = append(p, point{coordinate.Draw(t, "x"), coordinate.Draw(t, "y")})
		}
		c := blank(400, 400)
		c.shape.contour(p...)
		c.fill(&c.shape, 0)
		// each pixel of an edge is rounded to a 255th
		round := 3 * 400 * 2 / 255.0
		assert.InDelta(t, math.Abs(shoelace(p)), ink(c), round)
	})
}

// A shape that reaches over every side of the page is cut there.
func TestShapeOverTheEdges(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coordinate := rapid.Float64Range(-3000, 3000)
		c := blank(64, 48)
		a := point{coordinate.Draw(t, "x"), coordinate.Draw(t, "y")}
		// a quarter plane, its corner at a
		const far = 100_000
		c.shape.contour(a, point{far, a.y}, point{far, far}, point{a.x, far})
		c.fill(&c.shape, 0)
		want := min(max(64-a.x, 0), 64) * min(max(48-a.y, 0), 48)
		assert.InDelta(t, want, ink(c), 1)
	})
}

func TestNonZeroRule(t *testing.T) {
	square := func(x0, y0, x1, y1 float64) []point { return []point{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}} }
	back := func(p []point) []point { return []point{p[3], p[2], p[1], p[0]} }
	for name, k := range map[string]struct {
		inner []point
		want  float64
	}{
		"a hole the other way round":     {back(square(4, 4, 8, 8)), 100 - 16},
		"no hole the same way round":     {square(4, 4, 8, 8), 100},
		"one beside, half over the edge": {square(8, 4, 14, 8), 100 + 4*4},
	} {
		c := blank(20, 20)
		c.shape.contour(square(1, 1, 11, 11)...)
		if name == "one beside, half over the edge" {
			c.shape.reset()
			c.shape.contour(square(0, 0, 10, 10)...)
		}
		c.shape.contour(k.inner...)
		c.fill(&c.shape, 0)
		assert.InDelta(t, k.want, ink(c), 1e-9, name)
	}
}

// Half a pixel is half grey; a clip that runs through a pixel is as exact.
func TestPartsOfAPixel(t *testing.T) {
	c := blank(4, 4)
	c.shape.contour(point{0.5, 0}, point{4, 0}, point{4, 4}, point{0.5, 4})
	c.fill(&c.shape, 0)
	assert.InDelta(t, 127, int(c.pix[0]), 1)
	assert.Zero(t, c.pix[1])

	c = blank(4, 4)
	c.clip = box{1.25, 0, 3, 2.5}
	c.shape.contour(point{-9, -9}, point{9, -9}, point{9, 9}, point{-9, 9})
	c.fill(&c.shape, 0)
	assert.InDelta(t, 1.75*2.5, ink(c), 0.02)
	assert.Equal(t, byte(255), c.pix[0])
	assert.InDelta(t, 255*0.25, float64(c.pix[1]), 1)
}

// The buffer is left as it was found, so that one shape does not shine through
// the next.
func TestBufferIsCleared(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coordinate := rapid.Float64Range(-20, 60)
		var c coverage
		for range 3 {
			var s shape
			for range 4 {
				s.points = append(s.points, point{coordinate.Draw(t, "x"), coordinate.Draw(t, "y")})
			}
			s.ends = []int{4}
			w, h := rapid.IntRange(1, 40).Draw(t, "w"), rapid.IntRange(1, 40).Draw(t, "h")
			c.draw(&s, image.Rect(0, 0, w, h))
			for y := range h {
				c.row(y)
			}
			for _, v := range c.cells[:cap(c.cells)] {
				require.Zero(t, v)
			}
		}
	})
}
