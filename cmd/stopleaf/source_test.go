package main

import (
	"bytes"
	"compress/flate"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/recovery"
)

// secretSetup has something private in each place that may have it. Its gear
// and house files have nothing.
const secretSetup = `# zebra comment
title: Bread maker
private: zebra file
camera: {distance: 3, lens: 85 mm, private: zebra camera}
subject: {face: 1.5, private: zebra subject}
background: {kind: grey canvas, private: zebra background}
gear: gear.yaml
lights:
  - {name: Key, role: key, head: big, modifier: octabox 1.2, place: {right: 1, front: 1, height: 2}, note: pear note, private: zebra key}
  - name: Fill
    role: fill
    delta: 1 under
    private: |
      zebra fill
      on two lines
grip:
  - {name: Flag, kind: flag, place: {right: 1, behind: 1, height: 2}, private: zebra flag}
`

// drawn makes every document in every format of the setup in dir, and gives the
// files.
func drawn(t *testing.T, dir string, more ...string) map[string]string {
	t.Helper()
	work := t.TempDir()
	for _, cmd := range []string{"card", "stands", "sheet", "plan", "blank", "pack", "binder"} {
		for _, ending := range []string{"pdf", "svg", "png", "jpg"} {
			if cmd == "binder" && ending != "pdf" {
				continue
			}
			args := append([]string{cmd, filepath.Join(dir, "tuesday.yaml"), "-o", filepath.Join(work, cmd+"."+ending)}, more...)
			if ending == "png" || ending == "jpg" {
				args = append(args, "--dpi", "72")
			}
			code, _, stderr := ran(args...)
			require.Equal(t, exitDone, code, "%v\n%s", args, stderr)
		}
	}
	out := map[string]string{}
	for _, name := range entries(t, work) {
		out[name] = read(t, work, name)
	}
	require.Greater(t, len(out), 20)
	return out
}

// unfolded is a file, whatever in it is deflated, and the setups that its texts of
// codes hold.
func unfolded(file string) string {
	var out strings.Builder
	out.WriteString(file)
	for at := range len(file) - 2 {
		// the first two bytes of RFC 1950: deflate, a window of 32 kB
		if file[at] == 0x78 && (int(file[at])<<8|int(file[at+1]))%31 == 0 {
			data, _ := io.ReadAll(io.LimitReader(flate.NewReader(strings.NewReader(file[at+2:])), 1<<20))
			out.Write(data)
		}
	}
	for _, piece := range strings.Split(file, recovery.Mark+":")[1:] {
		text, _, _ := strings.Cut(piece, "<")
		found, _ := recovery.Read([]string{recovery.Mark + ":" + text})
		for _, f := range found {
			out.Write(f.File)
		}
	}
	return out.String()
}

// secretFolder holds a setup called tuesday.yaml, its gear and its house.
func secretFolder(t *testing.T, src string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{
		"tuesday.yaml": src, "stopleaf.yaml": "# apple house\nby: Halvard Studio\n",
		"gear.yaml": "# apple gear\nheads:\n  - {name: big, energy: 400 Ws}\n",
	} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	return dir
}

// What is private is in no file, not even packed; nor is a file as it was written
// that has such.
func TestNothingPrivateIsGivenAway(t *testing.T) {
	for name, file := range drawn(t, secretFolder(t, secretSetup)) {
		all := unfolded(file)
		assert.NotContains(t, all, "zebra", name)
		assert.NotContains(t, all, "apple", name)
		assert.Contains(t, all, "pear note", "%s: the setup is there", name)
	}
}

// Comments go with a file that has nothing private, and into PDF alone.
func TestFilesAsWritten(t *testing.T) {
	var open []string
	for line := range strings.Lines(secretSetup) {
		if line = strings.ReplaceAll(line, "private: zebra", "note: melon"); !strings.HasPrefix(line, "note:") {
			open = append(open, line)
		}
	}
	src := strings.NewReplacer(", note: melon key", "", "    private: |", "    note: |", "zebra fill", "melon fill").Replace(strings.Join(open, ""))
	dir := secretFolder(t, src)
	for name, file := range drawn(t, dir) {
		all := unfolded(file)
		assert.Equal(t, strings.HasSuffix(name, ".pdf"), strings.Contains(all, "# zebra comment"), name)
		assert.Equal(t, strings.HasSuffix(name, ".pdf"), strings.Contains(all, "# apple gear"), name)
		assert.Equal(t, strings.HasSuffix(name, ".pdf"), strings.Contains(all, "# apple house"), name)
	}
	for name, file := range drawn(t, dir, "--no-source") {
		all := unfolded(file)
		for _, bad := range []string{"zebra", "apple", "EmbeddedFile", recovery.Mark} {
			assert.False(t, bytes.Contains([]byte(all), []byte(bad)), "%s: %s", name, bad)
		}
	}
	// a word in a comment of the gear file is enough
	require.NoError(t, os.WriteFile(filepath.Join(dir, "gear.yaml"), []byte("# Private: apple\nheads:\n  - {name: big, energy: 400 Ws}\n"), 0o644))
	for name, file := range drawn(t, dir) {
		all := unfolded(file)
		assert.NotContains(t, all, "zebra", name)
		assert.NotContains(t, all, "apple", name)
	}
}
