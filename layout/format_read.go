package layout

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"stopleaf/setup"
	"stopleaf/setup/grammar"
)

// Format is a page format of a person's own, read from a file.
type Format struct{ f *format }

// The bounds of a page format of a person's own, millimetres. Type is never
// smaller than what is used on the set; today's target on a stand card is read
// from two metres off.
const (
	leastPage, mostPage     = 50.0, 1200.0
	leastMargin, mostMargin = 2.0, 100.0
	leastInside             = 40.0 // between the margins
	leastGap, mostGap       = 1.0, 20.0
	leastType, mostType     = 2.5, 20.0
	leastCodes, mostCodes   = 25.0, 75.0
	leastFar, mostFar       = 10.0, 40.0
	leastBlock              = 10.0
	mostNested              = 6   // rows in columns in rows
	mostSides               = 20  // arrangements
	mostBlocks              = 200 // in the whole file
)

// ParseFormat reads a page format for one of grammar.Documents from bytes; file
// is its name in problems. The format is nil when any problem is an error. It
// never panics, whatever the bytes.
func ParseFormat(document, file string, src []byte) (*Format, setup.Problems) {
	r := &formatReader{Strict: setup.ReadStrict(file, src, "format", "page format"), f: &format{For: document, own: true}}
	if r.Top().Given() {
		r.f.Name = strings.TrimSuffix(filepath.Base(file), filepath.Ext(file))
		r.read()
	}
	if ps := r.Problems(); ps.HasErrors() {
		return nil, ps
	}
	return &Format{r.f}, r.Problems()
}

// formatReader turns what a file says into a format.
type formatReader struct {
	*setup.Strict
	f      *format
	blocks int
}

// placed is a node with its place in the file.
type placed struct {
	node
	at   setup.Pos
	kids []placed
}

// words are the words that a key of this document's formats may have.
func (r *formatReader) words(key string) []string { return grammar.PageWords(r.f.For, key) }

func (r *formatReader) read() {
	top := r.Top()
	if name := top.Get("name").Text(); name != "" {
		r.f.Name = name
	}
	r.isFor()
	r.onlyFor()
	r.page()
	r.typeSizes()
	r.strips()
	r.cutFrom()
	if out, ok := r.known(top.Get("leave out"), r.words("leave out")); ok {
		r.f.leftOut = out
	}
	sides := r.sides()
	next := r.nodes(top.Get("next"), "next")
	r.fillers()
	if r.Problems().HasErrors() {
		return
	}
	width := r.inner()
	for _, s := range append(slices.Clone(sides), next...) {
		r.wide(s, width)
	}
	r.once(next, "next")
	r.areLeftOut(append(slices.Clone(sides), next...))
	if r.Problems().HasErrors() {
		return
	}
	for _, s := range sides {
		r.f.Sides = append(r.f.Sides, s.node)
	}
	for _, n := range next {
		r.f.Next = append(r.f.Next, n.node)
	}
	r.complete(sides)
}

// documentWords are the documents in a sentence.
func documentWords(document string) string {
	switch document {
	case "sheet":
		return "a sheet"
	case "stands":
		return "stand cards"
	}
	return "a card"
}

// isFor reads which document the format is for, and refuses that of another.
// The rest of the file is then read as its own document's.
func (r *formatReader) isFor() {
	top, made := r.Top(), r.f.For
	v := top.Get("for")
	if !top.Has("for") {
		if made != grammar.Documents[0] {
			r.Err(top.Pos(), "not-for", fmt.Sprintf("a page format that does not say what it is for is for %s, not for %s",
				documentWords(grammar.Documents[0]), documentWords(made)), fmt.Sprintf("write for: %s", made))
		}
		return
	}
	said := r.Word(v, r.words("for"))
	if said == "" || said == made {
		return
	}
	r.Err(v.Pos(), "not-for", fmt.Sprintf("this page format is for %s, not for %s", documentWords(said), documentWords(made)),
		fmt.Sprintf("it belongs to the command %q", said))
	r.f.For = said
}

