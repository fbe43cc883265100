package layout_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing/qrcode/decoder"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/layout"
	"stopleaf/recovery"
	"stopleaf/setup"
)

// codesOf are the texts of the codes on a page, as the library gozxing, a translation of
// ZXing, reads their modules.
func codesOf(p *layout.Page) (texts []string, err error) {
	layout.Walk(p.Items, func(it layout.Item) {
		c, ok := it.(*layout.Code)
		if !ok || err != nil {
			return
		}
		modules := make([][]bool, c.Modules.Size)
		for y := range modules {
			for x := range c.Modules.Size {
				modules[y] = append(modules[y], c.Modules.Dark(x, y))
			}
		}
		got, e := decoder.NewDecoder().DecodeBoolMapWithoutHint(modules)
		if e != nil {
			err = e
			return
		}
		texts = append(texts, got.GetText())
		if side := layout.Um(c.Modules.Size+8) * 400; c.W != side || c.H != side {
			err = fmt.Errorf("a code of %d modules is %d x %d um", c.Modules.Size, c.W, c.H)
		}
	})
	return texts, err
}

// codeFaults says what is wrong with the codes of a document: each of its pages that
// wants says to bear them, and no other, gives the setup back.
func codeFaults(doc *layout.Document, want []byte, wants func(i int, p *layout.Page) bool) (faults []string) {
	say := func(format string, a ...any) { faults = append(faults, fmt.Sprintf(format, a...)) }
	for i := range doc.Pages {
		p := &doc.Pages[i]
		texts, err := codesOf(p)
		switch {
		case err != nil:
			say("page %s: %v", p.Label, err)
		case len(texts) == 0 && wants(i, p):
			say("page %s has no code", p.Label)
		case len(texts) > 0 && !wants(i, p):
			say("page %s has a code", p.Label)
		case len(texts) > 0:
			found, errs := recovery.Read(texts)
			if len(found) != 1 || len(errs) > 0 || !bytes.Equal(found[0].File, want) {
				say("page %s gives %d setups back, errors %v", p.Label, len(found), errs)
			}
		}
	}
	return faults
}

func every(int, *layout.Page) bool { return true }

// secondOf says which pages are the second side of a card.
func secondOf(i int, p *layout.Page) bool { return strings.HasSuffix(p.Label, "/2") }

func secondOfStand(i int, p *layout.Page) bool { return strings.HasSuffix(p.Label, "-2") }

func TestCodesOfTheDemos(t *testing.T) {
	for name, job := range demos(t) {
		canonical := job.Setup.Canonical(setup.Nothing)
		jobs := []layout.Job{job}
		sheet, err := layout.Sheet(jobs, layout.SheetOptions{})
		require.NoError(t, err)
		assert.Empty(t, codeFaults(sheet, canonical, every), name)
		for _, paper := range layout.Papers() {
			card, err := layout.Card(jobs, layout.CardOptions{Paper: paper})
			require.NoError(t, err)
			assert.Empty(t, codeFaults(card, canonical, secondOf), "%s on %s", name, paper)
		}
		card, err := layout.Card(jobs, layout.CardOptions{Codes: true})
		require.NoError(t, err)
		assert.Empty(t, codeFaults(card, canonical, func(i int, _ *layout.Page) bool { return i == 0 }), name)
		stands, err := layout.Stands(jobs, layout.StandsOptions{})
		require.NoError(t, err)
		assert.Empty(t, codeFaults(stands, job.Setup.Canonical(setup.Notes), secondOfStand), name)
		layout.Walk(sheet.Pages[0].Items, func(it layout.Item) {
			if c, ok := it.(*layout.Code); ok {
				assert.LessOrEqual(t, c.W, layout.Mm(45), name)
			}
		})
		job.Source = nil
		card, err = layout.Card([]layout.Job{job}, layout.CardOptions{})
		require.NoError(t, err)
		assert.Empty(t, codeFaults(card, nil, func(int, *layout.Page) bool { return false }), name)
	}
}

