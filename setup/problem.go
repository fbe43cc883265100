package setup

import (
	"fmt"
	"sort"
	"strings"
)

// Pos is a place in a file, both counts 1-based. Line 0 means the file as a
// whole.
type Pos struct {
	File string
	Line int
	Col  int
}

// String gives "file:line:col", or "file" for the file as a whole.
func (p Pos) String() string {
	if p.Line == 0 {
		return p.File
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Col)
}

// Level ranks a problem.
type Level string

// The levels. An error stops every document; a warning never changes the exit
// status; a note says what a rebuild would miss (proof prints it).
const (
	Error   Level = "error"
	Warning Level = "warning"
	Missing Level = "missing"
)

// Problem is one thing wrong with a file, for a person: message lower case, no
// full stop, names quoted; the hint says what to do instead.
type Problem struct {
	Pos     Pos    `json:"-"`
	Level   Level  `json:"level"`
	Code    string `json:"code"` // stable, kebab-case: "unknown-key"
	Message string `json:"message"`
	Hint    string `json:"hint"`
}

// String is the line a terminal shows: "file:line:col: message (hint)".
func (p Problem) String() string {
	s := p.Pos.String() + ": "
	if p.Level != Error {
		s += string(p.Level) + ": "
	}
	s += p.Message
	if p.Hint != "" {
		s += "\n    hint: " + p.Hint
	}
	return s
}

// Problems is a list that sorts by place and is an error when any of them is.
type Problems []Problem

// Error joins all problems, one a line.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.String()
	}
	return strings.Join(lines, "\n")
}

// HasErrors reports whether any problem is an error.
func (ps Problems) HasErrors() bool {
	for _, p := range ps {
		if p.Level == Error {
			return true
		}
	}
	return false
}

// Sort orders by file, line, column, then message.
func (ps Problems) Sort() {
	sort.SliceStable(ps, func(i, j int) bool {
		a, b := ps[i], ps[j]
		switch {
		case a.Pos.File != b.Pos.File:
			return a.Pos.File < b.Pos.File
		case a.Pos.Line != b.Pos.Line:
			return a.Pos.Line < b.Pos.Line
		case a.Pos.Col != b.Pos.Col:
			return a.Pos.Col < b.Pos.Col
		}
		return a.Message < b.Message
	})
}
