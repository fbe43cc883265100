package layout

import (
	"math"

	"stopleaf/setup"
)

// faint is the grey of what is drawn to be drawn over.
const faint = Grey(120)

// dotStep is how far apart the dots of a plan stand on the set, metres: the least
// round length that is about 5 mm on paper.
func dotStep(sc drawScale, u setup.Units) float64 {
	choice, one := []float64{0.1, 0.25, 0.5, 1, 2, 5, 10, 25}, 1.0
	if u == setup.Feet || u == setup.Inches {
		choice, one = []float64{0.5, 1, 2, 4, 8, 20, 50, 100}, 0.3048
	}
	for _, c := range choice {
		if sc.um(c*one) >= 4900 {
			return c * one
		}
	}
	return choice[len(choice)-1] * one
}

// mustShow is what the plan has room for, about the subject mark: where lights
// usually stand, or where those of the setup do.
func (b *blankForm) mustShow() extent {
	if b.job == nil || nothingPlaced(*b.job) {
		return extent{-2.2, -2.2, 2.2, 1.7}
	}
	e := extent{-1.2, -1.2, 1.2, 1.6}
	for _, o := range scene(*b.job) {
		e = e.union(extent{o.centre.X - 0.3, o.centre.Y - 0.3, o.centre.X + 0.3, o.centre.Y + 0.3})
	}
	if bg := b.job.Setup.Background; bg != nil && bg.Distance != nil {
		e.y0 = min(e.y0, -*bg.Distance-0.2)
	}
	return e
}

// plan draws the dotted plan with its heading: to the largest standard scale
// from 1:20 down that has room for what it must show.
func (b *blankForm) plan(p *pen, r Rect) drawScale {
	const foot = Um(7000) // for the camera
	e := b.mustShow()
	var sc drawScale
	var step float64
	var head []string
	var frame Rect
	for _, sc = range scales(b.units) {
		if sc.den < 20 {
			continue
		}
		step = dotStep(sc, b.units)
		head = wrap(b.t("plan", "scale", sc.text, "step", setup.FormatLength(step, b.units)), b.small, r.W)
		h := Um(len(head))*pitch(b.small.cap) + 900
		frame = Rect{r.X + lineThin/2, r.Y + h, r.W - lineThin, r.H - h - lineThin}
		if sc.um(e.x1-e.x0) <= frame.W-2000 && sc.um(e.y1-e.y0) <= frame.H-foot-2000 {
			break
		}
	}
	for i, s := range head {
		p.text(r.X, r.Y+b.small.cap+Um(i)*pitch(b.small.cap), s, b.small)
	}
	area := Rect{frame.X, frame.Y, frame.W, frame.H - foot}
	origin := Point{area.mid().X - sc.um((e.x0+e.x1)/2), area.mid().Y - sc.um((e.y0+e.y1)/2)}
	g := &pen{of: "plan"}
	g.rect("frame", lineThin, nil, frame)
	b.drawRoom(g, sc, origin, area)
	b.drawSubject(g, sc, origin)
	dots(g, origin, step*1e6/float64(sc.den), area.grow(-1200))
	at := Point{min(max(origin.X, frame.X+Mm(6)+width(b.t("left"), b.small)), frame.right()-Mm(6)-width(b.t("right"), b.small)), frame.bottom() - foot + 3000}
	g.polygon("outline", lineOutline, grey(White), Point{at.X - 2000, at.Y}, Point{at.X + 2000, at.Y}, Point{at.X + 2000, at.Y + 2400}, Point{at.X - 2000, at.Y + 2400})
	g.polygon("outline", lineOutline, grey(White), Point{at.X - 900, at.Y}, Point{at.X - 900, at.Y - 1400}, Point{at.X + 900, at.Y - 1400}, Point{at.X + 900, at.Y})
	g.text(frame.X+1500, frame.bottom()-1700, b.t("left"), b.small)
	g.textRight(frame.right()-1500, frame.bottom()-1700, b.t("right"), b.small)
	p.add(&Group{ID: "plan", Label: b.t("plan-aria", "scale", sc.text), Items: g.items})
	return sc
}

