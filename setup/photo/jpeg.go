package photo

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
)

// The markers that matter here. ITU-T T.81, table B.1.
const (
	markSOF0  = 0xC0
	markSOF1  = 0xC1
	markSOF2  = 0xC2
	markDHT   = 0xC4
	markJPG   = 0xC8
	markDAC   = 0xCC
	markRST0  = 0xD0
	markRST7  = 0xD7
	markSOI   = 0xD8
	markEOI   = 0xD9
	markSOS   = 0xDA
	markTEM   = 0x01
	markAPP0  = 0xE0
	markAPP1  = 0xE1
	markAPP2  = 0xE2
	markAPP14 = 0xEE
	markAPP15 = 0xEF
	markCOM   = 0xFE
)

// maxSegments is far beyond any picture: a profile has at most 255 and a
// progressive picture some dozens.
const maxSegments = 10_000

// maxScans: a progressive picture usually has about ten scans, and each costs
// a walk over the whole of it.
const maxScans = 100

var errCutOff = errors.New("the file is cut off before the picture ends; copy it again or export it anew")

// segment is one marker of a JPEG, with what belongs to it.
type segment struct {
	mark    byte
	payload []byte // behind the length; nil for a marker that stands alone
	scan    []byte // the coded picture that follows a start of scan
}

// walk takes a JPEG apart without decoding it, from SOI to EOI, and refuses one
// that ends before. What stands between segments or behind EOI is left out.
func walk(b []byte) ([]segment, error) {
	if len(b) < 2 || b[0] != 0xFF || b[1] != markSOI {
		return nil, errors.New("not a JPEG")
	}
	list := []segment{{mark: markSOI}}
	for at := 2; ; {
		mark, next, ok := nextMarker(b, at)
		if !ok {
			return nil, errCutOff
		}
		at = next
		if mark == markEOI {
			return append(list, segment{mark: mark}), nil
		}
		if mark == markSOI || mark == markTEM || mark >= markRST0 && mark <= markRST7 {
			continue // these stand alone and have nothing to do here
		}
		if at+2 > len(b) {
			return nil, errCutOff
		}
		size := int(b[at])<<8 | int(b[at+1])
		if size < 2 {
			return nil, errors.New("the JPEG is damaged: a part of it has no length")
		}
		if at+size > len(b) {
			return nil, errCutOff
		}
		s := segment{mark: mark, payload: b[at+2 : at+size]}
		at += size
		if mark == markSOS {
			end := scanEnd(b, at)
			s.scan = b[at:end]
			at = end
		}
		list = append(list, s)
		if len(list) > maxSegments {
			return nil, errors.New("the JPEG is damaged: it has no end of parts")
		}
	}
}

// nextMarker finds the next marker from at on and the place behind it. Fill
// bytes and strays before it are passed over, as every decoder does.
func nextMarker(b []byte, at int) (mark byte, next int, ok bool) {
	for {
		i := bytes.IndexByte(b[at:], 0xFF)
		if i < 0 {
			return 0, 0, false
		}
		at += i
		for at < len(b) && b[at] == 0xFF {
			at++
		}
		if at == len(b) {
			return 0, 0, false
		}
		if b[at] != 0 {
			return b[at], at + 1, true
		}
		at++
	}
}

// scanEnd finds the marker that ends a scan: not a stuffed 0xFF, not a restart.
func scanEnd(b []byte, at int) int {
	for {
		i := bytes.IndexByte(b[at:], 0xFF)
		if i < 0 || at+i+1 >= len(b) {
			return len(b)
		}
		at += i
		m := b[at+1]
		if m == 0 || m >= markRST0 && m <= markRST7 {
			at += 2
			continue
		}
		if m == 0xFF {
			at++
			continue
		}
		return at
	}
}

// loadJPEG reads a JPEG without decoding its pixels.
func loadJPEG(b, dst []byte) (*Picture, error) {
	segs, err := walk(b)
	if err != nil {
		return nil, err
	}
	p := &Picture{Format: "jpeg", Orientation: 1, source: &source{}}
	adobe, seenExif, option := false, false, false
	for _, s := range segs {
		if s.mark == markAPP14 && bytes.HasPrefix(s.payload, []byte(adobeMagic)) {
			adobe = true
		}
		if s.mark == markAPP1 && !seenExif && bytes.HasPrefix(s.payload, []byte(exifMagic)) {
			seenExif = true
			p.Orientation, p.Exif = readExif(s.payload[len(exifMagic):])
			option = adobeRGB(s.payload[len(exifMagic):])
		}
	}
	if err := p.frame(segs); err != nil {
		return nil, err
	}
	profile := jpegProfile(segs)
	p.Data = strip(segs, dst)
	model, err := p.model(adobe)
	if err != nil {
		return nil, err
	}
	p.colours(profile, option, model)
	data := p.Data
	if model == color.CMYKModel && !adobe {
		data = insertMark(data)
		p.warn("it does not say how its inks are meant; see that it is no negative, or export it in sRGB")
	}
	p.source.decode = func() (image.Image, error) { return decode(jpeg.Decode, data, "JPEG") }
	if p.source.profile != nil || model == color.CMYKModel || model == color.RGBAModel {
		p.Data = nil
	}
	return p, nil
}

