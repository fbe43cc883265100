package layout_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/layout"
	"stopleaf/setup"
)

func blankFaults(doc *layout.Document, name string) (faults []string) {
	for i := range doc.Pages {
		for _, f := range layout.Check(&doc.Pages[i]) {
			faults = append(faults, fmt.Sprintf("%s, page %d: %s", name, i+1, f))
		}
	}
	return faults
}

// spaces counts the ruled spaces of the rows of lights, by item, and gives the
// least height from one rule to the next in a column.
func spaces(doc *layout.Document) (n map[string]int, least layout.Um) {
	n, least = map[string]int{}, layout.Mm(1000)
	for i := range doc.Pages {
		last := map[layout.Um]layout.Um{}
		layout.Walk(doc.Pages[i].Items, func(it layout.Item) {
			p, ok := it.(*layout.Path)
			if !ok || p.Kind != "blank" || p.Of == "" {
				return
			}
			n[p.Of]++
			at := p.Segs[0].P[0]
			if above, ok := last[at.X]; ok {
				least = min(least, at.Y-above)
			}
			last[at.X] = at.Y
		})
	}
	return n, least
}

// An empty form is one leaf of two sides on every paper, with eight rows far
// enough apart for a pen.
func TestBlankEmpty(t *testing.T) {
	for _, paper := range layout.BlankPapers() {
		doc, err := layout.Blank(nil, wording(t), layout.BlankOptions{Paper: paper})
		require.NoError(t, err)
		assert.Len(t, doc.Pages, 2, paper)
		assert.Empty(t, blankFaults(doc, paper))
		n, least := spaces(doc)
		assert.Len(t, n, 8, paper)
		for of, k := range n {
			assert.Equal(t, 10, k, "%s %s", paper, of)
		}
		assert.GreaterOrEqual(t, least, layout.Mm(7), paper)
	}
	for _, u := range []setup.Units{setup.Metres, setup.Centimetres, setup.Feet, setup.Inches} {
		doc, err := layout.Blank(nil, wording(t), layout.BlankOptions{Units: u})
		require.NoError(t, err)
		assert.Empty(t, blankFaults(doc, string(u)))
	}
	_, err := layout.Blank(nil, wording(t), layout.BlankOptions{Paper: "4x6"})
	assert.ErrorContains(t, err, `paper "4x6" is not known; there are a5, a4, letter, half-letter`)
}

// The plan's dots stand on the scale's grid about the subject mark, to the
// micrometre: half a metre at 1:100 is 5 mm.
func TestBlankDots(t *testing.T) {
	doc, err := layout.Blank(nil, wording(t), layout.BlankOptions{})
	require.NoError(t, err)
	page := &doc.Pages[0]
	require.Equal(t, 100, page.ScaleDenominator)
	var mark layout.Point
	var dots []layout.Point
	layout.Walk(page.Items, func(it layout.Item) {
		p, ok := it.(*layout.Path)
		switch {
		case ok && p.Kind == "mark" && p.Segs[0].P[0].Y == p.Segs[1].P[0].Y:
			a, b := p.Segs[0].P[0], p.Segs[1].P[0]
			mark = layout.Point{X: (a.X + b.X) / 2, Y: a.Y}
		case ok && p.Kind == "dot":
			for i := 0; i < len(p.Segs); i += 2 {
				dots = append(dots, p.Segs[i].P[0])
			}
		}
	})
	require.Greater(t, len(dots), 60)
	for _, d := range dots {
		assert.Zero(t, (d.X-mark.X)%5000, "%v", d)
		assert.Zero(t, (d.Y-mark.Y)%5000, "%v", d)
	}
}

// A form of any setup names every light and grip item with its modifier, in the
// file's order, and leaves what is measured to the hand.
func TestBlankRandom(t *testing.T) {
	words := wording(t)
	papers := layout.BlankPapers()
	forRandom(t, howMany(100, 1000), 1, 20, func(seed int, r random) (faults []string) {
		job, err := r.job(words)
		if err != nil {
			return []string{"setup: not a setup: " + err.Error()}
		}
		paper := papers[seed%len(papers)]
		doc, err := layout.Blank(&job, words, layout.BlankOptions{Paper: paper})
		if err != nil {
			return []string{"blank: " + err.Error()}
		}
		faults = blankFaults(doc, paper)
		said := map[string]string{}
		var order []string
		for i := range doc.Pages {
			layout.Walk(doc.Pages[i].Items, func(it layout.Item) {
				if x, ok := it.(*layout.Text); ok && x.Of != "" {
					if _, seen := said[x.Of]; !seen {
						order = append(order, x.Of)
					}
					said[x.Of] += x.S
				}
			})
		}
		delete(said, "plan")
		want := []string{}
		need := func(of string, texts ...string) {
			want = append(want, of)
			for _, s := range texts {
				if !strings.Contains(squeezed(said[of]), squeezed(s)) {
					faults = append(faults, fmt.Sprintf("%s: lost %q of %s", paper, s, of))
				}
			}
		}
		for i := range job.Setup.Lights {
			l := &job.Setup.Lights[i]
			need(fmt.Sprintf("light %d", l.Number), l.Name)
			if l.Modifier != nil {
				if s := said[fmt.Sprintf("light %d", l.Number)]; !strings.Contains(squeezed(s), squeezed(l.Modifier.Text)) {
					faults = append(faults, fmt.Sprintf("%s: lost %q", paper, l.Modifier.Text))
				}
			}
		}
		for i := range job.Setup.Grip {
			g := &job.Setup.Grip[i]
			need(fmt.Sprintf("grip %d", g.Number), g.Name)
		}
		for i, of := range order[1:] {
			if order[0] != "plan" || i < len(want) && want[i] != of {
				faults = append(faults, fmt.Sprintf("%s: order is %v", paper, order))
				break
			}
		}
		if _, least := spaces(doc); least < layout.Mm(7) {
			faults = append(faults, fmt.Sprintf("%s: rules %.1f mm apart", paper, least.Mm()))
		}
		return faults
	})
}

