package layout

import (
	"fmt"
	"strconv"
	"strings"
)

// cutCard is one card as it is cut from a sheet: its front and, printed on both
// sides, its back.
type cutCard struct {
	front, back *Page
}

// cutCards makes them of cards: one for every side, or one for every two of
// them, with a back that says whose it is where nothing else goes there.
func cutCards(job Job, f *format, cards []standCard, duplex bool) ([]cutCard, error) {
	var out []cutCard
	for _, c := range cards {
		for k := 0; k < len(c.sides); k++ {
			l := cutCard{front: &c.sides[k]}
			if duplex {
				if k++; k < len(c.sides) {
					l.back = &c.sides[k]
				} else {
					back, err := standBack(job, f, c.item, l.front.Label)
					if err != nil {
						return nil, err
					}
					l.back = back
				}
			}
			out = append(out, l)
		}
	}
	return out, nil
}

// standBack is a back with the number, the name and the setup's code, to tell a
// card by when it lies face down.
func standBack(job Job, f *format, it standItem, front string) (*Page, error) {
	pg := &Page{W: Mm(f.Width), H: Mm(f.Height), Margin: Mm(f.Margin), Label: front + "-back",
		Title: it.said(),
		Desc:  job.Words.T("stands.back-desc", "number", strconv.Itoa(it.number), "name", it.name, "title", job.Setup.Title)}
	room := pg.H - pg.Margin
	var end Um
	for _, number := range []Um{20000, capNumber, capFar} {
		if pg.Items, end = backItems(job, it, pg, number); end <= room {
			return pg, nil
		}
	}
	b := builder{job: job, f: f, of: it.said()}
	return nil, b.refuse("its back takes %s mm of height, and has %s; take a larger page, or leave --duplex out", mm(end.Mm()), mm(room.Mm()))
}

// backItems are the words of a back, the number so large, and where they end.
func backItems(job Job, it standItem, pg *Page, number Um) ([]Item, Um) {
	p := &pen{of: it.of}
	w := pg.W - 2*pg.Margin - Mm(8)
	y := pg.H / 5
	put := func(s string, bold bool, kind string, caps ...Um) {
		var st style
		var lines []string
		for _, c := range caps {
			st = style{cap: c, bold: bold, kind: kind, used: true}
			if lines = wrap(s, st, w); len(lines) <= 2 && fitsWords(s, st, w) {
				break
			}
		}
		y += headroomOf(lines, st.cap)
		for _, s := range lines {
			p.textMid(pg.W/2, y+st.cap, s, st)
			y += pitch(st.cap)
		}
		y += st.cap / 2
	}
	put(job.Setup.Code, true, "code", capFar, 7000, capTitle, capLarge, capUse)
	put(strconv.Itoa(it.number), true, "number", number)
	put(it.name, true, "name", capTitle, capLarge, capUse)
	put(job.Setup.Title, false, "title", capLarge, capUse)
	return p.items, y
}

// imposed puts cards on paper: each side a page where the format is one card,
// else several to a sheet. A sheet's back follows it.
func imposed(cards []cutCard, f *format, duplex bool) []Page {
	var out []Page
	if f.Sheet.Width == 0 {
		for _, l := range cards {
			out = append(out, *l.front)
			if duplex {
				out = append(out, *l.back)
			}
		}
		return out
	}
	places := f.Sheet.Across * f.Sheet.Down
	sheets := (len(cards) + places - 1) / places
	for s := 0; s < sheets; s++ {
		var fronts, backs []*Page
		for pos := 0; pos < places; pos++ {
			// The pile cut from each place follows that from the place before,
			// so that the piles laid on each other stay in order.
			l := cutCard{}
			if k := pos*sheets + s; k < len(cards) {
				l = cards[k]
			}
			fronts, backs = append(fronts, l.front), append(backs, l.back)
		}
		out = append(out, sheetOf(fronts, f, s, false))
		if duplex {
			out = append(out, sheetOf(backs, f, s, true))
		}
	}
	return out
}

// cardRect is where the card at a place stands on a sheet, or its back on the
// sheet's back when that is turned over about its long edge, which is upright:
// the columns change sides.
func cardRect(f *format, pos int, back bool) Rect {
	col, row := Um(pos%f.Sheet.Across), Um(pos/f.Sheet.Across)
	w, h := Mm(f.Width), Mm(f.Height)
	left, top := (Mm(f.Sheet.Width)-Um(f.Sheet.Across)*w)/2, (Mm(f.Sheet.Height)-Um(f.Sheet.Down)*h)/2
	r := Rect{left + col*w, top + row*h, w, h}
	if back {
		r.X = Mm(f.Sheet.Width) - r.right()
	}
	return r
}

// cutMargin is kept clear of ink at the edge of a sheet; cutGap is the space
// between a card's corner and the mark outside it, which is no longer than
// cutMark.
const (
	cutMargin = Um(4000)
	cutGap    = Um(800)
	cutMark   = Um(5000)
)

func sheetOf(cards []*Page, f *format, n int, back bool) Page {
	pg := Page{W: Mm(f.Sheet.Width), H: Mm(f.Sheet.Height), Margin: cutMargin}
	p := &pen{}
	var names []string
	for pos, c := range cards {
		if c == nil {
			continue
		}
		r := cardRect(f, pos, back)
		shift(c.Items, r.X, r.Y)
		rename(c.Items, strconv.Itoa(pos+1))
		p.add(&Group{ID: "card-" + strconv.Itoa(pos+1), Label: c.Desc, Items: c.Items})
		if len(names) == 0 {
			pg.ScaleDenominator, pg.Label = c.ScaleDenominator, c.Label+"-sheet"
		} else if pg.ScaleDenominator != c.ScaleDenominator {
			pg.ScaleDenominator = 0
		}
		names = append(names, c.Title)
		pg.addSources(c.Sources...)
	}
	pg.Title = fmt.Sprintf("%d", n+1)
	pg.Desc = strings.Join(names, "; ")
	pg.Title += ": " + pg.Desc
	cutMarks(p, f)
	pg.Items = p.items
	return pg
}

// cutMarks draws the ends of every cut, outside the cards.
func cutMarks(p *pen, f *format) {
	first := cardRect(f, 0, false)
	last := cardRect(f, f.Sheet.Across*f.Sheet.Down-1, false)
	mark := func(a, b Point) { p.polyline("cut", lineGrid, nil, a, b) }
	long := func(margin Um) Um { return min(cutMark, margin-cutGap-cutMargin-lineGrid) }
	up, left := long(first.Y), long(first.X)
	for c := 0; c <= f.Sheet.Across; c++ {
		x := first.X + Um(c)*first.W
		mark(Point{x, first.Y - cutGap - up}, Point{x, first.Y - cutGap})
		mark(Point{x, last.bottom() + cutGap}, Point{x, last.bottom() + cutGap + up})
	}
	for r := 0; r <= f.Sheet.Down; r++ {
		y := first.Y + Um(r)*first.H
		mark(Point{first.X - cutGap - left, y}, Point{first.X - cutGap, y})
		mark(Point{last.right() + cutGap, y}, Point{last.right() + cutGap + left, y})
	}
}
