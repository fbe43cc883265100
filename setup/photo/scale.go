package photo

import (
	"image"
	"math"
	"runtime"
	"sync"
)

// scaled brings a picture to a size that is no larger. It works in whole
// numbers, so that every processor gives the same.
func scaled(img image.Image, w, h int) image.Image {
	r := image.Rect(0, 0, w, h)
	switch v := img.(type) {
	case *image.Gray:
		if v.Rect != r {
			out := image.NewGray(r)
			resampleGrey(out.Pix, w, h, v.Pix, v.Rect.Dx(), v.Rect.Dy())
			return out
		}
	case *image.RGBA:
		if v.Rect != r {
			out := image.NewRGBA(r)
			resampleColour(out.Pix, w, h, v.Pix, v.Rect.Dx(), v.Rect.Dy())
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

// resampleGrey scales one channel, rows first across, then down.
func resampleGrey(dst []uint8, dw, dh int, src []uint8, sw, sh int) {
	across := taps(dw, sw)
	between := make([]int16, dw*sh)
	bands(sh, func(from, to int) {
		for y := from; y < to; y++ {
			row, out := src[y*sw:(y+1)*sw], between[y*dw:(y+1)*dw]
			for x, t := range across {
				sum := int32(acrossHalf)
				for i, v := range row[t.first : t.first+len(t.weight)] {
					sum += t.weight[i] * int32(v)
				}
				out[x] = int16(sum >> acrossBits)
			}
		}
	})
	resampleDown(taps(dh, sh), dw, between, func(y int, line []uint8) { copy(dst[y*dw:], line) })
}

// resampleColour does so with opaque pixels of four bytes.
func resampleColour(dst []uint8, dw, dh int, src []uint8, sw, sh int) {
	across := taps(dw, sw)
	between := make([]int16, 3*dw*sh)
	bands(sh, func(from, to int) {
		for y := from; y < to; y++ {
			row, out := src[4*y*sw:4*(y+1)*sw], between[3*y*dw:3*(y+1)*dw]
			for x, t := range across {
				r, g, b := int32(acrossHalf), int32(acrossHalf), int32(acrossHalf)
				at := row[4*t.first : 4*(t.first+len(t.weight))]
				for _, w := range t.weight {
					r += w * int32(at[0])
					g += w * int32(at[1])
					b += w * int32(at[2])
					at = at[4:]
				}
				o := out[3*x : 3*x+3]
				o[0], o[1], o[2] = int16(r>>acrossBits), int16(g>>acrossBits), int16(b>>acrossBits)
			}
		}
	})
	resampleDown(taps(dh, sh), 3*dw, between, func(y int, line []uint8) {
		out := dst[4*y*dw : 4*(y+1)*dw]
		for len(line) >= 3 {
			out[0], out[1], out[2], out[3] = line[0], line[1], line[2], 255
			out, line = out[4:], line[3:]
		}
	})
}

// What the first pass takes off its sums, and half of it.
const (
	acrossBits = weightBits - spareBits
	acrossHalf = 1 << (acrossBits - 1)
)

// resampleDown is the second pass, over lines of so many values; put is given
// each line of the result.
func resampleDown(down []tap, line int, between []int16, put func(y int, line []uint8)) {
	const bits = weightBits + spareBits
	bands(len(down), func(from, to int) {
		sums, out := make([]int32, line), make([]uint8, line)
		for y := from; y < to; y++ {
			t := down[y]
			for i := range sums {
				sums[i] = 1 << (bits - 1)
			}
			for j, w := range t.weight {
				row := between[(t.first+j)*line:][:len(sums)]
				for i, v := range row {
					sums[i] += w * int32(v)
				}
			}
			for i, v := range sums {
				out[i] = uint8(min(max(v>>bits, 0), 255))
			}
			put(y, out)
		}
	})
}

// bands shares so many rows among the processors.
func bands(rows int, do func(from, to int)) {
	n := max(1, min(runtime.GOMAXPROCS(0), rows/64))
	var wg sync.WaitGroup
	for i := 1; i < n; i++ {
		wg.Go(func() { do(rows*i/n, rows*(i+1)/n) })
	}
	do(0, rows/n)
	wg.Wait()
}
