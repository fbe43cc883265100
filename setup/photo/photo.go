// Package photo reads a picture that a setup names: bounded, whole or refused,
// turned by its Exif orientation, with what the camera wrote of the exposure,
// and stripped of everything else before it may be embedded.
//
// Load looks at a picture without decoding it. Fit makes it ready for the size
// it is printed at: a JPEG that is no larger than it need be goes through with
// its pixels untouched; anything else is decoded once, scaled, brought to 8-bit
// sRGB and written anew.
package photo

import (
	"crypto/sha256"
	"sync"
)

// Picture is one loaded picture.
type Picture struct {
	Format      string // "jpeg" or "png", of Data
	Data        []byte // ready to embed; nil before Fit where it has to be made
	Width       int    // pixels, as stored
	Height      int    // pixels, as stored
	Orientation int    // Exif, 1 to 8: how the stored pixels are turned for display
	Channels    int    // 1 grey, 3 colour
	Exif        Exif
	Warnings    []string // what may not come out as it was meant, each a sentence without its end

	source *source // how it is decoded; nil in what Fit gives

	summed sync.Once
	sum    [sha256.Size]byte
}

// Sum is the SHA-256 of Data, worked out once: a photo stands on many pages. Data
// may not change after it.
func (p *Picture) Sum() [sha256.Size]byte {
	p.summed.Do(func() { p.sum = sha256.Sum256(p.Data) })
	return p.sum
}

// Exif is what the camera wrote of the exposure; nil is not written.
type Exif struct {
	FNumber   *float64
	ExposureS *float64
	ISO       *float64
	FocalMM   *float64
	Taken     string // "2026-03-14", or ""
}

// Size is the picture's size in pixels as displayed, after its orientation.
func (p *Picture) Size() (w, h int) {
	if p.Orientation >= 5 && p.Orientation <= 8 {
		return p.Height, p.Width
	}
	return p.Width, p.Height
}
