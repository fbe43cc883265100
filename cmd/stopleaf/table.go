package main

import (
	"bytes"
	"strings"
	"unicode/utf8"
)

// writeTable writes rows in columns two spaces apart. align has a letter for
// each column, l or r. Trailing spaces are cut.
func writeTable(b *bytes.Buffer, rows [][]string, align string) {
	wide := make([]int, len(align))
	for _, row := range rows {
		for i, cell := range row {
			wide[i] = max(wide[i], utf8.RuneCountInString(cell))
		}
	}
	for _, row := range rows {
		var line strings.Builder
		for i, cell := range row {
			pad := strings.Repeat(" ", wide[i]-utf8.RuneCountInString(cell))
			if i > 0 {
				line.WriteString("  ")
			}
			if align[i] == 'r' {
				line.WriteString(pad + cell)
			} else {
				line.WriteString(cell + pad)
			}
		}
		b.WriteString(strings.TrimRight(line.String(), " ") + "\n")
	}
}

// writeSaid writes what each row's first is, its second beside it in a column
// of lines.
func writeSaid(b *bytes.Buffer, rows [][2]string) {
	wide := 0
	for _, row := range rows {
		wide = max(wide, utf8.RuneCountInString(row[0]))
	}
	for _, row := range rows {
		writeWrapped(b, row[0]+strings.Repeat(" ", wide+2-utf8.RuneCountInString(row[0])), row[1])
	}
}

// writeWrapped writes text in lines of at most 90 runes, the first begun by
// lead, the others set in as far.
func writeWrapped(b *bytes.Buffer, lead, text string) {
	indent := strings.Repeat(" ", utf8.RuneCountInString(lead))
	line := lead
	for i, word := range strings.Fields(text) {
		if i > 0 && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > 90 {
			b.WriteString(line + "\n")
			line = indent + word
			continue
		}
		if i > 0 {
			line += " "
		}
		line += word
	}
	b.WriteString(line + "\n")
}
