package layout

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"stopleaf/setup"
)

// Format is a page format of a person's own, read from a file.
type Format struct{ f *format }

// The bounds of a page format of a person's own, millimetres. Type is never
// smaller than what is used on the set.
const (
	leastPage, mostPage     = 50.0, 1200.0
	leastMargin, mostMargin = 2.0, 100.0
	leastInside             = 40.0 // between the margins
	leastGap, mostGap       = 1.0, 20.0
	leastType, mostType     = 2.5, 20.0
	leastBlock              = 10.0
	mostNested              = 6   // rows in columns in rows
	mostSides               = 20  // arrangements
	mostBlocks              = 200 // in the whole file
)

// blockNames are the blocks of a card.
var blockNames = []string{"photo", "plan", "side", "lights", "camera", "sums", "cautions", "notes", "rulers"}

// stripFields are the fields of the title block.
var stripFields = []string{"title", "owner", "date", "scale", "units", "recorded", "code", "sheet"}

// tableNames tell tables of lights apart.
var tableNames = []string{"lights", "targets", "places"}

// defaultColumns are those of a table of lights that names none, for a width of
// so many millimetres; nil for what is no table.
func defaultColumns(table string, width float64) [][]string {
	switch table {
	case "lights":
		if width < 100 {
			return [][]string{{"number"}, {"light", "modifier", "meter"}, {"difference"}, {"target", "dial"}}
		}
		return [][]string{{"number"}, {"light", "modifier"}, {"difference", "meter"}, {"target", "dial"}}
	case "targets":
		return [][]string{{"number"}, {"name"}, {"difference"}, {"target"}}
	case "places":
		switch {
		case width < 100:
			return [][]string{{"number"}, {"name", "place", "measure"}, {"height", "aim", "throw"}}
		case width < 150:
			return [][]string{{"number"}, {"name", "clock"}, {"place", "measure"}, {"height", "aim"}, {"throw"}}
		}
		return [][]string{{"number"}, {"name"}, {"place"}, {"measure"}, {"clock"}, {"height"}, {"aim"}, {"throw"}}
	}
	return nil
}

// widthOf is the least width of a block, millimetres.
func widthOf(block string) float64 {
	switch block {
	case "lights":
		return 45
	case "plan", "side", "rulers":
		return 35
	case "photo":
		return 20
	}
	return 25
}

// ParseFormat reads a page format from bytes; file is its name in problems. The
// format is nil when any problem is an error. It never panics, whatever the
// bytes.
func ParseFormat(file string, src []byte) (*Format, setup.Problems) {
	r := &formatReader{Strict: setup.ReadStrict(file, src, "format", "page format"), f: &format{Frame: true, own: true}}
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
	f        *format
	leaveOut []string
	blocks   int
}

// placed is a node with its place in the file.
type placed struct {
	node
	at   setup.Pos
	kids []placed
}

