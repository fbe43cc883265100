package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// transcript is a stream that two goroutines use.
type transcript struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *transcript) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.Write(p)
}

func (s *transcript) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.String()
}

// watching starts a watching command and gives a function that waits until the
// words were said so many times, and one that interrupts it and gives the exit
// code.
func watching(t *testing.T, args ...string) (said func(words string, times int), end func() int) {
	ctx, cancel := context.WithCancel(context.Background())
	var log transcript
	code := make(chan int, 1)
	go func() { code <- runContext(ctx, args, strings.NewReader(""), &log, &log) }()
	said = func(words string, times int) {
		t.Helper()
		require.Eventually(t, func() bool { return strings.Count(log.String(), words) >= times },
			20*time.Second, 5*time.Millisecond, "waiting for %q", words)
	}
	end = func() int {
		t.Helper()
		cancel()
		select {
		case c := <-code:
			return c
		case <-time.After(20 * time.Second):
			t.Fatalf("does not end; it said:\n%s", log.String())
			return -1
		}
	}
	t.Cleanup(cancel)
	return said, end
}

func replace(t *testing.T, path, old, new string) []byte {
	t.Helper()
	text := read(t, path)
	require.Contains(t, text, old)
	return []byte(strings.Replace(text, old, new, 1))
}

func TestWatch(t *testing.T) {
	dir := sample(t)
	full, gear, out := filepath.Join(dir, "full.yaml"), filepath.Join(dir, "gear.yaml"), filepath.Join(dir, "plan.svg")
	said, end := watching(t, "plan", full, "-o", out, "--watch")
	said("watching", 1)
	first := read(t, out)

	// Saved in place.
	require.NoError(t, os.WriteFile(full, replace(t, full, "Bread & butter", "Cheese"), 0o666))
	said("full.yaml changed", 1)
	said("watching", 2)
	second := read(t, out)
	assert.NotEqual(t, first, second)
	assert.Contains(t, second, "Cheese")

	// Saved as editors do: written beside, then renamed.
	temp := filepath.Join(dir, "4913~")
	require.NoError(t, os.WriteFile(temp, replace(t, full, "Cheese", "Butter"), 0o666))
	require.NoError(t, os.Rename(temp, full))
	said("watching", 3)
	assert.Contains(t, read(t, out), "Butter")

	// And again, for the first rename took away the file that was watched.
	require.NoError(t, os.WriteFile(temp, replace(t, full, "Butter", "Milk"), 0o666))
	require.NoError(t, os.Rename(temp, full))
	said("watching", 4)
	assert.Contains(t, read(t, out), "Milk")

	// A mistake is told and does not end it; the drawing stays.
	good := read(t, full)
	require.NoError(t, os.WriteFile(full, []byte("title: [\n"), 0o666))
	said("full.yaml:", 1)
	said("watching", 5)
	assert.Contains(t, read(t, out), "Milk")

	// The file is away for a while.
	require.NoError(t, os.Remove(full))
	said("could not read", 1)
	said("watching", 6)
	require.NoError(t, os.WriteFile(full, []byte(good), 0o666))
	said("watching", 7)

	// The gear file.
	require.NoError(t, os.WriteFile(gear, replace(t, gear, "energy: 400", "energy: 401"), 0o666))
	said("gear.yaml changed", 1)
	said("watching", 8)

	// Another file in the folder is nobody's business.
	require.NoError(t, os.WriteFile(filepath.Join(dir, "shopping.txt"), []byte("flour"), 0o666))
	time.Sleep(3 * quiet)

	assert.Equal(t, exitDone, end())
	assert.NotContains(t, strings.Join(entries(t, dir), " "), ".tmp")
}

func TestWatchWaitsForThePhoto(t *testing.T) {
	dir := sample(t)
	full := filepath.Join(dir, "full.yaml")
	text := "photos:\n  - {file: result.jpg, shows: result}\n"
	require.NoError(t, os.WriteFile(full, append([]byte(read(t, full)), text...), 0o666))
	said, end := watching(t, "card", full, "-o", filepath.Join(dir, "card.pdf"), "--watch")
	said("watching", 1)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "result.jpg"), []byte("no picture"), 0o666))
	said("result.jpg changed", 1)
	assert.Equal(t, exitDone, end())
}

func TestWatchFolder(t *testing.T) {
	dir := sample(t)
	out := filepath.Join(t.TempDir(), "cards.pdf")
	said, end := watching(t, "card", dir, "-o", out, "--watch")
	said("watching", 1)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "third.yaml"), []byte(read(t, dir, "small.yaml")), 0o666))
	said("third.yaml changed", 1)
	said("watching", 2)
	assert.Equal(t, exitDone, end())
}

func TestWatchRefuses(t *testing.T) {
	dir := sample(t)
	for _, args := range [][]string{
		{"card", "-", "--watch"},
		{"card", filepath.Join(dir, "full.yaml"), "--watch", "-o", "-"},
		{"card", filepath.Join(dir, "full.yaml"), "--watch", "-o", filepath.Join(dir, "gear.pdf"), "--base", "soft"},
	} {
		code, _, stderr := ran(args...)
		assert.Equal(t, exitUsage, code, "%v: %s", args, stderr)
	}
}
