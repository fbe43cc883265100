package raster

import (
	"stopleaf/layout"
	"stopleaf/layout/text"
	"stopleaf/render/code"
	"stopleaf/render/internal/paper"
)

// items draws in reading order. Links are left out.
func (c *canvas) items(list []layout.Item) error {
	for _, it := range list {
		switch v := it.(type) {
		case *layout.Path:
			c.path(v)
		case *layout.Text:
			c.text(v)
		case *layout.Image:
			if err := c.image(v); err != nil {
				return err
			}
		case *layout.Code:
			c.path(code.Path(v))
		case *layout.Group:
			if err := c.group(v); err != nil {
				return err
			}
		}
	}
	return nil
}

func (c *canvas) group(g *layout.Group) error {
	if g.Clip == nil {
		return c.items(g.Items)
	}
	outer := c.clip
	defer func() { c.clip = outer }()
	c.clip = within(outer, c.box(*g.Clip))
	return c.items(g.Items)
}

func (c *canvas) box(r layout.Rect) box {
	a, b := c.at(r.X, r.Y), c.at(r.X+r.W, r.Y+r.H)
	return box{a.x, a.y, b.x, b.y}
}

func (c *canvas) path(p *layout.Path) {
	stroked := p.Stroke.Width > 0
	if len(p.Segs) == 0 || !stroked && p.Fill == nil {
		return
	}
	lines := c.lines(p.Segs)
	if p.Fill != nil {
		c.shape.reset()
		for _, l := range lines {
			c.shape.contour(l.points...)
		}
		c.fill(&c.shape, *p.Fill)
	}
	if !stroked {
		return
	}
	c.shape.reset()
	n := pen{half: mul(float64(p.Stroke.Width), c.scale) / 2, round: p.Stroke.Round, out: &c.shape}
	var pattern []float64
	for _, d := range p.Stroke.Dash {
		pattern = append(pattern, mul(float64(d), c.scale))
	}
	for _, l := range lines {
		if len(pattern) > 0 {
			n.dashed(l, pattern)
		} else {
			n.stroke(l)
		}
	}
	c.fill(&c.shape, p.Stroke.Grey)
}

// glyph is one outline of one face.
type glyph struct {
	r    rune
	bold bool
}

// contour is a closed part of an outline.
type contour []text.OutlineSeg

// outline gives a glyph's contours, taken from the font once for a page.
func (c *canvas) outline(g glyph) []contour {
	list, known := c.glyphs[g]
	if known {
		return list
	}
	segs, _ := text.Outline(g.r, g.bold)
	from := 0
	for i := 1; i <= len(segs); i++ {
		if i == len(segs) || segs[i].Op == text.OutlineMove {
			list = append(list, segs[from:i])
			from = i
		}
	}
	c.glyphs[g] = list
	return list
}

// text sets one run as glyph outlines, placed by our own advances.
func (c *canvas) text(t *layout.Text) {
	s, _ := text.Clean(t.S)
	cos, sin := paper.Direction(t.Turn)
	em := mul(text.Em(int64(t.Cap)), c.scale)
	start := c.at(t.X, t.Y)
	pen := int64(0) // thousandths of the em
	for _, r := range s {
		along := mul(float64(pen)/1000, em)
		origin := point{start.x + mul(along, cos), start.y - mul(along, sin)}
		c.letter(glyph{r, t.Bold}, origin, em/text.UnitsPerEm, cos, sin, t.Grey)
		pen += t.Advance(r)
	}
}

// letter draws a glyph whose font unit is k pixels.
func (c *canvas) letter(g glyph, origin point, k, cos, sin float64, grey layout.Grey) {
	at := func(p text.OutlinePoint) point {
		x, y := mul(p.X, k), mul(p.Y, k)
		return point{origin.x + mul(x, cos) + mul(y, sin), origin.y - mul(x, sin) + mul(y, cos)}
	}
	c.shape.reset()
	for _, segs := range c.outline(g) {
		for _, s := range segs {
			if s.Op == text.OutlineQuad {
				last := c.shape.points[len(c.shape.points)-1]
				c.shape.points = quad(c.shape.points, last, at(s.P[0]), at(s.P[1]))
				continue
			}
			c.shape.points = append(c.shape.points, at(s.P[0]))
		}
		c.shape.ends = append(c.shape.ends, len(c.shape.points))
	}
	c.fill(&c.shape, grey)
}