// What is printed beside the spaces are the keys of the file: a form that is
// typed in caption by caption is a setup without a single problem.
func TestBlankIsTypedInByCopying(t *testing.T) {
	words := wording(t)
	var b strings.Builder
	key := func(name string) string {
		k, _, _ := strings.Cut(words.T("blank."+name), " (")
		return k
	}
	section := func(name, indent string, pairs ...string) {
		if name != "" {
			fmt.Fprintf(&b, "%s%s:\n", indent, key(name))
			indent += "  "
		}
		for i := 0; i < len(pairs); i += 2 {
			fmt.Fprintf(&b, "%s%s: %s\n", indent, key(pairs[i]), pairs[i+1])
		}
	}
	section("", "", "title", "Bread", "code", "B-1", "made", "2026-03-14", "by", "Halvard Studio", "units", "m", "notes", "no flour on the floor")
	section("exposure", "", "iso", "200", "shutter", "1/125", "sync", "1/200", "key", "f/8 +0.4", "aperture", "f/9", "ambient", "{"+key("reading")+": f/1.4}")
	section("camera", "", "lens", "85 mm", "distance", "3.2", "height", "1.4", "frame", key("upright"))
	section("background", "", "kind", "canvas", "distance", "2.4")
	section("subject", "", "face", "1.55", "turned", "20 left")
	section("room", "", "room-left", "2.2", "room-right", "2.8", "room-front", "4.6", "room-behind", "3.1", "room-ceiling", "2.9")
	two := func(name string) []string { return strings.Split(words.T("blank."+name), ", ") }
	lower, _, _ := strings.Cut(words.T("blank.col-height-2"), " □")
	or := func(name string) string { return strings.TrimPrefix(words.T("blank."+name), "or ") }
	named, meter := two("col-light-2"), two("col-meter-2")
	meterKey, at, _ := strings.Cut(words.T("blank.col-meter"), " ")
	fmt.Fprintf(&b, "lights:\n  - %s: Key\n    %s: key\n    %s: octabox 1.2\n    place: {%s: 55 left, %s: 1.4, %s: 2.15}\n", named[0], named[1],
		words.T("blank.col-modifier"), words.T("blank.col-angle"), words.T("blank.col-distance"), words.T("blank.col-height"))
	fmt.Fprintf(&b, "    %s: f/8 +0.4\n    %s: 1/4\n    %s: {%s: face, %s: out, %s: light}\n    %s: the catch-light\n", words.T("blank.col-reading"),
		words.T("blank.col-power"), meterKey, at, meter[0], meter[1], words.T("blank.col-look"))
	fmt.Fprintf(&b, "  - name: Fill\n    role: fill\n    %s: 1.6 under\n    place: {%s: 0.9, %s: 0.3, %s: 1.3, height to: %s}\n    modifier: softbox 0.6 x 0.9\n", or("col-reading-2"),
		two("col-angle-2")[1], two("col-distance-2")[0], words.T("blank.col-height"), lower)
	s, problems := setup.Parse("form.yaml", []byte(b.String()), setup.Options{})
	require.NotNil(t, s, "%v\n%s", problems, b.String())
	assert.Empty(t, problems, b.String())
	assert.InDelta(t, 0.9, s.Lights[1].Place.Right, 1e-9)
	assert.InDelta(t, 1.3, *s.Lights[1].Place.Lower, 1e-9)
	assert.InDelta(t, 6.4, *s.Exposure.KeyAv, 1e-9)
}

// What fits no side is an error that says so; what fits the next one goes there.
func TestBlankTooLong(t *testing.T) {
	words := wording(t)
	job := func(title, modifier string) *layout.Job {
		j := fileJob(t, "title: "+title+"\nlights:\n  - {name: Key, role: key, modifier: {kind: softbox}}\n")
		j.Setup.Lights[0].Modifier.Text = modifier
		return &j
	}
	many := func(n int) string { return strings.TrimSpace(strings.Repeat("flour ", n)) }
	doc, err := layout.Blank(job("Bread", many(90)), words, layout.BlankOptions{})
	require.NoError(t, err)
	assert.Len(t, doc.Pages, 3)
	assert.Empty(t, blankFaults(doc, "high row"))
	_, err = layout.Blank(job("Bread", many(500)), words, layout.BlankOptions{})
	assert.EqualError(t, err, `the row of "Key" is too long for a form of 210 x 148 mm; take a larger paper, or shorten it`)
	_, err = layout.Blank(job(many(600), "softbox"), words, layout.BlankOptions{})
	assert.EqualError(t, err, "what is filled in is too long for a form of 210 x 148 mm; take a larger paper, or shorten it")
}

// The display lists of a form without a setup and of one with it.
func TestBlankGolden(t *testing.T) {
	bread := goldenJobs(t)["bread"]
	for name, job := range map[string]*layout.Job{"empty": nil, "bread": &bread} {
		doc, err := layout.Blank(job, wording(t), layout.BlankOptions{})
		require.NoError(t, err)
		assert.Empty(t, blankFaults(doc, name))
		golden(t, name+"-blank-a5", doc)
	}
}
