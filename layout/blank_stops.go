package layout

import (
	"math"
	"strconv"
	"strings"

	"stopleaf/exposure/apex"
)

// stopCell is one figure of a table of stops; marks are what is engraved, not
// exact.
type stopCell struct {
	s    string
	mark bool
}

// stopSteps are the columns of the tables of stops: tenths, and thirds between
// them.
var stopSteps = []struct {
	head  string
	stops float64
	third bool
}{
	{".0", 0, false}, {".1", 0.1, false}, {".2", 0.2, false}, {".3", 0.3, false}, {"⅓", 1.0 / 3, true}, {".4", 0.4, false},
	{".5", 0.5, false}, {".6", 0.6, false}, {"⅔", 2.0 / 3, true}, {".7", 0.7, false}, {".8", 0.8, false}, {".9", 0.9, false},
}

const (
	lastStop   = 10 // f/32
	lastRatio  = 4  // stops
	leastPower = 8  // 1/256
)

// stopRows gives, for each whole stop from f/1 to f/32, its mark and the f-numbers
// of its tenths and the marks of its thirds; the last row is f/32 alone.
func stopRows() (rows [][]stopCell) {
	for whole := 0; whole <= lastStop; whole++ {
		row := []stopCell{{apex.Third(float64(whole)), true}}
		for _, st := range stopSteps {
			if whole == lastStop && st.stops > 0 {
				break
			}
			av := float64(whole) + st.stops
			if st.third {
				row = append(row, stopCell{strings.TrimPrefix(apex.Third(av), "f/"), true})
			} else {
				row = append(row, stopCell{apex.Decimal(av), false})
			}
		}
		rows = append(rows, row)
	}
	return rows
}

// ratioRows gives, for each whole stop from 0 to 4, the ratios 2^d and 2^d + 1 of
// its tenths and thirds.
func ratioRows() (key, both [][]stopCell) {
	for whole := 0; whole <= lastRatio; whole++ {
		var a, c []stopCell
		for _, st := range stopSteps {
			if whole == lastRatio && st.stops > 0 {
				break
			}
			r := math.Exp2(float64(whole) + st.stops)
			a, c = append(a, stopCell{s: twoPlaces(r)}), append(c, stopCell{s: twoPlaces(r + 1)})
		}
		key, both = append(key, a), append(both, c)
	}
	return key, both
}

// powerRows gives, from full down to 1/256, the fraction, the stops from full,
// and the percentage of full there, a third of a stop and two thirds lower.
func powerRows() (rows [][]stopCell) {
	for k := 0; k <= leastPower; k++ {
		stops, under := -float64(k), "0"
		if k > 0 {
			under = signedWhole(stops)
		}
		row := []stopCell{{"1/" + strconv.Itoa(1<<k), true}, {under, false}}
		for _, third := range []float64{0, 1, 2} {
			row = append(row, stopCell{s: percentText(100 * math.Exp2(stops-third/3))})
		}
		rows = append(rows, row)
	}
	return rows
}

func twoPlaces(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) }

func percentText(v float64) string {
	if v >= 9.95 {
		return strconv.FormatFloat(math.Floor(v*10+0.5)/10, 'f', 1, 64)
	}
	return twoPlaces(math.Floor(v*100+0.5) / 100)
}

// stops is the back of the form.
func (b *blankForm) stops() Page {
	p := &pen{}
	r := b.inner
	g := grid{p: p, fig: style{cap: capUse, kind: "figure", used: true}, small: b.small, lead: b.lead}
	if r.H > Mm(160) {
		g.fig.cap = capLarge
	}
	rows := Um(lastStop + 1 + 2*(lastRatio+1))
	words := 2*(pitch(g.small.cap)*3+1900) + Mm(5) // titles, heads, examples and the space between
	g.line = min((r.H-words)/rows, g.fig.cap*11/5)
	wide := r.W * 64 / 100
	left := Rect{r.X, r.Y, wide, 0}
	y := g.title(b.t("stops-title"), left)
	y = g.head(Rect{r.X, y, wide, 0}, stopHeads(b.t("stops-mark")))
	for _, row := range stopRows() {
		y = g.row(Rect{r.X, y, wide, 0}, row, 13, true)
	}
	y = g.foot(b.t("stops-example"), Rect{r.X, y, wide, 0})
	b.power(g, Rect{r.X + wide + Mm(7), r.Y, r.W - wide - Mm(7), 0})
	y += Mm(5)
	y = g.title(b.t("ratio-title"), Rect{r.X, y, r.W, 0})
	b.ratios(g, Rect{r.X, y, r.W, 0})
	page := b.page
	page.Items = p.items
	page.Title, page.Desc = b.t("stops-desc"), b.t("stops-desc")
	return page
}

