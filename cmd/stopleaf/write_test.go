package main

import (
	"bytes"
	"errors"
	"io"
	"math/rand"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestWriteKeepsPermissionsAndLinks(t *testing.T) {
	dir := t.TempDir()
	real := filepath.Join(dir, "real.pdf")
	require.NoError(t, os.WriteFile(real, []byte("old"), 0o600))
	link := filepath.Join(dir, "link.pdf")
	require.NoError(t, os.Symlink("real.pdf", link))

	require.NoError(t, writeFiles([]file{{link, []byte("new")}}, false))

	assert.Equal(t, "new", read(t, real))
	info, err := os.Stat(real)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o600), info.Mode().Perm())
	info, err = os.Lstat(link)
	require.NoError(t, err)
	assert.NotZero(t, info.Mode()&os.ModeSymlink, "the link is still a link")
	assert.Equal(t, []string{"link.pdf", "real.pdf"}, entries(t, dir))
}

func TestWriteNewFileHasTheMaskedPermissions(t *testing.T) {
	dir := t.TempDir()
	plain := filepath.Join(dir, "plain")
	require.NoError(t, os.WriteFile(plain, nil, 0o666))
	ours := filepath.Join(dir, "ours")
	require.NoError(t, writeFiles([]file{{ours, []byte("x")}}, false))
	want, err := os.Stat(plain)
	require.NoError(t, err)
	got, err := os.Stat(ours)
	require.NoError(t, err)
	assert.Equal(t, want.Mode(), got.Mode())
}

func TestWriteAllOrNone(t *testing.T) {
	for _, keep := range []bool{false, true} {
		dir := t.TempDir()
		err := writeFiles([]file{
			{filepath.Join(dir, "a.svg"), []byte("a")},
			{filepath.Join(dir, "missing", "b.svg"), []byte("b")},
		}, keep)
		var failed *fileError
		require.ErrorAs(t, err, &failed)
		assert.Contains(t, failed.hint, "make the folder")
		assert.Empty(t, entries(t, dir))
	}
}

func TestWriteKeepLeavesWhatIsThere(t *testing.T) {
	dir := t.TempDir()
	there := filepath.Join(dir, "b")
	require.NoError(t, os.WriteFile(there, []byte("mine"), 0o666))
	err := writeFiles([]file{{filepath.Join(dir, "a"), []byte("a")}, {there, []byte("b")}}, true)
	require.Error(t, err)
	assert.Equal(t, "mine", read(t, there))
	assert.Equal(t, []string{"b"}, entries(t, dir))
}

// A file that appears between the look and the write is not overwritten either.
func TestPlaceKeepLosesTheRace(t *testing.T) {
	for _, few := range []bool{true, false} {
		dir := t.TempDir()
		path := filepath.Join(dir, "a")
		target, err := stage(file{path, []byte("ours")}, true, few)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(path, []byte("theirs"), 0o666))
		assert.ErrorIs(t, target.place(true), os.ErrExist)
		target.temp.drop()
		assert.Equal(t, "theirs", read(t, path))
		assert.Equal(t, []string{"a"}, entries(t, dir))
	}
}

func TestWriteWithNamedTemporaries(t *testing.T) {
	dir := t.TempDir()
	var files []file
	for i := 0; i <= fewFiles; i++ {
		files = append(files, file{filepath.Join(dir, pageName("p.svg", i, fewFiles+1)), []byte("page")})
	}
	require.NoError(t, writeFiles(files, false))
	require.NoError(t, writeFiles(files, false), "over what is there")
	assert.Len(t, entries(t, dir), fewFiles+1)
	for _, f := range files {
		assert.Equal(t, "page", read(t, f.name))
	}
}

func TestWriteRefusesReadOnlyFile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.pdf")
	require.NoError(t, os.WriteFile(path, []byte("old"), 0o444))
	err := writeFiles([]file{{path, []byte("new")}}, false)
	require.ErrorContains(t, err, "read-only")
	assert.Equal(t, "old", read(t, path))
}

