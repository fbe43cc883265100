package scan

import (
	"cmp"
	"math"
	"slices"
)

// finder is a place that looks like one of the three large squares of a code.
type finder struct {
	at     point
	module float64 // pixels along a row or column, the mean of both
	seen   int     // rows that it was seen in
}

// reaches is how far the mean grey is taken, in pixels. A module has up to about nine
// pixels on the scale where its finder is found, the finder then 63. Where a shadow or
// a stain ends in it the nearer ones tell more.
var reaches = []int{28, 10}

// findFinders looks for finder patterns along every second row of a picture.
func findFinders(g *grey) []finder {
	f := &finding{g: g}
	for _, r := range reaches {
		f.limit = g.means(r)
		for y := 1; y < g.h-1; y += 2 {
			f.row(y)
		}
	}
	list := f.list
	slices.SortStableFunc(list, func(a, b finder) int { return cmp.Compare(b.seen, a.seen) })
	n := 0
	for _, c := range list {
		// A square of m pixels a module is seen in up to 3m/2 rows.
		if float64(c.seen) >= max(1, c.module*0.3) {
			list[n] = c
			n++
		}
	}
	return list[:min(n, mostFinders)]
}

// finding is the work on one scale.
type finding struct {
	g     *grey
	limit []uint8
	list  []finder
	edges []float64
}

// crossing is where between two pixels, given by their place in the picture, the grey
// passes the limit; 0 is the middle of the first, 1 of the second.
func (f *finding) crossing(a, b int) float64 {
	u := float64(f.g.pix[a]) - float64(f.limit[a])
	v := float64(f.g.pix[b]) - float64(f.limit[b])
	if u == v {
		return 0.5
	}
	return min(max(u/(u-v), 0), 1)
}

func (f *finding) dark(i int) bool { return f.g.pix[i] < f.limit[i] }

// row looks for the pattern in one row.
func (f *finding) row(y int) {
	w := f.g.w
	f.edges = f.edges[:0]
	base := y * w
	was := false
	pix, limit := f.g.pix[base:base+w], f.limit[base:base+w]
	for x, p := range pix {
		is := p < limit[x]
		if is == was {
			continue
		}
		if at := float64(x); x > 0 {
			f.edges = append(f.edges, at-0.5+f.crossing(base+x-1, base+x))
		} else {
			f.edges = append(f.edges, at)
		}
		was = is
		// A dark run has ended where the number of edges is even.
		if n := len(f.edges); !is && n >= 6 {
			f.candidate(f.edges[n-6:n], y)
		}
	}
	if n := len(f.edges); was && n >= 5 {
		f.candidate(append(slices.Clone(f.edges[n-5:]), float64(w)), y)
	}
}

// pattern tells whether six edges are those of a finder pattern, dark and light as
// 1:1:3:1:1, and gives its module. Ink that has run makes dark wide and light narrow, so
// edges of the same kind are held against each other.
func pattern(e []float64) (module float64, ok bool) {
	module = (e[5] - e[0] + e[4] - e[1]) / 12 // outer and inner widths: 7 and 5 modules
	if module < 1.5 || module > 14 {
		return 0, false
	}
	most := module*0.5 + 0.35
	near := func(v, want float64) bool { return math.Abs(v-want*module) <= most }
	ok = near(e[2]-e[0], 2) && near(e[4]-e[2], 4) && near(e[3]-e[1], 4) && near(e[5]-e[3], 2) &&
		e[1]-e[0] > 0.3*module && e[2]-e[1] > 0.3*module && e[3]-e[2] > 1.8*module && e[4]-e[3] > 0.3*module && e[5]-e[4] > 0.3*module &&
		e[3]-e[2] < 4.2*module
	return module, ok
}

// candidate looks at a pattern in a row along the column through its middle, and then
// along the row there.
func (f *finding) candidate(e []float64, y int) {
	module, ok := pattern(e)
	if !ok {
		return
	}
	x := (e[2] + e[3]) / 2
	at := point{x, float64(y) + 0.5}
	for i := range f.list {
		c := &f.list[i]
		if c.at.minus(at).length() < 2.5*c.module && math.Abs(c.module-module) < 0.6*max(c.module, module) {
			c.seen++
			return
		}
	}
	if len(f.list) == mostSeen {
		return
	}
	down, ok := f.cross(int(x), y, true, module)
	if !ok {
		return
	}
	mid := (down[2] + down[3]) / 2
	across, ok := f.cross(int(x), int(mid), false, module)
	if !ok {
		return
	}
	m1, ok1 := pattern(down[:])
	m2, ok2 := pattern(across[:])
	if !ok1 || !ok2 || m1 > 1.8*m2 || m2 > 1.8*m1 {
		return
	}
	f.list = append(f.list, finder{at: point{(across[2] + across[3]) / 2, mid}, module: (m1 + m2) / 2, seen: 1})
}

// cross finds the six edges along a row or column around a dark place.
func (f *finding) cross(x, y int, down bool, module float64) (e [6]float64, ok bool) {
	g := f.g
	if x < 0 || y < 0 || x >= g.w || y >= g.h || !f.dark(y*g.w+x) {
		return e, false
	}
	step, pos, n := 1, x, g.w
	if down {
		step, pos, n = g.w, y, g.h
	}
	start := y*g.w + x
	far := int(8*module) + 3
	edge := func(way int, out []int) bool { // three edges on one side
		i, was := 0, true
		for _, k := range out {
			for {
				i++
				p := pos + way*i
				if i > far {
					return false
				}
				if p < 0 || p >= n { // the picture's edge ends a square
					if !was || k != out[2] {
						return false
					}
					e[k] = float64(min(max(p, 0), n))
					if p < 0 {
						e[k] = 0
					}
					return true
				}
				is := f.dark(start + way*i*step)
				if is == was {
					continue
				}
				was = is
				part := f.crossing(start+way*(i-1)*step, start+way*i*step)
				e[k] = float64(pos) + 0.5 + float64(way)*(float64(i-1)+part)
				break
			}
		}
		return true
	}
	if !edge(-1, []int{2, 1, 0}) || !edge(1, []int{3, 4, 5}) {
		return e, false
	}
	_, ok = pattern(e[:])
	return e, ok
}
