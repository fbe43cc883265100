package setup

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "rewrite the expected problems of testdata/err; read the diff")

// TestMistakes reads every file of testdata/err, each a mistake that a person
// makes, and compares what is printed, byte for byte.
func TestMistakes(t *testing.T) {
	t.Chdir("../testdata/err")
	files, err := filepath.Glob("*.yaml")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 60)
	for _, file := range files {
		t.Run(strings.TrimSuffix(file, ".yaml"), func(t *testing.T) {
			s, problems := Read(file, Options{})
			require.True(t, problems.HasErrors(), "a mistake that is no error")
			assert.Nil(t, s)
			got := problems.Error() + "\n"
			out := strings.TrimSuffix(file, ".yaml") + ".out"
			if *update {
				require.NoError(t, os.WriteFile(out, []byte(got), 0o644))
			}
			want, err := os.ReadFile(out)
			require.NoError(t, err)
			assert.Equal(t, string(want), got)
		})
	}
}

// TestMistakesAreWorded holds every problem to the house's form.
func TestMistakesAreWorded(t *testing.T) {
	t.Chdir("../testdata/err")
	files, err := filepath.Glob("*.yaml")
	require.NoError(t, err)
	for _, file := range files {
		_, problems := Read(file, Options{})
		for i, p := range problems {
			require.NotEmpty(t, p.Message, file)
			first := p.Message[:1]
			assert.Equal(t, strings.ToLower(first), first, "%s: %s", file, p.Message)
			assert.False(t, strings.HasSuffix(p.Message, "."), "%s: %s", file, p.Message)
			assert.NotContains(t, p.Message, "yaml:", file)
			assert.NotEmpty(t, p.Code, file)
			assert.Equal(t, strings.ToLower(p.Code), p.Code)
			assert.NotContains(t, p.Code, " ")
			if i > 0 && problems[i-1].Pos.File == p.Pos.File {
				assert.LessOrEqual(t, problems[i-1].Pos.Line, p.Pos.Line, "%s: not sorted", file)
			}
		}
	}
}
