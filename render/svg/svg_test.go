package svg

import (
	"bytes"
	"encoding/base64"
	"encoding/xml"
	"errors"
	"fmt"
	"image/color"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stopleaf/internal/outside"
	"stopleaf/layout"
	"stopleaf/layout/text"
	"stopleaf/render/internal/paper"
	"stopleaf/render/internal/sample"
)

func write(t require.TestingT, doc *layout.Document) []byte {
	var b bytes.Buffer
	require.NoError(t, Write(&b, doc, 0))
	return b.Bytes()
}

func save(t testing.TB, b []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "page.svg")
	require.NoError(t, os.WriteFile(path, b, 0o600))
	return path
}

func document(items ...layout.Item) *layout.Document {
	return &layout.Document{Lang: "en", Title: "t", Pages: []layout.Page{{W: layout.Mm(210), H: layout.Mm(148), Items: items}}}
}

// node is one element; inside are the elements that it stands in.
type node struct {
	name   string
	attrs  map[string]string
	inside []string // ids of groups and defs above, the outermost first
	text   string
}

// parse reads the file as strict XML.
func parse(t require.TestingT, b []byte) []*node {
	dec := xml.NewDecoder(bytes.NewReader(b))
	var list, open []*node
	for {
		tok, err := dec.Token()
		if err == io.EOF {
			return list
		}
		require.NoError(t, err)
		switch v := tok.(type) {
		case xml.StartElement:
			n := &node{name: v.Name.Local, attrs: map[string]string{}}
			for _, a := range v.Attr {
				n.attrs[a.Name.Local] = a.Value
			}
			for _, o := range open {
				n.inside = append(n.inside, o.name+"#"+o.attrs["id"])
			}
			list, open = append(list, n), append(open, n)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 {
				open[len(open)-1].text += string(v)
			}
		}
	}
}

// drawn gives the paths that are drawn and not only defined, without the sheet.
func drawn(list []*node) []*node {
	var out []*node
	for _, n := range list {
		within := strings.Join(n.inside, " ")
		if n.name == "path" && !strings.Contains(within, "defs#") && !strings.Contains(within, "clipPath#") {
			out = append(out, n)
		}
	}
	return out[1:]
}

// The user unit is the millimetre, and every coordinate of the display list is
// in the file to the micrometre.
func TestRuler(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xy := rapid.SliceOfN(rapid.Map(rapid.Int64Range(-100_000, 400_000), func(v int64) layout.Um { return layout.Um(v) }), 4, 20).Draw(t, "xy")
		xy = xy[:len(xy)/2*2]
		list := parse(t, write(t, document(sample.Line(250, xy...))))
		require.Equal(t, "210.000mm", list[0].attrs["width"])
		require.Equal(t, "148.000mm", list[0].attrs["height"])
		require.Equal(t, "0.000 0.000 210.000 148.000", list[0].attrs["viewBox"])
		paths := drawn(list)
		require.Len(t, paths, 1)
		got := strings.FieldsFunc(paths[0].attrs["d"], func(r rune) bool { return r == ' ' || r == 'M' || r == 'L' })
		require.Len(t, got, len(xy))
		for i, s := range got {
			v, err := strconv.ParseFloat(s, 64)
			require.NoError(t, err)
			require.Equal(t, xy[i], layout.Mm(v))
		}
	})
}

// One metre at 1:20 is 50.000 mm, as another program draws it: 254 dots an inch
// are 10 a millimetre.
func TestRulerByAnotherReader(t *testing.T) {
	path := save(t, write(t, document(sample.Box(layout.Black, 20000, 30000, 50000, 25000))))
	out := filepath.Join(t.TempDir(), "page.png")
	outside.Run(t, "rsvg-convert", "-d", "254", "-p", "254", "-o", out, path)
	f, err := os.Open(out)
	require.NoError(t, err)
	defer f.Close()
	img, err := png.Decode(f)
	require.NoError(t, err)
	assert.Equal(t, 2100, img.Bounds().Dx())
	dark := func(x, y int) bool { return color.GrayModel.Convert(img.At(x, y)).(color.Gray).Y < 128 }
	wide, high := 0, 0
	for x := range 2100 {
		if dark(x, 400) {
			wide++
		}
	}
	for y := range 1480 {
		if dark(400, y) {
			high++
		}
	}
	assert.Equal(t, 500, wide)
	assert.Equal(t, 250, high)
	assert.True(t, dark(200, 300) && !dark(199, 300) && dark(699, 549) && !dark(700, 549))
}

