package photo

import (
	"bytes"
	"errors"
	"image"
	"image/jpeg"
	"image/png"

	"stopleaf/setup/photo/icc"
)

// quality of a JPEG that is written anew.
const quality = 90

// srgb brings pixels to 8 bits in sRGB: *image.Gray or an opaque *image.RGBA.
func (s *source) srgb(p *pixels) image.Image {
	var t *icc.Transform
	if s.profile != nil && (p.channels == 1) == (s.profile.Space == icc.Grey) {
		t = icc.New(s.profile)
	}
	r := image.Rect(0, 0, p.w, p.h)
	if p.channels == 1 {
		out := image.NewGray(r)
		for i, v := range p.pix {
			if t != nil {
				out.Pix[i] = t.Grey(v)
			} else {
				out.Pix[i] = short8(v)
			}
		}
		return out
	}
	out := image.NewRGBA(r)
	if p.channels == 4 {
		for i := 0; i < len(p.pix); i += 4 {
			out.Pix[i], out.Pix[i+1], out.Pix[i+2] = t.Inks(p.pix[i], p.pix[i+1], p.pix[i+2], p.pix[i+3])
			out.Pix[i+3] = 255
		}
		return out
	}
	for i, j := 0, 0; i < len(p.pix); i, j = i+3, j+4 {
		r, g, b := p.pix[i], p.pix[i+1], p.pix[i+2]
		if t != nil {
			out.Pix[j], out.Pix[j+1], out.Pix[j+2] = t.RGB(r, g, b)
		} else {
			out.Pix[j], out.Pix[j+1], out.Pix[j+2] = short8(r), short8(g), short8(b)
		}
		out.Pix[j+3] = 255
	}
	return out
}

// short8 rounds 16 bits to 8.
func short8(v uint16) uint8 { return uint8((uint32(v) + 128) / 257) }

// turned turns the pixels as the orientation says they are displayed (Exif
// 2.31, CIPA DC-008, 4.6.4, Orientation).
func turned(img image.Image, orientation int) image.Image {
	if orientation <= 1 || orientation > 8 {
		return img
	}
	w, h := img.Bounds().Dx(), img.Bounds().Dy()
	ow, oh := w, h
	if orientation >= 5 {
		ow, oh = h, w
	}
	from := func(x, y int) (int, int) { // where the pixel displayed at x, y is stored
		if orientation >= 5 {
			x, y = y, x
		}
		switch orientation {
		case 2, 7, 3, 8:
			x = w - 1 - x
		}
		switch orientation {
		case 4, 3, 6, 7:
			y = h - 1 - y
		}
		return x, y
	}
	r := image.Rect(0, 0, ow, oh)
	if grey, ok := img.(*image.Gray); ok {
		out := image.NewGray(r)
		for i := range out.Pix {
			x, y := from(i%ow, i/ow)
			out.Pix[i] = grey.Pix[y*grey.Stride+x]
		}
		return out
	}
	colour := img.(*image.RGBA)
	out := image.NewRGBA(r)
	for i := range ow * oh {
		x, y := from(i%ow, i/ow)
		copy(out.Pix[4*i:4*i+4], colour.Pix[y*colour.Stride+4*x:])
	}
	return out
}

// fewColours tells a drawing, which a JPEG would blur, from a photograph.
func fewColours(img image.Image) bool {
	const most = 1024
	switch v := img.(type) {
	case *image.Gray:
		var seen [256]bool
		n := 0
		for _, g := range v.Pix {
			if !seen[g] {
				seen[g] = true
				n++
			}
		}
		return n <= 32
	case *image.RGBA:
		seen := make(map[uint32]struct{}, most)
		last := uint32(1 << 24)
		for i := 0; i < len(v.Pix); i += 4 {
			c := uint32(v.Pix[i])<<16 | uint32(v.Pix[i+1])<<8 | uint32(v.Pix[i+2])
			if c == last {
				continue
			}
			last = c
			seen[c] = struct{}{}
			if len(seen) > most {
				return false
			}
		}
		return true
	}
	return false
}

// encode writes the finished pixels, with nothing said about them.
func (p *Picture) encode(img image.Image, lossless bool) error {
	var b bytes.Buffer
	var err error
	if p.Format = "jpeg"; lossless {
		p.Format = "png"
		err = png.Encode(&b, img)
	} else {
		err = jpeg.Encode(&b, img, &jpeg.Options{Quality: quality})
	}
	if err != nil {
		return errors.New("the picture is too large to be written anew; export a smaller JPEG")
	}
	p.Data = b.Bytes()
	return nil
}
