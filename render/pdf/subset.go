package pdf

import (
	"encoding/binary"
	"errors"
)

// The parts of a TrueType file that a glyph takes to be drawn; a PDF needs no
// more of it (ISO 32000-1, 9.9). In the order of their names, as the file must
// list them.
var tablesKept = [...]string{"cvt ", "fpgm", "glyf", "head", "hhea", "hmtx", "loca", "maxp", "prep"}

var errFont = errors.New("pdf: the embedded font is damaged")

// sfnt is a TrueType file taken apart.
type sfnt struct {
	tables map[string][]byte
	long   bool // the form of loca
	wide   int  // how many entries of hmtx have an advance
}

func openFont(ttf []byte) (*sfnt, error) {
	if len(ttf) < 12 {
		return nil, errFont
	}
	f := &sfnt{tables: map[string][]byte{}}
	for i := range int(binary.BigEndian.Uint16(ttf[4:])) {
		at := 12 + 16*i
		if at+16 > len(ttf) {
			return nil, errFont
		}
		from, size := uint64(binary.BigEndian.Uint32(ttf[at+8:])), uint64(binary.BigEndian.Uint32(ttf[at+12:]))
		if from+size > uint64(len(ttf)) {
			return nil, errFont
		}
		f.tables[string(ttf[at:at+4])] = ttf[from : from+size]
	}
	if len(f.tables["head"]) < 54 || len(f.tables["hhea"]) < 36 || len(f.tables["maxp"]) < 6 {
		return nil, errFont
	}
	f.long = binary.BigEndian.Uint16(f.tables["head"][50:]) != 0
	f.wide = int(binary.BigEndian.Uint16(f.tables["hhea"][34:]))
	return f, nil
}

// outline gives a glyph's bytes, none for one without ink.
func (f *sfnt) outline(g uint16) ([]byte, error) {
	loca, glyf := f.tables["loca"], f.tables["glyf"]
	var from, to int
	switch i := int(g); {
	case f.long && 4*i+8 <= len(loca):
		from, to = int(binary.BigEndian.Uint32(loca[4*i:])), int(binary.BigEndian.Uint32(loca[4*i+4:]))
	case !f.long && 2*i+4 <= len(loca):
		from, to = 2*int(binary.BigEndian.Uint16(loca[2*i:])), 2*int(binary.BigEndian.Uint16(loca[2*i+2:]))
	default:
		return nil, errFont
	}
	if from > to || to > len(glyf) {
		return nil, errFont
	}
	return glyf[from:to], nil
}

// metric gives a glyph's entry of hmtx: its advance and left bearing.
func (f *sfnt) metric(g uint16) ([]byte, error) {
	hmtx := f.tables["hmtx"]
	if int(g) >= f.wide || 4*int(g)+4 > len(hmtx) {
		return nil, errFont
	}
	return hmtx[4*g : 4*g+4], nil
}

// The flags of a part of a composite glyph. OpenType 1.9, glyf.
const (
	wordArgs    = 1 << 0
	oneScale    = 1 << 3
	moreParts   = 1 << 5
	twoScales   = 1 << 6
	fourByScale = 1 << 7
)

// parts gives the places in a glyph's bytes where the numbers of other glyphs
// stand that it is made of; none for a simple glyph.
func parts(outline []byte) ([]int, error) {
	if len(outline) < 10 || int16(binary.BigEndian.Uint16(outline)) >= 0 {
		return nil, nil
	}
	var places []int
	for at := 10; ; {
		if at+4 > len(outline) {
			return nil, errFont
		}
		flags := binary.BigEndian.Uint16(outline[at:])
		places = append(places, at+2)
		at += 6
		if flags&wordArgs != 0 {
			at += 2
		}
		switch {
		case flags&oneScale != 0:
			at += 2
		case flags&twoScales != 0:
			at += 4
		case flags&fourByScale != 0:
			at += 8
		}
		if flags&moreParts == 0 {
			return places, nil
		}
	}
}

