package adapt

import (
	"slices"
	"strings"

	"stopleaf/setup"
	"stopleaf/setup/edit"
)

// mirror turns the text of the file about the line from camera to subject: every
// left is right. It is done to the words, not to figures worked out from them, so
// that done twice it is the file as it was.
type mirror struct {
	*writer
	names map[string]string // by lower-case name: what an item is called after
	err   error
}

const otherSide = "the other side"

// mirrored mirrors the file and reads it again.
func (w *writer) mirrored() error {
	m := &mirror{writer: w, names: map[string]string{}}
	m.newNames()
	m.references()
	m.side(edit.Path{"subject", "turned"}, "subject")
	m.room()
	s := w.s
	for i := range s.Lights {
		l := &s.Lights[i]
		if l.Pair == nil {
			m.light(w.item("lights", w.index(i)), l)
		} else if l.Pair.Side == "L" {
			m.pair(w.item("lights", w.index(i)), l)
		}
	}
	for i := range s.Grip {
		m.thing(w.item("grip", i), s.Grip[i].Name)
		m.side(w.item("grip", i, "turned"), s.Grip[i].Name)
	}
	m.rename()
	if m.err != nil {
		return m.err
	}
	return w.read()
}

// do keeps the first error.
func (m *mirror) do(err error) {
	if m.err == nil {
		m.err = err
	}
}

func (m *mirror) put(p edit.Path, item, text string) {
	if was, ok := m.src.Text(p); ok && was != text {
		m.do(m.set(p, item, otherSide, text))
	}
}

// light turns what is written of a single light.
func (m *mirror) light(p edit.Path, l *setup.Light) {
	m.thing(p, l.Name)
	m.turned(p, l.Name)
}

// thing turns a place and a boom's column.
func (m *mirror) thing(p edit.Path, name string) {
	m.place(p.With("place"), name)
	m.place(p.With("stand", "base"), name)
}

// turned turns where a light points.
func (m *mirror) turned(p edit.Path, name string) {
	aim := p.With("aim")
	if text, ok := m.src.Text(aim); !ok || isPlace(text) {
		m.place(aim, name)
	}
	m.side(p.With("feather"), name)
	m.side(p.With("feather", "toward"), name)
}

// isPlace tells an aim that is a place in one line from the name of an item.
func isPlace(aim string) bool {
	return aim != "" && aim[0] >= '0' && aim[0] <= '9' && strings.Contains(aim, ",")
}

// pair turns a mirrored pair, which is its own mirror image: what the file says
// of the one it then says of the other.
func (m *mirror) pair(p edit.Path, l *setup.Light) {
	sided, single := m.sided(p.With("place")), m.onSingle(p.With("place"))
	if sided || single { // where the file places one of the two, that one is turned
		m.thing(p, called(l))
		m.turned(p, called(l))
	}
	if m.changesAbout(p) {
		m.swapTwo(p.With("reading"), called(l))
		m.swapTwo(p.With("outlet"), called(l))
	}
}

// changesAbout reports whether L of a pair becomes R: but for a pair that stands
// by a single item, which is turned and takes it along.
func (m *mirror) changesAbout(p edit.Path) bool {
	return m.sided(p.With("place")) || !m.onSingle(p.With("place"))
}

// sided reports whether a place says left or right itself.
func (m *mirror) sided(place edit.Path) bool {
	if text, ok := m.src.Text(place); ok {
		return flipPlace(text) != text
	}
	for _, key := range []string{"left", "right", "side", "clock"} {
		if m.src.Has(place.With(key)) {
			return true
		}
	}
	angle, _ := m.src.Text(place.With("angle"))
	return flipSide(angle) != angle
}

// onSingle reports whether a place leans on an item that is no pair.
func (m *mirror) onSingle(place edit.Path) bool {
	for _, name := range m.namesIn(place) {
		if !slices.ContainsFunc(m.s.Lights, func(l setup.Light) bool { return l.Pair != nil && strings.EqualFold(l.Pair.Of, name) }) {
			return true
		}
	}
	return false
}

// namesIn are the names of items that a place leans on, as written.
func (m *mirror) namesIn(place edit.Path) []string {
	names := m.refs(place)
	for _, from := range tapedFrom(m.writer, place) {
		switch strings.ToLower(from) {
		case "subject", "mark", "camera", "background":
		default:
			names = append(names, from)
		}
	}
	return names
}

// cutRef takes the name out of "under Key, 1.1 high".
func cutRef(text string) (before, name, after string) {
	first, rest, more := strings.Cut(text, ",")
	if more {
		after = "," + rest
	}
	low := strings.ToLower(strings.TrimLeft(first, " "))
	for _, word := range []string{"under ", "over "} {
		if strings.HasPrefix(low, word) {
			lead := len(first) - len(low) + len(word)
			name = strings.TrimSpace(first[lead:])
			return first[:lead], name, after
		}
	}
	return "", "", ""
}

// place turns a place in any of its forms.
func (m *mirror) place(p edit.Path, item string) {
	if text, ok := m.src.Text(p); ok {
		m.put(p, item, flipPlace(text))
		return
	}
	if !m.src.Has(p) {
		return
	}
	from := m.text(p)
	key := func(k string) edit.Path { return p.With(k) }
	for _, k := range []string{"left", "right"} {
		if text, ok := m.src.Text(key(k)); ok {
			if v, err := setup.ParseLength(text, m.s.Units); err != nil || v != 0 {
				m.do(m.src.Rename(key(k), other(k)))
			}
			break
		}
	}
	for _, k := range []string{"angle", "side"} {
		if text, ok := m.src.Text(key(k)); ok {
			m.do(m.src.Set(key(k), flipSide(text)))
		}
	}
	if text, ok := m.src.Text(key("clock")); ok {
		m.do(m.src.Set(key("clock"), flipClock(text)))
	}
	m.note(p, item, otherSide, from, m.text(p))
}

// side turns a text in which left and right are words.
func (m *mirror) side(p edit.Path, item string) {
	if text, ok := m.src.Text(p); ok {
		m.put(p, item, flipSide(text))
	}
}

// swapTwo changes the two values of a pair about.
func (m *mirror) swapTwo(p edit.Path, item string) {
	if text, ok := m.src.Text(p); ok {
		if a, b, two := strings.Cut(text, ", "); two {
			m.put(p, item, b+", "+a)
		} else if a, b, two := strings.Cut(text, ","); two && p[len(p)-1] == "outlet" {
			m.put(p, item, strings.TrimSpace(b)+","+strings.TrimSpace(a))
		}
		return
	}
	first, second := p.With("0"), p.With("1")
	a, okA := m.src.Text(first)
	b, okB := m.src.Text(second)
	if okA && okB && a != b {
		from := m.text(p)
		m.do(m.src.Set(first, b))
		m.do(m.src.Set(second, a))
		m.note(p, item, otherSide, from, m.text(p))
	}
}

// room changes the walls at the sides about.
func (m *mirror) room() {
	left, right := edit.Path{"room", "left"}, edit.Path{"room", "right"}
	a, okA := m.src.Text(left)
	b, okB := m.src.Text(right)
	switch {
	case okA && okB:
		m.put(left, "room", b)
		m.put(right, "room", a)
	case okA:
		m.do(m.src.Rename(left, "right"))
		m.note(right, "room", otherSide, "", a)
		m.note(left, "room", otherSide, a, "")
	case okB:
		m.do(m.src.Rename(right, "left"))
		m.note(left, "room", otherSide, "", b)
		m.note(right, "room", otherSide, b, "")
	}
}
