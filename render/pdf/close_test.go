package pdf

import (
	"bytes"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stopleaf/internal/outside"
	"stopleaf/layout"
	"stopleaf/render/internal/sample"
)

// What is added at the end moves nothing: a file attached that way is found,
// and the outline still leads where it did.
func TestCatalogTakesMore(t *testing.T) {
	doc := sample.Document()
	names := extra{"Names", func(f *file) string {
		data := "title: Bread maker\n"
		stream := f.add(fmt.Sprintf("<</Type /EmbeddedFile /Length %d>>\nstream\n%s\nendstream", len(data), data))
		spec := f.add("<</Type /Filespec /F (setup.yaml) /UF (setup.yaml) /EF <</F " + ref(stream) + ">>>>")
		return "<</EmbeddedFiles <</Names [(setup.yaml) " + ref(spec) + "]>>>>"
	}}
	var b bytes.Buffer
	require.NoError(t, writeMore(&b, doc, Options{Plain: true}, []extra{names}))
	path := save(t, b.Bytes())
	assert.Contains(t, outside.Run(t, "qpdf", "--check", path), "No syntax")
	assert.Contains(t, outside.Run(t, "pdfdetach", "-list", path), "setup.yaml")
	assert.Regexp(t, `"Side 2"\s+#page=2`, outside.Run(t, "mutool", "show", path, "outline"))
}

// Whatever a page holds, it is written, twice alike.
func TestAnyPage(t *testing.T) {
	um := rapid.Map(rapid.Int64Range(-300_000, 300_000), func(v int64) layout.Um { return layout.Um(v) })
	point := rapid.Custom(func(t *rapid.T) layout.Point { return layout.Point{X: um.Draw(t, "x"), Y: um.Draw(t, "y")} })
	var items func(depth int) *rapid.Generator[[]layout.Item]
	item := func(depth int) *rapid.Generator[layout.Item] {
		return rapid.Custom(func(t *rapid.T) layout.Item {
			switch kind := rapid.IntRange(0, 3+min(depth, 1)).Draw(t, "kind"); kind {
			case 0:
				p := &layout.Path{Segs: []layout.Seg{{P: [3]layout.Point{point.Draw(t, "p")}}}}
				p.Stroke = layout.Stroke{Width: layout.Um(rapid.IntRange(0, 700).Draw(t, "width")), Round: rapid.Bool().Draw(t, "round")}
				for _, k := range rapid.SliceOfN(rapid.Uint8Range(0, 9), 0, 6).Draw(t, "steps") {
					p.Segs = append(p.Segs, layout.Seg{Kind: layout.SegKind(k), P: [3]layout.Point{point.Draw(t, "p"), point.Draw(t, "p"), point.Draw(t, "p")}})
				}
				return p
			case 1, 2:
				at := point.Draw(t, "p")
				s := sample.Set(at.X, at.Y, layout.Um(rapid.IntRange(1, 20000).Draw(t, "cap")), rapid.Bool().Draw(t, "bold"), rapid.String().Draw(t, "s"))
				s.Turn = rapid.IntRange(-400, 400).Draw(t, "turn")
				s.Of = rapid.SampledFrom([]string{"", "a", "b"}).Draw(t, "of")
				if rapid.Bool().Draw(t, "level") {
					s.Turn, s.Y = 0, 1000
				}
				return s
			case 3:
				return &layout.Link{Rect: layout.Rect{W: 1000, H: 1000}, To: rapid.SampledFrom([]string{"", "x", "y"}).Draw(t, "to")}
			}
			g := &layout.Group{ID: rapid.String().Draw(t, "id"), Items: items(depth-1).Draw(t, "items")}
			if rapid.Bool().Draw(t, "clipped") {
				g.Clip = &layout.Rect{W: 50000, H: 50000}
			}
			return g
		})
	}
	items = func(depth int) *rapid.Generator[[]layout.Item] { return rapid.SliceOfN(item(depth), 0, 6) }
	rapid.Check(t, func(t *rapid.T) {
		doc := document(items(3).Draw(t, "items")...)
		doc.Pages[0].Label = "x"
		require.Equal(t, writeOnce(t, doc), writeOnce(t, doc))
	})
}
