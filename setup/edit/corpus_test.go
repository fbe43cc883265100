package edit

import (
	"bytes"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"
)

// corpus are our own demos, starters and test files.
func corpus(t testing.TB) map[string][]byte {
	out := map[string][]byte{}
	for _, glob := range []string{"../../templates/demo/*.yaml", "../../templates/starters/*.yaml", "../../templates/formats/*.yaml", "../../testdata/ok/*.yaml", "../../testdata/ok/gear/*.yaml"} {
		files, err := filepath.Glob(glob)
		require.NoError(t, err)
		for _, f := range files {
			src, err := os.ReadFile(f)
			require.NoError(t, err)
			out[f] = src
		}
	}
	require.Greater(t, len(out), 20)
	return out
}

// scalars are the paths of all scalars of a file that stand under no anchor and no
// alias, by index in lists.
func scalars(n *yaml.Node, at Path, each func(Path, *yaml.Node)) {
	if n.Anchor != "" {
		return // TestEdits
	}
	switch n.Kind {
	case yaml.MappingNode:
		for i := 0; i+1 < len(n.Content); i += 2 {
			scalars(n.Content[i+1], append(at[:len(at):len(at)], n.Content[i].Value), each)
		}
	case yaml.SequenceNode:
		for i, c := range n.Content {
			if itemOf(n, strconv.Itoa(i)) != i {
				continue // another is called by that number
			}
			scalars(c, append(at[:len(at):len(at)], strconv.Itoa(i)), each)
		}
	case yaml.ScalarNode:
		each(at, n)
	}
}

// TestOneScalarOneLine changes each scalar of each file by itself: one line
// differs and nothing else, gopkg.in/yaml.v3 by itself reads the new value there,
// and the old value set again gives the old bytes.
func TestOneScalarOneLine(t *testing.T) {
	count := 0
	files := corpus(t)
	for _, file := range slices.Sorted(maps.Keys(files)) {
		src := files[file]
		s, err := Open(file, src)
		require.NoError(t, err)
		scalars(s.now.root, nil, func(p Path, n *yaml.Node) {
			if count++; count%5 != 0 && os.Getenv("STOPLEAF_CI") != "1" && !strings.Contains(file, "demo") && !strings.Contains(file, "starters") {
				return // one in five of the files for tests
			}
			was, _ := s.Text(p)
			now := was + " more"
			if strings.HasSuffix(was, "\n") {
				now = "more\n" + was
			}
			require.NoError(t, s.Set(p, now), "%s %s", file, p)
			got, err := s.Bytes()
			require.NoError(t, err)
			a, b := bytes.Split(src, []byte("\n")), bytes.Split(got, []byte("\n"))
			if !strings.HasSuffix(was, "\n") {
				require.Len(t, b, len(a), "%s %s", file, p)
				differ := 0
				for i := range a {
					if !bytes.Equal(a[i], b[i]) {
						differ++
						require.Contains(t, string(b[i]), " more")
					}
				}
				require.Equal(t, 1, differ, "%s %s", file, p)
			}
			var all any
			require.NoError(t, yaml.Unmarshal(got, &all))
			require.Equal(t, now, reached(t, all, p), "%s %s", file, p)
			require.NoError(t, s.Set(p, was))
			back, err := s.Bytes()
			require.NoError(t, err)
			require.Equal(t, string(src), string(back), "%s %s", file, p)
		})
	}
	require.Greater(t, count, 1000)
}

// reached follows a path in what gopkg.in/yaml.v3 decodes into Go's own values.
func reached(t *testing.T, v any, p Path) any {
	for _, step := range p {
		switch at := v.(type) {
		case map[string]any:
			require.Contains(t, at, step)
			v = at[step]
		case []any:
			i, err := strconv.Atoi(step)
			require.NoError(t, err)
			v = at[i]
		default:
			t.Fatalf("%v leads through %v", p, at)
		}
	}
	return v
}
