package main

import (
	"math"

	"stopleaf/setup"
)

var (
	wool     = &material{colour: vec{0.40, 0.285, 0.175}, pattern: weave(0.07, 170), gloss: 0.02, rough: 0.8}
	twill    = &material{colour: vec{0.045, 0.05, 0.065}, pattern: weave(0.12, 300)}
	leather  = &material{colour: vec{0.05, 0.032, 0.022}, gloss: 0.05, rough: 0.35}
	scarf    = &material{colour: vec{0.56, 0.54, 0.50}, pattern: weave(0.10, 140)}
	hair     = &material{colour: vec{0.055, 0.035, 0.022}, gloss: 0.04, rough: 0.45}
	seamless = &material{colour: grey(0.34)}
)

// coat is a figure in a long coat that swings to camera right.
func coat(s *setup.Setup) mesh {
	var m mesh
	deg := s.Subject.Turned
	pose := func(a solid) solid { return posed(a, deg, vec{}) }
	m.carve(pose(all(0.03, head(), neck())), vec{-0.16, -0.17, 1.33}, vec{0.16, 0.17, 1.75}, 0.005, skin)
	bob := without(0.02, all(0.03,
		egg(vec{0, -0.022, 1.642}, vec{0.094, 0.109, 0.104}),
		egg(vec{0, -0.050, 1.580}, vec{0.096, 0.078, 0.100})),
		egg(vec{0, 0.110, 1.578}, vec{0.069, 0.102, 0.094}))
	m.carve(pose(bob), vec{-0.16, -0.18, 1.44}, vec{0.16, 0.17, 1.76}, 0.005, hair)

	wide := steps([2]float64{0.30, 0.330}, [2]float64{0.70, 0.235}, [2]float64{1.06, 0.160}, [2]float64{1.30, 0.188}, [2]float64{1.42, 0.150})
	deep := steps([2]float64{0.30, 0.250}, [2]float64{0.70, 0.185}, [2]float64{1.06, 0.125}, [2]float64{1.30, 0.135}, [2]float64{1.42, 0.090})
	swing := steps([2]float64{0.30, 0.075}, [2]float64{0.80, 0.02}, [2]float64{1.06, 0})
	folds := steps([2]float64{0.30, 0.055}, [2]float64{0.85, 0.022}, [2]float64{1.06, 0.004}, [2]float64{1.2, 0})
	cloth := tapered(wide, deep, swing, folds)
	skirt := between(cloth, 0.34, 1.40)
	sleeves := all(0.05,
		limb(vec{-0.165, -0.01, 1.36}, vec{-0.245, -0.035, 1.10}, 0.070, 0.060),
		limb(vec{-0.245, -0.035, 1.10}, vec{-0.195, 0.075, 0.90}, 0.060, 0.052),
		limb(vec{0.165, -0.01, 1.36}, vec{0.245, -0.035, 1.10}, 0.070, 0.060),
		limb(vec{0.245, -0.035, 1.10}, vec{0.195, 0.075, 0.90}, 0.060, 0.052),
		limb(vec{-0.15, -0.02, 1.375}, vec{0.15, -0.02, 1.375}, 0.060, 0.060))
	opening := func(p vec) float64 { // the coat is open in front below the waist
		half := 0.006 + 0.17*smooth(1.0, 0.30, p.z)
		lean := 0.02 + 0.10*smooth(1.0, 0.3, p.z)
		return math.Max(math.Abs(p.x-lean)-half, math.Max(-p.y, p.z-1.02))
	}
	outer := all(0.03, skirt, sleeves)
	hollow := func(p vec) float64 { return math.Max(cloth(p)+0.024, p.z-1.0) }
	m.carve(pose(without(0.012, without(0.012, outer, hollow), opening)), vec{-0.48, -0.36, 0.32}, vec{0.52, 0.36, 1.48}, 0.007, wool)
	collar := without(0.01,
		all(0.02, limb(vec{-0.07, -0.03, 1.40}, vec{-0.085, -0.02, 1.465}, 0.045, 0.022), limb(vec{0.07, -0.03, 1.40}, vec{0.085, -0.02, 1.465}, 0.045, 0.022),
			limb(vec{-0.07, -0.075, 1.43}, vec{0.07, -0.075, 1.43}, 0.034, 0.034)),
		limb(vec{0, 0.02, 1.36}, vec{0, 0.03, 1.6}, 0.055, 0.07))
	m.carve(pose(collar), vec{-0.2, -0.16, 1.30}, vec{0.2, 0.2, 1.52}, 0.005, wool)
	wrap := all(0.03,
		limb(vec{-0.062, 0.03, 1.432}, vec{0.055, 0.055, 1.420}, 0.034, 0.036),
		limb(vec{-0.062, -0.045, 1.445}, vec{-0.062, 0.03, 1.432}, 0.030, 0.034),
		limb(vec{0.062, -0.045, 1.445}, vec{0.055, 0.055, 1.420}, 0.030, 0.034),
		limb(vec{0.030, 0.085, 1.41}, vec{0.022, 0.130, 1.20}, 0.032, 0.026))
	m.carve(pose(wrap), vec{-0.15, -0.12, 1.12}, vec{0.15, 0.2, 1.52}, 0.005, scarf)

	legs := all(0.02,
		limb(vec{-0.085, 0, 0.95}, vec{-0.105, -0.045, 0.50}, 0.085, 0.062), limb(vec{-0.105, -0.045, 0.50}, vec{-0.115, -0.07, 0.09}, 0.062, 0.050),
		limb(vec{0.085, 0, 0.95}, vec{0.105, 0.100, 0.51}, 0.085, 0.062), limb(vec{0.105, 0.100, 0.51}, vec{0.112, 0.12, 0.09}, 0.062, 0.050))
	m.carve(pose(legs), vec{-0.25, -0.2, 0.06}, vec{0.25, 0.25, 1.02}, 0.009, twill)
	boots := all(0.03,
		limb(vec{-0.115, -0.075, 0.045}, vec{-0.125, 0.075, 0.036}, 0.045, 0.036), limb(vec{-0.115, -0.075, 0.06}, vec{-0.115, -0.072, 0.17}, 0.054, 0.066),
		limb(vec{0.112, 0.115, 0.045}, vec{0.135, 0.265, 0.036}, 0.045, 0.036), limb(vec{0.112, 0.115, 0.06}, vec{0.112, 0.118, 0.17}, 0.054, 0.066))
	m.carve(pose(between(boots, 0.002, 0.3)), vec{-0.25, -0.2, -0.004}, vec{0.25, 0.36, 0.26}, 0.005, leather)
	half := *s.Background.Width / 2
	m.sweep(-half, half, 1.7, -*s.Background.Distance, 0.75, *s.Background.Height, seamless)
	return m
}
