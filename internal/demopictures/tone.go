package main

import (
	"image"
	"math"
)

// shoulderAt is where highlights begin to bend toward white.
const shoulderAt = 0.6

// tone bends what is over the shoulder, so that a highlight keeps its shape;
// what is under it, and so the grey that the key lights, is left alone.
func tone(v float64) float64 {
	if v <= shoulderAt {
		return math.Max(0, v)
	}
	room := 1 - shoulderAt
	return shoulderAt + room*(1-math.Exp(-(v-shoulderAt)/room))
}

// encode is the transfer function of IEC 61966-2-1 (sRGB), from linear light to
// 0 to 1.
func encode(v float64) float64 {
	if v <= 0.0031308 {
		return 12.92 * v
	}
	return 1.055*math.Pow(v, 1/2.4) - 0.055
}

// print turns linear light into a picture of 8 bits. Half a step of even noise
// keeps gentle tones from banding.
func (f *film) print() *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, f.width, f.height))
	r := random(1)
	for i := range f.px {
		c := f.px[i].light
		dither := r.unit() - 0.5
		for k, v := range []float64{c.x, c.y, c.z} {
			img.Pix[4*i+k] = uint8(clamp(255*encode(tone(v))+0.5+dither*0.8, 0, 255))
		}
		img.Pix[4*i+3] = 255
	}
	return img
}

// quarter turns a picture a quarter to the left, as a camera stores an upright
// frame that Exif orientation 6 turns back.
func quarter(img *image.RGBA) *image.RGBA {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	out := image.NewRGBA(image.Rect(0, 0, h, w))
	for y := 0; y < w; y++ {
		for x := 0; x < h; x++ {
			copy(out.Pix[out.PixOffset(x, y):][:4], img.Pix[img.PixOffset(w-1-y, x):][:4])
		}
	}
	return out
}
