package raster

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"

	"stopleaf/render/internal/xmp"
)

// encodePNG writes a picture with its resolution, its colour space and what is
// said of it. PNG, Third Edition, W3C 2025.
func (w *Writer) encodePNG(img image.Image, page int) ([]byte, error) {
	size := img.Bounds().Size()
	const (
		grey, colour = 0, 2 // colour types
		eight        = 8    // bits a sample
		perceptual   = 0
		perMetre     = 1
	)
	kind := byte(colour)
	if _, ok := img.(*image.Gray); ok {
		kind = grey
	}
	out := []byte("\x89PNG\r\n\x1a\n")
	out = chunk(out, "IHDR", append(pair(size.X, size.Y), eight, kind, 0, 0, 0))
	out = chunk(out, "sRGB", []byte{perceptual})
	out = chunk(out, "pHYs", append(pair(dotsPerMetre(w.dpi), dotsPerMetre(w.dpi)), perMetre))
	// the keyword, not compressed, no language, no translated keyword
	out = chunk(out, "iTXt", append([]byte("XML:com.adobe.xmp\x00\x00\x00\x00\x00"), xmp.Packet(w.about(page, "image/png"))...))
	data, err := deflated(img)
	if err != nil {
		return nil, fmt.Errorf("png: %w", err)
	}
	out = chunk(out, "IDAT", data)
	return chunk(out, "IEND", nil), nil
}

// level is where a page of letters and lines takes a third of the time that the
// best takes, and hardly more room.
const level = 5

// deflated is the rows without a filter: on letters and lines every filter makes
// the file larger and the writing slower.
func deflated(img image.Image) ([]byte, error) {
	var b bytes.Buffer
	z, err := zlib.NewWriterLevel(&b, level)
	if err != nil {
		return nil, err
	}
	rows(img, func(row []byte) {
		if err == nil {
			_, err = z.Write(row)
		}
	})
	if err == nil {
		err = z.Close()
	}
	return b.Bytes(), err
}

// rows gives each row as PNG holds it, the filter (none) before the samples.
func rows(img image.Image, put func([]byte)) {
	switch v := img.(type) {
	case *image.Gray:
		row := make([]byte, 1+v.Rect.Dx())
		for y := range v.Rect.Dy() {
			copy(row[1:], v.Pix[y*v.Stride:])
			put(row)
		}
	case *image.RGBA:
		row := make([]byte, 1+3*v.Rect.Dx())
		for y := range v.Rect.Dy() {
			from := v.Pix[y*v.Stride:]
			for i, j := 1, 0; i < len(row); i, j = i+3, j+4 {
				row[i], row[i+1], row[i+2] = from[j], from[j+1], from[j+2]
			}
			put(row)
		}
	}
}

func pair(a, b int) []byte {
	return binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, uint32(a)), uint32(b))
}

// chunk appends one chunk: length, name, data, check sum of name and data.
func chunk(out []byte, name string, data []byte) []byte {
	out = binary.BigEndian.AppendUint32(out, uint32(len(data)))
	from := len(out)
	out = append(append(out, name...), data...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[from:]))
}
