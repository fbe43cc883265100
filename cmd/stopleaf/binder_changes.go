package main

import (
	"bytes"
	"fmt"
	"io"
	"os"

	"stopleaf/binder"
)

// mostTail is how much of an earlier binder is read, from its end: what is said
// of its pages stands behind them.
const mostTail = 64 << 20

// since reads the earlier binder that --only-changed names.
func (m *binderMaker) since() error {
	name, given := m.set["only-changed"]
	if !given {
		return nil
	}
	data, err := tail(name)
	if err != nil {
		return &fileError{message: fmt.Sprintf("could not read %q: %s", name, reason(err))}
	}
	m.inputs = append(m.inputs, name)
	before, err := binder.ReadPrints(data)
	if err != nil {
		return fmt.Errorf("%s: %w; print the binder whole, without --only-changed", name, err)
	}
	if before.Duplex != m.binder.Duplex {
		return &usageError{fmt.Sprintf("%q is printed on %s of the paper, this binder on %s", name, sidesOf(before.Duplex), sidesOf(m.binder.Duplex)),
			"print it whole, without --only-changed, or say --duplex as it was"}
	}
	m.before, m.earlier = before, map[string]bool{}
	for _, l := range before.Leaves() {
		m.earlier[l.String()] = true
	}
	return nil
}

func sidesOf(duplex bool) string {
	if duplex {
		return "both sides"
	}
	return "one side"
}

// tail reads the last part of a file.
func tail(name string) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if _, err := f.Seek(max(0, info.Size()-mostTail), io.SeekStart); err != nil {
		return nil, err
	}
	return io.ReadAll(io.LimitReader(f, mostTail))
}

// list says which sheets to take out of the earlier binder and where to put the
// new ones; on standard error where the binder itself goes to standard output.
func (m *binderMaker) list() error {
	if m.before == nil || m.has("strict") && m.problems.HasErrors() {
		return nil
	}
	now := binder.Printed{Duplex: m.binder.Duplex}
	lists := map[string]bool{}
	for i, pages := range m.prints {
		now.Pages = append(now.Pages, pages...)
		for _, p := range pages {
			lists[p.Label] = m.binder.Lists(i)
		}
	}
	c := binder.Compare(m.before.Leaves(), now.Leaves(), func(label string) bool { return lists[label] })
	var b bytes.Buffer
	if len(c.Out) > 0 {
		b.WriteString("Take out\n")
	}
	for _, l := range c.Out {
		b.WriteString("  " + l.Labels() + "\n")
	}
	put := func(head string, puts []binder.Put) {
		if len(puts) == 0 {
			return
		}
		b.WriteString(head + "\n")
		var rows [][]string
		for _, p := range puts {
			behind := "at the very front"
			if p.Behind != nil {
				behind = "behind " + p.Behind.Labels()
			}
			rows = append(rows, []string{"  " + p.Leaf.Labels(), behind})
		}
		writeTable(&b, rows, "ll")
	}
	put("Put in, from the front", c.In)
	put("Move, from the front", c.Move)
	if m.name == "-" {
		return m.write(m.stderr, b.Bytes())
	}
	return m.print(b.Bytes())
}
