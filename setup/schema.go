package setup

import (
	"bytes"
	_ "embed" // the schemas
)

//go:generate go run ./grammar/schema/gen setup setup.schema.json
//go:generate go run ./grammar/schema/gen gear gear.schema.json
//go:generate go run ./grammar/schema/gen house house.schema.json
//go:generate go run ./grammar/schema/gen format format.schema.json
//go:generate go run ./grammar/schema/gen binder binder.schema.json

//go:embed setup.schema.json
var setupSchema []byte

//go:embed gear.schema.json
var gearSchema []byte

//go:embed house.schema.json
var houseSchema []byte

//go:embed format.schema.json
var formatSchema []byte

//go:embed binder.schema.json
var binderSchema []byte

// Schemas are the kinds of files that have one.
var Schemas = []string{"setup", "gear", "house", "format", "binder"}

// Schema gives the JSON Schema (draft 2020-12) of a kind of file, for editors:
// a "setup" file, a "gear" file, a "house" file, a page "format" or a "binder";
// nil for any other. It is generated from the same tables that
// the readers read.
func Schema(of string) []byte {
	switch of {
	case "setup":
		return bytes.Clone(setupSchema)
	case "gear":
		return bytes.Clone(gearSchema)
	case "house":
		return bytes.Clone(houseSchema)
	case "format":
		return bytes.Clone(formatSchema)
	case "binder":
		return bytes.Clone(binderSchema)
	}
	return nil
}