func (r *formatReader) read() {
	top := r.Top()
	if name := top.Get("name").Text(); name != "" {
		r.f.Name = name
	}
	r.page()
	r.typeSizes()
	r.strips()
	if out, ok := r.words(top.Get("leave out"), leavable()); ok {
		r.leaveOut = out
	}
	sides := r.sides()
	next := r.nodes(top.Get("next"), "next")
	r.f.Filler = []node{{Block: "rulers"}}
	if fill := top.Get("filler"); top.Has("filler") {
		r.f.Filler = nil
		names, _ := r.Known(fill, []string{"rulers"})
		for _, n := range names {
			r.f.Filler = append(r.f.Filler, node{Block: n})
		}
	}
	if r.Problems().HasErrors() {
		return
	}
	width := r.inner()
	for _, s := range append(slices.Clone(sides), next...) {
		r.wide(s, width)
	}
	r.once(next, "next")
	r.leftOut(append(slices.Clone(sides), next...))
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

// page reads the paper and what is kept clear.
func (r *formatReader) page() {
	top := r.Top()
	r.f.Margin, r.f.Gap = 5, 2
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
	v := r.Top().Get("type")
	for _, size := range []struct {
		key  string
		into *float64
	}{{"text", &t.Text}, {"target", &t.Target}, {"title", &t.Title}, {"code", &t.Code}, {"balloon", &t.Balloon}} {
		if mm := r.Millimetres(v.Get(size.key), "a cap height of", leastType, mostType); mm != nil {
			*size.into = *mm
		}
	}
}

// strips reads the fields of the title block. Those by which a side is found
// again are on each.
func (r *formatReader) strips() {
	for _, s := range []struct {
		key  string
		into *[]string
	}{{"strip", &r.f.Strip}, {"strip next", &r.f.StripNext}} {
		v := r.Top().Get(s.key)
		if !v.Given() {
			continue
		}
		fields, whole := r.words(v, stripFields)
		if !whole {
			continue
		}
		for _, need := range []string{"title", "code", "sheet"} {
			if !holds(fields, need) {
				r.Err(v.Pos(), "no-field", fmt.Sprintf("%q has no %q", s.key, need), "a side is found again by its title, code and sheet")
			}
		}
		*s.into = fields
	}
}

// words are known words; ok is false when there are none or one was wrong.
func (r *formatReader) words(v setup.Value, known []string) (words []string, ok bool) {
	if !v.Given() {
		return nil, false
	}
	words, whole := r.Known(v, known)
	return words, whole && len(words) > 0
}

func (r *formatReader) sides() []placed {
	top := r.Top()
	v := top.Get("sides")
	if len(v.Items()) == 0 {
		if !top.Has("sides") || v.Given() && v.Whole() {
			r.Err(top.KeyPos("sides"), "no-sides", "the format has no \"sides\"", "name the blocks of a side: "+strings.Join(blockNames, ", "))
		}
		return nil
	}
	if n := len(v.Items()); n > mostSides {
		r.Err(v.Pos(), "too-many-sides", fmt.Sprintf("%d sides are named; %d at most are tried", n, mostSides), "keep those that differ")
		return nil
	}
	out := r.nodes(v, "sides")
	for i, item := range v.Items() {
		if !v.Whole() || len(out) != len(v.Items()) {
			break
		}
		r.once(out[i:i+1], "a side")
		r.gives(&out[i], item)
	}
	return out
}

// nodes reads a list of blocks.
func (r *formatReader) nodes(v setup.Value, under string) []placed {
	var out []placed
	for _, item := range v.Items() {
		if p, ok := r.part(item, 0, under == "across"); ok {
			out = append(out, p)
		}
		if item.Has("give") && under != "sides" {
			r.Err(item.KeyPos("give"), "give", "\"give\" belongs to a whole side, not to a part of one", "write it beside the side's own \"across\" or \"down\"")
		}
	}
	return out
}

// part reads a block, or a row or column of blocks.
func (r *formatReader) part(v setup.Value, depth int, inRow bool) (out placed, ok bool) {
	out.at = v.Pos()
	if r.blocks++; r.blocks == mostBlocks+1 {
		r.Err(v.Pos(), "too-many-blocks", fmt.Sprintf("more than %d blocks and rows are named", mostBlocks), "name fewer sides")
	}
	if r.blocks > mostBlocks {
		return out, false
	}
	if v.IsText() {
		out.Block = r.Word(v, blockNames)
		return r.table(out, v), out.Block != ""
	}
	var is []string
	for _, k := range []string{"block", "across", "down"} {
		if v.Has(k) {
			is = append(is, k)
		}
	}
	if len(is) != 1 {
		message := "a part here has neither \"block\" nor \"across\" nor \"down\""
		if len(is) > 1 {
			message = fmt.Sprintf("a part here has both %q and %q", is[0], is[1])
		}
		r.Err(v.Pos(), "no-block", message, "write one of them: block: NAME, across: [...] or down: [...]")
		return out, false
	}
	out.Block = r.Word(v.Get("block"), blockNames)
	ok = out.Block != ""
	if is[0] != "block" {
		ok = r.row(&out, v.Get(is[0]), is[0], depth)
	}
	r.size(&out, v, inRow)
	r.only(out, v)
	return r.table(out, v), ok
}

// row reads the blocks of a row or column.
func (r *formatReader) row(out *placed, v setup.Value, across string, depth int) bool {
	switch {
	case !v.Given():
		return false
	case depth >= mostNested:
		r.Err(v.Pos(), "too-deep", fmt.Sprintf("rows and columns stand more than %d deep in each other", mostNested), "make the page of fewer")
		return false
	case len(v.Items()) == 0:
		if v.Whole() {
			r.Err(v.Pos(), "no-block", fmt.Sprintf("%q holds no block", across), "name one of: "+strings.Join(blockNames, ", "))
		}
		return false
	}
	ok := v.Whole()
	for _, item := range v.Items() {
		kid, good := r.part(item, depth+1, across == "across")
		if item.Has("give") {
			r.Err(item.KeyPos("give"), "give", "\"give\" belongs to a whole side, not to a part of one", "write it beside the side's own \"across\" or \"down\"")
		}
		ok = ok && good
		out.kids = append(out.kids, kid)
	}
	for _, kid := range out.kids {
		if across == "across" {
			out.Across = append(out.Across, kid.node)
		} else {
			out.Down = append(out.Down, kid.node)
		}
	}
	return ok
}

// size reads how wide and high a part is.
func (r *formatReader) size(out *placed, v setup.Value, inRow bool) {
	if w := r.Millimetres(v.Get("width"), "a block of", leastBlock, mostPage); w != nil {
		out.Width = *w
	}
	if s := r.Number(v.Get("share"), "a share of", "", 0.05, 20); s != nil {
		out.Share = *s
	}
	if l := r.Millimetres(v.Get("least"), "a height of", leastBlock, mostPage); l != nil {
		out.Least = *l
	}
	switch {
	case v.Has("width") && !inRow:
		r.Err(v.KeyPos("width"), "width", "\"width\" is for a part of a row", "in a column every part is as wide as the column")
	case v.Has("width") && v.Has("share"):
		r.Err(v.KeyPos("share"), "width-and-share", "\"share\" is given beside \"width\"", "a part has the one or the other")
	}
	if most := r.f.Height - 2*r.f.Margin; r.f.Height > 0 && out.Least > most {
		r.Err(v.KeyPos("least"), "least", fmt.Sprintf("a height of %s mm is more than the %s mm between the margins", mm(out.Least), mm(most)), "write less, or take a larger page")
	}
}

// only refuses what a block has no use for.
func (r *formatReader) only(out placed, v setup.Value) {
	for _, rule := range []struct {
		key    string
		blocks []string
	}{
		{"least", []string{"photo", "plan", "side"}},
		{"columns", []string{"lights"}},
		{"as", []string{"lights"}},
		{"short", []string{"cautions"}},
		{"run", []string{"cautions"}},
	} {
		if v.Has(rule.key) && !holds(rule.blocks, out.Block) && (out.Block != "" || !v.Has("block")) {
			r.Err(v.KeyPos(rule.key), "not-here", fmt.Sprintf("%q means nothing here", rule.key), "it belongs to the block "+strings.Join(rule.blocks, ", "))
		}
	}
}

// table reads what tables of lights and cautions have of their own.
func (r *formatReader) table(out placed, v setup.Value) placed {
	switch out.Block {
	case "cautions":
		short, run := r.YesNo(v.Get("short")), r.YesNo(v.Get("run"))
		out.Short, out.Run = short != nil && *short, run != nil && *run
		if out.Short && out.Run {
			r.Err(v.KeyPos("run"), "short-and-run", "\"run\" is given beside \"short\"", "cautions are in full or in their short form")
		}
	case "lights":
		as := r.Word(v.Get("as"), tableNames)
		if c := v.Get("columns"); c.Given() {
			out.Columns = r.columns(c)
		} else if as != "" {
			out.Columns = defaultColumns(as, r.inner())
		} else {
			out.Columns = defaultColumns("lights", r.inner())
		}
		if as == "" {
			as = tableName(out.Columns)
		}
		if as != "lights" {
			out.As = as
		}
	}
	return out
}

// tableName is what a table is called by its fields.
func tableName(columns [][]string) string {
	has := func(fields ...string) bool {
		return slices.ContainsFunc(columns, func(c []string) bool {
			return slices.ContainsFunc(fields, func(f string) bool { return holds(c, f) })
		})
	}
	switch {
	case has("dial", "modifier", "meter"):
		return "lights"
	case has("target"):
		return "targets"
	case has("place", "measure", "clock", "height"):
		return "places"
	}
	return "lights"
}

// columns reads the fields of each column.
func (r *formatReader) columns(v setup.Value) [][]string {
	var out [][]string
	var all []string
	whole := v.Whole()
	for _, c := range v.Items() {
		fields, good := r.words(c, lightFields)
		whole = whole && good
		if !c.IsText() && len(c.Items()) == 0 && c.Whole() {
			r.Err(c.Pos(), "no-field", "a column has no field", "name one of: "+strings.Join(lightFields, ", "))
		}
		base := holds(fields, "target") || holds(fields, "dial")
		for _, f := range fields {
			if holds(all, f) {
				r.Err(c.Pos(), "twice", fmt.Sprintf("%q stands in two columns", f), "take one out")
			}
			all = append(all, f)
			if base && f != "target" && f != "dial" {
				r.Err(c.Pos(), "not-here", fmt.Sprintf("%q stands in a column with targets or dials, which is there for each base", f), "give it a column of its own")
			}
		}
		out = append(out, fields)
	}
	if whole && !holds(all, "number") {
		r.Err(v.Pos(), "no-field", "a table of lights has no \"number\"", "lights are found on the drawing by their numbers")
	}
	return out
}
