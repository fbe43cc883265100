// Package outside finds the programs of others that tests use as a second
// opinion: readers of PDF, of SVG, of metadata.
package outside

import (
	"os"
	"os/exec"
	"testing"
)

// Tool gives the path of a program. Where it is not installed the test is
// skipped, unless STOPLEAF_CI=1 says that everything must be there: then it
// fails.
func Tool(t testing.TB, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err == nil {
		return path
	}
	if os.Getenv("STOPLEAF_CI") == "1" {
		t.Fatalf("%s is not installed", name)
	}
	t.Skipf("%s is not installed", name)
	return ""
}

// Run runs a program and gives what it printed on both outputs; the test fails
// when it does not end with 0.
func Run(t testing.TB, name string, args ...string) string {
	t.Helper()
	out, err := exec.Command(Tool(t, name), args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %v: %v\n%s", name, args, err, out)
	}
	return string(out)
}
