package pdf

import (
	"fmt"

	"stopleaf/layout"
)

// outline writes the outline and gives its reference; nothing where there is
// none. Without entries of its own a document of several pages has one for each
// page with a title.
func (w *Writer) outline(entries []layout.Entry, t tree) (string, error) {
	list, err := lines(entries, t)
	if err != nil {
		return "", err
	}
	if entries == nil && len(w.sheets) > 1 {
		for i, s := range w.sheets {
			if s.title != "" {
				list = append(list, line{title: s.title, page: t.pages[i]})
			}
		}
	}
	if len(list) == 0 {
		return "", nil
	}
	// the root stands behind its entries, which name it
	next := w.file.next()
	root := number(list, &next)
	writeLines(w.file, list, root)
	w.file.add(fmt.Sprintf("<</Type /Outlines /First %s /Last %s /Count %d>>", ref(list[0].number), ref(list[len(list)-1].number), len(list)))
	return ref(root), nil
}

// line is an entry of the outline with its page's object, 0 for none, and its
// own.
type line struct {
	title  string
	page   int
	under  []line
	number int
}

func lines(entries []layout.Entry, t tree) (list []line, err error) {
	for _, e := range entries {
		l := line{title: e.Title}
		if e.To != "" {
			i, ok := t.byName[e.To]
			if !ok {
				return nil, fmt.Errorf("the outline leads to %.40q, and no page is called that", e.To)
			}
			l.page = t.pages[i]
		}
		if l.under, err = lines(e.Under, t); err != nil {
			return nil, err
		}
		list = append(list, l)
	}
	return list, nil
}

// number gives each line a number from next on, in the order in which they are
// written, and the first that is left.
func number(list []line, next *int) int {
	for i := range list {
		list[i].number = *next
		*next++
		number(list[i].under, next)
	}
	return *next
}

// writeLines writes entries under their parent; those of each are folded away.
func writeLines(f *file, list []line, parent int) {
	for i, l := range list {
		entry := fmt.Sprintf("<</Title %s /Parent %s", literal(l.title), ref(parent))
		if l.page != 0 {
			entry += " /Dest [" + ref(l.page) + " /Fit]"
		}
		if i > 0 {
			entry += " /Prev " + ref(list[i-1].number)
		}
		if i < len(list)-1 {
			entry += " /Next " + ref(list[i+1].number)
		}
		if n := len(l.under); n > 0 {
			entry += fmt.Sprintf(" /First %s /Last %s /Count %d", ref(l.under[0].number), ref(l.under[n-1].number), -n)
		}
		f.add(entry + ">>")
		writeLines(f, l.under, l.number)
	}
}
