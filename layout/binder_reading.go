package layout

import (
	"fmt"

	"stopleaf/exposure"
	"stopleaf/safety"
	"stopleaf/setup"
	"stopleaf/templates"
)

// readingSetup is the starter that the page on reading a sheet draws.
const readingSetup = "starters/three-light-portrait.yaml"

// reading is the page that explains how to read a sheet: a plan drawn by the
// same code, and each of its signs with what it means.
func (b *Binder) reading() ([]Page, error) {
	job, err := b.exampleJob()
	if err != nil {
		return nil, err
	}
	title := b.t("reading")
	plan := &examplePlan{viewBlock{job: job, opt: drawOptions{num: capLarge, fig: capUse, tabled: true}, shown: true, limit: Mm(90)}}
	return b.flow(title, plan, b.legend(job)), nil
}

func (b *Binder) exampleJob() (Job, error) {
	src, err := templates.Read(readingSetup)
	if err != nil {
		return Job{}, err
	}
	s, problems := setup.Parse("example.yaml", src, setup.Options{NoPhotos: true})
	if problems.HasErrors() {
		return Job{}, fmt.Errorf("the example to read: %w", problems)
	}
	bases, err := s.ChooseBases("")
	if err != nil {
		return Job{}, err
	}
	n := exposure.Compute(s.Input(bases))
	return Job{Setup: s, Numbers: &n, Safety: safety.Notes(s, &n, b.Words), Words: b.Words}, nil
}

// examplePlan is a drawing of a fixed height.
type examplePlan struct{ viewBlock }

func (e *examplePlan) least(Um) Um { return e.limit }

// legend is a list of signs, each drawn as the plan draws it, or set as the
// tables set it, with what it means beside it.
type legend struct {
	rows []sign
	st   style
}

type sign struct {
	draw  func(d *drawing, r Rect) // nil for a text
	text  string
	small bool // set as small as it stands at the foot
	says  string
}

// signBox is where a sign stands before its words.
const (
	signBox  = Um(26000)
	signHigh = Um(8000)
)

// legend is every sign that needs a word.
func (b *Binder) legend(job Job) *splitLegend {
	drawnSign := func(key string, draw func(d *drawing, r Rect)) sign {
		return sign{draw: draw, says: b.t("read-" + key)}
	}
	written := func(key, text string) sign { return sign{text: text, says: b.t("read-" + key)} }
	level := func(kind string, w Um, dash []Um) func(*drawing, Rect) {
		return func(d *drawing, r Rect) {
			d.line(kind, w, dash, Point{r.X, r.mid().Y}, Point{r.right(), r.mid().Y})
		}
	}
	return &splitLegend{job: job, legend: legend{st: style{cap: capUse, kind: "note", used: true}, rows: []sign{
		drawnSign("number", func(d *drawing, r Rect) {
			at := r.mid()
			d.circle("balloon", at, d.radius(), lineOutline, grey(White))
			d.textMid(at.X, at.Y+capLarge/2, "3", style{cap: capLarge, kind: "number", used: true})
		}),
		drawnSign("aim", func(d *drawing, r Rect) {
			a, tip := Point{r.X, r.mid().Y}, Point{r.right(), r.mid().Y}
			d.line("aim", lineThin, dashAim(lineThin), a, tip)
			d.arrow(a, tip)
		}),
		drawnSign("face", level("face", lineFace, nil)),
		drawnSign("hidden", level("outline", lineOutline, dashHidden(lineOutline))),
		drawnSign("frame", level("frame-edge", lineGrid, dashFrame(lineGrid))),
		drawnSign("break", func(d *drawing, r Rect) {
			level("wall", lineThin, dashHidden(lineThin))(d, Rect{r.X, r.Y, r.W/2 - 1300, r.H})
			d.breakMark(r.mid(), false)
			level("wall", lineThin, dashHidden(lineThin))(d, Rect{r.mid().X + 1300, r.Y, r.W/2 - 1300, r.H})
		}),
		drawnSign("camera", func(d *drawing, r Rect) {
			c := Point{r.mid().X, r.mid().Y - 500}
			d.shape("outline", lineOutline, nil, grey(White), Point{c.X - 2000, c.Y}, Point{c.X + 2000, c.Y}, Point{c.X + 2000, c.Y + 2400}, Point{c.X - 2000, c.Y + 2400})
			d.shape("outline", lineOutline, nil, grey(White), Point{c.X - 900, c.Y}, Point{c.X - 900, c.Y - 1400}, Point{c.X + 900, c.Y - 1400}, Point{c.X + 900, c.Y})
		}),
		written("tenths", "f/8 +0.4"),
		written("under", deltaText(-1.6, b.Words)),
		written("over", deltaText(0.4, b.Words)),
		written("est", "est."),
		written("blank", b.Words.T("title.blank")),
		written("page", "B-014/2"),
		{text: "3f9a-72c1-0b4e", small: true, says: b.t("read-print")},
	}}}
}

// splitLegend sets a legend in two columns.
type splitLegend struct {
	job Job
	legend
}

func (l *splitLegend) empty() bool { return len(l.rows) == 0 }

func (l *splitLegend) stretches() bool { return false }

func (l *splitLegend) wide(w Um) Um { return (w - Mm(6)) / 2 }

func (l *splitLegend) lines(s sign, w Um) []string { return wrap(s.says, l.st, w-signBox-Mm(3)) }

func (l *splitLegend) high(s sign, w Um) Um {
	return max(signHigh, Um(len(l.lines(s, w)))*pitch(l.st.cap)+Mm(1.5))
}

// half is how many rows the left column has.
func (l *splitLegend) half() int { return (len(l.rows) + 1) / 2 }

func (l *splitLegend) least(w Um) Um {
	w = l.wide(w)
	var h [2]Um
	for i, s := range l.rows {
		h[i/l.half()] += l.high(s, w)
	}
	return max(h[0], h[1]) + Mm(1)
}

func (l *splitLegend) draw(p *pen, r Rect) {
	w := l.wide(r.W)
	for column := range 2 {
		y, x := r.Y, r.X+Um(column)*(w+Mm(6))
		p.polyline("rule", lineGrid, nil, Point{x, y}, Point{x + w, y})
		for i, s := range l.rows {
			if i/l.half() != column {
				continue
			}
			h := l.high(s, w)
			l.sign(p, s, Rect{x, y, w, h})
			y += h
			p.polyline("rule", lineGrid, nil, Point{x, y}, Point{x + w, y})
		}
	}
}

func (l *splitLegend) sign(p *pen, s sign, r Rect) {
	box := Rect{r.X + Mm(1), r.Y + 500, signBox - Mm(2), r.H - 1000}
	if s.draw != nil {
		d := newDrawing(l.job, box, drawScale{}, drawOptions{num: capLarge, fig: capUse})
		d.ink, d.hard = newGrid(box), newGrid(box)
		s.draw(d, box)
		p.add(d.items...)
	} else {
		st := style{cap: capUse, bold: true, kind: "figure", used: true}
		if s.small {
			st = printStyle
		}
		p.text(r.X+Mm(1), r.mid().Y+st.cap/2, s.text, st)
	}
	lines := l.lines(s, r.W)
	y := r.mid().Y - Um(len(lines))*pitch(l.st.cap)/2 + (pitch(l.st.cap)+l.st.cap)/2
	for _, t := range lines {
		p.text(r.X+signBox+Mm(3), y, t, l.st)
		y += pitch(l.st.cap)
	}
}
