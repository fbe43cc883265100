package photo

import "image"

// Grey decodes the picture as it is stored, in the light of its pixels alone, for a
// reader of what it shows: no profile is followed, it is not turned. The error says
// for a person why it cannot be read.
func (p *Picture) Grey() (*image.Gray, error) {
	if p.source == nil {
		return nil, errDamaged
	}
	decoding <- struct{}{}
	defer func() { <-decoding }()
	if p.Width*p.Height > largePixels {
		large.Lock()
		defer large.Unlock()
	}
	img, err := p.source.decode()
	if err != nil {
		return nil, err
	}
	b := img.Bounds()
	if b.Dx() != p.Width || b.Dy() != p.Height {
		return nil, errDamaged
	}
	switch v := img.(type) {
	case *image.Gray:
		if v.Rect.Min == (image.Point{}) {
			return v, nil
		}
	case *image.YCbCr:
		if v.Rect.Min == (image.Point{}) {
			return &image.Gray{Pix: v.Y, Stride: v.YStride, Rect: v.Rect}, nil
		}
	}
	read, channels := rows(img, &source{grey: p.source.grey, studio: p.source.studio})
	out := image.NewGray(image.Rect(0, 0, b.Dx(), b.Dy()))
	row := make([]uint16, b.Dx()*channels)
	for y := range b.Dy() {
		read(b.Min.Y+y, row)
		dst := out.Pix[y*out.Stride:][:b.Dx()]
		for x := range dst {
			if channels < 3 {
				dst[x] = short8(row[x*channels])
				continue
			}
			c := row[x*channels:]
			dst[x] = short8(uint16((uint32(c[0]) + 2*uint32(c[1]) + uint32(c[2]) + 2) / 4))
		}
	}
	return out, nil
}
