package layout

// stopTable is the page of stops as f-numbers, ratios and powers, the figures of
// the back of the form.
func (b *Binder) stopTable() Page {
	title := b.t("stops")
	pg, p, r := b.page(title, title)
	form := &blankForm{words: b.Words, small: style{cap: capCaption, kind: "caption"}, lead: style{cap: capUse, bold: true, kind: "caption"}}
	g := grid{p: p, fig: style{cap: capUse, kind: "figure", used: true}, small: form.small, lead: form.lead, line: Mm(5.2)}
	t := form.t
	y := g.title(t("stops-title"), r)
	y = g.head(Rect{r.X, y, r.W, 0}, stopHeads(t("stops-mark")))
	for _, row := range stopRows() {
		y = g.row(Rect{r.X, y, r.W, 0}, row, 13, true)
	}
	y = g.foot(t("stops-example"), Rect{r.X, y, r.W, 0}) + Mm(5)
	y = g.title(t("ratio-title"), Rect{r.X, y, r.W, 0})
	y = form.ratios(g, Rect{r.X, y, r.W, 0}) + Mm(5)
	form.power(g, Rect{r.X, y, r.W * 6 / 10, 0})
	pg.Items = p.items
	return pg
}
