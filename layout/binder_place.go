package layout

import "strconv"

// Where holes are punched, ISO 838: 6 mm wide, 12 mm from the edge, 80 mm
// apart, symmetric to the middle of the sheet; four of them add one 80 mm above
// and below. The three of US Letter are 4 1/4 in apart. With the tolerances of
// ISO 838 (1 mm in the place, 0.25 mm in the radius) all holes lie within
// 16.25 mm of the edge.
const (
	holeClear   = Um(16250) // no ink nearer to the gutter's edge
	holePitch   = Um(80000)
	holePitchUS = Um(107950)
)

// binderGutter is what the gutter adds to the margin of a page: 20 mm in all.
const binderGutter = Um(12000)

// binderFoot is what a page of a binder has under the setup's own.
const binderFoot = Um(5000)

// BinderHoles are the kinds of filing holes that a binder may be punched with.
func BinderHoles() []string { return []string{"2", "3", "4", "none"} }

// holes are the centres along the edge, from the head of a page of a height.
func (b *Binder) holes(h Um) []Um {
	mid := h / 2
	switch b.Holes {
	case "2":
		return []Um{mid - holePitch/2, mid + holePitch/2}
	case "3":
		return []Um{mid - holePitchUS, mid, mid + holePitchUS}
	case "4":
		return []Um{mid - holePitch*3/2, mid - holePitch/2, mid + holePitch/2, mid + holePitch*3/2}
	}
	return nil
}

func (b *Binder) gutter() Um {
	if b.Holes == "none" {
		return 0
	}
	return binderGutter
}

// leftHand says whether a page, by its place in its piece, is the back of a leaf.
func (b *Binder) leftHand(n int) bool { return b.Duplex && n%2 == 1 }

// place moves what was laid out on the narrower paper clear of the gutter, and
// draws the foot and the marks of the holes.
func (b *Binder) place(pg *Page, n int) {
	left := b.leftHand(n)
	if !left && b.gutter() > 0 {
		shift(pg.Items, b.gutter(), 0)
	}
	pg.W, pg.H = b.size.W, b.size.H
	pg.Margin = Mm(b.sheet.Margin) - accentRoom
	b.foot(pg, left)
	b.holeMarks(pg, left)
}

// Styles of the foot: the label is what a page is found by.
var (
	labelStyle = style{cap: capUse, bold: true, kind: "page", used: true}
	printStyle = style{cap: capCaption, kind: "fingerprint"}
)

// foot sets the label in the outer corner, with the way back to the contents,
// and the fingerprint beside the gutter.
func (b *Binder) foot(pg *Page, left bool) {
	p := &pen{}
	m, y := Mm(b.sheet.Margin), pg.H-Mm(b.sheet.Margin)-700
	in, out := m+b.gutter(), pg.W-m
	pg.Fingerprint = fingerprint(pg)
	at := out - width(pg.Label, labelStyle)
	if left {
		in, out = pg.W-m-b.gutter(), m
		at = out
	}
	p.text(at, y, pg.Label, labelStyle)
	if left {
		p.textRight(in, y, pg.Fingerprint, printStyle)
	} else {
		p.text(in, y, pg.Fingerprint, printStyle)
	}
	p.add(&Link{Rect: Rect{at - 1000, y - Mm(3.2), width(pg.Label, labelStyle) + 2000, Mm(4.4)}, To: pg.back()})
	pg.Items = append(pg.Items, &Group{ID: "foot", Label: pg.Label, Items: p.items})
}

// back is where the label of a page leads: to its line in the contents.
func (p *Page) back() string {
	if p.listed != "" {
		return contentsOf(p.listed)
	}
	return "contents"
}

// contentsOf is the name of the page of the contents that lists a setup.
func contentsOf(code string) string { return "contents of " + code }

// holeMarks are ticks beside the clear zone at the height of each hole, and an
// arrow at the middle of the edge, by which a punch is set.
func (b *Binder) holeMarks(pg *Page, left bool) {
	p := &pen{}
	at := func(x Um) Um {
		if left {
			return pg.W - x
		}
		return x
	}
	const from, to = holeClear + 750, holeClear + 2500
	for _, y := range b.holes(pg.H) {
		p.polyline("hole", lineThin, nil, Point{at(from), y}, Point{at(to), y})
	}
	if mid := pg.H / 2; len(b.holes(pg.H))%2 == 0 && b.Holes != "none" {
		p.polygon("hole", lineGrid, nil, Point{at(from), mid}, Point{at(to), mid - 700}, Point{at(to), mid + 700})
	}
	if len(p.items) > 0 {
		pg.Items = append(pg.Items, &Group{ID: "holes", Label: b.t("holes", "n", strconv.Itoa(len(b.holes(pg.H)))), Items: p.items})
	}
}
