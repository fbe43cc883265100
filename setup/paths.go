package setup

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// inside resolves a path written in the file and reports whether it stays in
// the root, links followed. A file that does not exist is judged by the part of
// its path that does.
func (m *meaning) inside(written string) (path string, ok bool) {
	path = filepath.FromSlash(written)
	if !filepath.IsAbs(path) {
		path = filepath.Join(m.dir, path)
	}
	if m.opt.AllowOutside {
		return path, true
	}
	abs, err := filepath.Abs(path)
	if err != nil {
		return path, false
	}
	return path, under(m.s.Root, abs) && under(m.opt.Shared.folder(m.s.Root), m.opt.Shared.links(abs))
}

// links follows symbolic links as far as the path exists.
func links(path string) string {
	rest := ""
	for at := path; ; {
		if real, err := filepath.EvalSymlinks(at); err == nil {
			return filepath.Join(real, rest)
		} else if !errors.Is(err, fs.ErrNotExist) {
			return "" // a ring of links or a folder that may not be read: not inside
		}
		if _, err := os.Lstat(at); err == nil {
			return "" // a link to nowhere
		}
		up := filepath.Dir(at)
		if up == at {
			return path
		}
		rest = filepath.Join(filepath.Base(at), rest)
		at = up
	}
}

func under(root, path string) bool {
	rel, err := filepath.Rel(root, path)
	return err == nil && rel != ".." && !strings.HasPrefix(rel, ".."+string(filepath.Separator)) && !filepath.IsAbs(rel)
}

// path takes a file named by the setup; "" when it may not be opened.
func (m *meaning) path(w *written, what string) string {
	if !m.isText(w, "path") {
		return ""
	}
	if strings.ContainsRune(w.text, 0) || len(w.text) > 1000 {
		m.err(w.pos, "bad-path", "this is no path of a file", "")
		return ""
	}
	path, ok := m.inside(w.text)
	if !ok {
		m.err(w.pos, "outside", what+" "+quote(w.text)+" is outside the folder of the setup",
			"put it in the setup's folder, or a house file \""+houseFile+"\" above both, or allow it with --allow-outside")
		return ""
	}
	return path
}

// photos loads the pictures. One that is missing is a warning and leaves a
// ruled space; one that is there and cannot be used is an error.
func (m *meaning) photos(w *written) {
	if w == nil {
		return
	}
	for _, item := range w.items {
		file := item
		p := Photo{Where: item.where()}
		if item.kind == isMap {
			file = item.get("file")
			p.Caption = line(item.get("caption"))
			p.Shows = m.openWord(item.get("shows"), wordsOf("photo", "shows"), "kind of photo")
			if file == nil {
				m.err(item.pos, "no-file", "a photo has no \"file\"", "write the name of the picture, relative to the setup file")
				continue
			}
		}
		if p.Shows == "" {
			p.Shows = "result"
		}
		p.File, p.at = line(file), file.pos
		if p.Path = m.path(file, "the photo"); p.Path == "" {
			continue
		}
		m.s.Files = append(m.s.Files, p.Path)
		if !m.opt.NoPhotos {
			m.load(&p)
		}
		m.s.Photos = append(m.s.Photos, p)
	}
}

// WithPhotos gives a setup that was read with NoPhotos with its photos, and what
// is wrong with them; everything else of it is shared.
func (s *Setup) WithPhotos(opt Options) (*Setup, Problems) {
	m := meaning{log: &log{}, opt: opt}
	out := *s
	out.Photos = slices.Clone(s.Photos)
	for i := range out.Photos {
		m.load(&out.Photos[i])
	}
	m.problems.Sort()
	return &out, m.problems
}

func (m *meaning) load(p *Photo) {
	info, err := os.Stat(p.Path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		p.Err = errors.New("there is no such file")
		m.warn(p.at, "photo-missing", "the photo "+quote(p.File)+" is not there", "the page keeps a ruled space for it")
		return
	case err != nil:
		p.Err = plainError(err)
	case !info.Mode().IsRegular():
		p.Err = errors.New("is not a plain file")
	default:
		p.Picture, p.Err = m.opt.Shared.photo(p.Path, info.Size())
	}
	if p.Err != nil {
		p.Picture = nil
		m.add(brokenPhoto(p.File, p.at, p.Err, m.opt.SkipPhotos))
		return
	}
	for _, w := range p.Picture.Warnings {
		m.warn(p.at, "photo-colour", "the photo "+quote(p.File)+": "+w, "")
	}
}

// brokenPhoto is a photo that is there and cannot be used.
func brokenPhoto(file string, pos Pos, err error, skip bool) Problem {
	p := Problem{Pos: pos, Level: Error, Code: "photo", Message: "the photo " + quote(file) + " cannot be used: " + err.Error(),
		Hint: "put a whole JPEG, PNG, TIFF or WebP in its place, or take it out of \"photos\"; --photos skip prints the page without it"}
	if skip {
		p.Level, p.Hint = Warning, "the page keeps a ruled space for it"
	}
	return p
}

// BrokenPhotos gives the photos of which it came out only when they were made
// ready for a page that they are damaged: errors, or warnings where such are to
// be skipped.
func (s *Setup) BrokenPhotos(skip bool) (problems Problems) {
	for _, p := range s.Photos {
		if p.Picture == nil {
			continue
		}
		if err := p.Picture.Err(); err != nil {
			problems = append(problems, brokenPhoto(p.File, p.at, err, skip))
		}
	}
	return problems
}
