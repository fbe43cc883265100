package edit

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"
)

// do is one edit: "set", "yaml", "rename", "delete".
type do struct{ what, path, value string }

func (d do) run(s *Source) error {
	p := Path(strings.Split(d.path, "/"))
	switch d.what {
	case "yaml":
		return s.SetYAML(p, d.value)
	case "rename":
		return s.Rename(p, d.value)
	case "delete":
		return s.Delete(p)
	}
	return s.Set(p, d.value)
}

// TestEdits holds the exact bytes of single edits.
func TestEdits(t *testing.T) {
	for name, c := range map[string]struct {
		src  string
		do   do
		want string
	}{
		"block scalar":             {"a: 1\nb: 2 # two\nc: 3\n", do{"set", "b", "9"}, "a: 1\nb: 9 # two\nc: 3\n"},
		"comment keeps column":     {"power: 1/4   # half a stop down\n", do{"set", "power", "1/16"}, "power: 1/16  # half a stop down\n"},
		"comment pushed":           {"power: 1/4   # half\n", do{"set", "power", "1/4 +0.2"}, "power: 1/4 +0.2  # half\n"},
		"comment drawn back":       {"power: 1/16   # half\n", do{"set", "power", "full"}, "power: full   # half\n"},
		"comment after braces":     {"a: {b: 1, c: 2}   # x\nb: 1\n", do{"set", "a/b", "100"}, "a: {b: 100, c: 2}  # x\nb: 1\n"},
		"quotes kept":              {"a: \"x\"\nb: 'y'\n", do{"set", "b", "it's"}, "a: \"x\"\nb: 'it''s'\n"},
		"quotes needed":            {"a: x\n", do{"set", "a", "y: z"}, "a: \"y: z\"\n"},
		"quotes in braces":         {"a: {b: x}\n", do{"set", "a/b", "55 left, 1.4 m"}, "a: {b: \"55 left, 1.4 m\"}\n"},
		"no quotes in block":       {"a: x\n", do{"set", "a", "55 left, 1.4 m"}, "a: 55 left, 1.4 m\n"},
		"a clock is quoted":        {"a: x\n", do{"set", "a", "7:30"}, "a: \"7:30\"\n"},
		"null word":                {"a: x\n", do{"set", "a", "null"}, "a: \"null\"\n"},
		"crlf":                     {"a: 1\r\nb:\r\n  c: 2\r\n", do{"set", "b/d", "3"}, "a: 1\r\nb:\r\n  c: 2\r\n  d: 3\r\n"},
		"bom, no last line end":    {"\xef\xbb\xbfa: 1\nb: 2", do{"set", "c", "3"}, "\xef\xbb\xbfa: 1\nb: 2\nc: 3"},
		"add in braces":            {"a: {b: 1}  # x\n", do{"set", "a/c", "2"}, "a: {b: 1, c: 2}  # x\n"},
		"add in padded braces":     {"a: { b: 1 }\n", do{"set", "a/c", "2"}, "a: { b: 1, c: 2 }\n"},
		"add in empty braces":      {"a: {}\n", do{"set", "a/c", "2"}, "a: {c: 2}\n"},
		"add on a line of its own": {"a: {\n  b: 1,  # one\n  c: 2   # two\n}\n", do{"set", "a/d", "3"}, "a: {\n  b: 1,  # one\n  c: 2,  # two\n  d: 3\n}\n"},
		"add after the comma":      {"a: {\n  b: 1,  # one\n}\n", do{"set", "a/d", "3"}, "a: {\n  b: 1,  # one\n  d: 3,\n}\n"},
		"add with parents":         {"a: 1\n", do{"set", "b/c/d", "x"}, "a: 1\nb: {c: {d: x}}\n"},
		"add to what is null":      {"a:   # none\nb: 1\n", do{"set", "a/c", "x"}, "a: {c: x}  # none\nb: 1\n"},
		"add to an item":           {"l:\n  - name: Key\n    role: key   # k\n\n  - name: Fill\n", do{"set", "l/key/delta", "-1"}, "l:\n  - name: Key\n    role: key   # k\n    delta: -1\n\n  - name: Fill\n"},
		"item by case":             {"l:\n- {name: Key L, a: 1}\n- {name: Fill, a: 2}\n", do{"set", "l/FILL/a", "3"}, "l:\n- {name: Key L, a: 1}\n- {name: Fill, a: 3}\n"},
		"item by index":            {"l:\n- {name: Key L, a: 1}\n- {name: Fill, a: 2}\n", do{"set", "l/1/a", "3"}, "l:\n- {name: Key L, a: 1}\n- {name: Fill, a: 3}\n"},
		"item by its role":         {"l:\n- {role: rim, a: 1}\n- {role: rim, a: 2}\n", do{"set", "l/Rim 2/a", "3"}, "l:\n- {role: rim, a: 1}\n- {role: rim, a: 3}\n"},
		"key spelt otherwise":      {"Look-For: x\n", do{"set", "look for", "y"}, "Look-For: y\n"},
		"block by scalar":          {"p:   # where\n  angle: 55 left\n  distance: 1.4\nq: 1\n", do{"set", "p", "55 left, 2 m"}, "p: 55 left, 2 m   # where\nq: 1\n"},
		"block by braces":          {"p:\n  angle: 55 left\nq: 1\n", do{"yaml", "p", "{left: 1}"}, "p: {left: 1}\nq: 1\n"},
		"scalar by braces":         {"p: x   # c\n", do{"yaml", "p", "{left: 1}"}, "p: {left: 1}  # c\n"},
		"scalar by list":           {"b: f/4\n", do{"yaml", "b", "[f/4, f/5.6]"}, "b: [f/4, f/5.6]\n"},
		"block yaml made flow":     {"b: f/4\n", do{"yaml", "b", "a: 1\nb: [1, 2]\n"}, "b: {a: 1, b: [1, 2]}\n"},
		"many lines":               {"a: x\n  y\n  z # c\nb: 1\n", do{"set", "a", "w"}, "a: w # c\nb: 1\n"},
		"many lines in quotes":     {"a: \"x\n  y\"\nb: 1\n", do{"set", "a", "w"}, "a: \"w\"\nb: 1\n"},
		"literal":                  {"n: |  # note\n   one\n   two\n\nb: 1\n", do{"set", "n", "three\n\nfour\n"}, "n: |  # note\n   three\n\n   four\n\nb: 1\n"},
		"literal without end":      {"n: |\n  one\nb: 1\n", do{"set", "n", "two"}, "n: |-\n  two\nb: 1\n"},
		"folded":                   {"n: >-\n  one\n  two\nb: 1\n", do{"set", "n", "two"}, "n: >-\n  two\nb: 1\n"},
		"literal by a list":        {"n: |\n  one\nb: 1\n", do{"yaml", "n", "[1]"}, "n: [1]\nb: 1\n"},
		"after kept blank lines":   {"a:\n  n: |+\n    x\n\n\nb: 1\n", do{"set", "a/m", "1"}, "a:\n  n: |+\n    x\n\n\n  m: 1\nb: 1\n"},
		"asked key's value":        {"? a\n: b # c\n", do{"set", "a", "x"}, "? a\n: x # c\n"},
		"flow over lines":          {"a: {b: 1, # x\n    c: 2} # y\n", do{"set", "a/b", "3"}, "a: {b: 3, # x\n    c: 2} # y\n"},
		"key without a colon":      {"a: {b, c: 1}\n", do{"set", "a/b", "3"}, "a: {b: 3, c: 1}\n"},
		"alias is replaced":        {"a: &x {l: 1}\nb: *x\nc: *x\n", do{"set", "b", "y"}, "a: &x {l: 1}\nb: y\nc: *x\n"},
		"last alias is replaced":   {"a: &x {l: 1}\nb: *x\n", do{"set", "b", "y"}, "a: {l: 1}\nb: y\n"},
		"inside an alias":          {"a: &x {l: 1, m: 2}\nb: *x\nc: *x\n", do{"set", "b/l", "3"}, "a: &x {l: 1, m: 2}\nb: {l: 3, m: 2}\nc: *x\n"},
		"inside an anchor":         {"a: &x {l: 1, m: 2}\nb: *x\nc: *x\n", do{"set", "a/l", "3"}, "a: {l: 3, m: 2}\nb: &x {l: 1, m: 2}\nc: *x\n"},
		"anchored scalar":          {"a: &x octabox 1.2, grid\nb: *x\n", do{"set", "a", "strip"}, "a: strip\nb: octabox 1.2, grid\n"},
		"anchored block":           {"a: &x\n  l: 1\n  m: [a, 'b, c']\nb: *x\n", do{"set", "a/l", "3"}, "a:\n  l: 3\n  m: [a, 'b, c']\nb: {l: 1, m: [a, 'b, c']}\n"},
		"anchor inside":            {"a: {p: &x 1}\nb: *x\n", do{"set", "a", "y"}, "a: y\nb: 1\n"},
		"rename":                   {"l:\n  - name: F\n    delta: -1   # x\n", do{"rename", "l/F/delta", "reading"}, "l:\n  - name: F\n    reading: -1  # x\n"},
		"delete a line":            {"a: 1 # x\n# of b\nb: 2\nc: 3\n", do{"delete", "b", ""}, "a: 1 # x\n# of b\nc: 3\n"},
		"delete the last line":     {"a: 1\nb:\n  c: 2", do{"delete", "b", ""}, "a: 1"},
		"delete all":               {"a:\n  b: 1\nc: 2\n", do{"delete", "a/b", ""}, "a: {}\nc: 2\n"},
		"delete the first":         {"l:\n  - a: 1 # x\n    b: 2\n", do{"delete", "l/0/a", ""}, "l:\n  - b: 2\n"},
		"delete in braces":         {"a: {b: 1, c: 2, d: 3}\n", do{"delete", "a/c", ""}, "a: {b: 1, d: 3}\n"},
		"delete last in braces":    {"a: {b: 1, c: 2}\n", do{"delete", "a/c", ""}, "a: {b: 1}\n"},
		"delete only in braces":    {"a: {b: 1}\n", do{"delete", "a/b", ""}, "a: {}\n"},
		"delete among comments":    {"a: {b: 1, # one\n    c: 2} # two\n", do{"delete", "a/c", ""}, "a: {b: 1 # one\n    } # two\n"},
		"delete an item":           {"l:\n  - name: A\n    b: 1\n  - name: B\nm: 1\n", do{"delete", "l/a", ""}, "l:\n  - name: B\nm: 1\n"},
		"delete an anchor":         {"a: &x 1\nb: *x\nc: *x\n", do{"delete", "a", ""}, "b: &x 1\nc: *x\n"},
	} {
		t.Run(name, func(t *testing.T) {
			s, err := Open("a.yaml", []byte(c.src))
			require.NoError(t, err)
			require.NoError(t, c.do.run(s))
			got, err := s.Bytes()
			require.NoError(t, err)
			assert.Equal(t, c.want, string(got))
			var n yaml.Node
			require.NoError(t, yaml.Unmarshal(got, &n))
		})
	}
}

