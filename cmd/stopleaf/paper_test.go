package main

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/rogpeppe/go-internal/testscript"

	"stopleaf/internal/worn"
	"stopleaf/recovery"
	"stopleaf/recovery/symbol"
	"stopleaf/setup"
)

// cmdPaper is "paper SETUP PARTS FILE...": pages at 300 dpi that show the setup's code,
// or its codes, one on each page; where SETUP is "-" a code of somebody else. A JPEG is a photograph: turned, tilted, blurred; a
// PDF is a scan; what is called cut is cut short.
func cmdPaper(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 3 {
		ts.Fatalf("usage: paper SETUP PARTS FILE...")
	}
	parts, err := strconv.Atoi(args[1])
	ts.Check(err)
	texts := []string{"HTTPS://EXAMPLE.ORG/"}
	if args[0] != "-" {
		texts = codesOfFile(ts, args[0], parts)
	}
	for i, name := range args[2:] {
		m, err := symbol.Draw(texts[i%len(texts)], 112)
		ts.Check(err)
		data, err := paper(worn.NewPage(300, uint64(i), m), filepath.Ext(name))
		ts.Check(err)
		if strings.HasPrefix(name, "cut") {
			data = data[:len(data)/2]
		}
		ts.Check(os.WriteFile(ts.MkAbs(name), data, 0o666))
	}
}

// codesOfFile are the texts of so many codes that hold a setup file.
func codesOfFile(ts *testscript.TestScript, name string, parts int) []string {
	src, err := os.ReadFile(ts.MkAbs(name))
	ts.Check(err)
	s, problems := setup.Parse(ts.MkAbs(name), src, setup.Options{NoPhotos: true})
	if s == nil {
		ts.Fatalf("%v", problems)
	}
	canonical := s.Canonical(setup.Nothing)
	texts := []string{recovery.Text(canonical)}
	for most := len(texts[0]); len(texts) < parts; most-- {
		texts, err = recovery.Texts(canonical, most)
		ts.Check(err)
	}
	return texts
}

// paper is a page as a picture or a scan.
func paper(p *worn.Page, ext string) ([]byte, error) {
	var b bytes.Buffer
	switch ext {
	case ".jpg":
		img := worn.Turned(worn.Tilted(p.Gray, 10, 30, 1.2), 4)
		err := jpeg.Encode(&b, worn.Blurred(img, 1), &jpeg.Options{Quality: 80})
		return b.Bytes(), err
	case ".pdf":
		return scanned(p.Gray), nil
	}
	err := png.Encode(&b, p.Gray)
	return b.Bytes(), err
}

// scanned is what of a PDF holds a picture of grey.
func scanned(g *image.Gray) []byte {
	var packed bytes.Buffer
	z := zlib.NewWriter(&packed)
	_, _ = z.Write(g.Pix)
	_ = z.Close()
	return fmt.Appendf(nil, "%%PDF-1.4\n5 0 obj\n<< /Type /XObject /Subtype /Image /Width %d /Height %d /ColorSpace /DeviceGray /BitsPerComponent 8"+
		" /Filter /FlateDecode /Length %d >>\nstream\n%s\nendstream\nendobj\n", g.Rect.Dx(), g.Rect.Dy(), packed.Len(), packed.Bytes())
}
