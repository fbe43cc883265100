package layout

import (
	"cmp"
	"slices"

	"stopleaf/exposure"
	"stopleaf/safety"
	"stopleaf/setup"
)

// step is one box to tick in the build order or the strike order.
type step struct {
	phase string   // "mark", "background", "leads", "lights", "grip", "power", "meter"; "off", "arms", "heads", "flats", "last"
	acts  []string // what is done in it, in order: "stand", "bag", "head", "raise", ...
	light int      // the light's number, or 0
	of    string   // the item, "light 3"
	lead  string   // set bold
	text  string
}

// buildOrder is the order in which a set is put up: marks, background, leads,
// then the lights from the back to the front (the key before any fill, a card
// after the light that feeds it), panels and flags, power, and the metering.
// On each stand the bag goes on before the head, and on a boom the arm is low
// and the counterweight and the head go on in turn.
func buildOrder(job Job) []step {
	b := stepper{job: job, bags: safety.StandBags(job.Setup), loads: safety.CircuitLoads(job.Setup)}
	b.marks()
	b.background()
	b.leads()
	for _, i := range standing(job.Setup) {
		b.light(i)
	}
	b.grip()
	b.power()
	b.metering()
	return b.steps
}

// standing is the order in which the lights go up, as indices.
//
// What stands furthest behind comes first. Lights without a place come by their
// role: background first, then what lights from behind, then the others.
func standing(s *setup.Setup) []int {
	order := make([]int, len(s.Lights))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		x, y := depth(&s.Lights[a]), depth(&s.Lights[b])
		return cmp.Or(cmp.Compare(x.band, y.band), cmp.Compare(x.front, y.front))
	})
	before := func(first, then int) { // moves one light to just before another
		a, b := slices.Index(order, first), slices.Index(order, then)
		if a > b {
			order = slices.Delete(order, a, a+1)
			order = slices.Insert(order, b, first)
		}
	}
	key := slices.IndexFunc(s.Lights, func(l setup.Light) bool { return l.Role == "key" })
	fill := slices.IndexFunc(order, func(i int) bool { return s.Lights[i].Role == "fill" })
	if key >= 0 && fill >= 0 {
		before(key, order[fill])
	}
	for range s.Lights { // a card may be fed by a light that is fed by another
		for i := range s.Lights {
			if from := lightNamed(s, s.Lights[i].LitBy); from >= 0 && s.Lights[i].Source == exposure.Bounce {
				before(from, i)
			}
		}
	}
	return order
}

func lightNamed(s *setup.Setup, name string) int {
	if name == "" {
		return -1
	}
	return slices.IndexFunc(s.Lights, func(l setup.Light) bool { return l.Name == name })
}

// behind are the roles that light from behind the subject.
var behind = []string{"hair", "rim", "kicker", "separation"}

// depth is how far back a light stands: its place, else a band by its role.
func depth(l *setup.Light) (d struct {
	band  int
	front float64
}) {
	switch {
	case l.Place != nil:
		d.front = l.Place.Front
		if d.band = 2; l.Place.Front >= 0 {
			d.band = 4
		}
	case l.Role == "background":
		d.band = 1
	case slices.Contains(behind, l.Role):
		d.band = 3
	default:
		d.band = 5
	}
	return d
}
