package layout

import (
	"fmt"
	"math"
	"strings"
	"sync"

	"stopleaf/layout/text"
)

// Smallest cap heights: anywhere, and for every name, figure and caution that
// is used on the set.
const (
	smallestCap     = capCaption
	smallestUsedCap = capUse
)

// Check looks a finished page over as a careful person would and says what is
// wrong with it: ink outside the margin, text that touches a line, a shape, a
// picture or other text, a leader across a leader, type under the smallest
// size. A good page gives nothing.
func Check(p *Page) []string {
	c := checker{inside: Rect{p.Margin, p.Margin, p.W - 2*p.Margin, p.H - 2*p.Margin}}
	c.collect(p.Items, nil)
	c.margins()
	c.sizes()
	c.touching()
	c.leaders()
	return c.found
}

type checker struct {
	inside Rect
	texts  []placedText
	paths  []placedPath
	images []*Image
	found  []string
}

type placedText struct {
	*Text
	box Rect
}

type placedPath struct {
	*Path
	segs []segment
	box  Rect // with the stroke
}

func (c *checker) report(format string, a ...any) {
	c.found = append(c.found, fmt.Sprintf(format, a...))
}

func (c *checker) collect(items []Item, within *Rect) {
	for _, it := range items {
		switch v := it.(type) {
		case *Group:
			in := within
			if v.Clip != nil {
				in = v.Clip
			}
			c.collect(v.Items, in)
		case *Text:
			c.texts = append(c.texts, placedText{v, inkBox(v)})
		case *Image:
			c.images = append(c.images, v)
		case *Path:
			pp := placedPath{Path: v}
			var pts []Point
			for _, s := range flatten(v) {
				a, b, ok := s.a, s.b, true
				if within != nil {
					a, b, ok = clip(s.a, s.b, *within)
				}
				if ok {
					pp.segs = append(pp.segs, segment{a, b, s.half})
					pts = append(pts, a, b)
				}
			}
			box, ok := bounds(pts)
			if ok {
				pp.box = box.grow(v.Stroke.Width / 2)
				if within != nil {
					pp.box = pp.box.cut(*within)
				}
				c.paths = append(c.paths, pp)
			}
		}
	}
}

// cut is the part of r inside o.
func (r Rect) cut(o Rect) Rect {
	x0, y0 := max(r.X, o.X), max(r.Y, o.Y)
	x1, y1 := min(r.right(), o.right()), min(r.bottom(), o.bottom())
	return Rect{x0, y0, max(0, x1-x0), max(0, y1-y0)}
}

func (c *checker) margins() {
	for _, t := range c.texts {
		if !c.inside.contains(t.box) {
			c.report("text %q reaches outside the margin", t.S)
		}
	}
	for _, p := range c.paths {
		if !c.inside.contains(p.box) {
			c.report("%s %s reaches outside the margin", p.Kind, p.Of)
		}
	}
	for _, im := range c.images {
		if !c.inside.contains(im.Rect) {
			c.report("picture %q reaches outside the margin", im.Alt)
		}
	}
}

func (c *checker) sizes() {
	for _, t := range c.texts {
		least := smallestCap
		if t.Used {
			least = smallestUsedCap
		}
		if t.Cap < least {
			c.report("text %q is %.1f mm high, under %.1f", t.S, t.Cap.Mm(), least.Mm())
		}
	}
}

func (c *checker) touching() {
	for i, t := range c.texts {
		for _, o := range c.texts[i+1:] {
			if t.box.overlaps(o.box) && lettersTouch(t.letters(), o.letters()) {
				c.report("text %q touches text %q", t.S, o.S)
			}
		}
		for _, im := range c.images {
			if t.box.overlaps(im.Rect) && lettersTouch(t.letters(), []Rect{im.Rect}) {
				c.report("text %q touches picture %q", t.S, im.Alt)
			}
		}
		for _, p := range c.paths {
			if p.Stroke.Width > 0 && p.box.overlaps(t.box) && anyHits(p.segs, t.letters()) {
				c.report("text %q touches %s %s", t.S, p.Kind, p.Of)
			}
			if p.Fill != nil && *p.Fill < Tint && t.Grey == Black && p.box.overlaps(t.box) {
				c.report("text %q stands on dark %s %s", t.S, p.Kind, p.Of)
			}
		}
	}
	for i, im := range c.images {
		for _, o := range c.images[i+1:] {
			if im.Rect.overlaps(o.Rect) {
				c.report("picture %q overlaps picture %q", im.Alt, o.Alt)
			}
		}
	}
}

func anyHits(segs []segment, boxes []Rect) bool {
	for _, s := range segs {
		for _, b := range boxes {
			if s.hits(b) {
				return true
			}
		}
	}
	return false
}

func lettersTouch(a, b []Rect) bool {
	for _, x := range a {
		for _, y := range b {
			if x.overlaps(y) {
				return true
			}
		}
	}
	return false
}

