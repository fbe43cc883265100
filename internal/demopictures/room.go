package main

import (
	"math"

	"stopleaf/exposure"
	"stopleaf/setup"
)

var (
	black  = &material{colour: grey(0.03), gloss: 0.03, rough: 0.5}
	velvet = &material{colour: grey(0.012)}
	metal  = &material{colour: grey(0.05), gloss: 0.12, rough: 0.35}
	white  = &material{colour: grey(0.72)}
	plank  = &material{colour: vec{0.24, 0.19, 0.14}, pattern: planks, gloss: 0.02, rough: 0.5}
	wall   = &material{colour: vec{0.34, 0.335, 0.32}}
	sand   = &material{colour: vec{0.10, 0.055, 0.02}}
)

func planks(p vec) vec {
	board := math.Floor(p.x / 0.14)
	r := random(uint64(int64(board) + 1000))
	tone := 0.8 + 0.35*r.unit()
	seam := math.Abs(p.x/0.14 - board - 0.5)
	if seam > 0.485 {
		tone *= 0.45
	}
	v := mottle(vec{p.x * 30, p.y * 2.2, board})
	return grey(tone * (0.75 + 0.5*v))
}

// flatsOf are the flats and flags of the setup, which shade the set.
func flatsOf(s *setup.Setup) mesh {
	var m mesh
	for i := range s.Grip {
		g := &s.Grip[i]
		if g.Place == nil || g.Place.Height == nil || g.Width == nil || g.Height == nil {
			continue
		}
		c := vec{g.Place.Right, g.Place.Front, *g.Place.Height}
		face := vec{-c.x, -c.y, 0}.unit()
		if g.Turned != nil {
			face = vec{0, 1, 0}.turn(*g.Turned)
		}
		across, up := frame(face)
		of := velvet
		if g.Colour != "black" {
			of = white
		}
		m.crate(c, across.by(*g.Width/2), up.by(*g.Height/2), face.by(0.006), of)
	}
	return m
}

// set is the whole room with its stands, seen from the door.
func (sc scene) set(s *setup.Setup, long int) (*stage, view, error) {
	lamps, err := lampsOf(s)
	if err != nil {
		return nil, view{}, err
	}
	m := sc.things(s)
	m = append(m, flatsOf(s)...)
	walls(&m, s, sc.door.eye.x)
	tripod(&m, s)
	for i := range lamps {
		house(&m, &lamps[i], &s.Lights[i])
		stand(&m, &lamps[i], &s.Lights[i], s)
	}
	v := look(sc.door.eye, sc.door.target, sc.door.wideDeg, long, long*2/3)
	v.exposure = math.Pi * math.Exp2(sc.door.exposure)
	return &stage{things: plant(m), lamps: lamps, air: grey(sc.door.lift / math.Pi), showAll: true}, v, nil
}

func or(v *float64, d float64) float64 {
	if v == nil {
		return d
	}
	return *v
}

// walls are the floor, the wall behind and the wall away from the door.
func walls(m *mesh, s *setup.Setup, doorX float64) {
	room := s.Room
	if room == nil {
		return
	}
	l, r, f, b, top := -or(room.Left, 3), or(room.Right, 3), or(room.Front, 5)+3, -or(room.Behind, 3), or(room.Ceiling, 3)
	const below = -0.004
	m.flat(vec{l - 3, f, below}, vec{r + 3, f, below}, vec{r + 3, b, below}, vec{l - 3, b, below}, plank)
	m.flat(vec{l - 3, b, below}, vec{r + 3, b, below}, vec{r + 3, b, top + 2}, vec{l - 3, b, top + 2}, wall)
	side := r
	if doorX > 0 {
		side = l
	}
	m.flat(vec{side, f, below}, vec{side, b, below}, vec{side, b, top + 2}, vec{side, f, top + 2}, wall)
	if s.Background != nil && s.Background.Kind == "canvas" {
		w, h, y := or(s.Background.Width, 2.7)/2, or(s.Background.Height, 2.6), -or(s.Background.Distance, 2)
		m.bar(vec{-w - 0.1, y - 0.03, h}, vec{w + 0.1, y - 0.03, h}, 0.03, 0.03, 12, metal)
	}
}

