package setup

import "strings"

// Without says what a canonical file leaves out, beside what is private.
type Without uint8

// What may be left out.
const (
	Nothing Without = 0
	Notes   Without = 1 << iota // the notes of the setup and of its items
)

// Canonical is the setup as one file that needs no other: what was written, in a
// fixed order and spelling, with the gear that is used and the settings of the
// house in it; without comments and without anything private. Read again it
// derives the same figures to the last digit, and it is its own canonical file.
// Photos are named, not held. A setup that did not come from a file gives "".
func (s *Setup) Canonical(without Without) []byte {
	if s.top == nil && s.canonical != nil && without != Nothing {
		again, problems := Parse(s.File, s.canonical, Options{NoPhotos: true, AllowOutside: true})
		if problems.HasErrors() {
			return nil
		}
		return again.Canonical(without)
	}
	if s.top == nil {
		return s.canonical
	}
	c := &canonical{without: without}
	for _, f := range c.fields(s.whole()) {
		c.key("", 0, f)
	}
	return []byte(c.b.String())
}

// whole is the file as written, with its code, its gear and its house.
func (s *Setup) whole() *written {
	out := *s.top
	put := func(name string, v *written) {
		var fields []field
		for _, f := range out.fields {
			if f.name != name {
				fields = append(fields, f)
			}
		}
		if out.fields = fields; v != nil {
			out.fields = append(out.fields, field{name: name, value: v})
		}
	}
	if s.Code != "" {
		put("code", &written{kind: isText, text: s.Code})
	}
	put("gear", s.gearInUse())
	if s.House != nil && s.House.top != nil && len(s.House.top.fields) > 0 {
		put("house", s.House.top)
	}
	return &out
}

// gearInUse is the gear as written, less what no light or grip item names; nil
// when nothing is left.
func (s *Setup) gearInUse() *written {
	if s.gearTop == nil {
		return nil
	}
	used := map[string]map[string]bool{"heads": {}, "packs": {}, "modifiers": {}, "stands": {}}
	add := func(list, name string) { used[list][strings.ToLower(name)] = true }
	for i := range s.Lights {
		l := &s.Lights[i]
		if l.Head != nil {
			add("heads", l.Head.Name)
		}
		if l.Modifier != nil {
			add("modifiers", l.Modifier.Gear)
		}
		if l.Stand != nil {
			add("stands", l.Stand.Name)
		}
	}
	for i := range s.Grip {
		if st := s.Grip[i].Stand; st != nil {
			add("stands", st.Name)
		}
	}
	for _, p := range s.Packs {
		add("packs", p.Name)
	}
	out := *s.gearTop
	out.fields = nil
	any := false
	for _, f := range s.gearTop.fields {
		names := used[f.name]
		switch {
		case f.value == nil:
		case f.name == "units":
			out.fields = append(out.fields, f)
		case names != nil:
			list := *f.value
			list.items = nil
			for _, item := range f.value.items {
				if names[strings.ToLower(line(item.get("name")))] {
					list.items = append(list.items, item)
				}
			}
			if len(list.items) > 0 {
				out.fields = append(out.fields, field{name: f.name, value: &list})
				any = true
			}
		}
	}
	if !any {
		return nil
	}
	return &out
}

// canonical writes values down again.
type canonical struct {
	b       strings.Builder
	without Without
}

// fields are the fields of a mapping that are to be written: in the order of
// the grammar, or as they stand where the keys are names.
func (c *canonical) fields(w *written) []field {
	if w.object == nil {
		return w.fields
	}
	var out []field
	for _, name := range w.object.Names() {
		left := name == "private" || c.without&Notes != 0 && (name == "note" || name == "notes")
		if left {
			continue
		}
		for _, f := range w.fields {
			if f.name == name && f.value != nil {
				out = append(out, f)
			}
		}
	}
	return out
}

// key writes a key and its value on lines of their own, after lead. What is a list
// of mappings, and what is not inside one, is spread out; the rest stays on one line.
func (c *canonical) key(lead string, indent int, f field) {
	v := f.value
	c.b.WriteString(lead + scalar(f.name, true) + ":")
	switch {
	case v.kind == isText:
		c.b.WriteString(" " + c.text(v.text, indent) + "\n")
	case v.kind == isMap && indent == 0 && len(c.fields(v)) > 0:
		c.b.WriteString("\n")
		for _, f := range c.fields(v) {
			c.key("  ", 1, f)
		}
	case v.kind == isList && indent <= 1 && len(v.items) > 0 && v.items[0].kind == isMap:
		c.b.WriteString("\n")
		for _, item := range v.items {
			c.item(indent+1, item)
		}
	default:
		c.b.WriteString(" ")
		c.flow(v)
		c.b.WriteString("\n")
	}
}

