package layout

import (
	"fmt"
	"math"

	"stopleaf/setup"
)

// The bounds of a paper that cards are cut from, millimetres: the cut marks
// stand in its margin.
const (
	leastCutMargin = 7.0
	usualCutMargin = 8.0
	mostCut        = 20 // cards beside each other, or one below the other
)

// cutSheetOf gives the papers that are known by name, upright, millimetres.
func cutSheetOf(name string) cutSheet {
	s := cutSheet{Width: 210, Height: 297, Margin: usualCutMargin}
	if name == "letter" {
		s.Width, s.Height = 215.9, 279.4
	}
	return s
}

// cutFrom reads the paper that stand cards are laid out on, to be cut apart: by
// name, or with its size.
func (r *formatReader) cutFrom() {
	v := r.Top().Get("sheet")
	if !v.Given() || r.f.For != "stands" {
		return
	}
	var s cutSheet
	if v.IsText() {
		name := r.Word(v, r.words("sheet"))
		if name == "" {
			return
		}
		s = cutSheetOf(name)
	} else {
		s = r.cutSize(v)
	}
	if r.Problems().HasErrors() {
		return
	}
	if s.Height < s.Width {
		r.Err(v.Pos(), "cut-sheet", fmt.Sprintf("a sheet of %s x %s mm lies on its side", mm(s.Width), mm(s.Height)), "give it upright: a printer turns it over about its long edge")
		return
	}
	r.cutCount(&s, v)
	r.f.Sheet = s
}

// cutSize reads a paper's size, and how many cards are cut from it where that is
// said.
func (r *formatReader) cutSize(v setup.Value) cutSheet {
	s := cutSheet{Margin: usualCutMargin}
	for _, l := range []struct {
		key, what   string
		into        *float64
		least, most float64
		needed      bool
	}{
		{"width", "a sheet of", &s.Width, leastPage, mostPage, true},
		{"height", "a sheet of", &s.Height, leastPage, mostPage, true},
		{"margin", "a margin of", &s.Margin, leastCutMargin, mostMargin, false},
	} {
		if mm := r.Millimetres(v.Get(l.key), l.what, l.least, l.most); mm != nil {
			*l.into = *mm
		} else if l.needed && !v.Has(l.key) {
			r.Err(v.Pos(), "no-"+l.key, fmt.Sprintf("the sheet has no %q", l.key), "write it in millimetres, or name the sheet: sheet: a4")
		}
	}
	for _, n := range []struct {
		key  string
		into *int
	}{{"across", &s.Across}, {"down", &s.Down}} {
		many := r.Number(v.Get(n.key), "a number of cards of", "", 1, mostCut)
		switch {
		case many == nil:
		case *many != math.Trunc(*many):
			r.Err(v.Get(n.key).Pos(), "number", fmt.Sprintf("%q is no number of cards", v.Get(n.key).Text()), "write a whole number")
		default:
			*n.into = int(*many)
		}
	}
	return s
}

// cutCount takes as many cards as go on the sheet, or refuses more than that.
func (r *formatReader) cutCount(s *cutSheet, v setup.Value) {
	for _, d := range []struct {
		key         string
		into        *int
		sheet, card float64
	}{
		{"across", &s.Across, s.Width, r.f.Width},
		{"down", &s.Down, s.Height, r.f.Height},
	} {
		room := d.sheet - 2*s.Margin
		fit := min(mostCut, int((room+1e-6)/d.card))
		switch {
		case fit == 0:
			r.Err(v.Pos(), "cut-sheet", fmt.Sprintf("a card of %s x %s mm does not go on a sheet of %s x %s mm with margins of %s", mm(r.f.Width), mm(r.f.Height), mm(s.Width), mm(s.Height), mm(s.Margin)),
				"make the card smaller, take a larger sheet, or leave \"sheet\" out")
			return
		case *d.into > fit:
			r.Err(v.Get(d.key).Pos(), "cut-sheet", fmt.Sprintf("%d cards of %s mm with margins of %s take %s mm, and the sheet has %s", *d.into, mm(d.card), mm(s.Margin),
				mm(float64(*d.into)*d.card+2*s.Margin), mm(d.sheet)), fmt.Sprintf("at most: %d", fit))
		case *d.into == 0:
			*d.into = fit
		}
	}
}
