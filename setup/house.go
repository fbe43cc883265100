package setup

import (
	"fmt"
	"os"
	"path/filepath"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
)

// houseFile is what the house settings are called; it marks the root of a tree
// of setups too.
const houseFile = "stopleaf.yaml"

// House is what holds for every setup under the folder of the house file. What
// the setup says itself comes first. An empty member is not settled.
type House struct {
	File            string // as it is named in problems
	By              string
	Paper           string // one of grammar.Papers
	Units           Units
	Bases           []exposure.Base
	Bare            string // how bare decimals in setups are meant: "tenths", "decimal"
	PrintedReadings apex.Style
	Language        string
	BagKg           *float64
	DPI             *int     // of pictures of pages
	PhotoDPI        *int     // of photos on pages
	Always          []string // what is packed for every shoot
	Where           Where

	top    *written
	source []byte
}

// Style is how readings are printed.
func (s *Setup) Style() apex.Style {
	if s == nil || s.House == nil {
		return ""
	}
	return s.House.PrintedReadings
}

// findHouse looks for the house file in a folder and upward: its folder and its
// path, absolute; none is "".
func findHouse(dir string) (folder, path string) {
	for at := dir; ; at = filepath.Dir(at) {
		path := filepath.Join(at, houseFile)
		if info, err := os.Stat(path); err == nil && info.Mode().IsRegular() {
			return at, path
		}
		if at == filepath.Dir(at) {
			return "", ""
		}
	}
}

// house finds the root, the folder no path may leave: that of the nearest house
// file upward, else the setup's own. It reads the house file.
func (m *meaning) house() {
	abs, err := filepath.Abs(m.dir)
	if err != nil {
		m.s.Root = m.dir
		return
	}
	m.s.Root = abs
	folder, path := findHouse(abs)
	if folder == "" {
		return
	}
	m.s.Root = folder
	name := m.houseName(path)
	m.s.Files = append(m.s.Files, name)
	src, err := readFile(path)
	if err != nil {
		m.err(Pos{File: name}, "house-file", "the house file "+err.Error(), "")
		return
	}
	h, problems := ParseHouse(name, src)
	for _, p := range problems {
		m.add(p)
	}
	h.source = src
	m.s.House = h
}

// houseName is how a file found upward is named: as the setup is, from the working
// folder, or in full where the setup is.
func (m *meaning) houseName(path string) string {
	if filepath.IsAbs(m.dir) {
		return path
	}
	here, err := filepath.Abs(".")
	if err != nil {
		return path
	}
	if rel, err := filepath.Rel(here, path); err == nil {
		return rel
	}
	return path
}

// ParseHouse reads a house file from bytes; file is its name in problems. An
// empty one settles nothing. It never panics, whatever the bytes.
func ParseHouse(file string, src []byte) (*House, Problems) {
	d := ReadStrict(file, src, "house", "house file")
	if d.top == nil {
		h := &House{File: file}
		if len(d.m.problems) == 1 && d.m.problems[0].Code == "empty" {
			return h, nil
		}
		return h, d.Problems()
	}
	return d.house(), d.Problems()
}

// house is what the settings mean.
func (d *Strict) house() *House {
	h := &House{File: d.m.s.File, Where: d.top.where(), top: d.top}
	word := func(key string) string { return d.Word(d.Top().Get(key), wordsOf("house", key)) }
	h.By = d.Top().Get("by").Text()
	h.Paper, h.Units = word("paper"), Units(word("units"))
	h.Bare, h.PrintedReadings = word("readings"), apex.Style(word("printed readings"))
	h.Language = word("language")
	h.BagKg = d.Number(d.Top().Get("bag"), "a bag of", "kg", 0.5, 50)
	h.DPI, h.PhotoDPI = d.dots("dpi"), d.dots("photo resolution")
	h.Always = d.always()
	d.m.notation.Bare = h.Bare
	h.Bases = d.m.houseBases(d.top.get("bases"))
	return h
}

// The bounds of what is packed for every shoot.
const (
	mostAlways   = 100 // things
	widestAlways = 80  // runes of one
)

// always is what the house packs for every shoot.
func (s *Strict) always() []string {
	var out []string
	list := s.Top().Get("always")
	for _, v := range list.Items() {
		what := v.Text()
		switch n := len([]rune(what)); {
		case what == "":
			s.Err(v.Pos(), "no-name", "a thing of \"always\" is not named", "always: [tape measure, gaffer tape]")
		case n > widestAlways:
			s.Err(v.Pos(), "too-long", fmt.Sprintf("a thing of \"always\" has %d letters, and %d are the most", n, widestAlways), "write what it is, not why")
		case len(out) == mostAlways:
			s.Err(v.Pos(), "too-many", fmt.Sprintf("more than %d things under \"always\"", mostAlways), "")
			return out
		default:
			out = append(out, what)
		}
	}
	return out
}

// dots is a whole number of dots an inch.
func (s *Strict) dots(key string) *int {
	w := s.Top().Get(key)
	v := s.Number(w, "a resolution of", "dpi", 72, 600)
	if v == nil {
		return nil
	}
	dots := int(*v)
	if float64(dots) != *v {
		s.Err(w.Pos(), "bad-number", "a resolution is a whole number of dots an inch", "such as 200")
	}
	return &dots
}

// houseBases are bases as a setup has them, but for exposure values, which mean
// an aperture only at the time of a setup.
func (m *meaning) houseBases(w *written) []exposure.Base {
	if w == nil {
		return nil
	}
	apertures := &written{pos: w.pos, kind: isList}
	for _, t := range m.texts(w) {
		n := m.notation
		n.Comma = true
		if r, err := apex.ParseReading(t.text, n); err == nil && r.NeedsTime() {
			m.err(t.pos, "bad-reading", quote(t.text)+" is an exposure value", "write a base as an aperture, f/8")
		} else {
			apertures.items = append(apertures.items, t)
		}
	}
	return m.bases(apertures)
}

// settle takes from the house what the setup does not say. Settings in the setup
// itself stand in the place of the whole house file.
func (m *meaning) settle(top *written) {
	if own := top.get("house"); own != nil {
		d := &Strict{m: &meaning{log: m.log, units: Metres, s: &Setup{File: m.s.File, Units: Metres}}, top: own}
		m.s.House = d.house()
	}
	h := m.s.House
	if h == nil {
		return
	}
	if h.Units != "" && !top.has("units") {
		m.s.Units, m.units = h.Units, h.Units
	}
	if m.s.By == "" && !top.has("by") {
		m.s.By = h.By
	}
	m.notation.Bare = h.Bare
}
