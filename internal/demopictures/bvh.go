package main

import "math"

// node is a box in the tree: a leaf when count is above zero, else its two
// children are at first and first+1.
type node struct {
	lo, hi       vec
	first, count int32
}

// tree finds the nearest triangle on a ray.
type tree struct {
	nodes []node
	tris  []triangle
	e1    []vec // edges from the first corner, beside tris
	e2    []vec
}

const (
	leafSize = 4
	bins     = 12
)

// slack widens every box, m, so that a ray along a flat one does not miss it by
// rounding.
const slack = 1e-7

// leaf is a triangle while the tree grows: its box, its middle, its index.
type leaf struct {
	lo, hi, mid vec
	of          int32
}

// plant builds the tree by the surface area of its boxes.
func plant(m mesh) *tree {
	t := &tree{}
	leaves := make([]leaf, len(m))
	for i := range m {
		p := &m[i].p
		leaves[i] = leaf{p[0].least(p[1]).least(p[2]).sub(grey(slack)), p[0].most(p[1]).most(p[2]).add(grey(slack)), p[0].add(p[1]).add(p[2]).by(1.0 / 3), int32(i)}
	}
	t.nodes = append(t.nodes, node{first: 0, count: int32(len(m))})
	t.grow(0, leaves)
	t.tris = make([]triangle, len(m))
	for i, l := range leaves {
		t.tris[i] = m[l.of]
	}
	t.e1, t.e2 = make([]vec, len(t.tris)), make([]vec, len(t.tris))
	for i, f := range t.tris {
		t.e1[i], t.e2[i] = f.p[1].sub(f.p[0]), f.p[2].sub(f.p[0])
	}
	return t
}

func boundsOf(leaves []leaf) (lo, hi vec) {
	lo, hi = grey(math.Inf(1)), grey(math.Inf(-1))
	for i := range leaves {
		lo, hi = lo.least(leaves[i].lo), hi.most(leaves[i].hi)
	}
	return lo, hi
}

func axisOf(v vec, axis int) float64 {
	switch axis {
	case 0:
		return v.x
	case 1:
		return v.y
	}
	return v.z
}

func area(lo, hi vec) float64 {
	d := hi.sub(lo)
	if d.x < 0 {
		return 0
	}
	return d.x*d.y + d.y*d.z + d.z*d.x
}

func (t *tree) grow(at int32, leaves []leaf) {
	n := &t.nodes[at]
	tris := leaves[n.first : n.first+n.count]
	n.lo, n.hi = boundsOf(tris)
	if len(tris) <= leafSize {
		return
	}
	axis, cut, ok := bestCut(tris)
	if !ok {
		return
	}
	i, j := 0, len(tris)-1
	for i <= j {
		if axisOf(tris[i].mid, axis) < cut {
			i++
		} else {
			tris[i], tris[j] = tris[j], tris[i]
			j--
		}
	}
	if i == 0 || i == len(tris) {
		return
	}
	first := n.first
	left := int32(len(t.nodes))
	t.nodes = append(t.nodes, node{first: first, count: int32(i)}, node{first: first + int32(i), count: int32(len(tris) - i)})
	t.nodes[at].first, t.nodes[at].count = left, 0
	t.grow(left, leaves)
	t.grow(left+1, leaves)
}

// bestCut tries planes along each axis; ok is false when none is better than a
// leaf.
func bestCut(tris []leaf) (axis int, cut float64, ok bool) {
	lo, hi := grey(math.Inf(1)), grey(math.Inf(-1))
	for i := range tris {
		lo, hi = lo.least(tris[i].mid), hi.most(tris[i].mid)
	}
	boxLo, boxHi := boundsOf(tris)
	best := area(boxLo, boxHi) * float64(len(tris))
	for a := 0; a < 3; a++ {
		from, span := axisOf(lo, a), axisOf(hi, a)-axisOf(lo, a)
		if span < 1e-9 {
			continue
		}
		var n [bins]int
		var bl, bh [bins]vec
		for b := range bl {
			bl[b], bh[b] = grey(math.Inf(1)), grey(math.Inf(-1))
		}
		for i := range tris {
			b := min(bins-1, int((axisOf(tris[i].mid, a)-from)/span*bins))
			n[b]++
			bl[b], bh[b] = bl[b].least(tris[i].lo), bh[b].most(tris[i].hi)
		}
		for k := 1; k < bins; k++ {
			l, r := 0, 0
			ll, lh, rl, rh := grey(math.Inf(1)), grey(math.Inf(-1)), grey(math.Inf(1)), grey(math.Inf(-1))
			for b := 0; b < bins; b++ {
				if b < k {
					l, ll, lh = l+n[b], ll.least(bl[b]), lh.most(bh[b])
				} else {
					r, rl, rh = r+n[b], rl.least(bl[b]), rh.most(bh[b])
				}
			}
			if l == 0 || r == 0 {
				continue
			}
			if cost := area(ll, lh)*float64(l) + area(rl, rh)*float64(r); cost < best {
				best, axis, cut, ok = cost, a, from+span*float64(k)/bins, true
			}
		}
	}
	return axis, cut, ok
}

