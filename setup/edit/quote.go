package edit

import (
	"strings"

	"gopkg.in/yaml.v3"

	"stopleaf/setup"
)

// scalar writes a text on one line: in the style it had where that holds it, else
// plain, else in double quotes. In braces or brackets more must be quoted.
func scalar(s string, had yaml.Style, flow bool) string {
	switch {
	case had&yaml.SingleQuotedStyle != 0 && oneLine(s):
		return "'" + strings.ReplaceAll(s, "'", "''") + "'"
	case had&quotes == 0 && plainHolds(s, flow):
		return s
	}
	return setup.Quoted(s)
}

// plainHolds reports whether a text without quotes reads as itself.
func plainHolds(s string, flow bool) bool {
	switch s {
	case "", "~", "null", "Null", "NULL", "<<", "---", "...":
		return false
	}
	switch {
	case !oneLine(s) || s != strings.Trim(s, " \t\u00a0") || strings.IndexByte(",[]{}#&*!|>'\"%@`", s[0]) >= 0:
		return false
	case strings.IndexByte("-?:", s[0]) >= 0 && (len(s) == 1 || s[1] == ' ' || flow && s[0] != '-'):
		return false
	case strings.Contains(s, ": ") || strings.Contains(s, ":\t") || strings.HasSuffix(s, ":"):
		return false
	case strings.Contains(s, " #") || strings.Contains(s, "\t#") || strings.HasPrefix(s, "--- ") || strings.HasPrefix(s, "... "):
		return false
	case flow && strings.ContainsAny(s, ",[]{}?"):
		return false
	}
	return !sixty(s)
}

// sixty reports what YAML 1.1 takes for a number to the base of sixty: 7:30.
func sixty(s string) bool {
	if !strings.Contains(s, ":") || strings.Trim(s, "+-0123456789:.") != "" {
		return false
	}
	return strings.IndexByte("+-0123456789", s[0]) >= 0
}

// oneLine reports whether a text can stand in the file as it is.
func oneLine(s string) bool {
	for _, r := range s {
		if !printable(r) {
			return false
		}
	}
	return true
}

// printable reports whether a character may stand in a line of YAML and is read
// as itself there.
func printable(r rune) bool {
	switch {
	case r == '\t':
		return true
	case r < ' ', r >= 0x7f && r < 0xa0, r == 0x2028, r == 0x2029, r == 0xfeff, r == 0xfffe, r == 0xffff:
		return false
	}
	return true
}

// flowText writes a node on one line, aliases written out, anchors and comments
// left away. Braces and brackets as they have to be inside others.
func flowText(n *yaml.Node) string {
	n = follow(n)
	var parts []string
	switch n.Kind {
	case yaml.MappingNode:
		for i := 0; i+1 < len(n.Content); i += 2 {
			parts = append(parts, flowText(n.Content[i])+": "+flowText(n.Content[i+1]))
		}
		return "{" + strings.Join(parts, ", ") + "}"
	case yaml.SequenceNode:
		for _, c := range n.Content {
			parts = append(parts, flowText(c))
		}
		return "[" + strings.Join(parts, ", ") + "]"
	}
	if isNull(n) {
		return "~"
	}
	return scalar(n.Value, n.Style, true)
}

// blockText writes a text after "|" or ">", with the lines below indented; ok is
// false where that would not read back the same. end is the chomping: "" for one
// line end, "-" for none.
func blockText(s string, had yaml.Style, indent string) (string, bool) {
	body := strings.TrimSuffix(s, "\n")
	mark, chomp := "|", "-"
	if body != s {
		chomp = ""
	}
	if body == "" || strings.HasSuffix(body, "\n") || strings.Trim(body, " \n") == "" || strings.HasPrefix(strings.TrimLeft(body, "\n"), " ") {
		return "", false
	}
	if had&yaml.FoldedStyle != 0 && !strings.Contains(body, "\n") {
		mark = ">"
	}
	out := mark + chomp
	for _, line := range strings.Split(body, "\n") {
		if !oneLine(line) || strings.HasPrefix(line, "\t") || strings.HasPrefix(line, "\u00a0") {
			return "", false
		}
		out += "\n"
		if line != "" {
			out += indent + line
		}
	}
	return out, true
}
