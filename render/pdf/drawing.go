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
	face   face           // what the content stream has selected
	loaded [3]bool        // faces that fpdf knows, by face
	links  map[string]int // fpdf's link for each page label
	images *images
	out    []byte
	err    error
}

// face is a font as the content stream sees it.
type face uint8

const (
	noFace face = iota
	regular
	bold
)

// families are the names that fpdf gets; it writes each as /utf8 and the name,
// and finish makes the first seven letters of that the tag of a subset.
var families = [3]string{regular: "aa+dejavusanscondensed", bold: "aa+dejavusanscondensed-bold"}

// setSize is the size at which every run is set, in points; the matrix brings
// it to what the run asks for, since fpdf rounds sizes to a hundredth.
const setSize = 10

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
	d.face = noFace
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
	before := d.face
	d.raw("q %s re W n", rect(*g.Clip))
	d.items(g.Items)
	d.restore(before)
}

// restore ends a q, which puts the stream's font back to what it was. fpdf does
// not know of that and notes the runes of a face by the face it set last, so
// where those two differ the next run sets its face anew.
func (d *drawing) restore(before face) {
	d.raw("Q")
	if d.face != before {
		d.face = noFace
	}
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

// text sets one run. The matrix carries place, turn and size, so that every
// glyph falls where its advances in layout/text put it.
func (d *drawing) text(t *layout.Text) {
	s, _ := text.Clean(t.S)
	if s == "" {
		return
	}
	d.font(t.Bold)
	cos, sin := paper.Direction(t.Turn)
	k := scale(t)
	d.raw("q %s %s %s %s %s %s cm", num(k*cos), num(-k*sin), num(-k*sin), num(-k*cos), paper.Mm(t.X), paper.Mm(t.Y))
	d.show(t, s)
	d.raw("Q")
}

// scale is the size of a run in millimetres for a point of setSize.
func scale(t *layout.Text) float64 { return text.Em(int64(t.Cap)) / 1000 / setSize }

func num(v float64) string { return paper.Num(v, 8) }

// show puts the words down at the origin of the space that was set up.
func (d *drawing) show(t *layout.Text, s string) {
	d.raw("%s g", paper.Num(float64(t.Grey)/255, 4))
	d.pdf.Text(0, d.height, s)
}

// font selects a face, and registers it where it is first used: one that is
// registered and not used still costs time and bytes.
func (d *drawing) font(isBold bool) {
	want := regular
	if isBold {
		want = bold
	}
	if !d.loaded[want] {
		d.loaded[want] = true
		d.pdf.AddUTF8FontFromBytes(families[want], "", text.Font(isBold))
	}
	if d.face != want {
		d.pdf.SetFont(families[want], "", setSize)
		d.face = want
	}
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
