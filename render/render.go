// Package render writes finished pages as files: it picks the translator by the
// format asked for. The translators, one package a format, only put down what
// the display list says; where something stands and what it says is decided in
// layout.
package render

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"stopleaf/layout"
	"stopleaf/render/dump"
	"stopleaf/render/pdf"
	"stopleaf/render/raster"
	"stopleaf/render/svg"
)

// Formats are the formats that Write knows, by the ending of a file's name.
var Formats = []string{".pdf", ".svg", ".png", ".jpg", ".jpeg", ".txt"}

const allowed = ".pdf, .svg, .png or .jpg"

// Format gives the format of a file by its ending, one of Formats; upper and
// lower case are the same.
func Format(name string) (string, error) {
	ending := strings.ToLower(filepath.Ext(name))
	for _, f := range Formats {
		if ending == f {
			return f, nil
		}
	}
	if ending == "" {
		return "", fmt.Errorf("%q has no ending to tell the format by: %s", name, allowed)
	}
	return "", fmt.Errorf("format %q is not known: %s", ending, allowed)
}

// ManyPages tells whether a file of the format may hold more than one page.
func ManyPages(format string) bool { return format == ".pdf" || format == ".txt" }

// Write writes a document in a format of Formats. A format of one page takes a
// document of one page; the caller gives each page a document of its own.
// Pictures are drawn at raster.DefaultDPI.
func Write(w io.Writer, doc *layout.Document, format string) error {
	if !ManyPages(format) && len(doc.Pages) != 1 {
		return fmt.Errorf("%d pages do not go into one %s file", len(doc.Pages), format)
	}
	switch format {
	case ".pdf":
		return pdf.Write(w, doc)
	case ".svg":
		return svg.Write(w, doc, 0)
	case ".png", ".jpg", ".jpeg":
		return picture(w, doc, format)
	case ".txt":
		return dump.Write(w, doc)
	}
	_, err := Format("x" + format)
	if err == nil {
		err = fmt.Errorf("format %q is not known: %s", format, allowed)
	}
	return err
}

func picture(w io.Writer, doc *layout.Document, format string) error {
	r, err := raster.New(doc, raster.DefaultDPI)
	if err != nil {
		return err
	}
	if format == ".png" {
		return r.PNG(w, 0)
	}
	return r.JPEG(w, 0)
}