// hit is where a ray met something.
type hit struct {
	t    float64
	at   vec
	face vec // the triangle's own normal, on the ray's side
	n    vec // the smoothed normal, on the ray's side
	of   *material
}

// crosses is the distance at which a ray enters a box, or no.
func (n *node) crosses(o, inv vec, most float64) (float64, bool) {
	x0, x1 := (n.lo.x-o.x)*inv.x, (n.hi.x-o.x)*inv.x
	if x0 > x1 {
		x0, x1 = x1, x0
	}
	y0, y1 := (n.lo.y-o.y)*inv.y, (n.hi.y-o.y)*inv.y
	if y0 > y1 {
		y0, y1 = y1, y0
	}
	z0, z1 := (n.lo.z-o.z)*inv.z, (n.hi.z-o.z)*inv.z
	if z0 > z1 {
		z0, z1 = z1, z0
	}
	if y0 > x0 {
		x0 = y0
	}
	if z0 > x0 {
		x0 = z0
	}
	if y1 < x1 {
		x1 = y1
	}
	if z1 < x1 {
		x1 = z1
	}
	return x0, x0 <= x1 && x1 > 0 && x0 < most
}

func inverse(d vec) vec {
	safe := func(v float64) float64 {
		if math.Abs(v) < 1e-12 {
			return math.Copysign(1e12, v)
		}
		return 1 / v
	}
	return vec{safe(d.x), safe(d.y), safe(d.z)}
}

// walk visits the triangles on a ray until found is true; it gives the nearest
// one's index and distance, and the place within it.
func (t *tree) walk(o, d vec, most float64, any bool) (best int32, dist, u, v float64) {
	best = -1
	dist = most
	if len(t.nodes) == 0 {
		return
	}
	inv := inverse(d)
	var stack [64]int32
	top := 1
	for top > 0 {
		top--
		n := &t.nodes[stack[top]]
		if _, ok := n.crosses(o, inv, dist); !ok {
			continue
		}
		if n.count == 0 {
			l, r := n.first, n.first+1
			dl, okL := t.nodes[l].crosses(o, inv, dist)
			dr, okR := t.nodes[r].crosses(o, inv, dist)
			if okL && okR && dl < dr {
				l, r = r, l
			}
			if okL || okR {
				stack[top], stack[top+1] = l, r
				top += 2
			}
			continue
		}
		for i := n.first; i < n.first+n.count; i++ {
			e1, e2 := t.e1[i], t.e2[i]
			p := d.cross(e2)
			det := e1.dot(p)
			if det > -1e-15 && det < 1e-15 {
				continue
			}
			inv := 1 / det
			s := o.sub(t.tris[i].p[0])
			a := s.dot(p) * inv
			if a < 0 || a > 1 {
				continue
			}
			q := s.cross(e1)
			b := d.dot(q) * inv
			if b < 0 || a+b > 1 {
				continue
			}
			if w := e2.dot(q) * inv; w > 1e-7 && w < dist {
				best, dist, u, v = i, w, a, b
				if any {
					return
				}
			}
		}
	}
	return
}

// blocked says whether anything stands on the way.
func (t *tree) blocked(o, d vec, most float64) bool {
	i, _, _, _ := t.walk(o, d, most, true)
	return i >= 0
}

// nearest is the first thing on the way.
func (t *tree) nearest(o, d vec, most float64) (hit, bool) {
	i, dist, u, v := t.walk(o, d, most, false)
	if i < 0 {
		return hit{}, false
	}
	f := &t.tris[i]
	h := hit{t: dist, at: o.add(d.by(dist)), of: f.of}
	h.face = t.e1[i].cross(t.e2[i]).unit()
	if h.face.dot(d) > 0 {
		h.face = h.face.by(-1)
	}
	h.n = f.n[0].by(1 - u - v).add(f.n[1].by(u)).add(f.n[2].by(v)).unit()
	if h.n.dot(h.face) < 0 {
		h.n = h.n.by(-1)
	}
	return h, true
}
