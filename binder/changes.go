package binder

import (
	"bytes"
	"errors"
	"fmt"
	"html"
	"regexp"
	"slices"
	"strings"
)

// Print is what was on a page of a binder.
type Print struct{ Label, Print string }

// Printed is what an earlier binder says of its pages.
type Printed struct {
	Duplex bool
	Pages  []Print
}

// ErrNoPrints is what a PDF without the fingerprints of a binder gives.
var ErrNoPrints = errors.New("it does not hold the fingerprints of a binder's pages")

var printLine = regexp.MustCompile(`<rdf:li>([0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}) ([^<]+)</rdf:li>`)

// ReadPrints finds the fingerprints in the bytes of a binder's PDF, or in the
// last part of them. The metadata stand in it uncompressed, so that this needs
// no reader of PDF; a file that another program has written anew may hide them.
func ReadPrints(pdf []byte) (*Printed, error) {
	at := bytes.LastIndex(pdf, []byte("<binder:pages>"))
	if at < 0 {
		return nil, ErrNoPrints
	}
	part := pdf[at:]
	end := bytes.Index(part, []byte("</binder:pages>"))
	if end < 0 {
		return nil, ErrNoPrints
	}
	p := &Printed{Duplex: bytes.Contains(pdf[:at], []byte("<binder:sides>2</binder:sides>"))}
	for _, m := range printLine.FindAllSubmatch(part[:end], -1) {
		p.Pages = append(p.Pages, Print{html.UnescapeString(string(m[2])), string(m[1])})
	}
	if len(p.Pages) == 0 || p.Duplex && len(p.Pages)%2 == 1 {
		return nil, ErrNoPrints
	}
	return p, nil
}

// Leaf is one sheet of paper: a page, or a page and its back.
type Leaf []Print

// String tells one sheet from another: what is on it, and its labels.
func (l Leaf) String() string { return fmt.Sprintf("%q", []Print(l)) }

// Labels are those of its pages.
func (l Leaf) Labels() string {
	out := make([]string, len(l))
	for i, p := range l {
		out[i] = p.Label
	}
	return strings.Join(out, ", ")
}

// Leaves are the sheets of paper of a binder, in order.
func (p *Printed) Leaves() []Leaf {
	n := 1
	if p.Duplex {
		n = 2
	}
	var out []Leaf
	for l := range slices.Chunk(p.Pages, n) {
		out = append(out, l)
	}
	return out
}

// Put is a sheet to put into the binder, and the one it goes behind; nil is the
// very front.
type Put struct{ Leaf, Behind Leaf }

// Changes say how an earlier binder becomes one of now.
type Changes struct {
	Out  []Leaf // to take out, in the order of the earlier binder
	In   []Put  // printed anew, in the order of the one of now
	Move []Put  // as they were, in another place
}

// Compare finds the sheets that differ, by the label of their first page. Those
// that always says yes to count as changed.
func Compare(before, now []Leaf, always func(label string) bool) Changes {
	was := map[string]int{}
	for i, l := range before {
		was[l[0].Label] = i
	}
	var c Changes
	stays := map[int]bool{} // of the earlier ones
	var kept []int          // places in the earlier binder of those that stay, in the order of now
	place := make([]int, len(now))
	for i, l := range now {
		at, there := was[l[0].Label]
		if place[i] = -1; there && slices.Equal(before[at], l) && !always(l[0].Label) {
			place[i], stays[at] = at, true
			kept = append(kept, at)
		}
	}
	for i, l := range before {
		if !stays[i] {
			c.Out = append(c.Out, l)
		}
	}
	still := map[int]bool{}
	for _, at := range rising(kept) {
		still[at] = true
	}
	for i, l := range now {
		var behind Leaf
		if i > 0 {
			behind = now[i-1]
		}
		switch {
		case place[i] < 0:
			c.In = append(c.In, Put{l, behind})
		case !still[place[i]]:
			c.Move = append(c.Move, Put{l, behind})
		}
	}
	return c
}

// rising is a longest part of a list that rises: what need not be moved.
func rising(list []int) []int {
	var ends []int // by length less 1, the index of the smallest last member
	before := make([]int, len(list))
	for i, v := range list {
		n, _ := slices.BinarySearchFunc(ends, v, func(at, v int) int { return list[at] - v })
		if before[i] = -1; n > 0 {
			before[i] = ends[n-1]
		}
		if n == len(ends) {
			ends = append(ends, i)
		} else {
			ends[n] = i
		}
	}
	var out []int
	if len(ends) == 0 {
		return nil
	}
	for i := ends[len(ends)-1]; i >= 0; i = before[i] {
		out = append(out, list[i])
	}
	slices.Reverse(out)
	return out
}
