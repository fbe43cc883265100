package photo

import (
	"image"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/draw"
	"pgregory.net/rapid"
)

// Another scaler with the same kernel, golang.org/x/image/draw, gives the same
// within a code.
func TestScaledEqualsAnotherScaler(t *testing.T) {
	src := picture(97, 61) // with hard edges
	for _, size := range [][2]int{{96, 60}, {70, 44}, {49, 31}, {20, 12}, {3, 2}} {
		want := image.NewRGBA(image.Rect(0, 0, size[0], size[1]))
		draw.CatmullRom.Scale(want, want.Bounds(), src, src.Bounds(), draw.Src, nil)
		_, most := apart(t, want, scaled(src, size[0], size[1]))
		assert.LessOrEqual(t, most, 1.0, "%v", size)
	}
}

// An even picture stays even, in grey too, to its edges.
func TestScaledKeepsAnEvenPicture(t *testing.T) {
	grey := image.NewGray(image.Rect(0, 0, 50, 30))
	for _, v := range []uint8{0, 1, 127, 254, 255} {
		for i := range grey.Pix {
			grey.Pix[i] = v
		}
		for _, p := range scaled(grey, 33, 20).(*image.Gray).Pix {
			assert.Equal(t, v, p)
		}
	}
}

// A picture without a profile comes out in one step as it does in two, whatever
// its colours' resolution and wherever its corner lies.
func TestWholeYCbCr(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ratio := image.YCbCrSubsampleRatio(rapid.IntRange(0, 5).Draw(t, "ratio"))
		v := image.NewYCbCr(image.Rect(0, 0, rapid.IntRange(1, 40).Draw(t, "w"), rapid.IntRange(1, 150).Draw(t, "h")), ratio)
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		for _, plane := range [][]uint8{v.Y, v.Cb, v.Cr} {
			for i := range plane {
				plane[i] = uint8(r.Uint32())
			}
		}
		part := v.SubImage(image.Rect(v.Rect.Dx()/3, v.Rect.Dy()/3, v.Rect.Dx(), v.Rect.Dy())).(*image.YCbCr)
		s := &source{studio: rapid.Bool().Draw(t, "studio")}
		require.Equal(t, s.srgb(reduce(part, 1, s)), image.Image(wholeYCbCr(part, s.studio)))
	})
}

// plainResample scales interleaved channels as the formula says, one value after
// another.
func plainResample(dst []uint8, dw, dh int, src []uint8, sw, sh, channels int) {
	across, down := taps(dw, sw), taps(dh, sh)
	for x, tx := range across {
		for y, ty := range down {
			for c := range channels {
				all := int32(1 << (weightBits + spareBits - 1))
				for j, wy := range ty.weight {
					sum := int32(1 << (weightBits - spareBits - 1))
					for i, wx := range tx.weight {
						sum += wx * int32(src[((ty.first+j)*sw+tx.first+i)*channels+c])
					}
					all += wy * int32(int16(sum>>(weightBits-spareBits)))
				}
				dst[(y*dw+x)*channels+c] = uint8(min(max(all>>(weightBits+spareBits), 0), 255))
			}
		}
	}
}

func TestScaledAsTheFormulaSays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sw, sh := rapid.IntRange(1, 60).Draw(t, "sw"), rapid.IntRange(1, 300).Draw(t, "sh")
		dw, dh := rapid.IntRange(1, sw).Draw(t, "dw"), rapid.IntRange(1, sh).Draw(t, "dh")
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		colour, grey := image.NewRGBA(image.Rect(0, 0, sw, sh)), image.NewGray(image.Rect(0, 0, sw, sh))
		for i := range colour.Pix {
			if colour.Pix[i] = 255; i%4 < 3 {
				colour.Pix[i] = uint8(r.Uint32())
			}
		}
		for i := range grey.Pix {
			grey.Pix[i] = uint8(r.Uint32())
		}
		want := make([]uint8, 4*dw*dh)
		plainResample(want, dw, dh, colour.Pix, sw, sh, 4)
		require.Equal(t, want, scaled(colour, dw, dh).(*image.RGBA).Pix)
		plainResample(want[:dw*dh], dw, dh, grey.Pix, sw, sh, 1)
		require.Equal(t, want[:dw*dh], scaled(grey, dw, dh).(*image.Gray).Pix)
	})
}
