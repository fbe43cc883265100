package layout

import (
	"stopleaf/setup"
)

// front is what stands before the contents: the cover, how to read a sheet, the
// table of stops.
func (b *Binder) front() ([]Page, error) {
	cover, err := b.cover()
	if err != nil {
		return nil, err
	}
	reading, err := b.reading()
	if err != nil {
		return nil, err
	}
	return append([]Page{cover}, append(reading, b.stopTable())...), nil
}

// The wall of photos on the cover.
const (
	wallMost    = 20 // photos
	wallColumns = 4
	wallGap     = Um(3000)
)

// coverCaps are the sizes of the title, largest first (ISO 3098 row): the first
// at which it takes no more than two lines.
var coverCaps = []Um{10000, 7000, capTitle}

// cover says whose binder it is, of when, and shows the first photos in it.
func (b *Binder) cover() (Page, error) {
	pics, err := b.wall()
	if err != nil {
		return Page{}, err
	}
	p := &pen{}
	in := b.inner()
	p.rect("frame", lineFrame, nil, in.grow(-lineFrame/2))
	x, w := in.X+Mm(8), in.W-Mm(16)
	st := style{bold: true, kind: "title", used: true}
	var lines []string
	for _, c := range coverCaps {
		st.cap = c
		if lines = wrap(b.Title, st, w); len(lines) <= 2 {
			break
		}
	}
	y := in.Y + Mm(16)
	for _, s := range lines {
		y += pitch(st.cap)
		p.text(x, y, s, st)
	}
	y += Mm(7)
	p.polyline("title-rule", lineFrame, nil, Point{x, y}, Point{x + w, y})
	y += Mm(3)
	first, last := b.dates()
	for _, l := range []struct {
		s  string
		st style
	}{
		{b.Owner, style{cap: capTitle, kind: "title", used: true}},
		{b.about(first, last), style{cap: capLarge, kind: "title", used: true}},
	} {
		if l.s == "" {
			continue
		}
		for _, s := range wrap(l.s, l.st, w) {
			y += pitch(l.st.cap)
			p.text(x, y, s, l.st)
		}
		y += Mm(1.5)
	}
	b.drawWall(p, pics, Rect{x, y + Mm(12), w, in.bottom() - Mm(8) - y - Mm(12)})
	return Page{Title: b.Title, Desc: b.about(first, last), Items: p.items}, nil
}

// wallPicture is one photo of the wall and the setup it is of.
type wallPicture struct {
	*picture
	of *BinderSetup
}

// wall finds the first setups that have a photo.
func (b *Binder) wall() ([]wallPicture, error) {
	var out []wallPicture
	for _, s := range b.all() {
		if len(out) == wallMost {
			break
		}
		if s.Setup == nil || len(s.Setup.Photos) == 0 {
			continue
		}
		job, faults, err := b.Open(s)
		if err != nil {
			return nil, err
		}
		if faults != nil {
			continue
		}
		job.PhotoLong = job.bookPhoto()
		if ph := resultPhoto(job.Setup); ph != nil && ph.Picture != nil {
			captioned := setup.Photo{File: ph.File, Caption: s.Code, Picture: ph.Picture}
			out = append(out, wallPicture{&picture{job: job, photo: &captioned, st: style{cap: capUse, bold: true, kind: "caption", used: true}}, s})
		}
	}
	return out, nil
}

// drawWall hangs pictures in rows from the top of a box.
func (b *Binder) drawWall(p *pen, pics []wallPicture, r Rect) {
	if len(pics) == 0 || r.H < Mm(30) {
		return
	}
	var w, h Um
	columns := 1
	for c := 1; c <= min(wallColumns, len(pics)); c++ { // as large as they can be
		rows := Um((len(pics) + c - 1) / c)
		cw, ch := (r.W-wallGap*Um(c-1))/Um(c), (r.H-wallGap*(rows-1))/rows
		if side := min(cw, ch); side > min(w, h) {
			columns, w, h = c, cw, min(ch, cw)
		}
	}
	for i, pic := range pics {
		at := Rect{r.X + Um(i%columns)*(w+wallGap), r.Y + Um(i/columns)*(h+wallGap), w, h}
		pic.draw(p, at)
		p.add(&Link{Rect: at, To: pic.of.label()})
	}
}
