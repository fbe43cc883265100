package layout

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
)

// rulers draws one ruler of differences and, under it, one for each base,
// aligned, so that a vertical through a light's mark reads its target at every
// base.
type rulers struct {
	job Job
	f   *format
}

func (b *rulers) empty() bool { return len(b.lights()) == 0 }

// lights are those that are on.
func (b *rulers) lights() (on []*exposure.LightOut) {
	for i := range b.job.Numbers.Lights {
		if l := &b.job.Numbers.Lights[i]; !l.Off {
			on = append(on, l)
		}
	}
	return on
}

func (b *rulers) stretches() bool { return false }

func (b *rulers) least(w Um) Um {
	if b.empty() {
		return 0
	}
	return b.headHeight(w) + Um(1+len(b.job.Numbers.Bases))*(pitch(capUse)+2600)
}

// rulerMark is the numbers of the lights at one difference, set over the ruler
// with a line down to their place on it.
type rulerMark struct {
	delta float64
	text  string
	x     Um // of the place on the ruler
	at    Um // of the middle of the numbers, as near as the others allow
}

// span is the whole stops that the rulers run over.
func (b *rulers) span() (lo, hi int) {
	low, high := -1.0, 1.0
	for _, l := range b.lights() {
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

// marks are the numbers in one row, in the order of the ruler, moved apart until
// they are clear of each other; ok is false when the row is too narrow.
func (b *rulers) marks(w Um) (ms []rulerMark, ok bool) {
	by := map[string]int{}
	for _, l := range b.lights() {
		key := apex.FormatSigned(l.Delta)
		t := whole(float64(l.Number))
		if i, ok := by[key]; ok {
			ms[i].text += " " + t
			continue
		}
		by[key] = len(ms)
		x := b.x(w, l.Delta)
		ms = append(ms, rulerMark{delta: l.Delta, text: t, x: x, at: x})
	}
	sortMarks(ms)
	st := b.numberStyle()
	half := func(i int) Um { return width(ms[i].text, st)/2 + 600 }
	for pass := 0; pass < 2; pass++ { // to the right from the left end, then back from the right
		for i := range ms {
			least := half(i)
			if i > 0 {
				least = ms[i-1].at + half(i-1) + half(i)
			}
			ms[i].at = max(ms[i].at, least)
		}
		for i := len(ms) - 1; i >= 0; i-- {
			most := w - half(i)
			if i+1 < len(ms) {
				most = ms[i+1].at - half(i+1) - half(i)
			}
			ms[i].at = min(ms[i].at, most)
		}
	}
	return ms, len(ms) == 0 || ms[0].at >= half(0)
}

// markLines are the numbers as words, for where there are too many for a row.
func (b *rulers) markLines(ms []rulerMark, w Um) []string {
	var all []string
	for _, m := range ms {
		all = append(all, b.job.Words.T("rulers.mark", "numbers", m.text, "difference", apex.FormatSigned(m.delta)))
	}
	return wrap(strings.Join(all, "; "), b.numberStyle(), w)
}

// headHeight is what stands over the ruler of differences.
func (b *rulers) headHeight(w Um) Um {
	ms, ok := b.marks(w)
	h := pitch(b.numberStyle().cap) + 1700
	if !ok {
		h = Um(len(b.markLines(ms, w)))*pitch(b.numberStyle().cap) + 600
	}
	return pitch(capCaption)*Um(len(b.titleLines(w))) + h
}

func (b *rulers) titleLines(w Um) []string {
	return wrap(b.job.Words.T("rulers.title"), style{cap: capCaption, bold: true, kind: "head"}, w)
}

func (b *rulers) numberStyle() style {
	return style{cap: Mm(b.f.Type.Text), bold: true, kind: "number", used: true}
}

func (b *rulers) draw(p *pen, r Rect) {
	w := b.job.Words
	head := style{cap: capCaption, bold: true, kind: "head"}
	title := b.titleLines(r.W)
	for i, s := range title {
		p.text(r.X, r.Y+capCaption+Um(i)*pitch(capCaption), s, head)
	}
	st := style{cap: capUse, kind: "figure", used: true}
	ms, ok := b.marks(r.W)
	y := r.Y + b.headHeight(r.W)
	lo, hi := b.span()
	base := r.Y + pitch(capCaption)*Um(len(title)) + b.numberStyle().cap
	if ok {
		for _, m := range ms {
			p.textMid(r.X+m.at, base, m.text, b.numberStyle())
			p.polyline("ruler-mark", lineThin, nil, Point{r.X + m.at, base + 500}, Point{r.X + m.x, y})
		}
	} else {
		for i, s := range b.markLines(ms, r.W) {
			p.text(r.X, base+Um(i)*pitch(b.numberStyle().cap), s, b.numberStyle())
		}
	}
	step := Um(pitch(capUse) + 2600)
	every := b.labelEvery(r.W, st)
	for i := -1; i < len(b.job.Numbers.Bases); i++ {
		lead := w.T("rulers.difference")
		if i >= 0 {
			lead = zeroWords(b.job, "rulers.base", "mark", b.job.base(b.job.Numbers.Bases[i].Mark))
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
				label = b.rulerF(b.job.Numbers.Bases[i].Av + float64(d)/2)
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
			widest = max(widest, width(b.rulerF(base.Av+float64(d)), st))
		}
	}
	apart := max(1, b.x(w, 1)-b.x(w, 0))
	return int((widest+1200)/apart) + 1
}

// rulerF prints a ruler's aperture at a whole distance from its base.
func (b *rulers) rulerF(av float64) string {
	return strings.TrimPrefix(b.job.Setup.Style().Base(av), "f/")
}

func sortMarks(ms []rulerMark) {
	slices.SortStableFunc(ms, func(a, b rulerMark) int { return cmp.Compare(a.delta, b.delta) })
}
