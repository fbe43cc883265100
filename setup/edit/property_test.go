package edit

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"
	"pgregory.net/rapid"

	"stopleaf/internal/randomset"
)

// anyText draws a text of the kind that people write, and of every other kind.
func anyText(t *rapid.T) string {
	return rapid.OneOf(rapid.SampledFrom([]string{"", " ", "a", "null", "~", "yes", "-", "- a", "? b", "a: b", "a:", ":a", "#", "a #b", "a#b", "'", "\"", "it's", "a, b", "{a}", "[a", "*a", "&a b", "!x", "%", "@a", "`", "|", ">-",
		"1.4", "f/8 +0.4", "7:30", "---", "...", "<<", "a\nb", "a\n", "\na", " a", "a ", "\ta", "a\tb", "\u00a0a", "a\u2028b", "a\u0085", "\ufeff", "\x07", "é", "日本", "\\", "\\n", "a\\\"b"}),
		rapid.String(), rapid.StringMatching(`[-a-z0-9:#,'"{}\[\]&*!|>%@ ?]{1,12}`)).Draw(t, "text")
}

// restyled draws the same file in another hand: line ends, a byte order mark, no
// end of the last line, comments behind the lines.
func restyled(t *rapid.T, src string) []byte {
	if rapid.Bool().Draw(t, "comments") {
		lines := strings.SplitAfter(src, "\n")
		for i, l := range lines {
			if n := i % 3; n > 0 && strings.HasSuffix(l, "\n") && !strings.HasPrefix(l, "notes") {
				lines[i] = strings.TrimSuffix(l, "\n") + strings.Repeat(" ", n) + "# é " + fmt.Sprint(i) + "\n"
			}
		}
		src = strings.Join(lines, "")
	}
	if rapid.Bool().Draw(t, "no last end") {
		src = strings.TrimSuffix(src, "\n")
	}
	src = strings.ReplaceAll(src, "\n", rapid.SampledFrom([]string{"\n", "\n", "\r\n", "\r"}).Draw(t, "line end"))
	return []byte(rapid.SampledFrom([]string{"", "", "\xef\xbb\xbf"}).Draw(t, "mark") + src)
}

// TestEditsOfRandomSets sets values of random files to any text: gopkg.in/yaml.v3
// by itself reads the new values there and everything else as it was, and the old
// values set again, in any order, give the old bytes.
func TestEditsOfRandomSets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		src := restyled(t, randomset.Setups(1, 4).Draw(t, "set").YAML())
		s, err := Open("r.yaml", src)
		if err != nil {
			t.Fatal(err)
		}
		type leaf struct {
			p   Path
			was string
		}
		var all, set []leaf
		want := map[string]string{}
		scalars(s.now.root, nil, func(p Path, n *yaml.Node) {
			all = append(all, leaf{p, n.Value})
			want[p.String()] = n.Value
		})
		for range rapid.IntRange(1, 6).Draw(t, "edits") {
			l := rapid.SampledFrom(all).Draw(t, "leaf")
			if last := l.p[len(l.p)-1]; last == "name" || last == "role" {
				continue // what paths go by
			}
			text := anyText(t)
			if err := s.Set(l.p, text); err != nil {
				t.Fatalf("%v: %q: %v", l.p, text, err)
			}
			want[l.p.String()] = text
			set = append(set, l)
		}
		got, _ := s.Bytes()
		var doc yaml.Node
		if err := yaml.Unmarshal(bytes.TrimPrefix(got, []byte("\xef\xbb\xbf")), &doc); err != nil {
			t.Fatalf("%v in %q", err, got)
		}
		count := 0
		scalars(doc.Content[0], nil, func(p Path, n *yaml.Node) {
			count++
			if n.Value != want[p.String()] {
				t.Fatalf("%v is %q, not %q, in %q", p, n.Value, want[p.String()], got)
			}
		})
		if count != len(all) {
			t.Fatalf("%d values, not %d", count, len(all))
		}
		for _, l := range rapid.Permutation(set).Draw(t, "order") {
			if err := s.Set(l.p, l.was); err != nil {
				t.Fatal(err)
			}
		}
		if back, _ := s.Bytes(); !bytes.Equal(back, src) {
			t.Fatalf("set back:\n%q\nwas\n%q", back, src)
		}
	})
}

// TestAddedAndTakenOut adds a key and takes it out again, and renames one and
// renames it back: the bytes are the old ones.
func TestAddedAndTakenOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		src := restyled(t, randomset.Setups(1, 4).Draw(t, "set").YAML())
		s, err := Open("r.yaml", src)
		if err != nil {
			t.Fatal(err)
		}
		var all []Path
		paths(s.now.root, nil, &all)
		p := rapid.SampledFrom(all).Draw(t, "path")
		f, err := s.find(p)
		if err != nil {
			t.Fatal(err)
		}
		switch n := f.last(); {
		case n.Kind == yaml.MappingNode && len(n.Content) > 0:
			added := append(p, "quite new")
			if err := s.Set(added, anyText(t)); err != nil {
				t.Fatal(err)
			}
			if err := s.Delete(added); err != nil {
				t.Fatal(err)
			}
		case f.key() != nil && f.key().Value != "name" && f.key().Value != "role" && f.key().Value != "kind": // what paths go by
			old := f.key().Value
			if err := s.Rename(p, "quite new"); err != nil {
				t.Fatal(err)
			}
			if err := s.Rename(append(p[:len(p)-1:len(p)-1], "quite new"), old); err != nil {
				t.Fatal(err)
			}
		}
		if back, _ := s.Bytes(); !bytes.Equal(back, src) {
			t.Fatalf("%v:\n%q\nwas\n%q", p, back, src)
		}
	})
}
