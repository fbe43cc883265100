package dump

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"io"
	"strconv"
	"strings"

	"stopleaf/layout"
	"stopleaf/render/internal/paper"
)

// Write writes the display list of a document as plain text, for tests and for
// reading: one item a line, lengths in whole micrometres, the members of a
// group indented by two spaces. Strings are quoted as in Go; a picture is told
// by its size and the start of the SHA-256 of its bytes.
func Write(w io.Writer, doc *layout.Document) error {
	var b bytes.Buffer
	fmt.Fprintf(&b, "document %q subject %q author %q created %q lang %q\n", doc.Title, doc.Subject, doc.Author, doc.Created, doc.Lang)
	if len(doc.Keywords) > 0 {
		fmt.Fprintf(&b, "keywords %s\n", quoted(doc.Keywords))
	}
	for _, p := range doc.Problems {
		fmt.Fprintf(&b, "problem %q\n", p)
	}
	for i := range doc.Pages {
		p := &doc.Pages[i]
		if err := paper.Check(p); err != nil {
			return fmt.Errorf("page %d: %w", i+1, err)
		}
		page(&b, i+1, p)
	}
	_, err := w.Write(b.Bytes())
	return err
}

func quoted(list []string) string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = strconv.Quote(s)
	}
	return strings.Join(out, " ")
}

func page(b *bytes.Buffer, n int, p *layout.Page) {
	fmt.Fprintf(b, "page %d %d x %d margin %d label %q title %q scale %d\n", n, p.W, p.H, p.Margin, p.Label, p.Title, p.ScaleDenominator)
	if p.Desc != "" {
		fmt.Fprintf(b, "desc %q\n", p.Desc)
	}
	items(b, p.Items, "  ")
}

func items(b *bytes.Buffer, list []layout.Item, indent string) {
	for _, it := range list {
		b.WriteString(indent)
		switch v := it.(type) {
		case *layout.Path:
			path(b, v)
		case *layout.Text:
			text(b, v)
		case *layout.Image:
			image(b, v)
		case *layout.Code:
			code(b, v)
		case *layout.Link:
			fmt.Fprintf(b, "link %s to %q\n", box(v.Rect), v.To)
		case *layout.Group:
			fmt.Fprintf(b, "group %q label %q", v.ID, v.Label)
			if v.Clip != nil {
				fmt.Fprintf(b, " clip %s", box(*v.Clip))
			}
			b.WriteByte('\n')
			items(b, v.Items, indent+"  ")
		}
	}
}

func path(b *bytes.Buffer, p *layout.Path) {
	b.WriteString("path")
	word(b, p.Kind)
	if p.Of != "" {
		fmt.Fprintf(b, " of %q", p.Of)
	}
	if s := p.Stroke; s.Width > 0 {
		fmt.Fprintf(b, " line %d grey %d", s.Width, s.Grey)
		if len(s.Dash) > 0 {
			b.WriteString(" dash")
			for _, d := range s.Dash {
				fmt.Fprintf(b, " %d", d)
			}
		}
		if s.Round {
			b.WriteString(" round")
		}
	}
	if p.Fill != nil {
		fmt.Fprintf(b, " fill %d", *p.Fill)
	}
	b.WriteString(":")
	for _, s := range p.Segs {
		b.WriteByte(' ')
		b.WriteByte("MLCZ"[min(s.Kind, layout.Close)])
		for i, pt := range s.P[:paper.Points(s.Kind)] {
			if i > 0 {
				b.WriteByte(' ')
			}
			fmt.Fprintf(b, "%d,%d", pt.X, pt.Y)
		}
	}
	b.WriteByte('\n')
}

func text(b *bytes.Buffer, t *layout.Text) {
	b.WriteString("text")
	word(b, t.Kind)
	if t.Of != "" {
		fmt.Fprintf(b, " of %q", t.Of)
	}
	fmt.Fprintf(b, " at %d,%d cap %d", t.X, t.Y, t.Cap)
	if t.Bold {
		b.WriteString(" bold")
	}
	if t.Grey != layout.Black {
		fmt.Fprintf(b, " grey %d", t.Grey)
	}
	if t.Turn != 0 {
		fmt.Fprintf(b, " turn %d", t.Turn)
	}
	if t.Used {
		b.WriteString(" used")
	}
	if t.Space != 0 {
		fmt.Fprintf(b, " space %d", t.Space)
	}
	fmt.Fprintf(b, " wide %d %q\n", t.W, t.S)
}

func image(b *bytes.Buffer, v *layout.Image) {
	sum := sha256.Sum256(v.Data)
	fmt.Fprintf(b, "image %s %s %d x %d px %d channels orientation %d sha256 %x alt %q\n",
		v.Format, box(v.Rect), v.PxW, v.PxH, v.Channels, v.Orientation, sum[:6], v.Alt)
}

// code says which modules are dark by a sum over their rows.
func code(b *bytes.Buffer, v *layout.Code) {
	m := v.Modules
	h := sha256.New()
	for y := range m.Size {
		for x := range m.Size {
			dark := byte(0)
			if m.Dark(x, y) {
				dark = 1
			}
			h.Write([]byte{dark})
		}
	}
	fmt.Fprintf(b, "code %s version %d-%s sha256 %x alt %q\n", box(v.Rect), m.Version, m.Level, h.Sum(nil)[:6], v.Alt)
}

// word appends what an item stands for, quoted when it is not one plain word.
func word(b *bytes.Buffer, s string) {
	switch {
	case s == "":
	case strings.ContainsFunc(s, func(r rune) bool { return r < 'a' || r > 'z' }):
		fmt.Fprintf(b, " %q", s)
	default:
		b.WriteString(" " + s)
	}
}

func box(r layout.Rect) string { return fmt.Sprintf("%d,%d %dx%d", r.X, r.Y, r.W, r.H) }
