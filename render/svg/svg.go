package svg

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"io"

	svgo "github.com/ajstarks/svgo/float"

	"stopleaf/layout"
	"stopleaf/layout/text"
	"stopleaf/render/code"
	"stopleaf/render/internal/paper"
	"stopleaf/render/internal/xmp"
)

// Write writes one page of a document, counted from 0, as an SVG whose user
// unit is the millimetre. Text is set as glyph outlines, so that it looks the
// same in every viewer, and each run carries its words in aria-label. Pictures
// are held inside the file. Links lead to other pages and are left out. The
// file is made in memory and written in one go; what cannot be written as SVG
// is an error and nothing is written.
func Write(w io.Writer, doc *layout.Document, page int) error {
	if page < 0 || page >= len(doc.Pages) {
		return fmt.Errorf("no page %d in a document of %d", page+1, len(doc.Pages))
	}
	p := &doc.Pages[page]
	if err := paper.Check(p); err != nil {
		return err
	}
	var b bytes.Buffer
	d := &drawing{buf: &b, canvas: svgo.New(&b), names: map[string]bool{}, glyphs: map[glyph]string{}}
	d.canvas.Decimals = 3
	d.page(doc, p)
	if d.err != nil {
		return d.err
	}
	_, err := w.Write(b.Bytes())
	return err
}

// drawing is one page being written.
type drawing struct {
	buf    *bytes.Buffer
	canvas *svgo.SVG
	names  map[string]bool // ids given out
	glyphs map[glyph]string
	clips  int
	err    error
}

func (d *drawing) page(doc *layout.Document, p *layout.Page) {
	d.canvas.StartviewUnit(p.W.Mm(), p.H.Mm(), "mm", 0, 0, p.W.Mm(), p.H.Mm())
	d.canvas.Title(plain(firstOf(p.Title, doc.Title, p.Label)))
	if desc := firstOf(p.Desc, doc.Subject); desc != "" {
		d.canvas.Desc(plain(desc))
	}
	d.sources(p.Sources)
	d.define(p.Items)
	lang := ""
	if doc.Lang != "" {
		lang = attr("xml:lang", doc.Lang)
	}
	d.open(attr("id", d.name("page")), attr("role", "document"), attr("aria-label", firstOf(p.Title, doc.Title, p.Label)), lang)
	d.canvas.Path("M0 0H"+paper.Mm(p.W)+"V"+paper.Mm(p.H)+"H0Z", attr("fill", grey(layout.White)))
	d.items(p.Items)
	d.canvas.Gend()
	d.canvas.End()
}

// sources are the setups that the page was drawn from.
func (d *drawing) sources(list []*layout.Source) {
	var texts []string
	for _, s := range list {
		texts = append(texts, s.Text())
	}
	if texts != nil {
		d.buf.WriteString("<metadata>\n" + xmp.Setups(texts) + "</metadata>\n")
	}
}

func firstOf(list ...string) string {
	for _, s := range list {
		if s != "" {
			return s
		}
	}
	return ""
}

func (d *drawing) items(list []layout.Item) {
	for _, it := range list {
		switch v := it.(type) {
		case *layout.Path:
			d.path(v)
		case *layout.Text:
			d.text(v)
		case *layout.Image:
			d.image(v)
		case *layout.Code:
			d.code(v)
		case *layout.Group:
			d.group(v)
		}
	}
}

// open begins a group with the attributes that are not empty.
func (d *drawing) open(attrs ...string) {
	d.buf.WriteString("<g")
	for _, a := range attrs {
		if a != "" {
			d.buf.WriteString(" " + a)
		}
	}
	d.buf.WriteString(">\n")
}

func (d *drawing) group(g *layout.Group) {
	id, label, clip := "", "", ""
	if g.ID != "" {
		id = attr("id", d.name(g.ID))
	}
	if g.Label != "" {
		label = attr("role", "group") + " " + attr("aria-label", g.Label)
	}
	if g.Clip != nil {
		d.clips++
		name := d.name(fmt.Sprintf("clip%d", d.clips))
		d.canvas.ClipPath(attr("id", name))
		d.canvas.Path(rect(*g.Clip))
		d.canvas.ClipEnd()
		clip = attr("clip-path", "url(#"+name+")")
	}
	d.open(id, label, clip)
	d.items(g.Items)
	d.canvas.Gend()
}

func rect(r layout.Rect) string {
	return "M" + paper.Mm(r.X) + " " + paper.Mm(r.Y) + "H" + paper.Mm(r.X+r.W) + "V" + paper.Mm(r.Y+r.H) + "H" + paper.Mm(r.X) + "Z"
}

