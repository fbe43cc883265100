package pdf

import (
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stopleaf/internal/outside"
	"stopleaf/layout"
	"stopleaf/layout/text"
	"stopleaf/render/internal/sample"
)

// contents gives the stream of the first page of a file that is not compressed.
func contents(t require.TestingT, file []byte) string {
	_, s, found := strings.Cut(string(file), "stream\n")
	require.True(t, found)
	s, _, _ = strings.Cut(s, "\nendstream")
	return s
}

// readPath reads moves and lines back from a page's stream, in micrometres from
// the top left, by the matrix that the page sets up first.
func readPath(t require.TestingT, file []byte) []layout.Point {
	lines := strings.Split(contents(t, file), "\n")
	var a, d, e, f float64
	var out []layout.Point
	for _, l := range lines {
		w := strings.Fields(l)
		switch {
		case len(w) > 7 && w[0] == "q" && a == 0:
			_, err := fmt.Sscan(strings.Join([]string{w[1], w[4], w[5], w[6]}, " "), &a, &d, &e, &f)
			require.NoError(t, err)
		case len(w) == 3 && (w[2] == "m" || w[2] == "l"):
			x, err := strconv.ParseFloat(w[0], 64)
			require.NoError(t, err)
			y, err := strconv.ParseFloat(w[1], 64)
			require.NoError(t, err)
			// to points from the bottom left of the sheet, and from there to
			// micrometres of paper: a point is 25.4/72 mm (ISO 32000-1, 8.3.2.3)
			px, py := a*x+e, f-(d*y+f)
			out = append(out, layout.Point{X: layout.Um(math.Round(px * 25400 / 72)), Y: layout.Um(math.Round(py * 25400 / 72))})
		}
	}
	return out
}

// A ruler: what the display list says is where it says, to the micrometre.
func TestRuler(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := layout.Um(rapid.Int64Range(50_000, 500_000).Draw(t, "h"))
		xy := rapid.SliceOfN(rapid.Map(rapid.Int64Range(0, 400_000), func(v int64) layout.Um { return layout.Um(v) }), 4, 20).Draw(t, "xy")
		doc := document(sample.Line(250, xy[:len(xy)/2*2]...))
		doc.Pages[0].H = h
		var b strings.Builder
		require.NoError(t, WriteWith(&b, doc, Options{Plain: true}))
		got := readPath(t, []byte(b.String()))
		require.Len(t, got, len(xy)/2)
		for i, p := range got {
			require.InDelta(t, float64(xy[2*i]), float64(p.X), 1)
			require.InDelta(t, float64(xy[2*i+1]), float64(p.Y), 3)
		}
	})
}

// One metre at 1:20 is 50.000 mm, as another program measures it on the page.
func TestRulerByAnotherReader(t *testing.T) {
	path := save(t, write(t, document(sample.Line(250, 20000, 30000, 70000, 30000), sample.Box(225, 20000, 40000, 50000, 25000))))
	var points [][2]float64
	for _, e := range trace(t, path) {
		if e.XMLName.Local == "moveto" || e.XMLName.Local == "lineto" {
			points = append(points, e.at())
		}
	}
	require.Len(t, points, 6)
	mm := func(v float64) float64 { return v * 25.4 / 72 }
	const tolerance = 0.01
	assert.InDelta(t, 50, mm(points[1][0]-points[0][0]), tolerance)
	assert.InDelta(t, 20, mm(points[0][0]), tolerance)
	assert.InDelta(t, 30, mm(points[0][1]), tolerance)
	assert.InDelta(t, 50, mm(points[3][0]-points[2][0]), tolerance)
	assert.InDelta(t, 25, mm(points[4][1]-points[3][1]), tolerance)
}

// element is one element of mutool's trace, with what it stands in.
type element struct {
	XMLName   xml.Name
	attrs     map[string]string
	transform [6]float64
}

// at gives the element's point in points from the top left of the page.
func (e element) at() [2]float64 {
	x, _ := strconv.ParseFloat(e.attrs["x"], 64)
	y, _ := strconv.ParseFloat(e.attrs["y"], 64)
	m := e.transform
	return [2]float64{m[0]*x + m[2]*y + m[4], m[1]*x + m[3]*y + m[5]}
}

