package edit

import (
	"strings"

	"gopkg.in/yaml.v3"

	"stopleaf/setup/grammar"
)

// Rename gives a value another key: delta becomes reading. It is an error where
// the mapping has that key already, or where nothing stands at the path.
func (s *Source) Rename(p Path, key string) error {
	return s.change(p, false, func(f found, v *value) (func(found) error, error) {
		if err := s.mustBe(f); err != nil {
			return nil, err
		}
		old := f.key()
		if old == nil {
			return nil, s.fail(f.last(), "no-key", "", "an item of a list has no key")
		}
		if old.Kind == yaml.AliasNode || old.Anchor != "" || old.Style&yaml.TaggedStyle != 0 {
			return nil, s.fail(old, "cannot-edit", "write the key out", "a key with an anchor, an alias or a tag cannot be renamed")
		}
		if old.Value == key {
			return nil, nil
		}
		if !grammar.SameKey(old.Value, key) {
			if i, err := s.keyOf(f.parent(), key); err != nil || i >= 0 {
				return nil, s.fail(old, "key-twice", "", "%q cannot be renamed: there is a %q already", old.Value, key)
			}
		}
		at := v.at(f.steps[:len(f.steps)-1])
		at.keys[f.steps[len(f.steps)-1]] = textValue(key)
		return func(f found) error {
			k := f.key()
			at := s.now.at[k]
			return s.line(cut{at.start, at.end, scalar(key, k.Style, s.now.flow(at.start))})
		}, nil
	})
}

func (s *Source) mustBe(f found) error {
	if f.whole() {
		return nil
	}
	return s.fail(f.last(), "not-there", "", "there is no %q here", f.path[len(f.steps)])
}

// Delete takes a key with its value, or an item of a list, out, with the comment
// behind it. Comments on lines of their own stay. What then is left empty stands as
// {} or [].
func (s *Source) Delete(p Path) error {
	return s.change(p, true, func(f found, v *value) (func(found) error, error) {
		if err := s.mustBe(f); err != nil {
			return nil, err
		}
		at, i := v.at(f.steps[:len(f.steps)-1]), f.steps[len(f.steps)-1]
		at.items = append(at.items[:i:i], at.items[i+1:]...)
		if at.kind == yaml.MappingNode {
			at.keys = append(at.keys[:i:i], at.keys[i+1:]...)
		}
		return s.remove, nil
	})
}

// member is where one pair or item of a mapping or list stands.
func (t *text) member(n *yaml.Node, i int) (from, to int) {
	if n.Kind == yaml.SequenceNode {
		c := n.Content[i]
		if dash, ok := t.dash[c]; ok {
			return dash, max(t.at[c].end, dash+1)
		}
		return t.at[c].props, t.at[c].end
	}
	k := n.Content[2*i]
	return t.pairs[k].start, max(t.at[n.Content[2*i+1]].end, t.at[k].end, t.pairs[k].colon+1)
}

func (s *Source) remove(f found) error {
	t, n, i := s.now, f.parent(), f.steps[len(f.steps)-1]
	count := len(n.Content)
	if n.Kind == yaml.MappingNode {
		count /= 2
	}
	from, to := t.member(n, i)
	switch {
	case t.bracketed(n):
		return s.removeFlow(n, i, count)
	case n.Style&yaml.FlowStyle != 0:
		return s.fail(n, "cannot-edit", "put it in braces", "a key cannot be taken out of a mapping without braces in a list")
	case count == 1:
		return s.empty(f, n)
	}
	start := lineStart(t.plain, from)
	if strings.TrimSpace(string(t.plain[start:from])) == "" { // on lines of its own
		end := lineEnd(t.plain, to)
		if end < len(t.plain) {
			return s.splice(cut{start, end + 1, ""})
		}
		return s.splice(cut{max(start-1, 0), end, ""})
	}
	// the first of an item, behind its "- "
	next, _ := t.member(n, i+1)
	if strings.TrimSpace(string(t.plain[to:next])) == "" {
		return s.splice(cut{from, next, ""})
	}
	between := strings.TrimLeft(string(t.plain[to:next]), " \t")
	if strings.HasPrefix(between, "#") { // its comment goes with it
		to = lineEnd(t.plain, to)
		if strings.TrimSpace(string(t.plain[to:next])) == "" {
			return s.splice(cut{from, next, ""})
		}
	}
	for from > 0 && t.plain[from-1] == ' ' {
		from--
	}
	return s.splice(cut{from, to, ""})
}

