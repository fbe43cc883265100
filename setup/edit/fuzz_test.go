package edit

import (
	"bytes"
	"strconv"
	"testing"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"stopleaf/setup"
)

// paths are those of every value of a file, by index in lists.
func paths(n *yaml.Node, at Path, all *[]Path) {
	if len(at) > 0 {
		*all = append(*all, at)
	}
	n = follow(n)
	for i, c := range n.Content {
		step := strconv.Itoa(i)
		if n.Kind == yaml.MappingNode {
			if i%2 == 0 {
				continue
			}
			step = follow(n.Content[i-1]).Value
		}
		if len(*all) < 500 {
			paths(c, append(at[:len(at):len(at)], step), all)
		}
	}
}

// FuzzEdit: whatever the file and the edit, nothing panics; the edit is refused
// with a place and the file is as it was, or gopkg.in/yaml.v3 by itself reads a
// file in which the value stands.
func FuzzEdit(f *testing.F) {
	for _, src := range corpus(f) {
		f.Add(src, uint16(7), uint8(0), "8.5")
	}
	for i, src := range []string{
		"a: |+\n  x\n\n# c\nb: >-\n x\n  y\n z\n", "? a\n: b\n? [c]\n: - d\n", "a: &x {l: 1}\nb: *x\nc: [*x, *x]\n", "{a: 1, b: [c, d: e], f}\n",
		"\xef\xbb\xbf%YAML 1.1\n---\r\na: 'x\r\n  y'\r\nb:\r\n- 1\r\n-\r\n", "a: \"\\\n  x\\ty\"\nb:\n    c: d # e\n    # f\n", "a:\tb\t# c\nd: x y\u2028z\n", "a: 1\rb: 2\r",
		"a: [1, # c\n 2,\n ]\nb: {c: 1, # d\n e: {}, }\n", "a: !t {b: &c }\nd: *c\n", "- a\n", "a: {<<: {b: 1}, c: 2}\n", "a:\n\u00a0\u00a0b: 1\n\u00a0\u00a0c: 2\n",
	} {
		for op := range uint8(5) {
			f.Add([]byte(src), uint16(i), op, "[x, {y: 1}]")
		}
	}
	f.Fuzz(func(t *testing.T, src []byte, which uint16, op uint8, text string) {
		s, err := Open("f.yaml", src)
		if err != nil {
			placed(t, err)
			return
		}
		before := bytes.Clone(src)
		var all []Path
		paths(s.now.root, nil, &all)
		p := Path{"new"}
		if len(all) > 0 {
			p = all[int(which)%len(all)]
		}
		switch op % 5 {
		case 0:
			err = s.Set(p, text)
		case 1:
			err = s.SetYAML(p, text)
		case 2:
			err = s.Delete(p)
		case 3:
			err = s.Rename(p, text)
		case 4:
			p = append(p, "new key")
			err = s.Set(p, text)
		}
		got, _ := s.Bytes()
		if !bytes.Equal(src, before) {
			t.Fatal("the caller's bytes were written to")
		}
		if err != nil {
			placed(t, err)
			if !bytes.Equal(got, before) {
				t.Fatalf("refused with %v, and changed %q to %q", err, src, got)
			}
			return
		}
		var n yaml.Node
		if err := yaml.Unmarshal(setup.PlainLines(got), &n); err != nil {
			t.Fatalf("%q: %v", got, err)
		}
		if now, ok := s.Text(p); op%5 == 0 && (!ok || now != text) {
			t.Fatalf("%v is %q, not %q, in %q", p, now, text, got)
		}
		if op%5 == 2 && s.Has(p) && len(p) == 1 {
			t.Fatalf("%v is still there in %q", p, got)
		}
	})
}

func placed(t *testing.T, err error) {
	problems, ok := err.(setup.Problems)
	if !ok || len(problems) == 0 || problems[0].Message == "" || problems[0].Pos.File != "f.yaml" || !utf8.ValidString(problems[0].Message) {
		t.Fatalf("badly worded or placed: %v", err)
	}
}
