package adapt

import (
	"strings"

	"stopleaf/setup/edit"
	"stopleaf/setup/grammar"
)

// newNames works out what every item is called after: one with a side in its name
// after the other side, and L of a pair R.
func (m *mirror) newNames() {
	for i := range m.s.Lights {
		l := &m.s.Lights[i]
		if l.Pair == nil {
			m.becomes(l.Name, flipName(l.Name))
			continue
		}
		of, side := flipName(l.Pair.Of), l.Pair.Side
		if m.changesAbout(m.item("lights", m.index(i))) {
			side = other(side)
		}
		m.becomes(l.Pair.Of, of)
		m.becomes(l.Name, of+" "+side)
	}
	for i := range m.s.Grip {
		m.becomes(m.s.Grip[i].Name, flipName(m.s.Grip[i].Name))
	}
}

func (m *mirror) becomes(was, now string) {
	if was != now {
		m.names[strings.ToLower(was)] = now
	}
}

// after gives the name that a written one becomes.
func (m *mirror) after(name string) string {
	if now, ok := m.names[strings.ToLower(strings.TrimSpace(name))]; ok {
		return now
	}
	return name
}

// rename writes the names of the items themselves.
func (m *mirror) rename() {
	for list, names := range map[string][]string{"lights": m.writer.names("lights"), "grip": m.writer.names("grip")} {
		for i := range names {
			m.ref(m.item(list, i, "name"), names[i])
		}
	}
}

// ref writes the name that a text becomes.
func (m *mirror) ref(p edit.Path, item string) {
	if text, ok := m.src.Text(p); ok {
		m.put(p, item, m.after(text))
	}
}

// references writes new names wherever the file calls an item.
func (m *mirror) references() {
	if len(m.names) == 0 {
		return
	}
	m.ref(edit.Path{"exposure", "zero"}, "exposure")
	for i, name := range m.writer.names("lights") {
		p := m.item("lights", i)
		m.ref(p.With("lit by"), name)
		m.placeRefs(p.With("place"), name)
		m.placeRefs(p.With("stand", "base"), name)
		aim, ok := m.src.Text(p.With("aim"))
		switch {
		case !ok || isPlace(aim):
			m.placeRefs(p.With("aim"), name)
		case !isPart(aim):
			m.ref(p.With("aim"), name)
		}
	}
	for i, name := range m.writer.names("grip") {
		m.placeRefs(m.item("grip", i, "place"), name)
		m.placeRefs(m.item("grip", i, "stand", "base"), name)
	}
	for i := range m.s.Looks {
		m.lookRefs(m.item("looks", i))
	}
}

func isPart(aim string) bool {
	for _, part := range append([]string{"background"}, grammar.Parts...) {
		if grammar.Canonical(part) == grammar.Canonical(aim) {
			return true
		}
	}
	return false
}

func (m *mirror) placeRefs(p edit.Path, item string) {
	if text, ok := m.src.Text(p); ok {
		if before, name, rest := cutRef(text); name != "" {
			m.put(p, item, before+m.after(name)+rest)
		}
		return
	}
	m.ref(p.With("under"), item)
	m.ref(p.With("over"), item)
	m.keys(p.With("tape"), item)
}

// lookRefs writes the names in a look: a list, a text with commas, or keys.
func (m *mirror) lookRefs(p edit.Path) {
	off := p.With("off")
	if text, ok := m.src.Text(off); ok {
		names := strings.Split(text, ",")
		for i, n := range names {
			lead := n[:len(n)-len(strings.TrimLeft(n, " "))]
			names[i] = lead + m.after(strings.TrimSpace(n))
		}
		m.put(off, "looks", strings.Join(names, ","))
	}
	for i := range m.src.Len(off) {
		m.ref(off.With(itoa(i)), "looks")
	}
	m.keys(p.With("delta"), "looks")
}

// keys renames the keys of a mapping of names; two may change about.
func (m *mirror) keys(p edit.Path, item string) {
	from := m.text(p)
	var held []string
	for _, key := range m.src.Keys(p) {
		if now := m.after(key); now != key {
			held = append(held, now)
			m.do(m.src.Rename(p.With(key), "renamed "+itoa(len(held))))
		}
	}
	for i, now := range held {
		m.do(m.src.Rename(p.With("renamed "+itoa(i+1)), now))
	}
	if len(held) > 0 {
		m.note(p, item, otherSide, from, m.text(p))
	}
}
