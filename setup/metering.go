package setup

import (
	"cmp"
	"slices"
)

// MeteringOrder is the order in which the lights are metered, as indices into
// Lights: what every difference is from, the key, the fills, then the others as
// they stand in the file. Lights that are off are not metered. The room's own
// light, where it counts, comes before them all.
func (s *Setup) MeteringOrder() []int {
	order := make([]int, 0, len(s.Lights))
	for i := range s.Lights {
		if !s.Lights[i].Off {
			order = append(order, i)
		}
	}
	rank := func(i int) int {
		switch l := &s.Lights[i]; {
		case s.IsZero(l):
			return 0
		case l.Role == "key":
			return 1
		case l.Role == "fill":
			return 2
		}
		return 3
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(rank(a), rank(b)) })
	return order
}
