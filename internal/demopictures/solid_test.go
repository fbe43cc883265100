package main

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// A carved ball has the area of a ball, 4 pi r2, and its normals point out.
func TestCarveABall(t *testing.T) {
	c := vec{0.1, -0.2, 0.3}
	var m mesh
	m.carve(sphere(c, 0.5), grey(-0.8), grey(0.9), 0.02, white)
	sum := 0.0
	for _, f := range m {
		sum += f.p[1].sub(f.p[0]).cross(f.p[2].sub(f.p[0])).len() / 2
		for i := range f.p {
			assert.InDelta(t, 0.5, f.p[i].sub(c).len(), 0.001)
			assert.Greater(t, f.n[i].dot(f.p[i].sub(c).unit()), 0.99)
		}
	}
	assert.InEpsilon(t, math.Pi, sum, 0.005)
}

// A block's distance is exact outside a face.
func TestBlock(t *testing.T) {
	b := block(vec{1, 2, 3}, vec{0.5, 0.4, 0.3}, 0.05)
	assert.InDelta(t, 0.25, b(vec{1.75, 2, 3}), 1e-12)
	assert.InDelta(t, -0.3, b(vec{1, 2, 3}), 1e-12)
}

// The tree finds what looking at every triangle finds.
func TestTreeFindsTheNearest(t *testing.T) {
	var m mesh
	m.carve(sphere(vec{}, 0.5), grey(-0.6), grey(0.6), 0.1, white)
	m.crate(vec{0.7, 0, 0}, vec{0.1, 0, 0}, vec{0, 0.2, 0}, vec{0, 0, 0.3}, black)
	whole := plant(m)
	flat := plant(m) // the same triangles in one leaf: each is looked at
	flat.nodes = []node{{lo: whole.nodes[0].lo, hi: whole.nodes[0].hi, count: int32(len(m))}}
	rapid.Check(t, func(t *rapid.T) {
		at := func(name string) vec {
			f := rapid.Float64Range(-2, 2)
			return vec{f.Draw(t, name+"x"), f.Draw(t, name+"y"), f.Draw(t, name+"z")}
		}
		o, to := at("o"), at("to").by(0.3)
		d := to.sub(o).unit()
		want, wantOK := flat.nearest(o, d, math.Inf(1))
		h, ok := whole.nearest(o, d, math.Inf(1))
		if ok != wantOK || ok && math.Abs(h.t-want.t) > 1e-9 {
			t.Fatalf("nearest %v at %g, want %v at %g", ok, h.t, wantOK, want.t)
		}
		if whole.blocked(o, d, 10) != wantOK {
			t.Fatal("blocked differs")
		}
	})
}

// A rough sheen gives back no more than it gets: its albedo stays under 1.
func TestSheenKeepsEnergy(t *testing.T) {
	n, v := vec{0, 0, 1}, vec{0.6, 0, 0.8}
	r := random(3)
	s := &sample{r: &r}
	sum := 0.0
	const count = 20000
	for i := 0; i < count; i++ {
		sum += sheen(n, hemisphere(n, s), v, 1, 0.5) * math.Pi / count
	}
	assert.Less(t, sum, 1.0)
	assert.Greater(t, sum, 0.5)
}
