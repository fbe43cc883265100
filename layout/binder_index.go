package layout

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"stopleaf/setup"
	"stopleaf/templates"
)

// index is one of the lists at the back of a binder: terms, each with the
// setups that it is true of. Columns of them flow from page to page.
type index struct {
	title string
	lines []indexLine
	rest  bool
	more  string
}

// indexLine is one line of an index: a term, or codes that lead to pages.
type indexLine struct {
	term  string
	codes []indexCode // with their places from the left of the column
	keep  bool        // stays with the line after it
	again []indexLine // stand above it where it begins a column: the term it belongs to
}

type indexCode struct {
	x     Um
	text  string
	label string
}

const (
	indexColumns = 2
	indexGap     = Um(8000) // between the columns
	indexIndent  = Um(3000)
)

var (
	indexTerm = style{cap: capUse, bold: true, kind: "index", used: true}
	indexText = style{cap: capUse, kind: "index", used: true}
	indexHead = style{cap: capLarge, bold: true, kind: "head", used: true}
)

// term is what setups have in common.
type term struct {
	name   string
	order  int // before the name: for bands
	setups []*BinderSetup
}

// newIndex sets terms in columns of a width.
func newIndex(title, more string, terms []term, w Um) *index {
	x := &index{title: title, more: more}
	w = (w - indexGap*(indexColumns-1)) / indexColumns
	for _, t := range terms {
		lines := wrap(t.name, indexTerm, w)
		for _, s := range lines {
			x.lines = append(x.lines, indexLine{term: s, keep: true})
		}
		var again []indexLine
		for _, s := range wrap(t.name+" "+more, indexTerm, w) {
			again = append(again, indexLine{term: s, keep: true})
		}
		for i, l := range codeLines(t.setups, w) {
			if i > 0 {
				l.again = again
			}
			x.lines = append(x.lines, l)
		}
	}
	return x
}

// codeLines sets the codes of setups one after another; one that is wider than
// a line has lines of its own.
func codeLines(setups []*BinderSetup, w Um) []indexLine {
	var out []indexLine
	var line indexLine
	at := indexIndent
	end := func() {
		if len(line.codes) > 0 {
			out = append(out, line)
		}
		line, at = indexLine{}, indexIndent
	}
	for i, s := range setups {
		text := s.Code
		if i < len(setups)-1 {
			text += ","
		}
		if at+width(text, indexText) > w {
			end()
		}
		for _, part := range wrap(text, indexText, w-indexIndent) {
			if at+width(part, indexText) > w {
				end()
			}
			line.codes = append(line.codes, indexCode{at, part, s.label()})
			at += width(part, indexText) + width("  ", indexText)
		}
	}
	end()
	return out
}

func (x *index) empty() bool { return len(x.lines) == 0 }

func (x *index) stretches() bool { return false }

const indexPitch = Um(4000)

func (x *index) headHeight(w Um) Um {
	return Um(len(wrap(x.heading(), indexHead, w)))*pitch(capLarge) + 1800
}

func (x *index) heading() string {
	if x.rest {
		return x.title + " " + x.more
	}
	return x.title
}

// rows is how many lines each column has when all have about the same.
func (x *index) rows() int { return (len(x.lines) + indexColumns - 1) / indexColumns }

// parts gives the lines of each column, none longer than most; ok is false
// where they are not enough. No column ends with a term, and one that begins within a
// term's codes names it again.
func (x *index) parts(most int) (columns [][]indexLine, left []indexLine) {
	left = x.lines
	for range indexColumns {
		var again []indexLine
		if len(left) > 0 && len(left[0].again) < most {
			again = left[0].again
		}
		n := min(most-len(again), len(left))
		for n > 1 && n < len(left) && left[n-1].keep {
			n--
		}
		columns, left = append(columns, append(slices.Clip(again), left[:n]...)), left[n:]
	}
	return columns, left
}

// columns are as low as they can be with all lines in them.
func (x *index) columns() [][]indexLine {
	for n := x.rows(); ; n++ {
		if cs, left := x.parts(n); len(left) == 0 {
			return cs
		}
	}
}

func (x *index) least(w Um) Um {
	if x.empty() {
		return 0
	}
	n := 0
	for _, c := range x.columns() {
		n = max(n, len(c))
	}
	return x.headHeight(w) + Um(n)*indexPitch + 1000
}

func (x *index) split(w, h Um) (head, rest block) {
	n := int((h - x.headHeight(w) - 1000) / indexPitch)
	if n < 4 {
		return nil, x
	}
	_, left := x.parts(n)
	if len(left) == 0 {
		return x, nil
	}
	a, b := *x, *x
	a.lines, b.lines, b.rest = x.lines[:len(x.lines)-len(left)], left, true
	return &a, &b
}

