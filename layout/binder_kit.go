package layout

import (
	"strconv"
	"strings"

	"stopleaf/kit"
	"stopleaf/setup"
)

// fewSetups is how many setups are named that ask for as many of a thing as any.
const fewSetups = 5

// kitOver is what all setups of the binder need, each thing as often as the
// hungriest of them; nothing where no setup can be read.
func (b *Binder) kitOver() ([]Page, error) {
	var setups []*setup.Setup
	for _, s := range b.all() {
		if s.Setup != nil {
			setups = append(setups, s.Setup)
		}
	}
	list := kit.For(setups...)
	job := packJob(list, b.Words)
	g := newRuled(job, b.sheet, "")
	sort := ""
	for i, row := range KitRows(list, b.Words) {
		g.row("kit", false)
		if row.Sort != sort {
			sort = row.Sort
			g.cell("sort", sort, false)
		}
		g.cell("count", row.Count, true)
		g.cell("what", row.What, false)
		g.cell("for", b.hungriest(list, &list.Items[i]), false)
	}
	for i, what := range list.Always {
		g.row("always", false)
		if i == 0 {
			g.cell("sort", b.Words.T("pack.always"), false)
		}
		g.cell("what", what, false)
	}
	under := &paragraphs{st: indexText, paras: []para{{text: b.t("kit-under")}}}
	if g.empty() {
		under.paras[0].text = b.t("kit-none")
		return b.flow(b.t("kit"), under), nil
	}
	return b.flow(b.t("kit"), under, g.table(), packSums(list, job, b.sheet)), nil
}

// hungriest names the first setups that need as many of a thing as any.
func (b *Binder) hungriest(l *kit.List, it *kit.Item) string {
	var codes []string
	for _, a := range it.Asked {
		if a.N == it.N {
			codes = append(codes, kit.Called(l.Setups[a.Setup]))
		}
	}
	if n := len(codes); n > fewSetups+1 {
		return b.t("kit-more", "codes", strings.Join(codes[:fewSetups], ", "), "n", strconv.Itoa(n-fewSetups))
	}
	return strings.Join(codes, ", ")
}
