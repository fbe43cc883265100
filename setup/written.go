package setup

import (
	"fmt"
	"strings"

	"gopkg.in/yaml.v3"

	"stopleaf/setup/grammar"
)

// written is one value as it stands in the file: checked against the grammar
// (keys, spelling, shape), not yet understood.
type written struct {
	pos    Pos
	kind   writtenKind
	text   string // isText
	quoted bool
	items  []*written // isList; an item that was wrong is left out ...
	whole  bool       // ... and none was
	fields []field    // isMap, in the file's order
	object *grammar.Object
}

type writtenKind uint8

const (
	isText writtenKind = iota + 1
	isList
	isMap
)

type field struct {
	name  string // canonical; as written in a mapping of names
	pos   Pos
	value *written // nil when it was wrong
}

// get gives the value of a key; nil when it is not there, or was wrong.
func (w *written) get(name string) *written {
	if w == nil {
		return nil
	}
	for _, f := range w.fields {
		if f.name == name {
			return f.value
		}
	}
	return nil
}

// has reports whether a key is there, rightly written or not.
func (w *written) has(name string) bool {
	if w == nil {
		return false
	}
	for _, f := range w.fields {
		if f.name == name {
			return true
		}
	}
	return false
}

// where gives the places of a mapping and of its keys.
func (w *written) where() Where {
	if w == nil {
		return Where{}
	}
	out := Where{Item: w.pos}
	if len(w.fields) > 0 {
		out.Keys = make(map[string]Pos, len(w.fields))
	}
	for _, f := range w.fields {
		out.Keys[f.name] = f.pos
	}
	return out
}

// add takes in the places of the keys of a mapping inside this one, where this
// one has no key of that name: "height to" of a light's place.
func (w *Where) add(inner *written) {
	if inner == nil || w.Keys == nil {
		return
	}
	for _, f := range inner.fields {
		if _, own := w.Keys[f.name]; !own {
			w.Keys[f.name] = f.pos
		}
	}
}

// keyPos gives the place of a key, or of the whole mapping.
func (w *written) keyPos(name string) Pos {
	for _, f := range w.fields {
		if f.name == name {
			return f.pos
		}
	}
	return w.pos
}

// log collects problems, each once: an alias shows the same text twice.
type log struct {
	problems Problems
	seen     map[string]bool
}

func (l *log) add(p Problem) {
	id := p.Pos.String() + "\x00" + p.Message
	if l.seen[id] {
		return
	}
	if l.seen == nil {
		l.seen = map[string]bool{}
	}
	l.seen[id] = true
	l.problems = append(l.problems, p)
}

func (l *log) err(at Pos, code, message, hint string) {
	l.add(Problem{Pos: at, Level: Error, Code: code, Message: message, Hint: hint})
}

func (l *log) warn(at Pos, code, message, hint string) {
	l.add(Problem{Pos: at, Level: Warning, Code: code, Message: message, Hint: hint})
}

// writer reads nodes into written values.
type writer struct {
	*log
	file string
	top  string // the object that the file is, for hints
}

func (w writer) pos(n *yaml.Node) Pos { return Pos{w.file, n.Line, n.Column} }

