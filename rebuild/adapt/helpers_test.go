package adapt

import (
	"os"
	"path/filepath"
	"sort"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"stopleaf/exposure"
	"stopleaf/setup"
)

func v(x float64) *float64 { return &x }

// made adapts a setup given as text, which must be free of errors.
func made(t testing.TB, src string, o Options) *Result {
	t.Helper()
	r, err := tried(t, "set.yaml", src, o)
	require.NoError(t, err)
	return r
}

func tried(t testing.TB, name, src string, o Options) (*Result, error) {
	t.Helper()
	o.Read.NoPhotos, o.Read.AllowOutside = true, true
	s, problems := setup.Parse(name, []byte(src), o.Read)
	require.NotNil(t, s, "%v", problems)
	o.Problems = problems
	return Adapt(s, []byte(src), o)
}

// body is a file without the comments before it.
func body(src []byte) string {
	text := string(src)
	for strings.HasPrefix(text, "#") {
		_, text, _ = strings.Cut(text, "\n")
	}
	return text
}

// messages are those of the warnings, in order.
func messages(r *Result) []string {
	out := []string{}
	for _, w := range r.Warned {
		out = append(out, w.Message)
	}
	return out
}

// changed maps item and key to what they became.
func changed(r *Result) map[string]string {
	out := map[string]string{}
	for _, c := range r.Changes {
		out[c.Item+" "+c.What] = c.To
	}
	return out
}

// numbers are all figures of a setup at its own bases.
func numbers(s *setup.Setup) exposure.Numbers {
	bases, err := s.ChooseBases("")
	if err != nil {
		panic(err)
	}
	return exposure.Compute(s.Input(bases))
}

// flat is every scalar of a file by its path.
func flat(t testing.TB, src []byte) map[string]string {
	t.Helper()
	var doc yaml.Node
	require.NoError(t, yaml.Unmarshal(src, &doc))
	out := map[string]string{}
	var walk func(at string, n *yaml.Node)
	walk = func(at string, n *yaml.Node) {
		for n.Kind == yaml.AliasNode {
			n = n.Alias
		}
		switch n.Kind {
		case yaml.MappingNode:
			for i := 0; i+1 < len(n.Content); i += 2 {
				walk(at+"/"+n.Content[i].Value, n.Content[i+1])
			}
		case yaml.SequenceNode:
			for i, c := range n.Content {
				walk(at+"/"+itoa(i), c)
			}
		default:
			out[at] = n.Value
		}
	}
	walk("", doc.Content[0])
	return out
}

// comments are the comments of a file in order, that on top left away.
func comments(src []byte) (out []string) {
	for _, line := range strings.Split(body(src), "\n") {
		if at := strings.Index(line, "#"); at >= 0 {
			out = append(out, strings.TrimSpace(line[at:]))
		}
	}
	return out
}

// corpus is every demo and starter, by path.
func corpus(t testing.TB) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, pattern := range []string{"../../templates/demo/*.yaml", "../../templates/starters/*.yaml"} {
		files, err := filepath.Glob(pattern)
		require.NoError(t, err)
		for _, f := range files {
			src, err := os.ReadFile(f)
			require.NoError(t, err)
			if setup.IsSetup(src) {
				out[f] = string(src)
			}
		}
	}
	require.GreaterOrEqual(t, len(out), 9)
	return out
}

func sorted(m map[string]string) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}
