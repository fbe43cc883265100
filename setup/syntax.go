package setup

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

// yamlFault is one thing the YAML library finds wrong, in our words.
type yamlFault struct {
	says    string // part of the library's message
	inBlock bool   // the library names the line where the block begins, not where it breaks
	code    string
	message string
	hint    string
}

// yamlFaults is looked through from the top.
func yamlFaults() []yamlFault {
	return []yamlFault{
		{"mapping values are not allowed", false, "colon-in-text", "a second \": \" stands in this value", "put the value in quotes, or use \"key: |\" and the text on the lines below"},
		{"could not find expected ':'", false, "no-colon", "a line without a \":\" stands among keys", "write \"key: value\"; a text that goes on over several lines is indented further than its key"},
		{"cannot start any token", false, "bad-start", "a value cannot begin with this character", "put the value in quotes; indent with spaces, never with tabs"},
		{"expected comment or line break", false, "after-bar", "text stands after a \"|\" or \">\"", "put the text on the lines below, indented, or the whole value in quotes"},
		{"mapping keys are not allowed", false, "question", "a value begins with \"? \"", "put the text in quotes"},
		{"incompatible YAML document", false, "directive", "a line begins with \"%\"", "take it out: a setup is keys and values from its first line on"},
		{"unknown directive", false, "directive", "a line begins with \"%\"", "take it out: a setup is keys and values from its first line on"},
		{"tab character", false, "tab", "a tab stands where spaces must", "indent with spaces"},
		{"block sequence entries are not allowed", false, "list-here", "a list item (\"- \") cannot stand here", "put the list on the lines below its key"},
		{"did not find expected ',' or '}'", true, "open-brace", "a \"{\" is not closed, or something after a comma is not \"key: value\"", "close it with \"}\"; put texts that hold \"{\", \"}\", \"[\", \"]\" or \": \" in quotes"},
		{"did not find expected ',' or ']'", true, "open-bracket", "a \"[\" is not closed", "close it with \"]\"; put texts that hold brackets in quotes"},
		{"unexpected end of stream", true, "open-quote", "a quote is opened here and never closed", "close it, or put the whole text in quotes of the other kind"},
		{"did not find expected '-' indicator", true, "bad-indent", "this line does not line up with the list above it", "begin the items of one list, and the keys of one item, each in the same column"},
		{"did not find expected key", true, "bad-indent", "this line does not line up with the keys above it", "begin the keys of one mapping in the same column; after a closing quote nothing may follow"},
		{"did not find expected whitespace", false, "bad-indent", "a space is missing here", "write a space after \":\", \"-\" and before \"#\""},
		{"unknown anchor", false, "unknown-anchor", "an alias (*name) has no anchor (&name) before it", "a text that begins with \"*\" is put in quotes"},
		{"contains itself", false, "anchor-in-itself", "an alias stands inside its own anchor", "write the value out"},
		{"undefined tag handle", false, "tag", "a value begins with \"!\"", "put the text in quotes"},
		{"unknown escape character", true, "bad-escape", "a \"\\\" in double quotes is followed by a letter that means nothing", "use single quotes, or write \"\\\\\""},
		{"did not find expected hexdecimal", true, "bad-escape", "a \"\\\" in double quotes is not followed by a number it needs", "use single quotes, or write \"\\\\\""},
		{"document start", false, "bad-indent", "something stands here that belongs to no key", "a setup is keys and values from its first line on"},
		{"exceeded max depth", false, "too-deep", "the file is nested far deeper than a setup can be", ""},
		{"alphabetic or numeric character", false, "bad-alias", "a \"*\" or \"&\" here is not followed by a name", "put the text in quotes"},
		{"", false, "yaml", "this is not YAML that can be read", "look for a missing quote, bracket or \":\" here or on the line before"},
	}
}

// syntaxProblem puts the library's error in our words, with the place where
// the text first goes wrong.
func syntaxProblem(file string, src []byte, err error) Problem {
	said := err.Error()
	var fault yamlFault
	for _, fault = range yamlFaults() {
		if strings.Contains(said, fault.says) {
			break
		}
	}
	line := saidLine(said)
	lines := bytes.Split(src, []byte("\n"))
	if fault.inBlock && fault.code == "bad-indent" || line == 0 {
		line = firstBrokenLine(lines, said)
	}
	line = min(max(line, 1), len(lines))
	fault, line = lookCloser(fault, lines, line)
	line, col := pointAt(fault.code, lines, line)
	if fault.code == "bad-start" && bytes.Contains(leading(lines[line-1]), []byte("\t")) {
		fault.message, fault.hint, fault.code = "a tab stands where spaces must", "indent with spaces", "tab"
	}
	return Problem{Pos: Pos{file, line, col}, Level: Error, Code: fault.code, Message: fault.message, Hint: fault.hint}
}

