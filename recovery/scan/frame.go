package scan

import (
	"math"
	"sync"
)

// frame is where a small square of modules lies: its middle, and one module to the
// right and one down.
type frame struct{ mid, u, v point }

func (f frame) at(x, y float64) point {
	return point{f.mid.x + x*f.u.x + y*f.v.x, f.mid.y + x*f.u.y + y*f.v.y}
}

// template is a square of modules around a middle: above 0 dark, below light.
type template struct {
	r    int // modules from the middle to each side
	want []float32
}

// The patterns as rings around their middle, from the inside: a finder with the light
// ring around it, an alignment pattern.
var (
	finderRings    = sync.OnceValue(func() template { return rings(1, 1, -1, 1, -1) })
	alignmentRings = sync.OnceValue(func() template { return rings(1, -1, 1) })
)

func rings(list ...float32) template {
	t := template{r: len(list) - 1}
	for y := -t.r; y <= t.r; y++ {
		for x := -t.r; x <= t.r; x++ {
			t.want = append(t.want, list[max(x, -x, y, -y)])
		}
	}
	return t
}

// likeness is how like a template the pixels under a frame are: the correlation, 1
// where they are the same but for light and contrast.
func (g *grey) likeness(f frame, t template) float64 {
	const a = 0.3 // samples in a module
	var sum, square, both, want, wants, n float64
	i := 0
	for y := -t.r; y <= t.r; y++ {
		for x := -t.r; x <= t.r; x++ {
			fx, fy := float64(x), float64(y)
			v := 0.0
			for _, d := range [4]point{{-a, -a}, {a, -a}, {-a, a}, {a, a}} {
				p := f.at(fx+d.x, fy+d.y)
				v += float64(g.at(p.x, p.y))
			}
			w := -float64(t.want[i])
			sum += v
			square += v * v
			both += v * w
			want += w
			wants += w * w
			n++
			i++
		}
	}
	spread := (square - sum*sum/n) * (wants - want*want/n)
	if spread <= 1 {
		return 0
	}
	return (both - sum*want/n) / math.Sqrt(spread)
}

// fit moves a frame by steps that grow smaller to where it is most like a template;
// axes says whether it may be turned and stretched too.
func (g *grey) fit(f frame, t template, axes bool, step, least float64) (frame, float64) {
	best := g.likeness(f, t)
	module := (f.u.length() + f.v.length()) / 2
	for step > least {
		better := false
		try := func(change func(*frame, float64), by float64) {
			for _, d := range [2]float64{by, -by} {
				next := f
				change(&next, d)
				if l := g.likeness(next, t); l > best {
					best, f, better = l, next, true
					return
				}
			}
		}
		d := step * module
		try(func(f *frame, d float64) { f.mid.x += d }, d)
		try(func(f *frame, d float64) { f.mid.y += d }, d)
		if axes {
			e := d / float64(t.r)
			try(func(f *frame, d float64) { f.u.x += d }, e)
			try(func(f *frame, d float64) { f.u.y += d }, e)
			try(func(f *frame, d float64) { f.v.x += d }, e)
			try(func(f *frame, d float64) { f.v.y += d }, e)
		}
		if !better {
			step /= 2
		}
	}
	return f, best
}

// around is the place up to so many modules from a frame's where it is most like a
// template, the farther the more so.
func (g *grey) around(f frame, t template, far float64) frame {
	best, like := f, -1.0
	const step = 0.5
	for dy := -far; dy <= far; dy += step {
		for dx := -far; dx <= far; dx += step {
			next := frame{f.at(dx, dy), f.u, f.v}
			if l := g.likeness(next, t) - 0.04*math.Hypot(dx, dy); l > like {
				best, like = next, l
			}
		}
	}
	return best
}
