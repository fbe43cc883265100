package layout_test

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/layout"
	"stopleaf/render/pdf"
	"stopleaf/render/svg"
	"stopleaf/setup"
	"stopleaf/templates"
)

// jobFrom reads a setup written in a test.
func jobFrom(t testing.TB, yaml string) layout.Job {
	t.Helper()
	s, problems := setup.Parse("case.yaml", []byte(yaml), setup.Options{})
	require.NotNil(t, s, "%v", problems)
	job, err := jobOf(s, wording(t))
	require.NoError(t, err)
	return job
}

func planOf(t testing.TB, job layout.Job, opt layout.PlanOptions) *layout.Page {
	t.Helper()
	doc, err := layout.Plan(job, opt)
	require.NoError(t, err)
	require.Len(t, doc.Pages, 1)
	return &doc.Pages[0]
}

// paths are all lines and shapes of a kind, of one item or of all ("").
func paths(p *layout.Page, kind, of string) []*layout.Path {
	var out []*layout.Path
	layout.Walk(p.Items, func(it layout.Item) {
		if v, ok := it.(*layout.Path); ok && v.Kind == kind && (of == "" || v.Of == of) {
			out = append(out, v)
		}
	})
	return out
}

func points(p *layout.Path) []layout.Point {
	var out []layout.Point
	for _, s := range p.Segs {
		if s.Kind != layout.Close {
			out = append(out, s.P[0])
		}
	}
	return out
}

// mark is where the subject's mark stands: the middle of its cross.
func mark(t testing.TB, p *layout.Page) layout.Point {
	t.Helper()
	lines := paths(p, "mark", "subject")
	require.Len(t, lines, 2)
	a := points(lines[0])
	b := points(lines[1])
	return layout.Point{X: (a[0].X + a[1].X) / 2, Y: (b[0].Y + b[1].Y) / 2}
}

// A set whose every distance is known and fits a sheet at 1:20.
const known = `
title: known
units: m
exposure: {key: f/8}
camera: {distance: 1.5, height: 1.4, lens: 85 mm}
background: {kind: paper, distance: 1, width: 2}
room: {left: 2, right: 2.2, behind: 1.4, front: 1.9}
lights:
  - {name: Key, role: key, place: {left: 1, front: 0.5, height: 2}, modifier: softbox 0.6 x 0.8}
  - {name: Fill, role: fill, delta: -1, place: {right: 1.25, front: 0.25, height: 1.5}, modifier: softbox 0.6 x 0.6}
`

// One metre at 1:20 is 50,000 micrometres in the display list.
func TestPlanIsTrueToScale(t *testing.T) {
	p := planOf(t, jobFrom(t, known), layout.PlanOptions{Scale: 20})
	require.Equal(t, 20, p.ScaleDenominator)
	const metre = 50_000
	m := mark(t, p)

	camera := points(paths(p, "outline", "camera")[0]) // the body: its front face first
	assert.EqualValues(t, 1.5*metre, camera[0].Y-m.Y, "the camera's front stands where the file says")
	assert.EqualValues(t, m.X, (camera[0].X+camera[1].X)/2)

	back := points(paths(p, "background", "")[0])
	assert.EqualValues(t, -1*metre, back[0].Y-m.Y)
	assert.EqualValues(t, 2*metre, back[1].X-back[0].X)

	var upright, level []layout.Um
	for _, w := range paths(p, "wall", "room") {
		q := points(w)
		assert.Empty(t, w.Stroke.Dash, "a wall in its place is not dashed")
		if q[0].X == q[1].X {
			upright = append(upright, q[0].X-m.X)
		} else {
			level = append(level, q[0].Y-m.Y)
		}
	}
	assert.ElementsMatch(t, []layout.Um{-2 * metre, 2.2 * metre}, upright)
	assert.ElementsMatch(t, []layout.Um{-1.4 * metre, 1.9 * metre}, level)

	bar, metres := scaleBar(p)
	assert.EqualValues(t, metres*metre, bar)

	face := points(paths(p, "face", "light 1")[0])
	far := 0.0
	for _, a := range face {
		for _, b := range face {
			far = max(far, math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y)))
		}
	}
	assert.GreaterOrEqual(t, far, 0.6*metre-1, "a box 0.6 m wide is drawn as wide")
}

