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

// readPicture lets fpdf take a picture apart, in a file of its own. fpdf trusts
// the picture, so a panic on a damaged one is turned into the error that it is.
func readPicture(v *layout.Image) (objects []object, err error) {
	defer func() {
		if recover() != nil {
			objects, err = nil, errors.New("it is damaged")
		}
	}()
	kind := "jpg"
	if v.Format == "png" {
		kind = "png"
		if deepPNG(v.Data) {
			return nil, errors.New("a PNG of 16 bits a channel")
		}
	}
	f := newFpdf()
	f.RegisterImageOptionsReader("picture", fpdf.ImageOptions{ImageType: kind}, bytes.NewReader(v.Data))
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
