package layout

import (
	"path/filepath"

	"stopleaf/setup"
)

// picture is the reference photo with its caption; without the picture, a ruled
// space that says which file is expected.
type picture struct {
	job   Job
	photo *setup.Photo
	st    style
}

// resultPhoto is the first photo that shows the result, else the first.
func resultPhoto(s *setup.Setup) *setup.Photo {
	for i := range s.Photos {
		if s.Photos[i].Shows == "result" {
			return &s.Photos[i]
		}
	}
	if len(s.Photos) > 0 {
		return &s.Photos[0]
	}
	return nil
}

func (b *picture) empty() bool { return b.photo == nil }

func (b *picture) stretches() bool { return true }

func (b *picture) least(Um) Um {
	if b.photo == nil {
		return 0
	}
	return Mm(30)
}

// most is the height at which the picture fills the width.
func (b *picture) most(w Um) Um {
	if b.photo.Picture == nil {
		return w * 3 / 4
	}
	pw, ph := b.photo.Picture.Size()
	return Um(int64(w)*int64(ph)/int64(pw)) + Um(len(b.captionLines(w)))*pitch(b.st.cap)
}

func (b *picture) captionLines(w Um) []string {
	if b.photo.Caption == "" {
		return nil
	}
	return wrap(b.photo.Caption, b.st, w)
}

func (b *picture) draw(p *pen, r Rect) {
	lines := b.captionLines(r.W)
	r.H -= Um(len(lines)) * pitch(b.st.cap)
	pic := b.photo.Picture
	if pic == nil {
		b.missing(p, r)
		return
	}
	box := r
	w, h := pic.Size()
	if int64(r.W)*int64(h) > int64(r.H)*int64(w) {
		box.W = Um(int64(r.H) * int64(w) / int64(h))
	} else {
		box.H = Um(int64(r.W) * int64(h) / int64(w))
	}
	box.X += (r.W - box.W) / 2
	before := len(p.items)
	b.caption(p, r, box.bottom())
	p.add(&Image{Rect: box, Alt: b.job.Words.T("photo.alt", "title", b.job.Setup.Title, "caption", b.photo.Caption),
		open: &openPhoto{block: b, room: r, caption: len(p.items) - before, of: p.of}})
}

// caption sets the caption under y.
func (b *picture) caption(p *pen, r Rect, y Um) {
	for _, s := range b.captionLines(r.W) {
		y += pitch(b.st.cap)
		p.text(r.X, y-400, s, b.st)
	}
}

// missing is a ruled space that says which file is expected, over the caption.
func (b *picture) missing(p *pen, r Rect) {
	b.caption(p, r, r.bottom())
	p.rect("blank", lineThin, nil, Rect{r.X + 125, r.Y + 125, r.W - 250, r.H - 250})
	st := style{cap: capUse, kind: "note", used: true}
	y := r.Y + 2500
	for _, s := range wrap(b.job.Words.T("photo.missing", "file", filepath.ToSlash(b.photo.File)), st, r.W-4000) {
		y += pitch(st.cap)
		p.text(r.X+2000, y, s, st)
	}
}

// photoDPI is the resolution that a photo is printed with, in dots an inch,
// where it has more and the house does not say otherwise.
const photoDPI = 300

func (j Job) photoDPI() int {
	if h := j.Setup.House; h != nil && h.PhotoDPI != nil {
		return *h.PhotoDPI
	}
	return photoDPI
}

// view is the plan or the side view as a block.
type viewBlock struct {
	job   Job
	opt   drawOptions
	shown bool
	limit Um // height of a whole side: it asks for no more
	last  drawn
}

func (b *viewBlock) empty() bool { return !b.shown }

func (b *viewBlock) stretches() bool { return true }

// least is the height at which the set is drawn no smaller than 1:200 (1/16 in
// to the foot), or whatever scale its width allows.
func (b *viewBlock) least(w Um) Um {
	if !b.shown {
		return 0
	}
	d := &drawing{job: b.job, side: b.opt.side, num: b.opt.num}
	bodies := scene(b.job)
	if b.opt.side {
		bodies = tallOnes(bodies)
	}
	must, pad := d.content(bodies), d.padding(false)
	list := pitch(capUse) * Um(len(listLines(b.job, b.opt.unplaced(b.job, false), w)))
	for _, sc := range scales(b.job.Setup.Units) {
		wide := sc.um(must.x1-must.x0) + pad[1] + pad[3]
		high := sc.um(must.y1-must.y0) + pad[0] + pad[2] + stripHeight + 100
		if sc.den >= 192 && wide <= w && list+high <= b.limit {
			return list + max(Mm(42), high)
		}
	}
	return list + Mm(42)
}

func (b *viewBlock) draw(p *pen, r Rect) {
	b.last = draw(b.job, r, b.opt)
	p.add(b.last.group)
}

// needsSide says whether the side view tells what the plan cannot: one light
// above another, a boom, a lamp near the ceiling.
func needsSide(job Job) bool {
	bodies := scene(job)
	d := drawing{job: job}
	if len(d.stacked(bodies)) > 0 {
		return true
	}
	s := job.Setup
	for i := range s.Lights {
		l := &s.Lights[i]
		if l.Place == nil || l.Place.Height == nil {
			continue
		}
		if l.Stand != nil && (l.Stand.Kind == "boom" || l.Stand.Kind == "hanging") {
			return true
		}
		if s.Room != nil && s.Room.Ceiling != nil && *s.Room.Ceiling-*l.Place.Height < 0.5 {
			return true
		}
	}
	return false
}
