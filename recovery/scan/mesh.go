package scan

import (
	"slices"

	"stopleaf/recovery/symbol"
)

// likeLeast is how like an alignment pattern the pixels must be.
const likeLeast = 0.55

// mesh is where the modules of a code are: a flat page's projection, and how far off
// it each alignment pattern was found, with what is between them in proportion.
type mesh struct {
	flat  projection
	nodes []float64 // of the patterns' middles, in modules, the same across and down
	off   []point   // row by row
}

// at is where a place in modules lies in the picture.
func (m *mesh) at(x, y float64) point {
	p := m.flat.at(x, y)
	if len(m.nodes) < 2 {
		return p
	}
	i, fx := m.cell(x)
	j, fy := m.cell(y)
	k := len(m.nodes)
	top := m.off[j*k+i].to(m.off[j*k+i+1], fx)
	foot := m.off[(j+1)*k+i].to(m.off[(j+1)*k+i+1], fx)
	return p.plus(top.to(foot, fy))
}

// cell is between which nodes a place is, or beside which; how far is 0 to 1 between
// them.
func (m *mesh) cell(x float64) (int, float64) {
	i := 0
	for i < len(m.nodes)-2 && x >= m.nodes[i+1] {
		i++
	}
	return i, (x - m.nodes[i]) / (m.nodes[i+1] - m.nodes[i])
}

// lay finds where the modules are.
func (c *code) lay() bool {
	n := float64(c.n)
	var known []pair
	for i, f := range c.corners {
		mid := [3]point{{3.5, 3.5}, {n - 3.5, 3.5}, {3.5, n - 3.5}}[i]
		for _, d := range [4]point{{-3, -3}, {3, -3}, {-3, 3}, {3, 3}} {
			known = append(known, pair{mid.plus(d), f.at(d.x, d.y)})
		}
	}
	flat, ok := project(known)
	if !ok {
		return false
	}
	nodes := symbol.Alignment(c.n)
	c.mesh = mesh{flat: flat}
	if len(nodes) < 2 {
		return true
	}
	k := len(nodes)
	seen := make([]bool, k*k)
	where := make([]point, k*k)
	set := func(i, j int, p point) { where[j*k+i], seen[j*k+i] = p, true }
	// Where three of the nodes are the finders tell.
	set(0, 0, c.corners[0].at(3, 3))
	set(k-1, 0, c.corners[1].at(-3, 3))
	set(0, k-1, c.corners[2].at(3, -3))
	fixed := len(known)
	for _, o := range outward(k) {
		i, j := o[0], o[1]
		if seen[j*k+i] {
			continue
		}
		x, y := nodes[i], nodes[j]
		p := c.flat.at(x, y).plus(c.drift(nodes, where, seen, i, j))
		far := 1.5
		if i == k-1 && j == k-1 {
			far = 3 // no pattern beyond it told of the perspective
		}
		found, like := c.search(x, y, p, far)
		if like < likeLeast {
			continue
		}
		set(i, j, found)
		known = append(known, pair{point{x, y}, found})
		if flat, ok := project(weighted(known, fixed)); ok {
			c.flat = flat
		}
	}
	c.nodes = nodes
	c.off = make([]point, k*k)
	for at := range where {
		if seen[at] {
			c.off[at] = where[at].minus(c.flat.at(nodes[at%k], nodes[at/k]))
		}
	}
	c.dropOutliers(seen)
	fill(c.off, seen, k)
	return true
}

// weighted counts alignment patterns more than the corners of a finder, which are four
// to one and as far from each other.
func weighted(known []pair, fixed int) []pair {
	out := slices.Clone(known)
	return append(out, known[fixed:]...)
}

// outward is the order in which nodes are sought: from the top left, so that each has
// neighbours that were.
func outward(k int) (list [][2]int) {
	for sum := range 2*k - 1 {
		for i := range k {
			if j := sum - i; j >= 0 && j < k {
				list = append(list, [2]int{i, j})
			}
		}
	}
	return list
}

// drift is how far off the flat page the nodes are that stand around one.
func (c *code) drift(nodes []float64, where []point, seen []bool, i, j int) point {
	k := len(nodes)
	var sum point
	n := 0.0
	for dy := -1; dy <= 1; dy++ {
		for dx := -1; dx <= 1; dx++ {
			x, y := i+dx, j+dy
			if x < 0 || y < 0 || x >= k || y >= k || !seen[y*k+x] {
				continue
			}
			w := 1.0
			if dx != 0 && dy != 0 {
				w = 0.5
			}
			sum = sum.plus(where[y*k+x].minus(c.flat.at(nodes[x], nodes[y])).times(w))
			n += w
		}
	}
	if n == 0 {
		return point{}
	}
	return sum.times(1 / n)
}

// search looks for an alignment pattern up to so many modules around a place.
func (c *code) search(x, y float64, p point, far float64) (point, float64) {
	u := c.flat.at(x+0.5, y).minus(c.flat.at(x-0.5, y))
	v := c.flat.at(x, y+0.5).minus(c.flat.at(x, y-0.5))
	// Data can look like a pattern: near the place is likelier.
	best, like := c.g.fit(c.g.around(frame{p, u, v}, alignmentRings(), far), alignmentRings(), false, 0.25, 0.03)
	return best.mid, like
}

// dropOutliers forgets nodes that lie far from where those around them say.
func (c *code) dropOutliers(seen []bool) {
	k := len(c.nodes)
	module := c.flat.at(float64(c.n)/2+0.5, float64(c.n)/2).minus(c.flat.at(float64(c.n)/2-0.5, float64(c.n)/2)).length()
	var drop []int
	for at := range seen {
		if !seen[at] {
			continue
		}
		var xs, ys []float64
		for dy := -1; dy <= 1; dy++ {
			for dx := -1; dx <= 1; dx++ {
				x, y := at%k+dx, at/k+dy
				if x >= 0 && y >= 0 && x < k && y < k && seen[y*k+x] && (dx != 0 || dy != 0) {
					xs, ys = append(xs, c.off[y*k+x].x), append(ys, c.off[y*k+x].y)
				}
			}
		}
		if len(xs) < 3 {
			continue
		}
		slices.Sort(xs)
		slices.Sort(ys)
		if c.off[at].minus(point{xs[len(xs)/2], ys[len(ys)/2]}).length() > 1.3*module {
			drop = append(drop, at)
		}
	}
	for _, at := range drop {
		seen[at] = false
	}
}

// fill gives nodes that were not found the mean of those around them, from those that
// were on.
func fill(off []point, seen []bool, k int) {
	done := slices.Clone(seen)
	for range 2 * k {
		var at []int
		var is []point
		for i := range off {
			if done[i] {
				continue
			}
			var sum point
			n := 0.0
			for _, d := range [4][2]int{{-1, 0}, {1, 0}, {0, -1}, {0, 1}} {
				x, y := i%k+d[0], i/k+d[1]
				if x >= 0 && y >= 0 && x < k && y < k && done[y*k+x] {
					sum = sum.plus(off[y*k+x])
					n++
				}
			}
			if n > 0 {
				at, is = append(at, i), append(is, sum.times(1/n))
			}
		}
		for j, i := range at {
			off[i], done[i] = is[j], true
		}
	}
}