func TestWriteToADevice(t *testing.T) {
	require.NoError(t, writeFiles([]file{{os.DevNull, []byte("x")}}, false))
	info, err := os.Stat(os.DevNull)
	require.NoError(t, err)
	assert.False(t, info.Mode().IsRegular(), "the device is still a device")
}

func TestReadOnlyFolder(t *testing.T) {
	dir := sample(t)
	folder := filepath.Join(dir, "shelf")
	require.NoError(t, os.Mkdir(folder, 0o777))
	lockFolder(t, folder)
	code, _, stderr := ran("card", filepath.Join(dir, "full.yaml"), "-o", filepath.Join(folder, "card.pdf"))
	assert.Equal(t, exitFiles, code)
	assert.Contains(t, stderr, "could not write")
	assert.NotContains(t, stderr, ".tmp", "the name of a temporary file is no news for a person")
	assert.Empty(t, entries(t, folder))
}

// lockFolder makes a folder that nothing can be written to: by its permissions,
// or for root, who may write anyway, by a read-only mount.
func lockFolder(t *testing.T, folder string) {
	t.Helper()
	if os.Geteuid() != 0 {
		require.NoError(t, os.Chmod(folder, 0o555))
		t.Cleanup(func() { os.Chmod(folder, 0o777) })
		return
	}
	mount(t, folder, "ro")
}

// mount puts a small file system in memory at folder, or skips the test where
// that is not allowed.
func mount(t *testing.T, folder, options string) {
	t.Helper()
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", options, "tmpfs", folder).CombinedOutput(); err != nil {
		t.Skipf("cannot mount a file system here: %s", out)
	}
	t.Cleanup(func() {
		if out, err := exec.Command("umount", folder).CombinedOutput(); err != nil {
			t.Errorf("umount: %s", out)
		}
	})
}

func TestFullDisk(t *testing.T) {
	dir := sample(t)
	disk := filepath.Join(dir, "disk")
	require.NoError(t, os.Mkdir(disk, 0o777))
	mount(t, disk, "size=16k")
	card := filepath.Join(disk, "card.pdf")
	require.NoError(t, os.WriteFile(card, []byte("the old card"), 0o666))
	for _, keep := range []bool{true, false} {
		name := card
		if keep {
			name = filepath.Join(disk, "other.pdf")
		}
		err := writeFiles([]file{{name, bytes.Repeat([]byte("x"), 1<<20)}}, keep)
		require.ErrorContains(t, err, "no space left")
	}
	code, _, stderr := ran("card", filepath.Join(dir, "full.yaml"), "-o", card)
	assert.Equal(t, exitFiles, code)
	assert.Contains(t, stderr, "no space left")
	assert.Equal(t, []string{"card.pdf"}, entries(t, disk))
	assert.Equal(t, "the old card", read(t, card))
}

// TestFileTooLarge is a full disk that needs no rights: the shell's limit on
// the size of files.
func TestFileTooLarge(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no limit on files here")
	}
	dir := sample(t)
	before := entries(t, dir)
	cmd := exec.Command("sh", "-c", "ulimit -f 2; exec stopleaf card full.yaml -o card.pdf 2>&1 | cat")
	cmd.Dir = dir
	out, err := cmd.CombinedOutput()
	require.NoError(t, err)
	assert.Contains(t, string(out), "file too large")
	assert.Equal(t, before, entries(t, dir))
}

// writeForever writes one file over and over, all of one letter, until it is
// killed.
func writeForever() {
	path := os.Args[1]
	for i := 0; ; i++ {
		data := bytes.Repeat([]byte{'a' + byte(i%26)}, 1<<20)
		if err := writeFiles([]file{{path, data}}, false); err != nil {
			os.Stderr.WriteString(err.Error())
			os.Exit(exitFiles)
		}
	}
}

