package layout

// cardGap is between the frames of two cards on a page.
const cardGap = Um(3000)

// cardPiece holds the cards of two setups, two sides to a page. Pairs are made
// within a section and each begins a page, so that a side more or less moves no
// other pair.
func (b *Binder) cardPiece(pair []*BinderSetup, under int) binderPiece {
	p := binderPiece{title: pair[0].Code, code: pair[0].Code, under: under, make: func() ([]Page, error) { return b.cardPages(pair) }}
	if len(pair) > 1 {
		p.title += ", " + pair[1].Code
	} else {
		p.title += "  " + pair[0].Title
	}
	return p
}

func (b *Binder) cardPages(pair []*BinderSetup) ([]Page, error) {
	var sides, broken []Page
	for _, s := range pair {
		job, faults, err := b.Open(s)
		if err != nil {
			return nil, err
		}
		var made []Page
		if faults == nil {
			if made, err = cardPages(job, b.card); err != nil {
				faults = []string{err.Error()}
			}
		}
		if faults != nil {
			broken = append(broken, b.brokenPages(s, faults)...)
			continue
		}
		job.Source.from(made)
		b.Laid(job)
		sides = append(sides, listedUnder(made, s)...)
	}
	var pages []Page
	for at := 0; at < len(sides); at += 2 {
		pg := sides[at]
		pg.Names = []string{pg.Label}
		if at+1 < len(sides) {
			low := sides[at+1]
			pg.Items = append(pg.Items, shifted(low.Items, 0, Mm(b.card.Height-2*b.card.Margin)+cardGap, "2")...)
			pg.Names = append(pg.Names, low.Label)
			pg.Label += " " + low.Label
			if low.listed != pg.listed {
				pg.Title += "; " + low.Title
			}
			pg.Desc += " " + low.Desc
			pg.addSources(low.Sources...)
		}
		pages = append(pages, pg)
	}
	return append(pages, broken...), nil
}
