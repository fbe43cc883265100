package compare

import (
	"math"
	"strings"

	"stopleaf/exposure/apex"
	"stopleaf/setup"
)

// Fact is one figure or word that both may have.
type Fact struct {
	Key    string // stable: "distance_m"
	Name   string // as printed: "distance"
	A, B   any    // float64, string or bool; nil where it is not known
	Change *float64
	Same   *bool // nil where one is not known, or the two do not compare

	TextA, TextB, TextChange string // as printed; "" where not known

	echo bool // follows from other facts: never a difference of its own
}

// Differs reports whether it is known in both and not the same.
func (f *Fact) Differs() bool { return f.Same != nil && !*f.Same && !f.echo }

// Echoes reports whether it is not the same, and only because other facts are
// not: what a light reads where the key reads something else.
func (f *Fact) Echoes() bool { return f.echo && f.Same != nil && !*f.Same }

// Incomparable reports whether both say it and the two do not compare.
func (f *Fact) Incomparable() bool { return f.A != nil && f.B != nil && f.Same == nil }

// OnlyOne reports whether only one says it: "A", "B" or "".
func (f *Fact) OnlyOne() string {
	switch {
	case f.echo:
	case f.A != nil && f.B == nil:
		return "A"
	case f.A == nil && f.B != nil:
		return "B"
	}
	return ""
}

// Known reports whether either says it.
func (f *Fact) Known() bool { return f.A != nil || f.B != nil }

// facts collects the facts of one pair or group.
type facts struct {
	list  []Fact
	units setup.Units
	style apex.Style
}

func (c *comparison) newFacts() *facts { return &facts{units: c.units, style: c.style} }

// get finds a fact by its key.
func get(list []Fact, key string) *Fact {
	for i := range list {
		if list[i].Key == key {
			return &list[i]
		}
	}
	return nil
}

// number puts a figure of each: text prints one, change prints a difference,
// apart says how far two are from each other in the unit of within.
func (f *facts) number(key, name string, a, b *float64, text, change func(float64) string, apart func(a, b float64) float64, within float64) *Fact {
	out := Fact{Key: key, Name: name}
	if a != nil {
		out.A, out.TextA = round(*a), text(*a)
	}
	if b != nil {
		out.B, out.TextB = round(*b), text(*b)
	}
	if a != nil && b != nil {
		d := apart(*a, *b)
		same := near(d, 0, within)
		out.Same, out.Change, out.TextChange = &same, at(round(*b-*a)), change(d)
	}
	f.list = append(f.list, out)
	return &f.list[len(f.list)-1]
}

// angle puts a direction in degrees; the change is the shorter way round.
func (f *facts) angle(key, name string, a, b *float64, text func(float64) string, within float64) *Fact {
	turn := func(x, y float64) float64 { return math.Remainder(y-x, 360) }
	out := f.number(key, name, a, b, text, func(d float64) string { return trim(round0(math.Abs(d))) + "°" }, turn, within)
	if out.Change != nil {
		out.Change = at(round(turn(*a, *b)))
	}
	return out
}

func minus(a, b float64) float64   { return b - a }
func doubled(a, b float64) float64 { return math.Log2(b / a) }

// stops puts a figure in stops, or a reading.
func (f *facts) stops(key, name string, a, b *float64, text func(float64) string) *Fact {
	return f.number(key, name, a, b, text, stopsChange, minus, Stops)
}

// speed puts a figure that is compared by its doublings.
func (f *facts) speed(key, name string, a, b *float64, text func(float64) string) *Fact {
	return f.number(key, name, a, b, text, stopsChange, doubled, Stops)
}

func (f *facts) length(key, name string, a, b *float64) *Fact {
	return f.number(key, name, a, b, func(m float64) string { return setup.FormatLength(m, f.units) },
		func(m float64) string { return signed(m, f.small) }, minus, Length)
}

// plain puts a figure that has a unit and a tolerance of its own.
func (f *facts) plain(key, name, unit string, a, b *float64, within float64) *Fact {
	text := func(v float64) string { return trim(v) + unit }
	return f.number(key, name, a, b, text, func(v float64) string { return signed(v, text) }, minus, within)
}

// word puts a word of each, compared by alike; "" is not known.
func (f *facts) word(key, name, a, b string, alike func(a, b string) bool) *Fact {
	out := Fact{Key: key, Name: name, TextA: a, TextB: b}
	if a != "" {
		out.A = a
	}
	if b != "" {
		out.B = b
	}
	if a != "" && b != "" {
		same := alike(a, b)
		out.Same = &same
	}
	f.list = append(f.list, out)
	return &f.list[len(f.list)-1]
}

// incomparable takes back what was said of two figures that do not compare.
func (f *Fact) incomparable() { f.Same, f.Change, f.TextChange = nil, nil, "" }

// small prints a length of less than a metre in centimetres.
func (f *facts) small(m float64) string {
	if f.units == setup.Metres && math.Abs(m) < 0.995 {
		return setup.FormatLength(m, setup.Centimetres)
	}
	return setup.FormatLength(m, f.units)
}

func stopsChange(d float64) string { return apex.FormatSigned(d) + " stops" }

// signed prints a change with its sign, a true minus.
func signed(v float64, text func(float64) string) string {
	s := text(math.Abs(v))
	if !strings.ContainsAny(s, "123456789½") {
		return s
	}
	if v < 0 {
		return "\u2212" + s
	}
	return "+" + s
}

// round keeps nine places, so that processors agree, and never gives -0.
func round(x float64) float64 { return math.Round(x*1e9)/1e9 + 0 }

func at(x float64) *float64 { return &x }