func TestKilledDuringAWrite(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "card.pdf")
	require.NoError(t, os.WriteFile(path, bytes.Repeat([]byte("-"), 1<<20), 0o666))
	random := rand.New(rand.NewSource(1))
	written := 0
	for range 25 {
		cmd := exec.Command("stopleaf-writing", path)
		var said bytes.Buffer
		cmd.Stderr = &said
		require.NoError(t, cmd.Start())
		time.Sleep(time.Duration(20+random.Intn(40)) * time.Millisecond)
		require.NoError(t, cmd.Process.Kill())
		_ = cmd.Wait()
		assert.Empty(t, said.String())
		data := read(t, path)
		require.Len(t, data, 1<<20)
		require.Equal(t, string(bytes.Repeat([]byte{data[0]}, 1<<20)), data, "one whole version")
		if data[0] != '-' {
			written++
		}
	}
	assert.NotZero(t, written, "none of the writers got to write")
	if runtime.GOOS == "linux" {
		// A writer killed between link and rename leaves its whole file under
		// the other name; none ever leaves a part of one.
		for _, name := range entries(t, dir) {
			left := read(t, filepath.Join(dir, name))
			require.Len(t, left, 1<<20, name)
			assert.Equal(t, string(bytes.Repeat([]byte{left[0]}, 1<<20)), left, name)
		}
	}
}

func TestOutputIsAnInput(t *testing.T) {
	dir := sample(t)
	full, gear := filepath.Join(dir, "full.yaml"), filepath.Join(dir, "gear.yaml")
	hard, soft := filepath.Join(dir, "hard.pdf"), filepath.Join(dir, "soft.svg")
	require.NoError(t, os.Link(gear, hard))
	require.NoError(t, os.Symlink("full.yaml", soft))
	before := []string{read(t, full), read(t, gear)}
	for _, args := range [][]string{
		{"card", full, "-o", hard},
		{"card", full, "-o", soft},
		{"plan", full, "-o", soft},
		{"numbers", full, "-o", full},
		{"numbers", full, "-o", filepath.Join(dir, ".", "gear.yaml")},
		{"proof", full, "-o", full},
	} {
		code, _, stderr := ran(args...)
		assert.Equal(t, exitUsage, code, args)
		assert.Contains(t, stderr, "never written to", args)
	}
	assert.Equal(t, before, []string{read(t, full), read(t, gear)})
}

// failing is a stream that takes nothing.
type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, io.ErrShortWrite }

func TestStandardOutputFails(t *testing.T) {
	dir := sample(t)
	for _, args := range [][]string{
		{"numbers", filepath.Join(dir, "full.yaml")}, {"card", filepath.Join(dir, "full.yaml"), "-o", "-"}, {"schema"}, {"help"}, {"version"},
	} {
		var errs bytes.Buffer
		code := run(args, bytes.NewReader(nil), failing{}, &errs)
		assert.Equal(t, exitFiles, code, args)
		assert.Contains(t, errs.String(), "could not write to standard output", args)
	}
}

// TestBrokenPipe: whoever read the output has gone. The program ends without a
// word, by the signal as others do, or with its code for writing.
func TestBrokenPipe(t *testing.T) {
	dir := sample(t)
	r, w, err := os.Pipe()
	require.NoError(t, err)
	r.Close()
	defer w.Close()
	cmd := exec.Command("stopleaf", "numbers", filepath.Join(dir, "full.yaml"))
	var said bytes.Buffer
	cmd.Stdout, cmd.Stderr = w, &said
	err = cmd.Run()
	var exit *exec.ExitError
	require.True(t, errors.As(err, &exit), "ended as if all was well: %v", err)
	status := exit.Sys().(syscall.WaitStatus)
	if status.Signaled() {
		assert.Equal(t, syscall.SIGPIPE, status.Signal())
	} else {
		assert.Equal(t, exitFiles, status.ExitStatus())
	}
	assert.NotContains(t, said.String(), "panic")
	assert.NotContains(t, said.String(), "goroutine")
}
