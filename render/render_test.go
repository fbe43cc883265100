package render

import (
	"bytes"
	"errors"
	"flag"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/internal/outside"
	"stopleaf/layout"
	"stopleaf/layout/text"
	"stopleaf/render/internal/sample"
	"stopleaf/render/pdf"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// golden compares with a file of testdata/golden, or writes it with -update.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", "golden", name)
	if *update {
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, got, 0o644))
		return
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	if !bytes.Equal(want, got) {
		assert.Equal(t, strings.Split(string(want), "\n"), strings.Split(string(got), "\n"), "%s: look, then go test -update", name)
	}
}

func onePage() *layout.Document {
	doc := sample.Document()
	doc.Pages = doc.Pages[:1]
	return doc
}

// One drawing through every format.
func TestOneDrawingThroughEveryFormat(t *testing.T) {
	for _, f := range []struct{ format, file string }{{".svg", "page.svg"}, {".txt", "page.txt"}} {
		var b bytes.Buffer
		require.NoError(t, Write(&b, onePage(), f.format))
		golden(t, f.file, b.Bytes())
	}
	var whole bytes.Buffer
	require.NoError(t, Write(&whole, onePage(), ".pdf"))
	require.True(t, bytes.HasPrefix(whole.Bytes(), []byte("%PDF-1.7\n")))
	var b bytes.Buffer
	require.NoError(t, pdf.WriteWith(&b, onePage(), pdf.Options{Plain: true}))
	golden(t, "page.pdf.txt", readable(b.Bytes()))
}

// readable is a PDF as a person can compare it: the fonts' and the pictures'
// bytes, whose compression is the standard library's own affair, left out, and
// with them the hashes and places that hang on them; words from UTF-16 as they
// are.
func readable(b []byte) []byte {
	s := regexp.MustCompile(`(?s)(/Length1 |/Subtype /Image|/FlateDecode).*?endstream`).ReplaceAllString(string(b), "$1...")
	s = regexp.MustCompile(`(?s)<</Length \d+/Filter \.\.\.`).ReplaceAllString(s, "<<...")
	s = regexp.MustCompile(`<</Length \d+(/Filter)?`).ReplaceAllString(s, "<</Length ...$1")
	s = regexp.MustCompile(`\(((?:[^\\()]|\\.)*)\) Tj`).ReplaceAllStringFunc(s, func(m string) string {
		return strings.Map(func(r rune) rune {
			if r < ' ' || r > '~' {
				return -1
			}
			return r
		}, m)
	})
	s = regexp.MustCompile(`/I[0-9a-f]{40}`).ReplaceAllString(s, "/I...")
	s = regexp.MustCompile(`[A-Z]{6}\+DejaVu`).ReplaceAllString(s, "......+DejaVu")
	s, _, _ = strings.Cut(s, "\nxref\n")
	return []byte(strings.ToValidUTF8(s, "."))
}

func TestFormat(t *testing.T) {
	for name, want := range map[string]string{"card.pdf": ".pdf", "a.b/PLAN.SVG": ".svg", "x.txt": ".txt", "card.PNG": ".png", "a.jpeg": ".jpeg", "b.jpg": ".jpg"} {
		got, err := Format(name)
		assert.NoError(t, err)
		assert.Equal(t, want, got)
	}
	for name, says := range map[string]string{
		"card": "no ending", "card.docx": `format ".docx" is not known: .pdf, .svg, .png or .jpg`,
	} {
		_, err := Format(name)
		assert.ErrorContains(t, err, says)
	}
	var b bytes.Buffer
	assert.ErrorContains(t, Write(&b, onePage(), ".docx"), "is not known")
	assert.ErrorContains(t, Write(&b, sample.Document(), ".svg"), "2 pages do not go into one .svg file")
	assert.ErrorContains(t, Write(&b, &layout.Document{}, ".svg"), "0 pages")
	assert.ErrorContains(t, Write(&b, sample.Document(), ".jpg"), "2 pages do not go into one .jpg file")
	assert.Zero(t, b.Len())
	assert.True(t, ManyPages(".pdf") && !ManyPages(".svg") && !ManyPages(".png"))
	assert.ErrorContains(t, Write(full{}, onePage(), ".txt"), "full")
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("full") }

// The dots an inch at which pages are compared: four a millimetre.
const dpi = "101.6"

// rasters draws a document of one page as a PDF and as an SVG, by the readers
// of others.
func rasters(t *testing.T, doc *layout.Document) (fromPDF, fromSVG image.Image) {
	t.Helper()
	dir := t.TempDir()
	in := func(name string) string { return filepath.Join(dir, name) }
	for _, format := range []string{".pdf", ".svg"} {
		var b bytes.Buffer
		require.NoError(t, Write(&b, doc, format))
		require.NoError(t, os.WriteFile(in("page"+format), b.Bytes(), 0o600))
	}
	outside.Run(t, "pdftoppm", "-r", dpi, "-png", "-singlefile", in("page.pdf"), in("pdf"))
	outside.Run(t, "rsvg-convert", "-d", dpi, "-p", dpi, "-o", in("svg.png"), in("page.svg"))
	return readPNG(t, in("pdf.png")), readPNG(t, in("svg.png"))
}

func readPNG(t *testing.T, path string) image.Image {
	t.Helper()
	f, err := os.Open(path)
	require.NoError(t, err)
	defer f.Close()
	img, err := png.Decode(f)
	require.NoError(t, err)
	return img
}

