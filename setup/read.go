package setup

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"gopkg.in/yaml.v3"

	"stopleaf/setup/grammar"
)

// Options says how a setup is read.
type Options struct {
	AllowOutside bool      // photo and gear paths may leave the root
	Stdin        io.Reader // what "-" reads
	NoPhotos     bool      // pictures are not loaded
	SkipPhotos   bool      // a picture that cannot be used is a warning, not an error
	Shared       *Shared   // for many setups: a gear file or a photo that several name is read once; nil for one setup
}

// Read reads a setup file, "-" for standard input, and what it names. The setup
// is nil when any problem is an error; warnings may come with a setup. Problems
// are sorted by place. The gear file and the photos are looked for from the
// folder of the setup, the working folder for standard input.
func Read(path string, opt Options) (*Setup, Problems) {
	src, err := readSource(path, opt)
	if err != nil {
		return nil, Problems{{Pos: Pos{File: path}, Level: Error, Code: "cannot-read", Message: err.Error()}}
	}
	return Parse(path, src, opt)
}

func readSource(path string, opt Options) ([]byte, error) {
	if path == "-" {
		if opt.Stdin == nil {
			return nil, errors.New("there is no standard input")
		}
		return bounded(opt.Stdin)
	}
	return readFile(path)
}

// readFile reads a plain file within the bound; what it says on failure names
// no path and no system call.
func readFile(path string) ([]byte, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, plainError(err)
	}
	if !info.Mode().IsRegular() {
		return nil, errors.New("is not a plain file")
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, plainError(err)
	}
	defer f.Close()
	return bounded(f)
}

func bounded(r io.Reader) ([]byte, error) {
	src, err := io.ReadAll(io.LimitReader(r, maxBytes+1))
	if err != nil {
		return nil, plainError(err)
	}
	return src, nil
}

func plainError(err error) error {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return errors.New("there is no such file")
	case errors.Is(err, fs.ErrPermission):
		return errors.New("may not be read")
	}
	var path *fs.PathError
	if errors.As(err, &path) {
		err = path.Err
	}
	return fmt.Errorf("cannot be read: %v", err)
}

// Parse reads a setup from bytes; name is the file they are called by in
// problems, and the folder its photos and gear are looked for from. It never
// panics, whatever the bytes.
func Parse(name string, src []byte, opt Options) (*Setup, Problems) {
	root, problems := document(name, src, "setup")
	if problems != nil {
		return nil, problems
	}
	return understand(name, src, root, opt)
}

// ReadFound is Read for a file come upon in a folder: ok is false, and nothing is
// said, where it is no setup (see IsSetup).
func ReadFound(path string, opt Options) (s *Setup, problems Problems, ok bool) {
	src, err := readSource(path, opt)
	if err != nil {
		return nil, Problems{{Pos: Pos{File: path}, Level: Error, Code: "cannot-read", Message: err.Error()}}, true
	}
	if !bytes.Contains(bytes.ToLower(src), []byte("lights")) {
		return nil, nil, false
	}
	root, problems := document(path, src, "setup")
	switch {
	case problems != nil:
		return nil, problems, lineBegins(src, "lights")
	case !hasLights(root):
		return nil, nil, false
	}
	s, problems = understand(path, src, root, opt)
	return s, problems, true
}

// understand gives the meaning of the one document of a file.
func understand(name string, src []byte, root *yaml.Node, opt Options) (*Setup, Problems) {
	l := &log{}
	w := writer{log: l, file: name, top: "setup"}
	w.anchors(root)
	top := w.mapping(root, grammar.Find("setup"), "the file")
	if top == nil {
		return nil, l.problems
	}
	m := &meaning{log: l, opt: opt, units: Metres, s: &Setup{File: name, Units: Metres, source: src}, dir: folderOf(name)}
	if name != "-" && name != "" {
		m.s.Files = append(m.s.Files, name)
	}
	m.house()
	m.setup(top)
	l.problems.Sort()
	if l.problems.HasErrors() {
		return nil, l.problems
	}
	return m.s, l.problems
}

func folderOf(name string) string {
	if name == "-" || name == "" {
		return "."
	}
	return filepath.Dir(name)
}

// setup reads the whole file in the order in which its parts need each other.
func (m *meaning) setup(top *written) {
	s := m.s
	s.Where, s.top = top.where(), top
	if u := m.word(top.get("units"), wordsOf("setup", "units")); u != "" {
		s.Units, m.units = Units(u), Units(u)
	}
	s.Title, s.By = line(top.get("title")), line(top.get("by"))
	m.settle(top)
	s.Code = line(top.get("code"))
	if s.Code == "" && s.File != "-" {
		s.Code = strings.TrimSuffix(filepath.Base(s.File), filepath.Ext(s.File))
	}
	s.Made = m.date(top.get("made"))
	s.Notes, s.Private = block(top.get("notes")), block(top.get("private"))
	for _, t := range m.texts(top.get("tags")) {
		if tag := line(t); tag != "" {
			s.Tags = append(s.Tags, tag)
		}
	}
	for _, t := range m.texts(top.get("hazards")) {
		if h := m.openWord(t, grammar.Hazards, "hazard"); h != "" {
			s.Hazards = append(s.Hazards, h)
		}
	}
	if s.Title == "" {
		m.warn(Pos{File: s.File}, "no-title", "the setup has no \"title\"", "say what the picture is")
	}
	m.exposure(top.get("exposure"))
	m.camera(top.get("camera"))
	m.subject(top.get("subject"))
	m.background(top.get("background"))
	m.room(top.get("room"))
	m.mains(top.get("mains"))
	m.readGear(top.get("gear"))
	m.ownPacks(top)
	m.everything(top)
	m.looks(top.get("looks"))
	m.photos(top.get("photos"))
}
