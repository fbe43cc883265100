package photo

import (
	"bytes"
	"image"

	xtiff "golang.org/x/image/tiff"
)

// decodeConfig reads the head of a TIFF by the reader that decodes it.
func decodeConfig(b []byte) (config image.Config, err error) {
	defer func() {
		if recover() != nil {
			err = errDamaged
		}
	}()
	return xtiff.DecodeConfig(bytes.NewReader(b))
}

// inks gives four channels that were read as something else their meaning.
func inks(img image.Image) (image.Image, error) {
	switch v := img.(type) {
	case *image.NRGBA:
		return &image.CMYK{Pix: v.Pix, Stride: v.Stride, Rect: v.Rect}, nil
	case *image.NRGBA64:
		out := image.NewCMYK(v.Rect)
		for i := range out.Pix {
			out.Pix[i] = short8(uint16(v.Pix[2*i])<<8 | uint16(v.Pix[2*i+1]))
		}
		return out, nil
	}
	return nil, errTIFFKind
}

// opaque fills a fourth channel that is no alpha.
func opaque(img image.Image) {
	switch v := img.(type) {
	case *image.NRGBA:
		for i := 3; i < len(v.Pix); i += 4 {
			v.Pix[i] = 0xFF
		}
	case *image.NRGBA64:
		for i := 6; i < len(v.Pix); i += 8 {
			v.Pix[i], v.Pix[i+1] = 0xFF, 0xFF
		}
	}
}
