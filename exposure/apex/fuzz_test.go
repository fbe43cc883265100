package apex

import (
	"math"
	"testing"
)

func seed(f *testing.F, seeds ...string) {
	for _, s := range append(seeds, "", " ", "\x00", "\xff\xfe", "/", "+", "-", "1/0", "NaN", "inf", "1e9", "٣", "0x10", "½½") {
		f.Add(s)
	}
}

func within(t *testing.T, what, in string, v, low, high float64) {
	t.Helper()
	if math.IsNaN(v) || v < low || v > high {
		t.Fatalf("%s %q gives %v, outside %v to %v", what, in, v, low, high)
	}
}

func FuzzReading(f *testing.F) {
	seed(f, "f/11", "11 3/10", "8 5", "9.7", "EV 13.3", "EV100 5", "f/8 +0,4", "5.6.3", "8⁵")
	f.Fuzz(func(t *testing.T, s string) {
		for _, n := range []Notation{{}, {Halves: true, Comma: true}, {Bare: "tenths"}, {Bare: "decimal"}} {
			r, err := ParseReading(s, n)
			switch {
			case err != nil:
			case r.Kind == KindF:
				within(t, "reading", s, r.Value, leastAv, mostAv)
			default:
				within(t, "exposure value", s, r.Value, leastEV, mostEV)
			}
		}
	})
}

func FuzzTime(f *testing.F) {
	seed(f, "1/200", "0.5 s", `0"5`, "2 s", "1/1.3", "200")
	f.Fuzz(func(t *testing.T, s string) {
		if v, err := ParseTime(s, Notation{}); err == nil {
			within(t, "time", s, v, leastTime*0.9, mostTime*1.1)
			if FormatTime(v) == "" {
				t.Fatalf("%q gives %v s, which has no text", s, v)
			}
		}
	})
}

func FuzzDelta(f *testing.F) {
	seed(f, "-1.7", "-1 2/3", "1.7 under", "0.4 over", "−1⅔")
	f.Fuzz(func(t *testing.T, s string) {
		if v, err := ParseDelta(s); err == nil {
			within(t, "delta", s, v, -MostStops, MostStops)
		}
		if v, err := ParseStops(s); err == nil {
			within(t, "stops", s, v, 0, MostStops)
		}
	})
}

func FuzzPower(f *testing.F) {
	seed(f, "1/8 +0.3", "full", "62 Ws", "-3.3", "7.5", "50 %", "1/4096")
	f.Fuzz(func(t *testing.T, s string) {
		energy := 400.0
		for _, d := range []Dial{{}, {Kind: "number", Full: 10}, {Kind: "ws"}, {Kind: "percent"}} {
			for _, e := range []*float64{nil, &energy} {
				if v, err := ParsePower(s, e, d); err == nil {
					within(t, "power", s, v, leastPower-1e-6, 0)
				}
			}
		}
	})
}
