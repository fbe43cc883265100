package main

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A pipe in a folder is no setup, and is not waited for; a file that is far too
// long for one is told when it begins as a setup does.
func TestFolderOfOddFiles(t *testing.T) {
	dir := sample(t)
	require.NoError(t, syscall.Mkfifo(filepath.Join(dir, "pipe.yaml"), 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "log.yaml"), []byte(strings.Repeat("a: b\n", 1<<19)), 0o600))
	for _, command := range []string{"gear", "proof"} {
		code, _, stderr := ran(command, dir)
		assert.Equal(t, exitDone, code, stderr)
	}
	require.NoError(t, os.WriteFile(filepath.Join(dir, "long.yaml"), []byte("title: T\nlights: []\n"+strings.Repeat("# more\n", 1<<18)), 0o600))
	code, stdout, stderr := ran("gear", dir)
	assert.Equal(t, exitInput, code, stderr)
	assert.Contains(t, stderr, "long.yaml")
	assert.NotEmpty(t, stdout, "the others count")
}
