package setup

import (
	"bytes"
	"slices"
)

// Source is what a setup was read from, byte for byte; nil is none.
type Source struct {
	Setup, Gear, House []byte
}

// Source gives the files of a setup as they were written, its comments with
// them. They are nil when anything in one of them is private, as a key or as a
// word in a comment: such files are not given away.
func (s *Setup) Source() Source {
	out := Source{Setup: s.source, Gear: s.gearSrc}
	trees := []*written{s.top, s.gearTop}
	if s.House != nil {
		out.House = s.House.source
		trees = append(trees, s.House.top)
	}
	word := []byte("private")
	for _, src := range [][]byte{out.Setup, out.Gear, out.House} {
		if bytes.Contains(bytes.ToLower(src), word) {
			return Source{}
		}
	}
	if slices.ContainsFunc(trees, (*written).private) {
		return Source{}
	}
	return out
}

// private reports whether a key in it, however it is spelt, is that of what is
// never given away.
func (w *written) private() bool {
	if w == nil {
		return false
	}
	return slices.ContainsFunc(w.items, (*written).private) ||
		slices.ContainsFunc(w.fields, func(f field) bool { return f.name == "private" || f.value.private() })
}

// Lean lets go of what only writing the setup out again needs, about half of it:
// for thousands of setups that are held at once. Source gives nothing then, and
// Canonical reads the canonical file again that is given here; nil is none.
func (s *Setup) Lean(canonical []byte) {
	s.top, s.gearTop, s.source, s.gearSrc = nil, nil, nil, nil
	s.canonical = canonical
}
