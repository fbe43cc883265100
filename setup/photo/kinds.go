package photo

import (
	"bytes"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
)

// rawEndings are those that cameras give to what has yet to be developed.
var rawEndings = []string{"3fr", "arw", "cr2", "cr3", "crw", "dcr", "dng", "erf", "fff", "gpr", "iiq", "kdc", "mef", "mos", "mrw",
	"nef", "nrw", "orf", "pef", "raf", "raw", "rw2", "rwl", "sr2", "srf", "srw", "x3f"}

func rawEnding(path string) bool {
	ext := strings.TrimPrefix(strings.ToLower(filepath.Ext(path)), ".")
	return slices.Contains(rawEndings, ext)
}

// usual reports whether the bytes begin as a picture that is what it is,
// however it is called.
func usual(b []byte) bool {
	return bytes.HasPrefix(b, []byte("\xFF\xD8")) || bytes.HasPrefix(b, []byte(pngMagic)) || len(b) >= 12 && string(b[8:12]) == "WEBP"
}

// otherKind names the kinds that people try, by the marks at their beginning.
func otherKind(b []byte) error {
	kinds := []struct {
		at   int
		mark string
		name string // "" is a raw file
	}{
		{0, "IIRO", ""},
		{0, "IIRS", ""},
		{0, "MMOR", ""},
		{0, "IIU\x00", ""},
		{8, "CCD-RAW", ""},
		{0, "FOVb", ""},
		{0, "\x00MRM", ""},
		{6, "HEAPCCDR", ""},
		{4, "ftypcrx", ""},
		{4, "ftypavi", "an AVIF picture"},
		{4, "ftyphe", "a HEIC picture"},
		{4, "ftypmif1", "a HEIC or AVIF picture"},
		{4, "ftypmsf1", "a HEIC or AVIF picture"},
		{4, "ftyp", "a film"},
		{0, "\xFF\x0A", "a JPEG XL picture"},
		{4, "JXL ", "a JPEG XL picture"},
		{4, "jP  ", "a JPEG 2000 picture"},
		{0, "II+\x00", "a BigTIFF picture"},
		{0, "MM\x00+", "a BigTIFF picture"},
		{0, "GIF8", "a GIF"},
		{0, "BM", "a BMP"},
		{0, "8BPS", "a layered picture"},
		{0, "%PDF", "a PDF"},
		{0, "<svg", "an SVG drawing"},
		{0, "<?xml", "an SVG drawing"},
	}
	for _, k := range kinds {
		if len(b) <= k.at || !bytes.HasPrefix(b[k.at:], []byte(k.mark)) {
			continue
		}
		if k.name == "" {
			return errRaw
		}
		return fmt.Errorf("%s cannot be printed; export it as a JPEG in sRGB", k.name)
	}
	return nil
}
