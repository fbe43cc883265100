package layout

import (
	"math"
	"strings"

	"stopleaf/layout/text"
)

// Line widths (ISO 128 row), by what they are for.
const (
	lineGrid    = Um(180)
	lineThin    = Um(250) // leaders, dimensions, aim
	lineOutline = Um(350)
	lineFace    = Um(500) // the face that shines
	lineFrame   = Um(700)
)

// Cap heights (ISO 3098 row), by what they are for.
const (
	capCaption = Um(1800)
	capUse     = Um(2500) // every name, figure and caution used on the set
	capLarge   = Um(3500)
	capTitle   = Um(5000)
)

// Line kinds after ISO 128: lengths are multiples of the line width.
func dashAim(w Um) []Um    { return []Um{24 * w, 3 * w, w, 3 * w} }
func dashHidden(w Um) []Um { return []Um{8 * w, 3 * w} }
func dashFrame(w Um) []Um  { return []Um{16 * w, 3 * w, w, 3 * w, w, 3 * w} }

// pen collects items in page coordinates.
type pen struct {
	items []Item
	of    string // the item that what follows belongs to
}

func (p *pen) add(it ...Item) { p.items = append(p.items, it...) }

// polyline draws an open line through pts.
func (p *pen) polyline(kind string, w Um, dash []Um, pts ...Point) *Path {
	path := &Path{Segs: segsOf(pts, false), Stroke: Stroke{Width: w, Dash: dash}, Kind: kind, Of: p.of}
	p.add(path)
	return path
}

// polygon draws a closed shape; fill nil leaves it open to what is beneath.
func (p *pen) polygon(kind string, w Um, fill *Grey, pts ...Point) *Path {
	path := &Path{Segs: segsOf(pts, true), Stroke: Stroke{Width: w}, Fill: fill, Kind: kind, Of: p.of}
	p.add(path)
	return path
}

func (p *pen) rect(kind string, w Um, fill *Grey, r Rect) *Path {
	return p.polygon(kind, w, fill, Point{r.X, r.Y}, Point{r.X + r.W, r.Y}, Point{r.X + r.W, r.Y + r.H}, Point{r.X, r.Y + r.H})
}

func (p *pen) circle(kind string, c Point, r, w Um, fill *Grey) *Path {
	path := &Path{Segs: circleSegs(c, r), Stroke: Stroke{Width: w}, Fill: fill, Kind: kind, Of: p.of}
	p.add(path)
	return path
}

// style is how a run of text looks.
type style struct {
	cap  Um
	bold bool
	kind string
	used bool

	space int64 // as that of Text; such a run is never wrapped
}

// apart is the style of a figure that is read from a table: what follows a space,
// the tenths after a mark, stands clear of it on a poor copy too.
func (st style) apart() style {
	st.space = 150
	return st
}

// text sets one run with its baseline's left end at x, y.
func (p *pen) text(x, y Um, s string, st style) *Text {
	s, _ = text.Clean(s)
	t := &Text{X: x, Y: y, S: s, Cap: st.cap, Bold: st.bold, W: width(s, st), Kind: st.kind, Of: p.of, Used: st.used, Space: st.space}
	if s != "" {
		p.add(t)
	}
	return t
}

// textRight sets one run that ends at x; textMid one that is centred on x.
func (p *pen) textRight(x, y Um, s string, st style) *Text {
	return p.text(x-width(s, st), y, s, st)
}

func (p *pen) textMid(x, y Um, s string, st style) *Text {
	return p.text(x-width(s, st)/2, y, s, st)
}

// width measures a run.
func width(s string, st style) Um {
	units := text.Units(s, st.bold)
	if st.space != 0 {
		s, _ = text.Clean(s)
		units += st.space * int64(strings.Count(s, " "))
	}
	return Um(text.FromUnits(units, int64(st.cap)))
}