func grey(img image.Image, x, y int) int {
	return int(color.GrayModel.Convert(img.At(x, y)).(color.Gray).Y)
}

// However a picture is stored, both formats show it the same way up.
func TestOrientations(t *testing.T) {
	var items []layout.Item
	at := func(o int) layout.Rect {
		return layout.Rect{X: layout.Um(o%4) * 40000, Y: 10000 + layout.Um(o/4)*20000, W: 32000, H: 16000}
	}
	for o := 1; o <= 8; o++ {
		items = append(items, sample.Turned(at(o), o))
	}
	photo := layout.Rect{X: 160000, Y: 100000, W: 32000, H: 16000}
	items = append(items, sample.Photo(photo))
	doc := &layout.Document{Title: "t", Pages: []layout.Page{{W: layout.Mm(210), H: layout.Mm(148), Items: items}}}
	p, s := rasters(t, doc)
	check := func(r layout.Rect, name any) {
		for q, want := range sample.Quarters {
			x := int(r.X+r.W/4+layout.Um(q%2)*r.W/2) * 4 / 1000
			y := int(r.Y+r.H/4+layout.Um(q/2)*r.H/2) * 4 / 1000
			assert.InDelta(t, int(want), grey(p, x, y), 6, "pdf, orientation %v, quarter %d", name, q)
			assert.InDelta(t, int(want), grey(s, x, y), 6, "svg, orientation %v, quarter %d", name, q)
		}
	}
	for o := 1; o <= 8; o++ {
		check(at(o), o)
	}
	check(photo, "of the jpeg")
}

// Nothing of a group is drawn outside its clip, and what follows is not clipped.
func TestClip(t *testing.T) {
	doc := &layout.Document{Title: "t", Pages: []layout.Page{{W: layout.Mm(100), H: layout.Mm(100), Items: []layout.Item{
		&layout.Group{ID: "a", Clip: &layout.Rect{X: 20000, Y: 20000, W: 20000, H: 20000}, Items: []layout.Item{
			sample.Set(1000, 90000, 2500, true, "cut away"),
			sample.Box(layout.Black, 10000, 10000, 40000, 40000),
		}},
		sample.Box(layout.Black, 60000, 60000, 10000, 10000),
		sample.Set(60000, 90000, 10000, true, "W"),
	}}}}
	for _, img := range first(rasters(t, doc)) {
		assert.Zero(t, grey(img, 4*30, 4*30))
		assert.Equal(t, 255, grey(img, 4*15, 4*15))
		assert.Equal(t, 255, grey(img, 4*45, 4*30))
		assert.Zero(t, grey(img, 4*65, 4*65))
		ink := func(x0, y0, x1, y1 int) bool {
			for y := 4 * y0; y < 4*y1; y++ {
				for x := 4 * x0; x < 4*x1; x++ {
					if grey(img, x, y) < 128 {
						return true
					}
				}
			}
			return false
		}
		assert.False(t, ink(0, 85, 30, 95), "text in a clipped group")
		assert.True(t, ink(60, 80, 75, 90), "text behind a clipped group, in the same face")
	}
}

func first(a, b image.Image) []image.Image { return []image.Image{a, b} }

// Both formats look the same: wherever one reader puts ink, the other does too,
// within a dot for the smoothing of edges.
func TestFormatsLookTheSame(t *testing.T) {
	p, s := rasters(t, onePage())
	assert.InDelta(t, 840, p.Bounds().Dx(), 1)
	for _, pair := range [][2]image.Image{{p, s}, {s, p}} {
		ink, alone := inkAlone(pair[0], pair[1])
		assert.Greater(t, ink, 10_000)
		assert.Less(t, alone*500, ink, "%d of %d dots", alone, ink)
	}
}

// So does every letter that the fonts have.
func TestLettersLookTheSame(t *testing.T) {
	var items []layout.Item
	for i, bold := range []bool{false, true} {
		line, y := "", layout.Um(10000+i*140000)
		for r := rune(' '); r < 0xFFFF; r++ {
			if !text.Has(r) {
				continue
			}
			if line += string(r); len([]rune(line)) == 40 {
				items = append(items, sample.Set(5000, y, 3500, bold, line))
				line, y = "", y+8000
			}
		}
		items = append(items, sample.Set(5000, y, 3500, bold, line))
	}
	p, s := rasters(t, &layout.Document{Title: "t", Pages: []layout.Page{{W: layout.Mm(210), H: layout.Mm(297), Items: items}}})
	for _, pair := range [][2]image.Image{{p, s}, {s, p}} {
		ink, alone := inkAlone(pair[0], pair[1])
		assert.Greater(t, ink, 40_000)
		assert.Less(t, alone*500, ink, "%d of %d dots", alone, ink)
	}
}

// inkAlone counts the dots that are dark in one picture, and of those the ones
// with nothing near in the other.
func inkAlone(a, b image.Image) (ink, alone int) {
	for y := range a.Bounds().Dy() {
		for x := range a.Bounds().Dx() {
			if grey(a, x, y) >= 100 {
				continue
			}
			ink++
			darkest := 255
			for d := range 9 {
				darkest = min(darkest, grey(b, x+d%3-1, y+d/3-1))
			}
			if darkest > 200 {
				alone++
			}
		}
	}
	return ink, alone
}
