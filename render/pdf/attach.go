package pdf

import (
	"crypto/md5"
	"crypto/sha256"
	"fmt"
	"slices"
	"sort"
	"strconv"
	"strings"
	"sync"

	"stopleaf/layout"
)

// MarkKey is the key of an embedded file's dictionary that says what of a setup it
// is: MarkCanonical or MarkWritten, then the fingerprint of the canonical file in
// eight hexadecimal digits. Its name is of the third class, ISO 32000-1, annex E,
// and it stays with the file when another program saves the PDF again.
const (
	MarkKey       = "XXStopleaf"
	MarkCanonical = "canonical-"
	MarkWritten   = "written-"
)

// embedded is a file that goes into the document, once, however many pages and
// setups have it.
type embedded struct {
	pack   sync.Once
	packed stream
	size   int
	sum    [md5.Size]byte
	number int // its object, once it is written
}

// attachment is an embedded file in its part for a setup.
type attachment struct {
	*embedded
	ending string // of its name, behind the setup's
	what   string
	mark   string // value of MarkKey; "" for none
}

// listed is an attachment that is in the document.
type listed struct {
	name string
	spec int // the object of its file specification
}

// attachments are the sources of a document's pages.
type attachments struct {
	mu     sync.Mutex
	bySum  map[[sha256.Size]byte]*embedded
	names  map[string]bool // of setups, taken; from here on for one goroutine
	listed []listed
}

func newAttachments() attachments {
	return attachments{bySum: map[[sha256.Size]byte]*embedded{}, names: map[string]bool{}}
}

// ready packs the files of a source, those that are not packed yet.
func (as *attachments) ready(s *layout.Source, plain bool) (list []attachment) {
	add := func(data []byte, a attachment) {
		if len(data) == 0 {
			return
		}
		sum := sha256.Sum256(data)
		as.mu.Lock()
		a.embedded = as.bySum[sum]
		if a.embedded == nil {
			a.embedded = &embedded{size: len(data)}
			as.bySum[sum] = a.embedded
		}
		as.mu.Unlock()
		a.pack.Do(func() { a.packed, a.sum = pack(data, plain), md5.Sum(data) })
		list = append(list, a)
	}
	print := fmt.Sprintf("%X", s.Print[:])
	add(s.Canonical, attachment{ending: "", what: "the setup in one file, without comments", mark: MarkCanonical + print})
	add(s.Written.Setup, attachment{ending: "-written", what: "the setup as it was written", mark: MarkWritten + print})
	add(s.Written.Gear, attachment{ending: "-gear", what: "the gear file as it was written"})
	add(s.Written.House, attachment{ending: "-house", what: "the house settings as they were written"})
	return list
}

// write writes what of a source the document does not have yet.
func (as *attachments) write(f *file, s *layout.Source, list []attachment) {
	list = slices.DeleteFunc(list, func(a attachment) bool { return a.number != 0 })
	if len(list) == 0 {
		return
	}
	name := s.Name()
	for n := 2; as.names[name]; n++ {
		name = s.Name() + "-" + strconv.Itoa(n)
	}
	as.names[name] = true
	for _, a := range list {
		mark := ""
		if a.mark != "" {
			mark = " /" + MarkKey + " /" + a.mark
		}
		a.number = f.addStream(fmt.Sprintf(" /Type /EmbeddedFile /Subtype /application#2Fyaml /Params <</Size %d /CheckSum <%x>>>%s", a.size, a.sum, mark), a.packed)
		a.packed = stream{}
		called := name + a.ending + ".yaml"
		spec := f.add("<</Type /Filespec /F " + literal(called) + " /UF " + literal(called) + " /Desc " + literal(a.what) +
			" /AFRelationship /Source /EF <</F " + ref(a.number) + " /UF " + ref(a.number) + ">>>>")
		as.listed = append(as.listed, listed{called, spec})
	}
}

// tree is the name tree of the embedded files, ISO 32000-1, 7.9.6 and 7.11.4;
// nothing without any.
func (as *attachments) tree(f *file) string {
	if len(as.listed) == 0 {
		return ""
	}
	list := append([]listed(nil), as.listed...)
	sort.Slice(list, func(i, j int) bool { return list[i].name < list[j].name })
	var b strings.Builder
	for _, l := range list {
		b.WriteString(literal(l.name) + " " + ref(l.spec) + " ")
	}
	return "<</EmbeddedFiles " + ref(f.add("<</Names ["+strings.TrimSpace(b.String())+"]>>")) + ">>"
}

// associated lists them for the document as a whole, ISO 32000-2, 14.13.
func (as *attachments) associated() string {
	var specs []int
	for _, l := range as.listed {
		specs = append(specs, l.spec)
	}
	if specs == nil {
		return ""
	}
	return "[" + refs(specs) + "]"
}
