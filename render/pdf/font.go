package pdf

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"stopleaf/layout/text"
)

// glyphSet marks runes by their place in layout/text. A rune has the same number
// in every document, one more than its place, so that pages can be written in
// any order; 0 stands for no glyph.
type glyphSet [(text.Count + 63) / 64]uint64

func (s *glyphSet) put(place int)      { s[place/64] |= 1 << (place % 64) }
func (s *glyphSet) has(place int) bool { return s[place/64]>>(place%64)&1 != 0 }
func (s *glyphSet) empty() bool        { return *s == glyphSet{} }

func (s *glyphSet) join(other *glyphSet) {
	for i, v := range other {
		s[i] |= v
	}
}

// appendString appends clean words as the string that shows them: the runes'
// numbers in hexadecimal digits.
func (s *glyphSet) appendString(b []byte, words string) []byte {
	b = append(b, '<')
	for _, r := range words {
		place := text.Place(r)
		s.put(place)
		b = appendHex(b, uint16(place+1))
	}
	return append(b, '>')
}

// appendShown appends clean words and the operator that shows them, each space
// wider by so many thousandths of the em.
func (s *glyphSet) appendShown(b []byte, words string, space int64) []byte {
	if space == 0 {
		return append(s.appendString(b, words), " Tj"...)
	}
	b = append(b, '[')
	for {
		word, rest, more := strings.Cut(words, " ")
		if !more {
			return append(s.appendString(b, word), "] TJ"...)
		}
		b = s.appendString(b, word+" ")
		b = strconv.AppendInt(b, -space, 10)
		words = rest
	}
}

func appendHex(b []byte, n uint16) []byte {
	const digits = "0123456789ABCDEF"
	return append(b, digits[n>>12], digits[n>>8&15], digits[n>>4&15], digits[n&15])
}

// face is the place of a face in what holds both.
func face(bold bool) int {
	if bold {
		return 1
	}
	return 0
}

// fontName is a face's name in a page's contents.
func fontName(bold bool) string {
	if bold {
		return "F2"
	}
	return "F1"
}

// font is one face as a document uses it. fpdf can embed fonts, but spends most
// of a page's time on tables for all 65,536 runes that there may be; here the
// font is cut and written at the end.
type font struct {
	bold  bool
	runes []rune // by number; 0 for one that is not used

	// What prepare makes.
	program []byte // the font, cut to the runes
	packed  stream // the same
	unicode stream // which runes the numbers stand for
	err     error
}

func newFont(bold bool, used *glyphSet) *font {
	f := &font{bold: bold, runes: []rune{0}}
	for place, r := range text.Runes() {
		if used.has(place) {
			f.runes = append(f.runes, make([]rune, place+2-len(f.runes))...)
			f.runes[place+1] = r
		}
	}
	return f
}

func (f *font) name() string {
	if f.bold {
		return "DejaVuSansCondensed-Bold"
	}
	return "DejaVuSansCondensed"
}

// prepare cuts and packs the font.
func (f *font) prepare(plain bool) {
	glyphs := make([]uint16, len(f.runes))
	for i, r := range f.runes {
		switch {
		case r != 0:
			glyphs[i] = text.Glyph(r)
		case i > 0:
			glyphs[i] = noGlyph
		}
	}
	if f.program, f.err = subset(text.Font(f.bold), glyphs); f.err != nil {
		return
	}
	f.packed = pack(f.program, plain)
	f.unicode = pack(f.toUnicode(), plain)
}

// write adds the prepared font to a file and gives its object's number: a
// composite font whose characters are numbered as its glyphs are. ISO 32000-1,
// 9.7.
func (f *font) write(out *file) (int, error) {
	if f.err != nil {
		return 0, f.err
	}
	name := "/" + tag(f.program) + "+" + f.name()
	program := out.addStream(fmt.Sprintf(" /Length1 %d", len(f.program)), f.packed)
	descriptor := out.add("<</Type /FontDescriptor /FontName " + name + f.measures() + " /FontFile2 " + ref(program) + ">>")
	descendant := out.add("<</Type /Font /Subtype /CIDFontType2 /BaseFont " + name +
		"\n/CIDSystemInfo <</Registry (Adobe) /Ordering (Identity) /Supplement 0>>\n/FontDescriptor " + ref(descriptor) +
		"\n/CIDToGIDMap /Identity /W " + f.widths() + ">>")
	unicode := out.addStream("", f.unicode)
	return out.add("<</Type /Font /Subtype /Type0 /BaseFont " + name + " /Encoding /Identity-H\n/DescendantFonts [" +
		ref(descendant) + "] /ToUnicode " + ref(unicode) + ">>"), nil
}

// tag is the mark of a subset: six capitals that hang on what is in it.
func tag(program []byte) string {
	sum := sha256.Sum256(program)
	b := make([]byte, 6)
	for i := range b {
		b[i] = 'A' + sum[i]%26
	}
	return string(b)
}

// measures are the font's own, from its tables head and hhea, in thousandths of
// the em; the strength of the stems is its regular or bold one.
func (f *font) measures() string {
	s, err := openFont(f.program)
	if err != nil {
		return ""
	}
	unit := func(table string, at int) int {
		return int(int16(binary.BigEndian.Uint16(s.tables[table][at:]))) * 1000 / text.UnitsPerEm
	}
	const capHeight = 729 // text.CapFraction
	stem := 90
	if f.bold {
		stem = 180
	}
	return fmt.Sprintf(" /Flags 4 /FontBBox [%d %d %d %d] /ItalicAngle 0 /Ascent %d /Descent %d /CapHeight %d /StemV %d",
		unit("head", 36), unit("head", 38), unit("head", 40), unit("head", 42),
		unit("hhea", 4), unit("hhea", 6), capHeight, stem)
}

// widths are those of layout/text, in runs of numbers that are used.
func (f *font) widths() string {
	b := []byte("[0 [0")
	for i, r := range f.runes[1:] {
		if r == 0 {
			continue
		}
		if f.runes[i] == 0 && i > 0 {
			b = fmt.Appendf(b, "] %d [", i+1)
		} else {
			b = append(b, ' ')
		}
		b = strconv.AppendInt(b, text.Advance(r, f.bold), 10)
	}
	return string(append(b, "]]"...))
}

// toUnicode says which rune each number stands for. ISO 32000-1, 9.10.3; no
// more than a hundred in one block.
func (f *font) toUnicode() []byte {
	b := []byte("/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n" +
		"/CIDSystemInfo <</Registry (Adobe) /Ordering (UCS) /Supplement 0>> def\n/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n" +
		"1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n")
	var used []int
	for i, r := range f.runes {
		if r != 0 {
			used = append(used, i)
		}
	}
	const block = 100
	for list := range slices.Chunk(used, block) {
		b = fmt.Appendf(b, "%d beginbfchar\n", len(list))
		for _, i := range list {
			b = appendHex(append(b, '<'), uint16(i))
			b = appendHex(append(b, "> <"...), uint16(f.runes[i]))
			b = append(b, ">\n"...)
		}
		b = append(b, "endbfchar\n"...)
	}
	return append(b, "endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend"...)
}
