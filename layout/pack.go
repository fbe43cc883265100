package layout

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"stopleaf/exposure"
	"stopleaf/kit"
	"stopleaf/safety"
	"stopleaf/setup"
	"stopleaf/templates"
)

// PackOptions says how a kit list is made.
type PackOptions struct {
	Paper string // one of SheetPapers; "" is "a4"
}

// Pack lays out a kit list to tick off: twice, going out and coming back. Under it
// stand the weight and the mains load, over it the setups where there are several.
func Pack(list *kit.List, words templates.Words, opt PackOptions) (*Document, error) {
	if opt.Paper == "" {
		opt.Paper = "a4"
	}
	if !holds(SheetPapers(), opt.Paper) {
		return nil, unknownPaper(opt.Paper, SheetPapers())
	}
	f, err := loadFormat("sheet", opt.Paper)
	if err != nil {
		return nil, err
	}
	f.Strip, f.StripNext = []string{"title", "owner", "date", "code", "sheet"}, []string{"title", "sheet"}
	f.Sides, f.Next, f.Filler = []node{{Down: []node{{Block: "pack-setups"}, {Block: "pack-kit"}, {Block: "pack-sums"}}}}, nil, nil
	job := packJob(list, words)
	b := builder{job: job, f: f, doc: "pack", made: map[string]box{}}
	b.own = func(n node) (block, error) {
		switch n.Block {
		case "pack-setups":
			return packSetups(list, job, f), nil
		case "pack-kit":
			return packTable(list, job, f), nil
		}
		sums := packSums(list, job, f)
		sums.paras = append(sums.paras, packFor(list, job.Words)...)
		return sums, nil
	}
	sides, err := b.fitted()
	if err != nil {
		return nil, err
	}
	doc := &Document{Title: job.Setup.Title, Author: job.Setup.By, Lang: words.T("lang"), Subject: words.T("pack.desc", "setups", strings.Join(packCalled(list), ", "))}
	if doc.Pages, err = b.drawn(sides); err != nil {
		return nil, err
	}
	for i := range doc.Pages {
		doc.Pages[i].Label = "pack/" + strconv.Itoa(i+1)
	}
	return doc, nil
}

// packJob stands for the setups in the title block. The date is left to be filled
// in: that of the packing.
func packJob(list *kit.List, words templates.Words) Job {
	s := &setup.Setup{Units: list.Units()}
	for i, x := range list.Setups {
		if i == 0 {
			s.File, s.By, s.House = x.File, x.By, x.House
		} else if x.By != s.By {
			s.By = ""
		}
	}
	if len(list.Setups) == 1 {
		s.Code = list.Setups[0].Code
		s.Title = words.T("pack.title-one", "title", list.Setups[0].Title)
	} else {
		s.Title = words.T("pack.title-many", "n", strconv.Itoa(len(list.Setups)))
	}
	return Job{Setup: s, Numbers: &exposure.Numbers{}, Words: words}
}

func packCalled(list *kit.List) []string {
	out := make([]string, len(list.Setups))
	for i, s := range list.Setups {
		out[i] = kit.Called(s)
	}
	return out
}

// packSetups is what is packed for, with what each setup draws; empty where it is
// only one, whose title the page has.
func packSetups(list *kit.List, job Job, f *format) *table {
	g := newRuled(job, f, job.Words.T("pack.setups"))
	if len(list.Setups) < 2 {
		return g.table()
	}
	for _, s := range list.Setups {
		load := safety.MainsOf(s)
		g.row("setup "+kit.Called(s), false)
		g.cell("setup", kit.Called(s), true)
		g.cell("title", s.Title, false)
		g.cell("made", s.Made, false)
		g.cell("lights", strconv.Itoa(len(s.Lights)), false)
		g.cell("draws", loadText(load, job.Words), false)
	}
	return g.table()
}

// loadText is what a set draws: "12.4 A at 230 V and 2 lights of unknown current".
func loadText(load safety.MainsLoad, w templates.Words) string {
	var parts []string
	if len(load.Lights) == 0 {
		return w.T("pack.no-mains")
	}
	if load.Amps > 0 || len(load.Unknown) == 0 {
		parts = append(parts, w.T("sheet.amps", "a", oneDecimal(load.Amps)))
		if load.Volts > 0 {
			parts[0] = w.T("pack.at-volts", "load", parts[0], "v", trimFloat(load.Volts))
		}
	}
	if n := len(load.Unknown); n > 0 {
		parts = append(parts, w.T("pack.load-unknown", "n", strconv.Itoa(n)))
	}
	return strings.Join(parts, " + ")
}

