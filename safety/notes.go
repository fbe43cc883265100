package safety

import (
	"math"
	"sort"

	"stopleaf/exposure"
	"stopleaf/setup"
	"stopleaf/templates"
)

// MaxShort is the longest Short, and the longest Text without a Short, in
// characters.
const MaxShort = 60

// set is what every rule looks at.
type set struct {
	s *setup.Setup
	n *exposure.Numbers // may be nil
	w templates.Words
}

// Notes gives the cautions for a setup, what can kill or fall first. Figures
// come from the file; where one is unknown the plain rule stands in its place.
// Cautions of one kind are one note that names its lights. n may be nil; the
// text then lacks only what is near to the face. Same input, same notes.
func Notes(s *setup.Setup, n *exposure.Numbers, w templates.Words) []Note {
	if s == nil {
		return nil
	}
	c := &set{s: s, n: n, w: w}
	var notes []Note
	for _, rule := range []func(*set) []Note{
		overhead, booms, bags, flats, heads, packs, circuits, leads, lamps, gels,
		hazards, batteries, people, lifting, standing,
	} {
		notes = append(notes, rule(c)...)
	}
	sort.SliceStable(notes, func(i, j int) bool { return notes[i].Rank < notes[j].Rank })
	return notes
}

// note words one caution. The short form is "KEY.short" with the same places;
// it is kept only where the text is too long to be its own short form.
func (c *set) note(code string, rank int, light, key string, pairs ...string) Note {
	n := Note{Code: code, Light: light, Rank: rank, Text: c.w.T(key, pairs...), Figures: map[string]float64{}}
	if length(n.Text) > MaxShort {
		n.Short = c.short(key+".short", pairs)
	}
	return n
}

// short fills the short form, and where the names make it too long gives the
// lights by number, then by count: {list}, {numbers} and {count} stand for the
// same lights. Last comes "KEY.shorter", where there is one.
func (c *set) short(key string, pairs []string) string {
	best := ""
	for _, as := range []string{"list", "numbers", "count"} {
		p := append([]string(nil), pairs...)
		for i := 0; i+1 < len(pairs); i += 2 {
			if pairs[i] == as {
				p = append([]string{"list", pairs[i+1]}, p...)
			}
		}
		best = c.w.T(key, p...)
		if length(best) <= MaxShort {
			return best
		}
	}
	if _, ok := c.w[key+"er"]; ok {
		return c.w.T(key+"er", pairs...)
	}
	return best
}

func length(s string) int { return len([]rune(s)) }

// figures rounds what goes into a note: 3 decimal places, nothing that is not
// a number.
func (n Note) figures(pairs map[string]float64) Note {
	for k, v := range pairs {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			n.Figures[k] = math.Round(v*1000)/1000 + 0
		}
	}
	return n
}

// isFlash says whether a light has a flash tube of its own.
func isFlash(l *setup.Light) bool { return l.Source == exposure.Flash || l.Source == "" }

// isLamp says whether a light is fed by a current of its own: flash or
// continuous, not a card, not the sun.
func isLamp(l *setup.Light) bool { return isFlash(l) || l.Source == exposure.Continuous }

// onMains says whether a light is, or may be, on the mains.
func onMains(l *setup.Light) bool {
	return isLamp(l) && supply(l) != "battery"
}

// supply is what feeds a light, its pack's where it hangs on one: "mains",
// "battery" or "" where that is not known.
func supply(l *setup.Light) string {
	switch {
	case l.Pack != nil:
		return l.Pack.Pack.Supply
	case l.Head != nil:
		return l.Head.Supply
	}
	return ""
}

func has(list []string, want string) bool {
	for _, s := range list {
		if s == want {
			return true
		}
	}
	return false
}
