// Command plain draws one page with fpdf and nothing else, as a program written
// for that one page would: the yardstick for a card. What it draws, the same
// runs of text and the same lines as the card, is put into page.go by the
// benchmark when it builds this program.
package main

import (
	"fmt"
	"os"

	"stopleaf/internal/bench/plainly"
)

func main() {
	pdf := plainly.New()
	for _, p := range pages {
		plainly.Draw(pdf, p, nil)
	}
	if err := pdf.OutputFileAndClose(os.Args[1]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}
