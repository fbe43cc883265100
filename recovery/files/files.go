// Package files finds the setups that files made by stopleaf hold: as attachments
// of a PDF, as the text of a code in an SVG or in the XMP of a picture, or as such
// a text alone.
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

// Read gives the setups in a file. What is text is given as such, for its codes
// may be spread over several files: see recovery.Read. The errors say what is wrong
// with what is of stopleaf in the file, or that nothing is.
func Read(data []byte) (found []Found, text string, errs []error) {
	switch {
	case len(data) > Most:
		return nil, "", []error{fmt.Errorf("it has more than %d MB", Most>>20)}
	case bytes.Contains(data[:min(len(data), 1024)], []byte("%PDF-")):
		found, errs = readPDF(data)
		return found, "", errs
	case bytes.HasPrefix(data, []byte("\x89PNG\r\n\x1a\n")):
		found, errs = fromXML(pngTexts(data), "the metadata of a PNG")
		return found, "", errs
	case bytes.HasPrefix(data, []byte{0xFF, 0xD8, 0xFF}):
		found, errs = fromXML([][]byte{data}, "the metadata of a JPEG")
		return found, "", errs
	case bytes.Contains(data, []byte("<svg")):
		found, errs = fromXML([][]byte{data}, "the metadata of an SVG")
		return found, "", errs
	}
	if len(data) > mostChars {
		return nil, "", []error{fmt.Errorf("it is no picture and no PDF, and as the text of codes it is longer than %d MB", mostChars>>20)}
	}
	return nil, string(data), nil
}

// errNone is for a file that holds nothing of ours.
var errNone = errors.New("no setup is in it: it was drawn with --no-source, was not made by stopleaf, or was saved again by a program that leaves such data out")

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
