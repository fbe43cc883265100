package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
)

// tempFile is a file being written beside its target. It has no name where the
// system can do that, so that not even a killed process leaves one; else a
// hidden name, which drop takes away.
type tempFile struct {
	file *os.File // nil once it is closed
	name string   // "" for a file without a name
}

// openTemp begins a temporary file for path, with the permissions that the
// user's mask leaves. few says that it may stay open until it is placed.
func openTemp(path string, few bool) (*tempFile, error) {
	if few {
		if f := openNameless(filepath.Dir(path)); f != nil {
			return &tempFile{file: f}, nil
		}
	}
	var t *tempFile
	err := eachTempName(path, func(name string) error {
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		t = &tempFile{file: f, name: name}
		return err
	})
	if err != nil {
		return nil, err
	}
	return t, nil
}

// eachTempName calls try with one hidden name after another until one is free.
func eachTempName(path string, try func(name string) error) error {
	dir, base := filepath.Split(path)
	if len(base) > 100 {
		base = base[:100]
	}
	for n := 0; ; n++ {
		err := try(filepath.Join(dir, "."+base+"."+strconv.Itoa(os.Getpid())+"-"+strconv.Itoa(n)+".tmp"))
		if !errors.Is(err, fs.ErrExist) || n == 1000 {
			return err
		}
	}
}

// fill writes the data and makes it last; mode 0 is left as it came.
func (t *tempFile) fill(data []byte, mode fs.FileMode) error {
	if err := t.allow(mode); err != nil {
		return err
	}
	if _, err := t.file.Write(data); err != nil {
		return err
	}
	return t.settle()
}

// allow gives the file its permissions; 0 leaves them as they came.
func (t *tempFile) allow(mode fs.FileMode) error {
	if mode == 0 {
		return nil
	}
	return t.file.Chmod(mode)
}

// settle makes what was written last.
func (t *tempFile) settle() error {
	if err := t.file.Sync(); err != nil || t.name == "" {
		return err
	}
	f := t.file
	t.file = nil
	return f.Close()
}

// rename puts the file at path, in place of what is there.
func (t *tempFile) rename(path string) error {
	if t.name == "" {
		err := eachTempName(path, func(name string) error {
			err := nameIt(t.file, name)
			if err == nil {
				t.name = name
			}
			return err
		})
		if err != nil {
			return err
		}
	}
	err := os.Rename(t.name, path)
	if err == nil {
		t.name = ""
	}
	return err
}

// link puts the file at path, where nothing may be.
func (t *tempFile) link(path string) error {
	if t.name == "" {
		return nameIt(t.file, path)
	}
	err := os.Link(t.name, path)
	if err == nil || errors.Is(err, fs.ErrExist) {
		return err
	}
	// A file system without hard links.
	if _, there := os.Lstat(path); there == nil {
		return fs.ErrExist
	}
	return t.rename(path)
}

// drop closes the file and takes away what has not been placed.
func (t *tempFile) drop() {
	if t == nil {
		return
	}
	if t.file != nil {
		t.file.Close()
	}
	if t.name != "" {
		os.Remove(t.name)
	}
}
