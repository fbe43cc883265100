package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/require"
)

// TestMain lets the tests run this very program as "stopleaf", and the helper
// that is killed in the middle of a write.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"stopleaf":         main,
		"stopleaf-writing": writeForever,
	})
}

// TestScripts runs the command line as people use it, a script for each
// command. Each begins in a folder that holds full.yaml, its gear.yaml and
// small.yaml.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "../../testdata/script",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("SOURCE_DATE_EPOCH", "")
			return os.CopyFS(env.WorkDir, os.DirFS("testdata"))
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"exits": cmdExits, "paper": cmdPaper},
	})
}

// cmdExits is "exits CODE program args...": the program must end with that very
// code.
func cmdExits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE program args")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	code := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		exit, ok := err.(*exec.ExitError)
		if !ok {
			ts.Fatalf("%v", err)
		}
		code = exit.ExitCode()
	}
	if code != want {
		ts.Fatalf("exit code %d, want %d", code, want)
	}
}

// sample gives a folder with the setups of testdata.
func sample(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(dir, os.DirFS("testdata")))
	return dir
}

// ran runs the program in this process.
func ran(args ...string) (code int, stdout, stderr string) {
	var out, errs bytes.Buffer
	code = run(args, strings.NewReader(""), &out, &errs)
	return code, out.String(), errs.String()
}

// entries lists a folder, hidden files too.
func entries(t *testing.T, dir string) []string {
	t.Helper()
	list, err := os.ReadDir(dir)
	require.NoError(t, err)
	var names []string
	for _, e := range list {
		names = append(names, e.Name())
	}
	return names
}

func read(t *testing.T, elem ...string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(elem...))
	require.NoError(t, err)
	return string(data)
}
