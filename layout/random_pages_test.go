package layout_test

import (
	"fmt"
	"os"
	"regexp"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/require"

	"stopleaf/exposure/apex"
	"stopleaf/layout"
	"stopleaf/layout/text"
	"stopleaf/setup"
	"stopleaf/templates"
)

func wording(t testing.TB) templates.Words {
	t.Helper()
	w, err := templates.Load("en")
	require.NoError(t, err)
	return w
}

// howMany is how many random setups a test takes: few, so that the package is
// tested in well under a minute, or all that the project asks for.
func howMany(few, all int) int {
	if os.Getenv("STOPLEAF_LONG") == "1" || os.Getenv("STOPLEAF_CI") == "1" {
		return all
	}
	return few
}

// forRandom calls check for n random setups, the same ones each time, on all
// processors. The first that fails is made smaller and printed. STOPLEAF_SEED
// names the first one.
func forRandom(t *testing.T, n, least, most int, check func(seed int, r random) []string) {
	t.Helper()
	first := 0
	if s := os.Getenv("STOPLEAF_SEED"); s != "" {
		_, err := fmt.Sscan(s, &first)
		require.NoError(t, err)
	}
	gen := setups(least, most)
	var next, failed atomic.Int64
	next.Store(int64(first))
	var mu sync.Mutex
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for {
				seed := int(next.Add(1) - 1)
				if seed >= first+n || failed.Load() >= 5 {
					return
				}
				r := gen.Example(seed)
				faults := check(seed, r)
				if len(faults) == 0 {
					continue
				}
				failed.Add(1)
				small := r.smaller(func(x random) bool { return sameFault(check(seed, x), faults) })
				mu.Lock()
				t.Errorf("setup %d (STOPLEAF_SEED=%d):\n  %s\nmade smaller:\n  %s\n%s", seed, seed,
					strings.Join(faults[:min(len(faults), 6)], "\n  "), strings.Join(check(seed, small), "\n  "), small.YAML())
				mu.Unlock()
			}
		})
	}
	wg.Wait()
}

// sameFault says whether some fault is of the kind of the first one of before,
// so that making a setup smaller does not run into another fault.
func sameFault(now, before []string) bool {
	kind := func(s string) string {
		_, s, _ = strings.Cut(s, ": ")
		out, quote := []rune{}, false
		for _, r := range s {
			if r == '"' {
				quote = !quote
			}
			if !quote && (r < '0' || r > '9') {
				out = append(out, r)
			}
		}
		return string(out)
	}
	for _, f := range now {
		if kind(f) == kind(before[0]) {
			return true
		}
	}
	return false
}

// pagesOf makes everything that one setup is printed as on one paper.
func pagesOf(job layout.Job, paper string) (map[string]*layout.Document, error) {
	docs := map[string]*layout.Document{}
	card, err := layout.Card([]layout.Job{job}, layout.CardOptions{Paper: paper})
	if err != nil {
		return nil, err
	}
	docs["card "+paper] = card
	for _, view := range []string{"overhead", "side"} {
		plan, err := layout.Plan(job, layout.PlanOptions{View: view})
		if err != nil {
			return nil, fmt.Errorf("plan %s: %w", view, err)
		}
		docs["plan "+view] = plan
	}
	return docs, nil
}

// faultsOf says what a careful eye finds on all pages of a random setup.
func faultsOf(r random, paper string, words templates.Words) (faults []string) {
	defer func() {
		if p := recover(); p != nil {
			buf := make([]byte, 4096)
			faults = append(faults, fmt.Sprintf("panic: %v", p), string(buf[:runtime.Stack(buf, false)]))
		}
	}()
	job, err := r.job(words)
	if err != nil {
		return []string{"setup: not a setup: " + err.Error()}
	}
	docs, err := pagesOf(job, paper)
	if err != nil {
		return []string{"documents: " + err.Error()}
	}
	for _, name := range []string{"card " + paper, "plan overhead", "plan side"} {
		doc := docs[name]
		for i := range doc.Pages {
			for _, f := range layout.Check(&doc.Pages[i]) {
				faults = append(faults, fmt.Sprintf("%s, page %d: %s", name, i+1, f))
			}
		}
	}
	for _, f := range lost(job, docs["card "+paper]) {
		faults = append(faults, "card "+paper+": "+f)
	}
	return faults
}

// squeezed takes out all that line breaks may change.
func squeezed(s string) string {
	s, _ = text.Clean(s)
	return strings.Map(func(r rune) rune {
		if r == ' ' || r == '\n' || r == '\u00a0' || r == '\t' {
			return -1
		}
		return r
	}, s)
}

// textOf is all text of pages in reading order, without spaces.
func textOf(pages []layout.Page) string {
	var b strings.Builder
	for i := range pages {
		layout.Walk(pages[i].Items, func(it layout.Item) {
			if t, ok := it.(*layout.Text); ok {
				b.WriteString(squeezed(t.S))
			}
		})
	}
	return b.String()
}