// item writes one member of a list: a mapping with each key on a line of its
// own, another value on one.
func (c *canonical) item(indent int, v *written) {
	lead := strings.Repeat("  ", indent) + "- "
	fields := c.fields(v)
	if len(fields) == 0 {
		c.b.WriteString(lead)
		c.flow(v)
		c.b.WriteString("\n")
	}
	for _, f := range fields {
		c.key(lead, indent+1, f)
		lead = strings.Repeat("  ", indent+1)
	}
}

// flow writes a value on one line.
func (c *canonical) flow(v *written) {
	switch v.kind {
	case isText:
		c.b.WriteString(scalar(v.text, true))
	case isList:
		c.b.WriteString("[")
		for i, item := range v.items {
			if i > 0 {
				c.b.WriteString(", ")
			}
			c.flow(item)
		}
		c.b.WriteString("]")
	default:
		c.b.WriteString("{")
		for i, f := range c.fields(v) {
			if i > 0 {
				c.b.WriteString(", ")
			}
			c.b.WriteString(scalar(f.name, true) + ": ")
			c.flow(f.value)
		}
		c.b.WriteString("}")
	}
}

// text is a text after a key on a line of its own: one of several lines is
// kept as such.
func (c *canonical) text(s string, indent int) string {
	if !strings.Contains(s, "\n") || !plainBlock(s) {
		return scalar(s, false)
	}
	pad := strings.Repeat("  ", indent+1)
	var b strings.Builder
	b.WriteString("|-")
	for _, l := range strings.Split(s, "\n") {
		b.WriteString("\n")
		if l != "" {
			b.WriteString(pad + l)
		}
	}
	return b.String()
}

// plainBlock reports whether a text of several lines can stand as they are.
func plainBlock(s string) bool {
	for _, r := range s {
		if r != '\n' && escaped(r) {
			return false
		}
	}
	for _, l := range strings.Split(s, "\n") {
		if strings.TrimRight(l, " ") != l {
			return false
		}
	}
	return true
}

// scalar is a text on one line, in quotes where YAML needs them; inside says that
// it stands in braces or brackets, or is a key.
func scalar(s string, inside bool) string {
	if plainScalar(s, inside) {
		return s
	}
	return Quoted(s)
}

// Quoted is a text in double quotes, as YAML reads it back.
func Quoted(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case escaped(r):
			b.WriteString(`\u` + hex4(r))
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// escaped reports whether a rune cannot stand in a file as it is.
func escaped(r rune) bool {
	return r < ' ' || r >= 0x7f && r <= 0xa0 || r == 0x2028 || r == 0x2029 || r == 0xfeff || r == 0xfffe || r == 0xffff
}

func hex4(r rune) string {
	const digits = "0123456789abcdef"
	return string([]byte{digits[r>>12&15], digits[r>>8&15], digits[r>>4&15], digits[r&15]})
}

// plainScalar reports whether a text means itself without quotes. It refuses
// more than YAML does.
func plainScalar(s string, inside bool) bool {
	if s == "" || s != strings.TrimSpace(s) {
		return false
	}
	switch strings.ToLower(s) {
	case "null", "~", "<<", "---", "...":
		return false
	}
	first := s[0]
	switch {
	case first >= 0x80 || first >= '0' && first <= '9' || first >= 'a' && first <= 'z' || first >= 'A' && first <= 'Z':
	case first == '(' || first == '/' || first == '+' || first == '.' || first == '=':
	case first == '-' && len(s) > 1 && s[1] >= '0' && s[1] <= '9':
	default:
		return false
	}
	for i, r := range s {
		switch {
		case escaped(r):
			return false
		case r == ':' && (inside || i+1 == len(s) || s[i+1] == ' '):
			return false
		case r == '#' && s[i-1] == ' ':
			return false
		case inside && strings.ContainsRune(",[]{}?\"'", r):
			return false
		}
	}
	return true
}
