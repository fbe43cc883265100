package svg

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"stopleaf/layout"
)

// attr writes one attribute, its value escaped.
func attr(name, value string) string { return name + `="` + escape(value) + `"` }

var escaper = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "'", "&#39;")

func escape(s string) string { return escaper.Replace(plain(s)) }

// plain leaves what XML 1.0 may hold: valid UTF-8 without controls or
// non-characters; every kind of white space becomes a space.
func plain(s string) string {
	s = strings.ToValidUTF8(s, string(utf8.RuneError))
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\r' || r == 0x85 || r == 0x2028 || r == 0x2029:
			return ' '
		case r < 0x20 || r >= 0x7F && r < 0xA0 || r&0xFFFE == 0xFFFE || r >= 0xFDD0 && r <= 0xFDEF:
			return -1
		}
		return r
	}, s)
}

// name gives an id that XML allows and that no other element of the page has:
// letters, digits, - and _ of the wish, the rest as -, a number behind where
// it was taken.
func (d *drawing) name(wish string) string {
	safe := strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_' {
			return r
		}
		return '-'
	}, wish)
	const longest = 64
	if len(safe) > longest {
		safe = safe[:longest]
	}
	if safe == "" || safe[0] == '-' || safe[0] >= '0' && safe[0] <= '9' {
		safe = "_" + safe
	}
	id := safe
	for n := 2; d.names[id]; n++ {
		id = fmt.Sprintf("%s-%d", safe, n)
	}
	d.names[id] = true
	return id
}

// grey writes a grey as a colour.
func grey(g layout.Grey) string { return fmt.Sprintf("#%02x%02x%02x", g, g, g) }