// dots is one path of all dots, so far apart on paper (micrometres), about the
// origin; every second one is larger.
func dots(p *pen, origin Point, step float64, in Rect) {
	small := &Path{Kind: "dot", Of: p.of, Stroke: Stroke{Width: 350, Round: true}}
	large := &Path{Kind: "dot", Of: p.of, Stroke: Stroke{Width: 650, Round: true}}
	first := func(lo, from Um) int { return int(math.Ceil(float64(lo-from) / step)) }
	for j := first(in.Y, origin.Y); ; j++ {
		y := origin.Y + Um(math.Round(float64(j)*step))
		if y > in.bottom() {
			break
		}
		for i := first(in.X, origin.X); ; i++ {
			x := origin.X + Um(math.Round(float64(i)*step))
			if x > in.right() {
				break
			}
			if i == 0 && j == 0 { // the subject mark
				continue
			}
			dot := small
			if i%2 == 0 && j%2 == 0 {
				dot = large
			}
			dot.Segs = append(dot.Segs, Seg{Kind: MoveTo, P: [3]Point{{x, y}}}, Seg{Kind: LineTo, P: [3]Point{{x + 10, y}}})
		}
	}
	for _, d := range []*Path{small, large} {
		if len(d.Segs) > 0 {
			p.add(d)
		}
	}
}

// drawRoom draws the walls that stand within the plan.
func (b *blankForm) drawRoom(p *pen, sc drawScale, origin Point, in Rect) {
	x0, y0, x1, y1 := in.X, in.Y, in.right(), in.bottom()
	reach := func(side int, sign float64, from Um) (Um, bool) {
		m := b.wall(side)
		if m == nil {
			return 0, false
		}
		v := from + sc.um(sign**m)
		if side < 2 {
			return v, v >= in.X+500 && v <= in.right()-500
		}
		return v, v >= in.Y+500 && v <= in.bottom()-500
	}
	l, hasL := reach(0, -1, origin.X)
	r, hasR := reach(1, 1, origin.X)
	f, hasF := reach(2, 1, origin.Y)
	k, hasK := reach(3, -1, origin.Y)
	if hasL {
		x0 = l
	}
	if hasR {
		x1 = r
	}
	if hasF {
		y1 = f
	}
	if hasK {
		y0 = k
	}
	line := func(on bool, a, c Point) {
		if on {
			p.polyline("wall", lineFace, nil, a, c).Stroke.Grey = faint
		}
	}
	line(hasL, Point{l, y0}, Point{l, y1})
	line(hasR, Point{r, y0}, Point{r, y1})
	line(hasF, Point{x0, f}, Point{x1, f})
	line(hasK, Point{x0, k}, Point{x1, k})
}

// drawSubject draws the cross of the subject mark and, where the setup says who
// or what it is, its outline from above.
func (b *blankForm) drawSubject(p *pen, sc drawScale, o Point) {
	shape := func(pts []vec) {
		out := make([]Point, len(pts))
		for i, v := range pts {
			out[i] = Point{o.X + sc.um(v.X), o.Y + sc.um(v.Y)}
		}
		p.polygon("outline", lineThin, nil, out...).Stroke.Grey = faint
	}
	if b.job != nil {
		s := b.job.Setup.Subject
		switch {
		case s.Kind == "object" && s.Width != nil:
			w, d := *s.Width/2, *s.Width/2
			if s.Depth != nil {
				d = *s.Depth / 2
			}
			sin, cos := math.Sincos(s.Turned * math.Pi / 180)
			at := func(x, y float64) vec { return vec{X: x*cos + y*sin, Y: -x*sin + y*cos} }
			shape([]vec{at(-w, -d), at(w, -d), at(w, d), at(-w, d)})
		case s.Kind == "animal":
			shape(ellipse(vec{}, 0.15, 0.4, s.Turned))
		case s.Given && s.Kind != "object":
			w := 0.23
			if s.Width != nil {
				w = max(w, *s.Width/2)
			}
			shape(ellipse(vec{}, w, 0.12, s.Turned))
			shape(ellipse(vec{}, 0.08, 0.1, s.Turned))
		}
	}
	p.polyline("mark", lineOutline, nil, Point{o.X - 1800, o.Y}, Point{o.X + 1800, o.Y})
	p.polyline("mark", lineOutline, nil, Point{o.X, o.Y - 1800}, Point{o.X, o.Y + 1800})
}
