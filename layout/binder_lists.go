package layout

import (
	"strings"
)

// inner is where a page that is no setup's has its blocks, on the narrower paper.
func (b *Binder) inner() Rect {
	f := b.sheet
	m := Mm(f.Margin)
	return Rect{m, m, Mm(f.Width) - 2*m, Mm(f.Height) - 2*m}.grow(-lineOutline / 2)
}

// strip is the foot of a page that is no setup's, as a sheet has it.
func (b *Binder) strip(what string, w Um) [][]titleCell {
	plain := style{cap: capUse, kind: "title", used: true}
	strong := style{cap: capLarge, bold: true, kind: "title", used: true}
	rows := [][]titleCell{{{caption: b.t("binder"), text: b.Title, st: strong, flex: true}}, nil}
	if b.Owner != "" {
		rows[1] = append(rows[1], titleCell{caption: b.Words.T("title.owner"), text: b.Owner, st: plain})
	}
	rows[1] = append(rows[1], titleCell{caption: b.t("holds"), text: what, st: plain, flex: true})
	return rows
}

// page begins a page that is no setup's: its title over a rule, its strip at the
// foot; body is what is left between them.
func (b *Binder) page(title, what string) (pg Page, p *pen, body Rect) {
	p = &pen{}
	in := b.inner()
	y := in.Y
	if title != "" {
		for _, s := range wrap(title, binderTitle, in.W) {
			y += pitch(binderTitle.cap)
			p.text(in.X, y-1600, s, binderTitle)
		}
		y += 600
		p.polyline("title-rule", lineFrame, nil, Point{in.X, y}, Point{in.right(), y})
		y += Mm(3)
	}
	rows := b.strip(what, in.W)
	h := rowsHeight(rows, in.W)
	drawTitleRows(p, Rect{in.X, in.bottom() - h, in.W, h}, rows)
	body = Rect{in.X, y, in.W, in.bottom() - h - Mm(3) - y}
	return Page{Title: what, Desc: b.Title + ": " + what}, p, body
}

var binderTitle = style{cap: capTitle, bold: true, kind: "title", used: true}

// flow stacks blocks on as many pages as they need; what lies on a page can be
// drawn on it by finish, which gets its number.
func (b *Binder) flow(title string, blocks ...block) []Page {
	var pages []Page
	for len(blocks) > 0 {
		head := title
		if len(pages) > 0 {
			head += " " + b.Words.T("table.continued")
		}
		pg, p, body := b.page(head, title)
		y := body.Y
		for len(blocks) > 0 {
			x := blocks[0]
			h := x.least(body.W)
			room := body.bottom() - y
			if h <= room {
				x.draw(p, Rect{body.X, y, body.W, h})
				y += h + Mm(4)
				blocks = blocks[1:]
				continue
			}
			first, rest := splitIn(x, body.W, room, y == body.Y)
			if first == nil {
				break
			}
			first.draw(p, Rect{body.X, y, body.W, room})
			if blocks = blocks[1:]; rest != nil {
				blocks = append([]block{rest}, blocks...)
			}
			break
		}
		pg.Items = append(p.items, rowLinks(p.items)...)
		pages = append(pages, pg)
	}
	return pages
}

// splitIn parts a block at a height; on an empty page it is parted at any price.
func splitIn(x block, w, h Um, alone bool) (first, rest block) {
	if s, ok := x.(splitter); ok {
		if first, rest = s.split(w, h); first != nil {
			return first, rest
		}
	}
	if c, ok := x.(cutter); ok && alone {
		if first, rest = c.cut(w, h); first != nil {
			return first, rest
		}
	}
	if alone {
		return x, nil
	}
	return nil, x
}

// leadsTo marks what is drawn as a way to a page; rowLinks makes links of it.
const leadsTo = "page "

// rowLinks are the links of the texts that lead to a page, one for those that
// stand together.
func rowLinks(items []Item) []Item {
	var out []Item
	var last *Link
	var of string
	Walk(items, func(it Item) {
		t, ok := it.(*Text)
		if !ok || !strings.HasPrefix(t.Of, leadsTo) {
			of = ""
			return
		}
		box := inkBox(t).grow(600)
		if t.Of == of {
			last.Rect = union(last.Rect, box)
			return
		}
		of = t.Of
		last = &Link{Rect: box, To: strings.TrimPrefix(t.Of, leadsTo)}
		out = append(out, last)
	})
	return out
}

