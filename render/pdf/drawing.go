package pdf

import (
	"fmt"
	"slices"

	"stopleaf/layout"
	"stopleaf/layout/text"
	"stopleaf/render/internal/paper"
)

// drawing writes a page's contents. They begin with a user space of millimetres
// with the origin at the top left and y down, so that the numbers in the file
// are those of the display list, exactly, and not fpdf's hundredths of a point.
type drawing struct {
	out      []byte
	now      pen
	saved    []pen // by q, until Q
	pictures *pictures
	sheet    *Sheet
	plain    bool // as in Options
	err      error
}

func (d *drawing) page(p *layout.Page) {
	d.save("q %s 0 0 %s 0 %s cm %d M", paper.Num(pointsPerMm, 10), paper.Num(-pointsPerMm, 10), paper.Num(points(p.H), 2), paper.MitreLimit)
	d.items(p.Items)
	d.restore()
}

func (d *drawing) line(format string, args ...any) {
	d.out = append(fmt.Appendf(d.out, format, args...), '\n')
}

// save writes a line that begins with q, and restore the Q that belongs to it.
func (d *drawing) save(format string, args ...any) {
	d.saved = append(d.saved, d.now)
	d.line(format, args...)
}

func (d *drawing) restore() {
	d.now = d.saved[len(d.saved)-1]
	d.saved = d.saved[:len(d.saved)-1]
	d.line("Q")
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
	case *layout.Code:
		d.code(v)
	case *layout.Link:
		d.sheet.links = append(d.sheet.links, *v)
	case *layout.Group:
		d.group(v)
	}
}

func (d *drawing) group(g *layout.Group) {
	if g.Clip == nil {
		d.items(g.Items)
		return
	}
	d.save("q %s re W n", rect(*g.Clip))
	d.items(g.Items)
	d.restore()
}

func rect(r layout.Rect) string {
	return paper.Mm(r.X) + " " + paper.Mm(r.Y) + " " + paper.Mm(r.W) + " " + paper.Mm(r.H)
}

func (d *drawing) path(p *layout.Path) {
	stroked := p.Stroke.Width > 0
	if len(p.Segs) == 0 || !stroked && p.Fill == nil {
		return
	}
	if stroked {
		d.stroke(p.Stroke)
	}
	if p.Fill != nil {
		d.fill(*p.Fill)
	}
	b := appendSegs(d.out, p.Segs)
	switch {
	case stroked && p.Fill != nil:
		b = append(b, 'B', '\n')
	case stroked:
		b = append(b, 'S', '\n')
	default:
		b = append(b, 'f', '\n')
	}
	d.out = b
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
	d.fill(t.Grey)
	d.out = append(d.out, "BT "...)
	d.font(t.Bold, t.Cap)
	if t.Turn == 0 {
		d.out = append(d.out, "1 0 0 -1 "...)
	} else {
		cos, sin := paper.Direction(t.Turn)
		for _, v := range [4]float64{cos, -sin, -sin, -cos} {
			d.out = append(paper.AppendNum(d.out, v, 8), ' ')
		}
	}
	d.out = paper.AppendMm(d.out, t.X)
	d.out = append(d.out, ' ')
	d.out = append(paper.AppendMm(d.out, t.Y), " Tm "...)
	d.out = d.sheet.used[face(t.Bold)].appendShown(d.out, s, t.Space)
	d.out = append(d.out, " ET\n"...)
}

func (d *drawing) image(v *layout.Image) {
	p, err := d.pictures.get(v)
	if err != nil {
		d.err = err
		return
	}
	d.place(p, v.Rect, v.Orientation)
}

func (d *drawing) code(c *layout.Code) { d.place(d.pictures.ofCode(c, d.plain), c.Rect, 1) }

// place places the stored pixels by a matrix that turns them as the camera was
// held. A picture fills the unit square of its space, y up.
func (d *drawing) place(p *picture, v layout.Rect, orientation int) {
	if !slices.Contains(d.sheet.pictures, p) {
		d.sheet.pictures = append(d.sheet.pictures, p)
	}
	t := paper.Turn(orientation)
	w, h := v.W.Mm(), v.H.Mm()
	const decimals = 6
	d.line("q %s %s %s %s %s %s cm /%s Do Q", paper.Num(t.A*w, decimals), paper.Num(t.B*h, decimals),
		paper.Num(-t.C*w, decimals), paper.Num(-t.D*h, decimals),
		paper.Num(v.X.Mm()+(t.C+t.E)*w, decimals), paper.Num(v.Y.Mm()+(t.D+t.F)*h, decimals), p.name)
}
