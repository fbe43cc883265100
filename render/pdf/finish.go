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

// finish replaces the end of what fpdf wrote, its resources, information,
// catalog, table and trailer, with our own, since fpdf offers no page labels, no
// XMP, no print scaling and no identity, and is slow with fonts. The extras are
// added to the catalog in their order.
func finish(body []byte, fonts []*font, doc *layout.Document, extras []extra) ([]byte, error) {
	f, err := cut(body)
	if err != nil {
		return nil, err
	}
	if err := f.resources(fonts); err != nil {
		return nil, err
	}
	catalog := []string{"/Type /Catalog", "/Pages 1 0 R"}
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

// resources writes the dictionary of what the pages' contents name: the fonts,
// which are added here, and fpdf's pictures.
func (f *file) resources(fonts []*font) error {
	list := ""
	for _, font := range fonts {
		n, err := font.write(f)
		if err != nil {
			return err
		}
		list += "/" + font.resource() + " " + ref(n) + " "
	}
	f.put(resourceObject, "<</ProcSet [/PDF /Text /ImageB /ImageC /ImageI]\n/Font <<"+strings.TrimSpace(list)+">>\n/XObject <<"+f.pictures+">>>>")
	return nil
}

// resourceObject is the number under which fpdf's pages look for it.
const resourceObject = 2

func standard(doc *layout.Document) []extra {
	return []extra{
		{"Metadata", func(f *file) string {
			packet := metadata(doc)
			return ref(f.add(fmt.Sprintf("<</Type /Metadata /Subtype /XML /Length %d>>\nstream\n%s\nendstream", len(packet), packet)))
		}},
		{"PageLabels", func(*file) string { return pageLabels(doc.Pages) }},
		{"Outlines", func(f *file) string { return outline(f, doc.Pages) }},
	}
}

// file is a PDF under way: bytes so far and where each object begins in them.
type file struct {
	out      []byte
	offsets  []int  // by object number; 0 is not used
	pictures string // fpdf's names for them, and their objects
}

// notText follows the header, so that nothing takes the file for text.
const notText = "%\xE2\xE3\xCF\xD3\n"

const header = "%PDF-1.7\n"

// cut takes fpdf's file apart before its last three objects, the resources, the
// information and the catalog.
func cut(body []byte) (*file, error) {
	f := &file{}
	if err := f.readTable(body); err != nil {
		return nil, err
	}
	last := len(f.offsets) - 2 // the information
	if last <= resourceObject || !bytes.HasPrefix(body, []byte("%PDF-1.")) {
		return nil, errTable
	}
	end, info := f.offsets[resourceObject], f.offsets[last]
	for _, at := range f.offsets[1:last] {
		if at > end { // something stands where the resources should be the last
			return nil, errTable
		}
	}
	if end < len(header) || info < end || info > len(body) {
		return nil, errTable
	}
	_, pictures, _ := strings.Cut(string(body[end:info]), "/XObject <<\n")
	pictures, _, found := strings.Cut(pictures, ">>")
	if !found {
		return nil, errTable
	}
	f.pictures = strings.TrimSpace(pictures)
	f.offsets = f.offsets[:last]
	for i := 1; i < last; i++ {
		f.offsets[i] += len(notText) // the line that is put behind the header
	}
	f.out = make([]byte, 0, end+65536)
	f.out = append(f.out, header+notText...)
	f.out = append(f.out, body[len(header):end]...)
	return f, nil
}

var errTable = errors.New("pdf: a damaged cross-reference table")

// readTable reads where each object begins.
func (f *file) readTable(body []byte) error {
	at := bytes.LastIndex(body, []byte("startxref\n"))
	if at < 0 {
		return errTable
	}
	line, _, _ := strings.Cut(string(body[at+len("startxref\n"):]), "\n")
	table, err := strconv.Atoi(line)
	if err != nil || table < 0 || table > at {
		return errTable
	}
	f.offsets = []int{0}
	for row := range strings.SplitSeq(string(body[table:at]), "\n") {
		if offset, found := strings.CutSuffix(row, " 00000 n "); found {
			n, err := strconv.Atoi(offset)
			if err != nil || n > len(body) {
				return errTable
			}
			f.offsets = append(f.offsets, n)
		}
	}
	return nil
}

// add appends an object and gives its number.
func (f *file) add(body string) int {
	n := len(f.offsets)
	f.offsets = append(f.offsets, 0)
	f.put(n, body)
	return n
}

// put appends an object under a number that it has already.
func (f *file) put(n int, body string) {
	f.offsets[n] = len(f.out)
	f.out = append(f.out, strconv.Itoa(n)+" 0 obj\n"+body+"\nendobj\n"...)
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
