package layout

import (
	"fmt"
	"strings"

	"stopleaf/setup"
	"stopleaf/setup/grammar"
)

// sides reads the arrangements of the first side.
func (r *formatReader) sides() []placed {
	top := r.Top()
	v := top.Get("sides")
	if len(v.Items()) == 0 {
		if !top.Has("sides") || v.Given() && v.Whole() {
			r.Err(top.KeyPos("sides"), "no-sides", "the format has no \"sides\"", "name the blocks of a side: "+strings.Join(r.words("block"), ", "))
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
		if p, ok := r.part(item, 0, false); ok {
			out = append(out, p)
		}
		if under != "sides" {
			r.noGive(item)
		}
		if under != "next" {
			r.noFlow(item)
		}
	}
	return out
}

// noGive and noFlow refuse what is for a whole side, and for a row that stands
// under "next" itself.
func (r *formatReader) noGive(v setup.Value) {
	if v.Has("give") {
		r.Err(v.KeyPos("give"), "give", "\"give\" belongs to a whole side, not to a part of one", "write it beside the side's own \"across\" or \"down\"")
	}
}

func (r *formatReader) noFlow(v setup.Value) {
	if v.Has("flow") {
		r.Err(v.KeyPos("flow"), "flow", "\"flow\" belongs to a row under \"next\"", "a row on the first side, or inside of another part, stands on one side")
	}
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
		out.Block = r.block(v)
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
	out.Block = r.block(v.Get("block"))
	ok = out.Block != ""
	if is[0] != "block" {
		ok = r.row(&out, v.Get(is[0]), is[0], depth)
	}
	r.size(&out, v, inRow)
	if flow := r.YesNo(v.Get("flow")); flow != nil {
		out.Flow = *flow
	}
	r.only(out, v)
	return r.table(out, v), ok
}

// block is a block's name; one of another document is told as that.
func (r *formatReader) block(v setup.Value) string {
	known := r.words("block")
	if v.IsText() {
		name := strings.ReplaceAll(grammar.Canonical(v.Text()), " ", "-")
		if b := grammar.FindBlock(name); b != nil && !holds(known, name) {
			r.Err(v.Pos(), "not-here", fmt.Sprintf("%q is a block of %s, and this page format is for %s", name, eachWords(b.For), documentWords(r.f.For)),
				"allowed: "+strings.Join(known, ", "))
			return ""
		}
	}
	return r.Word(v, known)
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
			r.Err(v.Pos(), "no-block", fmt.Sprintf("%q holds no block", across), "name one of: "+strings.Join(r.words("block"), ", "))
		}
		return false
	}
	ok := v.Whole()
	for _, item := range v.Items() {
		kid, good := r.part(item, depth+1, across == "across")
		r.noGive(item)
		r.noFlow(item)
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
	var grows, as []string
	for _, name := range r.words("block") {
		b := grammar.FindBlock(name)
		if b.Grows {
			grows = append(grows, name)
		}
		if len(b.As) > 0 {
			as = append(as, name)
		}
	}
	var columns []string
	for _, name := range []string{"lights", "today"} {
		if holds(r.words("block"), name) {
			columns = append(columns, name)
		}
	}
	for _, rule := range []struct {
		key    string
		blocks []string
	}{
		{"least", grows},
		{"columns", columns},
		{"as", as},
		{"short", []string{"cautions"}},
		{"run", []string{"cautions"}},
	} {
		if v.Has(rule.key) && !holds(rule.blocks, out.Block) && (out.Block != "" || !v.Has("block")) {
			hint := "it belongs to the block " + strings.Join(rule.blocks, ", ")
			if k := grammar.Find("part").Key(rule.key); k.For != nil && !holds(k.For, r.f.For) {
				hint = forWords(k)
			}
			r.Err(v.KeyPos(rule.key), "not-here", fmt.Sprintf("%q means nothing here", rule.key), hint)
		}
	}
	if v.Has("flow") && len(out.Across) == 0 && (out.Block != "" || v.Has("down")) {
		r.Err(v.KeyPos("flow"), "flow", "\"flow\" is for a row", "its columns go on on the next side, each by itself: {flow: true, across: [...]}")
	}
}

// table reads what tables of lights and cautions have of their own, and by what
// name a block goes.
func (r *formatReader) table(out placed, v setup.Value) placed {
	as := ""
	if b := grammar.FindBlock(out.Block); b != nil && len(b.As) > 0 {
		as = r.Word(v.Get("as"), b.As)
	}
	switch out.Block {
	case "cautions":
		short, run := r.YesNo(v.Get("short")), r.YesNo(v.Get("run"))
		out.Short, out.Run = short != nil && *short, run != nil && *run
		if out.Short && out.Run {
			r.Err(v.KeyPos("run"), "short-and-run", "\"run\" is given beside \"short\"", "cautions are in full or in their short form")
		}
	case "today":
		out.Columns = r.kept(defaultColumns("today", r.inner()))
		if c := v.Get("columns"); c.Given() {
			out.Columns = r.columns(c, "today")
		}
	case "lights":
		if c := v.Get("columns"); c.Given() {
			out.Columns = r.columns(c, "lights")
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
	default:
		out.As = as
	}
	return out
}