// letters are the boxes of the single letters of a run, each as wide as its
// advance.
func (t placedText) letters() []Rect {
	var out []Rect
	var x Um
	for _, r := range t.S {
		w := Um(text.Width(string(r), int64(t.Cap), t.Bold))
		up, down := runeInk(r, t.Bold)
		one := *t.Text
		one.W = w
		if t.Turn == 90 {
			one.Y -= x
		} else {
			one.X += x
		}
		if up+down > 0 {
			out = append(out, runBox(&one, Um(up*float64(t.Cap)), Um(down*float64(t.Cap))))
		}
		x += w
	}
	return out
}

func (c *checker) leaders() {
	var all, balloons []placedPath
	for _, p := range c.paths {
		switch p.Kind {
		case "leader":
			all = append(all, p)
		case "balloon":
			balloons = append(balloons, p)
		}
	}
	for i, b := range balloons {
		for _, o := range balloons[i+1:] {
			m, n := b.box.mid(), o.box.mid()
			if math.Hypot(float64(m.X-n.X), float64(m.Y-n.Y)) < float64(b.box.W+o.box.W)/2 {
				c.report("balloon of %s touches balloon of %s", b.Of, o.Of)
			}
		}
		inner := b.box.grow(-b.box.W / 5) // inside the circle
		for _, l := range all {
			if anyHits(l.segs, []Rect{inner}) {
				c.report("leader of %s runs through balloon of %s", l.Of, b.Of)
			}
		}
	}
	for i, p := range all {
		for _, q := range all[i+1:] {
			for _, s := range p.segs {
				for _, r := range q.segs {
					if crosses(s.a, s.b, r.a, r.b) {
						c.report("leader of %s crosses leader of %s", p.Of, q.Of)
					}
				}
			}
		}
	}
}

// inkBox is the ink of a run by the outlines of its letters.
func inkBox(t *Text) Rect {
	var up, down float64
	for _, r := range t.S {
		u, d := runeInk(r, t.Bold)
		up, down = max(up, u), max(down, d)
	}
	return runBox(t, Um(up*float64(t.Cap)), Um(down*float64(t.Cap)))
}

var inkCache struct {
	sync.Mutex
	of [2]map[rune][2]float64
}

// runeInk is how far a letter reaches above and below the baseline, in cap
// heights.
func runeInk(r rune, bold bool) (up, down float64) {
	inkCache.Lock()
	defer inkCache.Unlock()
	face := 0
	if bold {
		face = 1
	}
	if inkCache.of[face] == nil {
		inkCache.of[face] = map[rune][2]float64{}
	}
	if v, ok := inkCache.of[face][r]; ok {
		return v[0], v[1]
	}
	segs, _ := text.Outline(r, bold)
	at := func(y float64) {
		y /= -text.UnitsPerEm * text.CapFraction
		up, down = max(up, y), max(down, -y)
	}
	var y0 float64
	for _, s := range segs {
		y1 := float64(s.P[0].Y)
		if s.Op == text.OutlineQuad { // the curve itself, not its control point
			c, y2 := y1, float64(s.P[1].Y)
			for t := 0.125; t < 1; t += 0.125 {
				at((1-t)*(1-t)*y0 + 2*t*(1-t)*c + t*t*y2)
			}
			y1 = y2
		}
		at(y1)
		y0 = y1
	}
	inkCache.of[face][r] = [2]float64{up, down}
	return up, down
}

// runBox is the box of a run that reaches so far above and below its baseline.
func runBox(t *Text, up, down Um) Rect {
	if t.Turn == 90 { // reads upward: the baseline runs up from X, Y
		return Rect{t.X - up, t.Y - t.W, up + down, t.W}
	}
	return Rect{t.X, t.Y - up, t.W, up + down}
}

// Letters that reach below the baseline, and marks above the cap height.
const (
	below = "gjpqyQ,;()[]{}/|_ĢģĶķĻļŅņŖŗŞşŢţÇçĄąĘęĮįŲųµζηξρφχψβγμ¼½¾⅓⅔"
	above = "ÀÁÂÃÄÅÈÉÊËÌÍÎÏÑÒÓÔÕÖÙÚÛÜÝĂĀĆĈĊČĎĒĔĖĚĜĞĠĤĨĪĬİĴĹŃŇŌŎŐŔŘŚŜŠŤŨŪŬŮŰŴŶŸŹŻŽ"
)

// textBox is about the ink of a run, quickly: for finding places.
func textBox(t *Text) Rect {
	up, down := t.Cap*21/20, Um(0)
	if strings.ContainsAny(t.S, above) {
		up = t.Cap * 32 / 25
	}
	if strings.ContainsAny(t.S, below) {
		down = t.Cap / 3
	}
	return runBox(t, up, down)
}
