package photo

import (
	"encoding/binary"
	"errors"
	"image"
	"image/color"
	"slices"

	xtiff "golang.org/x/image/tiff"
)

// The tags of a TIFF that its pixels need (TIFF 6.0, part 1 and section 16;
// 339: section 19; the profile: ICC.1:2010, annex B.3; 50706: a raw file's).
const (
	tiffSubfile      = 254
	tiffWidth        = 256
	tiffHeight       = 257
	tiffBits         = 258
	tiffCompression  = 259
	tiffPhotometric  = 262
	tiffStripOffsets = 273
	tiffSamples      = 277
	tiffStripCounts  = 279
	tiffPlanar       = 284
	tiffTileOffsets  = 324
	tiffTileCounts   = 325
	tiffSubIFDs      = 330
	tiffInkSet       = 332
	tiffExtra        = 338
	tiffProfile      = 34675
	tiffRawVersion   = 50706
)

// What the samples of a TIFF stand for (TIFF 6.0, PhotometricInterpretation);
// the last two are a raw file's.
const (
	photoWhiteIsZero = 0
	photoBlackIsZero = 1
	photoRGB         = 2
	photoInk         = 5
	photoMosaic      = 32803
	photoLinear      = 34892
)

// pixelTags are those that are handed to the decoder.
var pixelTags = []uint16{tiffWidth, tiffHeight, tiffBits, tiffCompression, tiffPhotometric, 266, tiffStripOffsets, tiffSamples,
	278, tiffStripCounts, tiffPlanar, 292, 293, 317, 320, 322, 323, tiffTileOffsets, tiffTileCounts, tiffExtra, 339}

var (
	errTIFFKind = errors.New("a kind of TIFF that cannot be read; export it as a JPEG, or as a TIFF with 8 or 16 bits a channel, interleaved, unpacked or with LZW or ZIP")
	errRaw      = errors.New("a camera raw file cannot be printed; develop it and export a JPEG in sRGB")
)

// loadTIFF looks at the first picture of a TIFF without decoding it.
func loadTIFF(b []byte) (*Picture, error) {
	t, first, ok := openTIFF(b)
	if !ok {
		return nil, errDamaged
	}
	d := t.directory(first)
	if rawTIFF(b, d) {
		return nil, errRaw
	}
	p := &Picture{Orientation: 1, Channels: 3, source: &source{}}
	w, _ := d[tiffWidth].whole()
	h, _ := d[tiffHeight].whole()
	p.Width, p.Height = int(w), int(h)
	if err := checkSize(p.Width, p.Height); err != nil {
		return nil, err
	}
	if err := wholeTIFF(d, len(b)); err != nil {
		return nil, err
	}
	p.Orientation, p.Exif = readExif(b)
	return p, p.tiffPixels(t, first, d)
}

// rawTIFF tells a raw file, which begins as a TIFF does, by its mark, by what
// its samples stand for, or because its first picture is a reduced one of
// another.
func rawTIFF(b []byte, d map[uint16]field) bool {
	_, raw := d[tiffRawVersion]
	kind, _ := d[tiffPhotometric].whole()
	reduced, _ := d[tiffSubfile].whole()
	_, others := d[tiffSubIFDs]
	return raw || kind == photoMosaic || kind == photoLinear || reduced&1 == 1 && others || len(b) > 10 && string(b[8:10]) == "CR"
}

// wholeTIFF sees that every strip or tile lies in the file, and that all
// together are not much more than the file.
func wholeTIFF(d map[uint16]field, size int) error {
	at, counts := d[tiffStripOffsets].numbers(), d[tiffStripCounts].numbers()
	if tiles := d[tiffTileOffsets].numbers(); tiles != nil {
		at, counts = tiles, d[tiffTileCounts].numbers()
	}
	if len(at) == 0 || len(at) != len(counts) {
		return errTIFFKind
	}
	sum := uint64(0)
	for i := range at {
		if uint64(at[i])+uint64(counts[i]) > uint64(size) {
			return errCutOff
		}
		sum += uint64(counts[i])
	}
	if sum > 2*uint64(size) {
		return errDamaged
	}
	return nil
}

