package edit

import (
	"bytes"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// column is a comment behind a line that was edited: where it stands in the plain
// text now, and its column and the spaces before it as the file had them. It is
// held to its column where more than one space or a neighbour in the same column
// say that it stands in one.
type column struct {
	at, col, gap int
	held         bool
}

// line is splice that keeps the comment behind the first cut in its column where it
// can. The further cuts come after, on that line or below.
func (s *Source) line(cuts ...cut) error {
	t := s.now
	end, n := lineEnd(t.plain, cuts[0].from), 0
	grown := 0
	for ; n < len(cuts) && cuts[n].to < end && !strings.Contains(cuts[n].text, "\n"); n++ {
		grown += utf8.RuneCountInString(cuts[n].text) - utf8.RuneCount(t.plain[cuts[n].from:cuts[n].to])
	}
	if n == 0 {
		return s.splice(cuts...)
	}
	hash := t.comment(cuts[n-1].to)
	if hash < 0 {
		return s.splice(cuts...)
	}
	gap := hash - len(bytes.TrimRight(t.plain[:hash], " "))
	if gap == 0 { // a tab
		return s.splice(cuts...)
	}
	c := s.columnOf(hash, gap)
	want := gap
	if c.held {
		want = max(gap+c.col-t.columnOf(hash)-grown, min(c.gap, 2))
	}
	from := max(hash-gap, cuts[n-1].to) // a cut may take spaces itself
	want = max(want, from-(hash-gap))
	space := cut{from, hash, strings.Repeat(" ", want-(from-(hash-gap)))}
	cuts = append(append(append([]cut(nil), cuts[:n]...), space), cuts[n:]...)
	if err := s.splice(cuts...); err != nil {
		return err
	}
	for _, cut := range cuts[:n+1] {
		hash += len(cut.text) - (cut.to - cut.from)
	}
	c.at = hash
	s.moved = append(s.moved, c)
	return nil
}

// columnOf takes what is known of a comment, or looks at how it stands.
func (s *Source) columnOf(hash, gap int) column {
	for i, c := range s.moved {
		if c.at == hash {
			s.moved = append(s.moved[:i:i], s.moved[i+1:]...)
			return c
		}
	}
	col := s.now.columnOf(hash)
	return column{hash, col, gap, gap > 1 || s.now.neighbour(hash, col)}
}

// shift moves on what is known of comments behind some cuts.
func (s *Source) shift(cuts []cut) {
	for i := range s.moved {
		at := s.moved[i].at
		for _, c := range cuts {
			if c.to <= s.moved[i].at {
				at += len(c.text) - (c.to - c.from)
			}
		}
		s.moved[i].at = at
	}
}

func (t *text) columnOf(at int) int {
	return utf8.RuneCount(t.plain[lineStart(t.plain, at):at])
}

// comment is where the comment on a line begins, at or after a byte of it; -1
// without one.
func (t *text) comment(from int) int {
	end := lineEnd(t.plain, from)
	for i := from; i < end; i++ {
		if t.plain[i] == '#' && i > 0 && (t.plain[i-1] == ' ' || t.plain[i-1] == '\t') && !t.inScalar(i) {
			return i
		}
	}
	return -1
}

func (t *text) inScalar(at int) bool {
	for n, s := range t.at {
		if n.Kind == yaml.ScalarNode && s.start <= at && at < s.end {
			if n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0 && at < lineEnd(t.plain, s.start) {
				continue // the comment behind "|"
			}
			return true
		}
	}
	return false
}

// neighbour reports whether the comment of the line above or below stands in the
// same column.
func (t *text) neighbour(hash, col int) bool {
	above, below := lineStart(t.plain, hash)-1, lineEnd(t.plain, hash)+1
	for _, at := range []int{above, below} {
		if at <= 0 || at >= len(t.plain) {
			continue
		}
		from := lineStart(t.plain, at)
		if h := t.comment(from); h >= 0 && t.columnOf(h) == col {
			return true
		}
	}
	return false
}
