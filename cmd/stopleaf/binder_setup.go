package main

import (
	"math"
	"path/filepath"
	"runtime/debug"
	"sync/atomic"

	"stopleaf/binder"
	"stopleaf/exposure"
	"stopleaf/layout"
	"stopleaf/safety"
	"stopleaf/setup"
)

// figured is what the reading of the shelf leaves of a setup for its pages.
type figured struct {
	kept     atomic.Pointer[keptSetup] // nil where it is to be read again
	ratio    *float64                  // key to fill
	problems setup.Problems            // of what follows from the setup
}

// keptSetup is a setup without its photos, and what was made of it.
type keptSetup struct {
	setup   *setup.Setup
	numbers *exposure.Numbers
	source  *layout.Source // nil with --no-source
}

// mostKept is how many setups are kept with their figures between the reading of
// the shelf and the laying out of their pages, about 40 kB each. Those beyond it are
// read again.
var mostKept int64 = 4000

// boundMemory lets a binder collect garbage sooner than a run of milliseconds does,
// which takes a fifth off its memory and no time that could be measured; and near a
// gigabyte sooner still, which the largest are slower by a tenth for, unless the
// environment has said how much may be taken.
func boundMemory() {
	debug.SetGCPercent(300)
	if debug.SetMemoryLimit(-1) == math.MaxInt64 {
		debug.SetMemoryLimit(1 << 30)
	}
}

// figure works out what follows from a setup as soon as it is read. It runs in
// several goroutines.
func (m *binderMaker) figure(it *binder.Item) {
	n, problems := m.numbers(it.Setup)
	f := &figured{problems: problems}
	if n != nil {
		f.ratio = n.Ratios.KeyToFill
	}
	var canonical []byte
	if m.kept.Add(1) <= mostKept {
		source := m.gives(it.Setup)
		f.kept.Store(&keptSetup{it.Setup, n, source})
		if source != nil {
			canonical = source.Canonical
		}
	}
	it.Setup.Lean(canonical)
	it.Of = f
}

// numbers are a setup's figures and what does not add up in them; nil where it
// cannot be run at the base asked for.
func (m *binderMaker) numbers(s *setup.Setup) (*exposure.Numbers, setup.Problems) {
	bases, err := s.ChooseBases(m.set["base"])
	if err != nil {
		return nil, setup.Problems{{Pos: setup.Pos{File: s.File}, Level: setup.Error, Code: "base", Message: err.Error()}}
	}
	n := exposure.Compute(s.Input(bases))
	return &n, setup.Check(s, &n)
}

// open gives a setup with its pictures. It runs in several goroutines.
func (m *binderMaker) open(e *layout.BinderSetup) (layout.Job, []string, error) {
	if e.Faults != nil {
		return layout.Job{}, e.Faults, nil
	}
	opt := setup.Options{AllowOutside: m.has("allow-outside"), SkipPhotos: m.skipPhotos(), Shared: m.shared}
	var s *setup.Setup
	var n *exposure.Numbers
	var source *layout.Source
	var problems setup.Problems
	if k := m.first[e].kept.Load(); k != nil {
		s, problems = k.setup.WithPhotos(opt)
		n, source = k.numbers, k.source
		problems = append(problems, setup.CheckPhotos(s)...)
	} else if s, problems = setup.Read(filepath.FromSlash(e.Path), opt); s != nil {
		var more setup.Problems
		n, more = m.numbers(s)
		source = m.gives(s)
		problems = append(problems, more...)
	}
	m.add(problems)
	if problems.HasErrors() {
		return layout.Job{}, faults(problems), nil
	}
	return layout.Job{Setup: s, Numbers: n, Safety: safety.Notes(s, n, m.binder.Words), Words: m.binder.Words, Source: source}, nil, nil
}
