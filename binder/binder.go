// Package binder holds many setups at once: it reads folders of them.
//
// It belongs here when it is about a shelf of setups. What one setup says
// belongs to package setup, how pages of them look to package layout.
package binder

import (
	"cmp"
	"fmt"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"

	"stopleaf/setup"
)

// Options says how setups are read.
type Options struct {
	Setup    setup.Options         // of each; NoPhotos where the pictures are not needed
	Limits   Limits                // those that are 0 are the usual ones
	Progress func(done, total int) // called as files are read, never twice at once; nil for nobody

	// Each is called for each setup that is not broken as soon as it is read, side by
	// side. It may keep what is wanted of it in Item.Of and set Item.Setup to nil, so
	// that thousands need no memory; nil for nobody.
	Each func(*Item)
}

// Limits bound what is read, so that a slip (the whole disk named) ends and is
// said.
type Limits struct {
	Setups  int // setups on the shelf; 10,000
	Depth   int // folders within the one that was named; 16
	Entries int // names of files and folders looked at; 200,000
}

func (l Limits) settled() Limits {
	return Limits{Setups: cmp.Or(l.Setups, 10_000), Depth: cmp.Or(l.Depth, 16), Entries: cmp.Or(l.Entries, 200_000)}
}

// Item is one setup file on the shelf.
type Item struct {
	Path     string         // as it is reached from what was named
	Setup    *setup.Setup   // nil for a broken one, and where Options.Each let it go
	Problems setup.Problems // of this file, warnings too
	Of       any            // what Options.Each kept

	code   string
	codeAt setup.Pos // where it is written; the file as a whole where it is the file's name
	files  []string  // that were read for it
}

// Code is that of the setup; for a broken one the file's name without its
// ending.
func (it *Item) Code() string {
	if it.Broken() {
		return strings.TrimSuffix(filepath.Base(it.Path), filepath.Ext(it.Path))
	}
	return it.code
}

// Broken reports whether the file has mistakes that leave no setup.
func (it *Item) Broken() bool { return it.codeAt.File == "" }

// Shelf is what was found, in the order of the paths, whatever the order in
// which they were named.
type Shelf struct {
	Items    []*Item
	Problems setup.Problems // of the shelf as a whole: two setups of one code, what could not be looked at, a limit reached
}

// All gives every problem, sorted: those of the files and those of the shelf.
func (s *Shelf) All() setup.Problems {
	out := slices.Clone(s.Problems)
	for _, it := range s.Items {
		out = append(out, it.Problems...)
	}
	out.Sort()
	return out
}

// Setups gives those that are not broken and were not let go.
func (s *Shelf) Setups() []*setup.Setup {
	var out []*setup.Setup
	for _, it := range s.Items {
		if it.Setup != nil {
			out = append(out, it.Setup)
		}
	}
	return out
}

// Files are the paths that were read: setups, gear files, photos, house files.
func (s *Shelf) Files() []string {
	var out []string
	for _, it := range s.Items {
		if it.Path != "-" {
			out = append(out, it.Path)
		}
		out = append(out, it.files...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// Read reads the setups that paths name: a file is a setup, a folder holds
// setups, at any depth. In a folder a *.yaml with a top-level "lights" is a
// setup; others, and what begins with a point, are passed over. A broken setup
// is an item with its problems, and the rest is read. A file named twice counts
// once. Symbolic links inside a folder are not followed: what they lead to
// within it is found anyway, and one that leads out is a warning.
func Read(paths []string, opt Options) *Shelf {
	w := walk{limits: opt.Limits.settled(), found: map[string]found{}, seen: map[string]bool{}}
	for _, p := range slices.Sorted(slices.Values(paths)) {
		w.operand(p)
	}
	if opt.Setup.Shared == nil {
		opt.Setup.Shared = &setup.Shared{}
	}
	s := &Shelf{Problems: w.problems, Items: readAll(w.sorted(), w.limits.Setups, opt)}
	s.bound(w.limits.Setups)
	s.codes()
	s.Problems.Sort()
	return s
}

// readAll reads files until there are more setups than the shelf takes.
func readAll(files []found, most int, opt Options) []*Item {
	var items []*Item
	for done := 0; done < len(files) && len(items) <= most; {
		some := files[done:min(done+max(most+1-len(items), 64), len(files))]
		items = append(items, readSome(some, opt, done, len(files))...)
		done += len(some)
	}
	return items
}

// readSome reads files side by side; what is no setup leaves no item. Of all
// files, before were read already.
func readSome(files []found, opt Options, before, all int) []*Item {
	items := make([]*Item, len(files))
	next := make(chan int)
	var wait sync.WaitGroup
	var said sync.Mutex
	done := before
	for range min(runtime.GOMAXPROCS(0), len(files)) {
		wait.Go(func() {
			for i := range next {
				items[i] = readOne(files[i], opt)
				if opt.Progress != nil {
					said.Lock()
					done++
					opt.Progress(done, all)
					said.Unlock()
				}
			}
		})
	}
	for i := range files {
		next <- i
	}
	close(next)
	wait.Wait()
	return slices.DeleteFunc(items, func(it *Item) bool { return it == nil })
}

func readOne(f found, opt Options) *Item {
	it := &Item{Path: f.path}
	if f.named {
		it.Setup, it.Problems = setup.Read(f.path, opt.Setup)
	} else {
		var ok bool
		if it.Setup, it.Problems, ok = setup.ReadFound(f.path, opt.Setup); !ok {
			return nil
		}
	}
	if s := it.Setup; s != nil {
		it.code, it.codeAt, it.files = s.Code, setup.Pos{File: f.path}, s.Files
		if p, ok := s.Where.Keys["code"]; ok {
			it.codeAt = p
		}
		if opt.Each != nil {
			opt.Each(it)
		}
	}
	return it
}

// bound takes off the shelf what is over its limit, and says so.
func (s *Shelf) bound(most int) {
	if len(s.Items) <= most {
		return
	}
	s.Problems = append(s.Problems, setup.Problem{Pos: setup.Pos{File: s.Items[most].Path}, Level: setup.Error, Code: "too-many-setups",
		Message: fmt.Sprintf("more than %d setups: this one and what comes after it are left out", most), Hint: "name fewer folders"})
	s.Items = s.Items[:most]
}

// codes finds setups that go by one code, whatever the case: pages and indexes
// could not tell them apart.
func (s *Shelf) codes() {
	first := map[string]*Item{}
	for _, it := range s.Items {
		if it.code == "" {
			continue
		}
		low := strings.ToLower(it.code)
		before, twice := first[low]
		if !twice {
			first[low] = it
			continue
		}
		s.Problems = append(s.Problems, setup.Problem{Pos: it.codeAt, Level: setup.Error, Code: "code-twice",
			Message: fmt.Sprintf("the code %q is also that of %s", it.code, before.codeAt), Hint: "give each setup a \"code\" of its own; without one it is the file's name"})
	}
}
