package main

import "stopleaf/setup"

var (
	skin   = &material{colour: vec{0.49, 0.335, 0.25}, gloss: 0.03, rough: 0.5}
	linen  = &material{colour: vec{0.60, 0.57, 0.52}, pattern: weave(0.05, 260)}
	shirt  = &material{colour: vec{0.115, 0.135, 0.16}, pattern: weave(0.10, 200)}
	oak    = &material{colour: vec{0.30, 0.19, 0.11}, pattern: grain, gloss: 0.03, rough: 0.45}
	bench  = &material{colour: grey(1), pattern: floured, gloss: 0.02, rough: 0.5}
	crust  = &material{colour: vec{0.46, 0.26, 0.12}, pattern: baked, gloss: 0.02, rough: 0.5}
	dough  = &material{colour: vec{0.72, 0.66, 0.56}, gloss: 0.02, rough: 0.5}
	flour  = &material{colour: grey(0.86)}
	canvas = &material{colour: vec{0.085, 0.088, 0.058}, pattern: clouds}
)

// weave is the unevenness of cloth.
func weave(deep, fine float64) func(vec) vec {
	return func(p vec) vec { return grey(1 - deep + 2*deep*noise(p.by(fine))) }
}

func grain(p vec) vec {
	v := mottle(vec{p.x * 2, p.y * 26, p.z * 26})
	return vec{0.7 + 0.6*v, 0.66 + 0.66*v, 0.6 + 0.7*v}
}

// floured is oak under a dusting that thins out from the dough.
func floured(p vec) vec {
	if p.z < 0.898 {
		return oak.colour.mul(grain(p))
	}
	away := vec{(p.x - 0.03) / 0.46, (p.y - 0.47) / 0.26, 0}.len()
	dust := smooth(0.35, 0.75, mottle(p.by(9))*0.6+mottle(p.by(45))*0.35+0.62-0.62*away)
	return oak.colour.mul(grain(p)).to(grey(0.70), 0.92*dust)
}

func baked(p vec) vec {
	v := mottle(p.by(28))
	dust := smooth(0.5, 0.75, mottle(p.by(60)))
	return vec{0.6 + 0.8*v, 0.55 + 0.9*v, 0.5 + v}.to(vec{1.7, 2.6, 4.5}, dust*0.45)
}

func clouds(p vec) vec {
	v := mottle(vec{p.x * 1.7, 5, p.z * 1.7})
	return grey(0.45 + 1.1*v)
}

// bread is the baker behind the table, in the set's own axes.
func bread(s *setup.Setup) mesh {
	var m mesh
	deg := s.Subject.Turned
	pose := func(a solid) solid { return posed(a, deg, vec{}) }
	skull := head()
	torso := all(0.12,
		limb(vec{-0.150, -0.02, 1.372}, vec{0.150, -0.02, 1.372}, 0.052, 0.052), limb(vec{-0.05, -0.03, 1.41}, vec{0.05, -0.03, 1.41}, 0.045, 0.045),
		egg(vec{0, -0.01, 1.22}, vec{0.165, 0.112, 0.20}),
		egg(vec{0, 0, 0.98}, vec{0.168, 0.122, 0.24}),
		egg(vec{0, 0, 0.80}, vec{0.18, 0.125, 0.18}))
	sleeves := all(0.05,
		limb(vec{-0.178, -0.02, 1.36}, vec{-0.250, 0.03, 1.10}, 0.055, 0.048),
		limb(vec{0.178, -0.02, 1.36}, vec{0.250, 0.03, 1.10}, 0.055, 0.048),
		limb(vec{-0.250, 0.03, 1.10}, vec{-0.225, 0.11, 1.065}, 0.050, 0.047),
		limb(vec{0.250, 0.03, 1.10}, vec{0.225, 0.11, 1.065}, 0.050, 0.047))
	body := without(0.02, all(0.06, torso, sleeves), limb(vec{0, 0.005, 1.41}, vec{0, 0.02, 1.5}, 0.070, 0.085))
	arms := all(0.02, forearm(-1), forearm(1))
	m.carve(pose(all(0.03, skull, neck())), vec{-0.16, -0.17, 1.33}, vec{0.16, 0.17, 1.75}, 0.004, skin)
	m.carve(pose(arms), vec{-0.4, -0.1, 0.88}, vec{0.4, 0.55, 1.2}, 0.005, skin)
	m.carve(pose(body), vec{-0.4, -0.25, 0.6}, vec{0.4, 0.35, 1.46}, 0.009, shirt)
	bib := only(func(p vec) float64 { return torso(p) - 0.010 }, all(0.05,
		block(vec{0, 0.15, 1.12}, vec{0.105, 0.15, 0.16}, 0.03),
		block(vec{0, 0.10, 0.80}, vec{0.20, 0.16, 0.24}, 0.03)))
	straps := only(func(p vec) float64 { return all(0.06, torso, sleeves)(p) - 0.010 }, all(0.02,
		limb(vec{-0.083, 0.10, 1.22}, vec{-0.078, 0.04, 1.46}, 0.013, 0.013),
		limb(vec{0.083, 0.10, 1.22}, vec{0.078, 0.04, 1.46}, 0.013, 0.013),
		block(vec{-0.081, 0.08, 1.33}, vec{0.013, 0.09, 0.11}, 0.004),
		block(vec{0.081, 0.08, 1.33}, vec{0.013, 0.09, 0.11}, 0.004)))
	m.carve(pose(all(0.01, bib, straps)), vec{-0.3, -0.2, 0.56}, vec{0.3, 0.35, 1.46}, 0.005, linen)
	crop := only(func(p vec) float64 { return skull(p) - 0.006 }, all(0.03,
		block(vec{0, -0.070, 1.640}, vec{0.15, 0.070, 0.075}, 0.02),
		block(vec{0, -0.035, 1.665}, vec{0.15, 0.070, 0.040}, 0.02)))
	m.carve(pose(crop), vec{-0.16, -0.18, 1.54}, vec{0.16, 0.17, 1.72}, 0.005, hair)
	cap := all(0.02,
		egg(vec{0, -0.012, 1.716}, vec{0.108, 0.128, 0.034}),
		egg(vec{0, -0.004, 1.686}, vec{0.088, 0.109, 0.028}))
	m.carve(pose(cap), vec{-0.16, -0.18, 1.62}, vec{0.16, 0.18, 1.78}, 0.004, linen)
	far, half := -*s.Background.Distance, *s.Background.Width/2
	m.flat(vec{-half, far, 0}, vec{half, far, 0}, vec{half, far, *s.Background.Height}, vec{-half, far, *s.Background.Height}, canvas)
	loaves(&m)
	flourCloud(&m)
	return m
}

