package layout

import (
	"fmt"
	"strconv"
	"strings"

	"stopleaf/setup"
	"stopleaf/templates"
)

// Binder is a binder of many setups before it is laid out. Its pages are made in
// pieces, so that no more than a few are held at once: the front, the contents,
// each section's divider, each setup, the indexes, the kit. A page is labelled code/page
// by its own piece, so that what is added to a binder renumbers nothing.
type Binder struct {
	Title, Owner string
	Paper        string // one of SheetPapers; "" is "a4"
	Holes        string // one of BinderHoles; "" is two on A4, three on Letter
	Duplex       bool   // printed on both sides: gutters mirrored, each piece begins on a right-hand page
	As           string // one of BinderForms; "" is "sheet"
	Words        templates.Words
	Sections     []BinderSection

	// Open reads a setup again, with its pictures, when its turn comes; one that
	// gives faults instead has a page that says so. It is called in several
	// goroutines at once.
	Open func(s *BinderSetup) (Job, []string, error)

	// Laid is told of each setup once it is laid out; it is called likewise.
	Laid func(s *BinderSetup, job Job)

	size        Rect    // of a page
	sheet, card *format // narrower by the gutter, lower by the foot
	reserved    map[string]string
	pieces      []binderPiece
}

// BinderSection is a part of a binder behind a divider; a title of "" has none.
type BinderSection struct {
	Title  string
	Setups []*BinderSetup
}

// BinderSetup is one setup of a binder.
type BinderSetup struct {
	Path   string
	Code   string
	Title  string
	Setup  *setup.Setup // without its pictures; nil for a broken one
	Ratio  *float64     // key to fill
	Faults []string     // what is wrong with a broken one, a line each
}

// BinderForms are the forms that a setup may have in a binder.
func BinderForms() []string { return []string{"sheet", "card"} }

// binderPiece is a run of pages that is laid out by itself.
type binderPiece struct {
	title string // for the outline; "" for none
	code  string // of its page labels
	name  string // by which links reach its first page, besides its label
	under int    // how deep in the outline
	make  func() ([]Page, error)
}

// Prepare settles what the pieces are. It must be called once, before Pieces.
func (b *Binder) Prepare() error {
	if b.Paper == "" {
		b.Paper = "a4"
	}
	if !holds(SheetPapers(), b.Paper) {
		return unknownPaper(b.Paper, SheetPapers())
	}
	if b.As == "" {
		b.As = "sheet"
	}
	if !holds(BinderForms(), b.As) {
		return fmt.Errorf("a binder is not made as %q; there are %s", b.As, strings.Join(BinderForms(), ", "))
	}
	if b.Holes == "" {
		b.Holes = "2"
		if b.Paper == "letter" {
			b.Holes = "3"
		}
	}
	if !holds(BinderHoles(), b.Holes) {
		return fmt.Errorf("holes %q are not known; there are %s", b.Holes, strings.Join(BinderHoles(), ", "))
	}
	if err := b.formats(); err != nil {
		return err
	}
	b.reserve()
	b.divide()
	return nil
}

// formats are the built-in ones on a paper narrower by the gutter and lower by
// the foot.
func (b *Binder) formats() error {
	sheet, err := loadFormat("sheet", b.Paper)
	if err != nil {
		return err
	}
	b.size = Rect{0, 0, Mm(sheet.Width), Mm(sheet.Height)}
	sheet.Width -= b.gutter().Mm()
	sheet.Height -= binderFoot.Mm()
	b.sheet = sheet
	half := map[string]string{"a4": "a5", "letter": "half-letter"}[b.Paper]
	card, err := loadFormat("card", half)
	if err != nil {
		return err
	}
	card.Margin = sheet.Margin
	card.Width, card.Height = sheet.Width, (sheet.Height+2*card.Margin-cardGap.Mm())/2
	b.card = card
	return nil
}

// reserve finds codes for the pages that are no setup's: one that a setup has
// is doubled until it is free.
func (b *Binder) reserve() {
	taken := map[string]bool{}
	for _, s := range b.all() {
		taken[strings.ToLower(s.Code)] = true
	}
	b.reserved = map[string]string{}
	for _, c := range []string{"C", "X", "K"} {
		code := c
		for taken[strings.ToLower(code)] {
			code += c
		}
		b.reserved[c] = code
	}
	for i := range b.Sections {
		c := "S" + strconv.Itoa(i+1)
		code := c
		for taken[strings.ToLower(code)] {
			code = "S" + code
		}
		b.reserved[c] = code
	}
}

func (b *Binder) all() []*BinderSetup {
	var out []*BinderSetup
	for i := range b.Sections {
		out = append(out, b.Sections[i].Setups...)
	}
	return out
}