// textBy gathers the text of each item that pages tell of, without spaces.
func textBy(pages []layout.Page) map[string]string {
	out := map[string]string{}
	for i := range pages {
		layout.Walk(pages[i].Items, func(it layout.Item) {
			if t, ok := it.(*layout.Text); ok {
				out[t.Of] += squeezed(t.S)
			}
		})
	}
	return out
}

// lost says what of a setup a card does not say: a light's number, name or
// target, a caution on the first side, a word of a note.
func lost(job layout.Job, card *layout.Document) []string {
	var out []string
	want := func(in, what, where string) {
		if !strings.Contains(in, squeezed(what)) {
			out = append(out, fmt.Sprintf("lost %q of %s", what, where))
		}
	}
	all, of, first := textOf(card.Pages), textBy(card.Pages), textOf(card.Pages[:1])
	if r := job.Setup.Room; r != nil {
		for _, m := range []*float64{r.Left, r.Right, r.Front, r.Behind, r.Ceiling} {
			if m != nil {
				want(all, setup.FormatLength(*m, job.Setup.Units), "the room")
			}
		}
	}
	want(all, job.Setup.Title, "the title")
	want(all, job.Setup.Code, "the code")
	if p := card.Pages[0]; p.W > layout.Mm(160) { // the smallest cards have no room for these in their title block
		want(all, job.Setup.By, "the title block")
		want(all, job.Setup.Made, "the title block")
	}
	for i, l := range job.Setup.Lights {
		where := fmt.Sprintf("light %d", l.Number)
		want(of[where], fmt.Sprint(l.Number), where)
		want(of[where], l.Name, where)
		for _, t := range job.Numbers.Lights[i].Targets {
			want(of[where], job.Setup.Style().Reading(t.Av), where)
		}
		for _, s := range []string{l.Note, l.LookFor, l.Mark, l.Trigger, l.Circuit} {
			want(of["light"], s, "the notes of "+where)
		}
	}
	for _, g := range job.Setup.Grip {
		where := fmt.Sprintf("grip %d", g.Number)
		want(of[where], g.Name, where)
		want(of["grip"], g.Note, "the notes of "+where)
	}
	for _, b := range job.Numbers.Bases {
		want(all, job.Setup.Style().Base(b.Av), "the bases")
	}
	for _, n := range job.Safety {
		if strings.Contains(first, squeezed(n.Text)) || n.Short != "" && strings.Contains(first, squeezed(n.Short)) {
			continue
		}
		out = append(out, fmt.Sprintf("lost caution %s on the first side", n.Code))
	}
	want(of["notes"], job.Setup.Notes, "the notes")
	want(of["camera"], job.Setup.Camera.Note, "the camera")
	for _, p := range job.Setup.Photos {
		want(all, p.Caption, "the photo")
	}
	return out
}

// Random setups never give a page with an overlap, ink outside the margin or
// type under the smallest size, and a card loses nothing.
func TestRandomPages(t *testing.T) {
	words, papers := wording(t), layout.Papers()
	forRandom(t, howMany(500, 2000), 1, 20, func(seed int, r random) []string {
		return faultsOf(r, papers[seed%len(papers)], words)
	})
}

// However the house prints readings, a page is as good, and has one notation.
func TestRandomPagesInEveryNotation(t *testing.T) {
	words, papers := wording(t), layout.Papers()
	styles := []apex.Style{apex.StyleThirds, apex.StyleDecimal}
	tenths := regexp.MustCompile(`f/[0-9.]+\+0\.[0-9]`)
	forRandom(t, howMany(40, 400), 1, 12, func(seed int, r random) []string {
		job, err := r.job(words)
		if err != nil {
			return []string{"setup: not a setup: " + err.Error()}
		}
		job.Setup.House = &setup.House{PrintedReadings: styles[seed%2]}
		card, err := layout.Card([]layout.Job{job}, layout.CardOptions{Paper: papers[seed%len(papers)], Rulers: true})
		if err != nil {
			return []string{"documents: " + err.Error()}
		}
		faults := lost(job, card)
		for i := range card.Pages {
			faults = append(faults, layout.Check(&card.Pages[i])...)
		}
		if found := tenths.FindString(textOf(card.Pages)); found != "" {
			faults = append(faults, "in tenths: "+found)
		}
		return faults
	})
}

// As many lights as a file may hold.
func TestRandomPagesOfManyLights(t *testing.T) {
	words, papers := wording(t), layout.Papers()
	forRandom(t, howMany(len(papers), 140), 21, 64, func(seed int, r random) []string {
		return faultsOf(r, papers[seed%len(papers)], words)
	})
}
