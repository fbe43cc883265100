package scan

import (
	"image"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// hostile are pictures that make work: noise, and nothing but finder patterns.
func hostile(n int) map[string]*image.Gray {
	r := rand.New(rand.NewPCG(1, 1))
	noise := image.NewGray(image.Rect(0, 0, n, n))
	squares := image.NewGray(image.Rect(0, 0, n, n))
	for i := range noise.Pix {
		noise.Pix[i] = uint8(r.Uint32())
		x, y := i%n/2%9-4, i/n/2%9-4
		ring := max(x, -x, y, -y)
		squares.Pix[i] = 255
		if ring == 3 || ring < 2 {
			squares.Pix[i] = 0
		}
	}
	return map[string]*image.Gray{"noise": noise, "squares": squares}
}

func TestHostile(t *testing.T) {
	for name, img := range hostile(700) {
		r := Read(img)
		assert.Empty(t, r.Texts, name)
		assert.Zero(t, r.Unread, name)
	}
}

func BenchmarkHostile(b *testing.B) {
	for name, img := range hostile(4000) {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				Read(img)
			}
		})
	}
}
