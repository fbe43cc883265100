package check

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"stopleaf/exposure"
	"stopleaf/setup"
)

// target is what a name stands for.
type target struct {
	lights []int // none for the room's own light
	pair   *setup.Pair
}

// find looks a light up by its name, a pair by the name of both, then by number;
// else it says why there is none.
func (r *Reader) find(name string) (found *target, problem string) {
	var both []int
	for i := range r.s.Lights {
		l := &r.s.Lights[i]
		if strings.EqualFold(l.Name, name) {
			return &target{lights: []int{i}}, ""
		}
		if l.Pair != nil && strings.EqualFold(l.Pair.Of, name) {
			both = append(both, i)
		}
	}
	if len(both) > 0 {
		return &target{lights: both, pair: r.s.Lights[both[0]].Pair}, ""
	}
	if strings.EqualFold(name, exposure.Ambient) {
		return &target{}, ""
	}
	number, err := strconv.Atoi(strings.TrimPrefix(name, "#"))
	if err == nil {
		for i := range r.s.Lights {
			if r.s.Lights[i].Number == number {
				return &target{lights: []int{i}}, ""
			}
		}
	}
	for i := range r.s.Lights { // the key by its part, whatever it is called
		if r.s.Lights[i].Role == "key" && strings.EqualFold(name, "key") {
			return &target{lights: []int{i}}, ""
		}
	}
	for _, g := range r.s.Grip {
		if strings.EqualFold(g.Name, name) || err == nil && g.Number == number {
			return nil, fmt.Sprintf("%s gives no light, and has no reading", quoted(g.Name))
		}
	}
	return nil, fmt.Sprintf("there is no light %s", quoted(name))
}

// names are the lights in metering order, for hints.
func (r *Reader) names() []string {
	var out []string
	for _, i := range r.s.MeteringOrder() {
		out = append(out, r.s.Lights[i].Name)
	}
	return out
}

func (r *Reader) nearest(name string) string {
	known := r.names()
	for i := range r.s.Lights {
		if p := r.s.Lights[i].Pair; p != nil && !slices.Contains(known, p.Of) {
			known = append(known, p.Of)
		}
	}
	if n := setup.Nearest(name, append(known, "Ambient")); n != "" {
		return fmt.Sprintf("did you mean %q?", n)
	}
	return "the lights are " + strings.Join(r.names(), ", ") + "; a number of the table does too"
}
