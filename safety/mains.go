package safety

import "stopleaf/setup"

// The drops that IEC 60364-5-52 table G.52.1 allows from a public supply,
// percent: lighting, and other uses.
const (
	dropLightingPct = 3.0
	dropOtherPct    = 5.0
)

// What is less than these is a slip of the pen, and nothing is divided by it.
const (
	leastVolts = 12.0
	leastMM2   = 0.1
)

// draw is what one circuit carries.
type draw struct {
	circuit *setup.Circuit
	lights  []*setup.Light
	amps    float64
	unknown []*setup.Light // on it, current not given
}

// amps is a head's current: its pack's, else the maker's figure, else a
// continuous lamp's watts over the volts. A flash's watts would understate it.
func amps(l *setup.Light, volts float64) (a float64, known bool) {
	if l.Pack != nil {
		if l.Pack.Pack.Current == nil {
			return 0, false
		}
		return *l.Pack.Pack.Current, true
	}
	if l.Head == nil {
		return 0, false
	}
	if l.Head.Current != nil {
		return *l.Head.Current, true
	}
	if !isFlash(l) && l.Head.Watts != nil && volts >= leastVolts {
		return *l.Head.Watts / volts, true
	}
	return 0, false
}

// circuits sums each circuit's makers' currents against its breaker and works
// out the drop in its lead; where nothing can be summed, the plain rule.
func circuits(c *set) []Note {
	var out []Note
	onNone := 0
	draws, volts := c.draws()
	for i := range c.s.Lights {
		l := &c.s.Lights[i]
		if onMains(l) && c.s.Mains.Circuit(l.Circuit) == nil {
			onNone++
		}
	}
	for _, d := range draws {
		if len(d.lights) == 0 {
			continue
		}
		out = append(out, c.carries(d, volts)...)
	}
	if onNone > 0 {
		out = append(out, c.note("circuit-load", 4, "", "safety.circuit-rule"))
	}
	return out
}

func (c *set) draws() ([]draw, float64) {
	if c.s.Mains == nil {
		return nil, 0
	}
	volts := c.s.Mains.Volts
	draws := make([]draw, len(c.s.Mains.Circuits))
	for i := range draws {
		d := draw{circuit: &c.s.Mains.Circuits[i]}
		counted := map[*setup.Pack]bool{}
		for j := range c.s.Lights {
			l := &c.s.Lights[j]
			if l.Circuit != d.circuit.Name || !onMains(l) {
				continue
			}
			d.lights = append(d.lights, l)
			if l.Pack != nil { // one plug, however many heads
				if counted[l.Pack.Pack] {
					continue
				}
				counted[l.Pack.Pack] = true
			}
			if a, ok := amps(l, volts); ok {
				d.amps += a
			} else {
				d.unknown = append(d.unknown, l)
			}
		}
		draws[i] = d
	}
	return draws, volts
}

// carries words a circuit's load and the drop in its lead at that load: one
// note while both are as they should be, a second where the lead loses too
// much.
func (c *set) carries(d draw, volts float64) []Note {
	name := d.circuit.Name
	fig := map[string]float64{"load_a": d.amps, "lights": float64(len(d.lights))}
	words := []string{"circuit", name, "load", up(d.amps, 1)}
	key, rank := "safety.circuit-load", 4
	if d.circuit.Breaker != nil {
		fig["breaker_a"] = *d.circuit.Breaker
		words = append(words, "breaker", num(*d.circuit.Breaker, 1))
	}
	switch {
	case d.circuit.Breaker == nil:
		key = "safety.circuit-breaker"
	case d.amps > *d.circuit.Breaker:
		key, rank = "safety.circuit-over", 1
	case len(d.unknown) > 0:
		key = "safety.circuit-partly"
		words = append(words, c.list(itemsOf(d.unknown))...)
		fig["unknown"] = float64(len(d.unknown))
	}
	v, pct, known := d.drop(volts)
	if !known {
		return []Note{c.note("circuit-load", rank, name, key, words...).figures(fig)}
	}
	lost := map[string]float64{"drop_v": v, "drop_pct": pct, "load_a": d.amps,
		"lead_m": *d.circuit.Lead.Length, "lead_mm2": *d.circuit.Lead.Section}
	words = append(words, "drop", num(v, 1), "pct", num(pct, 1),
		"lead", c.metres(*d.circuit.Lead.Length)+" × "+num(*d.circuit.Lead.Section, 2)+" mm²")
	if key == "safety.circuit-load" && pct <= dropLightingPct {
		for k, x := range lost {
			fig[k] = x
		}
		return []Note{c.note("circuit-load", rank, name, "safety.circuit-and-lead", words...).figures(fig)}
	}
	leadKey, leadRank := "safety.lead-drop", 6
	switch {
	case pct > dropOtherPct:
		leadKey, leadRank = "safety.lead-over", 4
	case pct > dropLightingPct:
		leadKey = "safety.lead-lighting"
	}
	return []Note{
		c.note("circuit-load", rank, name, key, words...).figures(fig),
		c.note("lead-drop", leadRank, name, leadKey, words...).figures(lost),
	}
}

// drop is the voltage lost in the circuit's lead at the sum of the known
// currents, and as percent of the supply.
func (d draw) drop(volts float64) (v, pct float64, known bool) {
	ld := d.circuit.Lead
	if ld == nil || ld.Length == nil || ld.Section == nil || *ld.Section < leastMM2 || volts < leastVolts || d.amps <= 0 {
		return 0, 0, false
	}
	v = LeadDrop(*ld.Length, *ld.Section, d.amps)
	return v, v / volts * 100, true
}

// leads is the standing rule for everything on the mains.
func leads(c *set) []Note {
	mains, flash := false, false
	for i := range c.s.Lights {
		l := &c.s.Lights[i]
		mains = mains || onMains(l)
		flash = flash || (onMains(l) && isFlash(l))
	}
	switch {
	case flash:
		return []Note{c.note("leads", 4, "", "safety.leads")}
	case mains:
		return []Note{c.note("leads", 4, "", "safety.leads-lamps")}
	}
	return nil
}

// batteries is the rule for heads that carry their own.
func batteries(c *set) []Note {
	var on []*setup.Light
	for i := range c.s.Lights {
		if l := &c.s.Lights[i]; isLamp(l) && supply(l) == "battery" {
			on = append(on, l)
		}
	}
	if len(on) == 0 {
		return nil
	}
	items := itemsOf(on)
	return []Note{c.note("batteries", 6, only(items), "safety.batteries", c.list(items)...)}
}
