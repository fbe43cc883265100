package photo

import (
	"image"
	"math"
)

// scaled brings a picture to a size that is no larger. It works in whole
// numbers, so that every processor gives the same.
func scaled(img image.Image, w, h int) image.Image {
	r := image.Rect(0, 0, w, h)
	switch v := img.(type) {
	case *image.Gray:
		if v.Rect != r {
			out := image.NewGray(r)
			resample(out.Pix, w, h, v.Pix, v.Rect.Dx(), v.Rect.Dy(), 1)
			return out
		}
	case *image.RGBA:
		if v.Rect != r {
			out := image.NewRGBA(r)
			resample(out.Pix, w, h, v.Pix, v.Rect.Dx(), v.Rect.Dy(), 4)
			return out
		}
	}
	return img
}

// tap is what one pixel of the result takes from a run of pixels.
type tap struct {
	first  int
	weight []int32 // together 1 << weightBits
}

const (
	weightBits = 14
	spareBits  = 4 // kept between the two passes
)

// taps are the weights of a Catmull-Rom cubic (B 0, C 1/2 of Mitchell and
// Netravali, 1988), widened to the step from result to source.
func taps(to, from int) []tap {
	list := make([]tap, to)
	step := float64(from) / float64(to)
	wide := max(step, 1)
	for i := range list {
		centre := (float64(i)+0.5)*step - 0.5
		first := max(int(math.Ceil(centre-2*wide)), 0)
		last := min(int(math.Floor(centre+2*wide)), from-1)
		raw := make([]float64, 0, last-first+1)
		sum := 0.0
		for j := first; j <= last; j++ {
			v := cubic(math.Abs(float64(j)-centre) / wide)
			raw = append(raw, v)
			sum += v
		}
		list[i] = tap{first, whole14(raw, sum)}
	}
	return list
}

func cubic(x float64) float64 {
	switch {
	case x < 1:
		return (1.5*x-2.5)*x*x + 1
	case x < 2:
		return ((-0.5*x+2.5)*x-4)*x + 2
	}
	return 0
}

// whole14 rounds weights to whole numbers; what is missing from the sum goes to
// the largest.
func whole14(raw []float64, sum float64) []int32 {
	out := make([]int32, len(raw))
	rest, largest := int32(1<<weightBits), 0
	for i, v := range raw {
		out[i] = int32(math.Round(v / sum * (1 << weightBits)))
		rest -= out[i]
		if out[i] > out[largest] {
			largest = i
		}
	}
	out[largest] += rest
	return out
}

// resample scales interleaved channels, rows first across, then down.
func resample(dst []uint8, dw, dh int, src []uint8, sw, sh, channels int) {
	across, down := taps(dw, sw), taps(dh, sh)
	line := dw * channels
	between := make([]int16, line*sh)
	for y := range sh {
		row, out := src[y*sw*channels:(y+1)*sw*channels], between[y*line:(y+1)*line]
		for x, t := range across {
			for c := range channels {
				sum := int32(1 << (weightBits - spareBits - 1))
				at := t.first*channels + c
				for _, w := range t.weight {
					sum += w * int32(row[at])
					at += channels
				}
				out[x*channels+c] = int16(sum >> (weightBits - spareBits))
			}
		}
	}
	sums := make([]int32, line)
	for y, t := range down {
		for i := range sums {
			sums[i] = 1 << (weightBits + spareBits - 1)
		}
		for j, w := range t.weight {
			row := between[(t.first+j)*line:][:line]
			for i, v := range row {
				sums[i] += w * int32(v)
			}
		}
		out := dst[y*line : (y+1)*line]
		for i, v := range sums {
			out[i] = uint8(min(max(v>>(weightBits+spareBits), 0), 255))
		}
	}
}
