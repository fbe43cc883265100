// Package schema writes the grammar as JSON Schema. It runs when the schema is
// generated and in tests; the program itself embeds what it wrote.
package schema

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/invopop/jsonschema"

	"stopleaf/setup/grammar"
)

// Build gives the schema (JSON Schema, draft 2020-12) of a "setup" file, a "gear"
// file, a "house" file, a page "format" or a "binder".
func Build(of string) ([]byte, error) {
	root := &jsonschema.Schema{
		Version: jsonschema.Version,
		ID:      jsonschema.ID("https://stopleaf.invalid/" + of + ".schema.json"),
		Title:   "stopleaf " + of,
	}
	const spelling = "; keys may be written with spaces, hyphens or underscores"
	switch of {
	case "setup":
		root.Description = "a lighting setup" + spelling
		root.Ref = "#/$defs/setup"
		root.Definitions = definitions(append(slices.Clone(grammar.Objects()), *grammar.Find("house")))
	case "gear":
		root.Description = grammar.Find("gear").Doc + spelling
		root.Ref = "#/$defs/gear"
		root.Definitions = definitions(reached("gear"))
	case "house":
		root.Description = grammar.Find("house").Doc + spelling
		root.Ref = "#/$defs/house"
		root.Definitions = definitions([]grammar.Object{*grammar.Find("house")})
	case "binder":
		root.Description = grammar.Find("binder").Doc + spelling
		root.Ref = "#/$defs/binder"
		root.Definitions = definitions([]grammar.Object{*grammar.Find("binder"), *grammar.Find("section")})
	case "format":
		root.Description = grammar.Find("format").Doc + spelling
		formats(root)
	default:
		return nil, fmt.Errorf("there is no schema of %q", of)
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

// reached are an object of the grammar and all that its keys lead to.
func reached(name string) (out []grammar.Object) {
	seen := map[string]bool{name: true}
	for queue := []string{name}; len(queue) > 0; queue = queue[1:] {
		o := grammar.Find(queue[0])
		out = append(out, *o)
		for _, k := range o.Keys {
			if k.Of != "" && !seen[k.Of] {
				seen[k.Of] = true
				queue = append(queue, k.Of)
			}
		}
	}
	return out
}

func definitions(objects []grammar.Object) jsonschema.Definitions {
	defs := jsonschema.Definitions{}
	for i := range objects {
		if s := object(&objects[i]); s.Properties.Len() > 0 {
			defs[objects[i].Name] = s
		}
	}
	return defs
}

// formats makes a schema of page formats, which are as many objects as there are
// documents: which one it is stands under "for".
func formats(root *jsonschema.Schema) {
	root.Definitions = jsonschema.Definitions{}
	ref := func(document string) *jsonschema.Schema { return &jsonschema.Schema{Ref: "#/$defs/" + document} }
	at := root
	for i := len(grammar.Documents) - 1; i >= 0; i-- {
		document := grammar.Documents[i]
		for name, s := range definitions(grammar.PageObjects(document)) {
			root.Definitions[name] = s
		}
		if i == 0 {
			at.Ref = ref(document).Ref
			break
		}
		is := jsonschema.NewProperties()
		is.Set("for", &jsonschema.Schema{Const: document})
		at.If = &jsonschema.Schema{Properties: is, Required: []string{"for"}}
		at.Then, at.Else = ref(document), &jsonschema.Schema{}
		at = at.Else
	}
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
		s.Properties.Set(k.Name, value(k))
		if strings.Contains(k.Name, " ") {
			s.PatternProperties["^"+strings.ReplaceAll(k.Name, " ", "[ _-]")+"$"] = value(k)
		}
		for _, also := range k.Also {
			s.PatternProperties["^"+also+"$"] = value(k)
		}
	}
	for i := range o.Keys {
		if k := &o.Keys[i]; k.Needed {
			s.Required = append(s.Required, k.Name)
		}
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
		items = append(items, member(k))
	}
	if k.Items.Has(grammar.Map) {
		items = append(items, &jsonschema.Schema{Ref: "#/$defs/" + k.Of})
	}
	if k.Items.Has(grammar.List) {
		items = append(items, &jsonschema.Schema{Type: "array", Items: member(k)})
	}
	if len(items) == 1 {
		return &jsonschema.Schema{Type: "array", Items: items[0]}
	}
	return &jsonschema.Schema{Type: "array", Items: &jsonschema.Schema{AnyOf: items}}
}

// member is a text in a list.
func member(k *grammar.Key) *jsonschema.Schema {
	one := *k
	one.Takes = grammar.Text
	return text(&one)
}

// text is a scalar: a figure may stand without quotes wherever a text may.
func text(k *grammar.Key) *jsonschema.Schema {
	switch k.As {
	case grammar.Word:
		if k.Takes.Has(grammar.List) && !k.Items.Has(grammar.Map) { // several, parted by commas
			return &jsonschema.Schema{AnyOf: append(words(k), &jsonschema.Schema{Type: "string", Pattern: ","})}
		}
		if k.About == nil {
			return words(k)[0]
		}
		return &jsonschema.Schema{AnyOf: words(k)}
	case grammar.OpenWord:
		if len(k.Words) == 0 {
			return types("string")
		}
		return &jsonschema.Schema{AnyOf: append(words(k), &jsonschema.Schema{Type: "string"})}
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

// words are those of a key: one list, or each with its sentence where it has one.
func words(k *grammar.Key) []*jsonschema.Schema {
	if k.About == nil {
		var all []any
		for _, w := range k.Words {
			all = append(all, w)
			if n, err := strconv.Atoi(w); err == nil { // a figure is one whether in quotes or not
				all = append(all, n)
			}
		}
		return []*jsonschema.Schema{{Enum: all}}
	}
	var out []*jsonschema.Schema
	for _, w := range k.Words {
		out = append(out, &jsonschema.Schema{Const: w, Description: k.About(w)})
	}
	return out
}

func types(names ...string) *jsonschema.Schema {
	if len(names) == 1 {
		return &jsonschema.Schema{Type: names[0]}
	}
	return &jsonschema.Schema{Extras: map[string]any{"type": names}}
}