// forearm is bare from the rolled sleeve to a hand on the dough.
func forearm(side float64) solid {
	x := func(v float64) float64 { return side * v }
	arm := limb(vec{x(0.235), 0.08, 1.08}, vec{x(0.125), 0.30, 0.995}, 0.043, 0.030)
	palm := egg(vec{x(0.095), 0.355, 0.978}, vec{0.040, 0.052, 0.024})
	hand := all(0.03, arm, palm)
	for i := 0; i < 4; i++ {
		f := -0.030 + 0.019*float64(i)
		hand = all(0.012, hand, limb(vec{x(0.092 + f), 0.385, 0.980}, vec{x(0.075 + f*1.1), 0.440, 0.955}, 0.010, 0.008))
	}
	return all(0.015, hand, limb(vec{x(0.065), 0.345, 0.975}, vec{x(0.030), 0.385, 0.962}, 0.012, 0.009))
}

func loaves(m *mesh) {
	const top = 0.9
	m.crate(vec{0, 0.45, top - 0.025}, vec{0.65, 0, 0}, vec{0, 0.32, 0}, vec{0, 0, 0.025}, bench)
	m.crate(vec{0, 0.735, top - 0.115}, vec{0.62, 0, 0}, vec{0, 0.012, 0}, vec{0, 0, 0.065}, oak)
	for _, x := range []float64{-0.58, 0.58} {
		for _, y := range []float64{0.2, 0.7} {
			m.crate(vec{x, y, 0.425}, vec{0.035, 0, 0}, vec{0, 0.035, 0}, vec{0, 0, 0.425}, oak)
		}
	}
	m.carve(all(0.05, egg(vec{-0.02, 0.40, top + 0.025}, vec{0.15, 0.10, 0.052}), egg(vec{0.06, 0.43, top + 0.02}, vec{0.12, 0.08, 0.05})),
		vec{-0.22, 0.25, top}, vec{0.24, 0.55, top + 0.12}, 0.005, dough)
	long := egg(vec{}, vec{0.19, 0.075, 0.068})
	for i := -2; i <= 2; i++ {
		c := float64(i) * 0.065
		long = without(0.012, long, limb(vec{c - 0.025, -0.06, 0.058}, vec{c + 0.025, 0.06, 0.058}, 0.013, 0.013))
	}
	m.carve(posed(long, 24, vec{-0.39, 0.46, top + 0.055}), vec{-0.62, 0.3, top}, vec{-0.18, 0.62, top + 0.14}, 0.005, crust)
	round := egg(vec{}, vec{0.125, 0.12, 0.08})
	round = without(0.012, round, limb(vec{-0.07, 0.01, 0.085}, vec{0.07, -0.01, 0.085}, 0.014, 0.014))
	round = without(0.012, round, limb(vec{0.01, 0.07, 0.085}, vec{-0.01, -0.07, 0.085}, 0.014, 0.014))
	m.carve(posed(round, 10, vec{0.40, 0.44, top + 0.06}), vec{0.26, 0.3, top}, vec{0.54, 0.6, top + 0.16}, 0.005, crust)
	m.carve(all(0.03, egg(vec{0.20, 0.56, top}, vec{0.060, 0.045, 0.020}), egg(vec{0.25, 0.59, top}, vec{0.035, 0.03, 0.010})),
		vec{0.12, 0.48, top - 0.002}, vec{0.32, 0.66, top + 0.03}, 0.003, flour)
}

// flourCloud throws specks of flour up from the hands, streaked along their
// flight, always the same.
func flourCloud(m *mesh) {
	r := random(14)
	bell := func() float64 { return r.unit() + r.unit() + r.unit() - 1.5 }
	for i := 0; i < 1500; i++ {
		h := r.unit() * r.unit()
		c := vec{0.06 + bell()*(0.10+0.26*h), 0.42 + bell()*(0.07+0.16*h), 0.96 + 0.50*h + 0.02*bell()}
		size := 0.0006 + 0.0016*r.unit()*r.unit()
		fly := vec{c.x - 0.06, c.y - 0.42, 0.35 + h}.unit().by(size * (1 + 3*r.unit()))
		speck(m, c, fly, size)
	}
}

// speck is an eight-faced grain drawn out along fly.
func speck(m *mesh, c, fly vec, size float64) {
	a, b := frame(fly.unit())
	tips := [6]vec{fly, fly.by(-1), a.by(size), a.by(-size), b.by(size), b.by(-size)}
	for _, i := range []int{0, 1} {
		for _, j := range []int{2, 3} {
			for _, k := range []int{4, 5} {
				p := [3]vec{c.add(tips[i]), c.add(tips[j]), c.add(tips[k])}
				*m = append(*m, triangle{p, [3]vec{tips[i].unit(), tips[j].unit(), tips[k].unit()}, flour})
			}
		}
	}
}
