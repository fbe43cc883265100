package layout_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/layout"
	"stopleaf/templates"
)

// binderOf makes a binder of random setups, R-1, R-2 ...; every seventh is broken.
func binderOf(t *testing.T, n, seed int, words templates.Words) *layout.Binder {
	t.Helper()
	gen := setups(1, 12)
	jobs := map[string]layout.Job{}
	b := &layout.Binder{Title: "Halvard Studio, portraits and tables of many years", Owner: "Halvard Studio", Words: words, Laid: func(*layout.BinderSetup, layout.Job) {}}
	b.Open = func(s *layout.BinderSetup) (layout.Job, []string, error) {
		if s.Faults != nil {
			return layout.Job{}, s.Faults, nil
		}
		return jobs[s.Code], nil, nil
	}
	sections := make([]layout.BinderSection, 2)
	sections[1].Title = "Others"
	for i := range n {
		job, err := gen.Example(seed + i).job(words)
		require.NoError(t, err)
		code := fmt.Sprintf("R-%d", i+1)
		job.Setup.Code = code
		jobs[code] = job
		s := &layout.BinderSetup{Path: "sets/" + code + ".yaml", Code: code, Title: job.Setup.Title, Setup: job.Setup, Ratio: job.Numbers.Ratios.KeyToFill}
		if i%7 == 6 {
			s.Setup, s.Faults = nil, []string{"sets/" + code + ".yaml:3:5: unknown key \"rloe\"", "sets/" + code + ".yaml:9:1: a light without a name"}
		}
		sections[i*2/n].Setups = append(sections[i*2/n].Setups, s)
	}
	b.Sections = sections
	require.NoError(t, b.Prepare())
	return b
}

func binderPages(t *testing.T, b *layout.Binder) (pages []layout.Page, starts []int) {
	t.Helper()
	for i := range b.Pieces() {
		made, err := b.Piece(i)
		require.NoError(t, err)
		starts = append(starts, len(pages))
		pages = append(pages, made...)
	}
	return pages, starts
}

// Every page of a binder of random setups is whole, keeps the holes clear and is
// reached by what leads to it.
func TestBinderOfRandomSetups(t *testing.T) {
	langs := templates.Languages()
	for i, c := range []struct {
		paper, holes, as string
		duplex           bool
	}{
		{"a4", "", "sheet", true}, {"letter", "", "sheet", true}, {"a4", "4", "card", false}, {"letter", "3", "card", true}, {"a4", "none", "sheet", false},
	} {
		t.Run(fmt.Sprintf("%s %s %s %t", c.paper, c.holes, c.as, c.duplex), func(t *testing.T) {
			words, err := templates.Load(langs[i%len(langs)])
			require.NoError(t, err)
			b := binderOf(t, 8, i*50, words)
			b = rebuilt(t, b, c.paper, c.holes, c.as, c.duplex)
			pages, starts := binderPages(t, b)
			checkBinder(t, b, pages, starts)
		})
	}
	if howMany(0, 1) == 0 {
		return
	}
	words, err := templates.Load("en")
	require.NoError(t, err)
	b := rebuilt(t, binderOf(t, 200, 0, words), "a4", "2", "sheet", true)
	pages, starts := binderPages(t, b)
	checkBinder(t, b, pages, starts)
}

// rebuilt is a binder in another form.
func rebuilt(t *testing.T, b *layout.Binder, paper, holes, as string, duplex bool) *layout.Binder {
	t.Helper()
	n := &layout.Binder{Title: b.Title, Owner: b.Owner, Words: b.Words, Sections: b.Sections, Open: b.Open, Laid: b.Laid, Paper: paper, Holes: holes, As: as, Duplex: duplex}
	require.NoError(t, n.Prepare())
	return n
}

func checkBinder(t *testing.T, b *layout.Binder, pages []layout.Page, starts []int) {
	t.Helper()
	names := map[string]int{}
	for i := range pages {
		p := &pages[i]
		if faults := layout.Check(p); len(faults) > 0 {
			t.Errorf("page %s: %q", p.Label, faults[:min(len(faults), 4)])
		}
		assert.NotContains(t, names, p.Label, "a label stands once")
		for _, n := range append([]string{p.Label}, p.Names...) {
			if _, there := names[n]; !there {
				names[n] = i
			}
		}
		if b.Holes != "none" {
			assert.Empty(t, inGutter(p, b.Duplex && (i-lastBefore(starts, i))%2 == 1), "page %s", p.Label)
		}
	}
	if b.Duplex {
		for _, s := range starts {
			assert.Zero(t, s%2, "each piece begins on a right-hand page")
		}
	}
	linked := map[string]bool{}
	for i := range pages {
		layout.Walk(pages[i].Items, func(it layout.Item) {
			if l, ok := it.(*layout.Link); ok {
				assert.Contains(t, names, l.To, "page %s", pages[i].Label)
				linked[l.To] = true
			}
		})
	}
	for _, s := range b.Sections {
		for _, setup := range s.Setups {
			assert.True(t, linked[setup.Code+"/1"], "%s is in the contents", setup.Code)
			assert.True(t, linked["contents of "+setup.Code], "%s leads back", setup.Code)
		}
	}
}