// lookCloser tells apart what the library calls by one name.
func lookCloser(f yamlFault, lines [][]byte, line int) (yamlFault, int) {
	here := lines[line-1]
	switch {
	case f.code == "open-quote":
		return f, firstLine(lines, openQuote, line)
	case f.code == "colon-in-text" && secondColon(here) < 0:
		if before := lineBefore(lines, line); before > 0 && tightColon(lines[before-1]) >= 0 {
			return yamlFault{code: "no-space", message: "a space is missing after \":\"", hint: "write \"key: value\""}, before
		}
		if anyNear(lines, line, secondColon) {
			return f, line
		}
		return yamlFault{code: "bad-indent", message: "this line is indented further than the keys above it", hint: "begin the keys of one mapping in the same column"}, line
	case f.code == "bad-indent" && afterQuote(here) >= 0:
		return yamlFault{code: "after-quote", message: "text stands after a closing quote", hint: "put the whole value in quotes; inside single quotes an apostrophe is written twice"}, line
	case f.code == "bad-indent" && closesNothing(here) >= 0:
		return yamlFault{code: "extra-bracket", message: fmt.Sprintf("a %q here closes nothing", here[closesNothing(here):closesNothing(here)+1]), hint: "take it out, or put the text in quotes"}, line
	}
	return f, line
}

// lineBefore is the last line before this one that is not blank, 0 for none.
func lineBefore(lines [][]byte, line int) int {
	for at := line - 1; at >= 1; at-- {
		if len(bytes.TrimSpace(lines[at-1])) > 0 {
			return at
		}
	}
	return 0
}

// tightColon finds the colon of "key:value".
func tightColon(l []byte) int {
	if bytes.Contains(l, []byte(": ")) {
		return -1
	}
	i := bytes.IndexByte(l, ':')
	if i <= 0 || i == len(l)-1 || bytes.ContainsAny(l[:i], "\"'0123456789") {
		return -1
	}
	return i
}

// afterQuote finds text after the quote that closes a value.
func afterQuote(l []byte) int {
	for i, c := range l {
		if c != '"' && c != '\'' || !beginsValue(l, i) {
			continue
		}
		end := bytes.IndexByte(l[i+1:], c)
		if end < 0 {
			return -1
		}
		for k := i + end + 2; k < len(l); k++ {
			if l[k] != ' ' {
				if bytes.IndexByte([]byte(",]}:#"), l[k]) < 0 {
					return k
				}
				return -1
			}
		}
		return -1
	}
	return -1
}

func beginsValue(l []byte, i int) bool {
	before := bytes.TrimRight(l[:i], " ")
	return len(before) == 0 || bytes.IndexByte([]byte(":-[{,"), before[len(before)-1]) >= 0
}

// closesNothing finds a closing bracket or brace too many.
func closesNothing(l []byte) int {
	for _, pair := range []string{"[]", "{}"} {
		open := 0
		for i, c := range l {
			switch c {
			case pair[0]:
				open++
			case pair[1]:
				if open--; open < 0 {
					return i
				}
			}
		}
	}
	return -1
}

// saidLine is the line the library names, 0 when it names none.
func saidLine(said string) int {
	_, after, ok := strings.Cut(said, "line ")
	if !ok {
		return 0
	}
	digits, _, _ := strings.Cut(after, ":")
	n, err := strconv.Atoi(digits)
	if err != nil {
		return 0
	}
	return n
}

// firstBrokenLine is the shortest run of lines that fails in the same way: the
// library reads in order, so what is wrong stays wrong with more text after it.
func firstBrokenLine(lines [][]byte, said string) int {
	what := faultText(said)
	low, high := 1, len(lines)
	for low < high {
		mid := (low + high) / 2
		var n yaml.Node
		err := decode(yaml.NewDecoder(bytes.NewReader(bytes.Join(lines[:mid], []byte("\n")))), &n)
		if err != nil && faultText(err.Error()) == what {
			high = mid
		} else {
			low = mid + 1
		}
	}
	return low
}

func faultText(said string) string {
	if _, after, ok := strings.Cut(said, "line "); ok {
		if _, text, ok := strings.Cut(after, ": "); ok {
			return text
		}
	}
	return said
}

