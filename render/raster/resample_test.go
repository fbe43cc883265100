package raster

import (
	"image"
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/draw"
	"pgregory.net/rapid"
)

// wavy is a picture of soft waves in three colours.
func wavy(w, h int) *image.NRGBA {
	img := image.NewNRGBA(image.Rect(0, 0, w, h))
	wave := func(v float64) uint8 { return uint8(127.5 + 120*math.Sin(v)) }
	for y := range h {
		for x := range w {
			fx, fy := float64(x), float64(y)
			img.SetNRGBA(x, y, color.NRGBA{R: wave(fx / 9), G: wave(fy / 7), B: wave((fx + fy) / 13), A: 255})
		}
	}
	return img
}

// The same as another's Catmull-Rom, golang.org/x/image/draw, to two levels of
// 255, larger and smaller.
func TestResampleAsAnotherDoes(t *testing.T) {
	src := wavy(120, 90)
	for _, size := range []image.Point{{120, 90}, {60, 45}, {37, 29}, {11, 300}, {240, 180}, {1, 1}} {
		want := image.NewRGBA(image.Rectangle{Max: size})
		draw.CatmullRom.Scale(want, want.Rect, src, src.Rect, draw.Src, nil)
		got := resample(src, size.X, size.Y)
		require.Equal(t, want.Rect, got.Rect)
		worst := 0
		for i, v := range want.Pix {
			worst = max(worst, int(v)-int(got.Pix[i]), int(got.Pix[i])-int(v))
		}
		assert.LessOrEqual(t, worst, 2, "%v", size)
	}
}

// An even picture stays even, whatever its size, kind and transparency.
func TestResampleKeepsAnEvenPicture(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.IntRange(1, 50)
		w, h := side.Draw(t, "w"), side.Draw(t, "h")
		c := color.NRGBA{R: rapid.Byte().Draw(t, "r"), G: rapid.Byte().Draw(t, "g"), B: rapid.Byte().Draw(t, "b"), A: rapid.Byte().Draw(t, "a")}
		src := image.NewNRGBA(image.Rect(3, 5, 3+w, 5+h))
		draw.Draw(src, src.Rect, image.NewUniform(c), image.Point{}, draw.Src)
		got := resample(src, side.Draw(t, "to w"), side.Draw(t, "to h"))
		over := func(v uint8) float64 { return float64(v)*float64(c.A)/255 + 255 - float64(c.A) }
		for i := 0; i < len(got.Pix); i += 4 {
			require.InDelta(t, over(c.R), float64(got.Pix[i]), 1.5)
			require.InDelta(t, over(c.G), float64(got.Pix[i+1]), 1.5)
			require.InDelta(t, over(c.B), float64(got.Pix[i+2]), 1.5)
			require.Equal(t, byte(255), got.Pix[i+3])
		}
	})
}
