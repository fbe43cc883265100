package raster

import (
	"bytes"
	"crypto/md5"
	"encoding/binary"
	"fmt"
	"image"
	"image/jpeg"

	"stopleaf/render/internal/xmp"
)

// quality is where letters show no rings at arm's length.
const quality = 92

// mostSegment is what a segment of a JPEG may hold, its length not counted.
const mostSegment = 65535 - 2

// encodeJPEG encodes pixels and puts behind the first marker what the standard
// library leaves out: JFIF (ECMA TR/98, 10.1) and the XMP packet (ISO 16684-3).
func (w *Writer) encodeJPEG(img image.Image, page int) ([]byte, error) {
	const most = 65535
	if size := img.Bounds().Size(); size.X > most || size.Y > most {
		return nil, fmt.Errorf("a JPEG of %d x %d pixels; at most %d on a side are written", size.X, size.Y, most)
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: quality}); err != nil {
		return nil, fmt.Errorf("jpeg: %w", err)
	}
	coded := b.Bytes()
	const perInch = 1
	jfif := append([]byte("JFIF\x00\x01\x02"), perInch)
	jfif = binary.BigEndian.AppendUint16(jfif, uint16(w.dpi))
	jfif = binary.BigEndian.AppendUint16(jfif, uint16(w.dpi))
	jfif = append(jfif, 0, 0) // no thumbnail
	const startOfImage = 2
	out := make([]byte, 0, len(coded)+8192)
	out = append(out, coded[:startOfImage]...)
	out = segment(out, 0xE0, jfif)
	packet, rest := w.packets(page)
	out = segment(out, 0xE1, packet)
	for _, part := range rest {
		out = segment(out, 0xE1, part)
	}
	return append(out, coded[startOfImage:]...), nil
}

func segment(out []byte, marker byte, data []byte) []byte {
	out = append(out, 0xFF, marker)
	out = binary.BigEndian.AppendUint16(out, uint16(len(data)+2))
	return append(out, data...)
}

// packets is the XMP packet in the one segment that it must fit in. Where it is too long
// the setups, which may not be lost, go into an extension of it, in further segments;
// and what is left goes without some of the keywords, then the description, and all that a
// person wrote.
func (w *Writer) packets(page int) (packet []byte, rest [][]byte) {
	const name = "http://ns.adobe.com/xap/1.0/\x00"
	a := w.about(page, "image/jpeg")
	text := xmp.Packet(a)
	for len(name)+len(text) > mostSegment {
		switch {
		case len(a.Setups) > 0:
			more := xmp.Extension(a.Setups)
			a.Setups = nil
			sum := fmt.Sprintf("%X", md5.Sum(more))
			a.Spaces += ` xmlns:xmpNote="http://ns.adobe.com/xmp/note/"`
			a.More += "<xmpNote:HasExtendedXMP>" + sum + "</xmpNote:HasExtendedXMP>\n"
			rest = extension(more, sum)
		case len(a.Keywords) > 0:
			a.Keywords = a.Keywords[:len(a.Keywords)/2]
		case a.Description != "":
			a.Description = ""
		default:
			a.Title, a.Author, a.Lang = "", "", ""
		}
		text = xmp.Packet(a)
	}
	return append([]byte(name), text...), rest
}

// extension cuts what is too long for a packet into segments, each of which says of what
// it is a part, how long that is and where in it the part belongs (Adobe, XMP Specification
// Part 3, 1.1.3.1; from memory).
func extension(data []byte, sum string) (parts [][]byte) {
	const most = 65_400
	for at := 0; at < len(data); at += most {
		part := append([]byte("http://ns.adobe.com/xmp/extension/\x00"), sum...)
		part = binary.BigEndian.AppendUint32(part, uint32(len(data)))
		part = binary.BigEndian.AppendUint32(part, uint32(at))
		parts = append(parts, append(part, data[at:min(at+most, len(data))]...))
	}
	return parts
}