func TestReadersFindNoFault(t *testing.T) {
	for i := range sample.Document().Pages {
		var b bytes.Buffer
		require.NoError(t, Write(&b, sample.Document(), i))
		outside.Run(t, "xmllint", "--noout", "--nonet", save(t, b.Bytes()))
		outside.Run(t, "rsvg-convert", "-o", filepath.Join(t.TempDir(), "x.png"), save(t, b.Bytes()))
	}
}

// Each glyph is defined once and stands where the advances put it; each run
// says its words.
func TestText(t *testing.T) {
	run := sample.Set(10500, 20000, 2500, false, "AVAT To. f/5.6 −1.7 ½")
	list := parse(t, write(t, document(run, sample.Set(10000, 30000, 3500, true, "AVA"), sample.Set(1000, 1000, 1800, false, "AVA"))))
	ids := map[string]int{}
	for _, n := range list {
		if id := n.attrs["id"]; id != "" {
			ids[id]++
		}
	}
	for id, n := range ids {
		assert.Equal(t, 1, n, id)
	}
	var labels []string
	var uses []*node
	for _, n := range list {
		if n.name == "g" && n.attrs["role"] == "img" {
			labels = append(labels, n.attrs["aria-label"])
		}
		if n.name == "use" {
			uses = append(uses, n)
			assert.Equal(t, 1, ids[strings.TrimPrefix(n.attrs["href"], "#")], n.attrs["href"])
		}
	}
	assert.Equal(t, []string{run.S, "AVA", "AVA"}, labels)
	pen, i := int64(0), 0
	for _, r := range run.S {
		if r != ' ' {
			assert.Equal(t, fmt.Sprint(pen), uses[i].attrs["x"], "%q", r)
			i++
		}
		pen += text.Advance(r, false)
	}
	// the group's matrix brings thousandths of the em to millimetres
	for _, n := range list {
		if n.attrs["aria-label"] == run.S {
			var a, b, c, d, e, f float64
			_, err := fmt.Sscanf(n.attrs["transform"], "matrix(%g %g %g %g %g %g)", &a, &b, &c, &d, &e, &f)
			require.NoError(t, err)
			assert.InDelta(t, run.W.Mm(), float64(pen)*a, 0.001)
			assert.Equal(t, [5]float64{0, 0, a, 10.5, 20}, [5]float64{b, c, d, e, f})
		}
	}
}

func TestWordsApart(t *testing.T) {
	run := sample.Apart(sample.Set(10000, 20000, 2500, true, "f/8 +0.4"), 150)
	var places []string
	for _, n := range parse(t, write(t, document(run))) {
		if n.name == "use" {
			places = append(places, n.attrs["x"])
		}
	}
	var want []string
	pen := int64(0)
	for _, r := range run.S {
		if r == ' ' {
			pen += 150
		} else {
			want = append(want, fmt.Sprint(pen))
		}
		pen += text.Advance(r, true)
	}
	assert.Equal(t, want, places)
}

func TestTurnedText(t *testing.T) {
	run := sample.Set(10000, 20000, 2500, false, "up")
	run.Turn = 90
	out := string(write(t, document(run)))
	k := paper.Num(text.Em(2500)/1e6, 9)
	assert.Contains(t, out, "matrix(0 -"+k+" "+k+" 0 10 20)")
}

func TestPageSaysWhatItIs(t *testing.T) {
	list := parse(t, write(t, sample.Document()))
	texts := map[string]string{}
	for _, n := range list {
		if n.name == "title" || n.name == "desc" {
			texts[n.name] = n.text
		}
	}
	assert.Equal(t, "Bread maker, flour in the air", texts["title"])
	assert.Equal(t, "A card: four lights and a plan.", texts["desc"])
	var groups []string
	for _, n := range list {
		if n.attrs["role"] == "group" {
			groups = append(groups, n.attrs["id"]+": "+n.attrs["aria-label"])
		}
	}
	assert.Equal(t, []string{"lights: Lights", "plan: Plan, 1:20"}, groups)
}

