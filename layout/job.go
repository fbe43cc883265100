package layout

import (
	"fmt"

	"stopleaf/exposure"
	"stopleaf/safety"
	"stopleaf/setup"
	"stopleaf/templates"
)

// Job is one setup with all that was derived from it, ready to be drawn.
type Job struct {
	Setup   *setup.Setup
	Numbers *exposure.Numbers
	Safety  []safety.Note
	Words   templates.Words
	Source  *Source // where the pages' file is to give the setup back

	// PhotoLong is how many pixels the longer side of every photo keeps, however
	// large it is printed, so that one that stands in many places is made and
	// embedded once. 0 is as many as its place needs.
	PhotoLong int
}

// PlanOptions says how a drawing alone is made.
type PlanOptions struct {
	View  string // "overhead" (default) or "side"
	Scale int    // denominator, 20 for 1:20; 0 picks the largest that fits
	Paper string // one of Papers; "" is the smallest ISO sheet from A4 up that takes it
}

// sheets are the ISO sizes across that a drawing may need, in millimetres.
var sheets = [][2]float64{{297, 210}, {420, 297}, {594, 420}, {841, 594}, {1189, 841}}

// Plan lays out the drawing alone: on the paper asked for, else on the smallest
// sheet from A4 up that takes it at the scale asked for.
func Plan(job Job, opt PlanOptions) (*Document, error) {
	choice := sheets
	if opt.Paper != "" {
		f, err := loadFormat("card", opt.Paper)
		if err != nil {
			return nil, err
		}
		choice = [][2]float64{{f.Width, f.Height}}
	}
	var d drawn
	var page Page
	for _, sheet := range choice {
		margin := 8.0
		if sheet[0] < 250 {
			margin = 5
		}
		page = Page{W: Mm(sheet[0]), H: Mm(sheet[1]), Margin: Mm(margin), Label: job.Setup.Code, Title: job.Setup.Title}
		box := Rect{Mm(margin), Mm(margin), page.W - Mm(2*margin), page.H - Mm(2*margin) - planStrip(planTitle(job, page))}
		d = draw(job, box, drawOptions{side: opt.View == "side", scale: opt.Scale, num: capLarge, fig: capUse})
		page.Items = planFrame(job, d, page)
		page.ScaleDenominator = d.scale.den
		if d.fits {
			break
		}
	}
	if !d.fits {
		last := choice[len(choice)-1]
		return nil, fmt.Errorf("the set does not fit on %.0f x %.0f mm at %s; take a smaller scale", last[0], last[1], d.scale.text)
	}
	page.Desc = d.group.Label
	page.addSources(job.Source)
	return &Document{Title: job.Setup.Title, Author: job.Setup.By, Created: job.Setup.Made, Lang: job.Words.T("lang"),
		Subject: d.group.Label, Keywords: keywords(job), Pages: []Page{page}}, nil
}

var (
	planCodeStyle  = style{cap: capTitle, bold: true, kind: "code", used: true}
	planTitleStyle = style{cap: capLarge, bold: true, kind: "title", used: true}
)

// planTitle is the title in the lines it takes beside the code.
func planTitle(job Job, page Page) []string {
	return wrap(job.Setup.Title, planTitleStyle, page.W-2*page.Margin-width(job.Setup.Code, planCodeStyle)-Mm(6))
}

// planStrip is how much of the sheet the title takes, the code at least.
func planStrip(title []string) Um {
	return max(Mm(14), Mm(6.5)+Um(len(title))*pitch(capLarge))
}

// planFrame puts a drawing under its title.
func planFrame(job Job, d drawn, page Page) []Item {
	p := &pen{}
	p.add(d.group)
	m := page.Margin
	lines := planTitle(job, page)
	y := page.H - m - planStrip(lines) + Mm(2.8)
	p.polyline("title-rule", lineOutline, nil, Point{m + lineOutline, y}, Point{page.W - m - lineOutline, y})
	p.textRight(page.W-m, y+Mm(3)+capTitle, job.Setup.Code, planCodeStyle)
	for i, s := range lines {
		p.text(m, y+Mm(2)+capLarge+Um(i)*pitch(capLarge), s, planTitleStyle)
	}
	return p.items
}
