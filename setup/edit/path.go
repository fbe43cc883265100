package edit

import (
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"stopleaf/setup"
	"stopleaf/setup/grammar"
)

// found is how far a path leads in the file.
type found struct {
	path  Path
	nodes []*yaml.Node // as they stand in the file, aliases too; the file itself first
	steps []int        // which pair of a mapping, or which item of a list
}

func (f found) whole() bool      { return len(f.steps) == len(f.path) }
func (f found) last() *yaml.Node { return f.nodes[len(f.nodes)-1] }

// parent is the mapping or list that the last node found stands in.
func (f found) parent() *yaml.Node { return follow(f.nodes[len(f.nodes)-2]) }

// key is the key of the last node found; nil for an item of a list.
func (f found) key() *yaml.Node {
	if p := f.parent(); p.Kind == yaml.MappingNode {
		return p.Content[2*f.steps[len(f.steps)-1]]
	}
	return nil
}

// find follows a path as far as it leads. The error says what stands in its
// way; a key that is not there is none.
func (s *Source) find(p Path) (found, error) {
	f := found{path: p, nodes: []*yaml.Node{s.now.root}}
	for _, name := range p {
		n := follow(f.last())
		step, next := -1, (*yaml.Node)(nil)
		var err error
		switch n.Kind {
		case yaml.MappingNode:
			if step, err = s.keyOf(n, name); step >= 0 {
				next = n.Content[2*step+1]
			}
		case yaml.SequenceNode:
			if step = itemOf(n, name); step >= 0 {
				next = n.Content[step]
			}
		}
		if err != nil || step < 0 {
			return f, err
		}
		f.steps, f.nodes = append(f.steps, step), append(f.nodes, next)
	}
	return f, nil
}

// keyOf gives which pair of a mapping has the key, -1 for none. Letter for letter
// comes before what means the same, for keys that are names.
func (s *Source) keyOf(n *yaml.Node, name string) (int, error) {
	for _, same := range []func(a, b string) bool{strings.EqualFold, grammar.SameKey} {
		step := -1
		for i := 0; i+1 < len(n.Content); i += 2 {
			k := follow(n.Content[i])
			switch {
			case k.Kind != yaml.ScalarNode || isNull(k) || !same(strings.TrimSpace(k.Value), strings.TrimSpace(name)):
			case step >= 0:
				return -1, s.fail(n.Content[i], "key-twice", "take one out", "%q is given twice, first in line %d", k.Value, n.Content[2*step].Line)
			default:
				step = i / 2
			}
		}
		if step >= 0 {
			return step, nil
		}
	}
	return -1, nil
}

// itemOf gives which item of a list has the name, or the index; -1 for none.
func itemOf(n *yaml.Node, name string) int {
	name = strings.TrimSpace(name)
	for i, called := range itemNames(n) {
		if called != "" && strings.EqualFold(called, name) {
			return i
		}
	}
	if i, err := strconv.Atoi(name); err == nil && i >= 0 && i < len(n.Content) && strconv.Itoa(i) == name {
		return i
	}
	return -1
}

// itemNames are the names of a list's items; those of items without one as package
// setup makes them of role or kind.
func itemNames(n *yaml.Node) []string {
	names, used := make([]string, len(n.Content)), map[string]bool{}
	for i, c := range n.Content {
		names[i] = strings.Join(strings.Fields(scalarOf(c, "name")), " ")
		used[strings.ToLower(names[i])] = true
	}
	for i, c := range n.Content {
		if names[i] != "" {
			continue
		}
		if role := scalarOf(c, "role", "kind"); role != "" {
			names[i] = setup.DefaultName(role, used)
		}
	}
	return names
}

// scalarOf is the text under the first of the keys that a mapping has.
func scalarOf(n *yaml.Node, keys ...string) string {
	n = follow(n)
	for _, key := range keys {
		for i := 0; n.Kind == yaml.MappingNode && i+1 < len(n.Content); i += 2 {
			k, v := follow(n.Content[i]), follow(n.Content[i+1])
			if k.Kind == yaml.ScalarNode && grammar.Canonical(k.Value) == key && v.Kind == yaml.ScalarNode && !isNull(v) {
				return strings.TrimSpace(v.Value)
			}
		}
	}
	return ""
}

// PathAt is the path of what stood at a line and column of the file as it was
// opened, where a value or an item of a list begins: setup's Where leads to its
// item so. Indexes take the place of names. It holds while no item before it is
// taken out.
func (s *Source) PathAt(line, col int) (Path, bool) {
	var walk func(n *yaml.Node, p Path) (Path, bool)
	walk = func(n *yaml.Node, p Path) (Path, bool) {
		if n.Line == line && n.Column == col && len(p) > 0 {
			return p, true
		}
		for i, c := range n.Content {
			step := ""
			switch {
			case n.Kind == yaml.SequenceNode:
				step = stepTo(n, i)
			case i%2 == 0:
				continue
			default:
				step = n.Content[i-1].Value
			}
			if q, ok := walk(c, append(p[:len(p):len(p)], step)); ok {
				return q, true
			}
		}
		return nil, false
	}
	return walk(s.first.root, nil)
}

// stepTo is the index of an item, or its name where another item is called by that
// figure.
func stepTo(n *yaml.Node, i int) string {
	step := strconv.Itoa(i)
	names := itemNames(n)
	for k, name := range names {
		if k != i && name == step {
			return names[i]
		}
	}
	return step
}
