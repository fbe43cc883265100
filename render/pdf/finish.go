package pdf

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"stopleaf/layout"
)

// extra is one thing more that the catalog holds: a key, and its value made by
// adding whatever objects it needs.
type extra struct {
	key   string
	value func(f *file) string
}

// finish replaces the end of what fpdf wrote, its information, catalog, table
// and trailer, with our own, since fpdf offers no page labels, no XMP, no print
// scaling and no identity. The extras are added to the catalog in their order.
func finish(body []byte, doc *layout.Document, extras []extra) ([]byte, error) {
	f, err := cut(body)
	if err != nil {
		return nil, err
	}
	f.subsetNames()
	catalog := []string{"/Type /Catalog", "/Pages 1 0 R", "/Version /1.7"}
	if doc.Lang != "" {
		catalog = append(catalog, "/Lang "+literal(doc.Lang))
	}
	catalog = append(catalog, "/ViewerPreferences <</DisplayDocTitle true /PrintScaling /None>>")
	for _, e := range append(standard(doc), extras...) {
		if value := e.value(f); value != "" {
			catalog = append(catalog, "/"+e.key+" "+value)
		}
	}
	info := f.add("<<" + strings.Join(information(doc), "\n") + ">>")
	root := f.add("<<" + strings.Join(catalog, "\n") + ">>")
	return f.end(root, info), nil
}

func standard(doc *layout.Document) []extra {
	return []extra{
		{"Metadata", func(f *file) string {
			packet := xmp(doc)
			return ref(f.add(fmt.Sprintf("<</Type /Metadata /Subtype /XML /Length %d>>\nstream\n%s\nendstream", len(packet), packet)))
		}},
		{"PageLabels", func(*file) string { return pageLabels(doc.Pages) }},
		{"Outlines", func(f *file) string { return outline(f, doc.Pages) }},
	}
}

// file is a PDF under way: bytes so far and where each object begins in them.
type file struct {
	out     []byte
	offsets []int // by object number; 0 is not used
}

// binary follows the header, so that nothing takes the file for text.
const binary = "%\xE2\xE3\xCF\xD3\n"

const header = "%PDF-1.7\n"

// cut takes fpdf's file apart before its last two objects, the information and
// the catalog.
func cut(body []byte) (*file, error) {
	at := bytes.LastIndex(body, []byte("startxref\n"))
	if at < 0 {
		return nil, errors.New("pdf: no cross-reference table")
	}
	line, _, _ := strings.Cut(string(body[at+len("startxref\n"):]), "\n")
	table, err := strconv.Atoi(line)
	if err != nil || table < 0 || table > at {
		return nil, errors.New("pdf: a damaged cross-reference table")
	}
	rows := strings.Split(string(body[table:at]), "\n")
	f := &file{offsets: []int{0}}
	for _, row := range rows {
		if offset, found := strings.CutSuffix(row, " 00000 n "); found {
			n, err := strconv.Atoi(offset)
			if err != nil {
				return nil, errors.New("pdf: a damaged cross-reference table")
			}
			f.offsets = append(f.offsets, n)
		}
	}
	last := len(f.offsets) - 2
	if last < 1 || !bytes.HasPrefix(body, []byte("%PDF-1.")) {
		return nil, errors.New("pdf: not a file of ours")
	}
	end := f.offsets[last]
	f.offsets = f.offsets[:last]
	for i := 1; i < last; i++ {
		f.offsets[i] += len(binary)
	}
	f.out = make([]byte, 0, end+8192)
	f.out = append(f.out, header+binary...)
	f.out = append(f.out, body[len(header):end]...)
	return f, nil
}

// subsetNames turns the names that fpdf gives its fonts, /utf8aa+family, into
// those of subsets: six capitals that differ from file to file, a plus, the
// family's own name.
func (f *file) subsetNames() {
	sum := sha256.Sum256(f.out)
	proper := strings.NewReplacer("dejavusanscondensed", "DejaVuSansCondensed", "bold", "Bold")
	for i, family := range families {
		if family == "" {
			continue
		}
		tag := make([]byte, 6)
		for j := range tag {
			tag[j] = 'A' + sum[j+8*i]%26
		}
		name := "/" + string(tag) + strings.TrimPrefix(proper.Replace(family), "aa")
		for _, after := range []string{"\n", " "} {
			replace(f.out, "/utf8"+family+after, name+after)
		}
	}
}

// replace puts one text in the place of another of the same length.
func replace(b []byte, from, to string) {
	for at := 0; ; {
		i := bytes.Index(b[at:], []byte(from))
		if i < 0 {
			return
		}
		copy(b[at+i:], to)
		at += i + len(from)
	}
}

// add appends an object and gives its number.
func (f *file) add(body string) int {
	n := len(f.offsets)
	f.offsets = append(f.offsets, len(f.out))
	f.out = append(f.out, strconv.Itoa(n)+" 0 obj\n"+body+"\nendobj\n"...)
	return n
}

// next is the number that add will give.
func (f *file) next() int { return len(f.offsets) }

func ref(n int) string { return strconv.Itoa(n) + " 0 R" }

// end writes the table and the trailer. The identity is a hash of all before.
func (f *file) end(root, info int) []byte {
	sum := sha256.Sum256(f.out)
	table := len(f.out)
	var b bytes.Buffer
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(f.offsets))
	for _, at := range f.offsets[1:] {
		fmt.Fprintf(&b, "%010d 00000 n \n", at)
	}
	fmt.Fprintf(&b, "trailer\n<</Size %d /Root %s /Info %s /ID [<%x> <%x>]>>\nstartxref\n%d\n%%%%EOF\n",
		len(f.offsets), ref(root), ref(info), sum[:16], sum[:16], table)
	return append(f.out, b.Bytes()...)
}
