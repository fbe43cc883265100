package setup

import (
	"sync"

	"stopleaf/setup/grammar"
)

// Shared keeps what several setups name alike while they are read, so that it is
// read once. It may be used side by side. The zero value is empty.
type Shared struct {
	mu    sync.Mutex
	gears map[string]func() gearFile // by path
}

// gearFile is a gear file as written; top is nil where it is broken.
type gearFile struct {
	top      *written
	problems Problems
	err      error // it cannot be read
}

// gear reads a gear file, or gives what was read before.
func (s *Shared) gear(path string) gearFile {
	if s == nil {
		return readGearFile(path)
	}
	s.mu.Lock()
	read, ok := s.gears[path]
	if !ok {
		if s.gears == nil {
			s.gears = map[string]func() gearFile{}
		}
		read = sync.OnceValue(func() gearFile { return readGearFile(path) })
		s.gears[path] = read
	}
	s.mu.Unlock()
	return read()
}

func readGearFile(path string) gearFile {
	src, err := readFile(path)
	if err != nil {
		return gearFile{err: err}
	}
	root, problems := document(path, src, "setup")
	if problems != nil {
		return gearFile{problems: problems}
	}
	l := &log{}
	w := writer{log: l, file: path, top: "setup"}
	w.anchors(root)
	top := w.mapping(root, grammar.Find("gear"), "the gear file")
	return gearFile{top: top, problems: l.problems}
}
