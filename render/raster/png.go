package raster

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/png"

	"stopleaf/render/internal/xmp"
)

// headPNG is where the first chunk ends: the signature, and a chunk IHDR of 13
// bytes with its length, name and check sum.
const headPNG = 8 + 4 + 4 + 13 + 4

// encodePNG encodes pixels and puts behind the first chunk what the standard
// library leaves out. PNG, Third Edition, W3C 2025: sRGB 11.3.2.5, pHYs
// 11.3.4.3, iTXt 11.3.3.4.
func (w *Writer) encodePNG(img image.Image, page int) ([]byte, error) {
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		return nil, fmt.Errorf("png: %w", err)
	}
	coded := b.Bytes()
	const perceptual = 0
	var more []byte
	more = chunk(more, "sRGB", []byte{perceptual})
	dots := dotsPerMetre(w.dpi)
	size := binary.BigEndian.AppendUint32(nil, dots)
	size = binary.BigEndian.AppendUint32(size, dots)
	const perMetre = 1
	more = chunk(more, "pHYs", append(size, perMetre))
	// the keyword, no compression, no language, no translated keyword
	more = chunk(more, "iTXt", append([]byte("XML:com.adobe.xmp\x00\x00\x00\x00\x00"), xmp.Packet(w.about(page, "image/png"))...))
	out := make([]byte, 0, len(coded)+len(more))
	out = append(out, coded[:headPNG]...)
	out = append(out, more...)
	return append(out, coded[headPNG:]...), nil
}

// chunk appends one chunk: length, name, data, check sum of name and data.
func chunk(out []byte, name string, data []byte) []byte {
	out = binary.BigEndian.AppendUint32(out, uint32(len(data)))
	from := len(out)
	out = append(append(out, name...), data...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[from:]))
}
