package edit

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"stopleaf/setup"
)

// content is what is to stand in a place.
type content struct {
	text string     // a scalar, not yet quoted
	node *yaml.Node // or YAML, read ...
	yaml string     // ... and as it is to be written
}

func (c content) value() value {
	if c.node != nil {
		return valueOf(c.node)
	}
	return textValue(c.text)
}

// write puts it on one line.
func (c content) write(had yaml.Style, flow bool) string {
	if c.node == nil {
		return scalar(c.text, had, flow)
	}
	return c.yaml
}

// Set puts a scalar in the place of what stands at the path, in its quotes, or
// in quotes only where YAML needs them. A key that is not there is added at the end
// of its mapping, in the mapping's own style; parents that are not there are made.
// A comment behind the value stays, in its column where it can. An alias is
// replaced where it is used; an anchor that others use goes on to the next of them.
// On an error nothing is changed.
func (s *Source) Set(p Path, text string) error {
	if !utf8.ValidString(text) {
		return problem(s.file, 0, 0, "not-utf8", fmt.Sprintf("what is to be written as %s is not UTF-8", p), "")
	}
	return s.put(p, content{text: text})
}

// SetYAML is Set with a value that is YAML itself: "{angle: 30 left, distance:
// 1.2}" or "[f/4, f/5.6]". It is written as it is given where it is a mapping in
// braces or a list in brackets on one line, and else on one line so.
func (s *Source) SetYAML(p Path, text string) error {
	n, problems := setup.Document(s.file, []byte(text))
	if problems != nil {
		return problem(s.file, 0, 0, "bad-value", fmt.Sprintf("what is to be written as %s is no YAML value: %s", p, problems[0].Message), "")
	}
	if n.Kind == yaml.ScalarNode && !isNull(n) && n.Anchor == "" && n.Style&yaml.TaggedStyle == 0 {
		return s.put(p, content{text: n.Value})
	}
	c := content{node: n, yaml: strings.TrimSpace(text)}
	bracketed := strings.HasPrefix(c.yaml, "{") && strings.HasSuffix(c.yaml, "}") || strings.HasPrefix(c.yaml, "[") && strings.HasSuffix(c.yaml, "]")
	if strings.Contains(c.yaml, "\n") || !bracketed || !plainTree(n) {
		c.yaml = flowText(n)
	}
	return s.put(p, c)
}

// plainTree reports whether nothing in a value has an anchor, a tag, an alias or
// a comment.
func plainTree(n *yaml.Node) bool {
	if n.Anchor != "" || n.Kind == yaml.AliasNode || n.Style&yaml.TaggedStyle != 0 || n.HeadComment != "" || n.LineComment != "" || n.FootComment != "" {
		return false
	}
	for _, c := range n.Content {
		if !plainTree(c) {
			return false
		}
	}
	return true
}

func (p Path) String() string { return strings.Join(p, ", ") }

// put is Set with any content.
func (s *Source) put(p Path, c content) error {
	return s.change(p, true, func(f found, v *value) (func(found) error, error) {
		if f.whole() {
			target := v.at(f.steps)
			if target.equal(c.value()) {
				return nil, nil
			}
			*target = c.value()
			return func(f found) error { return s.replace(f, c) }, nil
		}
		at := v.at(f.steps)
		rest := p[len(f.steps):]
		n := follow(f.last())
		switch {
		case n.Kind == yaml.SequenceNode:
			return nil, s.fail(f.last(), "no-item", "the items of a list go by their names, or by 0, 1, 2", "there is no %q in this list", rest[0])
		case n.Kind == yaml.MappingNode:
			at.keys, at.items = append(at.keys, textValue(rest[0])), append(at.items, nested(rest[1:], c.value()))
			return func(f found) error { return s.insert(f, -1, rest[0], nestedContent(rest[1:], c)) }, nil
		case isNull(n):
			*at = nested(rest, c.value())
			return func(f found) error { return s.replace(f, nestedContent(rest, c)) }, nil
		}
		return nil, s.fail(f.last(), "no-keys", "", "%s is a text here, and has no %q in it", last(p[:len(f.steps)]), rest[0])
	})
}

func last(p Path) string {
	if len(p) == 0 {
		return "the file"
	}
	return fmt.Sprintf("%q", p[len(p)-1])
}

// nested is a value under keys that are not there yet.
func nested(keys []string, v value) value {
	for i := len(keys) - 1; i >= 0; i-- {
		v = value{kind: yaml.MappingNode, keys: []value{textValue(keys[i])}, items: []value{v}}
	}
	return v
}

