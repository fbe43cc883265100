package main

import "math"

// triangle has its corners, the normals there, and what it is made of.
type triangle struct {
	p, n [3]vec
	of   *material
}

// mesh is all that light can hit, lights themselves aside.
type mesh []triangle

// cube's six tetrahedra, as corners of the unit cube (bit 0 x, 1 y, 2 z), all
// about the diagonal from 0 to 7.
var tetrahedra = [6][4]int{{0, 1, 3, 7}, {0, 3, 2, 7}, {0, 2, 6, 7}, {0, 6, 4, 7}, {0, 4, 5, 7}, {0, 5, 1, 7}}

// carve turns a solid into triangles on a grid of the given cell, metres,
// between the corners lo and hi.
func (m *mesh) carve(s solid, lo, hi vec, cell float64, of *material) {
	nx, ny, nz := count(lo.x, hi.x, cell), count(lo.y, hi.y, cell), count(lo.z, hi.z, cell)
	at := func(i, j, k int) vec {
		return vec{lo.x + float64(i)*cell, lo.y + float64(j)*cell, lo.z + float64(k)*cell}
	}
	layer := func(k int) []float64 {
		v := make([]float64, nx*ny)
		for j := 0; j < ny; j++ {
			for i := 0; i < nx; i++ {
				v[j*nx+i] = s(at(i, j, k))
			}
		}
		return v
	}
	below := layer(0)
	for k := 0; k+1 < nz; k++ {
		above := layer(k + 1)
		for j := 0; j+1 < ny; j++ {
			for i := 0; i+1 < nx; i++ {
				var v [8]float64
				var p [8]vec
				signs := 0
				for c := 0; c < 8; c++ {
					di, dj, dk := c&1, c>>1&1, c>>2
					plane := below
					if dk == 1 {
						plane = above
					}
					v[c] = plane[(j+dj)*nx+i+di]
					if v[c] < 0 {
						signs++
					}
				}
				if signs == 0 || signs == 8 {
					continue
				}
				for c := 0; c < 8; c++ {
					p[c] = at(i+c&1, j+c>>1&1, k+c>>2)
				}
				for _, t := range tetrahedra {
					m.cut(s, [4]vec{p[t[0]], p[t[1]], p[t[2]], p[t[3]]}, [4]float64{v[t[0]], v[t[1]], v[t[2]], v[t[3]]}, cell, of)
				}
			}
		}
		below = above
	}
}

func count(lo, hi, cell float64) int { return int(math.Ceil((hi-lo)/cell)) + 1 }

// cut adds the surface within one tetrahedron: none, one triangle or two.
func (m *mesh) cut(s solid, p [4]vec, v [4]float64, cell float64, of *material) {
	var in, out []int
	for i := 0; i < 4; i++ {
		if v[i] < 0 {
			in = append(in, i)
		} else {
			out = append(out, i)
		}
	}
	edge := func(a, b int) vec { return p[a].to(p[b], v[a]/(v[a]-v[b])) }
	add := func(a, b, c vec) {
		if b.sub(a).cross(c.sub(a)).len() < 1e-14 {
			return
		}
		e := cell * 0.5
		t := triangle{p: [3]vec{a, b, c}, of: of}
		for i, q := range t.p {
			t.n[i] = slope(s, q, e)
		}
		*m = append(*m, t)
	}
	switch len(in) {
	case 1:
		add(edge(in[0], out[0]), edge(in[0], out[1]), edge(in[0], out[2]))
	case 3:
		add(edge(in[0], out[0]), edge(in[1], out[0]), edge(in[2], out[0]))
	case 2:
		a, b := edge(in[0], out[0]), edge(in[0], out[1])
		c, d := edge(in[1], out[0]), edge(in[1], out[1])
		add(a, b, c)
		add(b, d, c)
	}
}

// flat adds a four-cornered plate; normals square to it.
func (m *mesh) flat(a, b, c, d vec, of *material) {
	n := b.sub(a).cross(c.sub(a)).unit()
	*m = append(*m,
		triangle{[3]vec{a, b, c}, [3]vec{n, n, n}, of},
		triangle{[3]vec{a, c, d}, [3]vec{n, n, n}, of})
}

// bar adds a round rod from a to b, closed at both ends, in so many sides.
func (m *mesh) bar(a, b vec, ra, rb float64, sides int, of *material) {
	axis := b.sub(a).unit()
	u, w := frame(axis)
	ring := func(i int) vec {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(sides))
		return u.by(c).add(w.by(s))
	}
	for i := 0; i < sides; i++ {
		n0, n1 := ring(i), ring(i+1)
		a0, a1 := a.add(n0.by(ra)), a.add(n1.by(ra))
		b0, b1 := b.add(n0.by(rb)), b.add(n1.by(rb))
		back := axis.by(-1)
		*m = append(*m,
			triangle{[3]vec{a0, a1, b1}, [3]vec{n0, n1, n1}, of},
			triangle{[3]vec{a0, b1, b0}, [3]vec{n0, n1, n0}, of},
			triangle{[3]vec{a, a1, a0}, [3]vec{back, back, back}, of},
			triangle{[3]vec{b, b0, b1}, [3]vec{axis, axis, axis}, of})
	}
}

// crate adds a box with half sides along three directions.
func (m *mesh) crate(c, x, y, z vec, of *material) {
	corner := func(i, j, k float64) vec { return c.add(x.by(i)).add(y.by(j)).add(z.by(k)) }
	for _, s := range []float64{-1, 1} {
		m.flat(corner(s, -1, -1), corner(s, 1, -1), corner(s, 1, 1), corner(s, -1, 1), of)
		m.flat(corner(-1, s, -1), corner(1, s, -1), corner(1, s, 1), corner(-1, s, 1), of)
		m.flat(corner(-1, -1, s), corner(1, -1, s), corner(1, 1, s), corner(-1, 1, s), of)
	}
}

// sweep adds a hanging sheet that runs out over the floor: front is where it
// ends toward the camera, back its wall, bend the radius between them.
func (m *mesh) sweep(left, right, front, back, bend, top float64, of *material) {
	type station struct{ y, z, ny, nz float64 }
	line := []station{{front, 0, 0, 1}}
	const steps = 24
	for i := 0; i <= steps; i++ {
		s, c := math.Sincos(math.Pi / 2 * float64(i) / steps)
		line = append(line, station{back + bend - bend*s, bend - bend*c, s, c})
	}
	line = append(line, station{back, top, 1, 0})
	for i := 0; i+1 < len(line); i++ {
		a, b := line[i], line[i+1]
		na, nb := vec{0, a.ny, a.nz}, vec{0, b.ny, b.nz}
		p := [4]vec{{left, a.y, a.z}, {right, a.y, a.z}, {right, b.y, b.z}, {left, b.y, b.z}}
		*m = append(*m,
			triangle{[3]vec{p[0], p[1], p[2]}, [3]vec{na, na, nb}, of},
			triangle{[3]vec{p[0], p[2], p[3]}, [3]vec{na, nb, nb}, of})
	}
}
