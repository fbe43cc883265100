package pdf

import (
	"fmt"
	"strings"
	"sync"

	"stopleaf/layout"
)

// extra is one thing more that the catalog holds: a key, and its value made by
// adding whatever objects it needs.
type extra struct {
	key   string
	value func(f *file) string
}

// Close writes what belongs to the document as a whole: its fonts, the tree of
// its pages, links, outline, labels and what is said of it. The pages of doc are
// not looked at. The outline may lead only to pages that there are.
func (w *Writer) Close(doc *layout.Document) error {
	return w.close(doc, nil)
}

// close is Close with more in the catalog, which is added in its order.
func (w *Writer) close(doc *layout.Document, extras []extra) error {
	if w.err != nil {
		return w.err
	}
	if len(w.sheets) == 0 {
		return errNoPages
	}
	f := w.file
	if err := w.fonts(); err != nil {
		return err
	}
	tree := w.pages()
	outline, err := w.outline(doc.Outline, tree)
	if err != nil {
		return err
	}
	catalog := []string{"/Type /Catalog", "/Pages " + ref(pagesObject)}
	if doc.Lang != "" {
		catalog = append(catalog, "/Lang "+literal(doc.Lang))
	}
	catalog = append(catalog, "/ViewerPreferences <</DisplayDocTitle true /PrintScaling /None>>",
		"/Metadata "+ref(f.addStream(" /Type /Metadata /Subtype /XML", stream{data: []byte(metadata(doc))})))
	for _, e := range append([]extra{
		{"PageLabels", func(f *file) string { return pageLabels(f, w.sheets) }},
		{"Outlines", func(*file) string { return outline }},
		{"Names", w.sources.tree},
		{"AF", func(*file) string { return w.sources.associated() }},
	}, extras...) {
		if value := e.value(f); value != "" {
			catalog = append(catalog, "/"+e.key+" "+value)
		}
	}
	info := f.add("<<" + strings.Join(information(doc), "\n") + ">>")
	root := f.add("<<" + strings.Join(catalog, "\n") + ">>")
	return f.end(root, info)
}

// fonts writes those that text was set with, and what their names in the
// contents mean.
func (w *Writer) fonts() error {
	var list []*font
	for i := range w.used {
		if !w.used[i].empty() {
			list = append(list, newFont(i == 1, &w.used[i]))
		}
	}
	var wg sync.WaitGroup
	for _, font := range list {
		wg.Go(func() { font.prepare(w.opt.Plain) })
	}
	wg.Wait()
	names := ""
	for _, font := range list {
		n, err := font.write(w.file)
		if err != nil {
			return err
		}
		names += "/" + fontName(font.bold) + " " + ref(n) + " "
	}
	w.file.put(fontsObject, "<<"+strings.TrimSpace(names)+">>")
	return nil
}

// perNode is how many pages one node of the tree holds.
const perNode = 100

// tree is where the pages are in the file.
type tree struct {
	pages  []int          // by page, the number of its object
	byName map[string]int // by label or name, the page; the first that has it
}

// pages writes the pages and their tree; ISO 32000-1, 7.7.3.
func (w *Writer) pages() tree {
	t := tree{byName: map[string]int{}}
	first := w.file.next()
	for i, s := range w.sheets {
		t.pages = append(t.pages, first+i)
		for _, name := range append([]string{s.label}, s.names...) {
			if _, taken := t.byName[name]; !taken && name != "" {
				t.byName[name] = i
			}
		}
	}
	parent := func(int) int { return pagesObject }
	if len(w.sheets) > perNode {
		parent = func(i int) int { return first + len(w.sheets) + i/perNode }
	}
	for i := range w.sheets {
		w.file.add(w.page(i, parent(i), t))
	}
	nodes := t.pages
	if len(w.sheets) > perNode {
		nodes = nil
		for at := 0; at < len(w.sheets); at += perNode {
			end := min(at+perNode, len(w.sheets))
			nodes = append(nodes, w.file.add(fmt.Sprintf("<</Type /Pages /Parent %s /Count %d /Kids [%s]>>", ref(pagesObject), end-at, refs(t.pages[at:end]))))
		}
	}
	w.file.put(pagesObject, fmt.Sprintf("<</Type /Pages /Count %d /Kids [%s]>>", len(w.sheets), refs(nodes)))
	return t
}

// page is one page's object.
func (w *Writer) page(i, parent int, t tree) string {
	s := w.sheets[i]
	var b strings.Builder
	fmt.Fprintf(&b, "<</Type /Page /Parent %s /MediaBox [0 0 %.2f %.2f]\n/Resources <</Font %s", ref(parent), points(s.w), points(s.h), ref(fontsObject))
	if len(s.pictures) > 0 {
		b.WriteString(" /XObject <<")
		for k, p := range s.pictures {
			if k > 0 {
				b.WriteByte(' ')
			}
			b.WriteString("/" + p.name + " " + ref(p.number))
		}
		b.WriteString(">>")
	}
	b.WriteString(">>")
	if annots := w.annotations(s, t); annots != "" {
		b.WriteString("\n/Annots [" + annots + "]")
	}
	b.WriteString("\n/Contents " + ref(s.number) + ">>")
	return b.String()
}

// annotations are a page's links, each to the top of a page.
func (w *Writer) annotations(s *Sheet, t tree) string {
	var b strings.Builder
	for _, l := range s.links {
		to, ok := t.byName[l.To]
		if !ok {
			continue
		}
		top := points(s.h)
		fmt.Fprintf(&b, "<</Type /Annot /Subtype /Link /Rect [%.2f %.2f %.2f %.2f] /Border [0 0 0] /Dest [%s /XYZ 0 %.2f null]>>",
			points(l.X), top-points(l.Y), points(l.X+l.W), top-points(l.Y+l.H), ref(t.pages[to]), points(w.sheets[to].h))
	}
	return b.String()
}
