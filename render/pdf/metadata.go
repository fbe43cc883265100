package pdf

import (
	"fmt"
	"strings"
	"time"
	"unicode/utf16"
	"unicode/utf8"

	"stopleaf/layout"
	"stopleaf/render/internal/xmp"
)

// producer names the program in the file, without a version: the same page made
// by another build is the same file.
const producer = "stopleaf"

// information is the information dictionary, without what is not known. There
// is no clock in it: the one date is the document's own.
func information(doc *layout.Document) []string {
	list := []string{"/Producer " + literal(producer)}
	for _, e := range []struct{ key, value string }{
		{"Title", doc.Title}, {"Author", doc.Author}, {"Subject", doc.Subject}, {"Keywords", strings.Join(doc.Keywords, ", ")},
	} {
		if e.value != "" {
			list = append(list, "/"+e.key+" "+literal(e.value))
		}
	}
	if t, ok := created(doc); ok {
		list = append(list, "/CreationDate "+literal(t.Format("D:20060102000000Z")))
	}
	return list
}

func created(doc *layout.Document) (time.Time, bool) {
	t, err := time.Parse("2006-01-02", doc.Created)
	return t, err == nil
}

// literal writes a text string: as it stands in ASCII, else in UTF-16.
func literal(s string) string {
	b := make([]byte, 0, len(s)+8)
	b = append(b, '(')
	for i := range len(s) {
		switch c := s[i]; {
		case c < ' ' || c > '~':
			return utf16Hex(strings.ToValidUTF8(s, "\uFFFD"))
		case c == '\\' || c == '(' || c == ')':
			b = append(b, '\\', c)
		default:
			b = append(b, c)
		}
	}
	return string(append(b, ')'))
}

// utf16Hex writes a text string in UTF-16, in hexadecimal digits.
func utf16Hex(s string) string {
	b := make([]byte, 0, 4*len(s)+8)
	b = append(b, "<FEFF"...)
	for _, r := range s {
		if hi, lo := utf16.EncodeRune(r); hi != utf8.RuneError {
			b = appendHex(appendHex(b, uint16(hi)), uint16(lo))
		} else {
			b = appendHex(b, uint16(r))
		}
	}
	return string(append(b, '>'))
}

// pageLabels gives each page the label that is printed on it; one without is
// known by its number. No page with a label, no labels.
func pageLabels(f *file, sheets []*Sheet) string {
	var b strings.Builder
	any := false
	for i, s := range sheets {
		if label := s.label; label != "" {
			any = true
			fmt.Fprintf(&b, "%d <</P %s>> ", i, literal(label))
		} else {
			fmt.Fprintf(&b, "%d <</S /D /St %d>> ", i, i+1)
		}
	}
	if !any {
		return ""
	}
	return ref(f.add("<</Nums [" + strings.TrimSpace(b.String()) + "]>>"))
}

// metadata is the XMP packet of the file, with the keywords and the producer
// as PDF has them too.
func metadata(doc *layout.Document) string {
	about := xmp.About{Format: "application/pdf", Title: doc.Title, Author: doc.Author, Description: doc.Subject,
		Keywords: doc.Keywords, Lang: doc.Lang, Spaces: ` xmlns:pdf="http://ns.adobe.com/pdf/1.3/"`}
	if len(doc.Keywords) > 0 {
		about.More = "<pdf:Keywords>" + xmp.Text(strings.Join(doc.Keywords, ", ")) + "</pdf:Keywords>\n"
	}
	about.More += "<pdf:Producer>" + producer + "</pdf:Producer>\n"
	if t, ok := created(doc); ok {
		about.Created = t.Format("2006-01-02T00:00:00Z")
	}
	if len(doc.Fingerprints) > 0 {
		about.Spaces += ` xmlns:binder="` + BinderSpace + `"`
		about.More += fingerprints(doc)
	}
	return xmp.Packet(about)
}

// BinderSpace is the XMP namespace of what a binder says of its pages:
// binder:sides, how many of a sheet are printed on, and binder:pages, a list of
// "FINGERPRINT LABEL".
const BinderSpace = "urn:stopleaf:binder#"

func fingerprints(doc *layout.Document) string {
	var b strings.Builder
	sides := "1"
	if doc.Duplex {
		sides = "2"
	}
	b.WriteString("<binder:sides>" + sides + "</binder:sides>\n")
	b.WriteString("<binder:pages><rdf:Seq>\n")
	for _, f := range doc.Fingerprints {
		b.WriteString("<rdf:li>" + f.Print + " " + xmp.Text(f.Label) + "</rdf:li>\n")
	}
	b.WriteString("</rdf:Seq></binder:pages>\n")
	return b.String()
}
