package setup

import (
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"sort"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"stopleaf/setup/grammar"
	"stopleaf/setup/grammar/schema"
)

func TestSchemaIsCurrent(t *testing.T) {
	for _, kind := range Schemas {
		want, err := schema.Build(kind)
		require.NoError(t, err)
		assert.Equal(t, string(want), string(Schema(kind)), "run go generate ./setup")
	}
	assert.Nil(t, Schema("poster"))
	_, err := schema.Build("poster")
	assert.Error(t, err)
}

// TestSchemaAndDecoderAgree: every key of the schemas is taken by the decoder,
// and every key the decoder takes stands in the schema.
func TestSchemaAndDecoderAgree(t *testing.T) {
	schemaAgrees(t, "setup", append(slices.Clone(grammar.Objects()), *grammar.Find("house")))
	var gear []grammar.Object
	for _, name := range []string{"gear", "head", "pack", "modifier", "stand", "output", "modelling", "gel", "outlet", "place"} {
		gear = append(gear, *grammar.Find(name))
	}
	schemaAgrees(t, "gear", gear)
	schemaAgrees(t, "house", []grammar.Object{*grammar.Find("house")})
	for _, document := range grammar.Documents {
		schemaAgrees(t, "format", grammar.PageObjects(document))
	}
}

func schemaAgrees(t *testing.T, kind string, objects []grammar.Object) {
	t.Helper()
	var doc struct {
		Schema string `json:"$schema"`
		Defs   map[string]struct {
			Properties map[string]any `json:"properties"`
		} `json:"$defs"`
	}
	require.NoError(t, json.Unmarshal(Schema(kind), &doc))
	assert.Equal(t, "https://json-schema.org/draft/2020-12/schema", doc.Schema)
	for _, ref := range regexp.MustCompile(`#/\$defs/([\w-]+)`).FindAllSubmatch(Schema(kind), -1) {
		assert.Contains(t, doc.Defs, string(ref[1]), "a reference that leads nowhere")
	}
	for _, o := range objects {
		var inSchema, inDecoder []string
		for key := range doc.Defs[o.Name].Properties {
			inSchema = append(inSchema, key)
			assert.True(t, takes(o, key), "%s: %q is in the schema, and the decoder does not know it", o.Name, key)
		}
		for _, k := range o.Keys {
			if takes(o, k.Name) {
				inDecoder = append(inDecoder, k.Name)
				assert.True(t, takes(o, strings.ToUpper(strings.ReplaceAll(k.Name, " ", "_"))), "%s: %q in another spelling", o.Name, k.Name)
			}
			for _, a := range k.Also {
				assert.True(t, takes(o, a), "%s: %q", o.Name, a)
			}
		}
		sort.Strings(inSchema)
		sort.Strings(inDecoder)
		assert.Equal(t, inDecoder, inSchema, o.Name)
		assert.False(t, takes(o, "nonsense key"), o.Name)
	}
}

// takes asks the decoder itself whether an object has a key.
func takes(o grammar.Object, key string) bool {
	var n yaml.Node
	if err := yaml.Unmarshal([]byte(fmt.Sprintf("%q: x\n", key)), &n); err != nil {
		return false
	}
	l := &log{}
	writer{log: l, file: "t", top: "setup"}.mapping(n.Content[0], &o, "it")
	for _, p := range l.problems {
		if p.Code == "unknown-key" {
			return false
		}
	}
	return true
}

// TestGrammarIsWhole: what the table names is in the table, and every key has
// its sentence.
func TestGrammarIsWhole(t *testing.T) {
	seen := map[string]bool{}
	for _, o := range grammar.Objects() {
		assert.False(t, seen[o.Name], o.Name)
		seen[o.Name] = true
		assert.NotEmpty(t, o.Doc, o.Name)
		names := map[string]bool{}
		for _, k := range o.Keys {
			assert.Equal(t, k.Name, grammar.Canonical(k.Name))
			assert.NotEmpty(t, k.Doc, "%s: %s", o.Name, k.Name)
			assert.NotZero(t, k.Takes, "%s: %s", o.Name, k.Name)
			assert.Equal(t, k.Takes.Has(grammar.List), k.Items != 0, "%s: %s", o.Name, k.Name)
			if k.Takes.Has(grammar.Map) || k.Items.Has(grammar.Map) {
				assert.NotNil(t, grammar.Find(k.Of), "%s: %s is a %q", o.Name, k.Name, k.Of)
			}
			if k.As == grammar.Word {
				assert.NotEmpty(t, k.Words, "%s: %s", o.Name, k.Name)
			}
			for _, n := range append([]string{k.Name}, k.Also...) {
				assert.False(t, names[n], "%s: %s twice", o.Name, n)
				names[n] = true
			}
		}
	}
}

func TestModifierKindsAreOne(t *testing.T) {
	seen := map[string]bool{}
	for _, k := range grammar.ModifierKinds {
		for _, n := range append([]string{k.Name}, k.Also...) {
			n = grammar.Canonical(n)
			assert.False(t, seen[n], n)
			seen[n] = true
			require.NotNil(t, grammar.FindKind(n))
			assert.Equal(t, k.Name, grammar.FindKind(n).Name, n)
		}
		assert.Contains(t, []string{"rectangle", "disc", "hard", "lens"}, k.Shines)
	}
}
