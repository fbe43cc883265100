package scan

import (
	"cmp"
	"math"
	"slices"
)

// fitLeast is how like a finder pattern each of the three must be,
// goneLeast for one that was not seen as such.
const (
	fitLeast  = 0.65
	goneLeast = 0.35
)

// code is a place in a picture where a code seems to be.
type code struct {
	g       *grey
	n       int // modules a side
	sizes   []int
	corners [3]frame
	mesh
}

// locate fits the three finder patterns to the pixels and says of how many modules the
// code can be, the likeliest first.
func locate(g *grey, t triple) (*code, bool) {
	c := &code{g: g}
	u, v := t.b.at.minus(t.a.at), t.c.at.minus(t.a.at)
	u, v = u.times(1/u.length()), v.times(1/v.length())
	for i, f := range t.finders() {
		// A row aslant through a square is longer than its side.
		m := f.module * max(math.Abs(u.x), math.Abs(u.y))
		start, least := frame{f.at, u.times(m), v.times(m)}, fitLeast
		if t.gone == i+1 {
			start, least = g.around(start, finderRings(), 4), goneLeast
		}
		fitted, like := g.fit(start, finderRings(), true, 0.5, 0.02)
		if like < least {
			return nil, false
		}
		c.corners[i] = fitted
	}
	c.sizes = c.guess()
	if len(c.sizes) == 0 {
		return nil, false
	}
	return c, true
}

// guess gives the sizes that the code can have: by the version it says it is of, then by
// its measures.
func (c *code) guess() (sizes []int) {
	a, b, d := c.corners[0], c.corners[1], c.corners[2]
	// Distances in modules, with the mean of the modules at both ends.
	across := b.mid.minus(a.mid)
	down := d.mid.minus(a.mid)
	wide := across.length() / math.Sqrt(along(a.u, across)*along(b.u, across))
	high := down.length() / math.Sqrt(along(a.v, down)*along(d.v, down))
	measured := (wide+high)/2 + 7
	if !(measured > 17 && measured < 200) {
		return nil
	}
	near := int(math.Round((measured - 17) / 4))
	var list []int
	if v := c.version(); v > 0 && math.Abs(float64(v)-float64(near)) <= 3+float64(near)/8 {
		list = append(list, v)
	}
	by := []int{near - 1, near, near + 1}
	slices.SortFunc(by, func(i, j int) int {
		return cmp.Compare(math.Abs(float64(17+4*i)-measured), math.Abs(float64(17+4*j)-measured))
	})
	for _, v := range append(list, by[:2]...) {
		if n := 17 + 4*v; v >= 1 && v <= 40 && !slices.Contains(sizes, n) {
			sizes = append(sizes, n)
		}
	}
	return sizes
}

// along is how long a module's side is in a direction.
func along(side, way point) float64 {
	return max(math.Abs(side.dot(way))/way.length(), 0.1)
}

// version reads the version information beside the top right and bottom left corners
// (ISO/IEC 18004, version information); 0 where it is not sure.
func (c *code) version() int {
	var sure [18]float64
	for i := range sure {
		far, near := float64(i%3-7), float64(i/3-3) // from the finder's middle
		b, d := c.corners[1].at(far, near), c.corners[2].at(near, far)
		sure[i] = -float64(c.g.at(b.x, b.y)) - float64(c.g.at(d.x, d.y))
	}
	mean := 0.0
	for _, s := range sure {
		mean += s / 18
	}
	best, second, v := math.Inf(-1), math.Inf(-1), 0
	for k := 7; k <= 40; k++ {
		word := versionWord(k)
		sum, ones := 0.0, 0.0
		for i, s := range sure {
			if word>>i&1 == 1 {
				sum += s - mean
				ones++
			}
		}
		sum /= math.Sqrt(ones * (18 - ones))
		if sum > best {
			best, second, v = sum, best, k
		} else if sum > second {
			second = sum
		}
	}
	spread := 0.0
	for _, s := range sure {
		spread += (s - mean) * (s - mean)
	}
	if best < 0.6*math.Sqrt(spread/18) || best-second < 0.1*best {
		return 0
	}
	return v
}

// versionWord is the 18 bits of a version, twelve of them the BCH code with the
// polynomial 0x1F25 (ISO/IEC 18004, version information).
func versionWord(v int) int {
	word := v << 12
	rest := word
	for i := 17; i >= 12; i-- {
		if rest>>i&1 == 1 {
			rest ^= 0x1F25 << (i - 12)
		}
	}
	return word | rest
}
