package safety

import "stopleaf/setup"

// StandBag is the bags that one light's stand is built up with.
type StandBag struct {
	Light int  // its number
	Legs  bool // it stands on legs that a bag can hold
	Bags  int  // whole bags of BagSize: what it needs or what was recorded, the larger; doubled outdoors
	Plain bool // masses or feet are not known: at least one bag, by the plain rule
	Wider bool // no bag does it
}

// StandBags gives the bags of every light, in the file's order: the same rules
// as the cautions of code "bag", "bag-wider" and "bag-plain", stand by stand.
func StandBags(s *setup.Setup) []StandBag {
	outdoors := has(s.Hazards, "outdoors")
	out := make([]StandBag, len(s.Lights))
	for i := range s.Lights {
		l := &s.Lights[i]
		b := StandBag{Light: l.Number, Legs: onLegs(l)}
		if l.Stand != nil && l.Stand.Bag != nil {
			b.Bags = WholeBags(*l.Stand.Bag, BagSize(s))
		}
		if b.Legs {
			n := need(l, BagSize(s))
			high, okHeight := isHigh(l)
			if n.known && !n.wider {
				b.Bags = max(b.Bags, n.bags)
			}
			b.Wider = n.known && n.wider
			b.Plain = b.Bags == 0 && (b.Wider || !n.known && (isBoom(l) || high || !okHeight))
			if outdoors {
				b.Plain = b.Plain || b.Bags == 0
				b.Bags *= 2
			}
		}
		out[i] = b
	}
	return out
}

// CircuitLoad is what one circuit carries.
type CircuitLoad struct {
	Name     string
	Circuit  *setup.Circuit // nil for the lights whose circuit the file does not list
	Lights   []int          // their numbers
	LoadA    float64        // the makers' currents that are known, A
	Unknown  []int          // the lights whose current is not known
	DropV    float64        // lost in the lead at LoadA, V
	DropPct  float64        // of the supply
	HasDrop  bool           // the lead and the volts are known
	OverLoad bool           // more than its breaker
	OverDrop bool           // more than IEC 60364-5-52 Annex G allows for lighting, 3 %
}

// CircuitLoads gives every circuit that has lights on it, in the file's order,
// and last the lights that are, or may be, on the mains without a circuit that
// the file lists.
func CircuitLoads(s *setup.Setup) []CircuitLoad {
	c := &set{s: s}
	draws, volts := c.draws()
	var out []CircuitLoad
	for _, d := range draws {
		if len(d.lights) == 0 {
			continue
		}
		ld := CircuitLoad{Name: d.circuit.Name, Circuit: d.circuit, Lights: numbersOf(d.lights), LoadA: d.amps, Unknown: numbersOf(d.unknown)}
		ld.DropV, ld.DropPct, ld.HasDrop = d.drop(volts)
		ld.OverLoad = d.circuit.Breaker != nil && d.amps > *d.circuit.Breaker
		ld.OverDrop = ld.HasDrop && ld.DropPct > dropLightingPct
		out = append(out, ld)
	}
	var rest CircuitLoad
	for i := range s.Lights {
		if l := &s.Lights[i]; onMains(l) && s.Mains.Circuit(l.Circuit) == nil {
			rest.Lights = append(rest.Lights, l.Number)
		}
	}
	if len(rest.Lights) > 0 {
		out = append(out, rest)
	}
	return out
}

func numbersOf(ls []*setup.Light) []int {
	var out []int
	for _, l := range ls {
		out = append(out, l.Number)
	}
	return out
}

// MainsLoad is what a whole set draws from the mains.
type MainsLoad struct {
	Amps    float64 // the makers' currents that are known, a pack once, however many heads hang on it
	Volts   float64 // 0 where the file does not say
	Lights  []int   // those that are, or may be, on the mains
	Unknown []int   // of them, those whose current is not known; of a pack its first
}

// MainsOf sums the set's currents, whether a circuit is named or not.
func MainsOf(s *setup.Setup) MainsLoad {
	var out MainsLoad
	if s.Mains != nil {
		out.Volts = s.Mains.Volts
	}
	counted := map[*setup.Pack]bool{}
	for i := range s.Lights {
		l := &s.Lights[i]
		if !onMains(l) {
			continue
		}
		out.Lights = append(out.Lights, l.Number)
		if l.Pack != nil {
			if counted[l.Pack.Pack] {
				continue
			}
			counted[l.Pack.Pack] = true
		}
		if a, ok := amps(l, out.Volts); ok {
			out.Amps += a
		} else {
			out.Unknown = append(out.Unknown, l.Number)
		}
	}
	return out
}
