package photo

import (
	"image"
	"testing"

	"github.com/stretchr/testify/assert"
	"golang.org/x/image/draw"
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
