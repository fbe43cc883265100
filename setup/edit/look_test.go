package edit

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestLook(t *testing.T) {
	s, err := Open("a.yaml", []byte("a: &x {left: 1, up: [2, 'three, four']}\nb: *x\nc: ~\nd: one\nlist:\n  - 1\n  - two\n"))
	require.NoError(t, err)
	assert.Equal(t, "{left: 1, up: [2, 'three, four']}", s.Flow(Path{"b"}))
	assert.Equal(t, "one", s.Flow(Path{"d"}))
	assert.Equal(t, "", s.Flow(Path{"c"}))
	assert.Equal(t, "", s.Flow(Path{"e"}))
	assert.Equal(t, []string{"left", "up"}, s.Keys(Path{"a"}))
	assert.Empty(t, s.Keys(Path{"d"}))
	assert.Equal(t, 2, s.Len(Path{"list"}))
	assert.Equal(t, 0, s.Len(Path{"a"}))
	p := Path{"a"}
	assert.Equal(t, Path{"a", "up", "0"}, p.With("up", "0"))
	assert.Equal(t, Path{"a"}, p)
}

func TestComment(t *testing.T) {
	for name, c := range map[string]struct{ src, path, want string }{
		"behind a value":    {"a: 1\nb: 2\n", "a", "a: 1  # est.\nb: 2\n"},
		"one that is there": {"a: 1 # mine\n", "a", "a: 1 # mine\n"},
		"behind braces":     {"l:\n  - {a: 1, b: 2}\n  - {a: 3}\n", "l/0/a", "l:\n  - {a: 1, b: 2}  # est.\n  - {a: 3}\n"},
		"no last line end":  {"a: 1   ", "a", "a: 1  # est."},
		"a hash in a text":  {"a: \"x # y\"\n", "a", "a: \"x # y\"  # est.\n"},
	} {
		t.Run(name, func(t *testing.T) {
			s, err := Open("a.yaml", []byte(c.src))
			require.NoError(t, err)
			require.NoError(t, s.Comment(strings.Split(c.path, "/"), "est."))
			got, err := s.Bytes()
			require.NoError(t, err)
			assert.Equal(t, c.want, string(got))
		})
	}
	s, err := Open("a.yaml", []byte("a: 1\n"))
	require.NoError(t, err)
	assert.Error(t, s.Comment(Path{"b"}, "est."))
}
