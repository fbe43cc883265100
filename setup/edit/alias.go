package edit

import (
	"gopkg.in/yaml.v3"
)

// untie makes one change that a path with aliases or anchors on it needs before
// what it leads to can be changed: an alias on the way is written out where it
// stands, and an anchor that is used elsewhere goes on to the first that uses it.
// over says that what the path leads to is replaced whole, or taken out. It gives
// whether there was something to do; the path is then to be found anew.
func (s *Source) untie(f found, over bool) (bool, error) {
	uses := anchorUses(s.now.root)
	for i, n := range f.nodes {
		target := over && f.whole() && i == len(f.nodes)-1
		if n.Kind == yaml.AliasNode {
			if target {
				return false, nil
			}
			return true, s.splice(s.now.writeOut(n, ""))
		}
		if len(uses[n]) > 0 {
			return true, s.passOn(n, uses[n])
		}
		if target {
			if inner := usedInside(n, uses); inner != nil {
				return true, s.passOn(inner, uses[inner])
			}
		}
	}
	return false, nil
}

// usedInside is an anchored node inside another that is used.
func usedInside(n *yaml.Node, uses map[*yaml.Node][]*yaml.Node) *yaml.Node {
	for _, c := range n.Content {
		if len(uses[c]) > 0 {
			return c
		}
		if inner := usedInside(c, uses); inner != nil {
			return inner
		}
	}
	return nil
}

// anchorUses are the aliases of each anchored node, in the order of the file.
func anchorUses(root *yaml.Node) map[*yaml.Node][]*yaml.Node {
	uses := map[*yaml.Node][]*yaml.Node{}
	var walk func(n *yaml.Node)
	walk = func(n *yaml.Node) {
		if n.Kind == yaml.AliasNode {
			uses[n.Alias] = append(uses[n.Alias], n)
		}
		for _, c := range n.Content {
			walk(c)
		}
	}
	walk(root)
	return uses
}

// passOn takes an anchor away from its node, and gives it with the node's value
// to the first alias that uses it.
func (s *Source) passOn(n *yaml.Node, uses []*yaml.Node) error {
	anchor := ""
	if len(uses) > 1 {
		anchor = "&" + n.Anchor + " "
	}
	return s.splice(s.now.withoutAnchor(n), s.now.writeOut(uses[0], anchor))
}

// withoutAnchor cuts "&name" and the white space after it.
func (t *text) withoutAnchor(n *yaml.Node) cut {
	at := t.at[n]
	from := at.props
	for from < at.start && t.plain[from] != '&' {
		from++
	}
	to := from + 1 + len(n.Anchor)
	for to < at.start && (t.plain[to] == ' ' || t.plain[to] == '\t') {
		to++
	}
	if at.start == at.end { // nothing is anchored
		to = at.start
	}
	if from > 0 && t.plain[from-1] == ' ' && to < len(t.plain) && t.plain[to] == '\n' {
		from--
	}
	return cut{from, to, ""}
}

// writeOut puts what an alias stands for in its place.
func (t *text) writeOut(alias *yaml.Node, anchor string) cut {
	at := t.at[alias]
	n := follow(alias)
	out := flowText(n)
	if own := t.at[n]; n.Kind == yaml.ScalarNode && n.Style&(quotes&^yaml.LiteralStyle&^yaml.FoldedStyle) == 0 && plainHolds(n.Value, false) && !t.flow(at.start) {
		out = n.Value // a comma needs no quotes here
	} else if n.Kind == yaml.ScalarNode && t.line(own.start) == t.line(own.end) && n.Style&quotes != 0 {
		out = string(t.plain[own.start:own.end])
	}
	return cut{at.start, at.end, anchor + out}
}

// flow reports whether a byte stands within braces or brackets.
func (t *text) flow(at int) bool {
	for n, s := range t.at {
		if n.Style&yaml.FlowStyle != 0 && s.start < at && at < s.end {
			return true
		}
	}
	return false
}

// anchorsUsed counts the anchors by name that some alias uses.
func anchorsUsed(root *yaml.Node) map[string]bool {
	used := map[string]bool{}
	for n := range anchorUses(root) {
		used[n.Anchor] = true
	}
	return used
}

// dropAnchors takes out the anchors that were used before the edit and no longer
// are: package setup warns of an idle anchor.
func (s *Source) dropAnchors(used map[string]bool) error {
	for {
		uses := anchorUses(s.now.root)
		idle := s.now.firstIdle(s.now.root, func(n *yaml.Node) bool { return used[n.Anchor] && len(uses[n]) == 0 })
		if idle == nil {
			return nil
		}
		if err := s.splice(s.now.withoutAnchor(idle)); err != nil {
			return err
		}
	}
}

func (t *text) firstIdle(n *yaml.Node, idle func(*yaml.Node) bool) *yaml.Node {
	if n.Kind == yaml.AliasNode {
		return nil
	}
	if n.Anchor != "" && idle(n) {
		return n
	}
	for _, c := range n.Content {
		if found := t.firstIdle(c, idle); found != nil {
			return found
		}
	}
	return nil
}