// wrap breaks a text into lines no wider than w.
func wrap(s string, st style, w Um) []string {
	s, _ = text.Clean(s)
	if one := strings.TrimRight(s, " "); one != "" && width(one, st) <= w { // a no-break space is as wide as any
		return []string{strings.ReplaceAll(one, noBreak, " ")}
	}
	out := text.Wrap(keepFigures(s), int64(st.cap), st.bold, int64(w))
	for i, l := range out {
		out[i] = strings.ReplaceAll(l, noBreak, " ")
	}
	return out
}

const noBreak = "\u00a0"

// unitWords are what may follow a figure and is never parted from it.
var unitWords = []string{"m", "cm", "mm", "mm²", "ft", "in", "kg", "%", "K", "s", "A", "V", "W", "Ws", "mired", "×", "x", "stops", "stop", "under", "over"}

// keepFigures puts no-break spaces between a figure and its unit, a mark and its
// tenths, the two sides of a size.
func keepFigures(s string) string {
	var b []byte // what is written anew, up to done; nil while nothing is
	done, start := 0, 0
	for {
		i := strings.IndexByte(s[start:], ' ')
		if i < 0 {
			break
		}
		before := s[start : start+i]
		start += i + 1
		w, _, _ := strings.Cut(s[start:], " ")
		if figureEnd(before) && unitWord(w) || (before == "×" || before == "x") && figureStart(w) ||
			figureEnd(before) && strings.HasPrefix(w, "+0.") {
			b = append(append(b, s[done:start-1]...), noBreak...)
			done = start
		}
	}
	if done == 0 {
		return s
	}
	return string(append(b, s[done:]...))
}

func unitWord(w string) bool { return holds(unitWords, strings.TrimRight(w, ".,;:)")) }

func figureStart(w string) bool { return w != "" && w[0] >= '0' && w[0] <= '9' }

func figureEnd(w string) bool {
	return w != "" && w[len(w)-1] >= '0' && w[len(w)-1] <= '9' || strings.HasSuffix(w, "½")
}

// pitch is the distance from baseline to baseline: 1.6 cap heights, which
// leaves accents and descenders clear of each other (ISO 3098 gives 1.3 for
// capitals alone, 1.9 for accented capitals).
func pitch(cap Um) Um { return cap * 8 / 5 }

// pitchOf is the pitch of lines that hold only these words: 1.5 cap heights
// where no letter is taller than a capital.
func pitchOf(s string, cap Um) Um {
	for _, r := range s {
		if r >= 0x80 && !strings.ContainsRune("×°−–—•·’“”«»…\u00a0", r) {
			return pitch(cap)
		}
	}
	return cap * 3 / 2
}

func segsOf(pts []Point, closed bool) []Seg {
	segs := make([]Seg, 0, len(pts)+1)
	for i, pt := range pts {
		k := LineTo
		if i == 0 {
			k = MoveTo
		}
		segs = append(segs, Seg{Kind: k, P: [3]Point{pt}})
	}
	if closed {
		segs = append(segs, Seg{Kind: Close})
	}
	return segs
}

// circleSegs is a circle in four cubic arcs; the constant is 4/3 (sqrt 2 - 1),
// whose radial error is 0.027 %.
func circleSegs(c Point, r Um) []Seg {
	k := Um(math.Round(float64(r) * 0.5522847498))
	at := func(dx, dy Um) Point { return Point{c.X + dx, c.Y + dy} }
	return []Seg{
		{Kind: MoveTo, P: [3]Point{at(r, 0)}},
		{Kind: CubicTo, P: [3]Point{at(r, k), at(k, r), at(0, r)}},
		{Kind: CubicTo, P: [3]Point{at(-k, r), at(-r, k), at(-r, 0)}},
		{Kind: CubicTo, P: [3]Point{at(-r, -k), at(-k, -r), at(0, -r)}},
		{Kind: CubicTo, P: [3]Point{at(k, -r), at(r, -k), at(r, 0)}},
		{Kind: Close},
	}
}

func grey(g Grey) *Grey { return &g }
