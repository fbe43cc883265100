package setup

import (
	"bytes"
	_ "embed" // the schema
)

//go:generate go run ./grammar/schema/gen setup.schema.json

//go:embed setup.schema.json
var schemaJSON []byte

// Schema gives the JSON Schema (draft 2020-12) of a setup file, for editors;
// that of a gear file is its $defs/gear. It is generated from the same table
// that the decoder reads.
func Schema() []byte { return bytes.Clone(schemaJSON) }