// mapping reads a node that must be a mapping of the object's keys; nil when it
// is not one.
func (w writer) mapping(n *yaml.Node, o *grammar.Object, called string) *written {
	n = followed(n)
	if n.Kind != yaml.MappingNode {
		w.err(w.pos(n), "wrong-shape", fmt.Sprintf("%s is %s, not keys and values", called, shapeOf(n)),
			"allowed: "+strings.Join(o.Names(), ", "))
		return nil
	}
	w.tag(n)
	out := &written{pos: w.pos(n), kind: isMap, object: o}
	first := map[string]Pos{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		keyNode, valueNode := n.Content[i], followed(n.Content[i+1])
		name := canonicalKey(keyNode)
		at := w.pos(keyNode)
		key := o.Key(name)
		if key == nil {
			w.unknownKey(o, n, i, called)
			continue
		}
		if before, twice := first[key.Name]; twice {
			w.err(at, "key-twice", fmt.Sprintf("%q is given twice in %s", key.Name, called),
				fmt.Sprintf("the first stands in line %d; take one out", before.Line))
			continue
		}
		first[key.Name] = at
		if isNull(valueNode) {
			hint := ""
			if keyNode.LineComment != "" || valueNode.LineComment != "" {
				hint = "a \"#\" begins a comment: put the value in quotes if it begins so"
			}
			w.warn(at, "no-value", fmt.Sprintf("%q has no value, and is taken as not written", key.Name), hint)
			continue
		}
		out.fields = append(out.fields, field{key.Name, at, w.value(valueNode, key, fmt.Sprintf("%q", key.Name))})
	}
	return out
}

// value reads what stands under a key.
func (w writer) value(n *yaml.Node, k *grammar.Key, called string) *written {
	w.tag(n)
	at := w.pos(n)
	switch {
	case n.Kind == yaml.ScalarNode && k.Takes.Has(grammar.Text):
		return w.scalar(n)
	case n.Kind == yaml.MappingNode && k.Takes.Has(grammar.Map):
		return w.mapping(n, grammar.Find(k.Of), called)
	case n.Kind == yaml.MappingNode && k.Takes.Has(grammar.Names):
		return w.names(n, called)
	case n.Kind == yaml.SequenceNode && k.Takes.Has(grammar.List):
		return w.list(n, k, called)
	}
	hint := exampleOf(k)
	if n.Kind == yaml.MappingNode && len(n.Content) > 0 && strings.HasPrefix(n.Content[0].Value, "-") {
		hint = "write a space after \"-\""
	}
	w.err(at, "wrong-shape", fmt.Sprintf("%s is %s, not %s", called, shapeOf(n), formsInWords(k.Takes)), hint)
	return nil
}

func (w writer) list(n *yaml.Node, k *grammar.Key, called string) *written {
	out := &written{pos: w.pos(n), kind: isList}
	defer func() { out.whole = len(out.items) == len(n.Content) }()
	for i, c := range n.Content {
		c = followed(c)
		w.tag(c)
		one := fmt.Sprintf("item %d of %s", i+1, called)
		switch {
		case isNull(c):
			w.err(w.pos(c), "no-value", one+" is empty", "write it out, or take the line out")
		case c.Kind == yaml.ScalarNode && k.Items.Has(grammar.Text):
			out.items = append(out.items, w.scalar(c))
		case c.Kind == yaml.SequenceNode && k.Items.Has(grammar.List):
			out.items = append(out.items, w.list(c, &grammar.Key{Name: k.Name, Items: grammar.Text, Doc: k.Doc}, one))
		case c.Kind == yaml.MappingNode && k.Items.Has(grammar.Map):
			if m := w.mapping(c, grammar.Find(k.Of), nameOfItem(c, k, one)); m != nil {
				out.items = append(out.items, m)
			}
		default:
			w.err(w.pos(c), "wrong-shape", fmt.Sprintf("%s is %s, not %s", one, shapeOf(c), formsInWords(k.Items)), exampleOf(k))
		}
	}
	return out
}

// names reads a mapping whose keys are names and whose values are texts.
func (w writer) names(n *yaml.Node, called string) *written {
	out := &written{pos: w.pos(n), kind: isMap}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := followed(n.Content[i]), followed(n.Content[i+1])
		at := w.pos(n.Content[i])
		name := strings.TrimSpace(key.Value)
		switch {
		case key.Kind != yaml.ScalarNode || name == "" || isNull(key):
			w.err(at, "bad-key", "a key here is not a name", "")
		case key.Value == "<<" && key.Tag == "!!merge":
			w.err(at, "merge", "a merge key (<<) is not understood", "write the keys out")
		case value.Kind != yaml.ScalarNode || isNull(value):
			w.err(at, "wrong-shape", fmt.Sprintf("%q in %s is %s, not one value", name, called, shapeOf(value)), "inside braces a comma separates: write 3.2 with a point")
		case hasName(out.fields, name):
			w.err(at, "key-twice", fmt.Sprintf("%q is given twice in %s", name, called), "")
		default:
			w.tag(value)
			out.fields = append(out.fields, field{name, at, w.scalar(value)})
		}
	}
	return out
}

