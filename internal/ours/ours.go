// Package ours finds the setups that the program brings along, for tests that try
// every one of them.
package ours

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"stopleaf/setup"
)

// Files are the paths of the demos' and the starters' setup files, by name; root
// leads to the top of the project.
func Files(t testing.TB, root string) []string {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(root, "templates", "*", "*.yaml"))
	require.NoError(t, err)
	var out []string
	for _, name := range names {
		src, err := os.ReadFile(name)
		require.NoError(t, err)
		if setup.IsSetup(src) {
			out = append(out, name)
		}
	}
	require.Greater(t, len(out), 7)
	return out
}