// jpegProfile puts the parts of the colour profile together (ICC.1:2010, annex
// B.4); nil when there is none or a part is missing.
func jpegProfile(segs []segment) []byte {
	var parts [256][]byte
	count := 0
	for _, s := range segs {
		if s.mark != markAPP2 || !bytes.HasPrefix(s.payload, []byte(iccMagic)) || len(s.payload) < len(iccMagic)+2 {
			continue
		}
		of := s.payload[len(iccMagic):]
		parts[of[0]], count = of[2:], int(of[1])
	}
	var out []byte
	for _, part := range parts[1 : count+1] {
		if part == nil {
			return nil
		}
		out = append(out, part...)
	}
	return out
}

// insertMark gives a JPEG of inks the mark without which it is not decoded:
// Adobe's, which says that the four channels are what they are, 0 for all ink.
// So do browsers take a JPEG without it.
func insertMark(b []byte) []byte {
	mark := "\xFF\xEE\x00\x0EAdobe\x00\x64\x00\x00\x00\x00\x00"
	out := make([]byte, 0, len(b)+len(mark))
	return append(append(append(out, b[:2]...), mark...), b[2:]...)
}

// frame reads the size and the channels from the start of frame (T.81, B.2.2)
// and sees that a scan follows it.
func (p *Picture) frame(segs []segment) error {
	frames, scans, progressive := 0, 0, false
	for _, s := range segs {
		switch {
		case s.mark == markSOF0 || s.mark == markSOF1 || s.mark == markSOF2:
			frames++
			if len(s.payload) < 6 || len(s.payload) < 6+3*int(s.payload[5]) {
				return errors.New("the JPEG is damaged: its head is too short")
			}
			if s.payload[0] != 8 {
				return fmt.Errorf("a JPEG of %d bits a channel cannot be printed; export it with 8 bits", s.payload[0])
			}
			p.Height = int(s.payload[1])<<8 | int(s.payload[2])
			p.Width = int(s.payload[3])<<8 | int(s.payload[4])
			p.Channels = int(s.payload[5])
		case s.mark >= markSOF0 && s.mark < markRST0 && s.mark != markDHT && s.mark != markJPG && s.mark != markDAC:
			return errors.New("a lossless or arithmetic JPEG cannot be printed; export it as a usual JPEG")
		case s.mark == markSOS && frames > 0:
			scans++
		}
		progressive = progressive || s.mark == markSOF2
	}
	if frames != 1 || scans == 0 {
		return errors.New("the JPEG holds no picture that can be read; export it anew")
	}
	if err := checkSize(p.Width, p.Height); err != nil {
		return err
	}
	samples := int64(p.Width) * int64(p.Height) * int64(p.Channels)
	switch {
	case scans > maxScans:
		return errors.New("the JPEG is damaged: it comes in more layers than any picture has")
	case progressive && (samples > 1<<28 || int64(scans)*samples > 1<<32):
		// it is kept as coefficients of four bytes until its end, and every scan goes over all
		return errors.New("too large for a progressive JPEG; export it smaller, or as a usual JPEG")
	}
	return nil
}

// model reads the head once more, by the reader that decodes the pixels.
func (p *Picture) model(adobe bool) (color.Model, error) {
	data := p.Data
	if p.Channels == 4 && !adobe {
		data = insertMark(data)
	}
	config, err := jpeg.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, errors.New("a kind of JPEG that cannot be printed; export it as a usual JPEG")
	}
	return config.ColorModel, nil
}

// jfifHead is the JFIF segment up to and with the size of its thumbnail.
const jfifHead = 14

const (
	exifMagic  = "Exif\x00\x00"
	jfifMagic  = "JFIF\x00"
	iccMagic   = "ICC_PROFILE\x00"
	adobeMagic = "Adobe"
)

// strip writes the picture without what the camera and others wrote about it:
// of the application segments stay the JFIF head without its thumbnail and
// Adobe's mark; comments go, and so does the colour profile, since what is
// embedded is sRGB. The pixels are untouched. dst
// may lie over the bytes that were walked, since nothing moves to the right.
func strip(segs []segment, dst []byte) []byte {
	if dst == nil {
		dst = make([]byte, 0, strippedSize(segs))
	}
	for _, s := range segs {
		if !kept(s) {
			continue
		}
		dst = append(dst, 0xFF, s.mark)
		if s.payload == nil {
			continue
		}
		p := s.payload
		if s.mark == markAPP0 && len(p) > jfifHead {
			p = p[:jfifHead]
		}
		size := len(p) + 2
		dst = append(dst, byte(size>>8), byte(size))
		dst = append(dst, p...)
		dst = append(dst, s.scan...)
		if s.mark == markAPP0 && len(p) == jfifHead {
			dst[len(dst)-2], dst[len(dst)-1] = 0, 0 // a thumbnail of no size
		}
	}
	return dst
}

func strippedSize(segs []segment) int {
	n := 0
	for _, s := range segs {
		if kept(s) {
			n += 4 + len(s.payload) + len(s.scan)
		}
	}
	return n
}

func kept(s segment) bool {
	switch {
	case s.mark == markCOM:
		return false
	case s.mark == markAPP0:
		return bytes.HasPrefix(s.payload, []byte(jfifMagic))
	case s.mark == markAPP14:
		return bytes.HasPrefix(s.payload, []byte(adobeMagic))
	case s.mark > markAPP0 && s.mark <= markAPP15:
		return false
	}
	return true
}