// scaleBar gives the length of the scale bar and what stands at its end, m; 0
// when nothing does.
func scaleBar(p *layout.Page) (long layout.Um, metres float64) {
	for _, l := range paths(p, "scale-bar", "") {
		q := points(l)
		long = max(long, q[1].X-q[0].X)
	}
	layout.Walk(p.Items, func(it layout.Item) {
		if v, ok := it.(*layout.Text); ok && v.Kind == "caption" && metres == 0 {
			n, unit, _ := strings.Cut(v.S, " ")
			if f, err := strconv.ParseFloat(n, 64); err == nil {
				metres = f * map[string]float64{"m": 1, "cm": 0.01, "ft": 0.3048, "in": 0.0254}[unit]
			}
		}
	})
	return long, metres
}

// ISO 5455 with the two in between; and the customary fractions of an inch.
var standard = map[bool][]int{false: {10, 20, 25, 40, 50, 100, 200, 500}, true: {12, 16, 24, 32, 48, 96, 192, 500}}

func TestScalesAreStandardAndTrue(t *testing.T) {
	words := wording(t)
	forRandom(t, howMany(40, 300), 1, 12, func(seed int, r random) (faults []string) {
		job, err := r.job(words)
		if err != nil {
			return []string{"setup: " + err.Error()}
		}
		feet := job.Setup.Units == setup.Feet || job.Setup.Units == setup.Inches
		for _, view := range []string{"overhead", "side"} {
			doc, err := layout.Plan(job, layout.PlanOptions{View: view})
			if err != nil {
				return []string{"plan: " + err.Error()}
			}
			p := &doc.Pages[0]
			if p.ScaleDenominator == 0 && len(paths(p, "scale-bar", "")) == 0 {
				continue // nothing has a place
			}
			if !slices.Contains(standard[feet], p.ScaleDenominator) {
				faults = append(faults, fmt.Sprintf("plan: 1:%d is no standard scale", p.ScaleDenominator))
			}
			bar, metres := scaleBar(p)
			if d := math.Abs(float64(bar) - metres*1e6/float64(p.ScaleDenominator)); d > 1 {
				faults = append(faults, fmt.Sprintf("plan: scale bar is %v µm off", d))
			}
		}
		return faults
	})
}

// Two bare lights, d to either side, on A4 across (281 mm inside its margins):
// the largest scale is taken at which they fit.
func TestLargestScaleThatFits(t *testing.T) {
	for _, c := range []struct {
		side float64
		den  int
	}{{1, 10}, {2.2, 20}, {3.1, 25}, {5, 40}, {6.5, 50}, {12, 100}, {25, 200}, {60, 500}} {
		job := jobFrom(t, fmt.Sprintf(`
title: two
lights:
  - {name: Key, role: key, place: {left: %[1]v, height: 1.5}, modifier: bare}
  - {name: Fill, role: fill, delta: -1, place: {right: %[1]v, height: 1.5}, modifier: bare}
`, c.side))
		p := planOf(t, job, layout.PlanOptions{})
		assert.Equal(t, c.den, p.ScaleDenominator, "%v m", c.side)
		assert.Equal(t, layout.Mm(297), p.W)
		assert.Empty(t, layout.Check(p))
	}
}

// At a scale asked for the sheet grows; past A0 it is an error.
func TestAskedScaleGrowsTheSheet(t *testing.T) {
	job := func(side float64) layout.Job {
		return jobFrom(t, fmt.Sprintf(`
title: two
lights:
  - {name: Key, role: key, place: {left: %[1]v, height: 1.5}, modifier: bare}
  - {name: Fill, role: fill, delta: -1, place: {right: %[1]v, height: 1.5}, modifier: bare}
`, side))
	}
	for _, c := range []struct{ side, sheet float64 }{{2, 297}, {3.5, 420}, {5, 594}, {7.5, 841}, {11, 1189}} {
		p := planOf(t, job(c.side), layout.PlanOptions{Scale: 20})
		assert.Equal(t, layout.Mm(c.sheet), p.W, "%v m", c.side)
		assert.Equal(t, 20, p.ScaleDenominator)
		assert.Empty(t, layout.Check(p))
	}
	_, err := layout.Plan(job(25), layout.PlanOptions{Scale: 20})
	assert.ErrorContains(t, err, "1:20")
}

// line is a straight line on paper, mm from the top left.
type line [4]float64

func (l line) near(o line, mm float64) bool {
	same, back := true, true
	for i := range l {
		same = same && math.Abs(l[i]-o[i]) <= mm
		back = back && math.Abs(l[i]-o[(i+2)%4]) <= mm
	}
	return same || back
}

