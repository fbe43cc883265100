package edit

import (
	"path/filepath"
	"strconv"

	"gopkg.in/yaml.v3"
)

// RelativePaths makes the paths of the gear file and of photos, which are taken
// from the file's own folder, lead where they led when the file is written as
// another. from and to are the two files' names. It gives what it changed; paths
// from the root of a disk stay.
func (s *Source) RelativePaths(from, to string) (changed []Path, err error) {
	old, err := filepath.Abs(filepath.Dir(from))
	if err != nil {
		return nil, err
	}
	dir, err := filepath.Abs(filepath.Dir(to))
	if err != nil || dir == old {
		return nil, err
	}
	for _, p := range s.pathKeys() {
		was, ok := s.Text(p)
		at := filepath.FromSlash(was)
		if !ok || was == "" || filepath.IsAbs(at) {
			continue
		}
		now, err := filepath.Rel(dir, filepath.Join(old, at))
		if err != nil {
			now = filepath.Join(old, at)
		}
		if now = filepath.ToSlash(now); now == was {
			continue
		}
		if err := s.Set(p, now); err != nil {
			return changed, err
		}
		changed = append(changed, p)
	}
	return changed, nil
}

// pathKeys are the paths of the values that name files.
func (s *Source) pathKeys() []Path {
	all := []Path{{"gear"}}
	f, err := s.find(Path{"photos"})
	if err != nil || !f.whole() {
		return all
	}
	n := follow(f.last())
	if n.Kind != yaml.SequenceNode {
		return all
	}
	for i, c := range n.Content {
		p := Path{"photos", strconv.Itoa(i)}
		if follow(c).Kind == yaml.MappingNode {
			p = append(p, "file")
		}
		all = append(all, p)
	}
	return all
}
