package binder

import (
	"cmp"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"stopleaf/setup"
	"stopleaf/setup/grammar"
)

// ConfigFile is what the file that arranges a binder is called, in a folder of
// setups.
const ConfigFile = "binder.yaml"

// Config is what a binder.yaml says; an empty member is not settled.
type Config struct {
	File         string
	Title, Owner string
	Order        string // "code", "title", "date", "hand"
	Paper        string
	Holes        string
	As           string
	Duplex       *bool
	Sections     []Section
}

// Section is a part of a binder as it is written.
type Section struct {
	Title  string
	Setups []Name
	Tags   []string
	Pos    setup.Pos
}

// Name is a file, a folder or a code, and where it stands.
type Name struct {
	Text string
	Pos  setup.Pos
}

// ParseConfig reads a binder.yaml from bytes; file is its name in problems. Where a
// problem is an error it is what could be understood, so that Arrange finds the rest of
// what is wrong. It never panics, whatever the bytes.
func ParseConfig(file string, src []byte) (*Config, setup.Problems) {
	r := setup.ReadStrict(file, src, "binder", "binder")
	top := r.Top()
	word := func(key string) string { return r.Word(top.Get(key), grammar.Find("binder").Key(key).Words) }
	c := &Config{File: file, Title: top.Get("title").Text(), Owner: top.Get("owner").Text(),
		Order: word("order"), Paper: word("paper"), Holes: word("holes"), As: word("as"), Duplex: r.YesNo(top.Get("duplex"))}
	for _, v := range top.Get("sections").Items() {
		s := Section{Title: v.Get("title").Text(), Pos: v.Pos()}
		for _, n := range v.Get("setups").Items() {
			s.Setups = append(s.Setups, Name{n.Text(), n.Pos()})
		}
		for _, t := range v.Get("tags").Items() {
			s.Tags = append(s.Tags, t.Text())
		}
		if !v.Has("title") {
			r.Err(s.Pos, "no-title", "a section has no title", "give it a title, which stands on its divider")
		} else if !v.Has("setups") && !v.Has("tags") {
			r.Err(s.Pos, "empty-section", fmt.Sprintf("the section %q says nothing of what is in it", s.Title), "give it setups, tags or both; what is in no section comes last by itself")
		}
		c.Sections = append(c.Sections, s)
	}
	return c, r.Problems()
}

// Group is a section with what is in it.
type Group struct {
	Title string
	Items []*Item
}

// Arrange puts what is on a shelf into the sections of a binder, in its order. A
// setup is in the section that names it, else in the first that has one of its
// tags; what is left comes last, in a group without a title. Problems are names
// that nothing goes by, and setups that are named twice. A nil binder is one
// group in the order of the codes.
func (c *Config) Arrange(s *Shelf) ([]Group, setup.Problems) {
	if c == nil {
		c = &Config{}
	}
	a := arranger{Config: c, shelf: s, in: map[*Item]int{}, groups: make([]Group, len(c.Sections)+1)}
	for i := range c.Sections {
		a.groups[i].Title = c.Sections[i].Title
		a.named(i)
	}
	for i := range c.Sections {
		a.tagged(i)
	}
	for _, it := range s.Items {
		if _, taken := a.in[it]; !taken {
			a.take(it, len(c.Sections))
		}
	}
	for i := range a.groups {
		a.sort(a.groups[i].Items)
	}
	wrong := a.problems.HasErrors() // which say why nothing is there
	for i, sec := range c.Sections {
		if !wrong && len(a.groups[i].Items) == 0 && (len(sec.Setups) > 0 || len(sec.Tags) > 0) {
			a.problems = append(a.problems, setup.Problem{Pos: sec.Pos, Level: setup.Warning, Code: "empty-section",
				Message: fmt.Sprintf("nothing is in the section %q, and it is left out", sec.Title), Hint: "a setup is in the section that names it, else in the first with one of its tags"})
		}
	}
	a.problems.Sort()
	return slices.DeleteFunc(a.groups, func(g Group) bool { return len(g.Items) == 0 }), a.problems
}

type arranger struct {
	*Config
	shelf    *Shelf
	groups   []Group
	in       map[*Item]int // the section that has it
	problems setup.Problems
}

func (a *arranger) err(at setup.Pos, code, message, hint string) {
	a.problems = append(a.problems, setup.Problem{Pos: at, Level: setup.Error, Code: code, Message: message, Hint: hint})
}

func (a *arranger) take(it *Item, group int) {
	a.in[it] = group
	a.groups[group].Items = append(a.groups[group].Items, it)
}

// named takes the setups that a section names.
func (a *arranger) named(i int) {
	for _, n := range a.Sections[i].Setups {
		found := false
		for _, it := range a.shelf.Items {
			file, folder := a.is(it, n.Text)
			if !file && !folder {
				continue
			}
			found = true
			was, taken := a.in[it]
			switch {
			case !taken:
				a.take(it, i)
			case file:
				section := fmt.Sprintf("section %q", a.Sections[was].Title)
				if a.Sections[was].Title == "" {
					section = "a section without a title"
				}
				a.err(n.Pos, "twice", fmt.Sprintf("%q is in %s already", n.Text, section), "take one out")
			}
		}
		if !found {
			a.err(n.Pos, "no-setup", fmt.Sprintf("no setup here is %q", n.Text), setup.Suggest(n.Text, a.names()))
		}
	}
}

// is says whether a name is that of a setup's file or its code, or of a folder
// that it lies in.
func (a *arranger) is(it *Item, name string) (file, folder bool) {
	if strings.EqualFold(it.Code(), name) {
		return true, false
	}
	path := filepath.ToSlash(filepath.Join(filepath.Dir(a.File), filepath.FromSlash(name)))
	at := filepath.ToSlash(filepath.Clean(it.Path))
	return at == path, path == "." || strings.HasPrefix(at, path+"/")
}

// names are the codes on the shelf.
func (a *arranger) names() []string {
	var out []string
	for _, it := range a.shelf.Items {
		out = append(out, it.Code())
	}
	slices.SortFunc(out, Natural)
	if len(out) > 12 { // a hint is one line
		out = out[:12]
	}
	return out
}

// tagged takes the setups that have a tag of a section and that no section names.
func (a *arranger) tagged(i int) {
	for _, it := range a.shelf.Items {
		if _, taken := a.in[it]; taken || it.Setup == nil {
			continue
		}
		if slices.ContainsFunc(it.Setup.Tags, func(t string) bool {
			return slices.ContainsFunc(a.Sections[i].Tags, func(of string) bool { return strings.EqualFold(t, of) })
		}) {
			a.take(it, i)
		}
	}
}

// sort puts the setups of a section in order; those alike by code. By hand is as
// they were taken. What has no date comes last.
func (a *arranger) sort(items []*Item) {
	by := func(x, y *Item) int { return 0 }
	switch a.Order {
	case "hand":
		return
	case "title":
		by = func(x, y *Item) int { return Natural(x.title(), y.title()) }
	case "date":
		by = func(x, y *Item) int { return cmp.Compare(x.made(), y.made()) }
	}
	slices.SortStableFunc(items, func(x, y *Item) int { return cmp.Or(by(x, y), Natural(x.Code(), y.Code())) })
}

func (it *Item) title() string {
	if it.Setup == nil {
		return it.Code()
	}
	return it.Setup.Title
}

func (it *Item) made() string {
	if it.Setup == nil || it.Setup.Made == "" {
		return "9999"
	}
	return it.Setup.Made
}
