package main

import (
	"errors"
	"io"
	"os"
)

// stream is one output that may be too large to be made in memory. What is
// written goes to a temporary file, and becomes the output, whole, when it is
// placed; dropped before that it leaves nothing behind.
type stream struct {
	name   string
	temp   *tempFile
	target *target   // what is a regular file, or will be
	to     io.Writer // else standard output, or nil for the device or pipe of that name
	err    error     // the first of those of writing
}

// openStream begins the output that -o names; "-" is standard output.
func (c *call) openStream(name string) (*stream, error) {
	s := &stream{name: name}
	if name == "-" {
		s.to = c.stdout
		return s, s.spool()
	}
	path, mode, regular, err := resolve(name, false)
	if err != nil {
		return nil, cannotWrite(name, err)
	}
	if !regular {
		return s, s.spool()
	}
	if s.temp, err = openTemp(path, true); err == nil {
		err = s.temp.allow(mode)
	}
	if err != nil {
		s.drop()
		return nil, cannotWrite(name, err)
	}
	s.target = &target{file: file{name: name}, path: path, temp: s.temp}
	return s, nil
}

// spool opens a file among the system's temporary ones, for what is written
// straight once it is whole.
func (s *stream) spool() error {
	if f := openNameless(os.TempDir()); f != nil {
		s.temp = &tempFile{file: f}
		return nil
	}
	f, err := os.CreateTemp("", "stopleaf-*")
	if err != nil {
		return &fileError{message: "could not write a temporary file: " + reason(err)}
	}
	s.temp = &tempFile{file: f, name: f.Name()}
	return nil
}

func (s *stream) Write(b []byte) (int, error) {
	n, err := s.temp.file.Write(b)
	if err != nil && s.err == nil {
		s.err = err
	}
	return n, err
}

// failed is why the output could not be written, if that is so; else the error
// given.
func (s *stream) failed(err error) error {
	if s.err != nil {
		return cannotWrite(s.name, s.err)
	}
	return err
}

// place makes what was written the output.
func (s *stream) place() error {
	var err error
	switch {
	case s.err != nil:
		err = s.err
	case s.target == nil:
		err = s.pour()
	default:
		if err = s.temp.settle(); err == nil {
			err = s.target.place(false)
		}
		syncFolders([]*target{s.target})
	}
	switch {
	case err == nil:
		return nil
	case s.to != nil:
		return &fileError{message: "could not write to standard output: " + reason(err)}
	}
	return cannotWrite(s.name, err)
}

// pour writes the temporary file to where it goes.
func (s *stream) pour() error {
	if _, err := s.temp.file.Seek(0, io.SeekStart); err != nil {
		return err
	}
	if s.to != nil {
		_, err := io.Copy(s.to, s.temp.file)
		return err
	}
	f, err := os.OpenFile(s.name, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	_, err = io.Copy(f, s.temp.file)
	return errors.Join(err, f.Close())
}

// drop takes away what has not been placed.
func (s *stream) drop() { s.temp.drop() }
