package edit

import (
	"bytes"

	"gopkg.in/yaml.v3"
)

// scalar finds the end of a text in any of its styles.
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
