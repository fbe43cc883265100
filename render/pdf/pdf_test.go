package pdf

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/internal/outside"
	"stopleaf/layout"
	"stopleaf/render/internal/sample"
)

func write(t testing.TB, doc *layout.Document) []byte {
	t.Helper()
	return writeOnce(t, doc)
}

func writeOnce(t require.TestingT, doc *layout.Document) []byte {
	var b bytes.Buffer
	require.NoError(t, WriteWith(&b, doc, Options{Plain: true}))
	return b.Bytes()
}

func save(t testing.TB, b []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "page.pdf")
	require.NoError(t, os.WriteFile(path, b, 0o600))
	return path
}

func document(items ...layout.Item) *layout.Document {
	return &layout.Document{Lang: "en", Title: "t", Pages: []layout.Page{{W: layout.Mm(210), H: layout.Mm(148), Items: items}}}
}

// Other readers find no fault.
func TestReadersFindNoFault(t *testing.T) {
	for _, doc := range []*layout.Document{sample.Document(), document(), {Pages: []layout.Page{{W: 1000, H: 1000}}}} {
		var b bytes.Buffer
		require.NoError(t, Write(&b, doc))
		path := save(t, b.Bytes())
		assert.Contains(t, outside.Run(t, "qpdf", "--check", path), "No syntax or stream encoding errors found")
		assert.NotContains(t, outside.Run(t, "mutool", "draw", "-o", os.DevNull, "-F", "trace", path), "error")
		assert.NotContains(t, outside.Run(t, "pdftotext", path, "-"), "Error")
	}
}

func TestInformation(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, Write(&b, sample.Document()))
	path := save(t, b.Bytes())
	info := outside.Run(t, "pdfinfo", "-isodates", path)
	for _, want := range []string{
		"Title:           Bread maker, flour in the air", "Subject:         A lighting setup as a card", "Author:          Halvard Studio",
		"Keywords:        portrait, low key", "CreationDate:    2026-03-14T00:00:00Z", "Pages:           2", "Metadata Stream: yes",
		"Page size:       595.28 x 419.53 pts", "PDF version:     1.7",
	} {
		assert.Contains(t, info, want)
	}
	assert.NotContains(t, info, "ModDate")
	meta := filepath.Join(t.TempDir(), "meta.xml")
	require.NoError(t, os.WriteFile(meta, []byte(outside.Run(t, "pdfinfo", "-meta", path)), 0o600))
	xml := outside.Run(t, "xmllint", "--nonet", meta)
	for _, want := range []string{
		`<dc:title><rdf:Alt><rdf:li xml:lang="x-default">Bread maker, flour in the air</rdf:li></rdf:Alt></dc:title>`,
		`<dc:creator><rdf:Seq><rdf:li>Halvard Studio</rdf:li></rdf:Seq></dc:creator>`,
		`<dc:subject><rdf:Bag><rdf:li>portrait</rdf:li><rdf:li>low key</rdf:li></rdf:Bag></dc:subject>`,
		`<dc:description><rdf:Alt>`, `<xmp:CreateDate>2026-03-14T00:00:00Z</xmp:CreateDate>`,
	} {
		assert.Contains(t, xml, want)
	}
}

// A document without a date holds none: not the clock's either.
func TestNoClock(t *testing.T) {
	doc := sample.Document()
	doc.Created = ""
	b := write(t, doc)
	assert.NotContains(t, string(b), "Date")
	assert.NotContains(t, string(b), "D:20")
}

func TestCatalog(t *testing.T) {
	path := save(t, write(t, sample.Document()))
	show := func(what string) string { return outside.Run(t, "mutool", "show", path, what) }
	assert.Contains(t, show("trailer/Root/ViewerPreferences"), "/PrintScaling /None")
	assert.Contains(t, show("trailer/Root/ViewerPreferences"), "/DisplayDocTitle true")
	assert.Contains(t, show("trailer/Root/Lang"), "(en)")
	assert.Contains(t, show("trailer/Root/PageLabels"), "(B-014/1)")
	assert.Contains(t, show("trailer/Root/PageLabels"), "(B-014/2)")
	outline := show("outline")
	assert.Regexp(t, `"Bread maker, flour in the air"\s+#page=1`, outline)
	assert.Regexp(t, `"Side 2"\s+#page=2`, outline)
	// the link leads to the second page
	link := show("pages/1/Annots")
	second := show("pages/2")
	assert.Contains(t, second, "/MediaBox [ 0 0 419.53 297.64 ]")
	number, _, _ := strings.Cut(second, " 0 obj")
	assert.Contains(t, link, "/Dest [ "+number+" 0 R /XYZ 0 297.64 null ]")
	assert.Contains(t, link, "/Rect [ 22.68 136.06 79.37 121.89 ]")
}

