package layout

import (
	"sync"

	"stopleaf/setup/photo"
)

// openPhoto is what a picture needs to be made ready, once all pages are drawn
// and every place of it is known.
type openPhoto struct {
	block   *picture
	room    Rect // what the block has for the picture
	caption int  // how many items stand before it that are its caption
	of      string
	broken  bool
}

// pixels is the size that a picture needs in its place, or the job's own.
func (o *openPhoto) pixels(place Rect) [2]int {
	job := o.block.job
	if long := job.PhotoLong; long > 0 {
		w, h := o.block.photo.Picture.Size()
		most := max(w, h)
		return [2]int{(w*long + most - 1) / most, (h*long + most - 1) / most}
	}
	dpi := int64(job.photoDPI())
	at := func(u Um) int { return int((int64(u)*dpi + 25399) / 25400) }
	return [2]int{at(place.W), at(place.H)}
}

// bookPhotoLong is the length for which a photo of a binder has pixels, on its longer
// side. It stands there on the cover, on the setup's first page and maybe on a
// further one, each of another size, and is in the file once. At 300 dots an inch
// these are 1654 pixels: what was exported with up to 2067, which is no more than
// 1.25 times as many, goes in as it is.
const bookPhotoLong = Um(140_000)

// bookPhoto is PhotoLong for a binder.
func (j Job) bookPhoto() int { return int(bookPhotoLong) * j.photoDPI() / 25400 }

// fitPhotos makes the photos of finished pages ready, each decoded once for all
// its places, several at a time. In the place of one that turns out to be
// damaged stands a ruled space, and setup.BrokenPhotos tells.
func fitPhotos(pages []Page) {
	places := map[*photo.Picture][]*Image{}
	for i := range pages {
		Walk(pages[i].Items, func(it Item) {
			if v, ok := it.(*Image); ok && v.open != nil {
				p := v.open.block.photo.Picture
				places[p] = append(places[p], v)
			}
		})
	}
	var wg sync.WaitGroup
	for p, images := range places {
		wg.Go(func() { fitPhoto(p, images) })
	}
	wg.Wait()
	for i := range pages {
		pages[i].Items = settled(pages[i].Items)
	}
}

// fitPhoto makes one photo ready for all its places.
func fitPhoto(p *photo.Picture, images []*Image) {
	var sizes [][2]int
	for _, v := range images {
		sizes = append(sizes, v.open.pixels(v.Rect))
	}
	ready, err := p.FitAll(sizes)
	for i, v := range images {
		if v.open.broken = err != nil; !v.open.broken {
			q := ready[i]
			v.Format, v.Data, v.PxW, v.PxH, v.Channels, v.Orientation = q.Format, q.Data, q.Width, q.Height, q.Channels, q.Orientation
			v.made = q
			v.open = nil
		}
	}
}

// settled are items with ruled spaces in place of broken pictures.
func settled(items []Item) []Item {
	var out []Item // nil as long as nothing is another
	for i, it := range items {
		switch v := it.(type) {
		case *Group:
			v.Items = settled(v.Items)
		case *Image:
			if v.open == nil {
				break
			}
			if out == nil {
				out = append(out, items[:i]...)
			}
			p := &pen{of: v.open.of}
			v.open.block.missing(p, v.open.room)
			out = append(out[:len(out)-v.open.caption], p.items...)
			continue
		}
		if out != nil {
			out = append(out, it)
		}
	}
	if out == nil {
		return items
	}
	return out
}
