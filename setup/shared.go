package setup

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"sync"

	"stopleaf/setup/grammar"
	"stopleaf/setup/photo"
)

// Shared keeps what several setups name alike while they are read, so that it is
// read once. It may be used side by side. The zero value is empty.
type Shared struct {
	mu     sync.Mutex
	gears  map[string]func() gearFile // by path
	photos map[string]*sharedPhoto    // by path
	turn   int                        // of the last photo asked for
	held   int64                      // bytes of the photos
	real   map[string]string          // folders with links followed, by path
}

// sharedPhoto is a photo that was read, and when it was last asked for.
type sharedPhoto struct {
	read func() (*photo.Picture, error)
	size int64
	turn int
}

// mostHeld bounds the files of photos that are kept for further setups. One
// that was given away to make room is read again where it is named again.
const mostHeld = 64 << 20

// photo reads a photo of so many bytes, or gives what was read before.
func (s *Shared) photo(path string, size int64) (*photo.Picture, error) {
	if s == nil {
		return photo.Load(path)
	}
	s.mu.Lock()
	p, ok := s.photos[path]
	if !ok {
		if s.photos == nil {
			s.photos = map[string]*sharedPhoto{}
		}
		p = &sharedPhoto{read: sync.OnceValues(func() (*photo.Picture, error) { return photo.Load(path) }), size: size}
		s.photos[path] = p
		s.held += size
	}
	s.turn++
	p.turn = s.turn
	for s.held > mostHeld && len(s.photos) > 1 {
		s.giveAway()
	}
	s.mu.Unlock()
	return p.read()
}

// giveAway forgets the photo that was asked for longest ago.
func (s *Shared) giveAway() {
	oldest := ""
	for path, p := range s.photos {
		if oldest == "" || p.turn < s.photos[oldest].turn {
			oldest = path
		}
	}
	s.held -= s.photos[oldest].size
	delete(s.photos, oldest)
}

// gearFile is a gear file as written; top is nil where it is broken.
type gearFile struct {
	top      *written
	src      []byte
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
	return gearFile{top: top, src: src, problems: l.problems}
}

// links is links, its folder looked up once.
func (s *Shared) links(path string) string {
	if s == nil {
		return links(path)
	}
	folder := s.folder(filepath.Dir(path))
	info, err := os.Lstat(path)
	switch {
	case folder == "":
		return ""
	case err == nil && info.Mode()&fs.ModeSymlink == 0, errors.Is(err, fs.ErrNotExist):
		return filepath.Join(folder, filepath.Base(path))
	}
	return links(path)
}

// folder is links of a folder, which many paths have in common.
func (s *Shared) folder(path string) string {
	if s == nil {
		return links(path)
	}
	s.mu.Lock()
	real, ok := s.real[path]
	s.mu.Unlock()
	if ok {
		return real
	}
	real = links(path)
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.real == nil {
		s.real = map[string]string{}
	}
	s.real[path] = real
	return real
}