// empty writes {} or [] in the place of a mapping or list of which the last is
// taken out.
func (s *Source) empty(f found, n *yaml.Node) error {
	out := "{}"
	if n.Kind == yaml.SequenceNode {
		out = "[]"
	}
	up := found{path: f.path[:len(f.path)-1], nodes: f.nodes[:len(f.nodes)-1], steps: f.steps[:len(f.steps)-1]}
	if len(up.steps) == 0 {
		at := s.now.at[n]
		return s.splice(cut{at.start, at.end, out})
	}
	return s.replace(up, content{node: n, yaml: out})
}

// removeFlow takes a pair or item out of braces or brackets, with one comma.
func (s *Source) removeFlow(n *yaml.Node, i, count int) error {
	t := s.now
	from, to := t.member(n, i)
	blank := func(a, b int) bool { return strings.Trim(string(t.plain[a:b]), " \t\n,") == "" }
	switch {
	case count == 1 && blank(t.at[n].start+1, from) && blank(to, t.at[n].end-1):
		return s.line(cut{t.at[n].start + 1, t.at[n].end - 1, ""})
	case i+1 < count:
		next, _ := t.member(n, i+1)
		if blank(to, next) {
			return s.line(cut{from, next, ""})
		}
	case i > 0:
		if _, before := t.member(n, i-1); blank(before, from) {
			return s.line(cut{before, to, ""})
		}
	}
	if at := (&spanner{text: t}).blank(to); t.plain[at] == ',' { // a comment stands between
		return s.splice(cut{from, to, ""}, cut{at, at + 1, ""})
	}
	if i == 0 {
		return s.splice(cut{from, to, ""})
	}
	_, before := t.member(n, i-1)
	comma := (&spanner{text: t}).blank(before)
	return s.splice(cut{comma, comma + 1, ""}, cut{from, to, ""})
}

// Header puts comment lines before everything else: behind a byte order mark, and
// behind "---" where the file begins with it. A blank comment line parts them from
// a comment that was there.
func (s *Source) Header(lines ...string) {
	if len(lines) == 0 {
		return
	}
	var b strings.Builder
	for _, l := range strings.Split(strings.Join(lines, "\n"), "\n") {
		if l = plainComment(l); l == "" {
			b.WriteString("#\n")
		} else {
			b.WriteString("# " + l + "\n")
		}
	}
	at := s.now.top()
	if strings.HasPrefix(string(s.now.plain[at:]), "#") {
		b.WriteString("#\n")
	}
	want := valueOf(s.now.root)
	before := s.now
	if err := s.splice(cut{at, at, b.String()}); err != nil || !valueOf(s.now.root).equal(want) {
		s.now = before
	}
}

// plainComment is what of a text can stand in a comment.
func plainComment(text string) string {
	return strings.TrimRight(strings.Map(func(r rune) rune {
		if r == '\t' || !printable(r) {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(text, " ")), " ")
}

// top is where a header goes.
func (t *text) top() int {
	at := 0
	for line := 0; at < len(t.plain); line++ {
		end := min(lineEnd(t.plain, at)+1, len(t.plain))
		text := strings.TrimRight(string(t.plain[at:end]), " \t\n")
		if text == "---" || strings.HasPrefix(text, "--- #") {
			return end
		}
		if !strings.HasPrefix(text, "%") {
			return 0
		}
		at = end
	}
	return 0
}