// tripod stands where the camera is.
func tripod(m *mesh, s *setup.Setup) {
	c := lensOf(s)
	body := c.add(vec{0, 0.10, 0})
	m.crate(body, vec{0.065, 0, 0}, vec{0, 0.035, 0}, vec{0, 0, 0.048}, black)
	m.bar(c.add(vec{0, 0.07, 0}), c.add(vec{0, -0.03, 0}), 0.036, 0.040, 20, black)
	hub := body.add(vec{0, 0, -0.09})
	m.bar(hub, body.add(vec{0, 0, -0.04}), 0.03, 0.03, 12, metal)
	for i := 0; i < 3; i++ {
		sin, cos := math.Sincos(2*math.Pi*float64(i)/3 + 0.5)
		reach := 0.32 * hub.z
		m.bar(hub, vec{hub.x + reach*cos, hub.y + reach*sin, 0}, 0.016, 0.011, 10, black)
	}
}

// house is the back of a light: a box, a bowl, a board.
func house(m *mesh, l *lamp, from *setup.Light) {
	kind := ""
	if from.Modifier != nil {
		kind = from.Modifier.Kind
	}
	back := func(d float64) vec { return l.at.sub(l.facing.by(d)) }
	switch kind {
	case "reflector panel", "panel":
		of := black
		if from.Source == exposure.Bounce {
			of = white
		}
		m.crate(back(0.015), l.across.by(l.halfW), l.up.by(l.halfH), l.facing.by(0.012), of)
		return
	case "window":
		for _, e := range []float64{-1, 0, 1} {
			m.crate(l.at.add(l.across.by(e*l.halfW)), l.across.by(0.03), l.up.by(l.halfH+0.03), l.facing.by(0.03), white)
			m.crate(l.at.add(l.up.by(e*l.halfH)), l.across.by(l.halfW+0.03), l.up.by(0.03), l.facing.by(0.03), white)
		}
		return
	case "umbrella":
		cup(m, l, -0.16, 0.0, 1, 0.05)
		m.bar(l.at.sub(l.facing.by(0.15)), l.at.add(l.facing.by(0.55)), 0.006, 0.006, 8, metal)
		m.bar(l.at.add(l.facing.by(0.50)), l.at.add(l.facing.by(0.78)), 0.06, 0.055, 20, black)
		return
	}
	deep := clamp(0.55*math.Max(l.halfW, l.halfH), 0.10, 0.42)
	if l.disc {
		sides := 24
		if kind == "octabox" {
			sides = 8
		}
		ring(m, l, 0.004, deep, sides)
	} else {
		boxBack(m, l, 0.004, deep)
	}
	size := math.Min(1, 0.75+math.Max(l.halfW, l.halfH)/2)
	m.bar(back(deep-0.02), back(deep+0.24*size), 0.062*size, 0.055*size, 20, black)
}

// ring is a closed cone behind a disc.
func ring(m *mesh, l *lamp, from, deep float64, sides int) {
	point := func(i int, d, k float64) vec {
		s, c := math.Sincos(2 * math.Pi * (float64(i) + 0.5) / float64(sides))
		return l.at.sub(l.facing.by(d)).add(l.across.by(c * l.halfW * k)).add(l.up.by(s * l.halfH * k))
	}
	lip := 1 / math.Cos(math.Pi/float64(sides))
	for i := 0; i < sides; i++ {
		m.flat(point(i, -0.02, lip), point(i+1, -0.02, lip), point(i+1, from, lip), point(i, from, lip), black)
		m.flat(point(i, from, lip), point(i+1, from, lip), point(i+1, deep, 0.16), point(i, deep, 0.16), black)
	}
}

