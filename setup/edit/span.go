package edit

import (
	"bytes"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// span is where a node stands in the plain text: its anchor or tag from props,
// itself from start to end.
type span struct{ props, start, end int }

// pair is where a key and its value stand.
type pair struct {
	start int  // the key, or the "?" before it
	colon int  // -1 without one
	asked bool // the key is written after "? "
}

// spanner finds where every node ends: the YAML library says only where each
// begins. The nodes come in the order of the text, so cur only moves on.
type spanner struct {
	*text
	lines []int // where each line begins
	cur   int
}

func lineStarts(plain []byte) []int {
	starts := []int{0}
	for i, c := range plain {
		if c == '\n' {
			starts = append(starts, i+1)
		}
	}
	return starts
}

// backwards says for each byte of the plain text where it stands in the file.
// The two are alike rune for rune, but that a line end may be two bytes.
func backwards(src, plain []byte) []int {
	back := make([]int, len(plain)+1)
	at := len(src) - len(bytes.TrimPrefix(src, []byte("\xef\xbb\xbf")))
	for i := 0; i < len(plain); {
		_, n := utf8.DecodeRune(plain[i:])
		for k := range n {
			back[i+k] = at
		}
		i += n
		if bytes.HasPrefix(src[at:], []byte("\r\n")) {
			at += 2
		} else {
			_, m := utf8.DecodeRune(src[at:])
			at += m
		}
	}
	back[len(plain)] = at
	return back
}

func (sp *spanner) offset(n *yaml.Node) int {
	if n.Line < 1 || n.Line > len(sp.lines) {
		return -1
	}
	at := sp.lines[n.Line-1]
	for range n.Column - 1 {
		if at >= len(sp.plain) {
			return -1
		}
		_, size := utf8.DecodeRune(sp.plain[at:])
		at += size
	}
	return at
}

// node finds the span of a node and of all in it; it gives the node that it
// cannot place.
func (sp *spanner) node(n *yaml.Node) *yaml.Node {
	at := sp.offset(n)
	if at < sp.cur {
		return n
	}
	s := span{props: at, start: sp.properties(n, at)}
	sp.cur = s.start
	bad := sp.inside(n)
	s.end = sp.cur
	sp.at[n] = s
	if bad == nil && s.end < s.start {
		return n
	}
	return bad
}

// properties goes past "&name" and "!tag".
func (sp *spanner) properties(n *yaml.Node, at int) int {
	for n.Kind != yaml.AliasNode && at < len(sp.plain) && (sp.plain[at] == '&' || sp.plain[at] == '!') {
		for at < len(sp.plain) && bytes.IndexByte([]byte(" \t\n,[]{}"), sp.plain[at]) < 0 {
			at++
		}
		rest := bytes.TrimLeft(sp.plain[at:], " \t")
		if isEmpty(n) && (len(rest) == 0 || rest[0] != '!' && rest[0] != '&') {
			return at
		}
		at = sp.blank(at)
	}
	return at
}

// blank goes past white space, line ends and comments.
func (sp *spanner) blank(at int) int {
	for at < len(sp.plain) {
		switch sp.plain[at] {
		case ' ', '\t', '\n':
			at++
		case '#':
			at = lineEnd(sp.plain, at)
		default:
			return at
		}
	}
	return at
}

func lineEnd(plain []byte, at int) int {
	if i := bytes.IndexByte(plain[at:], '\n'); i >= 0 {
		return at + i
	}
	return len(plain)
}

func lineStart(plain []byte, at int) int { return bytes.LastIndexByte(plain[:at], '\n') + 1 }

func (sp *spanner) inside(n *yaml.Node) *yaml.Node {
	switch n.Kind {
	case yaml.AliasNode:
		sp.cur += 1 + len(n.Value)
		return nil
	case yaml.ScalarNode:
		if !sp.scalar(n) {
			return n
		}
		return nil
	case yaml.MappingNode:
		return sp.mapping(n)
	}
	return sp.list(n)
}

func (sp *spanner) mapping(n *yaml.Node) *yaml.Node {
	flow := n.Style&yaml.FlowStyle != 0 && sp.looking('{')
	if flow {
		sp.cur++
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if bad := sp.pair(n.Content[i], n.Content[i+1], flow); bad != nil {
			return bad
		}
	}
	if flow && !sp.close('}') {
		return n
	}
	return nil
}

func (sp *spanner) looking(c byte) bool { return sp.cur < len(sp.plain) && sp.plain[sp.cur] == c }

// comma goes past white space, and in braces and brackets past commas.
func (sp *spanner) comma(flow bool) {
	for sp.cur = sp.blank(sp.cur); flow && sp.looking(','); sp.cur = sp.blank(sp.cur) {
		sp.cur++
	}
}

func (sp *spanner) close(c byte) bool {
	sp.comma(true)
	if !sp.looking(c) {
		return false
	}
	sp.cur++
	return true
}

func (sp *spanner) pair(key, value *yaml.Node, flow bool) *yaml.Node {
	sp.comma(flow)
	p := pair{start: sp.cur, colon: -1}
	if sp.looking('?') && (sp.offset(key) > sp.cur || isEmpty(key)) {
		p.asked = true
		sp.cur++
	}
	if bad := sp.member(key); bad != nil {
		return bad
	}
	if at := sp.blank(sp.cur); at < len(sp.plain) && sp.plain[at] == ':' {
		p.colon, sp.cur = at, at+1
	}
	sp.pairs[key] = p
	return sp.member(value)
}

// member is a node that may be left empty, and then stands where the text has
// come to.
func (sp *spanner) member(n *yaml.Node) *yaml.Node {
	if isEmpty(n) && n.Anchor == "" && n.Style&yaml.TaggedStyle == 0 {
		sp.at[n] = span{sp.cur, sp.cur, sp.cur}
		return nil
	}
	return sp.node(n)
}

func (sp *spanner) list(n *yaml.Node) *yaml.Node {
	flow := n.Style&yaml.FlowStyle != 0 && sp.looking('[')
	if flow {
		sp.cur++
	}
	for _, c := range n.Content {
		sp.comma(flow)
		if !flow {
			if !sp.looking('-') {
				return c
			}
			sp.dash[c] = sp.cur
			sp.cur++
		}
		if bad := sp.member(c); bad != nil {
			return bad
		}
	}
	if flow && !sp.close(']') {
		return n
	}
	return nil
}
