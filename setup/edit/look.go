package edit

import (
	"strings"

	"gopkg.in/yaml.v3"
)

// Flow gives what stands at a path on one line, aliases written out, comments
// left away; "" for nothing.
func (s *Source) Flow(p Path) string {
	f, err := s.find(p)
	if err != nil || !f.whole() || isNull(follow(f.last())) {
		return ""
	}
	return flowText(f.last())
}

// Keys gives the keys of the mapping at a path, as they are written.
func (s *Source) Keys(p Path) (keys []string) {
	f, err := s.find(p)
	if err != nil || !f.whole() {
		return nil
	}
	n := follow(f.last())
	for i := 0; n.Kind == yaml.MappingNode && i+1 < len(n.Content); i += 2 {
		keys = append(keys, follow(n.Content[i]).Value)
	}
	return keys
}

// Len is how many items the list at a path has; 0 for what is no list.
func (s *Source) Len(p Path) int {
	f, err := s.find(p)
	if err != nil || !f.whole() {
		return 0
	}
	if n := follow(f.last()); n.Kind == yaml.SequenceNode {
		return len(n.Content)
	}
	return 0
}

// With is a path to what is under it.
func (p Path) With(keys ...string) Path { return append(p[:len(p):len(p)], keys...) }

// Comment puts a comment behind the line that a value ends on, where none stands.
func (s *Source) Comment(p Path, text string) error {
	return s.change(p, false, func(f found, _ *value) (func(found) error, error) {
		if err := s.mustBe(f); err != nil {
			return nil, err
		}
		return func(f found) error {
			t := s.now
			from := t.at[f.last()].end
			end := lineEnd(t.plain, from)
			if t.comment(from) >= 0 {
				return nil
			}
			at := from + len(strings.TrimRight(string(t.plain[from:end]), " \t"))
			return s.splice(cut{at, end, "  # " + plainComment(text)})
		}, nil
	})
}