// trace lists what mutool draws, its points in points from the top left.
func trace(t *testing.T, path string) []element {
	t.Helper()
	out := outside.Run(t, "mutool", "draw", "-q", "-F", "trace", path)
	dec := xml.NewDecoder(strings.NewReader(out[strings.Index(out, "<document"):]))
	dec.Strict = false
	var list []element
	var transform [6]float64
	for {
		tok, err := dec.Token()
		if err == io.EOF {
			return list
		}
		require.NoError(t, err)
		start, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		e := element{XMLName: start.Name, attrs: map[string]string{}}
		for _, a := range start.Attr {
			e.attrs[a.Name.Local] = a.Value
		}
		if m := e.attrs["transform"]; m != "" {
			n, err := fmt.Sscan(m, &transform[0], &transform[1], &transform[2], &transform[3], &transform[4], &transform[5])
			require.NoError(t, err)
			require.Equal(t, 6, n)
		}
		e.transform = transform
		list = append(list, e)
	}
}

// Every glyph stands where the advances of layout/text put it: another program,
// which goes by the widths written into the file, sets no letter 2 µm off, at
// the end of a long line as at its beginning.
func TestGlyphPlaces(t *testing.T) {
	everything := ""
	for r := rune(' '); r < 0xFFFF; r++ {
		if text.Has(r) {
			everything += string(r)
		}
	}
	runs := []*layout.Text{
		sample.Set(8000, 20000, 1800, false, everything),
		sample.Set(8000, 30000, 1800, true, everything),
		sample.Set(8000, 40000, 3500, false, "55° left, 1.40 m, 2.15 high; AVAT To. f/5.6 −1.7"),
		sample.Set(120000, 40000, 10000, true, "f/8"), // a second cell of the row
		sample.Set(8000, 140000, 14000, true, "LEFT"),
		sample.Apart(sample.Set(8000, 50000, 2500, true, "f/5.6 +0.9 and f/8  +0.4 "), 150),
		sample.Apart(sample.Set(8000, 60000, 2500, false, " 1/16 +0.8"), -40),
	}
	runs[4].Turn = 90
	var items []layout.Item
	for _, r := range runs {
		items = append(items, r)
	}
	var glyphs [][2]float64
	for _, e := range trace(t, save(t, write(t, document(items...)))) {
		if e.XMLName.Local == "g" {
			glyphs = append(glyphs, e.at())
		}
	}
	i, worst := 0, 0.0
	for _, run := range runs {
		var units int64
		for _, r := range run.S {
			require.Less(t, i, len(glyphs))
			x, y := float64(run.X), float64(run.Y)
			shift := float64(units) * text.Em(int64(run.Cap)) / 1000
			if run.Turn == 90 {
				y -= shift
			} else {
				x += shift
			}
			gx, gy := glyphs[i][0]*25400/72, glyphs[i][1]*25400/72
			worst = max(worst, math.Abs(gx-x), math.Abs(gy-y))
			units += run.Advance(r)
			i++
		}
		assert.InDelta(t, float64(run.W), float64(units)*text.Em(int64(run.Cap))/1000, 0.5)
	}
	assert.Len(t, glyphs, i)
	assert.Less(t, worst, 2.0, "µm")
}

// Each rune is in the face that shows it, also where a clip or a row with
// another face stands between.
func TestGlyphsAreInTheirFace(t *testing.T) {
	clipped := func(bold bool, s string) layout.Item {
		return &layout.Group{Clip: &layout.Rect{W: 200000, H: 140000}, Items: []layout.Item{sample.Set(10000, 90000, 2500, bold, s)}}
	}
	doc := document(
		clipped(true, "abc"),
		sample.Set(10000, 10000, 2500, false, "def"), sample.Set(50000, 10000, 2500, true, "ghi"),
		sample.Set(10000, 20000, 2500, false, "jkl"),
		clipped(true, "mno"),
		sample.Set(10000, 30000, 2500, false, "pqr"),
		clipped(false, "stu"),
		sample.Set(10000, 40000, 2500, true, "vwx"),
	)
	doc.Pages = append(doc.Pages, layout.Page{W: 100000, H: 100000, Items: []layout.Item{sample.Set(10000, 40000, 2500, true, "yz")}})
	got := ""
	for _, e := range trace(t, save(t, write(t, doc))) {
		if e.XMLName.Local == "g" {
			got += e.attrs["unicode"]
			assert.NotEqual(t, "0", e.attrs["glyph"], e.attrs["unicode"])
		}
	}
	assert.Equal(t, "abcdefghijklmnopqrstuvwxyz", got)
}