func nestedContent(keys []string, c content) content {
	if len(keys) == 0 {
		return c
	}
	text, n := c.write(0, true), c.node
	if n == nil {
		n = &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: c.text, Style: yaml.DoubleQuotedStyle}
	}
	for i := len(keys) - 1; i >= 0; i-- {
		text = "{" + scalar(keys[i], 0, true) + ": " + text + "}"
		n = &yaml.Node{Kind: yaml.MappingNode, Content: []*yaml.Node{{Kind: yaml.ScalarNode, Tag: "!!str", Value: keys[i], Style: yaml.DoubleQuotedStyle}, n}}
	}
	return content{node: n, yaml: text}
}

// change makes one edit whole or not at all. plan changes the value that the file
// is to have, and gives what changes the text, nil for nothing. Then anchors and
// aliases on the way are untied, the text is changed, and read back.
func (s *Source) change(p Path, over bool, plan func(found, *value) (func(found) error, error)) (err error) {
	if len(p) == 0 {
		return problem(s.file, 0, 0, "no-path", "the file as a whole cannot be set", "")
	}
	before, moved := s.now, append([]column(nil), s.moved...)
	defer func() {
		if err != nil {
			s.now, s.moved = before, moved
		}
	}()
	f, err := s.find(p)
	if err != nil {
		return err
	}
	on, want := f.last(), valueOf(s.now.root)
	do, err := plan(f, &want)
	if err != nil || do == nil {
		return err
	}
	used := anchorsUsed(s.now.root)
	for {
		if f, err = s.find(p); err != nil {
			return err
		}
		again, err := s.untie(f, over)
		if err != nil {
			return err
		}
		if !again {
			break
		}
	}
	if err := s.writable(f); err != nil {
		return err
	}
	if err := do(f); err != nil {
		return err
	}
	if err := s.dropAnchors(used); err != nil {
		return err
	}
	if !valueOf(s.now.root).equal(want) {
		return s.fail(on, "cannot-edit", "write the value in a plainer way: key: value", "%s cannot be changed without changing something else", p)
	}
	return nil
}

// writable refuses what package setup refuses as well, and cannot be edited
// surely.
func (s *Source) writable(f found) error {
	for i, n := range f.nodes {
		if n.Style&yaml.TaggedStyle != 0 {
			return s.fail(n, "tag", "take it out", "the tag %q is not understood", n.Tag)
		}
		n = follow(n)
		if n.Kind != yaml.MappingNode || i == len(f.nodes)-1 && f.whole() {
			continue
		}
		for k := 0; k+1 < len(n.Content); k += 2 {
			if key := n.Content[k]; key.Value == "<<" && key.Tag == "!!merge" {
				return s.fail(key, "merge", "write the keys out, or let an alias stand for a whole value", "a merge key (<<) is not understood")
			}
		}
	}
	return nil
}

// splice puts a text in the place of a part of the file, and reads the file
// again. from and to count bytes of the plain text; line ends in the text become
// those of the file.
func (s *Source) splice(cuts ...cut) error {
	t := s.now
	end := lineEnding(t.src)
	var out []byte
	at := 0
	for _, c := range cuts {
		out = append(out, t.src[at:t.back[c.from]]...)
		out = append(out, strings.ReplaceAll(c.text, "\n", end)...)
		at = t.back[c.to]
	}
	out = append(out, t.src[at:]...)
	next, err := read(s.file, out)
	if err != nil {
		return problem(s.file, t.line(cuts[0].from), t.columnOf(cuts[0].from)+1, "cannot-edit", "this line cannot be changed: it would no longer be read", "")
	}
	s.now = next
	s.shift(cuts)
	return nil
}

// cut is one part of the plain text and what takes its place.
type cut struct {
	from, to int
	text     string
}

// line is the line that a byte of the plain text stands on, from 1.
func (t *text) line(at int) int { return 1 + strings.Count(string(t.plain[:at]), "\n") }

// lineEnding is what ends most lines of a file.
func lineEnding(src []byte) string {
	crlf := strings.Count(string(src), "\r\n")
	lf, cr := strings.Count(string(src), "\n")-crlf, strings.Count(string(src), "\r")-crlf
	switch {
	case crlf > 0 && crlf >= lf && crlf >= cr:
		return "\r\n"
	case cr > lf:
		return "\r"
	}
	return "\n"
}
