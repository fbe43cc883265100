// Package files finds the setups that files hold: as attachments of a PDF, as the text of
// a code in an SVG or in the XMP of a picture, or as such a text alone; and where
// there is none of these, in the codes that the pixels of a picture show, or of the
// pictures in a PDF.
//
// A file is what somebody hands in: whatever the bytes, a reader here takes bounded
// time and memory, and gives a setup only when its fingerprint holds.
package files

import (
	"bytes"
	"errors"
	"fmt"
	"slices"

	"stopleaf/recovery"
)

// Most is how many bytes of a file are looked at.
const Most = 256 << 20

// Found is a setup in a file.
type Found struct {
	recovery.Found
	Written []byte // the setup as it was written, its gear elsewhere; nil when it is not in the file
	Way     string // "an attachment"
}

// Result is what a file gives.
type Result struct {
	Found    []Found
	Codes    []string // the texts of codes, which may be spread over several files: see recovery.Read
	Pictured bool     // the codes were read from pixels, not handed in as text
	Errs     []error  // what is wrong with what is of stopleaf in it, or that nothing is
}

// Read gives what a file holds.
func Read(data []byte) (r Result) {
	picture := false
	switch {
	case len(data) > Most:
		r.Errs = []error{fmt.Errorf("it has more than %d MB", Most>>20)}
	case bytes.Contains(data[:min(len(data), 1024)], []byte("%PDF-")):
		if r.Found, r.Errs = readPDF(data); none(r.Errs) {
			r.Pictured = true
			r.pixels(readImages(data))
		}
	case bytes.HasPrefix(data, []byte("\x89PNG\r\n\x1a\n")):
		r.Found, r.Errs = fromXML(pngTexts(data), "the metadata of a PNG")
		picture = true
	case bytes.HasPrefix(data, []byte{0xFF, 0xD8, 0xFF}):
		r.Found, r.Errs = fromXML(append(extensions(data), data), "the metadata of a JPEG")
		picture = true
	case kind(data) != "":
		r.Errs = []error{errNone}
		picture = true
	case bytes.Contains(data, []byte("<svg")):
		r.Found, r.Errs = fromXML([][]byte{data}, "the metadata of an SVG")
	case len(data) > mostChars:
		r.Errs = []error{fmt.Errorf("it is no picture and no PDF, and as the text of codes it is longer than %d MB", mostChars>>20)}
	default:
		r.Codes = []string{string(data)}
	}
	if picture && none(r.Errs) {
		r.Pictured = true
		r.pixels(readPicture(data))
	}
	return r
}

// pixels takes what pixels show in place of nothing at all.
func (r *Result) pixels(texts []string, errs []error) {
	r.Codes = texts
	if len(texts)+len(errs) > 0 {
		r.Errs = errs
	}
}

// none tells whether all that is wrong is that nothing is there.
func none(errs []error) bool { return len(errs) == 1 && errs[0] == errNone }

// kind names what other pictures a file can be, by its first bytes: those whose pixels
// can be read, and those of phones that are refused by their name.
func kind(data []byte) string {
	for _, k := range []struct {
		at         int
		mark, name string
	}{{0, "II*\x00", "TIFF"}, {0, "MM\x00*", "TIFF"}, {8, "WEBP", "WebP"}, {4, "ftyp", "HEIC"}, {0, "GIF8", "GIF"}} {
		if len(data) > k.at && bytes.HasPrefix(data[k.at:], []byte(k.mark)) {
			return k.name
		}
	}
	return ""
}

// errNone is for a file that holds nothing of ours.
var errNone = errors.New("no setup is in it, and it shows no code that could be found: it was drawn with --no-source, was not made by stopleaf, or was saved again by a program that leaves such data out; a code on paper must be sharp and flat, a module at least three pixels")

// fromXML reads the texts of codes that are the text of an element.
func fromXML(list [][]byte, way string) (found []Found, errs []error) {
	var texts []string
	for _, data := range list {
		texts = append(texts, elements(data)...)
	}
	got, errs := recovery.Read(texts)
	for _, f := range got {
		found = append(found, Found{Found: f, Way: way})
	}
	switch {
	case len(found) > 0:
		return found, nil // a text that only looks like a code is no matter
	case len(errs) == 0:
		errs = []error{errNone}
	}
	return nil, errs
}

// The bounds of what is taken from one file.
const (
	mostTexts = 1000
	mostText  = 256 << 10 // characters of one
	mostChars = 4 << 20   // of all together
)

// elements are the texts of codes that follow the end of a tag.
func elements(data []byte) (texts []string) {
	mark := []byte(recovery.Mark)
	left := mostChars
	for range mostTexts {
		at := bytes.Index(data, mark)
		if at < 0 {
			break
		}
		before := bytes.TrimRight(data[max(0, at-64):at], " \t\r\n")
		data = data[at:]
		end := bytes.IndexByte(data[:min(len(data), mostText)], '<')
		if end > 0 && bytes.HasSuffix(before, []byte(">")) {
			if left -= end; left < 0 {
				break
			}
			texts = append(texts, string(data[:end]))
		}
		data = data[len(mark):]
	}
	return slices.Compact(texts)
}
