package layout

import (
	"fmt"
	"strconv"

	"stopleaf/setup"
	"stopleaf/templates"
)

// BlankOptions says how the form to fill in by hand is made.
type BlankOptions struct {
	Paper string      // one of BlankPapers; "" is "a5"
	Units setup.Units // of a form without a setup; "" is feet on US papers, else metres
}

// BlankPapers lists the papers of the form, all across.
func BlankPapers() []string { return []string{"a5", "a4", "letter", "half-letter"} }

// Blank lays out a form to fill in by hand: fields, a dotted plan and a row for
// each light on the front, stops as f-numbers, ratios and powers on the back.
// With a job its lights, their modifiers and the room are filled in; without
// one (nil) there are eight empty rows. What does not fit on the front goes to
// further sides after the back.
func Blank(job *Job, words templates.Words, opt BlankOptions) (*Document, error) {
	if opt.Paper == "" {
		opt.Paper = "a5"
	}
	if !holds(BlankPapers(), opt.Paper) {
		return nil, unknownPaper(opt.Paper, BlankPapers())
	}
	f, err := loadFormat("card", opt.Paper)
	if err != nil {
		return nil, err
	}
	b := newBlankForm(job, words, opt.Units, f)
	doc := &Document{Title: words.T("blank.name"), Subject: words.T("blank.desc"), Lang: words.T("lang")}
	if job != nil {
		doc.Title, doc.Author, doc.Created = job.Setup.Title, job.Setup.By, job.Setup.Made
		doc.Subject = words.T("blank.desc-of", "title", job.Setup.Title)
		doc.Keywords = keywords(*job)
	}
	front, next, err := b.front()
	if err != nil {
		return nil, err
	}
	doc.Pages = append(doc.Pages, front, b.stops())
	for next < len(b.rows) {
		page, after := b.further(next, len(doc.Pages))
		if after == next {
			return nil, b.tooMuch(fmt.Sprintf("the row of %q", b.rows[next].name))
		}
		next = after
		doc.Pages = append(doc.Pages, page)
	}
	name := "blank"
	if job != nil {
		name = job.Setup.Code
	}
	if job != nil {
		job.Source.from(doc.Pages)
	}
	for i := range doc.Pages {
		doc.Pages[i].Label = name + "/" + strconv.Itoa(i+1)
	}
	return doc, nil
}

// blankForm is what the sides of one form have in common.
type blankForm struct {
	job   *Job // nil for a form without a setup
	words templates.Words
	units setup.Units
	page  Page // an empty one
	inner Rect
	line  Um // from one ruled line to the next
	small style
	lead  style
	text  style
	cols  []blankColumn
	rows  []blankRow
}

func newBlankForm(job *Job, words templates.Words, units setup.Units, f *format) *blankForm {
	b := &blankForm{job: job, words: words, units: units,
		page:  Page{W: Mm(f.Width), H: Mm(f.Height), Margin: Mm(f.Margin)},
		line:  7000,
		small: style{cap: capCaption, kind: "caption"},
		lead:  style{cap: capCaption, bold: true, kind: "caption"},
		text:  style{cap: capUse, kind: "figure", used: true},
	}
	b.inner = Rect{b.page.Margin, b.page.Margin, b.page.W - 2*b.page.Margin, b.page.H - 2*b.page.Margin}.grow(-lineFace / 2)
	if b.inner.H > Mm(160) {
		b.line = 8500
		b.small.cap, b.lead.cap = capUse, capUse
	}
	if job != nil {
		b.units = job.Setup.Units
	} else if b.units == "" {
		if b.units = setup.Metres; f.Name == "letter" || f.Name == "half-letter" {
			b.units = setup.Feet
		}
	}
	b.columns()
	b.lights()
	return b
}

func (b *blankForm) t(key string, pairs ...string) string { return b.words.T("blank."+key, pairs...) }

// tooMuch is the error for what fits no side.
func (b *blankForm) tooMuch(what string) error {
	return fmt.Errorf("%s is too long for a form of %.0f x %.0f mm; take a larger paper, or shorten it", what, b.page.W.Mm(), b.page.H.Mm())
}

const blankGap = Um(1500) // between the blocks of a form

// front is the first side, and the first row that has no room on it.
func (b *blankForm) front() (Page, int, error) {
	p := &pen{}
	y := b.inner.Y
	head := b.headFields()
	y += b.drawLines(p, Rect{b.inner.X, y, b.inner.W, 0}, head)
	y += blankGap
	planW := b.inner.W * 45 / 100
	right := Rect{b.inner.X + planW + 3*blankGap, y, b.inner.W - planW - 3*blankGap, 0}
	fields := b.fields()
	least := b.heightOf(fields, right.W) + b.line // and a line of notes
	room := b.inner.bottom() - y - blankGap
	if least > room {
		return Page{}, 0, b.tooMuch("what is filled in")
	}
	next, tableH := b.fit(0, room-least)
	planH := min(room-tableH, planW)
	planH = max(planH, least)
	scale := b.plan(p, Rect{b.inner.X, y, planW, planH})
	used := b.drawLines(p, right, fields)
	right.Y, right.H = right.Y+used, planH-used
	b.notes(p, right)
	y += planH + blankGap
	b.table(p, Rect{b.inner.X, y, b.inner.W, tableH}, 0, next)
	y += tableH
	b.notes(p, Rect{b.inner.X, y, b.inner.W, b.inner.bottom() - y})
	page := b.page
	page.Items, page.ScaleDenominator = p.items, scale.den
	page.Title, page.Desc = b.t("name"), b.t("form-desc", "n", "1")
	return page, next, nil
}

// further is a side of rows that had no room before it.
func (b *blankForm) further(from, n int) (Page, int) {
	p := &pen{}
	y := b.inner.Y + b.lead.cap*21/20
	p.text(b.inner.X, y, b.t("continued"), b.lead)
	y += blankGap
	next, h := b.fit(from, b.inner.bottom()-y)
	b.table(p, Rect{b.inner.X, y, b.inner.W, h}, from, next)
	y += h
	b.notes(p, Rect{b.inner.X, y, b.inner.W, b.inner.bottom() - y})
	page := b.page
	page.Items = p.items
	page.Title, page.Desc = b.t("name"), b.t("form-desc", "n", strconv.Itoa(n+1))
	return page, next
}

// notes rules what is left of a box for notes.
func (b *blankForm) notes(p *pen, r Rect) {
	for i := Um(1); i*b.line <= r.H; i++ {
		x, y := r.X, r.Y+i*b.line
		if i == 1 {
			x = p.text(x, y-lineThin-900, b.t("notes"), b.lead).X + width(b.t("notes"), b.lead) + 1500
		}
		p.polyline("blank", lineGrid, nil, Point{x, y - lineThin}, Point{r.right(), y - lineThin})
	}
}
