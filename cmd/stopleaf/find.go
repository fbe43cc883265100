package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"stopleaf/binder"
	"stopleaf/binder/find"
)

// findHelp is what "help find" says, the filters from their table.
func findHelp(b *bytes.Buffer) {
	writeWrapped(b, "", "A word that is a file or folder is a PATH, looked into at any depth; without one it is this folder. What "+
		"follows -- is never a PATH. Every word must stand in a setup, whatever its case and accents, or begin one "+
		"there: 8 points in title or code, 4 in tags, 2 in names, roles, modifiers, heads and kinds, 1 in notes; "+
		"a whole word counts 4/3 of a beginning. 'low key' in quotes is a phrase. What is private is not looked at.")
	b.WriteString("\nFilters; quote those with < or > from the shell, or write lights:..3, ratio:4.., lights:2..4:\n\n")
	var rows [][2]string
	for _, f := range find.Filters() {
		rows = append(rows, [2]string{"  " + f.Use, f.Help})
	}
	writeSaid(b, rows)
	b.WriteString("\n")
	writeWrapped(b, "", "Ends with 1 when nothing is found or a setup is broken; the others are looked through all the same.")
}

func runFind(c *call) error {
	paths, words, err := c.findOperands()
	if err != nil {
		return err
	}
	query, err := find.Parse(words)
	if err != nil {
		return &usageError{err.Error(), "stopleaf help find lists the filters"}
	}
	shelf, err := c.shelf(paths, func(it *binder.Item) { it.Of, it.Setup = query.Try(it.Setup), nil })
	if err != nil {
		return err
	}
	problems := shelfErrors(shelf, false)
	if err := c.report(c.stderr, problems); err != nil {
		return err
	}
	list := kept[*find.Tried](shelf)
	found := find.Found(list)
	out := findText(found)
	if c.asJSON() {
		out = marshal(findOut{contract, foundOut(found), problemList(problems, filepath.ToSlash)})
	}
	if len(found) > 0 || c.asJSON() {
		if err := c.result(out, shelf.Files()); err != nil {
			return err
		}
	}
	if len(found) == 0 {
		c.nothingFound(query, list)
	}
	if len(found) == 0 || problems.HasErrors() {
		return errReported
	}
	return nil
}

// kept is what was kept of each setup that is not broken.
func kept[T any](s *binder.Shelf) []T {
	var out []T
	for _, it := range s.Items {
		if of, ok := it.Of.(T); ok {
			out = append(out, of)
		}
	}
	return out
}

// asJSON reports whether the result is to be JSON.
func (c *call) asJSON() bool {
	return c.has("json") || strings.EqualFold(filepath.Ext(c.set["output"]), ".json")
}

// findOperands parts where to look from what to look for.
func (c *call) findOperands() (paths, words []string, err error) {
	for i, op := range c.operands {
		switch {
		case c.has("in") || c.dashes >= 0 && i >= c.dashes:
			words = append(words, op)
		case op == "-" || exists(op) || looksLikePath(op):
			paths = append(paths, op)
		default:
			words = append(words, op)
		}
	}
	if c.has("in") {
		paths = []string{c.set["in"]}
	}
	if len(words) == 0 {
		hint := "stopleaf list shows them all"
		if n := len(paths); n > 0 && !c.has("in") {
			before := strings.Join(append(append([]string{"find"}, paths[:n-1]...), "--", paths[n-1]), " ")
			hint = fmt.Sprintf("%q is a file or folder here: stopleaf %s looks for the word; stopleaf list shows all", paths[n-1], before)
		}
		return nil, nil, &usageError{"find needs a word or a filter to look for", hint}
	}
	if len(paths) == 0 {
		paths = []string{"."}
	}
	return paths, words, nil
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

// looksLikePath is for what is not there and can hardly be meant as a word.
func looksLikePath(s string) bool {
	return looksLikeSetup(s) || strings.HasPrefix(s, "./") || strings.HasPrefix(s, "../") || strings.HasSuffix(s, "/") || filepath.IsAbs(s)
}

// nothingFound says which of the words no setup has.
func (c *call) nothingFound(query *find.Query, list []*find.Tried) {
	message := "nothing found in " + many(len(list), "setup")
	missing, nearest := query.Missing(list)
	hint := ""
	for _, near := range nearest {
		if near != "" && hint == "" {
			hint = fmt.Sprintf("did you mean %q?", near)
		}
	}
	if len(missing) > 0 {
		message += ": no setup has " + strings.Join(quoted(missing), " or ")
	} else {
		message += ": each is met by some, all by none"
	}
	c.complain("nothing-found", message, hint)
}

// findText is a line for each.
func findText(found []*find.Tried) []byte {
	var b bytes.Buffer
	var rows [][]string
	for _, t := range found {
		rows = append(rows, []string{orUnknown(t.Code), orUnknown(t.Title), many(t.Lights, "light"), orUnknown(t.Made), filepath.ToSlash(t.File)})
	}
	writeTable(&b, rows, "lllll")
	return b.Bytes()
}

func orUnknown(s string) string {
	if s == "" {
		return unknown
	}
	return s
}

// findOut is the JSON of "find --json".
type findOut struct {
	Stopleaf int          `json:"stopleaf"`
	Found    []foundSetup `json:"found"`
	Problems []problemOut `json:"problems"`
}

type foundSetup struct {
	Code   string   `json:"code"`
	Title  *string  `json:"title"`
	Made   *string  `json:"made"`
	Lights int      `json:"lights"`
	Tags   []string `json:"tags"`
	File   string   `json:"file"`
	Score  int      `json:"score"`
}

func foundOut(found []*find.Tried) []foundSetup {
	out := []foundSetup{}
	for _, t := range found {
		out = append(out, foundSetup{t.Code, known(t.Title), known(t.Made), t.Lights, append([]string{}, t.Tags...), filepath.ToSlash(t.File), t.Score})
	}
	return out
}
