// Package sample makes the pages that the tests of the translators share.
package sample

import (
	"bytes"
	_ "embed"
	"image"
	"image/color"
	"image/png"

	"stopleaf/layout"
	"stopleaf/layout/text"
)

//go:embed quarters.jpg
var quartersJPEG []byte

// Quarters are the greys of a picture's quarters as displayed: top left, top
// right, bottom left, bottom right.
var Quarters = [4]uint8{0, 90, 160, 255}

// Photo is a JPEG of four grey quarters, 32 x 16 pixels, upright.
func Photo(r layout.Rect) *layout.Image {
	return &layout.Image{Rect: r, Format: "jpeg", Data: quartersJPEG, PxW: 32, PxH: 16, Channels: 1, Orientation: 1, Alt: "four quarters"}
}

// Turned is a PNG that shows the four quarters, 32 x 16 pixels as displayed,
// when it is turned as the Exif orientation says.
func Turned(r layout.Rect, orientation int) *layout.Image {
	const w, h = 32, 16
	pw, ph := w, h
	if orientation >= 5 {
		pw, ph = h, w
	}
	img := image.NewGray(image.Rect(0, 0, pw, ph))
	for y := range ph {
		for x := range pw {
			dx, dy := displayed(orientation, x, y, pw, ph)
			img.SetGray(x, y, color.Gray{Y: Quarters[2*(2*dy/h)+2*dx/w]})
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		panic(err) // memory takes everything
	}
	return &layout.Image{Rect: r, Format: "png", Data: b.Bytes(), PxW: pw, PxH: ph, Channels: 1, Orientation: orientation, Alt: "turned"}
}

// displayed tells where a stored pixel is seen. Exif 2.31, CIPA DC-008, tag
// 0112, in its own words: where row 0 and column 0 are.
func displayed(orientation, x, y, w, h int) (int, int) {
	left, right := x, w-1-x // a column counted from either side
	top, bottom := y, h-1-y // a row counted from either side
	switch orientation {
	case 2: // row 0 top, column 0 right
		return right, top
	case 3: // bottom, right
		return right, bottom
	case 4: // bottom, left
		return left, bottom
	case 5: // row 0 left, column 0 top
		return top, left
	case 6: // right, top
		return bottom, left
	case 7: // right, bottom
		return bottom, right
	case 8: // left, bottom
		return top, right
	}
	return left, top
}

// Set makes a run of text with its measured width.
func Set(x, y, capHeight layout.Um, bold bool, s string) *layout.Text {
	return &layout.Text{X: x, Y: y, Cap: capHeight, Bold: bold, S: s, Kind: "figure",
		W: layout.Um(text.Width(s, int64(capHeight), bold))}
}

// Apart sets the words of a run further apart, by so many thousandths of the em.
func Apart(t *layout.Text, space int64) *layout.Text {
	t.Space = space
	var units int64
	for _, r := range t.S {
		units += t.Advance(r)
	}
	t.W = layout.Um(text.FromUnits(units, int64(t.Cap)))
	return t
}

// Line makes a stroked path through points, given as x, y, x, y ...
func Line(width layout.Um, xy ...layout.Um) *layout.Path {
	p := &layout.Path{Stroke: layout.Stroke{Width: width}, Kind: "line"}
	for i := 0; i+1 < len(xy); i += 2 {
		kind := layout.LineTo
		if i == 0 {
			kind = layout.MoveTo
		}
		p.Segs = append(p.Segs, layout.Seg{Kind: kind, P: [3]layout.Point{{X: xy[i], Y: xy[i+1]}}})
	}
	return p
}

// Box makes a filled rectangle.
func Box(grey layout.Grey, x, y, w, h layout.Um) *layout.Path {
	p := Line(0, x, y, x+w, y, x+w, y+h, x, y+h)
	p.Segs = append(p.Segs, layout.Seg{Kind: layout.Close})
	p.Fill, p.Kind = &grey, "tint"
	return p
}

// Rows are the cells of a table, its head first.
var Rows = [][]string{
	{"No.", "Light", "Modifier", "Place", "Difference", "f/5.6", "f/8"},
	{"1", "Key", "octabox 1.2, grid 40", "55° left, 1.40 m", "0", "f/5.6", "f/8"},
	{"2", "Card", "reflector panel 1.0 × 1.5", "right 0.90, front 0.30", "1.6 under", "f/3.2 +0.1", "f/4.5 +0.1"},
	{"3", "Hair", "strip 0.3 × 0.9", "165° right, 1.30 m", "0.7 under", "f/4.5", "f/6.3"},
	{"4", "Wall L", "bowl 0.18", "left 1.3, behind 0.9", "0.4 over", "f/6.3", "f/9"},
}

// Table sets Rows below a line.
func Table(top layout.Um) *layout.Group {
	g := &layout.Group{ID: "lights", Label: "Lights"}
	columns := []layout.Um{8000, 16000, 40000, 85000, 125000, 150000, 175000}
	for i, row := range Rows {
		y := top + layout.Um(i)*6000
		if i == 1 {
			g.Items = append(g.Items, Box(layout.Tint, 7000, y-4000, 190000, 5500))
		}
		for j, cell := range row {
			g.Items = append(g.Items, Set(columns[j], y, 2500, i == 0, cell))
		}
		g.Items = append(g.Items, Line(180, 7000, y+1500, 197000, y+1500))
	}
	return g
}

// Page is an A5 page with every kind of item.
func Page() layout.Page {
	curve := Line(350, 100000, 60000)
	curve.Segs = append(curve.Segs, layout.Seg{Kind: layout.CubicTo, P: [3]layout.Point{{X: 110000, Y: 55000}, {X: 130001, Y: 75000}, {X: 140000, Y: 60000}}})
	curve.Stroke.Round = true
	curve.Of = "light 1"
	dashed := Line(250, 100000, 80000, 150000, 80000)
	dashed.Stroke.Dash = []layout.Um{4000, 1000, 500, 1000}
	dashed.Stroke.Grey = 120
	turned := Set(190000, 130000, 3500, true, "LEFT = camera left")
	turned.Turn = 90
	return layout.Page{
		W: layout.Mm(210), H: layout.Mm(148), Margin: layout.Mm(5), Label: "B-014/1",
		Title: "Bread maker, flour in the air", Desc: "A card: four lights and a plan.", ScaleDenominator: 20,
		Items: []layout.Item{
			Set(8000, 14000, 5000, true, "Bread maker, flour in the air"),
			Table(24000),
			&layout.Group{ID: "plan", Label: "Plan, 1:20", Clip: &layout.Rect{X: 90000, Y: 55000, W: 80000, H: 80000}, Items: []layout.Item{
				curve, dashed,
				Line(500, 80000, 90000, 180000, 90000), // cut on both sides
				Set(100000, 100000, 1800, false, "½ ☐ Δ −1.7 ≥ 2.15 m – “flour” Ž Ω µ"),
			}},
			turned,
			Photo(layout.Rect{X: 8000, Y: 60000, W: 70000, H: 35000}),
			&layout.Link{Rect: layout.Rect{X: 8000, Y: 100000, W: 20000, H: 5000}, To: "B-014/2"},
		},
	}
}

// Document is Page and a second, smaller page.
func Document() *layout.Document {
	second := layout.Page{W: layout.Mm(148), H: layout.Mm(105), Label: "B-014/2", Title: "Side 2",
		Items: []layout.Item{Set(10000, 20000, 2500, false, "continued from side 1")}}
	return &layout.Document{
		Title: "Bread maker, flour in the air", Subject: "A lighting setup as a card", Author: "Halvard Studio",
		Keywords: []string{"portrait", "low key"}, Created: "2026-03-14", Lang: "en",
		Pages: []layout.Page{Page(), second},
	}
}
