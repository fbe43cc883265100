package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/cpu"
)

// documentsOf makes a card, a plan and the numbers with the program given, run
// in a folder of its own, from setups in another; "" is this process.
func documentsOf(t *testing.T, program, setup string) map[string]string {
	t.Helper()
	work := t.TempDir()
	out := map[string]string{}
	for name, args := range map[string][]string{
		"card.pdf":     {"card", setup},
		"card.svg":     {"card", setup, "--paper", "a4"},
		"plan.svg":     {"plan", setup},
		"card.png":     {"card", setup},
		"plan.jpg":     {"plan", setup, "--dpi", "96"},
		"plan.pdf":     {"plan", setup, "--view", "side"},
		"numbers.json": {"numbers", setup, "--json"},
		"numbers.txt":  {"numbers", setup},
	} {
		path := filepath.Join(work, name)
		args = append(args, "-o", path)
		if program == "" {
			code, _, stderr := ran(args...)
			require.Equal(t, exitDone, code, stderr)
		} else {
			elsewhere(t, work, program, args...)
		}
		for _, page := range entries(t, work) {
			out[page] = read(t, work, page)
		}
	}
	return out
}

// elsewhere runs a program in a folder, in another time zone and language.
func elsewhere(t *testing.T, dir, program string, args ...string) {
	t.Helper()
	cmd := exec.Command(program, args...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "TZ=Pacific/Auckland", "LANG=de_DE.UTF-8", "LC_ALL=de_DE.UTF-8")
	said, err := cmd.CombinedOutput()
	require.NoError(t, err, "%s", said)
}

// demoOf writes the demo with the program given, "" for this process, and gives
// every file of it.
func demoOf(t *testing.T, program string) map[string]string {
	t.Helper()
	folder := filepath.Join(t.TempDir(), "out")
	if program == "" {
		code, _, stderr := ran("demo", folder)
		require.Equal(t, exitDone, code, stderr)
	} else {
		elsewhere(t, t.TempDir(), program, "demo", folder)
	}
	out := map[string]string{}
	for _, name := range entries(t, folder) {
		out[name] = read(t, folder, name)
	}
	return out
}

func assertSame(t *testing.T, want, got map[string]string) {
	t.Helper()
	require.Len(t, got, len(want))
	for name := range want {
		assert.True(t, want[name] == got[name], "%s differs", name)
		assert.NotEmpty(t, got[name], name)
	}
}

func TestSameBytesEachTime(t *testing.T) {
	dir := sample(t)
	full := filepath.Join(dir, "full.yaml")
	first := documentsOf(t, "", full)
	assertSame(t, first, documentsOf(t, "", full)) // twice in this process
	assertSame(t, first, documentsOf(t, "stopleaf", full))
	assertSame(t, first, documentsOf(t, "stopleaf", full)) // in other processes, from other folders

	assertSame(t, demoOf(t, ""), demoOf(t, "stopleaf"))

	// The same files elsewhere, named from where they lie.
	moved := sample(t)
	t.Chdir(moved)
	assertSame(t, first, documentsOf(t, "", "full.yaml"))
	assertSame(t, first, documentsOf(t, "", filepath.Join("..", filepath.Base(moved), "full.yaml")))
}

// TestSameBytesOnAnotherProcessor builds the program with fused multiplication
// and wider instructions, as stand-in for another processor.
func TestSameBytesOnAnotherProcessor(t *testing.T) {
	if !cpu.X86.HasAVX2 || !cpu.X86.HasBMI2 || !cpu.X86.HasFMA {
		t.Skip("this processor cannot run GOAMD64=v3")
	}
	program := filepath.Join(t.TempDir(), "stopleaf-v3")
	build := exec.Command("go", "build", "-o", program, ".")
	build.Env = append(os.Environ(), "GOAMD64=v3")
	said, err := build.CombinedOutput()
	require.NoError(t, err, "%s", said)
	full := filepath.Join(sample(t), "full.yaml")
	assertSame(t, documentsOf(t, "", full), documentsOf(t, program, full))
	assertSame(t, demoOf(t, ""), demoOf(t, program))
}
