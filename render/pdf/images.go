package pdf

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"
	"sync"

	"github.com/go-pdf/fpdf"

	"stopleaf/layout"
)

// pictures knows each picture of a document once, however often it is placed.
type pictures struct {
	mu    sync.Mutex
	bySum map[[sha256.Size]byte]*picture
}

func newPictures() pictures {
	return pictures{bySum: map[[sha256.Size]byte]*picture{}}
}

// picture is one picture as the file has it.
type picture struct {
	name    string // in a page's contents
	once    sync.Once
	objects []object // until it is written; the first is the picture itself
	err     error
	number  int // the picture's object, once it is written
}

// get gives a picture of the display list, read.
func (ps *pictures) get(v *layout.Image) (*picture, error) {
	p := ps.find(v.Sum())
	p.once.Do(func() { p.objects, p.err = readPicture(v) })
	if p.err != nil {
		return nil, fmt.Errorf("picture %.40q: %w", v.Alt, p.err)
	}
	return p, nil
}

func (ps *pictures) find(sum [sha256.Size]byte) *picture {
	ps.mu.Lock()
	defer ps.mu.Unlock()
	p := ps.bySum[sum]
	if p == nil {
		p = &picture{name: "I" + hex.EncodeToString(sum[:16])}
		ps.bySum[sum] = p
	}
	return p
}

// write writes the picture, the first time it is called.
func (p *picture) write(f *file) {
	if p.number != 0 {
		return
	}
	p.number = f.next()
	for i, o := range p.objects {
		n := p.number + i
		// fpdf names the mask or the palette of a picture by the number behind it
		f.addObject(strings.ReplaceAll(o.dict, " "+ref(firstPicture+i+1), " "+ref(n+1)), o.data)
	}
	p.objects = nil
}

// jpegHead is how much of a JPEG is looked at first: its size and colours stand
// before its pixels, behind what a camera says of it.
const jpegHead = 16 << 10

// readPicture lets fpdf take a picture apart, in a file of its own. Of a JPEG it
// needs no more than the head, and the data go into the file as they are.
func readPicture(v *layout.Image) ([]object, error) {
	if v.Format == "png" {
		if deepPNG(v.Data) {
			return nil, errors.New("a PNG of 16 bits a channel")
		}
		return throughFpdf("png", v.Data)
	}
	if len(v.Data) > jpegHead {
		if list, err := throughFpdf("jpg", v.Data[:jpegHead]); err == nil && len(list) == 1 {
			return []object{list[0].with(v.Data)}, nil
		}
	}
	return throughFpdf("jpg", v.Data)
}

// throughFpdf takes a picture apart. fpdf trusts it, so a panic on a damaged one
// is turned into the error that it is.
func throughFpdf(kind string, data []byte) (objects []object, err error) {
	defer func() {
		if recover() != nil {
			objects, err = nil, errors.New("it is damaged")
		}
	}()
	f := newFpdf()
	f.RegisterImageOptionsReader("picture", fpdf.ImageOptions{ImageType: kind}, bytes.NewReader(data))
	if f.Err() {
		return nil, f.Error()
	}
	all, err := objectsOf(f)
	if err != nil {
		return nil, err
	}
	return picturesOf(all)
}

// picturesOf are the objects of the picture in fpdf's file of one.
func picturesOf(all []object) ([]object, error) {
	list := all[firstPicture : len(all)-lastObjects]
	if len(list) == 0 {
		return nil, errTable
	}
	for _, o := range list {
		if o.data == nil {
			return nil, errTable
		}
	}
	return list, nil
}

// deepPNG tells a PNG of 16 bits a channel, which fpdf writes garbled. The bit
// depth stands behind the signature, the chunk's head and two sizes.
func deepPNG(data []byte) bool { return len(data) > 24 && data[24] == 16 }
