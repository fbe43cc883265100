package scan

import (
	"errors"

	"stopleaf/recovery/symbol"
)

// way is one set of assumptions under which modules are told dark from light.
type way struct {
	spread  float64 // how far from its middle a module is sampled, in modules
	around  int     // how many modules to each side tell what is dark there
	sharpen float32 // how much of what the neighbours are is taken off
	blur    float32 // how much of its light a module lost to each neighbour; 0 for little
}

// ways are tried in order: first what serves most pictures, then others for light that
// changes fast, for large areas, for pictures out of focus.
var ways = []way{
	{0.25, 5, 0.08, 0}, {0.25, 3, 0.15, 0}, {0.3, 10, 0, 0}, {0.15, 4, 0.25, 0}, {0.33, 2, 0.05, 0}, {0.2, 7, 0.35, 0},
	{0.15, 4, 0, 0.18}, {0.15, 4, 0, 0.23},
}

// errNoCode is for three squares that are not a code's.
var errNoCode = errors.New("no code")

// The timing patterns are lines of dark and light modules by turns; a code of another
// size, or none, has one that is half right by chance.
const (
	timingTry = 0.72 // of one of the two, for a size to be tried
	timingSee = 0.85 // of the two, for a code to be there
)

// read tries what the code can be until its error correction holds.
func (c *code) read() (string, error) {
	seen := errNoCode
	for _, n := range c.sizes {
		c.n = n
		if !c.lay() {
			continue
		}
		across, down := c.timing()
		if max(across, down) < timingTry {
			continue
		}
		if seen == errNoCode && (across+down)/2 >= timingSee {
			seen = symbol.ErrUnreadable
		}
		values := map[float64][]float32{}
		for _, w := range ways {
			if values[w.spread] == nil {
				values[w.spread] = c.sample(w.spread)
			}
			text, err := symbol.Read(judged(values[w.spread], c.n, w), c.n)
			if err == nil {
				return text, nil
			}
			if errors.Is(err, symbol.ErrForeign) { // or misread so that it seems so
				seen = err
			}
		}
	}
	return "", seen
}

// timing tells how many modules of the timing patterns are darker or lighter than both
// beside them, as they ought to be.
func (c *code) timing() (across, down float64) {
	line := func(at func(i float64) point) float64 {
		right, all := 0.0, 0.0
		grey := func(i int) float32 {
			p := at(float64(i) + 0.5)
			return c.g.at(p.x, p.y)
		}
		before, here := grey(7), grey(8)
		for i := 8; i < c.n-8; i++ {
			after := grey(i + 1)
			if dark := 2*here < before+after; dark == (i%2 == 0) {
				right++
			}
			all++
			before, here = here, after
		}
		return right / all
	}
	return line(func(i float64) point { return c.at(i, 6.5) }), line(func(i float64) point { return c.at(6.5, i) })
}

// sample gives the mean grey in the middle of each module.
func (c *code) sample(spread float64) []float32 {
	out := make([]float32, c.n*c.n)
	for y := range c.n {
		for x := range c.n {
			mx, my := float64(x)+0.5, float64(y)+0.5
			p := c.at(mx, my)
			u, v := c.at(mx+spread, my).minus(p), c.at(mx, my+spread).minus(p)
			sum := 2 * c.g.at(p.x, p.y)
			for _, d := range [4]point{u.plus(v), u.minus(v), v.minus(u), u.times(-1).minus(v)} {
				sum += c.g.at(p.x+d.x, p.y+d.y)
			}
			for _, d := range [4]point{u, v, u.times(-1), v.times(-1)} {
				sum += c.g.at(p.x+d.x, p.y+d.y)
			}
			out[y*c.n+x] = sum / 10
		}
	}
	return out
}

// judged tells for each module how sure it is dark, or light: about 1 where it is as
// the others around it.
func judged(values []float32, n int, w way) []float32 {
	if w.blur > 0 {
		values = focused(values, n, w.blur)
	}
	if w.sharpen > 0 {
		values = sharpened(values, n, w.sharpen)
	}
	mean := boxed(values, nil, n, w.around)
	darker := make([]float32, n*n)
	for i, v := range values {
		if v < mean[i] {
			darker[i] = 1
		}
	}
	lighter := make([]float32, n*n)
	for i, d := range darker {
		lighter[i] = 1 - d
	}
	dark, light := boxed(values, darker, n, w.around), boxed(values, lighter, n, w.around)
	out := make([]float32, n*n)
	for i, v := range values {
		middle, contrast := (dark[i]+light[i])/2, max(light[i]-dark[i], 4)
		out[i] = (middle - v) / contrast * 2
	}
	return out
}

// focused undoes a blur across and down by which each module lost a share of its light to
// each of both neighbours: what is blurred again and differs from what was seen is added,
// step by step (van Cittert).
func focused(values []float32, n int, share float32) []float32 {
	const steps = 12
	out := append([]float32(nil), values...)
	again, mid := make([]float32, n*n), make([]float32, n*n)
	pass := func(dst, src []float32, step, stride int) {
		for line := range n {
			for i := range n {
				at := line*stride + i*step
				before, after := src[max(i-1, 0)*step+line*stride], src[min(i+1, n-1)*step+line*stride]
				dst[at] = (1-2*share)*src[at] + share*(before+after)
			}
		}
	}
	for range steps {
		pass(mid, out, 1, n)
		pass(again, mid, n, 1)
		for i, v := range values {
			out[i] += v - again[i]
		}
	}
	return out
}

// sharpened takes off a share of what the four neighbours differ.
func sharpened(values []float32, n int, share float32) []float32 {
	out := make([]float32, len(values))
	for y := range n {
		for x := range n {
			i := y*n + x
			v := values[i]
			var sum float32
			for _, d := range [4][2]int{{-1, 0}, {1, 0}, {0, -1}, {0, 1}} {
				if nx, ny := x+d[0], y+d[1]; nx >= 0 && ny >= 0 && nx < n && ny < n {
					sum += v - values[ny*n+nx]
				}
			}
			out[i] = v + share*sum
		}
	}
	return out
}

// boxed is the mean of values, by their weights (nil: all alike), over up to r modules to
// each side; where none weighs, the mean of all there.
func boxed(values, weights []float32, n, r int) []float32 {
	side := n + 1
	sums, counts := make([]float64, side*side), make([]float64, side*side)
	for y := range n {
		var sum, count float64
		for x := range n {
			w := 1.0
			if weights != nil {
				w = float64(weights[y*n+x])
			}
			sum += w * float64(values[y*n+x])
			count += w
			sums[(y+1)*side+x+1] = sums[y*side+x+1] + sum
			counts[(y+1)*side+x+1] = counts[y*side+x+1] + count
		}
	}
	out := make([]float32, n*n)
	for y := range n {
		for x := range n {
			x0, y0, x1, y1 := max(x-r, 0), max(y-r, 0), min(x+r+1, n), min(y+r+1, n)
			area := func(t []float64) float64 { return t[y1*side+x1] - t[y0*side+x1] - t[y1*side+x0] + t[y0*side+x0] }
			if count := area(counts); count > 0.5 {
				out[y*n+x] = float32(area(sums) / count)
			} else {
				out[y*n+x] = values[y*n+x]
			}
		}
	}
	return out
}
