package adapt

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"stopleaf/setup"
	"stopleaf/setup/edit"
)

// writer edits the text of the file and remembers what it changed.
type writer struct {
	src      *edit.Source
	file     string
	o        Options
	opt      setup.Options
	s        *setup.Setup   // as the text read when it was last read
	problems setup.Problems // and what was said of it then
	changes  []*change
}

// change is a Change with its path, so that a value that is changed twice is one.
type change struct {
	Change
	path string
	rank int
}

func newWriter(s *setup.Setup, src []byte, o Options) (*writer, error) {
	text, err := edit.Open(s.File, src)
	if err != nil {
		return nil, err
	}
	opt := o.Read
	opt.NoPhotos = true
	return &writer{src: text, file: s.File, o: o, opt: opt, s: s}, nil
}

// read reads the text as it is now.
func (w *writer) read() error {
	src, err := w.src.Bytes()
	if err != nil {
		return err
	}
	s, problems := setup.Parse(w.file, src, w.opt)
	if s == nil {
		return problems
	}
	w.s, w.problems = s, problems
	return nil
}

// item is the path of one of a list by its place in it, or by its name where a
// name is such a figure.
func (w *writer) item(list string, index int, keys ...string) edit.Path {
	step := strconv.Itoa(index)
	for _, name := range w.names(list) {
		if name == step {
			step = w.names(list)[index]
			break
		}
	}
	return append(edit.Path{list, step}, keys...)
}

// names are those of a list's items in the file, pairs by their one name.
func (w *writer) names(list string) (names []string) {
	switch list {
	case "looks":
		return w.s.LookNames()
	case "grip":
		for i := range w.s.Grip {
			names = append(names, w.s.Grip[i].Name)
		}
		return names
	}
	for i := range w.s.Lights {
		if l := &w.s.Lights[i]; l.Pair == nil || l.Pair.Side == "L" {
			names = append(names, called(l))
		}
	}
	return names
}

// index is where the i-th light stands in the file's list.
func (w *writer) index(light int) int {
	n := -1
	for i := 0; i <= light; i++ {
		if l := &w.s.Lights[i]; l.Pair == nil || l.Pair.Side == "L" {
			n++
		}
	}
	return n
}

// text is what stands at a path, on one line; "" for nothing.
func (w *writer) text(p edit.Path) string {
	if t, ok := w.src.Text(p); ok {
		return t
	}
	if !w.src.Has(p) {
		return ""
	}
	return w.src.Flow(p)
}

// set writes a scalar, and remembers it as a change of an item.
func (w *writer) set(p edit.Path, item, why, text string) error {
	return w.changed(p, item, why, func() error { return w.src.Set(p, text) })
}

// setYAML writes a value in braces or brackets.
func (w *writer) setYAML(p edit.Path, item, why, text string) error {
	return w.changed(p, item, why, func() error { return w.src.SetYAML(p, text) })
}

func (w *writer) drop(p edit.Path, item, why string) error {
	if !w.src.Has(p) {
		return nil
	}
	return w.changed(p, item, why, func() error { return w.src.Delete(p) })
}

// changed makes an edit and notes what stood at the path before and after.
func (w *writer) changed(p edit.Path, item, why string, edit func() error) error {
	from := w.text(p)
	if err := edit(); err != nil {
		return err
	}
	w.note(p, item, why, from, w.text(p))
	return nil
}

func (w *writer) note(p edit.Path, item, why, from, to string) {
	key := strings.ToLower(p.String())
	for _, c := range w.changes {
		if c.path != key {
			continue
		}
		if c.To = to; why != "" && !strings.Contains(c.Why, why) {
			c.Why = strings.TrimPrefix(c.Why+", "+why, ", ")
		}
		return
	}
	if from == to {
		return
	}
	what := strings.Join(p[min(1, len(p)-1):], " ")
	if len(p) > 2 && (p[0] == "lights" || p[0] == "grip") {
		what = strings.Join(p[2:], " ")
	}
	w.changes = append(w.changes, &change{Change{Item: item, What: what, From: from, To: to, Why: why}, key, rank(p)})
}

// rank sorts changes as a file is read: what holds for the set, then lights, then
// grip.
func rank(p edit.Path) int {
	order := []string{"exposure", "camera", "subject", "background", "room", "lights", "grip", "looks", "photos", "gear"}
	i := slices.Index(order, p[0])
	if i < 0 {
		i = len(order)
	}
	return i
}

// list gives what came to be different, in the order of the file.
func (w *writer) list() []Change {
	slices.SortStableFunc(w.changes, func(a, b *change) int {
		return cmp.Or(cmp.Compare(a.rank, b.rank), cmp.Compare(w.at(a), w.at(b)))
	})
	out := []Change{}
	for _, c := range w.changes {
		if c.From != c.To {
			out = append(out, c.Change)
		}
	}
	return out
}

// at is the place of an item in its list.
func (w *writer) at(c *change) int {
	for _, list := range []string{"lights", "grip"} {
		if i := slices.Index(w.names(list), c.Item); i >= 0 && strings.HasPrefix(c.path, list) {
			return i
		}
	}
	return 0
}
