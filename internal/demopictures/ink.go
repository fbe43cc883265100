package main

import "stopleaf/setup"

var (
	slate   = &material{colour: vec{0.050, 0.052, 0.056}, pattern: split, mirror: 0.045, blur: 0.10}
	glass   = &material{colour: vec{0.005, 0.010, 0.034}, pattern: filled, mirror: 0.05, blur: 0.004}
	paper   = &material{colour: vec{0.62, 0.57, 0.47}, pattern: weave(0.04, 900)}
	letters = &material{colour: vec{0.05, 0.05, 0.07}}
	cork    = &material{colour: vec{0.46, 0.31, 0.18}, pattern: corky, gloss: 0.02, rough: 0.6}
	lacquer = &material{colour: vec{0.26, 0.050, 0.028}, mirror: 0.045, blur: 0.05}
	steel   = &material{colour: vec{0.20, 0.18, 0.14}, mirror: 0.55, blur: 0.12}
	inkDrop = &material{colour: vec{0.006, 0.010, 0.040}, mirror: 0.05, blur: 0.01}
	board   = &material{colour: grey(0.16), pattern: clouds}
)

func split(p vec) vec {
	v := mottle(vec{p.x * 14, p.y * 22, 3})
	return grey(0.55 + 0.9*v)
}

// filled is ink to the shoulder, clear glass in the foot and the lip.
func filled(p vec) vec {
	foot := 1 - smooth(0.904, 0.908, p.z)
	lip := smooth(0.952, 0.958, p.z)
	return grey(1).to(vec{6, 5, 2.6}, foot*0.8+lip*0.6)
}

func corky(p vec) vec {
	v := mottle(p.by(420))
	return grey(0.55 + 0.8*v)
}

// ink is the bottle and the pen on the slate, metres.
func ink(s *setup.Setup) mesh {
	var m mesh
	const top = 0.9
	m.crate(vec{0, -0.02, top - 0.01}, vec{0.40, 0, 0}, vec{0, 0.30, 0}, vec{0, 0, 0.01}, slate)
	bottle := turned(vec{0, 0, top}, eased([]vec{
		{0, 0, 0.002}, {0.0260, 0, 0.002}, {0.0280, 0, 0.002}, {0.0280, 0, 0.0045}, {0.0280, 0, 0.034}, {0.0280, 0, 0.0455},
		{0.0165, 0, 0.0485}, {0.0105, 0, 0.0500}, {0.0105, 0, 0.055}, {0.0105, 0, 0.0602}, {0.0128, 0, 0.0602}, {0.0130, 0, 0.0630},
		{0.0128, 0, 0.0645}, {0, 0, 0.0645},
	}, 3), 0.002)
	m.carve(bottle, vec{-0.033, -0.033, top - 0.001}, vec{0.033, 0.033, top + 0.069}, 0.0006, glass)
	stopper := turned(vec{0, 0, top}, []vec{{0, 0, 0.060}, {0.0085, 0, 0.060}, {0.0098, 0, 0.0738}, {0, 0, 0.0738}}, 0.0012)
	m.carve(stopper, vec{-0.013, -0.013, top + 0.0662}, vec{0.013, 0.013, top + 0.077}, 0.0005, cork)
	sheet := turned(vec{0, 0, top}, []vec{{0, 0, 0.010}, {0.0301, 0, 0.010}, {0.0301, 0, 0.033}, {0, 0, 0.033}}, 0.0001)
	m.carve(only(sheet, block(vec{-0.002, 0.03, top + 0.0215}, vec{0.019, 0.03, 0.02}, 0.001)),
		vec{-0.024, 0.01, top + 0.008}, vec{0.022, 0.034, top + 0.035}, 0.0005, paper)
	for i, w := range []float64{0.011, 0.014, 0.006} {
		z := top + 0.0262 - 0.0052*float64(i)
		line := turned(vec{0, 0, 0}, []vec{{0, 0, z - 0.0006}, {0.0302, 0, z - 0.0006}, {0.0302, 0, z + 0.0006}, {0, 0, z + 0.0006}}, 0.0001)
		m.carve(only(line, block(vec{-0.002, 0.03, z}, vec{w, 0.03, 0.01}, 0.0005)),
			vec{-0.02, 0.015, z - 0.0012}, vec{0.016, 0.034, z + 0.0012}, 0.0003, letters)
	}
	pen(&m, top)
	drops := all(0.004,
		egg(vec{-0.050, 0.040, top}, vec{0.010, 0.0075, 0.0017}),
		egg(vec{-0.0585, 0.0435, top}, vec{0.0045, 0.004, 0.0013}),
		egg(vec{-0.0665, 0.036, top}, vec{0.002, 0.0018, 0.0009}))
	m.carve(drops, vec{-0.075, 0.025, top - 0.0005}, vec{-0.034, 0.052, top + 0.003}, 0.0004, inkDrop)
	far := -*s.Background.Distance
	m.flat(vec{-0.5, far, 0.7}, vec{0.5, far, 0.7}, vec{0.5, far, 1.5}, vec{-0.5, far, 1.5}, board)
	return m
}

// pen leans on the bottle's neck from a dot of wax on the slate.
func pen(m *mesh, top float64) {
	foot, tip := vec{0.080, 0.032, top + 0.0015}, vec{-0.016, -0.028, top + 0.0985}
	along := func(t float64) vec { return foot.to(tip, t) }
	m.carve(limb(along(0.17), along(1), 0.0030, 0.0042), vec{-0.024, -0.036, top}, vec{0.072, 0.034, top + 0.106}, 0.0006, lacquer)
	m.carve(all(0.001, limb(along(0.14), along(0.21), 0.0031, 0.0034), limb(along(0), along(0.15), 0.0004, 0.0026)),
		vec{0.05, 0.010, top - 0.001}, vec{0.086, 0.038, top + 0.03}, 0.0004, steel)
}
