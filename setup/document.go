package setup

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// The bounds of what is read as YAML.
const (
	maxBytes = 1 << 20
	maxNodes = 50_000 // after aliases are followed
	maxDepth = 20
)

// document turns bytes into the one YAML document in them, or into problems in
// our own words; kind is what the file is, "setup". Aliases have been followed
// within a budget, so walking what it returns ends.
func document(file string, src []byte, kind string) (*yaml.Node, Problems) {
	src = bytes.TrimPrefix(src, []byte("\xef\xbb\xbf"))
	if p := refuseBytes(file, src); p != nil {
		return nil, Problems{*p}
	}
	src = plainLines(src)
	dec := yaml.NewDecoder(bytes.NewReader(src))
	var doc yaml.Node
	if err := decode(dec, &doc); err != nil {
		if errors.Is(err, io.EOF) {
			hint := ""
			if kind == "setup" {
				hint = "the smallest useful file is a title, and lights with a role and a delta"
			}
			return nil, Problems{{Pos: Pos{File: file}, Level: Error, Code: "empty", Message: "the file is empty", Hint: hint}}
		}
		return nil, Problems{syntaxProblem(file, src, err)}
	}
	if doc.Kind != yaml.DocumentNode || len(doc.Content) != 1 {
		return nil, Problems{{Pos: Pos{File: file}, Level: Error, Code: "empty", Message: "the file is empty"}}
	}
	var next yaml.Node
	if err := decode(dec, &next); err == nil {
		hint := "put the rest in a file of its own, or take the line \"---\" out"
		if kind == "setup" {
			hint = "one file holds one setup: " + hint
		}
		return nil, Problems{{Pos: Pos{file, next.Line, max(next.Column, 1)}, Level: Error, Code: "more-documents",
			Message: "a second document begins here", Hint: hint}}
	} else if !errors.Is(err, io.EOF) {
		return nil, Problems{syntaxProblem(file, src, err)}
	}
	budget := maxNodes
	if p := follow(file, kind, doc.Content[0], 0, &budget); p != nil {
		return nil, Problems{*p}
	}
	return doc.Content[0], nil
}

// Document gives the one YAML document in the bytes of a file, as Parse reads
// it, or what is wrong with them. Lines and columns are those of an editor: a
// line feed, a carriage return or both end a line, and columns count runes.
// Aliases are followed within a budget, so walking what it returns ends.
func Document(file string, src []byte) (*yaml.Node, Problems) {
	return document(file, src, "setup")
}

// PlainLines is the text that is read as YAML, rune for rune that of the file
// without its byte order mark, but for its line ends, each of which is a line
// feed, and the spaces and line ends of Unicode that are read as spaces.
func PlainLines(src []byte) []byte {
	return plainLines(bytes.TrimPrefix(src, []byte("\xef\xbb\xbf")))
}

// plainLines makes every line end one that YAML and an editor count alike: a
// lone carriage return becomes a line feed, and the line ends of Unicode, which
// come with pasted text, become spaces.
func plainLines(src []byte) []byte {
	src = bytes.ReplaceAll(src, []byte("\r\n"), []byte("\n"))
	src = bytes.ReplaceAll(src, []byte("\r"), []byte("\n"))
	if bytes.Contains(src, []byte("\u00a0")) {
		src = plainIndent(src)
	}
	for _, end := range []string{"\u0085", "\u2028", "\u2029"} {
		src = bytes.ReplaceAll(src, []byte(end), []byte(" "))
	}
	return src
}

// plainIndent makes spaces of the no-break spaces that lines copied from a web
// page are indented with.
func plainIndent(src []byte) []byte {
	lines := bytes.Split(src, []byte("\n"))
	for i, l := range lines {
		text := bytes.TrimLeft(l, " \u00a0")
		if len(text) < len(l) {
			lines[i] = append(bytes.Repeat([]byte(" "), utf8.RuneCount(l[:len(l)-len(text)])), text...)
		}
	}
	return bytes.Join(lines, []byte("\n"))
}

