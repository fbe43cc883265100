package main

import (
	"os"
	"strconv"

	"golang.org/x/sys/unix"
)

// openNameless opens a file in dir that has no name yet; nil where the file
// system, or the lack of /proc, does not let it have one later.
func openNameless(dir string) *os.File {
	if _, err := os.Stat("/proc/self/fd"); err != nil {
		return nil
	}
	fd, err := unix.Open(dir, unix.O_TMPFILE|unix.O_RDWR|unix.O_CLOEXEC, 0o666)
	if err != nil {
		return nil
	}
	return os.NewFile(uintptr(fd), dir)
}

// nameIt gives a nameless file its name; the error is fs.ErrExist where the
// name is taken.
func nameIt(f *os.File, name string) error {
	from := "/proc/self/fd/" + strconv.Itoa(int(f.Fd()))
	if err := unix.Linkat(unix.AT_FDCWD, from, unix.AT_FDCWD, name, unix.AT_SYMLINK_FOLLOW); err != nil {
		return &os.LinkError{Op: "link", Old: from, New: name, Err: err}
	}
	return nil
}
