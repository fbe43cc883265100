package layout

import "strconv"

// cardGap is between the frames of two sides of a card on a page.
const cardGap = Um(3000)

// pairedSides sets the sides of one setup's card two to a page. A page is one
// setup's alone, so that a setup more, or a side more, changes the pages of no
// other: this takes 191 pages of A4 for the demos and the first sixty random
// setups, where two setups that share a page would take 186 (their cards have
// two to fifteen sides, four most often).
func (b *Binder) pairedSides(s *BinderSetup, sides []Page) []Page {
	var pages []Page
	for at := 0; at < len(sides); at += 2 {
		pg := sides[at]
		pg.Label = s.pageLabel(len(pages))
		if at+1 < len(sides) {
			low := sides[at+1]
			shift(low.Items, 0, Mm(b.card.Height-2*b.card.Margin)+cardGap)
			rename(low.Items, "2")
			pg.Items = append(pg.Items, low.Items...)
			pg.Desc += " " + low.Desc
			pg.addSources(low.Sources...)
		}
		pages = append(pages, pg)
	}
	return pages
}

// pageLabel is that of a page of a setup, counted from 0.
func (s *BinderSetup) pageLabel(n int) string { return s.Code + "/" + strconv.Itoa(n+1) }

// drawn are the pages of a setup in the form that the binder has.
func (b *Binder) drawn(s *BinderSetup, job Job) ([]Page, error) {
	if b.As != "card" {
		return sheetPages(job, b.sheet)
	}
	sides, err := cardPages(job, b.card, backSide)
	return b.pairedSides(s, sides), err
}