// page reads the paper and what is kept clear.
func (r *formatReader) page() {
	top := r.Top()
	r.f.Margin, r.f.Gap, r.f.Codes, r.f.Frame = 5, 2, defaultCodes, r.f.For != "stands"
	for _, l := range []struct {
		key, what   string
		into        *float64
		least, most float64
		needed      bool
	}{
		{"width", "a page of", &r.f.Width, leastPage, mostPage, true},
		{"height", "a page of", &r.f.Height, leastPage, mostPage, true},
		{"margin", "a margin of", &r.f.Margin, leastMargin, mostMargin, false},
		{"gap", "a gap of", &r.f.Gap, leastGap, mostGap, false},
		{"recovery", "a code of", &r.f.Codes, leastCodes, mostCodes, false},
	} {
		if v := r.Millimetres(top.Get(l.key), l.what, l.least, l.most); v != nil {
			*l.into = *v
		} else if l.needed && !top.Has(l.key) {
			r.Err(top.Pos(), "no-"+l.key, fmt.Sprintf("the page has no %q", l.key), fmt.Sprintf("write it in millimetres, between %.0f and %.0f", l.least, l.most))
		}
	}
	if yes := r.YesNo(top.Get("frame")); yes != nil {
		r.f.Frame = *yes
	}
	for _, side := range []float64{r.f.Width, r.f.Height} {
		if inside := side - 2*r.f.Margin; side > 0 && inside < leastInside {
			r.Err(top.KeyPos("margin"), "margin", fmt.Sprintf("a margin of %s mm leaves %s of the page's %s mm, and a page needs %s",
				mm(r.f.Margin), mm(max(0, inside)), mm(side), mm(leastInside)), "take a narrower margin or a larger page")
			return
		}
	}
}

func mm(v float64) string { return strings.TrimSuffix(fmt.Sprintf("%.1f", v), ".0") }

// inner is the width that blocks have, millimetres.
func (r *formatReader) inner() float64 {
	b := builder{f: r.f}
	return b.inner().W.Mm()
}

func (r *formatReader) typeSizes() {
	t := &r.f.Type
	t.Text, t.Target, t.Title, t.Code, t.Balloon = 2.5, 2.5, 3.5, 5, 2.5
	least, most := leastType, mostType
	if r.f.For == "stands" {
		t.Target, t.Title, t.Code = leastFar, 2.5, 3.5
		least, most = leastFar, mostFar
	}
	v := r.Top().Get("type")
	for _, size := range []struct {
		key         string
		into        *float64
		least, most float64
	}{
		{"text", &t.Text, leastType, mostType}, {"target", &t.Target, least, most}, {"title", &t.Title, leastType, mostType},
		{"code", &t.Code, leastType, mostType}, {"balloon", &t.Balloon, leastType, mostType},
	} {
		if mm := r.Millimetres(v.Get(size.key), "a cap height of", size.least, size.most); mm != nil {
			*size.into = *mm
		}
	}
}

// strips reads the fields of the title block. Those by which a side is found
// again are on each.
func (r *formatReader) strips() {
	needed := []string{"title", "code", "sheet"}
	if r.f.For == "stands" {
		r.f.Strip = needed
	}
	for _, s := range []struct {
		key  string
		into *[]string
	}{{"strip", &r.f.Strip}, {"strip next", &r.f.StripNext}} {
		v := r.Top().Get(s.key)
		if !v.Given() {
			continue
		}
		fields, whole := r.known(v, r.words(s.key))
		if !whole {
			continue
		}
		for _, need := range needed {
			if !holds(fields, need) {
				r.Err(v.Pos(), "no-field", fmt.Sprintf("%q has no %q", s.key, need), "a side is found again by its title, code and sheet")
			}
		}
		*s.into = fields
	}
}

// known are known words; ok is false when there are none or one was wrong.
func (r *formatReader) known(v setup.Value, known []string) (words []string, ok bool) {
	if !v.Given() {
		return nil, false
	}
	words, whole := r.Known(v, known)
	return words, whole && len(words) > 0
}

// fillers are what goes where there is room on the last side: the rulers, unless
// they are placed or nothing is wanted.
func (r *formatReader) fillers() {
	top := r.Top()
	fill := top.Get("filler")
	switch {
	case r.f.For == "stands":
	case !top.Has("filler"):
		r.f.Filler = []node{{Block: "rulers"}}
	default:
		names, _ := r.Known(fill, r.words("filler"))
		for _, n := range names {
			r.f.Filler = append(r.f.Filler, node{Block: n})
		}
	}
}

// onlyFor refuses the keys that are of no use to this document.
func (r *formatReader) onlyFor() {
	keys := grammar.Find("format").Keys
	for i := range keys {
		if k := &keys[i]; k.For != nil && !holds(k.For, r.f.For) && r.Top().Has(k.Name) {
			r.Err(r.Top().KeyPos(k.Name), "not-here", fmt.Sprintf("%q means nothing here", k.Name), forWords(k))
		}
	}
}

// forWords says which documents have a key.
func forWords(k *grammar.Key) string { return "it is for a page format of " + eachWords(k.For) }

// eachWords are documents in a sentence.
func eachWords(documents []string) string {
	var words []string
	for _, d := range documents {
		words = append(words, documentWords(d))
	}
	return strings.Join(words, " or ")
}
