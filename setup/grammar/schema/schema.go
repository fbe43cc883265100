// Package schema writes the grammar as JSON Schema. It runs when the schema is
// generated and in tests; the program itself embeds what it wrote.
package schema

import (
	"bytes"
	"encoding/json"
	"slices"
	"strings"

	"github.com/invopop/jsonschema"

	"stopleaf/setup/grammar"
)

// Build gives the schema of a setup file (JSON Schema, draft 2020-12), with
// that of a gear file under $defs/gear. Keys that are not yet understood are
// left out.
func Build() ([]byte, error) {
	defs := jsonschema.Definitions{}
	for _, o := range append(slices.Clone(grammar.Objects()), *grammar.Find("house")) {
		if s := object(&o); s.Properties.Len() > 0 {
			defs[o.Name] = s
		}
	}
	root := &jsonschema.Schema{
		Version:     jsonschema.Version,
		ID:          "https://stopleaf.invalid/setup.schema.json",
		Title:       "stopleaf setup",
		Description: "a lighting setup; keys may be written with spaces, hyphens or underscores",
		Ref:         "#/$defs/setup",
		Definitions: defs,
	}
	b, err := json.Marshal(root)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	if err := json.Indent(&out, b, "", "  "); err != nil {
		return nil, err
	}
	out.WriteByte('\n')
	return out.Bytes(), nil
}

func object(o *grammar.Object) *jsonschema.Schema {
	s := &jsonschema.Schema{
		Type: "object", Description: o.Doc,
		Properties:           jsonschema.NewProperties(),
		PatternProperties:    map[string]*jsonschema.Schema{},
		AdditionalProperties: jsonschema.FalseSchema,
	}
	for i := range o.Keys {
		k := &o.Keys[i]
		if k.Later {
			continue
		}
		s.Properties.Set(k.Name, value(k))
		if strings.Contains(k.Name, " ") {
			s.PatternProperties["^"+strings.ReplaceAll(k.Name, " ", "[ _-]")+"$"] = value(k)
		}
		for _, also := range k.Also {
			s.PatternProperties["^"+also+"$"] = value(k)
		}
	}
	switch o.Name {
	case "setup":
		s.Required = []string{"lights"}
	case "photo":
		s.Required = []string{"file"}
	}
	return s
}

// value is everything a key may hold, with its sentence.
func value(k *grammar.Key) *jsonschema.Schema {
	var forms []*jsonschema.Schema
	if k.Takes.Has(grammar.Text) {
		forms = append(forms, text(k))
	}
	if k.Takes.Has(grammar.Map) {
		forms = append(forms, &jsonschema.Schema{Ref: "#/$defs/" + k.Of})
	}
	if k.Takes.Has(grammar.Names) {
		forms = append(forms, &jsonschema.Schema{Type: "object", AdditionalProperties: text(k)})
	}
	if k.Takes.Has(grammar.List) {
		forms = append(forms, list(k))
	}
	out := forms[0]
	if len(forms) > 1 {
		out = &jsonschema.Schema{AnyOf: forms}
	}
	if out.Ref != "" { // a sentence beside a reference needs a schema of its own
		out = &jsonschema.Schema{AllOf: []*jsonschema.Schema{out}}
	}
	out.Description = k.Doc
	return out
}

func list(k *grammar.Key) *jsonschema.Schema {
	var items []*jsonschema.Schema
	if k.Items.Has(grammar.Text) {
		items = append(items, text(k))
	}
	if k.Items.Has(grammar.Map) {
		items = append(items, &jsonschema.Schema{Ref: "#/$defs/" + k.Of})
	}
	if len(items) == 1 {
		return &jsonschema.Schema{Type: "array", Items: items[0]}
	}
	return &jsonschema.Schema{Type: "array", Items: &jsonschema.Schema{AnyOf: items}}
}

// text is a scalar: a figure may stand without quotes wherever a text may.
func text(k *grammar.Key) *jsonschema.Schema {
	var words []any
	for _, w := range k.Words {
		words = append(words, w)
	}
	switch k.As {
	case grammar.Word:
		return &jsonschema.Schema{Enum: words}
	case grammar.OpenWord:
		if len(words) == 0 {
			return types("string")
		}
		return &jsonschema.Schema{AnyOf: []*jsonschema.Schema{{Enum: words}, {Type: "string"}}}
	case grammar.YesNo:
		return &jsonschema.Schema{AnyOf: []*jsonschema.Schema{{Type: "boolean"}, {Enum: []any{"yes", "no"}}}}
	case grammar.Date:
		return &jsonschema.Schema{Type: "string", Format: "date"}
	}
	if k.Yes {
		return types("string", "number", "boolean")
	}
	return types("string", "number")
}

func types(names ...string) *jsonschema.Schema {
	if len(names) == 1 {
		return &jsonschema.Schema{Type: names[0]}
	}
	return &jsonschema.Schema{Extras: map[string]any{"type": names}}
}
