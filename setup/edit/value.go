package edit

import (
	"gopkg.in/yaml.v3"
)

// value is what a file says, without how it says it: aliases followed, styles
// and comments gone.
type value struct {
	kind  yaml.Kind
	text  string
	null  bool
	keys  []value // of a mapping
	items []value // of a list, or the values of a mapping
}

func valueOf(n *yaml.Node) value {
	n = follow(n)
	v := value{kind: n.Kind}
	switch n.Kind {
	case yaml.MappingNode:
		for i := 0; i+1 < len(n.Content); i += 2 {
			v.keys, v.items = append(v.keys, valueOf(n.Content[i])), append(v.items, valueOf(n.Content[i+1]))
		}
	case yaml.SequenceNode:
		for _, c := range n.Content {
			v.items = append(v.items, valueOf(c))
		}
	default:
		v.text, v.null = n.Value, isNull(n)
	}
	return v
}

func textValue(s string) value { return value{kind: yaml.ScalarNode, text: s} }

// at is the value that steps lead to.
func (v *value) at(steps []int) *value {
	for _, i := range steps {
		v = &v.items[i]
	}
	return v
}

func (v value) equal(w value) bool {
	if v.kind != w.kind || v.null != w.null || !v.null && v.text != w.text || len(v.keys) != len(w.keys) || len(v.items) != len(w.items) {
		return false
	}
	for i := range v.keys {
		if !v.keys[i].equal(w.keys[i]) {
			return false
		}
	}
	for i := range v.items {
		if !v.items[i].equal(w.items[i]) {
			return false
		}
	}
	return true
}
