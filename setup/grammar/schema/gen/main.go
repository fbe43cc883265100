// Command gen writes the JSON Schema of a kind of file to the path it is given.
package main

import (
	"fmt"
	"os"

	"stopleaf/setup/grammar/schema"
)

func main() {
	if len(os.Args) != 3 {
		fmt.Fprintln(os.Stderr, "usage: gen KIND FILE")
		os.Exit(2)
	}
	b, err := schema.Build(os.Args[1])
	if err == nil {
		err = os.WriteFile(os.Args[2], b, 0o644)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "gen:", err)
		os.Exit(1)
	}
}
