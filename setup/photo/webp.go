package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
	"image"
	"image/color"

	"golang.org/x/image/webp"
)

// loadWebP looks at the parts of a WebP (RFC 9649, 2) without decoding it.
func loadWebP(b []byte) (*Picture, error) {
	if len(b) < 12 {
		return nil, errCutOff
	}
	end := 8 + uint64(binary.LittleEndian.Uint32(b[4:]))
	if end > uint64(len(b)) {
		return nil, errCutOff
	}
	b = b[:end]
	p := &Picture{Orientation: 1, Channels: 3, source: &source{}}
	var profile []byte
	for at := uint64(12); at < end; {
		if at+8 > end {
			return nil, errCutOff
		}
		kind, size := string(b[at:at+4]), uint64(binary.LittleEndian.Uint32(b[at+4:]))
		if at+8+size > end {
			return nil, errCutOff
		}
		data := b[at+8 : at+8+size]
		switch kind {
		case "VP8 ":
			p.source.studio = true
			p.Width, p.Height = lossySize(data)
		case "VP8L":
			p.Width, p.Height, p.source.alpha = losslessSize(data)
		case "ALPH":
			p.source.alpha = true
		case "ANMF", "ANIM":
			return nil, errors.New("a moving WebP cannot be printed; export one picture of it as a JPEG")
		case "ICCP":
			profile = data
		case "EXIF":
			p.Orientation, p.Exif = readExif(bytes.TrimPrefix(data, []byte(exifMagic)))
		}
		at += 8 + size + size&1
	}
	if err := checkSize(p.Width, p.Height); err != nil {
		return nil, err
	}
	p.colours(profile, false, color.NRGBAModel)
	p.source.decode = func() (image.Image, error) { return decode(webp.Decode, b, "WebP") }
	return p, nil
}

// lossySize reads the size of a VP8 key frame (RFC 6386, 9.1); 0 is none.
func lossySize(b []byte) (w, h int) {
	if len(b) < 10 || b[0]&1 != 0 || string(b[3:6]) != "\x9D\x01\x2A" {
		return 0, 0
	}
	return int(binary.LittleEndian.Uint16(b[6:]) & 0x3FFF), int(binary.LittleEndian.Uint16(b[8:]) & 0x3FFF)
}

// losslessSize reads the head of a VP8L picture (RFC 9649, 3.4).
func losslessSize(b []byte) (w, h int, alpha bool) {
	if len(b) < 5 || b[0] != 0x2F {
		return 0, 0, false
	}
	v := binary.LittleEndian.Uint32(b[1:])
	return int(v&0x3FFF) + 1, int(v>>14&0x3FFF) + 1, v>>28&1 == 1
}
