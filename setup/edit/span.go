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
		if isEmpty(n) && n.Kind == yaml.ScalarNode && !bytes.HasPrefix(bytes.TrimLeft(sp.plain[at:], " \t"), []byte("!")) && !bytes.HasPrefix(bytes.TrimLeft(sp.plain[at:], " \t"), []byte("&")) {
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

func (sp *spanner) scalar(n *yaml.Node) bool {
	switch {
	case n.Style&yaml.DoubleQuotedStyle != 0:
		return sp.quoted('"')
	case n.Style&yaml.SingleQuotedStyle != 0:
		return sp.quoted('\'')
	case n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0:
		return sp.block(n)
	}
	return sp.plainScalar(n)
}

func (sp *spanner) quoted(q byte) bool {
	if !sp.looking(q) {
		return false
	}
	for i := sp.cur + 1; i < len(sp.plain); i++ {
		switch {
		case q == '"' && sp.plain[i] == '\\':
			i++
		case sp.plain[i] != q:
		case q == '\'' && i+1 < len(sp.plain) && sp.plain[i+1] == q:
			i++
		default:
			sp.cur = i + 1
			return true
		}
	}
	return false
}

// plainScalar follows a text without quotes, letter by letter, over the lines
// that it is folded on.
func (sp *spanner) plainScalar(n *yaml.Node) bool {
	for i := 0; i < len(n.Value); i++ {
		c := n.Value[i]
		if c == ' ' || c == '\n' || c == '\t' {
			continue
		}
		for sp.cur < len(sp.plain) && bytes.IndexByte([]byte(" \t\n"), sp.plain[sp.cur]) >= 0 {
			sp.cur++
		}
		if !sp.looking(c) {
			return false
		}
		sp.cur++
	}
	return true
}

// block goes to the end of the last line of a text after "|" or ">", and with
// "|+" to that of the blank lines after it.
func (sp *spanner) block(n *yaml.Node) bool {
	if !sp.looking('|') && !sp.looking('>') {
		return false
	}
	head := lineEnd(sp.plain, sp.cur)
	keep := bytes.IndexByte(header(sp.plain[sp.cur:head]), '+') >= 0
	sp.cur = head
	indent := -1
	for at := head + 1; at <= len(sp.plain); {
		end := lineEnd(sp.plain, at)
		line := sp.plain[at:end]
		lead := len(line) - len(bytes.TrimLeft(line, " "))
		switch {
		case lead == len(line):
			if keep && end < len(sp.plain) {
				sp.cur = end
			}
		case indent < 0:
			if indent = contentIndent(n.Value, lead); indent < 0 {
				return true
			}
			sp.cur = end
		case lead < indent:
			return true
		default:
			sp.cur = end
		}
		at = end + 1
	}
	return true
}

// header is the indicators of a block scalar without what follows them.
func header(line []byte) []byte {
	if i := bytes.IndexAny(line, " \t"); i >= 0 {
		return line[:i]
	}
	return line
}

// contentIndent is how far the text of a block scalar is indented whose first
// line with something on it begins after lead spaces; -1 when that line is not
// of the text, which is all blank.
func contentIndent(value string, lead int) int {
	for len(value) > 0 {
		line := value
		if i := bytes.IndexByte([]byte(value), '\n'); i >= 0 {
			line, value = value[:i], value[i+1:]
		} else {
			value = ""
		}
		rest := len(bytes.TrimLeft([]byte(line), " "))
		if rest > 0 {
			return lead - (len(line) - rest)
		}
	}
	return -1
}
