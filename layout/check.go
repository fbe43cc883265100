package layout

import (
	"fmt"
	"math"
	"strings"
	"sync"
	"unicode/utf8"

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
// picture or other text, text that its group cuts off or that a filled shape
// drawn after it hides, a leader across a leader, type under the smallest size.
// A good page gives nothing.
func Check(p *Page) []string {
	c := checker{inside: Rect{p.Margin, p.Margin, p.W - 2*p.Margin, p.H - 2*p.Margin}}
	c.collect(p.Items, nil)
	c.margins()
	c.sizes()
	c.touching()
	c.hidden()
	c.leaders()
	return c.found
}

type checker struct {
	inside Rect
	texts  []placedText
	paths  []placedPath
	images []placedImage
	found  []string
}

type placedText struct {
	*Text
	box  Rect
	turn int // after how many paths and texts it is drawn
}

// placedImage is a picture, or a code with its quiet zone.
type placedImage struct {
	Rect
	what string
	code bool
}

type placedPath struct {
	*Path
	segs   []segment
	box    Rect // with the stroke
	within *Rect
	turn   int
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
			t := placedText{v, inkBox(v), c.turn()}
			if within != nil && !within.contains(t.box) {
				c.report("text %q is cut off", v.S)
			}
			c.texts = append(c.texts, t)
		case *Image:
			c.images = append(c.images, placedImage{v.Rect, fmt.Sprintf("picture %q", v.Alt), false})
		case *Code:
			c.images = append(c.images, placedImage{v.Rect, fmt.Sprintf("code %q", v.Alt), true})
		case *Path:
			pp := placedPath{Path: v, within: within, turn: c.turn()}
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
				if v.Fill != nil { // it fills what lies between edges outside the group too
					pts = append(pts, s.a, s.b)
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

// turn is how many texts and paths are drawn before the next.
func (c *checker) turn() int { return len(c.texts) + len(c.paths) }

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
			c.report("%s reaches outside the margin", im.what)
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
				c.report("text %q touches %s", t.S, im.what)
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
				c.report("%s overlaps %s", im.what, o.what)
			}
		}
		for _, p := range c.paths {
			if im.code && p.box.overlaps(im.Rect) && (anyHits(p.segs, []Rect{im.Rect}) || p.Fill != nil) {
				c.report("%s is crossed by %s %s", im.what, p.Kind, p.Of)
			}
		}
	}
}

// hidden finds text under what is drawn after it: every fill is opaque, white
// too. (A picture over text touches it, whichever comes first.)
func (c *checker) hidden() {
	for _, p := range c.paths {
		if p.Fill == nil {
			continue
		}
		edge := closed(flatten(p.Path))
		for _, t := range c.texts {
			if t.turn >= p.turn || !p.box.overlaps(t.box) {
				continue
			}
			for _, l := range t.letters() {
				if p.within != nil {
					l = l.cut(*p.within)
				}
				if l.W > 0 && l.H > 0 && covers(edge, l) {
					c.report("text %q is hidden under %s %s", t.S, p.Kind, p.Of)
					break
				}
			}
		}
	}
}

// closed adds to each part of an edge the straight piece that closes it.
func closed(edge []segment) []segment {
	var out []segment
	for i := 0; i < len(edge); {
		n := i + 1
		for n < len(edge) && edge[n].a == edge[n-1].b {
			n++
		}
		out = append(out, edge[i:n]...)
		if end := edge[n-1].b; end != edge[i].a {
			out = append(out, segment{a: end, b: edge[i].a})
		}
		i = n
	}
	return out
}

// covers says whether a shape with this edge lies over some of a box.
func covers(edge []segment, box Rect) bool {
	box = box.grow(-1) // a common edge hides nothing
	for _, s := range edge {
		if _, _, ok := clip(s.a, s.b, box); ok {
			return true
		}
	}
	return winds(edge, box.mid()) != 0
}

// winds is how often an edge goes round a point: 0 is outside (the nonzero
// rule, as every back end fills).
func winds(edge []segment, p Point) int {
	n := 0
	for _, s := range edge {
		right := float64(s.b.X-s.a.X)*float64(p.Y-s.a.Y) - float64(p.X-s.a.X)*float64(s.b.Y-s.a.Y)
		switch {
		case s.a.Y <= p.Y && s.b.Y > p.Y && right > 0:
			n++
		case s.a.Y > p.Y && s.b.Y <= p.Y && right < 0:
			n--
		}
	}
	return n
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
		w := Um(text.FromUnits(t.Advance(r), int64(t.Cap)))
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

// tall tells whether a text has a mark above the cap height, which no letter of
// ASCII has.
func tall(s string) bool {
	for i := range len(s) {
		if s[i] >= utf8.RuneSelf {
			return strings.ContainsAny(s[i:], above)
		}
	}
	return false
}

// textBox is about the ink of a run, quickly: for finding places.
func textBox(t *Text) Rect {
	up, down := t.Cap*21/20, Um(0)
	if tall(t.S) {
		up = t.Cap * 32 / 25
	}
	if strings.ContainsAny(t.S, below) {
		down = t.Cap / 3
	}
	return runBox(t, up, down)
}
