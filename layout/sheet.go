package layout

import (
	"slices"
	"strings"

	"stopleaf/exposure"
	"stopleaf/safety"
	"stopleaf/setup"
	"stopleaf/templates"
)

// SheetOptions says how the assistant's sheets are made.
type SheetOptions struct {
	Paper  string  // one of SheetPapers; "" is "a4"
	Format *Format // a page format of one's own, in place of a paper
}

// SheetPapers lists the built-in papers of the sheet.
func SheetPapers() []string {
	names, err := templates.List("formats")
	if err != nil {
		return nil
	}
	var out []string
	for _, n := range names {
		if s, ok := strings.CutPrefix(n, "sheet-"); ok {
			out = append(out, strings.TrimSuffix(s, ".yaml"))
		}
	}
	return out
}

// Sheet lays out the sheets of several setups, one after another: on the first
// side what a card has, at full size; on further ones the build order, the table
// to fill in, the camera, the kit, the circuits, the photographs, the notes, the
// cautions and the strike order. A block with nothing to say is not there.
func Sheet(jobs []Job, opt SheetOptions) (*Document, error) {
	if opt.Paper == "" {
		opt.Paper = "a4"
	}
	if !holds(SheetPapers(), opt.Paper) {
		return nil, unknownPaper(opt.Paper, SheetPapers())
	}
	f, err := formatOf("sheet", opt.Paper, opt.Format)
	if err != nil {
		return nil, err
	}
	return gather(jobs, "card.desc", func(job Job) ([]Page, error) { return sheetPages(job, f) })
}

// sheetPages fits one setup to a format and draws its sides.
func sheetPages(job Job, f *format) ([]Page, error) {
	b := builder{job: job, f: f, doc: "sheet", made: map[string]box{}, codes: newCodes(job, f, setup.Nothing)}
	b.own = func(n node) (block, error) { return b.sheetBlock(n) }
	sides, err := b.fitted()
	if err != nil {
		return nil, err
	}
	return b.drawn(sides)
}

// sheetBlock makes a block that only the sheet has; nil for any other name.
func (b *builder) sheetBlock(n node) (block, error) {
	own := b.own
	b.own = nil
	defer func() { b.own = own }()
	switch n.Block {
	case "today":
		n.Block = "lights"
		was := b.job
		b.job = inMeteringOrder(b.job)
		table, err := b.block(n)
		b.job = was
		if err != nil {
			return nil, err
		}
		return &fillIn{job: b.job, table: table.(*lightsBlock), gap: Mm(b.f.Gap)}, nil
	case "plan":
		if nothingPlaced(b.job) { // the table of places shows the blanks
			return &paragraphs{}, nil
		}
	}
	if x := sheetBlock(b.job, b.f, n.Block); x != nil {
		return x, nil
	}
	return nil, nil
}

// inMeteringOrder is a job with the lights that are metered alone, in the order in
// which they are, as someone reads them out.
func inMeteringOrder(job Job) Job {
	s, n := *job.Setup, *job.Numbers
	s.Lights, n.Lights = nil, nil
	for _, i := range job.Setup.MeteringOrder() {
		s.Lights = append(s.Lights, job.Setup.Lights[i])
		if i < len(job.Numbers.Lights) {
			n.Lights = append(n.Lights, job.Numbers.Lights[i])
		}
	}
	job.Setup, job.Numbers = &s, &n
	return job
}

func sheetBlock(job Job, f *format, name string) block {
	w := job.Words
	switch name {
	case "build":
		return newChecklist(job, f, w.T("sheet.build"), buildUnder(job), buildOrder(job))
	case "strike":
		return newChecklist(job, f, w.T("sheet.strike"), "", strikeOrder(job))
	case "camera":
		if f.leavesOut("bases") { // the table of bases has the depth of field
			return cameraBlock(job, f)
		}
		return sheetCamera(job, f)
	case "notes":
		if f.leavesOut("build") {
			return notesBlock(job, f)
		}
		return sheetNotes(job, f)
	case "bases":
		return basesTable(job, f)
	case "set":
		return setBlock(job, f)
	case "kit":
		return kitTable(job, f)
	case "circuits":
		return circuitsTable(job, f)
	case "photos":
		return newPhotoGrid(job, f)
	}
	return nil
}

func buildUnder(job Job) string {
	if u := string(job.Setup.Units); u == "m" || u == "cm" {
		return job.Words.T("sheet.build-under-in", "units", u)
	}
	return job.Words.T("sheet.build-under")
}

// sheetCamera is the camera's line without the depth of field, which stands in
// the table of bases.
func sheetCamera(job Job, f *format) *paragraphs {
	n := *job.Numbers
	n.Camera.DepthOfField = nil
	job.Numbers = &n
	return cameraBlock(job, f)
}

// setBlock is what holds for the set as a whole: ratios, the base range in a
// sentence, and the time that holds what burns on. The room's own light stands
// in the table of bases.
func setBlock(job Job, f *format) *paragraphs {
	if !f.leavesOut("bases") {
		n := *job.Numbers
		n.Ambient.At = nil
		job.Numbers = &n
	}
	b := sumsBlock(job, f)
	b.title = job.Words.T("sheet.set")
	for i := range b.paras {
		if p := &b.paras[i]; p.of == "range" {
			p.text = strings.Join(rangeWords(job, "sheet.range"), " ")
		}
	}
	return b
}

// sheetNotes is the notes without what the build order has already said of a
// light: its floor mark, trigger and circuit, and what to look for.
func sheetNotes(job Job, f *format) *paragraphs {
	s := *job.Setup
	s.Lights = slices.Clone(s.Lights)
	for i := range s.Lights {
		l := &s.Lights[i]
		l.Mark = ""
		if s.Mains.Circuit(l.Circuit) != nil && onCircuit(job, l.Number) && !f.leavesOut("circuits") {
			l.Circuit = ""
		}
		if l.Source != exposure.Daylight && l.Source != exposure.Bounce {
			l.Trigger = ""
		}
		if lookNow(l) {
			l.LookFor = ""
		}
	}
	s.Subject.Mark = ""
	job.Setup = &s
	return notesBlock(job, f)
}

func onCircuit(job Job, number int) bool {
	for _, ld := range safety.CircuitLoads(job.Setup) {
		if ld.Name != "" && slices.Contains(ld.Lights, number) {
			return true
		}
	}
	return false
}