// numbers gives all values of a field of whole numbers.
func (f field) numbers() (out []uint32) {
	for n := width(f.kind); len(f.value) > 0 && (f.kind == typeShort || f.kind == typeLong); f.value = f.value[n:] {
		v, _ := f.whole()
		out = append(out, v)
	}
	return out
}

// tiffPixels settles how the samples are read.
func (p *Picture) tiffPixels(t tiff, first uint32, d map[uint16]field) error {
	s := p.source
	kind, ok := d[tiffPhotometric].whole()
	samples := uint32(1)
	if v, there := d[tiffSamples].whole(); there {
		samples = v
	}
	planar, _ := d[tiffPlanar].whole()
	if !ok || planar == 2 && samples > 1 {
		return errTIFFKind
	}
	model := color.NRGBAModel
	change := map[uint16]uint16{}
	spare := false // a fourth channel that is no alpha
	switch {
	case kind == photoWhiteIsZero || kind == photoBlackIsZero:
		p.Channels, s.grey = 1, true
	case kind == photoInk && samples == 4:
		if set, there := d[tiffInkSet].whole(); there && set != 1 {
			return errTIFFKind
		}
		// the decoder knows no inks: it is told of four plain channels
		change[tiffPhotometric], change[tiffExtra] = photoRGB, 2
		model = color.CMYKModel
	case kind == photoRGB && samples == 4:
		extra, _ := d[tiffExtra].whole()
		if s.alpha = extra == 1 || extra == 2; !s.alpha {
			change[tiffExtra], spare = 2, true
		}
	}
	var profile []byte
	if f, there := d[tiffProfile]; there {
		profile = f.value
	}
	p.colours(profile, adobeRGB(t.data), model)
	file := rewritten(t, first, change)
	if _, err := decodeConfig(file); err != nil {
		return errTIFFKind
	}
	s.decode = func() (image.Image, error) {
		img, err := decode(xtiff.Decode, file, "TIFF")
		if err == nil && model == color.CMYKModel {
			return inks(img)
		}
		if err == nil && spare {
			opaque(img)
		}
		return img, err
	}
	return nil
}

// rewritten gives the file with a directory behind its end that holds only what
// the pixels need, in order, and with changed values.
func rewritten(t tiff, first uint32, change map[uint16]uint16) []byte {
	entries := map[uint16][]byte{}
	count := int(t.order.Uint16(t.data[first:]))
	for i := range count {
		at := uint64(first) + 2 + 12*uint64(i)
		if at+12 > uint64(len(t.data)) {
			break
		}
		e := t.data[at : at+12]
		if tag := t.order.Uint16(e); entries[tag] == nil && slices.Contains(pixelTags, tag) {
			entries[tag] = e
		}
	}
	for tag, v := range change {
		entries[tag] = shortEntry(t.order, tag, v)
	}
	out := make([]byte, len(t.data), len(t.data)+16+12*len(entries))
	copy(out, t.data)
	if len(out)%2 == 1 {
		out = append(out, 0)
	}
	t.order.PutUint32(out[4:], uint32(len(out)))
	var n [4]byte
	t.order.PutUint16(n[:], uint16(len(entries)))
	out = append(out, n[:2]...)
	for _, tag := range pixelTags {
		out = append(out, entries[tag]...)
	}
	return append(out, 0, 0, 0, 0)
}

func shortEntry(order binary.ByteOrder, tag, v uint16) []byte {
	e := make([]byte, 12)
	order.PutUint16(e, tag)
	order.PutUint16(e[2:], typeShort)
	order.PutUint32(e[4:], 1)
	order.PutUint16(e[8:], v)
	return e
}