// decode keeps a panic of the YAML library from reaching the user.
func decode(dec *yaml.Decoder, into *yaml.Node) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("yaml: %v", r)
		}
	}()
	return dec.Decode(into)
}

func refuseBytes(file string, src []byte) *Problem {
	whole := func(code, message, hint string) *Problem {
		return &Problem{Pos: Pos{File: file}, Level: Error, Code: code, Message: message, Hint: hint}
	}
	switch {
	case len(src) > maxBytes:
		return whole("too-large", "the file is larger than 1 MiB", "a setup is a few kilobytes of text; is this another kind of file?")
	case bytes.HasPrefix(src, []byte{0xff, 0xfe}) || bytes.HasPrefix(src, []byte{0xfe, 0xff}):
		return whole("not-utf8", "the file is UTF-16 text", "save it as UTF-8")
	}
	for i, line := 0, 1; i < len(src); {
		r, size := utf8.DecodeRune(src[i:])
		at := func() Pos { return Pos{file, line, column(src, i)} }
		switch {
		case r == utf8.RuneError && size <= 1:
			return &Problem{Pos: at(), Level: Error, Code: "not-utf8", Message: "the text is not UTF-8 here", Hint: "save the file as UTF-8"}
		case r == '\n':
			line++
		case r < ' ' && r != '\t' && r != '\r', r == 0x7f, r == 0xfeff, r == 0xfffe, r == 0xffff:
			return &Problem{Pos: at(), Level: Error, Code: "control-character",
				Message: fmt.Sprintf("a control character (U+%04X) stands here", r), Hint: "take it out; is this a text file?"}
		}
		i += size
	}
	return nil
}

// column counts runes from the start of the line, from 1.
func column(src []byte, at int) int {
	start := bytes.LastIndexByte(src[:at], '\n') + 1
	return utf8.RuneCount(src[start:at]) + 1
}

// follow spends the budget on every node, aliases followed.
func follow(file, kind string, n *yaml.Node, depth int, budget *int) *Problem {
	at := Pos{file, n.Line, n.Column}
	*budget--
	switch {
	case *budget < 0:
		return &Problem{Pos: at, Level: Error, Code: "too-many-nodes",
			Message: "the file unfolds to far more than a " + kind + " can hold", Hint: "is an alias (*name) used inside what it stands for, again and again?"}
	case depth > maxDepth:
		return &Problem{Pos: at, Level: Error, Code: "too-deep",
			Message: "the file is nested far deeper than a " + kind + " can be", Hint: "does an alias (*name) stand inside its own anchor?"}
	case n.Kind == yaml.AliasNode:
		if n.Alias == nil {
			return &Problem{Pos: at, Level: Error, Code: "unknown-anchor", Message: fmt.Sprintf("no anchor is called %q", n.Value)}
		}
		return follow(file, kind, n.Alias, depth+1, budget)
	}
	for _, c := range n.Content {
		if p := follow(file, kind, c, depth+1, budget); p != nil {
			return p
		}
	}
	return nil
}

// IsSetup reports whether a file is a setup: YAML with a top-level "lights". A
// file that cannot be read as YAML is one when a line begins with that key.
func IsSetup(src []byte) bool {
	if len(src) > maxBytes || !bytes.Contains(bytes.ToLower(src), []byte("lights")) {
		return false
	}
	root, problems := document("", src, "setup")
	if problems != nil { // broken, and then to be said so, not passed over
		return lineBegins(src, "lights")
	}
	return hasLights(root)
}

func hasLights(root *yaml.Node) bool {
	if root.Kind != yaml.MappingNode {
		return false
	}
	for i := 0; i+1 < len(root.Content); i += 2 {
		if canonicalKey(root.Content[i]) == "lights" {
			return true
		}
	}
	return false
}

func lineBegins(src []byte, key string) bool {
	for _, l := range bytes.Split(src, []byte("\n")) {
		if before, _, ok := bytes.Cut(l, []byte(":")); ok && bytes.EqualFold(bytes.TrimSpace(before), []byte(key)) && l[0] != ' ' {
			return true
		}
	}
	return false
}
