package raster

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"math"
	"sync"

	"stopleaf/layout"
	"stopleaf/render/internal/paper"
)

// album holds the pictures of a document, and each at the sizes it is shown in:
// none is decoded twice, and several pages may ask at once.
type album struct {
	mu      sync.Mutex
	decoded map[*byte]*kept[image.Image]
	scaled  map[view]*kept[*image.RGBA]
}

// view is a picture in a size, as stored.
type view struct {
	data *byte
	w, h int
}

// kept is what is made once, by the first who asks; the others wait for it.
type kept[T any] struct {
	once  sync.Once
	value T
	err   error
}

func (k *kept[T]) get(make func() (T, error)) (T, error) {
	k.once.Do(func() { k.value, k.err = make() })
	return k.value, k.err
}

func newAlbum() *album {
	return &album{decoded: map[*byte]*kept[image.Image]{}, scaled: map[view]*kept[*image.RGBA]{}}
}

// get gives a picture as stored, w x h pixels.
func (a *album) get(v *layout.Image, w, h int) (*image.RGBA, error) {
	key := view{&v.Data[0], w, h}
	scaled := entry(&a.mu, a.scaled, key)
	return scaled.get(func() (*image.RGBA, error) {
		img, err := entry(&a.mu, a.decoded, key.data).get(func() (image.Image, error) { return decode(v) })
		if err != nil {
			return nil, err
		}
		return resample(img, w, h), nil
	})
}

// entry gives the place of a key, a new one where it has none.
func entry[K comparable, T any](mu *sync.Mutex, in map[K]*kept[T], key K) *kept[T] {
	mu.Lock()
	defer mu.Unlock()
	if in[key] == nil {
		in[key] = &kept[T]{}
	}
	return in[key]
}

func decode(v *layout.Image) (image.Image, error) {
	read := jpeg.Decode
	if v.Format == "png" {
		read = png.Decode
	}
	img, err := read(bytes.NewReader(v.Data))
	if err != nil || img.Bounds().Empty() {
		return nil, fmt.Errorf("picture %.40q is damaged", v.Alt)
	}
	return img, nil
}

// hasColour tells whether any picture on the page has a colour.
func hasColour(items []layout.Item) bool {
	colour := false
	layout.Walk(items, func(it layout.Item) {
		if v, ok := it.(*layout.Image); ok && v.Channels > 1 {
			colour = true
		}
	})
	return colour
}

// image puts down a picture, turned as the camera was held. Its edges are whole
// pixels.
func (c *canvas) image(v *layout.Image) error {
	b := c.box(v.Rect)
	r := image.Rect(nearest(b.x0), nearest(b.y0), nearest(b.x1), nearest(b.y1))
	r.Max.X, r.Max.Y = max(r.Max.X, r.Min.X+1), max(r.Max.Y, r.Min.Y+1)
	if c.clip.pixels().Intersect(r).Empty() {
		return nil
	}
	turn := paper.Turn(v.Orientation)
	w, h := r.Dx(), r.Dy()
	if turn.A == 0 {
		w, h = h, w
	}
	if int64(w)*int64(h) > maxBytes/4 {
		return fmt.Errorf("picture %.40q would be %d x %d pixels", v.Alt, w, h)
	}
	img, err := c.album.get(v, w, h)
	if err != nil {
		return err
	}
	c.place(img, r, turn)
	return nil
}

func nearest(x float64) int { return int(math.Floor(x + 0.5)) }

// place copies a picture to where it is seen, pixel for pixel.
func (c *canvas) place(img *image.RGBA, r image.Rectangle, turn paper.Matrix) {
	// the turn's inverse, in whole pixels: a stored pixel for each seen one
	a, b, cc, d := int(turn.A), int(turn.B), int(turn.C), int(turn.D)
	x0, y0 := 0, 0
	if a+b < 0 {
		x0 = img.Rect.Dx() - 1
	}
	if cc+d < 0 {
		y0 = img.Rect.Dy() - 1
	}
	seen := r.Intersect(c.clip.pixels())
	across := c.share(seen.Min.X, seen.Max.X, c.clip.x0, c.clip.x1)
	down := c.share(seen.Min.Y, seen.Max.Y, c.clip.y0, c.clip.y1)
	for y := seen.Min.Y; y < seen.Max.Y; y++ {
		for x := seen.Min.X; x < seen.Max.X; x++ {
			i, j := x-r.Min.X, y-r.Min.Y
			from := img.Pix[img.PixOffset(x0+a*i+b*j, y0+cc*i+d*j):]
			alpha := uint32(255)
			if across != nil {
				alpha = alpha * across[x-seen.Min.X] / 256
			}
			if down != nil {
				alpha = alpha * down[y-seen.Min.Y] / 256
			}
			c.dot(x, y, from[0], from[1], from[2], alpha)
		}
	}
}

func (c *canvas) dot(x, y int, r, g, b byte, alpha uint32) {
	p := c.pix[y*c.stride+x*c.n:]
	if c.n == 1 {
		// as image/color turns a colour into grey
		luma := (19595*uint32(r) + 38470*uint32(g) + 7471*uint32(b) + 1<<15) >> 16
		p[0] = mix(p[0], luma, alpha)
		return
	}
	p[0], p[1], p[2] = mix(p[0], uint32(r), alpha), mix(p[1], uint32(g), alpha), mix(p[2], uint32(b), alpha)
}
