package main

import (
	"bytes"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

func runHelp(c *call) error {
	var b bytes.Buffer
	if len(c.operands) == 0 {
		helpAll(&b)
	} else {
		cmd := findCommand(c.operands[0])
		if cmd == nil {
			return unknownCommand(c.operands[0])
		}
		helpOne(&b, cmd)
	}
	return c.print(b.Bytes())
}

func helpAll(b *bytes.Buffer) {
	b.WriteString("stopleaf writes down a lighting setup and prints what rebuilds it.\n\n")
	var rows [][2]string
	for _, cmd := range commandTable() {
		rows = append(rows, [2]string{"  stopleaf " + strings.TrimSpace(cmd.name+" "+cmd.operand), cmd.summary})
	}
	writeSaid(b, rows)
	b.WriteString("\n")
	writeWrapped(b, "", "stopleaf help COMMAND lists its flags. Results go to standard output or to -o FILE, messages to "+
		"standard error; - stands for either stream.")
	b.WriteString("\n")
	writeWrapped(b, "", "Ends with 0 when done, 1 when the input has problems, 2 when the command line is wrong, 3 when "+
		"something could not be read or written. Warnings do not count, but for proof --strict.")
}

func helpOne(b *bytes.Buffer, cmd *command) {
	line := cmd.name
	if len(cmd.flags) > 0 {
		line += " [flags]"
	}
	if cmd.operand != "" {
		line += " " + cmd.operand
	}
	fmt.Fprintf(b, "stopleaf %s\n\n%s\n", line, capital(cmd.summary)+".")
	switch {
	case cmd.told != nil:
		cmd.told(b)
	case cmd.more != "":
		writeWrapped(b, "", cmd.more)
	}
	if len(cmd.flags) == 0 {
		return
	}
	b.WriteString("\n")
	var rows [][2]string
	for _, name := range cmd.flags {
		f, _ := findFlag(name, cmd)
		left := "      --" + f.name
		if f.short != "" {
			left = "  -" + f.short + ", --" + f.name
		}
		if f.value != "" {
			left += " " + f.value
		}
		help := f.help
		if allowed := cmd.allowed(f); allowed != nil {
			help += ": " + strings.Join(allowed, ", ")
		}
		rows = append(rows, [2]string{left, help})
	}
	writeSaid(b, rows)
}

func capital(s string) string {
	r, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[size:]
}