func hasName(fields []field, name string) bool {
	for _, f := range fields {
		if strings.EqualFold(f.name, name) {
			return true
		}
	}
	return false
}

func (w writer) scalar(n *yaml.Node) *written {
	return &written{pos: w.pos(n), kind: isText, text: strings.TrimSpace(n.Value),
		quoted: n.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle|yaml.LiteralStyle|yaml.FoldedStyle) != 0}
}

func (w writer) tag(n *yaml.Node) {
	if n.Style&yaml.TaggedStyle != 0 {
		w.err(w.pos(n), "tag", fmt.Sprintf("the tag %q is not understood", n.Tag), "take it out; put a text that begins with \"!\" in quotes")
	}
}

// followed follows an alias.
func followed(n *yaml.Node) *yaml.Node {
	for n.Kind == yaml.AliasNode && n.Alias != nil {
		n = n.Alias
	}
	return n
}

func canonicalKey(n *yaml.Node) string {
	n = followed(n)
	if n.Kind != yaml.ScalarNode {
		return ""
	}
	return grammar.Canonical(strings.TrimSpace(n.Value))
}

func isNull(n *yaml.Node) bool {
	return n.Kind == yaml.ScalarNode && (n.Tag == "!!null" || n.Style == 0 && n.Value == "")
}

// nameOfItem calls an item by its own name where it has one.
func nameOfItem(n *yaml.Node, k *grammar.Key, otherwise string) string {
	for i := 0; i+1 < len(n.Content); i += 2 {
		if canonicalKey(n.Content[i]) == "name" {
			if v := followed(n.Content[i+1]); v.Kind == yaml.ScalarNode && !isNull(v) && v.Value != "" {
				return fmt.Sprintf("%s %q", k.Of, v.Value)
			}
		}
	}
	return otherwise
}

func shapeOf(n *yaml.Node) string {
	switch {
	case n.Kind == yaml.SequenceNode:
		return "a list"
	case n.Kind == yaml.MappingNode:
		return "keys and values"
	case isNull(n):
		return "empty"
	}
	return "a text"
}

func formsInWords(f grammar.Form) string {
	var parts []string
	for _, p := range []struct {
		form grammar.Form
		word string
	}{{grammar.Text, "a text"}, {grammar.Map, "keys and values"}, {grammar.Names, "names and values"}, {grammar.List, "a list"}} {
		if f.Has(p.form) {
			parts = append(parts, p.word)
		}
	}
	return strings.Join(parts, " or ")
}

func exampleOf(k *grammar.Key) string {
	if k.Doc == "" {
		return ""
	}
	return fmt.Sprintf("%q: %s", k.Name, k.Doc)
}

// anchors warns of anchors that nothing refers to: a text that begins with "&"
// loses its first word so.
func (w writer) anchors(root *yaml.Node) {
	used := map[*yaml.Node]bool{}
	var all []*yaml.Node
	var walk func(n *yaml.Node)
	walk = func(n *yaml.Node) {
		if n.Kind == yaml.AliasNode {
			used[n.Alias] = true
			return
		}
		if n.Anchor != "" {
			all = append(all, n)
		}
		for _, c := range n.Content {
			walk(c)
		}
	}
	walk(root)
	for _, n := range all {
		if !used[n] {
			w.warn(w.pos(n), "unused-anchor", fmt.Sprintf("the anchor %q is used nowhere", "&"+n.Anchor), "put a text that begins with \"&\" in quotes")
		}
	}
}