func (d *drawing) path(p *layout.Path) {
	stroked := p.Stroke.Width > 0
	if len(p.Segs) == 0 || !stroked && p.Fill == nil {
		return
	}
	attrs := []string{attr("fill", "none")}
	if p.Fill != nil {
		attrs[0] = attr("fill", grey(*p.Fill))
	}
	if stroked {
		attrs = append(attrs, strokeAttrs(p.Stroke)...)
	}
	d.canvas.Path(pathData(p.Segs), attrs...)
}

// strokeAttrs says how a line is drawn. A dash pattern of odd length means the
// same here and in PDF: it is gone through twice.
func strokeAttrs(s layout.Stroke) []string {
	attrs := []string{attr("stroke", grey(s.Grey)), attr("stroke-width", paper.Mm(s.Width))}
	if len(s.Dash) > 0 {
		var list []byte
		for i, u := range s.Dash {
			if i > 0 {
				list = append(list, ' ')
			}
			list = paper.AppendMm(list, u)
		}
		attrs = append(attrs, attr("stroke-dasharray", string(list)))
	}
	if s.Round {
		return append(attrs, attr("stroke-linecap", "round"), attr("stroke-linejoin", "round"))
	}
	return append(attrs, attr("stroke-miterlimit", fmt.Sprint(paper.MitreLimit)))
}

func pathData(segs []layout.Seg) string {
	out := make([]byte, 0, 16*len(segs))
	for _, s := range segs {
		if s.Kind > layout.Close {
			continue
		}
		out = append(out, "MLCZ"[s.Kind])
		for i, pt := range s.P[:paper.Points(s.Kind)] {
			if i > 0 {
				out = append(out, ' ')
			}
			out = paper.AppendMm(out, pt.X)
			out = append(out, ' ')
			out = paper.AppendMm(out, pt.Y)
		}
	}
	return string(out)
}

// image places the stored pixels by a matrix that turns them as the camera was
// held.
// code draws a QR code as one path in modules.
func (d *drawing) code(v *layout.Code) {
	k := v.W.Mm() / float64(v.Side())
	d.canvas.Path(code.Data(v), attr("fill", grey(layout.Black)), attr("role", "img"), attr("aria-label", v.Alt),
		attr("shape-rendering", "crispEdges"), d.matrix(paper.Matrix{A: k, D: k, E: v.X.Mm(), F: v.Y.Mm()}))
}

func (d *drawing) image(v *layout.Image) {
	t := paper.Turn(v.Orientation)
	w, h := v.W.Mm(), v.H.Mm()
	pw, ph := float64(v.PxW), float64(v.PxH)
	m := paper.Matrix{
		A: t.A * w / pw, B: t.B * h / pw, C: t.C * w / ph, D: t.D * h / ph,
		E: v.X.Mm() + t.E*w, F: v.Y.Mm() + t.F*h,
	}
	alt := []string{attr("role", "img"), attr("aria-label", v.Alt)}
	if v.Alt == "" {
		alt = []string{attr("aria-hidden", "true")}
	}
	d.canvas.Image(0, 0, v.PxW, v.PxH, "data:image/"+v.Format+";base64,"+base64.StdEncoding.EncodeToString(v.Data),
		append(alt, attr("preserveAspectRatio", "none"), d.matrix(m))...)
}

// matrix writes a transform, or notes that it cannot be written.
func (d *drawing) matrix(m paper.Matrix) string {
	if !m.Finite() {
		d.err = fmt.Errorf("a picture or text whose size is not a number")
		return ""
	}
	const decimals = 9
	return attr("transform", "matrix("+paper.Num(m.A, decimals)+" "+paper.Num(m.B, decimals)+" "+
		paper.Num(m.C, decimals)+" "+paper.Num(m.D, decimals)+" "+paper.Num(m.E, decimals)+" "+paper.Num(m.F, decimals)+")")
}

// text sets one run: a group with the run's words, and in it one use of each
// glyph's outline, placed in thousandths of the em.
func (d *drawing) text(t *layout.Text) {
	s, _ := text.Clean(t.S)
	if s == "" {
		return
	}
	cos, sin := paper.Direction(t.Turn)
	k := text.Em(int64(t.Cap)) / 1000 / 1000 // mm for a thousandth of the em
	m := paper.Matrix{A: k * cos, B: -k * sin, C: k * sin, D: k * cos, E: t.X.Mm(), F: t.Y.Mm()}
	d.open(attr("role", "img"), attr("aria-label", s), attr("fill", grey(t.Grey)), d.matrix(m))
	d.canvas.Decimals = 0
	pen := int64(0)
	for _, r := range s {
		if id := d.glyphs[glyph{r, t.Bold}]; id != "" {
			d.canvas.Use(float64(pen), 0, "#"+id)
		}
		pen += t.Advance(r)
	}
	d.canvas.Decimals = 3
	d.canvas.Gend()
}