// noGlyph holds a number free in a font that is cut: nothing to see, no width.
const noGlyph = 0xFFFF

// subset makes a font of the glyphs given, in that order and with those numbers
// from 0; a glyph may be there more than once. What they are made of follows
// behind.
func subset(ttf []byte, glyphs []uint16) ([]byte, error) {
	f, err := openFont(ttf)
	if err != nil {
		return nil, err
	}
	glyphs = append([]uint16(nil), glyphs...)
	added := map[uint16]uint16{} // parts, by their old number
	var glyf, loca, hmtx []byte
	for i := 0; i < len(glyphs); i++ {
		if glyphs[i] == noGlyph {
			loca = binary.BigEndian.AppendUint32(loca, uint32(len(glyf)))
			hmtx = append(hmtx, 0, 0, 0, 0)
			continue
		}
		outline, err := f.outline(glyphs[i])
		if err != nil {
			return nil, err
		}
		metric, err := f.metric(glyphs[i])
		if err != nil {
			return nil, err
		}
		places, err := parts(outline)
		if err != nil {
			return nil, err
		}
		loca = binary.BigEndian.AppendUint32(loca, uint32(len(glyf)))
		start := len(glyf)
		glyf = append(glyf, outline...)
		for _, at := range places {
			old := binary.BigEndian.Uint16(outline[at:])
			n, there := added[old]
			if !there {
				n = uint16(len(glyphs))
				added[old] = n
				glyphs = append(glyphs, old)
			}
			binary.BigEndian.PutUint16(glyf[start+at:], n)
		}
		glyf = append(glyf, make([]byte, -len(glyf)&3)...)
		hmtx = append(hmtx, metric...)
	}
	loca = binary.BigEndian.AppendUint32(loca, uint32(len(glyf)))
	return f.assemble(glyf, loca, hmtx, uint16(len(glyphs))), nil
}

// assemble writes the file with new glyphs, their number put where it belongs.
func (f *sfnt) assemble(glyf, loca, hmtx []byte, n uint16) []byte {
	changed := func(name string, at int, v uint16) []byte {
		t := append([]byte(nil), f.tables[name]...)
		binary.BigEndian.PutUint16(t[at:], v)
		return t
	}
	head := changed("head", 50, 1) // loca in the long form
	binary.BigEndian.PutUint32(head[8:], 0)
	tables := map[string][]byte{
		"cvt ": f.tables["cvt "], "fpgm": f.tables["fpgm"], "prep": f.tables["prep"],
		"glyf": glyf, "loca": loca, "hmtx": hmtx,
		"head": head, "hhea": changed("hhea", 34, n), "maxp": changed("maxp", 4, n),
	}
	const count = len(tablesKept)
	out := []byte{0, 1, 0, 0, 0, byte(count), 0, 128, 0, 3, 0, byte(16*count - 128)} // 128 and 3: the power of two under it
	at := uint32(12 + 16*count)
	for _, name := range tablesKept {
		t := tables[name]
		out = append(out, name...)
		out = binary.BigEndian.AppendUint32(out, sum32(t))
		out = binary.BigEndian.AppendUint32(out, at)
		out = binary.BigEndian.AppendUint32(out, uint32(len(t)))
		at += uint32(len(t)+3) &^ 3
	}
	headAt := 0
	for _, name := range tablesKept {
		if name == "head" {
			headAt = len(out)
		}
		out = append(out, tables[name]...)
		out = append(out, make([]byte, -len(out)&3)...)
	}
	binary.BigEndian.PutUint32(out[headAt+8:], 0xB1B0AFBA-sum32(out)) // OpenType 1.9, head
	return out
}

// sum32 is the sum of a table's big-endian words, zeros added at its end.
func sum32(b []byte) uint32 {
	var sum uint32
	for ; len(b) >= 4; b = b[4:] {
		sum += binary.BigEndian.Uint32(b)
	}
	var last [4]byte
	copy(last[:], b)
	return sum + binary.BigEndian.Uint32(last[:])
}