func has(lines []line, want line, mm float64) bool {
	return slices.ContainsFunc(lines, func(l line) bool { return l.near(want, mm) })
}

// svgLines reads every straight line of an svg whose user unit is the
// millimetre.
func svgLines(t testing.TB, b []byte) []line {
	t.Helper()
	var out []line
	dec := xml.NewDecoder(bytes.NewReader(b))
	for {
		tok, err := dec.Token()
		if err == io.EOF {
			return out
		}
		require.NoError(t, err)
		e, ok := tok.(xml.StartElement)
		if !ok || e.Name.Local != "path" {
			continue
		}
		for _, a := range e.Attr {
			if a.Name.Local != "d" || strings.ContainsAny(a.Value, "CQZ") {
				continue
			}
			var v []float64
			for _, f := range strings.FieldsFunc(a.Value, func(r rune) bool { return strings.ContainsRune(" ,ML", r) }) {
				x, err := strconv.ParseFloat(f, 64)
				require.NoError(t, err)
				v = append(v, x)
			}
			for i := 0; i+3 < len(v); i += 2 {
				out = append(out, line(v[i:i+4]))
			}
		}
	}
}

// pdfLines reads every straight line of the first page of a PDF that is not
// compressed. Its coordinates go through the matrix that the page sets first;
// a point is 25.4/72 mm from the bottom left (ISO 32000-1, 8.3.2.3).
func pdfLines(t testing.TB, b []byte, heightMm float64) []line {
	t.Helper()
	_, s, found := strings.Cut(string(b), "stream\n")
	require.True(t, found)
	s, _, _ = strings.Cut(s, "\nendstream")
	a, d, e, f := 1.0, 1.0, 0.0, 0.0
	seen := false
	var out []line
	var at [2]float64
	for l := range strings.SplitSeq(s, "\n") {
		w := strings.Fields(l)
		if i := slices.Index(w, "cm"); i >= 6 && !seen {
			seen = true
			_, err := fmt.Sscan(w[i-6]+" "+w[i-3]+" "+w[i-2]+" "+w[i-1], &a, &d, &e, &f)
			require.NoError(t, err)
		}
		if len(w) != 3 || w[2] != "m" && w[2] != "l" {
			continue
		}
		x, err := strconv.ParseFloat(w[0], 64)
		require.NoError(t, err)
		y, err := strconv.ParseFloat(w[1], 64)
		require.NoError(t, err)
		p := [2]float64{(a*x + e) * 25.4 / 72, heightMm - (d*y+f)*25.4/72}
		if w[2] == "l" {
			out = append(out, line{at[0], at[1], p[0], p[1]})
		}
		at = p
	}
	return out
}

// A ruler on the page, in both formats: walls, background and scale bar stand
// within 0.01 mm of the display list and of the truth.
func TestRulerThroughTheFormats(t *testing.T) {
	doc, err := layout.Plan(jobFrom(t, known), layout.PlanOptions{Scale: 20})
	require.NoError(t, err)
	p := &doc.Pages[0]
	var s, d bytes.Buffer
	require.NoError(t, svg.Write(&s, doc, 0))
	require.NoError(t, pdf.WriteWith(&d, doc, pdf.Options{Plain: true}))
	m := mark(t, p)
	mx, my := m.X.Mm(), m.Y.Mm()
	bar, metres := scaleBar(p)
	require.InDelta(t, metres*50, bar.Mm(), 0.01)
	for name, lines := range map[string][]line{"svg": svgLines(t, s.Bytes()), "pdf": pdfLines(t, d.Bytes(), p.H.Mm())} {
		n := 0
		for _, kind := range []string{"wall", "background", "scale-bar", "mark"} {
			for _, l := range paths(p, kind, "") {
				q := points(l)
				want := line{q[0].X.Mm(), q[0].Y.Mm(), q[1].X.Mm(), q[1].Y.Mm()}
				assert.True(t, has(lines, want, 0.01), "%s: %s %v is not in the file", name, kind, want)
				n++
			}
		}
		assert.GreaterOrEqual(t, n, 4+1+4+2, name)
		assert.True(t, has(lines, line{mx - 50, my - 50, mx + 50, my - 50}, 0.01), "%s: background of 2 m, 1 m behind", name)
		left, right, behind, front := mx-100, mx+110, my-70, my+95
		for _, wall := range []line{{left, behind, left, front}, {right, behind, right, front}, {left, behind, right, behind}, {left, front, right, front}} {
			assert.True(t, has(lines, wall, 0.01), "%s: wall %v", name, wall)
		}
	}
}

