package layout

import "slices"

// photoGrid is the photographs of the set with their captions, side by side in
// rows. It splits between rows.
type photoGrid struct {
	title string
	small style
	pics  []*picture
	gap   Um
}

// newPhotoGrid holds every photo but the one that stands on the first side.
func newPhotoGrid(job Job, f *format) *photoGrid {
	b := &photoGrid{title: job.Words.T("sheet.photos"), small: style{cap: capCaption, kind: "head", bold: true}, gap: Mm(f.Gap)}
	shown := resultPhoto(job.Setup)
	for i := range job.Setup.Photos {
		if p := &job.Setup.Photos[i]; p != shown {
			b.pics = append(b.pics, &picture{job: job, photo: p, st: style{cap: Mm(f.Type.Text), kind: "caption", used: true}})
		}
	}
	return b
}

func (b *photoGrid) empty() bool { return len(b.pics) == 0 }

func (b *photoGrid) stretches() bool { return false }

// across is how many stand side by side, and the width of each.
func (b *photoGrid) across(w Um) (n int, each Um) {
	n = max(1, int(w/Mm(62)))
	if len(b.pics) == 4 || len(b.pics) == 1 {
		n = min(n, 2)
	}
	return n, (w - Um(n-1)*b.gap) / Um(n)
}

// most is how high a picture may be: none so high that an upright one takes half
// a side; in a narrow column, beside other things, less.
func (b *photoGrid) most(n int, each Um) Um {
	if n == 1 {
		return each * 2 / 3
	}
	return Mm(85)
}

// rowHeights are the heights of the rows: the highest of each.
func (b *photoGrid) rowHeights(w Um) []Um {
	n, each := b.across(w)
	var out []Um
	for row := range slices.Chunk(b.pics, n) {
		var h Um
		for _, p := range row {
			text := Um(len(p.captionLines(each))) * pitch(p.st.cap)
			h = max(h, min(p.most(each), b.most(n, each)+text))
		}
		out = append(out, h)
	}
	return out
}

func (b *photoGrid) titleHeight() Um { return pitch(b.small.cap) + 300 }

func (b *photoGrid) least(w Um) Um {
	if len(b.pics) == 0 {
		return 0
	}
	h := b.titleHeight() - b.gap
	for _, rh := range b.rowHeights(w) {
		h += rh + b.gap
	}
	return h
}

func (b *photoGrid) split(w, h Um) (head, rest block) {
	n, _ := b.across(w)
	used, rows := b.titleHeight()-b.gap, 0
	heights := b.rowHeights(w)
	for _, rh := range heights {
		if used+rh+b.gap > h {
			break
		}
		used += rh + b.gap
		rows++
	}
	switch rows {
	case 0:
		return nil, b
	case len(heights):
		return b, nil
	}
	x, y := *b, *b
	x.pics, y.pics = b.pics[:rows*n], b.pics[rows*n:]
	return &x, &y
}

func (b *photoGrid) draw(p *pen, r Rect) {
	p.text(r.X, r.Y+b.small.cap, b.title, b.small)
	n, each := b.across(r.W)
	y, heights := r.Y+b.titleHeight(), b.rowHeights(r.W)
	for i, pic := range b.pics {
		pic.draw(p, Rect{r.X + Um(i%n)*(each+b.gap), y, each, heights[i/n]})
		if i%n == n-1 {
			y += heights[i/n] + b.gap
		}
	}
}
