package raster

import (
	"image"
	"image/draw"
	"math"
)

// The weights of a sample are whole parts of one; a row that is scaled across
// keeps some bits more than a byte until it is scaled down the page.
const (
	weightBits = 14
	one        = 1 << weightBits
	keptBits   = 6
)

// taps are the samples that make one pixel: the first one, and the weight of
// each, which add up to one.
type taps struct {
	first   int
	weights []int32
}

// kernel is the cubic that runs through its samples, R. Keys, Cubic Convolution
// Interpolation for Digital Image Processing, 1981, with a = -1/2.
func kernel(x float64) float64 {
	x = math.Abs(x)
	switch {
	case x < 1:
		return mul(mul(x, x), mul(1.5, x)-2.5) + 1
	case x < 2:
		return mul(mul(mul(-0.5, x)+2.5, x)-4, x) + 2
	}
	return 0
}

// filter gives the taps that bring from samples to as many pixels as to. Where
// there are fewer pixels than samples the kernel is as much wider, so that
// every sample counts.
func filter(from, to int) []taps {
	step := float64(from) / float64(to)
	wide := max(step, 1)
	out := make([]taps, to)
	for j := range out {
		centre := mul(float64(j)+0.5, step) - 0.5
		lo := max(0, int(math.Ceil(centre-2*wide)))
		hi := min(from-1, int(math.Floor(centre+2*wide)))
		raw, sum := make([]float64, 0, hi-lo+1), 0.0
		for i := lo; i <= hi; i++ {
			w := kernel((float64(i) - centre) / wide)
			raw = append(raw, w)
			sum += w
		}
		out[j] = taps{lo, whole(raw, sum)}
	}
	return out
}

// whole rounds weights so that they still add up to one.
func whole(raw []float64, sum float64) []int32 {
	out := make([]int32, len(raw))
	left, largest := int32(one), 0
	for i, w := range raw {
		out[i] = int32(math.Floor(mul(w/sum, one) + 0.5))
		left -= out[i]
		if out[i] > out[largest] {
			largest = i
		}
	}
	out[largest] += left
	return out
}

// resample scales a picture to w x h pixels over white. It works in whole
// numbers, a row at a time, so that a large picture is never held twice.
func resample(src image.Image, w, h int) *image.RGBA {
	b := src.Bounds()
	across, down := filter(b.Dx(), w), filter(b.Dy(), h)
	most := 0
	for _, t := range down {
		most = max(most, len(t.weights))
	}
	kept := make([][]int32, most) // the last rows, scaled across
	for i := range kept {
		kept[i] = make([]int32, 3*w)
	}
	row := image.NewRGBA(image.Rect(0, 0, b.Dx(), 1))
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	opaque := isOpaque(src)
	j := 0
	for y := range b.Dy() {
		if !opaque {
			draw.Draw(row, row.Rect, image.White, image.Point{}, draw.Src)
		}
		draw.Draw(row, row.Rect, src, image.Pt(b.Min.X, b.Min.Y+y), draw.Over)
		scaleRow(kept[y%most], row.Pix, across)
		for j < h && down[j].first+len(down[j].weights)-1 == y {
			scaleDown(out.Pix[j*out.Stride:(j+1)*out.Stride], kept, down[j])
			j++
		}
	}
	return out
}

func isOpaque(img image.Image) bool {
	o, ok := img.(interface{ Opaque() bool })
	return ok && o.Opaque()
}

func scaleRow(out []int32, row []byte, across []taps) {
	const half = 1 << (weightBits - keptBits - 1)
	for x, t := range across {
		r, g, b := int32(half), int32(half), int32(half)
		p := row[4*t.first:]
		for i, w := range t.weights {
			q := p[4*i : 4*i+3 : 4*i+3]
			r, g, b = r+w*int32(q[0]), g+w*int32(q[1]), b+w*int32(q[2])
		}
		const shift = weightBits - keptBits
		out[3*x], out[3*x+1], out[3*x+2] = r>>shift, g>>shift, b>>shift
	}
}

func scaleDown(out []byte, kept [][]int32, t taps) {
	const shift = weightBits + keptBits
	for x := range len(out) / 4 {
		r, g, b := int32(1<<(shift-1)), int32(1<<(shift-1)), int32(1<<(shift-1))
		for i, w := range t.weights {
			row := kept[(t.first+i)%len(kept)]
			r, g, b = r+w*row[3*x], g+w*row[3*x+1], b+w*row[3*x+2]
		}
		out[4*x], out[4*x+1], out[4*x+2], out[4*x+3] = byteOf(r>>shift), byteOf(g>>shift), byteOf(b>>shift), 255
	}
}

func byteOf(v int32) byte { return byte(min(max(v, 0), 255)) }
