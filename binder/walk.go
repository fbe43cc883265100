package binder

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"stopleaf/setup"
)

// found is a file to be read.
type found struct {
	path  string
	named bool // on the command line: then it is a setup, whatever it holds
}

// walk looks for files.
type walk struct {
	limits   Limits
	found    map[string]found // by real path, so that each is read once
	seen     map[string]bool  // folders by real path
	entries  int
	stopped  bool // more entries than the limit
	problems setup.Problems
}

// sorted gives what was found in the order of the paths.
func (w *walk) sorted() []found {
	out := make([]found, 0, len(w.found))
	for _, f := range w.found {
		out = append(out, f)
	}
	slices.SortFunc(out, func(a, b found) int { return strings.Compare(a.path, b.path) })
	return out
}

func (w *walk) say(level setup.Level, path, code, message, hint string) {
	w.problems = append(w.problems, setup.Problem{Pos: setup.Pos{File: path}, Level: level, Code: code, Message: message, Hint: hint})
}

// operand takes a file or a folder that was named. Links are followed in it,
// for the person meant it.
func (w *walk) operand(path string) {
	if path == "-" {
		w.found[path] = found{path, true}
		return
	}
	path = filepath.Clean(path)
	info, err := os.Stat(path)
	if err != nil {
		w.say(setup.Error, path, "cannot-read", plain(err), "")
		return
	}
	real, err := filepath.EvalSymlinks(path)
	if err == nil {
		real, err = filepath.Abs(real)
	}
	if err != nil {
		w.say(setup.Error, path, "cannot-read", plain(err), "")
		return
	}
	if !info.IsDir() {
		w.file(found{path, true}, real)
		return
	}
	w.folder(path, real, real, 0)
}

// file notes a file; of several ways to it the shortest is kept, then the first.
func (w *walk) file(f found, real string) {
	before, twice := w.found[real]
	if twice {
		f.named = f.named || before.named
		if len(before.path) < len(f.path) || len(before.path) == len(f.path) && before.path < f.path {
			f.path = before.path
		}
	}
	w.found[real] = f
}

// folder looks into a folder; real is where it truly is, root the real folder
// that was named.
func (w *walk) folder(path, real, root string, depth int) {
	if w.stopped {
		return
	}
	list, err := os.ReadDir(real)
	if err != nil {
		w.say(setup.Error, path, "cannot-read", "the folder "+plain(err), "")
		return
	}
	for _, e := range list {
		if w.entries++; w.entries > w.limits.Entries {
			w.stopped = true
			w.say(setup.Error, path, "too-many-files", fmt.Sprintf("more than %d files and folders were looked at; the rest is left out", w.limits.Entries), "name the folders of the setups")
			return
		}
		name, at, is := e.Name(), filepath.Join(path, e.Name()), filepath.Join(real, e.Name())
		switch {
		case strings.HasPrefix(name, "."):
		case e.Type()&fs.ModeSymlink != 0:
			w.link(at, is, root)
		case e.IsDir() && depth >= w.limits.Depth:
			w.say(setup.Error, at, "too-deep", fmt.Sprintf("the folder is more than %d deep and is not looked into", w.limits.Depth), "name it")
		case e.IsDir():
			w.folder(at, is, root, depth+1)
		case e.Type().IsRegular() && filepath.Ext(name) == ".yaml":
			w.file(found{at, false}, is)
		}
	}
}

// link warns of a link that leads out of the folder to what may be setups.
func (w *walk) link(path, is, root string) {
	real, err := filepath.EvalSymlinks(is)
	if err != nil {
		return // to nowhere, or in a ring
	}
	info, err := os.Stat(real)
	if err != nil || !info.IsDir() && filepath.Ext(path) != ".yaml" {
		return
	}
	if rel, err := filepath.Rel(root, real); err == nil && rel != ".." && !strings.HasPrefix(rel, ".."+string(filepath.Separator)) {
		return
	}
	w.say(setup.Warning, path, "link-out", "a link out of the folder is not followed", "name what it leads to")
}

func plain(err error) string {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "there is no such file or folder"
	case errors.Is(err, fs.ErrPermission):
		return "may not be read"
	}
	var path *fs.PathError
	if errors.As(err, &path) {
		err = path.Err
	}
	return fmt.Sprintf("cannot be read: %v", err)
}
