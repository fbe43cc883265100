package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"

	"golang.org/x/term"

	"stopleaf/setup"
)

// errReported ends a command whose input has errors that were printed already.
var errReported = errors.New("the input has errors")

// fail says what went wrong and gives the exit code.
func (c *call) fail(err error) int {
	var usage *usageError
	var files *fileError
	switch {
	case errors.Is(err, errReported):
		return exitInput
	case errors.Is(err, errLine):
		return exitUsage
	case errors.As(err, &usage):
		c.complain("usage", usage.message, usage.hint)
		return exitUsage
	case errors.As(err, &files):
		c.complain("files", files.message, files.hint)
		return exitFiles
	}
	c.complain("input", err.Error(), "")
	return exitInput
}

// complain prints what ended a command; for an editor as a list of one problem
// of no file.
func (c *call) complain(code, message, hint string) {
	if c.jsonProblems() {
		c.stderr.Write(marshal([]problemOut{{Level: setup.Error, Code: code, Message: message, Hint: hint}}))
		return
	}
	fmt.Fprintf(c.stderr, "stopleaf: %s\n", message)
	if hint != "" {
		fmt.Fprintf(c.stderr, "    hint: %s\n", hint)
	}
}

// say tells what was done; not where problems are printed for an editor, which
// reads standard error as JSON.
func (c *call) say(format string, a ...any) {
	if !c.jsonProblems() {
		fmt.Fprintf(c.stderr, format+"\n", a...)
	}
}

func (c *call) jsonProblems() bool { return c.set["problems"] == "json" }

// report prints problems to w, sorted, each once.
func (c *call) report(w io.Writer, ps setup.Problems) error {
	ps = distinct(ps)
	if c.jsonProblems() {
		return c.write(w, marshal(problemList(ps, func(name string) string { return name })))
	}
	var b bytes.Buffer
	for _, p := range ps {
		b.WriteString(p.String() + "\n")
	}
	if b.Len() == 0 {
		return nil
	}
	return c.write(w, b.Bytes())
}

// distinct sorts problems and drops those said before, as when two setups
// share a gear file.
func distinct(ps setup.Problems) setup.Problems {
	ps = append(setup.Problems(nil), ps...)
	ps.Sort()
	var out setup.Problems
	for i, p := range ps {
		if i == 0 || p != ps[i-1] {
			out = append(out, p)
		}
	}
	return out
}

// problemOut is one problem as JSON. Line and column are null for a file as a
// whole.
type problemOut struct {
	File    string      `json:"file"`
	Line    *int        `json:"line"`
	Col     *int        `json:"col"`
	Level   setup.Level `json:"level"`
	Code    string      `json:"code"`
	Message string      `json:"message"`
	Hint    string      `json:"hint"`
}

// problemList turns problems into JSON's form, never nil. rename gives the name
// a file goes by.
func problemList(ps setup.Problems, rename func(string) string) []problemOut {
	list := make([]problemOut, 0, len(ps))
	for _, p := range ps {
		out := problemOut{File: rename(p.Pos.File), Level: p.Level, Code: p.Code, Message: p.Message, Hint: p.Hint}
		if p.Pos.Line > 0 {
			out.Line, out.Col = &p.Pos.Line, &p.Pos.Col
		}
		list = append(list, out)
	}
	return list
}

// marshal gives indented JSON with a newline at its end. It panics on what
// cannot be JSON, which no value of ours is.
func marshal(v any) []byte {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(v); err != nil {
		panic(err)
	}
	return b.Bytes()
}

// print writes a result to standard output.
func (c *call) print(data []byte) error { return c.write(c.stdout, data) }

func (c *call) write(w io.Writer, data []byte) error {
	if _, err := w.Write(data); err != nil {
		name := "standard output"
		if w == c.stderr {
			name = "standard error"
		}
		return &fileError{message: fmt.Sprintf("could not write to %s: %s", name, reason(err))}
	}
	return nil
}

// result writes data to the file named by -o, else to standard output. inputs
// are the files that were read.
func (c *call) result(data []byte, inputs []string) error {
	name := c.set["output"]
	if name == "" || name == "-" {
		return c.print(data)
	}
	out := []file{{name, data}}
	if err := guardInputs(out, inputs); err != nil {
		return err
	}
	if err := writeFiles(out, false); err != nil {
		return err
	}
	c.say("wrote %s", name)
	return nil
}

// progress shows how far a long work is, on a terminal only. The function it
// gives is called with the count of what is done; done == total wipes the line.
func (c *call) progress(what string, total int) func(done int) {
	f, ok := c.stderr.(*os.File)
	if !ok || total < 2 || c.jsonProblems() || !term.IsTerminal(int(f.Fd())) {
		return func(int) {}
	}
	return func(done int) {
		if done >= total {
			fmt.Fprint(f, "\r\x1b[K")
			return
		}
		fmt.Fprintf(f, "\r\x1b[K%s %d of %d", what, done+1, total)
	}
}
