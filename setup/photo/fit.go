package photo

import (
	"image"
	"slices"
	"sync"
	"sync/atomic"

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
	fitted map[[2]int]*Picture // by size
	err    error               // why it could not be read
}

// Fit gives the picture ready to embed where it is printed with w x h pixels at
// the resolution wanted, as displayed. One that has no more than 1.25 times as
// many keeps its pixels; a larger one is scaled down to them. The same size is
// made once, and Fit may be called from several goroutines. The error says for
// a person why the picture cannot be read, as Load's does.
func (p *Picture) Fit(w, h int) (*Picture, error) {
	all, err := p.FitAll([][2]int{{w, h}})
	if err != nil {
		return nil, err
	}
	return all[0], nil
}

// FitAll is Fit for several places: it decodes the picture once for all of them.
func (p *Picture) FitAll(places [][2]int) ([]*Picture, error) {
	out := make([]*Picture, len(places))
	for i := range out {
		out[i] = p
	}
	s := p.source
	if s == nil {
		return out, nil
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	var sizes [][2]int // to be made
	for _, place := range places {
		size := p.target(place)
		if s.fitted[size] == nil && !p.ready(size) && !slices.Contains(sizes, size) {
			sizes = append(sizes, size)
		}
	}
	if len(sizes) > 0 && s.err == nil {
		s.err = p.make(sizes)
	}
	for i, place := range places {
		if size := p.target(place); !p.ready(size) {
			if out[i] = s.fitted[size]; out[i] == nil {
				return nil, s.err
			}
		}
	}
	return out, nil
}

// ready tells whether the picture can be embedded in a size as it is.
func (p *Picture) ready(size [2]int) bool { return p.Data != nil && size[0] == p.Width }

// Err is why a Fit failed, nil when none did.
func (p *Picture) Err() error {
	if p.source == nil {
		return nil
	}
	p.source.mu.Lock()
	defer p.source.mu.Unlock()
	return p.source.err
}

// target is the stored size to make for a place, both sides in the picture's own
// ratio.
func (p *Picture) target(place [2]int) [2]int {
	w, h := place[0], place[1]
	if p.Orientation >= 5 {
		w, h = h, w
	}
	w, h = max(w, 1), max(h, 1)
	if int64(w)*int64(p.Height) < int64(h)*int64(p.Width) {
		w = int((int64(h)*int64(p.Width) + int64(p.Height) - 1) / int64(p.Height))
	}
	if 5*int64(w) >= 4*int64(p.Width) {
		return [2]int{p.Width, p.Height}
	}
	return [2]int{w, int(max((int64(w)*int64(p.Height)+int64(p.Width)/2)/int64(p.Width), 1))}
}

// Two pictures are decoded at a time, and of large ones one: a picture of 120
// megapixels needs up to 1 GB.
var (
	decoding = make(chan struct{}, 2)
	large    sync.Mutex
)

const largePixels = 40_000_000

// Decoded is how many pictures were decoded in this process, for tests.
var Decoded atomic.Int64

// make decodes the picture and makes it in every one of the sizes.
func (p *Picture) make(sizes [][2]int) error {
	decoding <- struct{}{}
	defer func() { <-decoding }()
	if p.Width*p.Height > largePixels {
		large.Lock()
		defer large.Unlock()
	}
	s := p.source
	Decoded.Add(1)
	img, err := s.decode()
	if err != nil {
		return err
	}
	if img.Bounds().Dx() != p.Width || img.Bounds().Dy() != p.Height {
		return errDamaged
	}
	if s.fitted == nil {
		s.fitted = map[[2]int]*Picture{}
	}
	for _, size := range sizes {
		q, err := p.scaledTo(size[0], size[1], img)
		if err != nil {
			return err
		}
		s.fitted[size] = q
	}
	return nil
}

func (p *Picture) scaledTo(w, h int, img image.Image) (*Picture, error) {
	s := p.source
	out := s.reduced(img, min(p.Width/w, p.Height/h))
	out = turned(scaled(out, w, h), p.Orientation)
	lossless := s.flat && w == p.Width || s.alpha || fewColours(out)
	q := &Picture{Width: out.Bounds().Dx(), Height: out.Bounds().Dy(), Orientation: 1, Channels: 3, Exif: p.Exif, Warnings: p.Warnings}
	if _, grey := out.(*image.Gray); grey {
		q.Channels = 1
	}
	return q, q.encode(out, lossless)
}

// reduced brings a picture to sRGB, averaged over blocks of k x k pixels.
func (s *source) reduced(img image.Image, k int) image.Image {
	if v, ok := img.(*image.YCbCr); ok && k <= 1 && !s.grey && s.profile == nil {
		return wholeYCbCr(v, s.studio)
	}
	return s.srgb(reduce(img, k, s))
}