func union(a, b Rect) Rect {
	x, y := min(a.X, b.X), min(a.Y, b.Y)
	return Rect{x, y, max(a.right(), b.right()) - x, max(a.bottom(), b.bottom()) - y}
}

// setupTable lists setups: code, title, date, page.
func (b *Binder) setupTable(title string, setups []*BinderSetup) *table {
	head := style{cap: capCaption, kind: "head"}
	plain := style{cap: capUse, kind: "contents", used: true}
	strong := plain
	strong.bold = true
	t := &table{title: title, small: style{cap: capUse, kind: "head", used: true}, more: b.Words.T("table.continued")}
	one := func(s string, st style) cell { return cell{{s: s, style: st, split: -1}} }
	columns := []column{
		{head: one(b.Words.T("title.code"), head), wraps: true},
		{head: one(b.Words.T("title.title"), head), wraps: true, minimum: b.inner().W * 6 / 10},
		{head: one(b.Words.T("title.date"), head)},
		{head: one(b.t("page"), head), wraps: true},
	}
	for _, s := range setups {
		made, name := "", s.Title
		if s.Setup != nil {
			made = s.Setup.Made
		} else {
			name = b.t("broken-line", "file", s.Path)
		}
		for i, c := range []cell{one(s.Code, strong), one(name, plain), one(made, plain), one(s.label(), plain)} {
			columns[i].cells = append(columns[i].cells, c)
		}
		t.of = append(t.of, leadsTo+s.label())
		t.tint = append(t.tint, false)
	}
	t.columns = columns
	return t
}

// label is that of a setup's first page.
func (s *BinderSetup) label() string { return s.pageLabel(0) }

// contents lists every setup, by sections.
func (b *Binder) contents() ([]Page, error) {
	var blocks []block
	for i := range b.Sections {
		if sec := &b.Sections[i]; len(sec.Setups) > 0 {
			blocks = append(blocks, b.setupTable(sec.Title, sec.Setups))
		}
	}
	pages := b.flow(b.t("contents"), blocks...)
	for i := range pages {
		Walk(pages[i].Items, func(it Item) {
			if l, ok := it.(*Link); ok {
				pages[i].Names = append(pages[i].Names, contentsOf(strings.TrimSuffix(l.To, "/1")))
			}
		})
	}
	return pages, nil
}

// divider is the page before a section: its title large, and what is in it.
func (b *Binder) divider(sec *BinderSection) ([]Page, error) {
	return b.flow(sec.Title, b.setupTable("", sec.Setups)), nil
}

// setupPages are the pages of one setup; of a broken one, what is wrong with it.
func (b *Binder) setupPages(s *BinderSetup) ([]Page, error) {
	job, faults, err := b.Open(s)
	if err != nil {
		return nil, err
	}
	if faults != nil {
		return b.brokenPages(s, faults), nil
	}
	job.PhotoLong = job.bookPhoto()
	pages, err := b.drawn(s, job)
	if err != nil {
		return b.brokenPages(s, []string{err.Error()}), nil
	}
	job.Source.from(pages)
	fitPhotos(pages)
	b.Laid(s, job) // which photos cannot be used is known now
	return listedUnder(pages, s), nil
}

func listedUnder(pages []Page, s *BinderSetup) []Page {
	for i := range pages {
		pages[i].listed = s.Code
		pages[i].About = nil
	}
	return pages
}

// brokenPages stand in the place of a setup that could not be read.
func (b *Binder) brokenPages(s *BinderSetup, faults []string) []Page {
	st := style{cap: capUse, kind: "note", used: true}
	p := &paragraphs{st: st, small: style{cap: capUse, kind: "head", used: true}, title: b.t("broken-why"), more: b.Words.T("table.continued")}
	for _, f := range faults {
		p.paras = append(p.paras, para{text: f})
	}
	lead := &paragraphs{st: style{cap: capLarge, kind: "note", used: true}, paras: []para{{text: b.t("broken", "file", s.Path)}}}
	pages := b.flow(s.Code, lead, p)
	for i := range pages {
		pages[i].Title, pages[i].Label = s.Code, s.pageLabel(i)
	}
	return listedUnder(pages, s)
}
