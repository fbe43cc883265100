package check

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"stopleaf/exposure"
	"stopleaf/setup"
	"stopleaf/setup/edit"
)

// light sets down one item of the list, which is two lights for a pair.
func (r *recorder) light(item []int) {
	name := r.s.Lights[item[0]].Name
	if p := r.s.Lights[item[0]].Pair; p != nil {
		name = p.Of
	}
	at := edit.Path{"lights", name}
	var given []*Given
	for _, i := range item {
		if g := r.given([]int{i}); g != nil {
			given = append(given, g)
		}
	}
	switch {
	case r.isZero(item):
		named := r.s.Exposure.Zero != "" && !r.src.Has(edit.Path{"exposure", "key"})
		if r.base != nil && (named || r.src.Has(under(at, "reading"))) {
			r.amount(at, "reading", r.text(r.zeroGiven(), *r.base))
		}
	case len(given) < len(item):
		if len(given) > 0 {
			r.unwritten = append(r.unwritten, item...)
			r.asked = append(r.asked, fmt.Sprintf("%s, of which one was metered", name))
		}
		r.keep(at, name, item)
		given = nil
	case len(item) == 2:
		r.pair(at, name, given)
	default:
		r.one(at, given[0])
	}
	r.settings(at, name, item, given)
}

func under(p edit.Path, key ...string) edit.Path { return append(slices.Clone(p), key...) }

// amount writes a light's reading or its difference, in the place of the other.
func (r *recorder) amount(at edit.Path, key, text string) {
	other := map[string]string{"reading": "delta", "delta": "reading"}[key]
	if r.src.Has(under(at, other)) {
		r.do(r.src.Rename(under(at, other), key))
	}
	if r.err == nil {
		r.set(under(at, key), text)
	}
}

// one writes what one light, or both of a pair together, read.
func (r *recorder) one(at edit.Path, g *Given) {
	if g.Av == nil {
		r.amount(at, "delta", r.differenceText(g))
		return
	}
	r.amount(at, "reading", r.text(g, *g.Av))
}

// pair writes what both of a pair read: alike, or L and then R.
func (r *recorder) pair(at edit.Path, name string, given []*Given) {
	l, rt := given[0], given[1]
	if l == rt || len(l.Lights) == 2 {
		r.one(at, l)
		return
	}
	pair := r.s.Lights[l.Lights[0]].Pair
	alike := l.Av != nil && rt.Av != nil && same(l.Av, rt.Av) || l.Difference != nil && rt.Difference != nil && same(l.Difference, rt.Difference)
	if !alike && (math.IsNaN(r.av(l)) || math.IsNaN(r.av(rt))) {
		r.unwritten = append(r.unwritten, l.Lights[0], rt.Lights[0])
		r.asked = append(r.asked, name+", whose two differ by differences alone")
		return
	}
	if pair.Metered == "both" { // each was metered alone today
		p := under(at, "pair")
		if r.src.Has(under(p, "metered")) {
			p = under(p, "metered")
		}
		r.set(p, "each")
	}
	if alike {
		r.one(at, l)
		return
	}
	if r.src.Has(under(at, "delta")) {
		r.do(r.src.Rename(under(at, "delta"), "reading"))
	}
	if r.err == nil {
		r.do(r.src.SetYAML(under(at, "reading"), "["+yamlWord(r.text(l, r.av(l)))+", "+yamlWord(r.text(rt, r.av(rt)))+"]"))
	}
}

// yamlWord quotes what a list in brackets would take apart.
func yamlWord(s string) string {
	if strings.ContainsAny(s, ",[]{}#:\"'") {
		return strconv.Quote(s)
	}
	return s
}

// keep holds the difference of a light that was not metered, where its recorded
// reading would give it another.
func (r *recorder) keep(at edit.Path, name string, item []int) {
	if r.s.Lights[item[0]].Off {
		return
	}
	r.kept = append(r.kept, name)
	e := &r.s.Exposure
	if r.base == nil || e.KeyAv == nil || same(r.base, e.KeyAv) || !r.src.Has(under(at, "reading")) {
		return
	}
	first, last := &r.s.Lights[item[0]], &r.s.Lights[item[len(item)-1]]
	if math.Abs(first.Delta-last.Delta) > near { // two that differ cannot be written as one difference
		text := func(l *setup.Light) string { return yamlWord(r.text(nil, *l.ReadingAv+*r.base-*e.KeyAv)) }
		r.do(r.src.SetYAML(under(at, "reading"), "["+text(first)+", "+text(last)+"]"))
		return
	}
	delta := first.Delta
	if first.Pair != nil && first.Pair.Metered == "both" {
		delta++
	}
	r.amount(at, "delta", deltaText(delta))
}

// settings leaves out a power or a dimmer that was found at another reading than
// the one that now stands beside it.
func (r *recorder) settings(at edit.Path, name string, item []int, given []*Given) {
	e := &r.s.Exposure
	l := &r.s.Lights[item[0]]
	if e.KeyAv == nil || l.Source == exposure.Bounce || l.Source == exposure.Daylight {
		return
	}
	then := *e.KeyAv + r.difference(item[:1]) + r.moreISO
	if l.Source == exposure.Continuous {
		then += stopsOver(r.out.ShutterS, e.ShutterS)
	}
	base := *e.KeyAv
	if r.base != nil {
		base = *r.base
	}
	now := base + r.difference(item[:1])
	for n, g := range given {
		was := then
		if len(g.Lights) == 2 {
			was += r.difference(item) - r.difference(item[:1])
		} else if n > 0 {
			was += r.difference(item[1:]) - r.difference(item[:1])
		}
		now = then + r.av(g) - was
		if math.Abs(now-then) > unmoved {
			break
		}
	}
	if math.Abs(now-then) <= unmoved {
		return
	}
	r.drop("power of "+name, under(at, "power"))
	r.drop("dimmer of "+name, under(at, "dimmer"))
}
