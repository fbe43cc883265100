package layout

import (
	"cmp"
	"fmt"
	"math"
	"strconv"
	"sync"

	"stopleaf/exposure"
	"stopleaf/safety"
	"stopleaf/setup"
)

// StandsOptions says how stand cards are made.
type StandsOptions struct {
	Paper string // one of StandPapers; "" is "a6"
	// Base is today's base as on a command line: "f/8", or "f/8,f/11", whose
	// rest then stands small beside it in place of the file's bases. "" is what
	// the key was recorded to read, else the middle one of the bases.
	Base string
	// Duplex prints every second side on the back of the one before it, and a
	// code and a number on the backs that would be empty.
	Duplex bool
	Format *Format // a page format of one's own, in place of a paper
	NoBack bool    // as of CardOptions
}

// StandPapers lists the papers of the stand cards: single cards, then sheets
// that are cut into several.
func StandPapers() []string { return []string{"a6", "a5", "4x6", "a4", "letter"} }

// Stands lays out one card for each light and each grip item of each setup, to
// tape to its stand. What does not fit on a card goes to a further side.
func Stands(jobs []Job, opt StandsOptions) (*Document, error) {
	if opt.Paper == "" {
		opt.Paper = "a6"
	}
	if !holds(StandPapers(), opt.Paper) {
		return nil, unknownPaper(opt.Paper, StandPapers())
	}
	f, err := formatOf("stands", opt.Paper, opt.Format)
	if err != nil {
		return nil, err
	}
	doc := &Document{}
	var cards []cutCard
	for i, job := range jobs {
		job, err := atToday(job, opt.Base)
		if err != nil {
			return nil, err
		}
		on := backSide
		if opt.NoBack {
			on = backIfAny
		}
		sides, err := standSides(job, f, on)
		if err != nil {
			return nil, err
		}
		made, err := cutCards(job, f, sides, opt.Duplex)
		if err != nil {
			return nil, err
		}
		said := about(job, len(jobs))
		for _, c := range made {
			for _, p := range []*Page{c.front, c.back} {
				if p != nil {
					p.About = said
					p.addSources(job.Source)
				}
			}
		}
		cards = append(cards, made...)
		doc.describe(i, job, "stands.desc")
	}
	doc.Pages = imposed(cards, f, opt.Duplex)
	fitPhotos(doc.Pages)
	return doc, nil
}

// atToday works the numbers out again with today's base as the first, the other
// ones after it.
func atToday(job Job, text string) (Job, error) {
	var today exposure.Base
	others, err := job.Setup.ChooseBases("")
	if err != nil {
		return job, err
	}
	e := job.Numbers.Exposure
	switch {
	case text != "":
		given, err := job.Setup.ChooseBases(text)
		if err != nil {
			return job, fmt.Errorf("base %q: %w", text, err)
		}
		today = given[0]
		if len(given) > 1 {
			others = given[1:]
		}
	case e.KeyAv != nil:
		today = exposure.Base{Mark: job.reading(*e.KeyAv), Av: *e.KeyAv}
	default:
		today = others[len(others)/2]
	}
	bases := []exposure.Base{today}
	for _, b := range others {
		if math.Abs(b.Av-today.Av) > 0.005 {
			bases = append(bases, b)
		}
	}
	n := exposure.Compute(job.Setup.Input(bases))
	job.Numbers = &n
	return job, nil
}

// standItem is what one card is about: a light, by its place in the list, or a
// grip item.
type standItem struct {
	index  int // in Setup.Lights, or -1
	grip   *setup.Grip
	light  *setup.Light
	number int
	name   string
	of     string // "light 3"
}

// said is an item by number and name: "3 Hair".
func (it standItem) said() string { return strconv.Itoa(it.number) + " " + it.name }

func standItems(s *setup.Setup) []standItem {
	var out []standItem
	for i := range s.Lights {
		l := &s.Lights[i]
		out = append(out, standItem{index: i, light: l, number: l.Number, name: l.Name, of: fmt.Sprintf("light %d", l.Number)})
	}
	for i := range s.Grip {
		g := &s.Grip[i]
		out = append(out, standItem{index: -1, grip: g, number: g.Number, name: g.Name, of: fmt.Sprintf("grip %d", g.Number)})
	}
	return out
}

func (it standItem) place() *setup.Place {
	if it.light != nil {
		return it.light.Place
	}
	return it.grip.Place
}

// standCard is the sides of one item's card.
type standCard struct {
	item  standItem
	sides []Page
}

