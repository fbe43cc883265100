package layout

import (
	"slices"
	"strings"
	"sync"

	"stopleaf/recovery"
	"stopleaf/setup"
)

// Source is a setup that pages were drawn from, for the file that they go to to
// give it back.
type Source struct {
	Print     recovery.Fingerprint // of Canonical
	Canonical []byte               // the setup as one file, nothing private in it
	Written   setup.Source         // its files as they were written; empty where any of it is private
	name      string
	packed    func() string
	setup     *setup.Setup
	drawn     sync.Map // codes by their kind
}

// NewSource is the source of a setup.
func NewSource(s *setup.Setup) *Source {
	canonical := s.Canonical(setup.Nothing)
	return &Source{Print: recovery.FingerprintOf(canonical), Canonical: canonical, Written: s.Source(), name: FileName(s.Code), setup: s,
		packed: sync.OnceValue(func() string { return recovery.Text(canonical) })}
}

// Name is what its file is called without an ending, in ASCII: its code.
func (s *Source) Name() string { return s.name }

// Text is Canonical as a code has it, for a format that holds no files.
func (s *Source) Text() string { return s.packed() }

// FileName is a code as a file may be called on any system, in ASCII, without an
// ending; "setup" where nothing is left of it.
func FileName(code string) string {
	name := strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' || r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || r == '.' || r == '_' {
			return r
		}
		return '-'
	}, code)
	if name = strings.Trim(name, ".-"); name == "" {
		return "setup"
	}
	return name[:min(len(name), 60)]
}

// from says of pages which setup they were drawn from.
func (s *Source) from(pages []Page) {
	for i := range pages {
		pages[i].addSources(s)
	}
}

// addSources says that the page is drawn from these too; nil is passed over.
func (p *Page) addSources(list ...*Source) {
	for _, s := range list {
		if s != nil && !slices.Contains(p.Sources, s) {
			p.Sources = append(slices.Clip(p.Sources), s)
		}
	}
}