func leading(line []byte) []byte {
	return line[:len(line)-len(bytes.TrimLeft(line, " \t-"))]
}

// pointAt finds the column that a person should look at, and moves to a
// neighbouring line when what is wrong is seen to stand there.
func pointAt(code string, lines [][]byte, line int) (int, int) {
	has := func(n int, find func([]byte) int) (int, int, bool) {
		for _, at := range []int{n, n + 1, n - 1} {
			if at >= 1 && at <= len(lines) {
				if i := find(lines[at-1]); i >= 0 {
					return at, column(lines[at-1], i), true
				}
			}
		}
		return 0, 0, false
	}
	find := func([]byte) int { return -1 }
	switch code {
	case "colon-in-text":
		find = secondColon
	case "open-quote":
		find = openQuote
	case "open-brace":
		find = func(l []byte) int { return bytes.LastIndexByte(l, '{') }
	case "open-bracket":
		find = func(l []byte) int { return bytes.LastIndexByte(l, '[') }
	case "unknown-anchor", "anchor-in-itself":
		find = func(l []byte) int { return bytes.IndexByte(l, '*') }
	case "no-colon":
		find = withoutColon
	case "bad-start", "tab":
		find = badStart
	case "bad-escape":
		find = func(l []byte) int { return bytes.IndexByte(l, '\\') }
	case "no-space":
		find = tightColon
	case "after-quote":
		find = afterQuote
	case "extra-bracket":
		find = closesNothing
	case "after-bar":
		find = func(l []byte) int { return bytes.IndexAny(l, "|>") }
	case "question":
		find = func(l []byte) int { return bytes.IndexByte(l, '?') }
	case "bad-alias":
		find = func(l []byte) int { return bytes.IndexAny(l, "*&") }
	case "list-here":
		find = func(l []byte) int {
			if i := bytes.Index(l, []byte(": - ")); i >= 0 {
				return i + 2
			}
			return -1
		}
	case "tag":
		find = func(l []byte) int { return bytes.IndexByte(l, '!') }
	}
	if l, c, ok := has(line, find); ok {
		return l, c
	}
	text := lines[line-1]
	return line, column(text, len(text)-len(bytes.TrimLeft(text, " \t")))
}

// secondColon finds a ": " after the first.
func secondColon(l []byte) int {
	first := bytes.Index(l, []byte(": "))
	if first < 0 {
		return -1
	}
	rest := l[first+2:]
	if second := bytes.Index(rest, []byte(": ")); second >= 0 {
		return first + 2 + second
	}
	if bytes.HasSuffix(bytes.TrimRight(rest, " \r"), []byte(":")) {
		return first + 2 + bytes.LastIndexByte(rest, ':')
	}
	return -1
}

// openQuote finds a quote that begins a value and is not closed on its line.
func openQuote(l []byte) int {
	for i, c := range l {
		if c != '"' && c != '\'' {
			continue
		}
		if beginsValue(l, i) && bytes.IndexByte(l[i+1:], c) < 0 {
			return i
		}
	}
	return -1
}

// firstLine is the first line on which something is found, from 1.
func firstLine(lines [][]byte, find func([]byte) int, otherwise int) int {
	for i, l := range lines {
		if find(l) >= 0 {
			return i + 1
		}
	}
	return otherwise
}

// anyNear reports whether something is found on a line or a neighbour of it.
func anyNear(lines [][]byte, line int, find func([]byte) int) bool {
	for _, at := range []int{line, line + 1, line - 1} {
		if at >= 1 && at <= len(lines) && find(lines[at-1]) >= 0 {
			return true
		}
	}
	return false
}

func withoutColon(l []byte) int {
	text := bytes.TrimSpace(l)
	if len(text) == 0 || text[0] == '#' || bytes.HasSuffix(text, []byte(":")) || bytes.Contains(text, []byte(": ")) {
		return -1
	}
	return len(l) - len(bytes.TrimLeft(l, " \t"))
}

// badStart finds a tab in the indent, or a value that begins with a character
// YAML keeps for itself.
func badStart(l []byte) int {
	if i := bytes.IndexByte(leading(l), '\t'); i >= 0 {
		return i
	}
	for _, before := range []string{": ", "- ", "[", "{", ", ", ""} {
		for _, c := range []string{"@", "`", "%"} {
			if before == "" && !bytes.HasPrefix(bytes.TrimSpace(l), []byte(c)) {
				continue
			}
			if i := bytes.Index(l, []byte(before+c)); i >= 0 {
				return i + len(before)
			}
		}
	}
	return -1
}
