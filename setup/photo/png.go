package photo

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"io"
)

const pngMagic = "\x89PNG\r\n\x1A\n"

// Colour types of a PNG (PNG, third edition, table 8).
const (
	pngGrey      = 0
	pngGreyAlpha = 4
	pngAlpha     = 6
)

// maxProfile is far beyond any profile, unpacked.
const maxProfile = 8 << 20

// chunk is one part of a PNG.
type chunk struct {
	kind string
	data []byte
}

// loadPNG looks at every part of a PNG without unpacking the pixels.
func loadPNG(b []byte) (*Picture, error) {
	chunks, err := pngChunks(b)
	if err != nil {
		return nil, err
	}
	head := chunks[0].data
	p := &Picture{Format: "png", Orientation: 1, Channels: 3, source: &source{flat: true}}
	p.Width, p.Height = int(binary.BigEndian.Uint32(head)), int(binary.BigEndian.Uint32(head[4:]))
	if err := checkSize(p.Width, p.Height); err != nil {
		return nil, err
	}
	s := p.source
	switch head[9] {
	case pngGrey:
		p.Channels, s.grey = 1, true
	case pngGreyAlpha:
		p.Channels, s.grey, s.alpha = 1, true, true
	case pngAlpha:
		s.alpha = true
	}
	var profile []byte
	known := false
	for _, c := range chunks {
		switch c.kind {
		case "eXIf":
			p.Orientation, p.Exif = readExif(c.data)
		case "iCCP":
			profile = unpackProfile(c.data)
		case "sRGB":
			known = true
		case "tRNS":
			s.alpha = true
		}
	}
	if known {
		profile = nil
	}
	p.colours(profile, false, color.NRGBAModel)
	s.decode = func() (image.Image, error) { return decode(png.Decode, b, "PNG") }
	return p, nil
}

// pngChunks takes a PNG apart and checks the sum of every part (PNG, third
// edition, 5.3), so that one that is cut off or damaged is known.
func pngChunks(b []byte) ([]chunk, error) {
	var list []chunk
	pixels := false
	for at := uint64(len(pngMagic)); ; {
		if at+12 > uint64(len(b)) {
			return nil, errCutOff
		}
		size := uint64(binary.BigEndian.Uint32(b[at:]))
		if at+12+size > uint64(len(b)) {
			return nil, errCutOff
		}
		c := chunk{string(b[at+4 : at+8]), b[at+8 : at+8+size]}
		if crc32.ChecksumIEEE(b[at+4:at+8+size]) != binary.BigEndian.Uint32(b[at+8+size:]) {
			return nil, errDamaged
		}
		if (len(list) == 0) != (c.kind == "IHDR") || c.kind == "IHDR" && size != 13 {
			return nil, errDamaged
		}
		if c.kind == "IEND" {
			if !pixels {
				return nil, errDamaged
			}
			return list, nil
		}
		pixels = pixels || c.kind == "IDAT"
		if c.kind != "IDAT" {
			list = append(list, c)
		}
		if len(list) > maxSegments {
			return nil, errDamaged
		}
		at += 12 + size
	}
}

// unpackProfile reads an iCCP chunk: a name, a method, the packed profile (PNG,
// third edition, 11.3.2.3). What cannot be unpacked comes back empty, not nil.
func unpackProfile(b []byte) []byte {
	_, packed, found := bytes.Cut(b, []byte{0})
	if !found || len(packed) < 1 || packed[0] != 0 {
		return []byte{}
	}
	r, err := zlib.NewReader(bytes.NewReader(packed[1:]))
	if err != nil {
		return []byte{}
	}
	out, err := io.ReadAll(io.LimitReader(r, maxProfile))
	if err != nil {
		return []byte{}
	}
	return out
}
