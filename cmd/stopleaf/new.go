package main

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"

	"stopleaf/templates"
)

func runNew(c *call) error {
	from := c.set["from"]
	starters, err := starterNames()
	if err != nil {
		return err
	}
	name := strings.ReplaceAll(strings.TrimSuffix(strings.ToLower(from), ".yaml"), " ", "-")
	if !contains(starters, name) {
		return noStarter(from, name, starters)
	}
	data, err := templates.Read("starters/" + name + ".yaml")
	if err != nil {
		return err
	}
	out := c.operands[0]
	if out == "-" {
		return c.print(data)
	}
	if filepath.Ext(out) == "" {
		out += ".yaml"
	}
	if !looksLikeSetup(out) {
		return &usageError{fmt.Sprintf("%q does not end in .yaml, as a setup file does", out), ""}
	}
	if err := writeFiles([]file{{out, titled(data, out)}}, true); err != nil {
		return err
	}
	c.say("wrote %s; fill it in, then: stopleaf proof %s", out, shellWord(out))
	return nil
}

func starterNames() ([]string, error) {
	files, err := templates.List("starters")
	if err != nil {
		return nil, err
	}
	var names []string
	for _, f := range files {
		if name, ok := strings.CutSuffix(f, ".yaml"); ok {
			names = append(names, name)
		}
	}
	return names, nil
}

func noStarter(from, name string, starters []string) error {
	e := &usageError{hint: didYouMean(name, starters)}
	if from == "" {
		e.message = "new needs a starter: new FILE --from STARTER"
	} else {
		e.message = fmt.Sprintf("no starter %q", from)
	}
	var b bytes.Buffer
	b.WriteString(e.message + "; there are\n")
	rows := [][]string{}
	for _, s := range starters {
		rows = append(rows, []string{"  " + s, aboutStarter(s)})
	}
	writeTable(&b, rows, "ll")
	e.message = strings.TrimRight(b.String(), "\n")
	return e
}

// aboutStarter is the first line of a starter, which is a comment that says
// what it is for.
func aboutStarter(name string) string {
	data, err := templates.Read("starters/" + name + ".yaml")
	if err != nil {
		return ""
	}
	line, _, _ := strings.Cut(string(data), "\n")
	if !strings.HasPrefix(line, "#") {
		return ""
	}
	return strings.TrimSpace(strings.TrimLeft(line, "#"))
}

// titled gives a starter the title that its file's name says, keeping what
// stands beside it as a comment.
func titled(data []byte, out string) []byte {
	title := capital(strings.TrimSpace(strings.NewReplacer("-", " ", "_", " ").Replace(stem(out))))
	lines := strings.Split(string(data), "\n")
	for i, line := range lines {
		if title == "" || !strings.HasPrefix(line, "title:") {
			continue
		}
		quoted := strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(title)
		lines[i] = `title: "` + quoted + `"`
		if at := strings.Index(line, " #"); at >= 0 {
			lines[i] += "  " + strings.TrimSpace(line[at:])
		}
		break
	}
	return []byte(strings.Join(lines, "\n"))
}

// shellWord quotes a name that a shell would take apart.
func shellWord(s string) string {
	plain := func(r rune) bool {
		return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune("._/-", r) || r > 127
	}
	if strings.IndexFunc(s, func(r rune) bool { return !plain(r) }) < 0 {
		return s
	}
	return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'"
}
