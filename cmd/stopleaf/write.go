package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// file is one output, finished in memory.
type file struct {
	name string
	data []byte
}

// fileError is something that could not be read or written.
type fileError struct{ message, hint string }

func (e *fileError) Error() string { return e.message }

// target is one output on its way to the disk: its data stands whole, and
// synced, in temp until it is put at path. temp is nil for what is no regular
// file, which is written straight.
type target struct {
	file
	path string
	temp *tempFile
}

// fewFiles is how many files may be held open at once.
const fewFiles = 100

// writeFiles writes every file whole, or none. Each is written beside its
// target, synced, and only when all are there are they given their names, so
// that a reader finds the old file or the new one, never a part. With keep, a
// file that exists is an error and stays as it is.
func writeFiles(files []file, keep bool) error {
	var targets []*target
	defer func() {
		for _, t := range targets {
			t.temp.drop()
		}
	}()
	for _, f := range files {
		t, err := stage(f, keep, len(files) <= fewFiles)
		if t != nil {
			targets = append(targets, t)
		}
		if err != nil {
			return cannotWrite(f.name, err)
		}
	}
	for i, t := range targets {
		if err := t.place(keep); err != nil {
			if keep {
				for _, placed := range targets[:i] {
					os.Remove(placed.path)
				}
			}
			return cannotWrite(t.name, err)
		}
	}
	syncFolders(targets)
	return nil
}

// stage writes one file beside its target. A link is followed, so that it
// stays a link.
func stage(f file, keep, few bool) (*target, error) {
	path, mode, regular, err := resolve(f.name, keep)
	if err != nil {
		return nil, err
	}
	t := &target{file: f, path: path}
	if !regular {
		return t, nil
	}
	if t.temp, err = openTemp(path, few); err != nil {
		return nil, err
	}
	return t, t.temp.fill(f.data, mode)
}

// resolve follows links and says what stands at the end: the mode of a file
// that is there (0 when there is none), and whether it is, or will be, a
// regular file.
func resolve(name string, keep bool) (path string, mode fs.FileMode, regular bool, err error) {
	path = name
	if real, err := filepath.EvalSymlinks(name); err == nil {
		path = real
	}
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return path, 0, true, nil
	case err != nil:
		return path, 0, true, err
	case keep:
		return path, 0, true, fs.ErrExist
	case info.IsDir():
		return path, 0, true, errors.New("it is a folder")
	case !info.Mode().IsRegular():
		return path, 0, false, nil
	case info.Mode().Perm()&0o200 == 0:
		return path, 0, true, errors.New("it is marked read-only")
	}
	return path, info.Mode().Perm(), true, nil
}

// place puts the finished file under its own name.
func (t *target) place(keep bool) error {
	switch {
	case t.temp != nil && keep:
		return t.temp.link(t.path)
	case t.temp != nil:
		return t.temp.rename(t.path)
	}
	f, err := os.OpenFile(t.path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	_, err = f.Write(t.data)
	if closed := f.Close(); err == nil {
		err = closed
	}
	return err
}

// syncFolders makes the new names last. Not every file system can; the files
// are whole either way.
func syncFolders(targets []*target) {
	done := map[string]bool{}
	for _, t := range targets {
		dir := filepath.Dir(t.path)
		if done[dir] {
			continue
		}
		done[dir] = true
		if d, err := os.Open(dir); err == nil {
			_ = d.Sync()
			d.Close()
		}
	}
}

// cannotWrite says for a person why a file was not written.
func cannotWrite(name string, err error) error {
	e := &fileError{message: fmt.Sprintf("could not write %q: %s", name, reason(err))}
	switch {
	case errors.Is(err, fs.ErrExist):
		e.hint = "it is left as it is; choose another name, or move it away first"
	case errors.Is(err, fs.ErrNotExist):
		e.hint = fmt.Sprintf("make the folder %q first", filepath.Dir(name))
	}
	return e
}

// reason is an error of the system without the name of the call and of the
// file, which may be a temporary one.
func reason(err error) string {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.Is(err, fs.ErrExist):
		return "a file of that name is already there"
	case errors.Is(err, fs.ErrNotExist):
		return "there is no such file or folder"
	case errors.Is(err, fs.ErrPermission):
		return "it is not allowed"
	case errors.As(err, &path):
		return path.Err.Error()
	case errors.As(err, &link):
		return link.Err.Error()
	}
	return strings.TrimSpace(err.Error())
}

// guardInputs refuses an output that is one of the files that were read,
// however it is spelt or linked.
func guardInputs(outputs []file, inputs []string) error {
	for _, out := range outputs {
		info, err := os.Stat(out.name)
		if err != nil {
			continue
		}
		for _, in := range inputs {
			other, err := os.Stat(in)
			if err == nil && os.SameFile(info, other) {
				return &usageError{fmt.Sprintf("-o %q is a file that was read (%q), and those are never written to", out.name, in),
					"give the output another name"}
			}
		}
	}
	return nil
}
