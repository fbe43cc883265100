// Package convert gives the pages of cards and binders to the yardsticks, which know nothing
// of how they were laid out.
package convert

import (
	"image"
	"image/color"
	"image/png"
	"strings"

	"stopleaf/internal/bench/plainly"
	"stopleaf/layout"
	"stopleaf/layout/text"
	"stopleaf/render/code"
	"stopleaf/setup"
	"stopleaf/templates"
)

// Card lays out the card of a setup file.
func Card(path string, opt layout.CardOptions) (*layout.Document, error) {
	s, problems := setup.Read(path, setup.Options{})
	if problems.HasErrors() {
		return nil, problems
	}
	words, err := templates.Load("en")
	if err != nil {
		return nil, err
	}
	job, err := computed(s, words)
	if err != nil {
		return nil, err
	}
	return layout.Card([]layout.Job{job}, opt)
}

// Pages are a document's pages as the plain programs draw them.
func Pages(doc *layout.Document) []plainly.Page {
	var pages []plainly.Page
	for _, p := range doc.Pages {
		out := plainly.Page{W: p.W.Mm(), H: p.H.Mm()}
		layout.Walk(p.Items, func(it layout.Item) {
			switch it := it.(type) {
			case *layout.Path:
				out.Paths = append(out.Paths, plainPath(it))
			case *layout.Text:
				out.Texts = append(out.Texts, plainRun(it))
			case *layout.Image:
				out.Photos = append(out.Photos, [4]float64{it.X.Mm(), it.Y.Mm(), it.W.Mm(), it.H.Mm()})
			case *layout.Code:
				out.Codes = append(out.Codes, plainly.Code{At: [4]float64{it.X.Mm(), it.Y.Mm(), it.W.Mm(), it.H.Mm()}, PNG: picture(it)})
			}
		})
		pages = append(pages, out)
	}
	return pages
}

// picture is a code as a PNG of the dots that a PDF of ours has.
func picture(c *layout.Code) string {
	rows, n := code.Bits(c)
	img := image.NewPaletted(image.Rect(0, 0, n, n), color.Palette{color.Black, color.White})
	for y := range n {
		for x := range n {
			img.Pix[y*img.Stride+x] = rows[y*((n+7)/8)+x/8] >> (7 - x%8) & 1
		}
	}
	var b strings.Builder
	if err := png.Encode(&b, img); err != nil {
		panic(err) // in memory
	}
	return b.String()
}

func plainPath(p *layout.Path) plainly.Path {
	out := plainly.Path{Width: p.Stroke.Width.Mm(), Grey: int(p.Stroke.Grey)}
	for _, s := range p.Segs {
		step := plainly.Step{Op: "Z"}
		n := 0
		switch s.Kind {
		case layout.MoveTo:
			step.Op, n = "M", 1
		case layout.LineTo:
			step.Op, n = "L", 1
		case layout.CubicTo:
			step.Op, n = "C", 3
		}
		for i, at := range s.P[:n] {
			step.At[2*i], step.At[2*i+1] = at.X.Mm(), at.Y.Mm()
		}
		out.Steps = append(out.Steps, step)
	}
	for _, d := range p.Stroke.Dash {
		out.Dash = append(out.Dash, d.Mm())
	}
	if p.Fill != nil {
		out.Filled, out.Fill = true, int(*p.Fill)
	}
	return out
}

func plainRun(t *layout.Text) plainly.Run {
	clean, _ := text.Clean(t.S)
	const mmPerPoint = 25.4 / 72
	return plainly.Run{X: t.X.Mm(), Y: t.Y.Mm(), Size: text.Em(int64(t.Cap)) / 1000 / mmPerPoint,
		Bold: t.Bold, Grey: int(t.Grey), Turn: float64(t.Turn), S: clean}
}
