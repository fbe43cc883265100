// Package xmp writes the metadata packet that every format of a document
// carries, ISO 16684-1: the Dublin Core fields title, creator, description,
// subject and language, and the document's date.
package xmp

import (
	"strings"
)

// About is what a packet says; what is empty is left out.
type About struct {
	Format      string // the media type of the file
	Title       string
	Author      string
	Description string
	Keywords    []string
	Lang        string   // BCP 47
	Created     string   // an ISO 8601 date or time
	Spaces      string   // declarations of further namespaces: ` xmlns:pdf="..."`
	More        string   // properties in those namespaces, a line each
	Setups      []string // setups as the texts of codes, in SetupSpace
}

// Packet writes the packet, read-only, in UTF-8.
func Packet(a About) string {
	var b strings.Builder
	b.WriteString("<?xpacket begin=\"\uFEFF\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n")
	b.WriteString(`<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">` + "\n")
	b.WriteString(`<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:xmp="http://ns.adobe.com/xap/1.0/"` + a.Spaces + ">\n")
	b.WriteString("<dc:format>" + a.Format + "</dc:format>\n")
	b.WriteString(alt("dc:title", a.Title))
	b.WriteString(list("dc:creator", "Seq", a.Author))
	b.WriteString(alt("dc:description", a.Description))
	b.WriteString(list("dc:subject", "Bag", a.Keywords...))
	b.WriteString(list("dc:language", "Bag", a.Lang))
	b.WriteString(a.More)
	b.WriteString(Setups(a.Setups))
	if a.Created != "" {
		b.WriteString("<xmp:CreateDate>" + Text(a.Created) + "</xmp:CreateDate>\n")
	}
	b.WriteString("</rdf:Description></rdf:RDF></x:xmpmeta>\n<?xpacket end=\"r\"?>")
	return b.String()
}

// SetupSpace is the namespace of stopleaf:setup, a list of the setups that a page
// was drawn from, each as the text of a code.
const SetupSpace = "urn:stopleaf:setup#"

// Setups writes that list; nothing without any.
func Setups(texts []string) string {
	if len(texts) == 0 {
		return ""
	}
	var b strings.Builder
	b.WriteString(`<stopleaf:setup xmlns:stopleaf="` + SetupSpace + `" xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Seq>`)
	for _, t := range texts {
		b.WriteString("\n<rdf:li>" + Text(t) + "</rdf:li>")
	}
	b.WriteString("\n</rdf:Seq></stopleaf:setup>\n")
	return b.String()
}

// Extension is the setups alone, as a serialised packet that extends another.
func Extension(texts []string) []byte {
	return []byte(`<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description rdf:about="">` + "\n" +
		Setups(texts) + "</rdf:Description></rdf:RDF></x:xmpmeta>")
}

// alt writes a text in one language, list an ordered (Seq) or unordered (Bag)
// list; what is empty is left out.
func alt(name, value string) string {
	if value == "" {
		return ""
	}
	return "<" + name + `><rdf:Alt><rdf:li xml:lang="x-default">` + Text(value) + "</rdf:li></rdf:Alt></" + name + ">\n"
}

func list(name, kind string, values ...string) string {
	var b strings.Builder
	for _, v := range values {
		if v != "" {
			b.WriteString("<rdf:li>" + Text(v) + "</rdf:li>")
		}
	}
	if b.Len() == 0 {
		return ""
	}
	return "<" + name + "><rdf:" + kind + ">" + b.String() + "</rdf:" + kind + "></" + name + ">\n"
}

var escaped = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;")

// Text escapes text and leaves out what XML may not hold.
func Text(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' && r != '\t' && r != '\n' || r&0xFFFE == 0xFFFE {
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "\uFFFD"))
	return escaped.Replace(s)
}