// Pictures are in the file as they were given, and turned by a matrix.
func TestPictures(t *testing.T) {
	r := layout.Rect{X: 10000, Y: 20000, W: 32000, H: 16000}
	img := sample.Turned(r, 6)
	for _, n := range parse(t, write(t, document(img))) {
		if n.name != "image" {
			continue
		}
		data, found := strings.CutPrefix(n.attrs["href"], "data:image/png;base64,")
		require.True(t, found)
		raw, err := base64.StdEncoding.DecodeString(data)
		require.NoError(t, err)
		assert.True(t, bytes.Equal(img.Data, raw))
		assert.Equal(t, "16.000", n.attrs["width"])
		assert.Equal(t, "32.000", n.attrs["height"])
		// stored x runs down the page, a millimetre a pixel; stored y to the left
		assert.Equal(t, "matrix(0 1 -1 0 42 20)", n.attrs["transform"])
		assert.Equal(t, "turned", n.attrs["aria-label"])
		return
	}
	t.Fatal("no image")
}

func TestSameBytes(t *testing.T) {
	first := write(t, sample.Document())
	for range 5 {
		require.True(t, bytes.Equal(first, write(t, sample.Document())))
	}
}

func TestHostileStrings(t *testing.T) {
	for _, s := range []string{
		"NUL \x00 in it", "emoji 😀", "\u202Eright to left", "\xff\xfe", `"><script>alert(1)</script>`, "' onload='x", "<!--", "]]>", "&#0;&amp;", "\r\n\t",
		"\x0B\x1F\x7F\u0085\uFFFE\uFFFF\uFDD0", strings.Repeat("W", 10_000), "url(#x)", "a b c", "#", "ä", "1", "-", "plan", "r0041", "clip1", "page",
	} {
		doc := document(sample.Set(10000, 10000, 2500, false, s+"A"),
			&layout.Group{ID: s, Label: s, Clip: &layout.Rect{W: 10, H: 10}}, &layout.Group{ID: s, Label: s, Clip: &layout.Rect{W: 10, H: 10}},
			&layout.Path{Kind: s, Of: s}, sample.Photo(layout.Rect{W: 10, H: 10}))
		doc.Pages[0].Items[4].(*layout.Image).Alt = s
		doc.Title, doc.Subject, doc.Lang = s, s, s
		doc.Pages[0].Title, doc.Pages[0].Desc, doc.Pages[0].Label = s, s, s
		b := write(t, doc)
		ids := map[string]bool{}
		for _, n := range parse(t, b) {
			assert.NotEqual(t, "script", n.name)
			assert.NotContains(t, n.attrs, "onload")
			if id, has := n.attrs["id"]; has {
				assert.Regexp(t, `^[A-Za-z_][A-Za-z0-9_-]*$`, id)
				assert.False(t, ids[id], "%q twice", id)
				ids[id] = true
			}
		}
		outside.Run(t, "xmllint", "--noout", "--nonet", save(t, b))
	}
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, errors.New("the disk is full") }

func TestErrors(t *testing.T) {
	assert.EqualError(t, Write(broken{}, sample.Document(), 0), "the disk is full")
	var b bytes.Buffer
	assert.ErrorContains(t, Write(&b, sample.Document(), 2), "no page 3 in a document of 2")
	assert.ErrorContains(t, Write(&b, sample.Document(), -1), "no page 0")
	assert.ErrorContains(t, Write(&b, &layout.Document{Pages: []layout.Page{{}}}, 0), "page of 0 x 0 mm")
	assert.ErrorContains(t, Write(&b, document(&layout.Text{S: "x"}), 0), "cap height")
	assert.Zero(t, b.Len())
}

func BenchmarkWrite(b *testing.B) {
	doc := sample.Document()
	for b.Loop() {
		if err := Write(io.Discard, doc, 0); err != nil {
			b.Fatal(err)
		}
	}
}