// A setup put in the middle of a section changes no page of another, whatever the
// form: labels and fingerprints stay, and so does what is told of each page.
func TestANewSetupMovesNoOther(t *testing.T) {
	for _, c := range []struct {
		as     string
		duplex bool
	}{{"sheet", false}, {"sheet", true}, {"card", false}, {"card", true}} {
		t.Run(fmt.Sprintf("%s %t", c.as, c.duplex), func(t *testing.T) {
			all := binderOf(t, howMany(9, 60), 300, wording(t))
			b := rebuilt(t, all, "a4", "2", c.as, c.duplex)
			after, _ := binderPages(t, b)
			first := slices.Clone(all.Sections)
			added := first[0].Setups[1].Code
			first[0].Setups = slices.Delete(slices.Clone(first[0].Setups), 1, 2)
			all.Sections = first
			before, _ := binderPages(t, rebuilt(t, all, "a4", "2", c.as, c.duplex))
			is := map[string]layout.Page{}
			for _, p := range after {
				is[p.Label] = p
			}
			for _, p := range before {
				if code, _, _ := strings.Cut(p.Label, "/"); strings.HasPrefix(code, "R-") {
					assert.Equal(t, p.Fingerprint, is[p.Label].Fingerprint, p.Label)
					assert.Equal(t, p.Desc, is[p.Label].Desc, p.Label)
					assert.NotEqual(t, added, code)
				}
			}
		})
	}
}

// A page of cards holds two sides of one setup's card; its last may hold one.
func TestBinderOfCardsHasTwoSidesToAPage(t *testing.T) {
	b := rebuilt(t, binderOf(t, 12, 80, wording(t)), "letter", "3", "card", false)
	pages, _ := binderPages(t, b)
	sides, in := map[string][]int{}, map[string]int{}
	for _, p := range pages {
		code, _, _ := strings.Cut(p.Label, "/")
		if strings.HasPrefix(code, "R-") {
			n := 0
			layout.Walk(p.Items, func(it layout.Item) {
				if path, ok := it.(*layout.Path); ok && path.Kind == "frame" {
					n++
				}
			})
			sides[code] = append(sides[code], n)
			in[code] += n
		}
	}
	for _, sec := range b.Sections {
		for _, s := range sec.Setups {
			if s.Setup == nil {
				continue
			}
			require.NotEmpty(t, sides[s.Code])
			for i, n := range sides[s.Code] {
				assert.Equal(t, min(2, in[s.Code]-2*i), n, "%s/%d", s.Code, i+1)
			}
		}
	}
}

func lastBefore(starts []int, i int) int {
	at, _ := slices.BinarySearch(starts, i+1)
	return starts[at-1]
}

// clear is where holes may lie, from the edge: their centre at 12 mm, a
// millimetre off, with a radius of 3.25 mm (ISO 838: 12 ± 1 mm, 6 ± 0.5 mm).
const clear = layout.Um(16250)

// inGutter finds ink where holes are punched: at the left edge, or at the right one
// of the back of a leaf.
func inGutter(p *layout.Page, back bool) (found []string) {
	see := func(what string, left, right layout.Um) {
		if back {
			left, right = p.W-right, p.W-left
		}
		if left < clear && right > 0 {
			found = append(found, fmt.Sprintf("%s at %.2f mm", what, left.Mm()))
		}
	}
	layout.Walk(p.Items, func(it layout.Item) {
		switch v := it.(type) {
		case *layout.Path:
			for _, s := range v.Segs {
				n := map[layout.SegKind]int{layout.MoveTo: 1, layout.LineTo: 1, layout.CubicTo: 3}[s.Kind]
				for _, pt := range s.P[:n] {
					see(v.Kind, pt.X-v.Stroke.Width/2, pt.X+v.Stroke.Width/2)
				}
			}
		case *layout.Text:
			w := v.W
			if v.Turn == 90 {
				see(v.S, v.X-v.Cap*3/2, v.X+v.Cap/2)
				return
			}
			see(v.S, v.X, v.X+w)
		case *layout.Image:
			see(v.Alt, v.X, v.X+v.W)
		}
	})
	return found
}

// Marks stand at the height of the holes: 80 mm apart by ISO 838, 4 1/4 in as
// punches for US Letter have them, about the middle of the sheet.
func TestBinderMarksItsHoles(t *testing.T) {
	for _, c := range []struct {
		paper, holes string
		want         []float64
	}{
		{"a4", "2", []float64{108.5, 188.5}}, {"a4", "4", []float64{28.5, 108.5, 188.5, 268.5}}, {"letter", "3", []float64{31.75, 139.7, 247.65}}, {"a4", "none", nil},
	} {
		b := rebuilt(t, binderOf(t, 1, 0, wording(t)), c.paper, c.holes, "sheet", true)
		pages, err := b.Piece(1)
		require.NoError(t, err)
		for _, p := range pages {
			var got []float64
			layout.Walk(p.Items, func(it layout.Item) {
				if path, ok := it.(*layout.Path); ok && path.Kind == "hole" && len(path.Segs) == 2 {
					got = append(got, path.Segs[0].P[0].Y.Mm())
				}
			})
			assert.Equal(t, c.want, got, "%s, %s", c.paper, c.holes)
		}
	}
}
