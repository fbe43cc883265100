// Package photo reads a picture that a setup names: bounded, whole or refused,
// turned by its Exif orientation, with what the camera wrote of the exposure,
// and stripped of everything else before it may be embedded.
package photo

// Picture is one loaded picture. Data is ready to embed: a JPEG without its
// metadata (its pixels untouched) or an 8-bit PNG.
type Picture struct {
	Format      string // "jpeg" or "png"
	Data        []byte
	Width       int // pixels, as stored
	Height      int // pixels, as stored
	Orientation int // Exif, 1 to 8: how the stored pixels are turned for display
	Channels    int // 1 grey, 3 colour, 4 CMYK
	Exif        Exif
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