func (x *index) draw(p *pen, r Rect) {
	y := r.Y
	for _, s := range wrap(x.heading(), indexHead, r.W) {
		y += pitch(capLarge)
		p.text(r.X, y-1200, s, indexHead)
	}
	y += 600
	p.polyline("rule", lineOutline, nil, Point{r.X, y}, Point{r.right(), y})
	y += 1200
	w := (r.W - indexGap*(indexColumns-1)) / indexColumns
	for i, c := range x.columns() {
		left := r.X + Um(i)*(w+indexGap)
		for n, l := range c {
			base := y + Um(n+1)*indexPitch - 1000
			p.text(left, base, l.term, indexTerm)
			for _, code := range l.codes {
				p.of = leadsTo + code.label
				p.text(left+code.x, base, code.text, indexText)
			}
			p.of = ""
		}
	}
}

// indexes are the lists at the back: by tag, role, modifier, head and ratio.
func (b *Binder) indexes() ([]Page, error) {
	var blocks []block
	w := b.inner().W
	for _, k := range []struct {
		key   string
		terms func(s *BinderSetup, put func(order int, name string))
	}{
		{"tags", func(s *BinderSetup, put func(int, string)) {
			for _, t := range s.Setup.Tags {
				put(0, t)
			}
		}},
		{"roles", b.rolesOf}, {"modifiers", b.modifiersOf}, {"heads", b.headsOf}, {"ratios", b.ratioOf},
	} {
		terms := gatherTerms(b.all(), k.terms)
		if len(terms) > 0 {
			blocks = append(blocks, newIndex(b.t("index-"+k.key), b.Words.T("table.continued"), terms, w))
		}
	}
	if len(blocks) == 0 {
		blocks = append(blocks, &paragraphs{st: indexText, paras: []para{{text: b.t("index-none")}}})
	}
	return b.flow(b.t("indexes"), blocks...), nil
}

// gatherTerms finds every term and the setups it is true of, each once, in the
// order of the words.
func gatherTerms(setups []*BinderSetup, of func(*BinderSetup, func(int, string))) []term {
	by := map[string]*term{}
	var list []*term
	for _, s := range setups {
		if s.Setup == nil {
			continue
		}
		of(s, func(order int, name string) {
			name = strings.Join(strings.Fields(name), " ")
			if name == "" {
				return
			}
			low := strings.ToLower(name)
			t := by[low]
			if t == nil {
				t = &term{name: name, order: order}
				by[low], list = t, append(list, t)
			}
			if n := len(t.setups); n == 0 || t.setups[n-1] != s {
				t.setups = append(t.setups, s)
			}
		})
	}
	slices.SortStableFunc(list, func(x, y *term) int {
		return cmp.Or(cmp.Compare(x.order, y.order), cmp.Compare(strings.ToLower(x.name), strings.ToLower(y.name)))
	})
	out := make([]term, len(list))
	for i, t := range list {
		out[i] = *t
	}
	return out
}

func (b *Binder) rolesOf(s *BinderSetup, put func(int, string)) {
	for i := range s.Setup.Lights {
		put(0, fileWord(s.Setup.Lights[i].Role, b.Words))
	}
}

func (b *Binder) modifiersOf(s *BinderSetup, put func(int, string)) {
	for i := range s.Setup.Lights {
		if m := s.Setup.Lights[i].Modifier; m != nil {
			put(0, kindWord(m.Kind, b.Words))
		}
	}
}

func (b *Binder) headsOf(s *BinderSetup, put func(int, string)) {
	for i := range s.Setup.Lights {
		if h := s.Setup.Lights[i].Head; h != nil {
			put(0, headName(h, b.Words))
		}
	}
}

func headName(h *setup.Head, w templates.Words) string {
	if h.Name != "" {
		return h.Name
	}
	return kindWord(h.Kind, w)
}

// ratioBands are the bands of key to fill, by their lower ends.
var ratioBands = []float64{1, 1.5, 2, 3, 4, 6, 8, 16}

func (b *Binder) ratioOf(s *BinderSetup, put func(int, string)) {
	if s.Ratio == nil {
		return
	}
	r := math.Round(*s.Ratio*10) / 10 // as the sheet prints it
	if r < ratioBands[0] {
		put(0, b.t("ratio-below", "to", ratioText(ratioBands[0])))
		return
	}
	for i := len(ratioBands) - 1; i >= 0; i-- {
		if r < ratioBands[i] {
			continue
		}
		if i == len(ratioBands)-1 {
			put(i+1, b.t("ratio-above", "from", ratioText(ratioBands[i])))
		} else {
			put(i+1, b.t("ratio-band", "from", ratioText(ratioBands[i]), "to", ratioText(ratioBands[i+1])))
		}
		return
	}
}
