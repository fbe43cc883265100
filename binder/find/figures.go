package find

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"stopleaf/exposure/apex"
	"stopleaf/setup"
)

// bounds is what a figure may be, both ends included or not.
type bounds struct {
	low, high    float64
	above, under bool // the end itself is left out
}

func (b bounds) hold(v float64) bool {
	const same = 1e-9
	return !(v < b.low-same || v > b.high+same || b.above && v <= b.low+same || b.under && v >= b.high-same)
}

// within understands "<=3", "=3", ":3", and without a shell's signs ":2..4",
// ":..3", ":4..".
func within(f *written, read func(string) (float64, error)) (bounds, error) {
	all := bounds{low: math.Inf(-1), high: math.Inf(1)}
	if low, high, isRange := strings.Cut(f.value, ".."); isRange && (f.op == ":" || f.op == "=") {
		var err error
		if low != "" {
			if all.low, err = read(low); err != nil {
				return all, err
			}
		}
		if high != "" {
			if all.high, err = read(high); err != nil {
				return all, err
			}
		}
		if low == "" && high == "" || all.low > all.high {
			return all, fmt.Errorf("%q is no range: write %s:4.., %s:..3 or %s:2..4", f.value, f.name, f.name, f.name)
		}
		return all, nil
	}
	v, err := read(f.value)
	switch f.op {
	case "<=":
		all.high = v
	case "<":
		all.high, all.under = v, true
	case ">=":
		all.low = v
	case ">":
		all.low, all.above = v, true
	default:
		all.low, all.high = v, v
	}
	return all, err
}

// figure makes a filter of a figure of a setup; nil is not known and meets none.
func figure(read func(string) (float64, error), of func(*candidate) *float64) func(*written) (func(*candidate) bool, error) {
	return func(f *written) (func(*candidate) bool, error) {
		b, err := within(f, read)
		if err != nil {
			return nil, fmt.Errorf("%q: %w", f.text, err)
		}
		return func(c *candidate) bool {
			v := of(c)
			return v != nil && b.hold(*v)
		}, nil
	}
}

func number(of func(*candidate) *float64) func(*written) (func(*candidate) bool, error) {
	return figure(func(s string) (float64, error) {
		s = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(s), ":1"))
		v, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
		if err != nil || !(v >= 0 && v <= 1e6) {
			return 0, fmt.Errorf("%q is no number", s)
		}
		return v, nil
	}, of)
}

func length(of func(*candidate) *float64) func(*written) (func(*candidate) bool, error) {
	return figure(func(s string) (float64, error) { return setup.ParseLength(s, setup.Metres) }, of)
}

func count(c *candidate) *float64 {
	n := float64(c.summary.Lights)
	return &n
}

// ratio is key to fill as it is printed, to a tenth, so that what a list shows as
// 4.0 is 4.
func ratio(c *candidate) *float64 {
	r := c.summary.KeyToFill
	if r == nil {
		return nil
	}
	v := math.Floor(*r*10+0.5+1e-9) / 10
	return &v
}

// made compares dates to the year, month or day that is written: made<=2025 holds
// on its last day.
func made(f *written) (func(*candidate) bool, error) {
	low, high, isRange := strings.Cut(f.value, "..")
	if !isRange {
		high = low
	}
	switch f.op {
	case "<=", "<":
		low = ""
	case ">=", ">":
		high = ""
	}
	strict := f.op == "<" || f.op == ">"
	if isRange && f.op != ":" && f.op != "=" || !isDate(low) || !isDate(high) || low == "" && high == "" {
		return nil, fmt.Errorf("%q is no date: write made>=2025, made:2026-03 or made:2025-06..2026", f.text)
	}
	return func(c *candidate) bool {
		day := c.setup.Made
		switch {
		case day == "":
			return false
		case low != "" && (day[:min(len(low), len(day))] < low || strict && strings.HasPrefix(day, low)):
			return false
		case high != "" && (day[:min(len(high), len(day))] > high || strict && strings.HasPrefix(day, high)):
			return false
		}
		return true
	}, nil
}

// isDate takes "", "2025", "2025-06" and "2025-06-30".
func isDate(s string) bool {
	if s == "" {
		return true
	}
	parts := strings.Split(s, "-")
	for i, p := range parts {
		n, err := strconv.Atoi(p)
		if err != nil || len(p) != []int{4, 2, 2, 0}[min(i, 3)] || i > 0 && (n < 1 || n > []int{0, 12, 31}[min(i, 2)]) {
			return false
		}
	}
	return len(parts) <= 3
}

// base is an aperture that the set can be run at: the key may be set to read it
// with every head in its range, or was recorded to.
func base(f *written) (func(*candidate) bool, error) {
	r, err := apex.ParseReading(f.value, apex.Notation{Bare: "decimal"})
	switch {
	case f.op != ":" && f.op != "=":
		return nil, fmt.Errorf("%q: a base is one aperture: write base:f/2.8", f.text)
	case err != nil:
		return nil, fmt.Errorf("%q: %w", f.text, err)
	case r.NeedsTime():
		return nil, fmt.Errorf("%q: %q is an exposure value: write a base as an aperture, base:f/2.8", f.text, f.value)
	}
	return func(c *candidate) bool {
		if key := c.setup.Exposure.KeyAv; key != nil && math.Abs(*key-r.Value) < 0.05 {
			return true
		}
		can := c.summary.BaseRange
		return can.LowAv != nil && can.HighAv != nil && bounds{low: *can.LowAv, high: *can.HighAv}.hold(r.Value)
	}, nil
}
