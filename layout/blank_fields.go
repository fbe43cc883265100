package layout

import "strings"

// blankField is one thing to fill in: a caption and a ruled space behind it, in
// which the setup's own value may stand, or boxes to tick.
type blankField struct {
	caption string
	lead    bool // the caption names a section of the file
	value   string
	st      style
	share   float64
	ticks   []string // in place of a ruled space
}

// headFields is the line at the head of the form.
func (b *blankForm) headFields() [][]blankField {
	title := style{cap: capLarge, bold: true, kind: "title", used: true}
	f := []blankField{{caption: b.t("title"), st: title, share: 9}, {caption: b.t("code"), st: title, share: 3},
		{caption: b.t("made"), st: b.text, share: 3.4}, {caption: b.t("by"), st: b.text, share: 3.6}}
	if b.job != nil {
		s := b.job.Setup
		f[0].value, f[1].value, f[3].value = s.Title, s.Code, s.By
		if len([]rune(s.Title)) > 40 || len([]rune(s.Code)) > 8 {
			f[0].st.cap, f[1].st.cap = capUse, capUse
		}
		if len([]rune(s.Title))+len([]rune(s.By)) > 80 { // by itself
			return [][]blankField{f[:1], f[1:]}
		}
	}
	return [][]blankField{f}
}

// fields are the lines beside the plan, named as in the file.
func (b *blankForm) fields() [][]blankField {
	field := func(key string, share float64) blankField {
		return blankField{caption: b.t(key), share: share, st: b.text}
	}
	lead := func(key string) blankField { return blankField{caption: b.t(key), lead: true} }
	kind, face := field("kind", 1.3), field("face", 1)
	room := []blankField{lead("room")}
	if b.job != nil {
		s := b.job.Setup
		if s.Background != nil {
			kind.value = strings.TrimSpace(s.Background.Tone + " " + s.Background.Kind)
		}
		if s.Subject.FaceGiven {
			face.value = bareLength(s.Subject.Face, b.units)
		}
	}
	for i, key := range []string{"left", "right", "front", "behind", "ceiling"} {
		f := field("room-"+key, float64(width(b.t("room-"+key), b.small).Mm()+9))
		if m := b.wall(i); m != nil {
			f.value = bareLength(*m, b.units)
		}
		room = append(room, f)
	}
	units := field("units", 0.8)
	units.value = string(b.units)
	return [][]blankField{
		{lead("exposure"), field("iso", 1), field("shutter", 1.3), field("sync", 1.2)},
		{field("key", 1.1), field("aperture", 1.6), field("ambient", 1)},
		{lead("camera"), field("lens", 1), field("distance", 1.1), field("height", 1)},
		{lead("background"), kind, field("distance", 1.1), field("reading", 1)},
		room,
		{lead("subject"), face, field("turned", 1.2), units},
		{{caption: b.t("frame"), lead: true, ticks: []string{b.t("upright"), b.t("level")}}, {caption: b.t("photos"), lead: true, ticks: []string{b.t("result"), b.t("set")}}},
	}
}

// wall is the room's distance to a side: left, right, front, behind, ceiling.
func (b *blankForm) wall(side int) *float64 {
	if b.job == nil || b.job.Setup.Room == nil {
		return nil
	}
	r := b.job.Setup.Room
	return []*float64{r.Left, r.Right, r.Front, r.Behind, r.Ceiling}[side]
}

const (
	fieldGap = Um(2500) // between fields of a line
	wordGap  = Um(1500) // between a caption and its space
	boxSide  = Um(2800) // of a box to tick
)

func (b *blankForm) captionStyle(f blankField) style {
	if f.lead {
		return b.lead
	}
	return b.small
}

// fixed is the width of a field that takes no share of its line.
func (b *blankForm) fixed(f blankField) Um {
	w := width(f.caption, b.captionStyle(f))
	for _, s := range f.ticks {
		w += wordGap + boxSide + 1000 + width(s, b.small)
	}
	return w
}

// widths gives each field of a line its width.
func (b *blankForm) widths(line []blankField, w Um) []Um {
	out := make([]Um, len(line))
	left, shares := w-Um(len(line)-1)*fieldGap, 0.0
	for i, f := range line {
		if f.share == 0 {
			out[i] = b.fixed(f)
			left -= out[i]
		}
		shares += f.share
	}
	for i, f := range line {
		if f.share > 0 {
			out[i] = Um(float64(left) * f.share / shares)
		}
	}
	return out
}

// valueLines is a field's value as it is broken into its space.
func (b *blankForm) valueLines(f blankField, w Um) []string {
	if f.value == "" {
		return nil
	}
	return wrap(f.value, f.st, w-width(f.caption, b.captionStyle(f))-wordGap)
}

// lineHeight is what a line of fields takes: more than a ruled line where a
// value is broken.
func (b *blankForm) lineHeight(line []blankField, w Um) Um {
	h := b.line
	ws := b.widths(line, w)
	for i, f := range line {
		if ls := b.valueLines(f, ws[i]); len(ls) > 0 {
			h = max(h, Um(len(ls))*pitch(f.st.cap)+2600)
		}
	}
	return h
}

func (b *blankForm) heightOf(lines [][]blankField, w Um) (h Um) {
	for _, l := range lines {
		h += b.lineHeight(l, w)
	}
	return h
}

// drawLines sets lines of fields under each other and says what they took.
func (b *blankForm) drawLines(p *pen, r Rect, lines [][]blankField) Um {
	y := r.Y
	for _, line := range lines {
		h := b.lineHeight(line, r.W)
		ws := b.widths(line, r.W)
		foot := Um(1000) // from the rule up to the baseline
		for _, f := range line {
			foot = max(foot, f.st.cap*2/5+200)
		}
		x := r.X
		for i, f := range line {
			b.drawField(p, f, Rect{x, y, ws[i], h}, foot)
			x += ws[i] + fieldGap
		}
		y += h
	}
	return y - r.Y
}

func (b *blankForm) drawField(p *pen, f blankField, r Rect, foot Um) {
	rule := r.bottom() - lineThin
	base := rule - foot
	p.text(r.X, base, f.caption, b.captionStyle(f))
	x := r.X + width(f.caption, b.captionStyle(f)) + wordGap
	for _, s := range f.ticks {
		p.rect("tick", lineThin, nil, Rect{x, base - boxSide + 300, boxSide, boxSide})
		x += boxSide + 1000
		p.text(x, base, s, b.small)
		x += width(s, b.small) + wordGap
	}
	if len(f.ticks) > 0 || f.share == 0 {
		return
	}
	p.polyline("blank", lineGrid, nil, Point{x, rule}, Point{r.right(), rule})
	ls := b.valueLines(f, r.W)
	for i, s := range ls {
		p.text(x, base-Um(len(ls)-1-i)*pitch(f.st.cap), s, f.st)
	}
}