// cup is the shallow bowl of an umbrella, open to the front.
func cup(m *mesh, l *lamp, deep, rim, width, hub float64) {
	const sides = 16
	point := func(i int, d, k float64) vec {
		s, c := math.Sincos(2 * math.Pi * float64(i) / sides)
		return l.at.add(l.facing.by(d)).add(l.across.by(c * l.halfW * k)).add(l.up.by(s * l.halfH * k))
	}
	for i := 0; i < sides; i++ {
		m.flat(point(i, rim-0.01, width), point(i+1, rim-0.01, width), point(i+1, deep*0.7, 0.6), point(i, deep*0.7, 0.6), black)
		m.flat(point(i, deep*0.7, 0.6), point(i+1, deep*0.7, 0.6), point(i+1, deep, hub), point(i, deep, hub), black)
	}
}

// boxBack is the tapering back of a softbox.
func boxBack(m *mesh, l *lamp, from, deep float64) {
	corner := func(i int, d, k float64) vec {
		x := []float64{-1, 1, 1, -1}[i%4]
		y := []float64{-1, -1, 1, 1}[i%4]
		w, h := l.halfW*k, l.halfH*k
		if k < 1 {
			w, h = 0.08, 0.08
		}
		return l.at.sub(l.facing.by(d)).add(l.across.by(x * w)).add(l.up.by(y * h))
	}
	for i := 0; i < 4; i++ {
		m.flat(corner(i, -0.025, 1.01), corner(i+1, -0.025, 1.01), corner(i+1, from, 1.01), corner(i, from, 1.01), black)
		m.flat(corner(i, from, 1.01), corner(i+1, from, 1.01), corner(i+1, deep, 0.1), corner(i, deep, 0.1), black)
	}
}

// stand holds a light up: a column on three legs, a boom with its
// counterweight, or a rod from the ceiling.
func stand(m *mesh, l *lamp, from *setup.Light, s *setup.Setup) {
	kind := ""
	st := from.Stand
	if st != nil {
		kind = st.Kind
	}
	if from.Modifier != nil && from.Modifier.Kind == "window" {
		return
	}
	hold := l.at.sub(l.facing.by(clamp(0.55*math.Max(l.halfW, l.halfH), 0.10, 0.42) + 0.12))
	if from.Modifier != nil {
		switch from.Modifier.Kind {
		case "umbrella":
			hold = l.at.add(l.facing.by(0.64))
		case "reflector panel", "panel":
			hold = l.at.sub(l.facing.by(0.05))
		}
	}
	feet := 0.5
	if st != nil && st.Footprint != nil {
		feet = *st.Footprint / 2
	}
	switch {
	case kind == "hanging":
		m.bar(hold, vec{hold.x, hold.y, or(s.Room.Ceiling, 3)}, 0.014, 0.014, 10, metal)
	case kind == "boom" && st.Base != nil:
		top := vec{st.Base.Right, st.Base.Front, math.Max(1.6, hold.z-0.10)}
		arm := hold.sub(top)
		end := top.sub(arm.unit().by(or(st.Behind, 0.7)))
		m.bar(hold, end, 0.015, 0.018, 10, metal)
		m.bar(end.add(vec{0, 0, -0.28}), end.add(vec{0, 0, -0.05}), 0.085, 0.085, 18, sand)
		column(m, top, feet)
	default:
		column(m, hold, feet)
	}
}

// column is a stand up to its top, its three legs spread to a circle.
func column(m *mesh, top vec, feet float64) {
	foot := vec{top.x, top.y, 0.06}
	m.bar(foot, top, 0.017, 0.011, 10, metal)
	knee := vec{top.x, top.y, math.Min(0.55, top.z*0.5)}
	for i := 0; i < 3; i++ {
		s, c := math.Sincos(2*math.Pi*float64(i)/3 + 0.4)
		m.bar(knee, vec{top.x + feet*c, top.y + feet*s, 0.01}, 0.012, 0.010, 8, metal)
	}
}
