package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// terminal opens a terminal of its own: what is written to one end is read
// from the other.
func terminal(t *testing.T) (near, far *os.File) {
	t.Helper()
	far, err := os.OpenFile("/dev/ptmx", os.O_RDWR|unix.O_NOCTTY, 0)
	if err != nil {
		t.Skipf("no terminals here: %v", err)
	}
	t.Cleanup(func() { far.Close() })
	require.NoError(t, unix.IoctlSetPointerInt(int(far.Fd()), unix.TIOCSPTLCK, 0))
	n, err := unix.IoctlGetInt(int(far.Fd()), unix.TIOCGPTN)
	require.NoError(t, err)
	near, err = os.OpenFile(fmt.Sprintf("/dev/pts/%d", n), os.O_RDWR|unix.O_NOCTTY, 0)
	if err != nil {
		t.Skipf("no terminals here: %v", err)
	}
	t.Cleanup(func() { near.Close() })
	return near, far
}

func TestProgressOnATerminalOnly(t *testing.T) {
	near, far := terminal(t)
	step := (&call{stderr: near}).progress("reading", 2)
	step(0)
	step(1)
	step(2)
	buffer := make([]byte, 1000)
	require.NoError(t, far.SetReadDeadline(time.Time{}), "the terminal answers")
	n, err := far.Read(buffer)
	require.NoError(t, err)
	for !bytes.HasSuffix(buffer[:n], []byte("2 of 2\r\x1b[K")) {
		more, err := far.Read(buffer[n:])
		require.NoError(t, err)
		n += more
	}
	assert.Equal(t, "\r\x1b[Kreading 1 of 2\r\x1b[Kreading 2 of 2\r\x1b[K", string(buffer[:n]))

	// A file, a single setup, an editor: silence.
	quiet, err := os.Create(t.TempDir() + "/messages")
	require.NoError(t, err)
	defer quiet.Close()
	for _, c := range []struct {
		call  *call
		total int
	}{
		{&call{stderr: quiet}, 2},
		{&call{stderr: near}, 1},
		{&call{stderr: near, set: map[string]string{"problems": "json"}}, 2},
	} {
		step := c.call.progress("reading", c.total)
		step(0)
		step(c.total)
	}
	info, err := quiet.Stat()
	require.NoError(t, err)
	assert.Zero(t, info.Size())
	_, err = near.WriteString("!")
	require.NoError(t, err)
	n, err = far.Read(buffer)
	require.NoError(t, err)
	assert.Equal(t, "!", string(buffer[:n]))
}

// A binder tells how far it is, first of the reading, then of the printing, and
// leaves the line clear for what it says at the end.
func TestBinderTellsHowFarItIs(t *testing.T) {
	near, far := terminal(t)
	dir := t.TempDir()
	writeSetups(t, dir, 3)
	code := make(chan int)
	go func() {
		got := run([]string{"binder", dir, "--photos", "skip", "-o", filepath.Join(t.TempDir(), "b.pdf")}, nil, nil, near)
		near.WriteString("that is all")
		code <- got
	}()
	var told []byte
	buffer := make([]byte, 1000)
	for !bytes.Contains(told, []byte("that is all")) {
		n, err := far.Read(buffer)
		require.NoError(t, err)
		told = append(told, buffer[:n]...)
	}
	assert.Equal(t, exitDone, <-code)
	for _, s := range []string{"\r\x1b[Kreading 3 of 3\r\x1b[K", "\r\x1b[Kprinting 2 of 7\r\x1b[K", "\r\x1b[Kprinting 7 of 7\r\x1b[Kwrote "} {
		assert.Contains(t, string(told), s)
	}
}