func stopHeads(first string) []string {
	out := []string{first}
	for _, s := range stopSteps {
		out = append(out, s.head)
	}
	return out
}

func (b *blankForm) power(g grid, r Rect) {
	y := g.title(b.t("power-title"), r)
	y = g.head(Rect{r.X, y, r.W, 0}, []string{b.t("power-fraction"), b.t("power-stops"), b.t("power-percent"), b.t("power-third"), b.t("power-two-thirds")})
	for _, row := range powerRows() {
		y = g.row(Rect{r.X, y, r.W, 0}, row, 5, true)
	}
}

func (b *blankForm) ratios(g grid, r Rect) Um {
	lead := Mm(10) + width(b.t("ratio-lit"), b.small)
	cols := Rect{r.X + lead, r.Y, r.W - lead, 0}
	g.p.text(r.X, r.Y+pitch(b.small.cap), b.t("ratio-stops"), b.small)
	y := g.head(cols, stopHeads("")[1:])
	g.p.polyline("rule", lineOutline, nil, Point{r.X, y}, Point{cols.X, y})
	key, both := ratioRows()
	for i := range key {
		bold := g.fig
		bold.bold = true
		g.p.text(r.X, y+(g.line+g.fig.cap)/2, strconv.Itoa(i), bold)
		g.p.textRight(cols.X-1000, y+(g.line+g.fig.cap)/2, b.t("ratio-key"), b.small)
		y = g.row(Rect{cols.X, y, cols.W, 0}, key[i], 12, false)
		g.p.textRight(cols.X-1000, y+(g.line+g.fig.cap)/2, b.t("ratio-lit"), b.small)
		y = g.row(Rect{cols.X, y, cols.W, 0}, both[i], 12, true)
		g.p.polyline("rule", lineGrid, nil, Point{r.X, y}, Point{cols.X, y})
	}
	return g.foot(b.t("ratio-example"), Rect{r.X, y, r.W, 0})
}

// grid sets figures in columns of one width, each at its decimal point.
type grid struct {
	p           *pen
	fig         style
	small, lead style
	line        Um
}

// title, head, row and foot set one part across a box and give the height at
// which the next begins.
func (g grid) title(s string, r Rect) Um {
	y := r.Y
	for _, l := range wrap(s, g.lead, r.W) {
		g.p.text(r.X, y+g.lead.cap*21/20, l, g.lead)
		y += pitch(g.lead.cap)
	}
	return y
}

func (g grid) foot(s string, r Rect) Um {
	y := r.Y + 500
	for _, l := range wrap(s, g.small, r.W) {
		y += pitch(g.small.cap)
		g.p.text(r.X, y, l, g.small)
	}
	return y
}

func (g grid) head(r Rect, heads []string) Um {
	w := r.W / Um(len(heads))
	n := 1
	for _, s := range heads {
		n = max(n, len(wrap(s, g.small, w-800)))
	}
	for i, s := range heads {
		ls := wrap(s, g.small, w-800)
		for k, l := range ls {
			y := r.Y + pitch(g.small.cap)*Um(n-len(ls)+k+1)
			switch end := r.X + Um(i+1)*w - 400; {
			case i == 0 && len(heads) != len(stopSteps):
				g.p.text(r.X, y, l, g.small)
			case len(heads) < len(stopSteps):
				g.p.textRight(end, y, l, g.small)
			case l[0] == '.':
				g.p.text(end-width(".00", g.fig), y, l, g.small)
			default:
				g.p.textMid(end-width(".00", g.fig), y, l, g.small)
			}
		}
	}
	y := r.Y + pitch(g.small.cap)*Um(n) + 900
	g.p.polyline("rule", lineOutline, nil, Point{r.X, y}, Point{r.right(), y})
	return y
}

func (g grid) row(r Rect, cells []stopCell, columns int, rule bool) Um {
	w := r.W / Um(columns)
	base := r.Y + (g.line+g.fig.cap)/2
	for i, c := range cells {
		st := g.fig
		st.bold = c.mark
		if i == 0 && c.mark {
			g.p.text(r.X, base, c.s, st)
			continue
		}
		at := r.X + Um(i+1)*w - 400 - width(".00", g.fig) // the decimal point
		whole, _, _ := strings.Cut(c.s, ".")
		g.p.text(at-width(whole, st), base, c.s, st)
	}
	y := r.Y + g.line
	if rule {
		g.p.polyline("rule", lineGrid, nil, Point{r.X, y}, Point{r.right(), y})
	}
	return y
}
