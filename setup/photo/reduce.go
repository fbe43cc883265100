package photo

import (
	"image"
	"image/color"
)

// pixels is a picture of 16 bits a channel without alpha.
type pixels struct {
	w, h, channels int // 1 grey, 3 colour, 4 inks that have a profile
	pix            []uint16
}

// reduce averages blocks of k x k pixels, or takes all of them for 1. What is
// left over at the right and at the foot, less than a block, is not seen.
func reduce(img image.Image, k int, s *source) *pixels {
	k = min(max(k, 1), 128)
	b := img.Bounds()
	out := &pixels{w: b.Dx() / k, h: b.Dy() / k, channels: 3}
	if v, ok := img.(*image.YCbCr); ok && !s.grey {
		out.pix = make([]uint16, out.w*out.h*3)
		reduceYCbCr(out, v, k, s.studio)
		return out
	}
	read, channels := rows(img, s)
	out.channels = channels
	if s.grey {
		out.channels = 1
	}
	out.pix = make([]uint16, out.w*out.h*out.channels)
	row := make([]uint16, b.Dx()*channels)
	sum := make([]uint32, out.w*out.channels)
	for y := range out.h {
		clear(sum)
		for i := range k {
			read(b.Min.Y+y*k+i, row)
			addRow(sum, row, k, channels, out.channels)
		}
		n := uint32(k * k)
		for i, v := range sum {
			out.pix[y*len(sum)+i] = uint16((v + n/2) / n)
		}
	}
	return out
}

// addRow adds k pixels of a row to each sum, of every channel or the first.
func addRow(sum []uint32, row []uint16, k, in, out int) {
	at := 0
	for x := 0; x < len(sum); x += out {
		for range k {
			for c := range out {
				sum[x+c] += uint32(row[at+c])
			}
			at += in
		}
	}
}

// wholeYCbCr is what reduce by 1 and srgb give of a picture without a profile, in
// one step.
func wholeYCbCr(v *image.YCbCr, studio bool) *image.RGBA {
	sx, sy := subsampling(v.SubsampleRatio)
	b := v.Bounds()
	out := image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
	bands(b.Dy(), func(from, to int) {
		var px [3]uint16
		for y := from; y < to; y++ {
			at := ((b.Min.Y+y)/sy - b.Min.Y/sy) * v.CStride
			cb, cr := v.Cb[at:], v.Cr[at:]
			row := out.Pix[y*out.Stride:]
			for x, l := range v.Y[v.YOffset(b.Min.X, b.Min.Y+y):][:b.Dx()] {
				c := (b.Min.X+x)/sx - b.Min.X/sx
				toRGB(px[:], int(l)*257, int(cb[c])*257-128*257, int(cr[c])*257-128*257, studio)
				p := row[4*x : 4*x+4]
				p[0], p[1], p[2], p[3] = short8(px[0]), short8(px[1]), short8(px[2]), 255
			}
		}
	})
	return out
}

// reduceYCbCr averages light and colour each in its own resolution and turns
// only what is left into RGB (JFIF 1.02, page 3).
func reduceYCbCr(out *pixels, v *image.YCbCr, k int, studio bool) {
	sx, sy := subsampling(v.SubsampleRatio)
	bands(out.h, func(from, to int) {
		for y := from; y < to; y++ {
			reduceRow(out, v, k, y, sx, sy, studio)
		}
	})
}

// reduceRow makes one row of what is left.
func reduceRow(out *pixels, v *image.YCbCr, k, y, sx, sy int, studio bool) {
	b := v.Bounds()
	for x := range out.w {
		x0, y0 := b.Min.X+x*k, b.Min.Y+y*k
		light := 0
		for at, j := v.YOffset(x0, y0), 0; j < k; at, j = at+v.YStride, j+1 {
			for _, l := range v.Y[at : at+k] {
				light += int(l)
			}
		}
		cb, cr, n := 0, 0, 0
		for j := y0 / sy; j <= (y0+k-1)/sy; j++ {
			at := (j-b.Min.Y/sy)*v.CStride + x0/sx - b.Min.X/sx
			end := at + (x0+k-1)/sx - x0/sx + 1
			for i := at; i < end; i++ {
				cb += int(v.Cb[i])
				cr += int(v.Cr[i])
			}
			n += end - at
		}
		toRGB(out.pix[3*(y*out.w+x):], light*257/(k*k), cb*257/n-128*257, cr*257/n-128*257, studio)
	}
}

// toRGB writes one pixel; all are 16 bits, the colours with their sign. In
// studio range luma runs from 16 to 235 and the colours over 224 of 255, as in a
// lossy WebP (RFC 9649, 4; ITU-R BT.601-7, 2.5.3).
func toRGB(dst []uint16, y, cb, cr int, studio bool) {
	if studio {
		y, cb, cr = (y-16*257)*255/219, cb*255/224, cr*255/224
	}
	const half = 1 << 15
	dst[0] = clamp16(y + (91881*cr+half)>>16)
	dst[1] = clamp16(y - (22554*cb+46802*cr-half)>>16)
	dst[2] = clamp16(y + (116130*cb+half)>>16)
}

func clamp16(v int) uint16 { return uint16(min(max(v, 0), 65535)) }

func subsampling(r image.YCbCrSubsampleRatio) (x, y int) {
	switch r {
	case image.YCbCrSubsampleRatio422:
		return 2, 1
	case image.YCbCrSubsampleRatio420:
		return 2, 2
	case image.YCbCrSubsampleRatio440:
		return 1, 2
	case image.YCbCrSubsampleRatio411:
		return 4, 1
	case image.YCbCrSubsampleRatio410:
		return 4, 2
	}
	return 1, 1
}

