// Package edit changes values in the text of a setup file and leaves every other
// byte as it is: comments, order, quotes, alignment, blank lines, line ends, a
// byte order mark, a last line without its end.
//
// It belongs here when it is about the text of a file that is written anew.
// What the values mean belongs to package setup.
package edit

import (
	"bytes"
	"fmt"

	"gopkg.in/yaml.v3"

	"stopleaf/setup"
)

// Path leads to a value: {"exposure", "shutter"}. Keys match as in the file
// format: space, hyphen, underscore and case are the same, and so are two
// spellings of one key. An item of a list goes by its name as the file writes it,
// whatever the case, a pair by its one name, an item without a name by the name
// that package setup gives it; or by its index, from "0".
type Path []string

// Source is the text of one file while it is edited.
type Source struct {
	file  string
	first *text // as opened
	now   *text
	moved []column // comments that a longer value pushed away
}

// text is one state of a file.
type text struct {
	src   []byte
	plain []byte // what is read as YAML
	back  []int  // by byte of plain, and its end: where it stands in src
	root  *yaml.Node
	at    map[*yaml.Node]span
	pairs map[*yaml.Node]pair // by key
	dash  map[*yaml.Node]int  // by item of a block list: its "-"
}

// Open reads a file that is to be edited. The error is a setup.Problems with
// file:line:col when it is not one YAML mapping.
func Open(file string, src []byte) (*Source, error) {
	t, err := read(file, bytes.Clone(src))
	if err != nil {
		return nil, err
	}
	return &Source{file: file, first: t, now: t}, nil
}

func read(file string, src []byte) (*text, error) {
	root, problems := setup.Document(file, src)
	if problems != nil {
		return nil, problems
	}
	if root.Kind != yaml.MappingNode {
		return nil, problem(file, root.Line, root.Column, "wrong-shape", "the file is not keys and values", "")
	}
	t := &text{src: src, plain: setup.PlainLines(src), root: root,
		at: map[*yaml.Node]span{}, pairs: map[*yaml.Node]pair{}, dash: map[*yaml.Node]int{}}
	t.back = backwards(src, t.plain)
	sp := spanner{text: t, lines: lineStarts(t.plain)}
	if bad := sp.node(root); bad != nil {
		return nil, problem(file, bad.Line, bad.Column, "cannot-edit", "this line is written in a way that cannot be edited", "write it more plainly: key: value")
	}
	return t, nil
}

func problem(file string, line, col int, code, message, hint string) error {
	return setup.Problems{{Pos: setup.Pos{File: file, Line: line, Col: col}, Level: setup.Error, Code: code, Message: message, Hint: hint}}
}

// fail is an error at a node.
func (s *Source) fail(n *yaml.Node, code, hint, message string, args ...any) error {
	return problem(s.file, n.Line, n.Column, code, fmt.Sprintf(message, args...), hint)
}

// Bytes is the file with all edits in it. Each edit was read back when it was
// made: the file parses, what was set reads as it was set, and all else as before.
// The error is nil.
func (s *Source) Bytes() ([]byte, error) { return bytes.Clone(s.now.src), nil }

// Has reports whether a value is there. A key without a value is taken as not
// written, as package setup takes it.
func (s *Source) Has(p Path) bool {
	f, err := s.find(p)
	return err == nil && f.whole() && !isNull(follow(f.last()))
}

// Text gives a scalar as it is written, quotes and line folding undone.
func (s *Source) Text(p Path) (string, bool) {
	f, err := s.find(p)
	if err != nil || !f.whole() {
		return "", false
	}
	n := follow(f.last())
	if n.Kind != yaml.ScalarNode || isNull(n) {
		return "", false
	}
	return n.Value, true
}

func follow(n *yaml.Node) *yaml.Node {
	for n.Kind == yaml.AliasNode {
		n = n.Alias
	}
	return n
}

const quotes = yaml.SingleQuotedStyle | yaml.DoubleQuotedStyle | yaml.LiteralStyle | yaml.FoldedStyle

func isNull(n *yaml.Node) bool {
	return n.Kind == yaml.ScalarNode && (n.Tag == "!!null" || n.Value == "" && n.Style&quotes == 0)
}

// isEmpty reports whether nothing at all is written.
func isEmpty(n *yaml.Node) bool {
	return n.Kind == yaml.ScalarNode && n.Value == "" && n.Style&quotes == 0
}