// The fonts are embedded, cut to what is used, and registered only where used.
func TestFonts(t *testing.T) {
	path := save(t, write(t, sample.Document()))
	fonts := outside.Run(t, "pdffonts", path)
	assert.Regexp(t, `(?m)^[A-Z]{6}\+DejaVuSansCondensed +CID TrueType +Identity-H +yes yes yes`, fonts)
	assert.Regexp(t, `(?m)^[A-Z]{6}\+DejaVuSansCondensed-Bold +CID TrueType +Identity-H +yes yes yes`, fonts)
	assert.Len(t, strings.Split(strings.TrimSpace(fonts), "\n"), 4)

	only := outside.Run(t, "pdffonts", save(t, write(t, document(sample.Set(10000, 10000, 2500, false, "regular")))))
	assert.NotContains(t, only, "Bold")
	none := outside.Run(t, "pdffonts", save(t, write(t, document(sample.Line(500, 0, 0, 1000, 1000)))))
	assert.NotContains(t, none, "DejaVu")
}

// A row of the table comes out whole and in its order, by either way of reading.
func TestRowsReadWhole(t *testing.T) {
	path := save(t, write(t, sample.Document()))
	for _, args := range [][]string{{path, "-"}, {"-layout", path, "-"}, {"-raw", path, "-"}} {
		out := outside.Run(t, "pdftotext", args...)
		last := -1
		for _, row := range sample.Rows {
			at := strings.Index(out, strings.Join(row, cellGap))
			assert.Greater(t, at, last, "%v: %v\n%s", args[0], row, out)
			last = at
		}
	}
}

// A row whose cells have several lines still reads whole: the first lines are
// one line, and the rest follows in the cells' order.
func TestRowOfCellsWithSeveralLines(t *testing.T) {
	of := func(x, y layout.Um, s string) *layout.Text {
		run := sample.Set(x, y, 2500, false, s)
		run.Of = "light 1"
		return run
	}
	path := save(t, write(t, document(
		of(10000, 20000, "1"), of(15000, 20000, "Key"), of(15000, 24000, "octabox 1.2,"), of(15000, 28000, "grid 40"),
		of(60000, 20000, "key, 0"), of(90000, 20000, "f/5.6"), of(90000, 24000, "1/16"), of(120000, 20000, "f/8"), of(120000, 24000, "1/8"),
	)))
	out := outside.Run(t, "pdftotext", path, "-")
	assert.Contains(t, out, "1  Key  key, 0  f/5.6  f/8\n")
	raw := outside.Run(t, "pdftotext", "-raw", path, "-")
	assert.Equal(t, "1  Key  key, 0  f/5.6  f/8\noctabox 1.2,\ngrid 40\n1/16  1/8\n", strings.TrimRight(raw, "\f"))
}

func TestSameBytes(t *testing.T) {
	first := write(t, sample.Document())
	other := write(t, document(sample.Set(1000, 9000, 5000, true, "another")))
	require.NotEqual(t, first, other)
	for range 5 {
		require.True(t, bytes.Equal(first, write(t, sample.Document())))
	}
}

// Many pictures of one width come in one order.
func TestSameBytesWithPicturesOfOneWidth(t *testing.T) {
	var items []layout.Item
	for o := 1; o <= 8; o++ {
		items = append(items, sample.Turned(layout.Rect{X: layout.Um(o) * 20000, Y: 10000, W: 16000, H: 8000}, o))
	}
	items = append(items, sample.Photo(layout.Rect{X: 10000, Y: 50000, W: 32000, H: 16000}))
	items = append(items, sample.Photo(layout.Rect{X: 50000, Y: 50000, W: 32000, H: 16000}))
	first := write(t, document(items...))
	for range 20 {
		require.True(t, bytes.Equal(first, write(t, document(items...))))
	}
	assert.Equal(t, 9, bytes.Count(first, []byte("/Subtype /Image")), "eight PNGs, and one JPEG placed twice")
	assert.Contains(t, outside.Run(t, "qpdf", "--check", save(t, first)), "No syntax")
}

// Two processes in two folders give the same bytes.
func TestSameBytesInTwoProcesses(t *testing.T) {
	if os.Getenv("PRINT_SUM") == "1" {
		fmt.Printf("sum=%x\n", sha256.Sum256(write(t, sample.Document())))
		return
	}
	self, err := os.Executable()
	require.NoError(t, err)
	var sums []string
	for range 2 {
		cmd := exec.Command(self, "-test.run=^TestSameBytesInTwoProcesses$")
		cmd.Dir = t.TempDir()
		cmd.Env = append(os.Environ(), "PRINT_SUM=1")
		out, err := cmd.CombinedOutput()
		require.NoError(t, err, string(out))
		sum, _, _ := strings.Cut(string(out), "\n")
		require.Contains(t, sum, "sum=")
		sums = append(sums, sum)
	}
	assert.Equal(t, sums[0], sums[1])
	assert.Equal(t, fmt.Sprintf("sum=%x", sha256.Sum256(write(t, sample.Document()))), sums[0])
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, errors.New("the disk is full") }

