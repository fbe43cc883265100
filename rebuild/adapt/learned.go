package adapt

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stopleaf/exposure"
	"stopleaf/setup"
)

// found is what a head was found to give.
type found struct {
	av     float64  // at full, at the throw asked for
	spread *float64 // stops; nil where a single record says so
	from   string   // "the gear", "4 setups"
}

// est words how sure an estimate by one or two heads is.
func est(list ...found) string {
	spread, from := 0.0, []string{}
	for _, f := range list {
		if f.spread == nil {
			return "est., from one record"
		}
		spread += *f.spread
		if !slices.Contains(from, f.from) {
			from = append(from, f.from)
		}
	}
	return fmt.Sprintf("est. ±%.1f, from %s", math.Ceil(spread*10-1e-9)/10, strings.Join(from, " and "))
}

// reads is what the head of a light gives at full through its modifier at the
// throw of another, by what heads were found to give.
func (p *plan) reads(l, where *setup.Light) (f found, ok bool) {
	away, placed := throw(where)
	iso := p.was.Exposure.ISO
	if p.o.Learned == nil || !placed || iso == nil || l.Source != exposure.Flash {
		return f, false
	}
	out, known := p.o.Learned.For(l)
	if !known {
		return f, false
	}
	full := out.Reads(l.Modifier, away, 0, *iso)
	if full == nil {
		return f, false
	}
	f = found{av: *full, spread: out.Spread, from: "the gear"}
	if _, setups := out.Lights(); !out.Written {
		f.from = fmt.Sprintf("%d setups", setups)
	}
	return f, true
}

// learned gives a light a setting by what its head gave through its modifier
// elsewhere; false where nothing is known of that, or it would be a guess.
func (p *plan) learned(i int, h *exposure.Head) bool {
	l, d := &p.s.Lights[i], &p.dials[i]
	key, iso := p.s.Exposure.KeyAv, p.s.Exposure.ISO
	if key == nil || iso == nil || l.Aim.Feather != nil || l.Meter.Toward == "camera" {
		return false
	}
	full, ok := p.reads(l, l)
	if !ok {
		return false
	}
	d.lost, d.est = "", est(full)
	d.why = []string{"by what its head gave at 1 m"}
	p.set(i, *key+l.Delta-full.av-math.Log2(*iso / *p.was.Exposure.ISO), h)
	return true
}
