package edit

import (
	"strings"

	"gopkg.in/yaml.v3"

	"stopleaf/setup"
)

// replace puts content in the place of the last node found.
func (s *Source) replace(f found, c content) error {
	t, n := s.now, f.last()
	at := t.at[n]
	flow := t.flow(at.start) || t.flow(at.end)
	key := f.key()
	switch {
	case at.start == at.end && at.props == at.start: // nothing stands there
		out := " " + c.write(0, flow)
		if key != nil && t.pairs[key].colon < 0 {
			out = ":" + out
		}
		return s.line(cut{at.end, at.end, out})
	case n.Kind == yaml.ScalarNode && n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0 && c.node == nil:
		return s.replaceBlock(at, n, c.text)
	case n.Kind != yaml.ScalarNode && n.Kind != yaml.AliasNode && !t.bracketed(n) && key != nil && t.line(t.pairs[key].colon) < t.line(at.start):
		return s.unfold(f, c.write(0, false))
	}
	had := n.Style
	if n.Kind != yaml.ScalarNode {
		had = 0
	}
	out := c.write(had, flow)
	if was, ok := s.asOpened(f.path, c); ok {
		out = was
	}
	return s.line(cut{at.start, at.end, out})
}

// asOpened is how a text stood in the file as it was opened, at the same path.
func (s *Source) asOpened(p Path, c content) (string, bool) {
	f, err := (&Source{file: s.file, now: s.first}).find(p)
	if err != nil || c.node != nil || !f.whole() || f.last().Kind != yaml.ScalarNode || f.last().Value != c.text || isNull(f.last()) {
		return "", false
	}
	at := s.first.at[f.last()]
	return string(s.first.plain[at.start:at.end]), at.start < at.end
}

// bracketed reports whether a node stands in braces or brackets of its own.
func (t *text) bracketed(n *yaml.Node) bool {
	return n.Style&yaml.FlowStyle != 0 && strings.IndexByte("{[", t.plain[t.at[n].start]) >= 0
}

// replaceBlock writes a text after "|" or ">" anew, indented as the old one.
func (s *Source) replaceBlock(at span, n *yaml.Node, text string) error {
	t := s.now
	head := lineEnd(t.plain, at.start)
	mark := len(header(t.plain[at.start:head]))
	first := strings.TrimLeft(string(t.plain[min(head, len(t.plain)):at.end]), "\n")
	indent := first[:len(first)-len(strings.TrimLeft(first, " "))]
	if indent == "" {
		indent = strings.Repeat(" ", len(t.indent(at.start))+2)
	}
	out, ok := blockText(text, n.Style, indent)
	if !ok {
		return s.splice(cut{at.start, at.end, setup.Quoted(text)})
	}
	out, below, _ := strings.Cut(out, "\n")
	return s.splice(cut{at.start, at.start + mark, out}, cut{head, at.end, "\n" + below})
}

// indent is the white space that a line begins with.
func (t *text) indent(at int) string {
	from := lineStart(t.plain, at)
	line := t.plain[from:lineEnd(t.plain, at)]
	return string(line[:len(line)-len(strings.TrimLeft(string(line), " "))])
}

// unfold puts a text behind a key in the place of the lines below it.
func (s *Source) unfold(f found, out string) error {
	t, n := s.now, f.last()
	at := t.at[n]
	colon := t.pairs[f.key()].colon + 1
	from, to := lineStart(t.plain, at.start), lineEnd(t.plain, at.end)
	if to < len(t.plain) {
		to++
	} else {
		from--
	}
	if at.props < at.start && at.props >= colon { // "&name" behind the key
		return s.splice(cut{colon, at.props, " "}, cut{at.props, at.props, out + " "}, cut{from, to, ""})
	}
	if from < colon {
		return s.splice(cut{colon, at.end, " " + out})
	}
	return s.splice(cut{colon, colon, " " + out}, cut{from, to, ""})
}

// insert adds a key to the last mapping found, behind the pair of that index, or
// at its end for -1.
func (s *Source) insert(f found, behind int, name string, c content) error {
	t, n := s.now, follow(f.last())
	if behind < 0 {
		behind = len(n.Content)/2 - 1
	}
	switch {
	case t.bracketed(n):
		return s.insertFlow(n, behind, scalar(name, 0, true)+": "+c.write(0, true))
	case n.Style&yaml.FlowStyle != 0:
		return s.fail(n, "cannot-edit", "put it in braces", "a key cannot be added to a mapping without braces in a list")
	case t.pairs[n.Content[0]].asked || t.pairs[n.Content[2*behind]].asked:
		return s.fail(n, "question", "write key: value", "a key cannot be added to a mapping whose keys begin with \"? \"")
	}
	first := t.pairs[n.Content[0]].start
	indent := strings.Repeat(" ", t.columnOf(first))
	_, end := t.member(n, behind)
	end = lineEnd(t.plain, end)
	return s.splice(cut{end, end, "\n" + indent + scalar(name, 0, false) + ": " + c.write(0, false)})
}

// insertFlow adds a pair within braces behind another; where that has a line of
// its own, on a line of its own.
func (s *Source) insertFlow(n *yaml.Node, behind int, out string) error {
	t := s.now
	at := t.at[n]
	if len(n.Content) == 0 {
		return s.line(cut{at.start + 1, at.end - 1, out})
	}
	first, end := t.member(n, behind)
	line := lineEnd(t.plain, end)
	alone := strings.TrimSpace(string(t.plain[lineStart(t.plain, first):first])) == ""
	left := strings.TrimSpace(string(t.plain[end:line]))
	own := "\n" + t.indent(first) + out
	switch {
	case !alone || t.line(at.end) == t.line(end):
	case strings.HasPrefix(left, ","):
		if rest := strings.TrimSpace(left[1:]); rest == "" || rest[0] == '#' {
			return s.splice(cut{line, line, own + ","})
		}
	case left == "" || left[0] == '#':
		return s.line(cut{end, end, ","}, cut{line, line, own})
	}
	return s.line(cut{end, end, ", " + out})
}

// setBehind is Set that adds a key behind another of its mapping.
func (s *Source) setBehind(p Path, behind, text string) error {
	up := p[:len(p)-1]
	return s.change(p, true, func(f found, v *value) (func(found) error, error) {
		at := -1
		if n := follow(f.last()); behind != "" {
			var err error
			if at, err = s.keyOf(n, behind); err != nil {
				return nil, err
			}
		}
		if f.whole() || at < 0 {
			return nil, s.put(p, content{text: text})
		}
		m := v.at(f.steps)
		m.keys = append(m.keys[:at+1:at+1], append([]value{textValue(p[len(up)])}, m.keys[at+1:]...)...)
		m.items = append(m.items[:at+1:at+1], append([]value{textValue(text)}, m.items[at+1:]...)...)
		return func(f found) error { return s.insert(f, at, p[len(up)], content{text: text}) }, nil
	})
}