func TestErrors(t *testing.T) {
	assert.EqualError(t, Write(broken{}, sample.Document()), "the disk is full")
	var b bytes.Buffer
	assert.EqualError(t, Write(&b, &layout.Document{}), "a document without pages")
	assert.ErrorContains(t, Write(&b, &layout.Document{Pages: []layout.Page{{}}}), "page 1: page of 0 x 0 mm")
	r := layout.Rect{W: 1000, H: 1000}
	for name, img := range map[string]*layout.Image{
		"nonsense jpeg": {Rect: r, Format: "jpeg", Data: []byte("nonsense"), PxW: 1, PxH: 1, Alt: "x"},
		"nonsense png":  {Rect: r, Format: "png", Data: []byte("nonsense"), PxW: 1, PxH: 1, Alt: "x"},
		"cut png":       {Rect: r, Format: "png", Data: sample.Turned(r, 1).Data[:40], PxW: 1, PxH: 1, Alt: "x"},
	} {
		assert.ErrorContains(t, Write(&b, document(img)), `picture "x"`, name)
	}
	deep := bytes.Clone(sample.Turned(r, 1).Data)
	deep[24] = 16
	assert.ErrorContains(t, Write(&b, document(&layout.Image{Rect: r, Format: "png", Data: deep, PxW: 1, PxH: 1})), "16 bits")
	assert.Zero(t, b.Len(), "nothing is written where there is an error")
}

// A damaged picture is an error wherever the damage lies, and never a panic.
func TestDamagedPictures(t *testing.T) {
	r := layout.Rect{W: 1000, H: 1000}
	for _, whole := range []*layout.Image{sample.Turned(r, 1), sample.Photo(r)} {
		for i := range whole.Data {
			for _, flip := range []byte{0xFF, 0x01, 0x80} {
				img := *whole
				img.Data = bytes.Clone(whole.Data)
				img.Data[i] ^= flip
				_ = Write(&bytes.Buffer{}, document(&img))
				img.Data = whole.Data[:i]
				_ = Write(&bytes.Buffer{}, document(&img))
			}
		}
	}
}

func TestHostileStrings(t *testing.T) {
	for _, s := range []string{
		"NUL \x00 in it", "emoji 😀 👩🏽‍🚀", "\u202Eright to left\u202C", "\xff\xfe\xfd", ") Tj ET Q (", `\`, "(((", "\r\n\t", "",
		strings.Repeat("W", 10_000), "endstream endobj", "]]>", "<script>", "&amp;", "\uFFFE\uFFFF", "漢字 עברית", strings.Repeat("(", 300),
	} {
		doc := document(sample.Set(10000, 10000, 2500, false, s), sample.Set(80000, 10000, 2500, true, s), &layout.Group{ID: s, Label: s},
			&layout.Link{Rect: layout.Rect{W: 1000, H: 1000}, To: s})
		doc.Title, doc.Subject, doc.Author, doc.Lang, doc.Created, doc.Keywords = s, s, s, s, s, []string{s, s}
		doc.Pages[0].Label, doc.Pages[0].Title, doc.Pages[0].Desc = s, s, s
		doc.Pages = append(doc.Pages, layout.Page{W: 10000, H: 10000, Title: s})
		path := save(t, write(t, doc))
		assert.Contains(t, outside.Run(t, "qpdf", "--check", path), "No syntax", "%.40q", s)
		meta := filepath.Join(t.TempDir(), "meta.xml")
		require.NoError(t, os.WriteFile(meta, []byte(outside.Run(t, "pdfinfo", "-meta", path)), 0o600))
		outside.Run(t, "xmllint", "--noout", meta)
	}
}

func TestTakingApartOtherFiles(t *testing.T) {
	for _, s := range []string{"", "startxref\n", "startxref\n0\n", "startxref\n999999\n", "startxref\n-5\n", "%PDF-1.3\n0000000009 00000 n \nstartxref\n9\n%%EOF"} {
		_, err := takeApart([]byte(s))
		assert.Error(t, err, "%q", s)
	}
}

func BenchmarkWrite(b *testing.B) {
	doc := sample.Document()
	for b.Loop() {
		if err := Write(&bytes.Buffer{}, doc); err != nil {
			b.Fatal(err)
		}
	}
}