// shapesOf tells what a plan draws without its numbers: each line, shape and
// label with the name of what it belongs to, sorted.
func shapesOf(job layout.Job, opt layout.PlanOptions) ([]string, error) {
	doc, err := layout.Plan(job, opt)
	if err != nil {
		return nil, err
	}
	names := map[string]string{}
	for _, l := range job.Setup.Lights {
		names[fmt.Sprintf("light %d", l.Number)] = l.Name
	}
	for _, g := range job.Setup.Grip {
		names[fmt.Sprintf("grip %d", g.Number)] = g.Name
	}
	of := func(s string) string {
		if n, ok := names[s]; ok {
			return n
		}
		return s
	}
	var out []string
	layout.Walk(doc.Pages[0].Items, func(it layout.Item) {
		switch v := it.(type) {
		case *layout.Path:
			fill := -1
			if v.Fill != nil {
				fill = int(*v.Fill)
			}
			out = append(out, fmt.Sprint(v.Kind, of(v.Of), v.Stroke, fill, v.Segs))
		case *layout.Text:
			if v.Kind == "number" || v.Kind == "list" {
				return // numbers follow the order of the file
			}
			out = append(out, fmt.Sprint(v.Kind, of(v.Of), v.X, v.Y, v.S))
		}
	})
	slices.Sort(out)
	return out, nil
}

// orderFaults compares the plan of a setup with that of the same lights in
// another order.
func orderFaults(r random, seed int, words templates.Words) []string {
	job, err := r.job(words)
	if err != nil {
		return []string{"setup: " + err.Error()}
	}
	n := len(job.Setup.Lights) + len(job.Setup.Grip)
	for _, l := range job.Setup.Lights {
		if l.Place == nil || l.Place.Height == nil { // named in a list, in the order of the file
			return nil
		}
	}
	for _, g := range job.Setup.Grip {
		if g.Place == nil || g.Place.Height == nil {
			return nil
		}
	}
	if n > 9 { // numbers of one digit alone are all as wide
		return nil
	}
	other := r
	other.Lights = slices.Clone(r.Lights)
	slices.Reverse(other.Lights)
	if k := len(other.Lights); k > 2 {
		i := seed % k
		other.Lights = append(other.Lights[i:], other.Lights[:i]...)
	}
	shuffled, err := other.job(words)
	if err != nil {
		return []string{"setup: shuffled: " + err.Error()}
	}
	for _, opt := range []layout.PlanOptions{{}, {View: "side"}} {
		a, err1 := shapesOf(job, opt)
		b, err2 := shapesOf(shuffled, opt)
		if err1 != nil || err2 != nil {
			return []string{fmt.Sprint("plan: ", err1, err2)}
		}
		if !slices.Equal(a, b) {
			for _, s := range a {
				if !slices.Contains(b, s) {
					return []string{fmt.Sprintf("order: %s view %q moved when the lights were listed in another order", s, opt.View)}
				}
			}
			return []string{"order: another order of the lights draws more"}
		}
	}
	return nil
}

// The order of the lights in the file moves nothing on the plan.
func TestOrderMovesNothing(t *testing.T) {
	words := wording(t)
	forRandom(t, howMany(200, 2000), 2, 6, func(seed int, r random) []string { return orderFaults(r, seed, words) })
}

func TestSamePagesTwice(t *testing.T) {
	words, papers := wording(t), layout.Papers()
	gen := setups(1, 12)
	for seed := range 20 {
		r := gen.Example(seed)
		one, err := r.job(words)
		require.NoError(t, err)
		two, err := r.job(words)
		require.NoError(t, err)
		a, err := pagesOf(one, papers[seed%len(papers)])
		require.NoError(t, err)
		b, err := pagesOf(two, papers[seed%len(papers)])
		require.NoError(t, err)
		for _, docs := range []map[string]*layout.Document{a, b} {
			for _, doc := range docs { // pointers to what the file gives back, not what is seen
				for i := range doc.Pages {
					doc.Pages[i].Sources = nil
				}
			}
		}
		require.Equal(t, a, b, "seed %d", seed)
	}
}
