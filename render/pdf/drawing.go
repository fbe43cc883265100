package pdf

import (
	"fmt"

	"github.com/go-pdf/fpdf"

	"stopleaf/layout"
	"stopleaf/layout/text"
	"stopleaf/render/internal/paper"
)

// drawing writes page contents. Each page sets up a user space of millimetres
// with the origin at the top left and y down, so that the numbers in the file
// are those of the display list, exactly, and not fpdf's hundredths of a point.
type drawing struct {
	pdf    *fpdf.Fpdf
	height float64        // of the page, points
	fonts  [2]*font       // regular and bold; nil until one is used
	links  map[string]int // fpdf's link for each page label
	images *images
	out    []byte
	err    error
}

// labels gives each page label a place to be linked to.
func (d *drawing) labels(doc *layout.Document) {
	for i := range doc.Pages {
		label := doc.Pages[i].Label
		if _, taken := d.links[label]; label == "" || taken {
			continue
		}
		id := d.pdf.AddLink()
		d.pdf.SetLink(id, 0, i+1)
		d.links[label] = id
	}
}

func (d *drawing) page(p *layout.Page) {
	s := size(p)
	d.height = s.Ht
	d.pdf.AddPageFormat("P", s) // never AddPage, which keeps the size of the page before
	d.raw("q %s 0 0 %s 0 %s cm %d M", paper.Num(pointsPerMm, 10), paper.Num(-pointsPerMm, 10), paper.Num(s.Ht, 2), paper.MitreLimit)
	d.items(p.Items)
	d.raw("Q")
}

func (d *drawing) raw(format string, args ...any) {
	d.pdf.RawWriteStr(fmt.Sprintf(format, args...))
}

func (d *drawing) items(list []layout.Item) {
	list = readingOrder(list)
	for len(list) > 0 {
		n := rowLength(list)
		if n > 1 {
			d.row(list[:n])
		} else {
			n = 1
			d.item(list[0])
		}
		list = list[n:]
	}
}

func (d *drawing) item(it layout.Item) {
	switch v := it.(type) {
	case *layout.Path:
		d.path(v)
	case *layout.Text:
		d.text(v)
	case *layout.Image:
		d.image(v)
	case *layout.Link:
		d.link(v)
	case *layout.Group:
		d.group(v)
	}
}

func (d *drawing) group(g *layout.Group) {
	if g.Clip == nil {
		d.items(g.Items)
		return
	}
	d.raw("q %s re W n", rect(*g.Clip))
	d.items(g.Items)
	d.raw("Q")
}

func rect(r layout.Rect) string {
	return paper.Mm(r.X) + " " + paper.Mm(r.Y) + " " + paper.Mm(r.W) + " " + paper.Mm(r.H)
}

// link leads to the page with that label; a label that no page has is nothing.
func (d *drawing) link(l *layout.Link) {
	if id, ok := d.links[l.To]; ok {
		d.pdf.Link(l.X.Mm()*pointsPerMm, l.Y.Mm()*pointsPerMm, l.W.Mm()*pointsPerMm, l.H.Mm()*pointsPerMm, id)
	}
}

func (d *drawing) path(p *layout.Path) {
	stroked := p.Stroke.Width > 0
	if len(p.Segs) == 0 || !stroked && p.Fill == nil {
		return
	}
	b := d.out[:0]
	if stroked {
		b = appendStroke(b, p.Stroke)
	}
	if p.Fill != nil {
		b = appendGrey(b, *p.Fill, 'g')
	}
	b = appendSegs(b, p.Segs)
	switch {
	case stroked && p.Fill != nil:
		b = append(b, 'B')
	case stroked:
		b = append(b, 'S')
	default:
		b = append(b, 'f')
	}
	d.pdf.RawWriteStr(string(b))
	d.out = b
}

// appendStroke sets the line. A dash pattern of odd length means the same here
// and in SVG: it is gone through twice.
func appendStroke(b []byte, s layout.Stroke) []byte {
	b = appendGrey(b, s.Grey, 'G')
	b = paper.AppendMm(b, s.Width)
	b = append(b, " w "...)
	if s.Round {
		b = append(b, "1 J 1 j ["...)
	} else {
		b = append(b, "0 J 0 j ["...)
	}
	for i, u := range s.Dash {
		if i > 0 {
			b = append(b, ' ')
		}
		b = paper.AppendMm(b, u)
	}
	return append(b, "] 0 d\n"...)
}

func appendGrey(b []byte, g layout.Grey, op byte) []byte {
	b = append(b, paper.Num(float64(g)/255, 4)...)
	return append(b, ' ', op, '\n')
}

func appendSegs(b []byte, segs []layout.Seg) []byte {
	for _, s := range segs {
		if s.Kind > layout.Close {
			continue
		}
		for _, pt := range s.P[:paper.Points(s.Kind)] {
			b = paper.AppendMm(b, pt.X)
			b = append(b, ' ')
			b = paper.AppendMm(b, pt.Y)
			b = append(b, ' ')
		}
		b = append(b, "mlch"[s.Kind], '\n')
	}
	return b
}

// text sets one run. Its matrix carries place and turn; y goes down on the page
// and up in a glyph.
func (d *drawing) text(t *layout.Text) {
	s, _ := text.Clean(t.S)
	if s == "" {
		return
	}
	cos, sin := paper.Direction(t.Turn)
	f := d.font(t.Bold)
	const decimals = 8
	b := appendGrey(d.out[:0], t.Grey, 'g')
	b = fmt.Appendf(b, "BT /%s %s Tf %s %s %s %s %s %s Tm ", f.resource(), paper.Num(text.Em(int64(t.Cap))/1000, decimals),
		paper.Num(cos, decimals), paper.Num(-sin, decimals), paper.Num(-sin, decimals), paper.Num(-cos, decimals),
		paper.Mm(t.X), paper.Mm(t.Y))
	b = f.appendString(b, s)
	b = append(b, " Tj ET"...)
	d.pdf.RawWriteStr(string(b))
	d.out = b
}

// font gives a face to set text with. One that no text is set with is not in
// the file.
func (d *drawing) font(bold bool) *font {
	i := 0
	if bold {
		i = 1
	}
	if d.fonts[i] == nil {
		d.fonts[i] = newFont(bold)
	}
	return d.fonts[i]
}

// image places the stored pixels by a matrix that turns them as the camera was
// held. A picture fills the unit square of its space, y up.
func (d *drawing) image(v *layout.Image) {
	name, kind, err := d.images.register(v)
	if err != nil {
		d.err = err
		return
	}
	t := paper.Turn(v.Orientation)
	w, h := v.W.Mm(), v.H.Mm()
	const decimals = 6
	d.raw("q %s %s %s %s %s %s cm", paper.Num(t.A*w, decimals), paper.Num(t.B*h, decimals),
		paper.Num(-t.C*w, decimals), paper.Num(-t.D*h, decimals),
		paper.Num(v.X.Mm()+(t.C+t.E)*w, decimals), paper.Num(v.Y.Mm()+(t.D+t.F)*h, decimals))
	d.pdf.ImageOptions(name, 0, d.height-1, 1, 1, false, fpdf.ImageOptions{ImageType: kind}, 0, "")
	d.raw("Q")
}