// standSides fits and draws the cards of one setup.
func standSides(job Job, f *format, on bearer) ([]standCard, error) {
	items := standItems(job.Setup)
	made := make([]*builder, len(items))
	fitted := make([][]side, len(items))
	total := 0
	for i, it := range items {
		own := job
		own.Safety = safety.Own(job.Setup, job.Numbers, job.Words, it.name)
		var err error
		if made[i], fitted[i], err = fittedStand(own, it, f, on); err != nil {
			return nil, err
		}
		total += len(fitted[i])
	}
	out := make([]standCard, len(items))
	errs := make([]error, len(items))
	var wg sync.WaitGroup
	before := 0
	for i, it := range items {
		b, at := made[i], before
		before += len(fitted[i])
		wg.Go(func() {
			b.before, b.total = at, total
			pages, err := b.drawn(fitted[i])
			errs[i] = err
			for k := range pages {
				p := &pages[k]
				p.Label = job.Setup.Code + "/" + strconv.Itoa(it.number)
				if k > 0 {
					p.Label += "-" + strconv.Itoa(k+1)
				}
				p.Title = it.said()
				p.Desc = job.Words.T("stands.page-desc", "number", strconv.Itoa(it.number), "name", it.name, "title", job.Setup.Title,
					"n", strconv.Itoa(k+1), "m", strconv.Itoa(len(pages)))
			}
			out[i] = standCard{it, pages}
		})
	}
	wg.Wait()
	return out, cmp.Or(errs...)
}

// fittedStand fits an item's card. On our own papers the figures of the other
// bases are large where that takes no further side.
func fittedStand(job Job, it standItem, f *format, on bearer) (*builder, []side, error) {
	b := standBuilder(job, it, f, Mm(f.Type.Text), on)
	sides, err := b.fitted()
	if err != nil || f.own || Mm(f.Type.Text) >= capLarge {
		return b, sides, err
	}
	if t := otherBases(job, it, capLarge); t.empty() || t.needs() > b.inner().W {
		return b, sides, nil
	}
	large := standBuilder(job, it, f, capLarge, on)
	if more, err := large.fitted(); err == nil && len(more) <= len(sides) {
		return large, more, nil
	}
	return b, sides, nil
}

// standBuilder builds an item's card with the other bases at a cap height.
func standBuilder(job Job, it standItem, f *format, bases Um, on bearer) *builder {
	b := &builder{job: job, f: f, made: map[string]box{}, codes: newCodes(job, f, setup.Notes), bearer: on}
	large := gripFormat(job, it, f, b.inner())
	b.own = func(n node) (block, error) { return standBlock(job, it, f, large, bases, n, b.whole()) }
	b.head = &standHead{job: job, item: it, further: true}
	b.of = it.said()
	return b
}

// standCautions is an item's own cautions, larger than other text.
func standCautions(job Job, f *format, n node) *paragraphs {
	large := *f
	large.Type.Text = capLarge.Mm()
	b := cautionsBlock(job.Safety, job, &large, n.Short, n.Run)
	b.title = ""
	return b
}

// gripFormat is the format with the text of a grip item's card as large as
// leaves room for all of it and a plan.
func gripFormat(job Job, it standItem, f *format, inner Rect) *format {
	if it.grip == nil {
		return f
	}
	room := inner.H - Mm(f.Type.Text) - Mm(62) - (&standHead{job: job, item: it}).least(inner.W)
	if len(job.Safety) > 0 {
		room -= standCautions(job, f, node{}).least(inner.W)
	}
	for _, c := range []Um{7000, capTitle, capLarge} {
		large := *f
		large.Type.Text = c.Mm()
		h := Um(0)
		for _, b := range []*paragraphs{standPlace(job, it, &large), standSetting(job, it, &large), standNote(job, it, &large)} {
			h += b.least(inner.W)
		}
		if h <= room {
			return &large
		}
	}
	return f
}

// standBlock makes the blocks that only stand cards have, or have in their own
// way; nil for all others. whole is the height of a further side.
func standBlock(job Job, it standItem, f, large *format, bases Um, n node, whole Um) (block, error) {
	switch n.Block {
	case "stand-head":
		return &standHead{job: job, item: it}, nil
	case "stand-today":
		return newToday(job, it, f, bases, n.name() == "stand-bases"), nil
	case "stand-bases":
		return narrowBases{otherBases(job, it, bases)}, nil
	case "stand-place":
		return standPlace(job, it, large), nil
	case "stand-setting":
		return standSetting(job, it, large), nil
	case "stand-note":
		return standNote(job, it, large), nil
	case "cautions":
		if len(job.Safety) == 0 {
			return &paragraphs{}, nil
		}
		return standCautions(job, f, n), nil
	case "plan":
		t := f.Type
		v := &viewBlock{job: job, opt: drawOptions{num: Mm(t.Balloon), fig: Mm(t.Text), tabled: true, only: it.number}, shown: it.place() != nil}
		v.limit = whole
		return v, nil
	}
	return nil, nil
}
