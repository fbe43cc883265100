package photo

import (
	"encoding/binary"
	"math"
	"strings"
	"time"
)

// The tags that are read. Exif 2.31, CIPA DC-008, tables 4 and 8.
const (
	tagOrientation  = 0x0112
	tagExifPointer  = 0x8769
	tagExposureTime = 0x829A
	tagFNumber      = 0x829D
	tagSensitivity  = 0x8827
	tagOutputSens   = 0x8831
	tagIndexSens    = 0x8832
	tagTaken        = 0x9003
	tagShutter      = 0x9201 // APEX
	tagAperture     = 0x9202 // APEX
	tagFocal        = 0x920A
	tagInterop      = 0xA005
	tagInteropIndex = 0x0001
)

// The types of a field that the tags read may have. Exif 2.31, section 4.6.2.
const (
	typeByte      = 1
	typeASCII     = 2
	typeShort     = 3
	typeLong      = 4
	typeRational  = 5
	typeUndefined = 7
	typeSRational = 10
)

// tiff is the block behind the Exif mark: offsets count from its beginning.
type tiff struct {
	data  []byte
	order binary.ByteOrder
}

// field is one entry of a directory: its type and the bytes of its values.
type field struct {
	kind  uint16
	value []byte
	order binary.ByteOrder
}

// readExif reads the orientation (1 when there is none or a wrong one) and the
// exposure. What is damaged is passed over; nothing in it is an error, since a
// picture can be printed without.
func readExif(data []byte) (orientation int, e Exif) {
	t, first, ok := openTIFF(data)
	if !ok {
		return 1, Exif{}
	}
	zeroth := t.directory(first)
	orientation = 1
	if v, ok := zeroth[tagOrientation].whole(); ok && v >= 1 && v <= 8 {
		orientation = int(v)
	}
	pointer, ok := zeroth[tagExifPointer].whole()
	if !ok {
		return orientation, Exif{}
	}
	d := t.directory(pointer)
	e.FNumber = pick(d[tagFNumber].number(), apex(d[tagAperture].number(), func(av float64) float64 { return math.Exp2(av / 2) }), 0.1, 1000)
	e.ExposureS = pick(d[tagExposureTime].number(), apex(d[tagShutter].number(), func(tv float64) float64 { return math.Exp2(-tv) }), 1e-7, 1e6)
	e.ISO = sensitivity(d)
	e.FocalMM = pick(d[tagFocal].number(), nil, 0.01, 1e5)
	e.Taken = d[tagTaken].date()
	return orientation, e
}

// adobeRGB reports whether the camera recorded in its option colour space, which
// is Adobe RGB (Exif 2.31, annex F.2: interoperability index "R03").
func adobeRGB(data []byte) bool {
	t, at, ok := openTIFF(data)
	for _, tag := range []uint16{tagExifPointer, tagInterop} {
		if !ok {
			return false
		}
		at, ok = t.directory(at)[tag].whole()
	}
	return ok && strings.HasPrefix(string(t.directory(at)[tagInteropIndex].value), "R03")
}

// sensitivity reads the ISO. The short field ends at 65535, which then means
// that the number stands in another. Exif 2.31, section 4.6.5, Sensitivity.
func sensitivity(d map[uint16]field) *float64 {
	iso := d[tagSensitivity].number()
	const full = 65535
	if iso != nil && *iso < full {
		return pick(iso, nil, 0.1, 1e8)
	}
	for _, tag := range []uint16{tagIndexSens, tagOutputSens} {
		if v := pick(d[tag].number(), nil, 0.1, 1e8); v != nil {
			return v
		}
	}
	return pick(iso, nil, 0.1, 1e8)
}

// pick gives the first of two values that lies in the range.
func pick(a, b *float64, low, high float64) *float64 {
	for _, v := range []*float64{a, b} {
		if v != nil && *v >= low && *v <= high {
			return v
		}
	}
	return nil
}

func apex(v *float64, f func(float64) float64) *float64 {
	if v == nil {
		return nil
	}
	out := f(*v)
	return &out
}

// openTIFF reads the head of the block: the order of bytes, 42, the place of
// the zeroth directory.
func openTIFF(data []byte) (t tiff, first uint32, ok bool) {
	if len(data) < 8 {
		return t, 0, false
	}
	switch string(data[:2]) {
	case "II":
		t.order = binary.LittleEndian
	case "MM":
		t.order = binary.BigEndian
	default:
		return t, 0, false
	}
	t.data = data
	return t, t.order.Uint32(data[4:]), t.order.Uint16(data[2:]) == 42
}

// directory reads the entries at a place; those whose values lie outside the
// block are left out. Of a tag that is there twice the first counts.
func (t tiff) directory(at uint32) map[uint16]field {
	size := uint64(len(t.data))
	if uint64(at)+2 > size {
		return nil
	}
	count := int(t.order.Uint16(t.data[at:]))
	fields := map[uint16]field{}
	for i := range count {
		start := uint64(at) + 2 + 12*uint64(i)
		if start+12 > size {
			break
		}
		e := t.data[start : start+12]
		tag := t.order.Uint16(e)
		if _, there := fields[tag]; there {
			continue
		}
		if f, ok := t.field(e); ok {
			fields[tag] = f
		}
	}
	return fields
}

// field reads one entry of twelve bytes; its values stand in the last four or,
// where they need more, at the place that those name.
func (t tiff) field(e []byte) (field, bool) {
	kind, count := t.order.Uint16(e[2:]), t.order.Uint32(e[4:])
	n := width(kind) * uint64(count)
	if n == 0 {
		return field{}, false
	}
	if n <= 4 {
		return field{kind, e[8 : 8+n], t.order}, true
	}
	at := uint64(t.order.Uint32(e[8:]))
	if at+n > uint64(len(t.data)) {
		return field{}, false
	}
	return field{kind, t.data[at : at+n], t.order}, true
}

func width(kind uint16) uint64 {
	switch kind {
	case typeByte, typeASCII, typeUndefined:
		return 1
	case typeShort:
		return 2
	case typeLong:
		return 4
	case typeRational, typeSRational:
		return 8
	}
	return 0
}

// whole gives the first value of a field of whole numbers.
func (f field) whole() (uint32, bool) {
	switch {
	case f.kind == typeShort && len(f.value) >= 2:
		return uint32(f.order.Uint16(f.value)), true
	case f.kind == typeLong && len(f.value) >= 4:
		return f.order.Uint32(f.value), true
	}
	return 0, false
}

// number gives the first value of a field of numbers; nil when there is none or
// it is divided by zero.
func (f field) number() *float64 {
	if v, ok := f.whole(); ok {
		out := float64(v)
		return &out
	}
	if len(f.value) < 8 {
		return nil
	}
	a, b := f.order.Uint32(f.value), f.order.Uint32(f.value[4:])
	if b == 0 {
		return nil
	}
	var out float64
	switch f.kind {
	case typeRational:
		out = float64(a) / float64(b)
	case typeSRational:
		out = float64(int32(a)) / float64(int32(b))
	default:
		return nil
	}
	return &out
}

// date gives the day of "2026:03:14 12:00:00" as 2026-03-14, or "".
func (f field) date() string {
	if f.kind != typeASCII || len(f.value) < 10 {
		return ""
	}
	day := strings.ReplaceAll(string(f.value[:10]), ":", "-")
	if _, err := time.Parse("2006-01-02", day); err != nil {
		return ""
	}
	return day
}
