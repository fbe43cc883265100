package setup

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"
)

// compiled is a schema as another reader of JSON Schema understands it.
func compiled(t *testing.T, kind string) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema(kind)))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	require.NoError(t, c.AddResource(kind+".json", doc))
	s, err := c.Compile(kind + ".json")
	require.NoError(t, err)
	return s
}

// holdsSchema is what another reader finds wrong with a file; nil for nothing.
func holdsSchema(t *testing.T, s *jsonschema.Schema, src []byte) error {
	t.Helper()
	var v any
	require.NoError(t, yaml.Unmarshal(src, &v))
	return s.Validate(plain(v))
}

// plain is a YAML value as JSON has it: a date is a text.
func plain(v any) any {
	switch v := v.(type) {
	case map[string]any:
		for k := range v {
			v[k] = plain(v[k])
		}
	case []any:
		for i := range v {
			v[i] = plain(v[i])
		}
	case interface{ Format(string) string }:
		return v.Format("2006-01-02")
	}
	return v
}

// Another reader of JSON Schema takes every file of ours by its schema, and
// refuses those with mistakes that a schema can tell.
func TestFilesHoldTheirSchemas(t *testing.T) {
	for kind, patterns := range map[string][]string{
		"setup":  {"../templates/demo/*.yaml", "../templates/starters/*.yaml", "../testdata/ok/*.yaml"},
		"format": {"../templates/formats/*.yaml"},
	} {
		s, n := compiled(t, kind), 0
		for _, pattern := range patterns {
			files, err := filepath.Glob(pattern)
			require.NoError(t, err)
			for _, file := range files {
				src, err := os.ReadFile(file)
				require.NoError(t, err)
				if strings.HasSuffix(file, "everything-else.yaml") { // keys in capitals, which the reader takes and an editor marks
					continue
				}
				if kind == "setup" && !bytes.Contains(src, []byte("\nlights:")) && !bytes.HasPrefix(src, []byte("lights:")) { // a gear file
					continue
				}
				assert.NoError(t, holdsSchema(t, s, src), file)
				n++
			}
		}
		assert.Greater(t, n, 8, kind)
	}
	for file, kind := range map[string]string{
		"format/misspelt.yaml": "format", "format/not-a-format.yaml": "format", "format/wrong-shape.yaml": "format", "format/nothing-named.yaml": "format",
		"format/for-what.yaml": "format", "format/sheet-today.yaml": "format", "format/sheet-for-a-card.yaml": "",
		"format/sheet-for-stands.yaml": "format", "format/stands-blocks.yaml": "format", "format/stands-sheet.yaml": "format", "format/stands-sheet-bounds.yaml": "format",
	} {
		src, err := os.ReadFile("../testdata/" + file)
		require.NoError(t, err)
		if kind == "" { // wrong for the document alone
			assert.NoError(t, holdsSchema(t, compiled(t, "format"), src), file)
			continue
		}
		assert.Error(t, holdsSchema(t, compiled(t, kind), src), file)
	}
}

// So it does with every example of the README.
func TestReadmeHoldsTheSchemas(t *testing.T) {
	text, err := os.ReadFile("../README.md")
	require.NoError(t, err)
	seen := map[string]int{}
	for _, b := range regexp.MustCompile("(?s)```yaml\n(.*?)```").FindAllSubmatch(text, -1) {
		kind := "setup"
		switch {
		case strings.HasPrefix(string(b[1]), "# stopleaf.yaml"):
			kind = "house"
		case strings.HasPrefix(string(b[1]), "# binder.yaml"):
			kind = "binder"
		case strings.HasPrefix(string(b[1]), "# gear.yaml"):
			kind = "gear"
		case strings.HasPrefix(string(b[1]), "# my-"):
			kind = "format"
		}
		seen[kind]++
		assert.NoError(t, holdsSchema(t, compiled(t, kind), b[1]), string(b[1]))
	}
	assert.Equal(t, 3, seen["format"])
	assert.Equal(t, 1, seen["house"])
	assert.Equal(t, 1, seen["binder"])
	assert.Equal(t, 1, seen["gear"])
	assert.Greater(t, seen["setup"], 1)
	house := compiled(t, "house")
	for _, bad := range []string{"paper: a3\n", "ownr: Halvard Studio\n", "units: yards\n", "lights: []\n", "dpi: [200]\n"} {
		assert.Error(t, holdsSchema(t, house, []byte(bad)), bad)
	}
}
