package safety

import (
	"fmt"
	"strings"
)

// packs is the rule on a power pack's plugs, with what hangs on each and what it
// draws: "floor (Key, Fill; 8 A)".
func packs(c *set) []Note {
	if len(c.s.Packs) == 0 {
		return nil
	}
	fig := map[string]float64{}
	var long, short []string
	for _, p := range c.s.Packs {
		var on []item
		for i := range c.s.Lights {
			if l := &c.s.Lights[i]; l.Pack != nil && l.Pack.Pack == p {
				on = append(on, itemOf(l))
			}
		}
		if len(on) == 0 {
			continue
		}
		within := names(on)
		if p.Current != nil && p.Supply != "battery" {
			fig["current_a."+p.Name] = *p.Current
			within += "; " + up(*p.Current, 1) + " A"
		}
		fig["heads."+p.Name] = float64(len(on))
		long = append(long, fmt.Sprintf("%s (%s)", p.Name, within))
		short = append(short, p.Name)
	}
	if len(long) == 0 {
		return nil
	}
	list := strings.Join(long, ", ")
	if length(list) > 90 {
		list = strings.Join(short, ", ")
	}
	count := fmt.Sprint(len(short))
	if length(list) > 90 {
		list = count
	}
	only := ""
	if len(short) == 1 {
		only = c.s.Packs[0].Name
	}
	n := c.note("pack-dump", 3, only, "safety.pack-dump", "list", list, "numbers", strings.Join(short, ", "), "count", count)
	return []Note{n.figures(fig)}
}
