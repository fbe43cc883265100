package pdf

import (
	"bytes"
	"compress/zlib"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"strings"

	"stopleaf/layout/text"
)

// font is one face as a document uses it. fpdf can embed fonts, but spends most
// of a page's time on tables for all 65,536 runes that there may be; here each
// rune gets a number as it is first used, and the font is cut and written at
// the end.
type font struct {
	bold    bool
	numbers map[rune]uint16
	runes   []rune // by number; 0 stands for no glyph

	// What prepare makes once all runes are known.
	program []byte // the font, cut to the runes
	stream  string // the same as an object
	unicode string // the object that says which runes the numbers stand for
	err     error
}

func newFont(bold bool) *font {
	return &font{bold: bold, numbers: map[rune]uint16{}, runes: []rune{0}}
}

// resource is the font's name in a page's contents.
func (f *font) resource() string {
	if f.bold {
		return "F2"
	}
	return "F1"
}

func (f *font) name() string {
	if f.bold {
		return "DejaVuSansCondensed-Bold"
	}
	return "DejaVuSansCondensed"
}

// appendString appends clean words as the string that shows them: the runes'
// numbers in hexadecimal digits.
func (f *font) appendString(b []byte, s string) []byte {
	b = append(b, '<')
	for _, r := range s {
		n, there := f.numbers[r]
		if !there {
			n = uint16(len(f.runes))
			f.numbers[r] = n
			f.runes = append(f.runes, r)
		}
		b = appendHex(b, n)
	}
	return append(b, '>')
}

func appendHex(b []byte, n uint16) []byte {
	const digits = "0123456789ABCDEF"
	return append(b, digits[n>>12], digits[n>>8&15], digits[n>>4&15], digits[n&15])
}

// prepare cuts and packs the font; it may run while the pages are packed.
func (f *font) prepare(plain bool) {
	glyphs := make([]uint16, len(f.runes))
	for i, r := range f.runes[1:] {
		glyphs[i+1] = text.Glyph(r, f.bold)
	}
	if f.program, f.err = subset(text.Font(f.bold), glyphs); f.err != nil {
		return
	}
	z := &packer{plain: plain}
	f.stream = z.stream(f.program, fmt.Sprintf(" /Length1 %d", len(f.program)))
	f.unicode = z.stream(f.toUnicode(), "")
}

// write adds the prepared font to a file and gives its object's number: a
// composite font whose characters are numbered as its glyphs are. ISO 32000-1,
// 9.7.
func (f *font) write(out *file) (int, error) {
	if f.err != nil {
		return 0, f.err
	}
	name := "/" + tag(f.program) + "+" + f.name()
	stream := out.add(f.stream)
	descriptor := out.add("<</Type /FontDescriptor /FontName " + name + f.measures(f.program) + " /FontFile2 " + ref(stream) + ">>")
	descendant := out.add("<</Type /Font /Subtype /CIDFontType2 /BaseFont " + name +
		"\n/CIDSystemInfo <</Registry (Adobe) /Ordering (Identity) /Supplement 0>>\n/FontDescriptor " + ref(descriptor) +
		"\n/CIDToGIDMap /Identity /W " + f.widths() + ">>")
	unicode := out.add(f.unicode)
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
func (f *font) measures(program []byte) string {
	s, err := openFont(program)
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

// widths are those of layout/text, by number.
func (f *font) widths() string {
	var b strings.Builder
	b.WriteString("[0 [0")
	for _, r := range f.runes[1:] {
		fmt.Fprintf(&b, " %d", text.Advance(r, f.bold))
	}
	b.WriteString("]]")
	return b.String()
}

// toUnicode says which rune each number stands for. ISO 32000-1, 9.10.3; no
// more than a hundred in one block.
func (f *font) toUnicode() []byte {
	b := []byte("/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n" +
		"/CIDSystemInfo <</Registry (Adobe) /Ordering (UCS) /Supplement 0>> def\n/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n" +
		"1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n")
	const block = 100
	for from := 1; from < len(f.runes); from += block {
		list := f.runes[from:min(from+block, len(f.runes))]
		b = fmt.Appendf(b, "%d beginbfchar\n", len(list))
		for i, r := range list {
			b = appendHex(append(b, '<'), uint16(from+i))
			b = appendHex(append(b, "> <"...), uint16(r))
			b = append(b, ">\n"...)
		}
		b = append(b, "endbfchar\n"...)
	}
	return append(b, "endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend"...)
}

// packer writes streams, compressed unless they are to be plain. It keeps one
// compressor, which is dear to make.
type packer struct {
	plain bool
	z     *zlib.Writer
	buf   bytes.Buffer
}

// stream is a stream object with more in its dictionary.
func (p *packer) stream(data []byte, more string) string {
	filter := ""
	if !p.plain {
		p.buf.Reset()
		if p.z == nil {
			p.z = zlib.NewWriter(&p.buf)
		} else {
			p.z.Reset(&p.buf)
		}
		_, _ = p.z.Write(data) // memory takes everything
		_ = p.z.Close()
		data, filter = p.buf.Bytes(), " /Filter /FlateDecode"
	}
	return fmt.Sprintf("<</Length %d%s%s>>\nstream\n%s\nendstream", len(data), filter, more, data)
}
