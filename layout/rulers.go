package layout

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"stopleaf/exposure/apex"
)

// rulers draws one ruler of differences and, under it, one for each base,
// aligned, so that a vertical through a light's mark reads its target at every
// base.
type rulers struct {
	job Job
	f   *format
}

func (b *rulers) empty() bool { return len(b.job.Numbers.Lights) == 0 }

func (b *rulers) stretches() bool { return false }

func (b *rulers) least(w Um) Um {
	if len(b.job.Numbers.Lights) == 0 {
		return 0
	}
	_, rows := b.marks(w)
	st := Mm(b.f.Type.Text)
	return pitch(capCaption) + Um(rows)*pitch(st) + Um(1+len(b.job.Numbers.Bases))*(pitch(capUse)+2600)
}

// rulerMark is one light's number over the ruler of differences.
type rulerMark struct {
	delta float64
	text  string
	row   int
	x     Um
}

// span is the whole stops that the rulers run over.
func (b *rulers) span() (lo, hi int) {
	low, high := -1.0, 1.0
	for _, l := range b.job.Numbers.Lights {
		low, high = min(low, l.Delta), max(high, l.Delta)
	}
	return int(math.Floor(low - 0.05)), int(math.Ceil(high + 0.05))
}

const (
	rulerLead = Um(26000) // words left of the rulers
	rulerEnd  = Um(8000)  // half of the widest figure under an end
)

func (b *rulers) x(w Um, delta float64) Um {
	lo, hi := b.span()
	run := w - rulerLead - 2*rulerEnd
	return rulerLead + rulerEnd + Um(math.Round(float64(run)*(delta-float64(lo))/float64(hi-lo)))
}

// marks places the lights' numbers in as few rows as keep them apart.
func (b *rulers) marks(w Um) (ms []rulerMark, rows int) {
	by := map[string]int{}
	for _, l := range b.job.Numbers.Lights {
		key := apex.FormatSigned(l.Delta)
		t := whole(float64(l.Number))
		if i, ok := by[key]; ok {
			ms[i].text += " " + t
			continue
		}
		by[key] = len(ms)
		ms = append(ms, rulerMark{delta: l.Delta, text: t, x: b.x(w, l.Delta)})
	}
	sortMarks(ms)
	st := b.numberStyle()
	var ends []Um
next:
	for i := range ms {
		half := width(ms[i].text, st)/2 + 700
		for r := range ends {
			if ms[i].x-half >= ends[r] {
				ms[i].row, ends[r] = r, ms[i].x+half
				continue next
			}
		}
		ms[i].row = len(ends)
		ends = append(ends, ms[i].x+half)
	}
	return ms, len(ends)
}

func (b *rulers) numberStyle() style {
	return style{cap: Mm(b.f.Type.Text), bold: true, kind: "number", used: true}
}

func (b *rulers) draw(p *pen, r Rect) {
	w := b.job.Words
	head := style{cap: capCaption, bold: true, kind: "head"}
	p.text(r.X, r.Y+capCaption, w.T("rulers.title"), head)
	st := style{cap: capUse, kind: "figure", used: true}
	ms, rows := b.marks(r.W)
	top := r.Y + pitch(capCaption)
	y := top + Um(rows)*pitch(b.numberStyle().cap) + 1600
	lo, hi := b.span()
	for _, m := range ms {
		base := top + Um(rows-m.row)*pitch(b.numberStyle().cap) - 300
		p.textMid(r.X+m.x, base, m.text, b.numberStyle())
		if m.row == 0 {
			p.polyline("ruler-mark", lineOutline, nil, Point{r.X + m.x, base + 500}, Point{r.X + m.x, y})
		}
	}
	step := Um(pitch(capUse) + 2600)
	every := b.labelEvery(r.W, st)
	for i := -1; i < len(b.job.Numbers.Bases); i++ {
		lead := w.T("rulers.difference")
		if i >= 0 {
			lead = w.T("rulers.base", "mark", b.job.Numbers.Bases[i].Mark)
		}
		p.text(r.X, y+capUse/2, lead, st)
		p.polyline("ruler", lineOutline, nil, Point{r.X + b.x(r.W, float64(lo)), y}, Point{r.X + b.x(r.W, float64(hi)), y})
		for d := lo * 2; d <= hi*2; d++ {
			x := r.X + b.x(r.W, float64(d)/2)
			tick := Um(1200)
			if d%2 != 0 {
				tick = 700
			}
			p.polyline("ruler", lineThin, nil, Point{x, y}, Point{x, y + tick})
			if d%2 != 0 || (d/2-lo)%every != 0 {
				continue
			}
			label := apex.FormatSigned(float64(d) / 2)
			if d == 0 {
				label = "0"
			} else {
				label = strings.TrimSuffix(label, ".0")
			}
			if i >= 0 {
				label = rulerF(b.job.Numbers.Bases[i].Av + float64(d)/2)
			}
			p.textMid(x, y+tick+500+capUse, label, st)
		}
		y += step
	}
}

// labelEvery is how many whole stops lie between figures, so that they stand
// clear of each other.
func (b *rulers) labelEvery(w Um, st style) int {
	lo, hi := b.span()
	widest := width(apex.FormatSigned(-20), st)
	for _, base := range b.job.Numbers.Bases {
		for d := lo; d <= hi; d++ {
			widest = max(widest, width(rulerF(base.Av+float64(d)), st))
		}
	}
	apart := max(1, b.x(w, 1)-b.x(w, 0))
	return int((widest+1200)/apart) + 1
}

// rulerF prints a ruler's aperture at a whole distance from its base.
func rulerF(av float64) string {
	return strings.TrimPrefix(apex.Mark(av), "f/")
}

func sortMarks(ms []rulerMark) {
	slices.SortStableFunc(ms, func(a, b rulerMark) int { return cmp.Compare(a.delta, b.delta) })
}
