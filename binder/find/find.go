// Package find looks for setups on a shelf: by words, and by filters a
// photographer uses.
//
// It belongs here when it decides whether a setup is meant, and how well. Reading
// setups belongs to package binder.
package find

import (
	"cmp"
	"slices"
	"strings"

	"stopleaf/binder"
	"stopleaf/exposure"
	"stopleaf/setup"
)

// Query is what is looked for: every term must be met.
type Query struct {
	terms []term
}

// term is one word, a phrase, or a filter.
type term struct {
	text   string // as given
	phrase []string
	filter func(*candidate) bool // nil for a word
}

// candidate is a setup and what is worked out of it.
type candidate struct {
	setup   *setup.Setup
	numbers *exposure.Numbers
	summary binder.Summary
	fields  []field
}

// Tried is what a query made of one setup.
type Tried struct {
	binder.Summary
	Score int
	Found bool // every term is met

	met   []bool   // by term
	words []string // all of the setup
}

// Try looks into one setup. The score is, for each word, the weight of the best
// place where it stands, four times where it is a whole word there and three times
// where it begins one, summed.
func (q *Query) Try(s *setup.Setup) *Tried {
	n := exposure.Compute(s.Input(nil))
	c := &candidate{s, &n, binder.Summarize(s, &n), fieldsOf(s)}
	out := &Tried{Summary: c.summary, Found: true, met: make([]bool, len(q.terms))}
	for i := range q.terms {
		score, ok := q.terms[i].try(c)
		out.met[i] = ok
		out.Found = out.Found && ok
		out.Score += score
	}
	if !out.Found {
		out.words = c.words()
	}
	return out
}

func (t *term) try(c *candidate) (score int, ok bool) {
	if t.filter != nil {
		return 0, t.filter(c)
	}
	for _, f := range c.fields {
		score = max(score, f.weight*f.has(t.phrase))
	}
	return score, score > 0
}

// words is every word of the setup once, sorted.
func (c *candidate) words() []string {
	var out []string
	for _, f := range c.fields {
		out = append(out, f.words...)
	}
	slices.Sort(out)
	return slices.Clip(slices.Compact(out))
}

// Found picks those that meet the query: the best first; of equals the newest,
// those without a date last, then by file.
func Found(list []*Tried) []*Tried {
	var out []*Tried
	for _, t := range list {
		if t.Found {
			out = append(out, t)
		}
	}
	slices.SortStableFunc(out, func(a, b *Tried) int {
		return cmp.Or(cmp.Compare(b.Score, a.Score), strings.Compare(b.Made, a.Made), strings.Compare(a.File, b.File))
	})
	return out
}

// Missing gives the terms that no setup meets even alone, where nothing was found,
// and for a word the nearest that stands in one, or "".
func (q *Query) Missing(list []*Tried) (terms, nearest []string) {
	for i, t := range q.terms {
		if slices.ContainsFunc(list, func(t *Tried) bool { return t.met[i] }) {
			continue
		}
		near := ""
		if t.filter == nil && len(t.phrase) == 1 {
			near = setup.Nearest(t.phrase[0], vocabulary(list))
		}
		terms, nearest = append(terms, t.text), append(nearest, near)
	}
	return terms, nearest
}

// vocabulary is every word of the setups, sorted.
func vocabulary(list []*Tried) []string {
	var out []string
	for _, t := range list {
		out = append(out, t.words...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}
