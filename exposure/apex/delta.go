package apex

import "fmt"

// MostStops bounds a difference, either way.
const MostStops = 20

// ParseDelta reads a difference from the key in stops: "-1.7", "-1 2/3",
// "1.7 under", "0.4 over", "0". It must say which way it goes.
func ParseDelta(s string) (float64, error) {
	t, err := clean(s, "a difference")
	if err != nil {
		return 0, err
	}
	way := 0.0
	if rest, ok := cutUnit(t, "under"); ok {
		t, way = rest, -1
	} else if rest, ok := cutUnit(t, "over"); ok {
		t, way = rest, 1
	}
	t, _ = cutUnit(t, "stops", "stop", "ev")
	v, had, ok := signed(t)
	switch {
	case !ok:
		return 0, fmt.Errorf("%q is not a difference: write -1.7, -1 2/3, 1.7 under, 0.4 over or 0", s)
	case had && way != 0:
		return 0, fmt.Errorf("%q has both a sign and a word: write -1.7 or 1.7 under", s)
	case !had && way == 0 && v != 0:
		return 0, fmt.Errorf("%q does not say which way: write %s under or -%s, %s over or +%s", s, t, t, t, t)
	case v < -MostStops || v > MostStops:
		return 0, fmt.Errorf("%q is too large a difference: it must be from -%d to +%d stops", s, MostStops, MostStops)
	}
	if way != 0 && v != 0 {
		v *= way
	}
	return v, nil
}

// ParseStops reads a size in stops that has no direction: a head's range, a
// dial's step, a gel's loss. "1/3", "0.1", "8", "9 stops", "1 2/3".
func ParseStops(s string) (float64, error) {
	t, err := clean(s, "a number of stops")
	if err != nil {
		return 0, err
	}
	t, _ = cutUnit(t, "stops", "stop", "ev")
	v, ok := mixed(t)
	if !ok || v > MostStops {
		return 0, fmt.Errorf("%q is not a number of stops: write a number from 0 to %d, such as 1/3, 0.1 or 8", s, MostStops)
	}
	return v, nil
}
