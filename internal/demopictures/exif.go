package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"math"
)

// shot is what a camera writes of an exposure; zero is not written.
type shot struct {
	fNumber  float64
	shutterS float64
	iso      float64
	focalMM  float64
	taken    string // "2026:03:14 12:00:00"
	turned   int    // Exif orientation, 1 or 6
}

// Exif 2.31 (CIPA DC-008) tags and types.
const (
	tagOrientation = 0x0112
	tagExifIFD     = 0x8769
	tagExposure    = 0x829A
	tagFNumber     = 0x829D
	tagISO         = 0x8827
	tagVersion     = 0x9000
	tagTaken       = 0x9003
	tagFocal       = 0x920A

	typeASCII    = 2
	typeShort    = 3
	typeLong     = 4
	typeRational = 5
	typeUnknown  = 7
)

// entry is one field of a directory.
type entry struct {
	tag, kind uint16
	count     uint32
	data      []byte
}

func short(tag uint16, v int) entry {
	return entry{tag, typeShort, 1, binary.BigEndian.AppendUint16(nil, uint16(v))}
}

func rational(tag uint16, over, under uint32) entry {
	return entry{tag, typeRational, 1, binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, over), under)}
}

// directory lays entries out from offset at, long values behind them.
func directory(at int, entries []entry) []byte {
	var head, tail bytes.Buffer
	after := at + 2 + 12*len(entries) + 4
	binary.Write(&head, binary.BigEndian, uint16(len(entries)))
	for _, e := range entries {
		binary.Write(&head, binary.BigEndian, e.tag)
		binary.Write(&head, binary.BigEndian, e.kind)
		binary.Write(&head, binary.BigEndian, e.count)
		if len(e.data) <= 4 {
			head.Write(append(append([]byte(nil), e.data...), 0, 0, 0, 0)[:4])
			continue
		}
		binary.Write(&head, binary.BigEndian, uint32(after+tail.Len()))
		tail.Write(e.data)
		if tail.Len()%2 == 1 {
			tail.WriteByte(0)
		}
	}
	head.Write([]byte{0, 0, 0, 0})
	head.Write(tail.Bytes())
	return head.Bytes()
}

// tiff is the block behind "Exif": big-endian, the main directory and the
// exposure's, tags rising.
func (s shot) tiff() []byte {
	var fields []entry
	if s.shutterS > 0 {
		fields = append(fields, rational(tagExposure, 1, uint32(math.Round(1/s.shutterS))))
	}
	if s.fNumber > 0 {
		fields = append(fields, rational(tagFNumber, uint32(math.Round(s.fNumber*10)), 10))
	}
	if s.iso > 0 {
		fields = append(fields, short(tagISO, int(s.iso)))
	}
	fields = append(fields, entry{tagVersion, typeUnknown, 4, []byte("0231")})
	if s.taken != "" {
		fields = append(fields, entry{tagTaken, typeASCII, 20, append([]byte(s.taken), 0)})
	}
	if s.focalMM > 0 {
		fields = append(fields, rational(tagFocal, uint32(math.Round(s.focalMM*10)), 10))
	}
	const first = 8
	main := func(sub int) []byte {
		return directory(first, []entry{short(tagOrientation, s.turned),
			{tagExifIFD, typeLong, 1, binary.BigEndian.AppendUint32(nil, uint32(sub))}})
	}
	sub := first + len(main(0))
	out := append([]byte("MM\x00*\x00\x00\x00\x08"), main(sub)...)
	return append(out, directory(sub, fields)...)
}

// withExif puts an Exif segment straight after the start of a JPEG.
func withExif(jpg []byte, s shot) ([]byte, error) {
	if len(jpg) < 2 || jpg[0] != 0xFF || jpg[1] != 0xD8 {
		return nil, errors.New("not a JPEG")
	}
	body := append([]byte("Exif\x00\x00"), s.tiff()...)
	if len(body)+2 > 0xFFFF {
		return nil, errors.New("too much Exif")
	}
	out := append([]byte{0xFF, 0xD8, 0xFF, 0xE1}, binary.BigEndian.AppendUint16(nil, uint16(len(body)+2))...)
	return append(append(out, body...), jpg[2:]...), nil
}
