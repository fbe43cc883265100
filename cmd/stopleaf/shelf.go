package main

import (
	"os"
	"slices"
	"strings"

	"stopleaf/binder"
	"stopleaf/setup"
)

// shelf reads the setups that paths name, files and folders at any depth, without
// their photos, for what many of them tell together; each is binder.Options.Each.
// The error is for a path that cannot be read, or where there is no setup.
func (c *call) shelf(paths []string, each func(*binder.Item)) (*binder.Shelf, error) {
	for _, name := range paths {
		if err := readable(name); err != nil {
			return nil, err
		}
	}
	step := func(int) {}
	s := binder.Read(paths, binder.Options{
		Setup: setup.Options{AllowOutside: c.has("allow-outside"), Stdin: c.stdin, NoPhotos: true, Shared: c.shared},
		Progress: func(done, total int) {
			if done == 1 {
				step = c.progress("reading", total)
			}
			step(done)
		},
		Each: each,
	})
	if len(s.Items) == 0 && !s.Problems.HasErrors() {
		return nil, &fileError{"no setup in " + strings.Join(quoted(paths), ", "), "a setup is a *.yaml file with a top-level \"lights\""}
	}
	return s, nil
}

// inFolders puts the setups that folders hold, at any depth, in the folders' place
// among the operands. Problems are those of the folders, and setups of one code.
func (c *call) inFolders() (setup.Problems, error) {
	isFolder := func(name string) bool {
		info, err := os.Stat(name)
		return err == nil && info.IsDir()
	}
	if !slices.ContainsFunc(c.operands, isFolder) {
		return nil, nil
	}
	var names, paths []string
	for _, name := range c.operands {
		if name == "-" {
			names = append(names, name)
		} else {
			paths = append(paths, name)
		}
	}
	s, err := c.shelf(paths, func(it *binder.Item) { it.Setup = nil })
	if err != nil {
		return nil, err
	}
	for _, it := range s.Items {
		names = append(names, it.Path)
	}
	c.operands = names
	return s.Problems, nil
}

// shelfErrors are the problems that are told to one who only looks through a
// shelf: its own, and the errors of its setups. Two setups of one code matter only
// where codes are what they go by.
func shelfErrors(s *binder.Shelf, codes bool) setup.Problems {
	return slices.DeleteFunc(s.All(), func(p setup.Problem) bool {
		return !told(p) || p.Code == "code-twice" && !codes
	})
}

// told says whether a problem is told where many setups are gone through: an error,
// or what is left out of them.
func told(p setup.Problem) bool {
	return p.Level == setup.Error || p.Code == "link-out" || p.Code == "empty-section"
}