// rows gives what reads a row of a picture as 16 bits a channel, over white
// where it is clear, and the number of channels.
func rows(img image.Image, s *source) (read func(y int, out []uint16), channels int) {
	b := img.Bounds()
	switch v := img.(type) {
	case *image.Gray:
		return func(y int, out []uint16) {
			for i, g := range v.Pix[v.PixOffset(b.Min.X, y):][:b.Dx()] {
				out[i] = uint16(g) * 257
			}
		}, 1
	case *image.Gray16:
		return func(y int, out []uint16) {
			p := v.Pix[v.PixOffset(b.Min.X, y):]
			for i := range b.Dx() {
				out[i] = uint16(p[2*i])<<8 | uint16(p[2*i+1])
			}
		}, 1
	case *image.CMYK:
		if s.profile != nil {
			return func(y int, out []uint16) {
				for i, v := range v.Pix[v.PixOffset(b.Min.X, y):][:4*b.Dx()] {
					out[i] = uint16(v) * 257
				}
			}, 4
		}
		return func(y int, out []uint16) { inkRow(out, v.Pix[v.PixOffset(b.Min.X, y):][:4*b.Dx()]) }, 3
	case *image.RGBA:
		return func(y int, out []uint16) { rgbaRow(out, v.Pix[v.PixOffset(b.Min.X, y):][:4*b.Dx()]) }, 3
	case *image.NRGBA:
		return func(y int, out []uint16) { nrgbaRow(out, v.Pix[v.PixOffset(b.Min.X, y):][:4*b.Dx()]) }, 3
	case *image.RGBA64:
		return func(y int, out []uint16) { rgba64Row(out, v.Pix[v.PixOffset(b.Min.X, y):][:8*b.Dx()]) }, 3
	case *image.NRGBA64:
		return func(y int, out []uint16) { nrgba64Row(out, v.Pix[v.PixOffset(b.Min.X, y):][:8*b.Dx()]) }, 3
	case *image.Paletted:
		palette := flatPalette(v.Palette)
		return func(y int, out []uint16) {
			for i, c := range v.Pix[v.PixOffset(b.Min.X, y):][:b.Dx()] {
				copy(out[3*i:3*i+3], palette[c][:])
			}
		}, 3
	case *image.NYCbCrA:
		return func(y int, out []uint16) { clearRow(out, v, y, s.studio) }, 3
	}
	return func(y int, out []uint16) {
		for x := range b.Dx() {
			c := onWhite(img.At(b.Min.X+x, y))
			copy(out[3*x:3*x+3], c[:])
		}
	}, 3
}

func rgbaRow(out []uint16, p []uint8) {
	for i := 0; i < len(p); i += 4 {
		rest := uint16(255 - p[i+3])
		for c := range 3 {
			out[i/4*3+c] = min(uint16(p[i+c])+rest, 255) * 257
		}
	}
}

func nrgbaRow(out []uint16, p []uint8) {
	for i := 0; i < len(p); i += 4 {
		a := uint32(p[i+3])
		for c := range 3 {
			out[i/4*3+c] = uint16((uint32(p[i+c])*a + 255*(255-a)) * 257 / 255)
		}
	}
}

func rgba64Row(out []uint16, p []uint8) {
	for i := 0; i < len(p); i += 8 {
		rest := 65535 - (uint32(p[i+6])<<8 | uint32(p[i+7]))
		for c := range 3 {
			out[i/8*3+c] = uint16(min((uint32(p[i+2*c])<<8|uint32(p[i+2*c+1]))+rest, 65535))
		}
	}
}

func nrgba64Row(out []uint16, p []uint8) {
	for i := 0; i < len(p); i += 8 {
		a := uint64(p[i+6])<<8 | uint64(p[i+7])
		for c := range 3 {
			v := uint64(p[i+2*c])<<8 | uint64(p[i+2*c+1])
			out[i/8*3+c] = uint16((v*a + 65535*(65535-a)) / 65535)
		}
	}
}

func clearRow(out []uint16, v *image.NYCbCrA, y int, studio bool) {
	b := v.Bounds()
	for i := range b.Dx() {
		at, ct, px := v.AOffset(b.Min.X+i, y), v.COffset(b.Min.X+i, y), out[3*i:3*i+3]
		toRGB(px, int(v.Y[v.YOffset(b.Min.X+i, y)])*257, (int(v.Cb[ct])-128)*257, (int(v.Cr[ct])-128)*257, studio)
		a := uint32(v.A[at])
		for c := range px {
			px[c] = uint16((uint32(px[c])*a + 65535*(255-a)) / 255)
		}
	}
}

// inkRow mixes inks the plain way: each takes its share of what is left of
// white.
func inkRow(out []uint16, p []uint8) {
	for i := 0; i < len(p); i += 4 {
		k := uint32(255 - p[i+3])
		for c := range 3 {
			out[i/4*3+c] = uint16(uint32(255-p[i+c]) * k * 257 / 255)
		}
	}
}

// flatPalette has a colour for every index, white for one that is not there.
func flatPalette(p color.Palette) (out [256][3]uint16) {
	for i := range out {
		out[i] = [3]uint16{65535, 65535, 65535}
		if i < len(p) {
			out[i] = onWhite(p[i])
		}
	}
	return out
}

func onWhite(c color.Color) [3]uint16 {
	r, g, b, a := c.RGBA()
	return [3]uint16{uint16(min(r+65535-a, 65535)), uint16(min(g+65535-a, 65535)), uint16(min(b+65535-a, 65535))}
}