// packTable is the kit with two boxes for each line, and what the house always
// takes.
func packTable(list *kit.List, job Job, f *format) *table {
	g := newRuled(job, f, job.Words.T("sheet.kit"))
	boxes := func(of string) {
		g.row(of, false)
		g.box("packed", tickBox)
		g.box("back", tickBox)
	}
	kind := kit.Kind("")
	weighed := slices.ContainsFunc(list.Items, func(it kit.Item) bool { return it.NoMass == 0 })
	for i, row := range KitRows(list, job.Words) {
		it := &list.Items[i]
		boxes("kit")
		if it.Kind != kind {
			kind = it.Kind
			g.cell("sort", row.Sort, false)
		}
		g.cell("count", row.Count, true)
		g.cell("what", row.What, false)
		if it.NoMass == 0 {
			g.figure("kg", strconv.FormatFloat(it.Kg, 'f', 1, 64))
		} else if weighed {
			g.column("kg") // in its place, whatever the first row has
		}
		g.cell("for", row.For, false)
	}
	for i, what := range list.Always {
		boxes("always")
		if i == 0 {
			g.cell("sort", job.Words.T("pack.always"), false)
		}
		g.cell("what", what, false)
	}
	return g.table()
}

// packSums is the weight and the mains load, and how the list is read.
func packSums(list *kit.List, job Job, f *format) *paragraphs {
	w := job.Words
	b := &paragraphs{st: style{cap: Mm(f.Type.Text), kind: "text", used: true}, small: style{cap: capCaption, kind: "head"}, more: w.T("table.continued")}
	put := func(lead, text string) {
		b.paras = append(b.paras, para{lead: w.T(lead), text: text, of: "sums"})
	}
	put("pack.weight-lead", weightText(list, w))
	put("pack.mains-lead", mostLoad(list, w))
	return b
}

// packFor explains the last column of a list of several setups, where some need fewer.
func packFor(list *kit.List, w templates.Words) (out []para) {
	fewer := func(it kit.Item) bool {
		return slices.ContainsFunc(it.Asked, func(a kit.Asked) bool { return a.N < it.N })
	}
	if slices.ContainsFunc(list.Items, fewer) {
		out = append(out, para{lead: w.T("pack.for-lead"), text: w.T("pack.for"), of: "sums"})
	}
	return out
}

// PackWeight is the weight of a kit list in a sentence.
func PackWeight(list *kit.List, w templates.Words) string { return weightText(list, w) }

// PackLoad is what a setup draws from the mains, in a sentence.
func PackLoad(s *setup.Setup, w templates.Words) string { return loadText(safety.MainsOf(s), w) }

func weightText(list *kit.List, w templates.Words) string {
	kg, without := list.Weight()
	if kg == 0 {
		return w.T("pack.weight-none")
	}
	text := w.T("pack.weight", "kg", oneDecimal(kg))
	if without > 0 {
		text = w.T("pack.weight-partly", "kg", oneDecimal(kg), "n", strconv.Itoa(without))
	}
	for _, it := range list.Items {
		if it.AtLeast && it.Kg > 0 {
			return w.T("pack.weight-least", "weight", text)
		}
	}
	return text
}

// mostLoad is the load of the setup that draws most: setups are lit one at a time.
// What they draw is compared in volt-amperes; where a file says no voltage, it is that
// of most of the world, 230 V (IEC 60038).
func mostLoad(list *kit.List, w templates.Words) string {
	most := -1
	var load safety.MainsLoad
	drawn := func(l safety.MainsLoad) float64 { return l.Amps * cmp.Or(l.Volts, 230) }
	for i, s := range list.Setups {
		x := safety.MainsOf(s)
		if most < 0 || cmp.Or(cmp.Compare(drawn(x), drawn(load)), len(x.Lights)-len(load.Lights)) > 0 {
			most, load = i, x
		}
	}
	switch {
	case most < 0:
		return w.T("pack.no-mains")
	case len(list.Setups) == 1:
		return loadText(load, w)
	}
	return w.T("pack.most-load", "load", loadText(load, w), "setup", kit.Called(list.Setups[most]))
}
