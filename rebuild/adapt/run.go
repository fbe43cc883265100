package adapt

import (
	"slices"
	"strings"

	"stopleaf/exposure"
	"stopleaf/setup"
	"stopleaf/setup/edit"
)

// Adapt makes a new file of a setup and the bytes it was read from. The error is a
// *Refusal for what cannot be done at all, or what is wrong with the file.
func Adapt(s *setup.Setup, src []byte, o Options) (*Result, error) {
	w, err := newWriter(s, src, o)
	if err != nil {
		return nil, err
	}
	if o.Mirror {
		if err := w.mirrored(); err != nil {
			return nil, err
		}
	}
	gear, found := w.s, w.problems
	if err := w.swaps(s, o); err != nil {
		return nil, err
	}
	p := newPlan(o, w.s)
	p.first, p.gear, p.found = s, gear, found
	if o.Mirror {
		p.warnMirrored()
		w.sideWords(p)
	}
	if err := p.work(); err != nil {
		return nil, err
	}
	if err := w.write(p); err != nil {
		return nil, err
	}
	if err := w.paths(o.Name); err != nil {
		return nil, err
	}
	return w.finish(p)
}

// work plans what is to be.
func (p *plan) work() error {
	p.keepPlaces()
	if err := p.unknownFace(); err != nil {
		return err
	}
	p.face()
	if err := p.scale(); err != nil {
		return err
	}
	if err := p.lens(); err != nil {
		return err
	}
	p.room()
	if err := p.settings(); err != nil {
		return err
	}
	p.output()
	p.backgroundReading()
	p.oldPictures()
	return nil
}

func (p *plan) unknownFace() error {
	if p.o.FaceM == nil || p.was.Subject.FaceGiven {
		return nil
	}
	return p.lacks("face", p.was.Subject.Where.Item, "the height of the face is not written: by how much the lights follow is not known", "write face: 1.55 under \"subject\"")
}

// changedLight reports whether the light falls otherwise than before, but for its
// strength.
func (p *plan) changedLight() bool {
	if p.o.Mirror || len(p.o.Modifiers) > 0 || p.o.LensMM != nil || p.o.FaceM != nil {
		return true
	}
	for i := range p.s.Lights {
		if a, b := p.s.Lights[i].Place, p.was.Lights[i].Place; a != nil && at(a) != at(b) {
			return true
		}
	}
	return false
}

// backgroundReading names a reading that was taken with the lights elsewhere.
func (p *plan) backgroundReading() {
	b := p.was.Background
	if b == nil || b.ReadingAv == nil {
		return
	}
	for i := range p.s.Lights {
		l, was := &p.s.Lights[i], &p.was.Lights[i]
		if l.Place == nil || at(l.Place) == at(was.Place) || p.o.FaceM != nil && l.Place.Right == was.Place.Right && l.Place.Front == was.Place.Front {
			continue
		}
		p.warn(b.Where.Key("reading"), "background-reading", "meter it again", "the background read %s with the lights where they stood", p.reading(*b.ReadingAv))
		return
	}
}

// oldPictures names photographs that show the set or the light as it was.
func (p *plan) oldPictures() {
	if !p.changedLight() {
		return
	}
	for i := range p.first.Photos {
		ph := &p.first.Photos[i]
		what := "the light"
		if ph.Shows == "set" {
			what = "the set"
		}
		p.warn(ph.Where.Item, "photo", "take another, and change it here", "the photo %s shows %s as it was", quoted(ph.File), what)
	}
}

// paths makes relative paths lead from the new file's folder to where they led.
func (w *writer) paths(name string) error {
	if name == "" || name == "-" || w.file == "-" {
		return nil
	}
	before := map[string]string{}
	for _, c := range []edit.Path{{"gear"}} {
		before[c.String()] = w.text(c)
	}
	for i := range w.src.Len(edit.Path{"photos"}) {
		for _, c := range []edit.Path{{"photos", itoa(i)}, {"photos", itoa(i), "file"}} {
			before[c.String()] = w.text(c)
		}
	}
	changed, err := w.src.RelativePaths(w.file, name)
	for _, c := range changed {
		w.note(c, c[0], "from the new file's folder", before[c.String()], w.text(c))
	}
	return err
}

// finish puts the head on the file, reads it as it will be read, and adds what is
// then odd about it and was not before.
func (w *writer) finish(p *plan) (*Result, error) {
	p.misplaced(w.s)
	p.warned.Sort()
	r := &Result{Changes: w.list(), Warned: p.warned}
	plain, err := w.src.Bytes()
	if err != nil {
		return nil, err
	}
	w.src.Header(p.head()...)
	if r.Source, err = w.src.Bytes(); err != nil {
		return nil, err
	}
	name, src := p.o.Name, r.Source
	if name == "" || name == "-" { // in the lines of the old file
		name, src = w.file, plain
	}
	s, problems := setup.Parse(name, src, p.o.Read)
	if s == nil {
		return nil, cause(problems)
	}
	r.Setup = s
	r.Warned = append(r.Warned, p.odd(s, problems)...)
	return r, nil
}

// cause keeps what is outside the new file's folder, from which all else follows
// that is wrong with a file in another folder.
func cause(problems setup.Problems) setup.Problems {
	outside := slices.DeleteFunc(slices.Clone(problems), func(p setup.Problem) bool { return p.Code != "outside" })
	if len(outside) > 0 {
		return outside
	}
	return problems
}

// head says in the file what it was made from, and what was not kept.
func (p *plan) head() []string {
	from := p.first.Code
	if from == "" {
		from = p.first.Title
	}
	if from == "" {
		from = "another setup"
	}
	line := "adapted from " + from
	if p.o.Made != "" {
		line += " on " + p.o.Made
	}
	lines := []string{line + ": " + p.o.Said}
	for _, w := range p.warned {
		lines = append(lines, "not kept: "+w.Message)
	}
	return lines
}

// odd gives the findings of proof about the new setup that the old one did not
// have and that are not said already.
func (p *plan) odd(s *setup.Setup, problems setup.Problems) (out setup.Problems) {
	known := map[string]bool{}
	for _, list := range []setup.Problems{p.warned, p.o.Problems, p.found, checked(p.first), checked(p.gear)} {
		for _, w := range list {
			known[finding(w)] = true
			known[finding(w)+" l"], known[finding(w)+" r"] = true, true // of a pair
		}
	}
	for _, w := range append(problems, checked(s)...) {
		if w.Level == setup.Warning && !known[finding(w)] && !known[w.Code+" "] {
			out = append(out, w)
		}
	}
	out.Sort()
	return out
}

func checked(s *setup.Setup) setup.Problems {
	n := exposure.Compute(s.Input(nil))
	return setup.Check(s, &n)
}

// finding is what a problem is about: its code and the item that it names.
func finding(p setup.Problem) string {
	name := ""
	if i := strings.IndexByte(p.Message, '"'); i >= 0 {
		name, _, _ = strings.Cut(p.Message[i+1:], "\"")
	}
	return p.Code + " " + strings.ToLower(name)
}