func (b *Binder) t(key string, pairs ...string) string { return b.Words.T("binder."+key, pairs...) }

// divide lists the pieces in the order of the pages.
func (b *Binder) divide() {
	put := func(p binderPiece) { b.pieces = append(b.pieces, p) }
	put(binderPiece{title: b.Title, name: "cover", make: b.front})
	put(binderPiece{title: b.t("contents"), code: b.reserved["C"], name: "contents", make: b.contents})
	for i := range b.Sections {
		sec := &b.Sections[i]
		under := 0
		if sec.Title != "" {
			put(binderPiece{title: sec.Title, code: b.reserved["S"+strconv.Itoa(i+1)], make: func() ([]Page, error) { return b.divider(sec) }})
			under = 1
		}
		for _, s := range sec.Setups {
			put(binderPiece{title: s.Code + "  " + s.Title, code: s.Code, under: under, make: func() ([]Page, error) { return b.setupPages(s) }})
		}
	}
	put(binderPiece{title: b.t("indexes"), code: b.reserved["X"], name: "indexes", make: b.indexes})
	put(binderPiece{title: b.t("kit"), code: b.reserved["K"], name: "kit", make: b.kitOver})
}

// Pieces is how many there are.
func (b *Binder) Pieces() int { return len(b.pieces) }

// Piece lays out one; it may run in several goroutines at once.
func (b *Binder) Piece(i int) ([]Page, error) {
	p := &b.pieces[i]
	pages, err := p.make()
	if err != nil {
		return nil, err
	}
	fitPhotos(pages)
	if b.Duplex && len(pages)%2 == 1 {
		pages = append(pages, b.blankBack(p))
	}
	for n := range pages {
		if pages[n].Label == "" {
			pages[n].Label = p.label(n)
		}
		b.place(&pages[n], n)
	}
	if p.name != "" {
		pages[0].Names = append(pages[0].Names, p.name)
	}
	return pages, nil
}

// label is that of a page of the piece: code/page, or a roman figure at the front.
func (p *binderPiece) label(n int) string {
	if p.code == "" {
		return roman(n + 1)
	}
	return p.code + "/" + strconv.Itoa(n+1)
}

// blankBack is the empty side behind the last page of a piece.
func (b *Binder) blankBack(p *binderPiece) Page {
	return Page{Title: p.title, Desc: b.t("blank-side")}
}

// roman is a small number in roman figures.
func roman(n int) string {
	var out strings.Builder
	for _, d := range []struct {
		n int
		s string
	}{{10, "x"}, {9, "ix"}, {5, "v"}, {4, "iv"}, {1, "i"}} {
		for ; n >= d.n; n -= d.n {
			out.WriteString(d.s)
		}
	}
	return out.String()
}

// Document is what is said of the binder as a whole, with its outline and
// without its pages. Each piece is reached by the label that first gives for it;
// one for which that is "" has no entry.
func (b *Binder) Document(first func(piece int) string) *Document {
	from, to := b.dates()
	doc := &Document{Title: b.Title, Author: b.Owner, Created: to, Lang: b.Words.T("lang"), Subject: b.about(from, to), Duplex: b.Duplex, Outline: []Entry{}}
	divided := false // whether the last divider has an entry
	for i := range b.pieces {
		p := &b.pieces[i]
		e := Entry{Title: p.title, To: first(i)}
		if p.under == 0 {
			divided = e.To != ""
		}
		switch n := len(doc.Outline); {
		case e.To == "":
		case p.under == 1 && divided:
			doc.Outline[n-1].Under = append(doc.Outline[n-1].Under, e)
		default:
			doc.Outline = append(doc.Outline, e)
		}
	}
	return doc
}

// Lists says whether a piece is the contents, the indexes or the kit over all,
// which go with all the others.
func (b *Binder) Lists(piece int) bool {
	return holds([]string{"contents", "indexes", "kit"}, b.pieces[piece].name)
}

// dates are the first and the last date of a setup; "" where none has one.
func (b *Binder) dates() (first, last string) {
	for _, s := range b.all() {
		if s.Setup == nil || s.Setup.Made == "" {
			continue
		}
		if d := s.Setup.Made; first == "" || d < first {
			first = d
		}
		last = max(last, s.Setup.Made)
	}
	return first, last
}

// about is how many setups there are, and from when to when.
func (b *Binder) about(first, last string) string {
	n := strconv.Itoa(len(b.all()))
	switch {
	case len(b.all()) == 1 && first == "":
		return b.t("one")
	case len(b.all()) == 1:
		return b.t("one-dated", "date", first)
	case first == "":
		return b.t("count", "n", n)
	case first == last:
		return b.t("count-dated", "n", n, "date", first)
	}
	return b.t("count-range", "n", n, "first", first, "last", last)
}