// A card of one side has a back that bears the code, but not where it goes to pictures.
func TestBackForTheCode(t *testing.T) {
	_, problems := setup.Parse("a.yaml", []byte(twoLights), setup.Options{})
	require.False(t, problems.HasErrors(), problems)
	s, _ := setup.Parse("a.yaml", []byte(twoLights), setup.Options{})
	job, err := jobOf(s, wording(t))
	require.NoError(t, err)
	for want, opt := range map[int]layout.CardOptions{2: {}, 1: {NoBack: true}} {
		doc, err := layout.Card([]layout.Job{job}, opt)
		require.NoError(t, err)
		assert.Len(t, doc.Pages, want)
	}
	doc, err := layout.Card([]layout.Job{job}, layout.CardOptions{Codes: true})
	require.NoError(t, err)
	assert.Empty(t, codeFaults(doc, s.Canonical(setup.Nothing), func(i int, _ *layout.Page) bool { return i == 0 }))
}

const twoLights = "title: Two lights\nlights:\n  - {name: Key, role: key}\n  - {name: Fill, role: fill, delta: 1.6 under}\n"

// Random setups: each sheet's side gives the setup back, each card and each stand card
// on exactly one side. A set whose codes would take too much of every side of a sheet
// has them on one.
func TestCodesOfRandomSetups(t *testing.T) {
	words := wording(t)
	papers := layout.Papers()
	forRandom(t, howMany(60, 2000), 1, 12, func(seed int, r random) (faults []string) {
		job, err := r.job(words)
		if err != nil {
			return []string{err.Error()}
		}
		canonical := job.Setup.Canonical(setup.Nothing)
		sheet, err := layout.Sheet([]layout.Job{job}, layout.SheetOptions{})
		if err != nil {
			return []string{err.Error()}
		}
		// a first side may be full of what never leaves it
		if n := bearing(sheet.Pages); n != len(sheet.Pages) && n != 1 && (n != len(sheet.Pages)-1 || bears(0, &sheet.Pages[0])) {
			faults = append(faults, fmt.Sprintf("%d of %d sides of a sheet bear codes", n, len(sheet.Pages)))
		}
		faults = append(faults, codeFaults(sheet, canonical, bears)...)
		card, err := layout.Card([]layout.Job{job}, layout.CardOptions{Paper: papers[seed%len(papers)]})
		if err != nil {
			return []string{err.Error()}
		}
		return append(faults, onOneSide(card, canonical, papers[seed%len(papers)])...)
	})
}

// onOneSide says what is wrong with the codes of a card: they stand on one side that is
// not the first, or on several at its end where four or more are needed.
func onOneSide(card *layout.Document, want []byte, paper string) (faults []string) {
	n := bearing(card.Pages)
	var texts []string
	for i := range card.Pages {
		more, err := codesOf(&card.Pages[i])
		if err != nil {
			faults = append(faults, err.Error())
		}
		texts = append(texts, more...)
	}
	if n != 1 && (len(texts) < 4 || !bears(0, &card.Pages[len(card.Pages)-n])) || bears(0, &card.Pages[0]) {
		faults = append(faults, fmt.Sprintf("%d codes on %d sides of a card on %s", len(texts), n, paper))
	}
	if found, errs := recovery.Read(texts); len(found) != 1 || len(errs) > 0 || !bytes.Equal(found[0].File, want) {
		faults = append(faults, fmt.Sprintf("a card gives %d setups back, errors %v", len(found), errs))
	}
	return faults
}

func bears(_ int, p *layout.Page) (found bool) {
	layout.Walk(p.Items, func(it layout.Item) {
		if _, ok := it.(*layout.Code); ok {
			found = true
		}
	})
	return found
}

func bearing(pages []layout.Page) (n int) {
	for i := range pages {
		if bears(i, &pages[i]) {
			n++
		}
	}
	return n
}
