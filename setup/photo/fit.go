package photo

import (
	"image"
	"sync"

	"stopleaf/setup/photo/icc"
)

// source is how a loaded picture is decoded, and what came of it.
type source struct {
	decode  func() (image.Image, error)
	profile *icc.Profile // nil is sRGB
	grey    bool         // only the first channel counts
	flat    bool         // written without loss unless it is scaled
	alpha   bool         // has clear parts, which become white
	studio  bool         // luma from 16 to 235

	mu     sync.Mutex
	fitted map[[2]int]*result
}

// result is one size of a picture, made once however many ask for it.
type result struct {
	once    sync.Once
	picture *Picture
	err     error
}

// Fit gives the picture ready to embed where it is printed with w x h pixels at
// the resolution wanted, as displayed. One that has no more than 1.25 times as
// many keeps its pixels; a larger one is scaled down to them. The same size is
// made once, and Fit may be called from several goroutines. The error says for
// a person why the picture cannot be read, as Load's does.
func (p *Picture) Fit(w, h int) (*Picture, error) {
	if p.source == nil {
		return p, nil
	}
	if p.Orientation >= 5 {
		w, h = h, w
	}
	w, h = p.target(w, h)
	if p.Data != nil && w == p.Width {
		return p, nil
	}
	r := p.source.result(w, h)
	r.once.Do(func() { r.picture, r.err = p.make(w, h) })
	return r.picture, r.err
}

// Err is why a Fit failed, nil when none did.
func (p *Picture) Err() error {
	if p.source == nil {
		return nil
	}
	p.source.mu.Lock()
	defer p.source.mu.Unlock()
	for _, r := range p.source.fitted {
		if r.err != nil { // every size fails for the same reason
			return r.err
		}
	}
	return nil
}

func (s *source) result(w, h int) *result {
	s.mu.Lock()
	defer s.mu.Unlock()
	r := s.fitted[[2]int{w, h}]
	if r == nil {
		r = &result{}
		if s.fitted == nil {
			s.fitted = map[[2]int]*result{}
		}
		s.fitted[[2]int{w, h}] = r
	}
	return r
}

// target is the stored size to make where w x h are wanted, both sides in the
// picture's own ratio.
func (p *Picture) target(w, h int) (int, int) {
	w, h = max(w, 1), max(h, 1)
	if int64(w)*int64(p.Height) < int64(h)*int64(p.Width) {
		w = int((int64(h)*int64(p.Width) + int64(p.Height) - 1) / int64(p.Height))
	}
	if 5*int64(w) >= 4*int64(p.Width) {
		return p.Width, p.Height
	}
	return w, int(max((int64(w)*int64(p.Height)+int64(p.Width)/2)/int64(p.Width), 1))
}

// Two pictures are decoded at a time, and of large ones one: a picture of 120
// megapixels needs up to 1 GB.
var (
	decoding = make(chan struct{}, 2)
	large    sync.Mutex
)

const largePixels = 40_000_000

func (p *Picture) make(w, h int) (*Picture, error) {
	decoding <- struct{}{}
	defer func() { <-decoding }()
	if p.Width*p.Height > largePixels {
		large.Lock()
		defer large.Unlock()
	}
	s := p.source
	img, err := s.decode()
	if err != nil {
		return nil, err
	}
	if img.Bounds().Dx() != p.Width || img.Bounds().Dy() != p.Height {
		return nil, errDamaged
	}
	out := s.srgb(reduce(img, min(p.Width/w, p.Height/h), s))
	out = turned(scaled(out, w, h), p.Orientation)
	lossless := s.flat && w == p.Width || s.alpha || fewColours(out)
	q := &Picture{Width: out.Bounds().Dx(), Height: out.Bounds().Dy(), Orientation: 1, Channels: 3, Exif: p.Exif, Warnings: p.Warnings}
	if _, grey := out.(*image.Gray); grey {
		q.Channels = 1
	}
	return q, q.encode(out, lossless)
}
