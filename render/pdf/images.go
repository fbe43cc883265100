package pdf

import (
	"bytes"
	"crypto/sha256"
	"encoding/gob"
	"encoding/hex"
	"fmt"

	"github.com/go-pdf/fpdf"

	"stopleaf/layout"
)

// images registers each picture once, however often it is placed.
type images struct {
	pdf    *fpdf.Fpdf
	names  map[[32]byte]string
	widths map[float64]int // how many pictures of a width there are
}

func newImages(f *fpdf.Fpdf) *images {
	return &images{pdf: f, names: map[[32]byte]string{}, widths: map[float64]int{}}
}

// register gives the name and the type under which fpdf knows a picture.
func (im *images) register(v *layout.Image) (name, kind string, err error) {
	kind = "jpg"
	if v.Format == "png" {
		kind = "png"
	}
	sum := sha256.Sum256(v.Data)
	if name, ok := im.names[sum]; ok {
		return name, kind, nil
	}
	name = hex.EncodeToString(sum[:])
	if kind == "png" && deepPNG(v.Data) {
		return "", "", fmt.Errorf("picture %.40q: a PNG of 16 bits a channel", v.Alt)
	}
	info, err := im.read(name, kind, v)
	if err != nil {
		return "", "", err
	}
	im.names[sum] = name
	return name, kind, im.apart(info)
}

// deepPNG tells a PNG of 16 bits a channel, which fpdf writes garbled. The bit
// depth stands behind the signature, the chunk's head and two sizes.
func deepPNG(data []byte) bool { return len(data) > 24 && data[24] == 16 }

// read lets fpdf take a picture's head apart. It trusts the file, so a panic on
// a damaged one is turned into the error that it is.
func (im *images) read(name, kind string, v *layout.Image) (info *fpdf.ImageInfoType, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("picture %.40q is damaged", v.Alt)
		}
	}()
	info = im.pdf.RegisterImageOptionsReader(name, fpdf.ImageOptions{ImageType: kind}, bytes.NewReader(v.Data))
	if im.pdf.Err() {
		return nil, fmt.Errorf("picture %.40q: %w", v.Alt, im.pdf.Error())
	}
	return info, nil
}

// apart gives a picture a width of its own. fpdf writes pictures in the order
// of their widths and those of the same width in the order of a map; a part of
// a pixel, which it never writes, settles that.
func (im *images) apart(info *fpdf.ImageInfoType) error {
	width := info.Width() // of no matter in which unit
	n := im.widths[width]
	im.widths[width]++
	if n == 0 {
		return nil
	}
	coded, err := info.GobEncode()
	if err != nil {
		return err
	}
	coded, err = widen(coded, float64(n)*1e-6)
	if err != nil {
		return err
	}
	return info.GobDecode(coded)
}

// widen adds to the width in what GobEncode wrote: thirteen values, one after
// another, as fpdf's ImageInfoType declares them.
func widen(coded []byte, more float64) ([]byte, error) {
	var (
		data, smask, pal   []byte
		n, bpc             int
		w, h, scale, dpi   float64
		space, filter, par string
		trns               []int
	)
	fields := []any{&data, &smask, &n, &w, &h, &space, &pal, &bpc, &filter, &par, &trns, &scale, &dpi}
	dec := gob.NewDecoder(bytes.NewReader(coded))
	for _, f := range fields {
		if err := dec.Decode(f); err != nil {
			return nil, err
		}
	}
	w += more
	var out bytes.Buffer
	enc := gob.NewEncoder(&out)
	for _, f := range fields {
		if err := enc.Encode(f); err != nil {
			return nil, err
		}
	}
	return out.Bytes(), nil
}