// TestRefused holds that an edit that cannot be made says where, and changes
// nothing.
func TestRefused(t *testing.T) {
	for name, c := range map[string]struct {
		src  string
		do   do
		want string
	}{
		"no item":      {"l: [{name: A}]\n", do{"set", "l/B/x", "1"}, `a.yaml:1:4: there is no "B" in this list`},
		"through text": {"p: 55 left\n", do{"set", "p/angle", "1"}, `a.yaml:1:4: "p" is a text here, and has no "angle" in it`},
		"key twice":    {"a: 1\nA: 2\n", do{"set", "a", "3"}, `a.yaml:2:1: "A" is given twice, first in line 1`},
		"merge":        {"a: &x {l: 1}\nb: {<<: *x, m: 1}\n", do{"set", "b/m", "2"}, `a.yaml:2:5: a merge key (<<) is not understood`},
		"tag":          {"a: !!str 1\n", do{"set", "a", "2"}, `a.yaml:1:4: the tag "!!str" is not understood`},
		"asked":        {"? a\n: b\n", do{"set", "c", "2"}, `a.yaml:1:1: a key cannot be added to a mapping whose keys begin with "? "`},
		"rename onto":  {"a: 1\nb: 2\n", do{"rename", "a", "b"}, `a.yaml:1:1: "a" cannot be renamed: there is a "b" already`},
		"not there":    {"a: 1\n", do{"delete", "b", ""}, `a.yaml:1:1: there is no "b" here`},
		"bare pair":    {"a: [b: 1]\n", do{"set", "a/0/c", "2"}, `a.yaml:1:5: a key cannot be added to a mapping without braces in a list`},
		"not UTF-8":    {"a: 1\n", do{"set", "a", "\xff"}, `a.yaml: what is to be written as a is not UTF-8`},
		"no YAML":      {"a: 1\n", do{"yaml", "a", "{"}, `a.yaml: what is to be written as a is no YAML value: this is not YAML that can be read`},
	} {
		t.Run(name, func(t *testing.T) {
			s, err := Open("a.yaml", []byte(c.src))
			require.NoError(t, err)
			err = c.do.run(s)
			require.Error(t, err)
			assert.Equal(t, c.want, strings.Split(err.Error(), "\n")[0])
			got, _ := s.Bytes()
			assert.Equal(t, c.src, string(got))
		})
	}
	for src, want := range map[string]string{
		"- a\n":           "a.yaml:1:1: the file is not keys and values",
		"a: [b\n":         "a.yaml:1:4: a \"[\" is not closed",
		"a: 1\n---\nb: 2": "a.yaml:2:1: a second document begins here",
		"":                "a.yaml: the file is empty",
	} {
		_, err := Open("a.yaml", []byte(src))
		require.Error(t, err, src)
		assert.Equal(t, want, strings.Split(err.Error(), "\n")[0])
	}
}

func TestHeader(t *testing.T) {
	for src, want := range map[string]string{
		"a: 1\n":                 "# x\n# y\na: 1\n",
		"# was\na: 1\n":          "# x\n# y\n#\n# was\na: 1\n",
		"\xef\xbb\xbfa: 1\r\n":   "\xef\xbb\xbf# x\r\n# y\r\na: 1\r\n",
		"---\n# was\na: 1\n":     "---\n# x\n# y\n#\n# was\na: 1\n",
		"%YAML 1.1\n---\na: 1\n": "%YAML 1.1\n---\n# x\n# y\na: 1\n",
		"a: 1":                   "# x\n# y\na: 1",
	} {
		s, err := Open("a.yaml", []byte(src))
		require.NoError(t, err)
		s.Header("x", "y")
		got, err := s.Bytes()
		require.NoError(t, err)
		assert.Equal(t, want, string(got))
	}
}
