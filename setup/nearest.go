package setup

import (
	"fmt"
	"strings"

	"gopkg.in/yaml.v3"

	"stopleaf/setup/grammar"
)

// unknownKey says what is wrong with the i-th node of a mapping, a key that the
// object does not have, and what was probably meant.
func (w writer) unknownKey(o *grammar.Object, n *yaml.Node, i int, called string) {
	key, value := followed(n.Content[i]), followed(n.Content[i+1])
	at := w.pos(n.Content[i])
	switch {
	case key.Kind != yaml.ScalarNode:
		w.err(at, "bad-key", fmt.Sprintf("a key of %s is %s, not a word", called, shapeOf(key)), "")
		return
	case key.Tag == "!!merge":
		w.err(at, "merge", "a merge key (<<) is not understood", "write the keys out, or let an alias stand for a whole value")
		return
	case strings.TrimSpace(key.Value) == "" || isNull(key):
		w.err(at, "bad-key", fmt.Sprintf("a key of %s is empty", called), "")
		return
	}
	hint := w.hintForKey(o, n, i, key, value)
	w.err(at, "unknown-key", fmt.Sprintf("unknown key %q in %s", key.Value, called), hint)
}

func (w writer) hintForKey(o *grammar.Object, n *yaml.Node, i int, key, value *yaml.Node) string {
	if first, rest, ok := strings.Cut(key.Value, " "); ok && isNull(value) && o.Key(grammar.Canonical(first)) != nil {
		return fmt.Sprintf("a \":\" is missing: write %q", first+": "+rest)
	}
	if n.Style&yaml.FlowStyle != 0 && isNull(value) && i >= 2 {
		before, held := followed(n.Content[i-2]).Value, followed(n.Content[i-1]).Value
		if digits(key.Value) && digits(held) {
			return fmt.Sprintf("inside braces a comma separates: write %s.%s with a point", held, key.Value)
		}
		return fmt.Sprintf("inside braces a comma separates: put the value of %q in quotes", before)
	}
	name := grammar.Canonical(key.Value)
	if near := Nearest(name, o.Names()); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	if gear := grammar.Find("gear"); o.Name == "setup" && gear.Key(name) != nil {
		return fmt.Sprintf("%q belongs in a gear file, which a setup names with \"gear\"", gear.Key(name).Name)
	}
	for _, k := range o.Keys {
		if sub := grammar.Find(k.Of); sub != nil && k.Takes.Has(grammar.Map) {
			if found := sub.Key(name); found != nil {
				return fmt.Sprintf("%q belongs under %q", found.Name, k.Name)
			}
		}
	}
	if top := grammar.Find(w.top); top != o {
		if found := top.Key(name); found != nil {
			return fmt.Sprintf("%q belongs at the top of the file, not indented", found.Name)
		}
	}
	if same := sameStem(name, o.Names()); same != "" {
		return fmt.Sprintf("did you mean %q?", same)
	}
	return "allowed: " + strings.Join(o.Names(), ", ")
}

// sameStem gives the one of known that ends otherwise than s, "reading" for "reads";
// "" for none and for several.
func sameStem(s string, known []string) (found string) {
	const stem, ending = 4, 3 // letters: at least, at most
	for _, k := range known {
		n := 0
		for n < min(len(s), len(k)) && s[n] == k[n] {
			n++
		}
		if n < stem || len(s)-n > ending || len(k)-n > ending {
			continue
		}
		if found != "" {
			return ""
		}
		found = k
	}
	return found
}

func digits(s string) bool {
	return s != "" && strings.Trim(s, "0123456789") == ""
}

// Nearest gives the one of known that is a slip of the pen away from s, or "".
func Nearest(s string, known []string) string {
	s = strings.ToLower(s)
	best, bestAt := "", 1+max(1, len([]rune(s))/3)
	if len(s) > 64 {
		return ""
	}
	for _, k := range known {
		low := strings.ToLower(k)
		d := edits(s, low)
		if strings.ReplaceAll(low, " ", "") == strings.ReplaceAll(s, " ", "") {
			d = 0
		}
		if d < bestAt {
			best, bestAt = k, d
		}
	}
	if best != "" && bestAt >= len([]rune(best)) {
		return ""
	}
	return best
}

// edits counts insertions, deletions, changes and swaps of neighbours (optimal
// string alignment).
func edits(a, b string) int {
	x, y := []rune(a), []rune(b)
	rows := make([][]int, len(x)+1)
	for i := range rows {
		rows[i] = make([]int, len(y)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(x); i++ {
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			d := min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				d = min(d, rows[i-2][j-2]+1)
			}
			rows[i][j] = d
		}
	}
	return rows[len(x)][len(y)]
}

// suggest is the hint for a word that is not among the known ones.
func suggest(s string, known []string) string {
	if near := Nearest(s, known); near != "" {
		return fmt.Sprintf("did you mean %q? allowed: %s", near, strings.Join(known, ", "))
	}
	return "allowed: " + strings.Join(known, ", ")
}
