package convert

import (
	"path/filepath"

	"stopleaf/binder"
	"stopleaf/exposure"
	"stopleaf/internal/bench/plainly"
	"stopleaf/layout"
	"stopleaf/safety"
	"stopleaf/setup"
	"stopleaf/templates"
)

// Binder lays out what stopleaf binder makes of the setups of a folder: what stands
// before and behind them, at most so many pages of it, the first so many setups, and the
// codes of all.
func Binder(folder, as string, mostLists, mostSetups int) (*plainly.Book, error) {
	words, err := templates.Load("en")
	if err != nil {
		return nil, err
	}
	shelf := binder.Read([]string{folder}, binder.Options{Setup: setup.Options{NoPhotos: true}})
	if p := shelf.All(); p.HasErrors() {
		return nil, p
	}
	b := layout.Binder{Title: words.T("binder.title"), As: as, Words: words, Laid: func(*layout.BinderSetup, layout.Job) {}}
	sec := layout.BinderSection{}
	for _, it := range shelf.Items {
		s := it.Setup
		job, err := computed(s, words)
		if err != nil {
			return nil, err
		}
		b.Owner = s.By
		sec.Setups = append(sec.Setups, &layout.BinderSetup{Path: filepath.ToSlash(it.Path), Code: s.Code, Title: s.Title, Setup: s, Ratio: job.Numbers.Ratios.KeyToFill})
	}
	b.Sections = []layout.BinderSection{sec}
	b.Open = func(e *layout.BinderSetup) (layout.Job, []string, error) {
		s, problems := setup.Read(e.Path, setup.Options{})
		if problems.HasErrors() {
			return layout.Job{}, nil, problems
		}
		job, err := computed(s, words)
		return job, nil, err
	}
	if err := b.Prepare(); err != nil {
		return nil, err
	}
	book := &plainly.Book{}
	laid := 0
	for i := range b.Pieces() {
		isSetup := i > 1 && !b.Lists(i)
		pages, err := b.Piece(i)
		if err != nil {
			return nil, err
		}
		plain := Pages(&layout.Document{Pages: pages})
		switch room := max(0, mostLists-len(book.Lists)); {
		case isSetup:
			if laid++; laid <= mostSetups {
				book.Setups = append(book.Setups, plain...)
			}
			book.Codes = append(book.Codes, firstCodes(plain)...)
		default:
			book.AllLists += len(pages)
			book.Lists = append(book.Lists, plain[:min(room, len(plain))]...)
		}
	}
	return book, nil
}

// firstCodes are the codes of the first page of a setup that bears some; those of the
// others are the same.
func firstCodes(pages []plainly.Page) []plainly.Code {
	for _, p := range pages {
		if len(p.Codes) > 0 {
			return p.Codes
		}
	}
	return nil
}

func computed(s *setup.Setup, words templates.Words) (layout.Job, error) {
	bases, err := s.ChooseBases("")
	if err != nil {
		return layout.Job{}, err
	}
	n := exposure.Compute(s.Input(bases))
	return layout.Job{Setup: s, Numbers: &n, Safety: safety.Notes(s, &n, words), Words: words, Source: layout.NewSource(s)}, nil
}
