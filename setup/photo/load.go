package photo

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
)

// The bounds of a picture.
const (
	MaxBytes  = 64 << 20    // of the file
	MaxPixels = 120_000_000 // of the picture
)

// Load reads a picture from a file. The error is for a person and does not name
// the file; it wraps fs.ErrNotExist and the like where they are the cause.
func Load(path string) (*Picture, error) {
	b, err := read(path)
	if err != nil {
		return nil, err
	}
	return load(b, b[:0])
}

// LoadBytes reads a picture from memory and leaves the bytes as they are.
func LoadBytes(b []byte) (*Picture, error) {
	return load(b, nil)
}

func read(path string) ([]byte, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, cause(err)
	}
	if !info.Mode().IsRegular() {
		return nil, errors.New("not a file")
	}
	if info.Size() > MaxBytes {
		return nil, tooManyBytes()
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, cause(err)
	}
	defer f.Close()
	b := make([]byte, 0, info.Size()+1)
	buf := bytes.NewBuffer(b)
	if _, err := io.Copy(buf, io.LimitReader(f, MaxBytes+1)); err != nil {
		return nil, cause(err)
	}
	return buf.Bytes(), nil
}

// cause leaves out the operation and the path, which the caller knows better.
func cause(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

func tooManyBytes() error {
	return fmt.Errorf("larger than %d MiB; export a smaller JPEG", MaxBytes>>20)
}

// load reads a picture; what is to be embedded is built from dst on, which may
// lie over b.
func load(b, dst []byte) (*Picture, error) {
	if len(b) > MaxBytes {
		return nil, tooManyBytes()
	}
	switch {
	case len(b) == 0:
		return nil, errors.New("the file is empty")
	case bytes.HasPrefix(b, []byte("\xFF\xD8")):
		return loadJPEG(b, dst)
	case bytes.HasPrefix(b, []byte(pngMagic)):
		return loadPNG(b)
	}
	if kind := otherKind(b); kind != "" {
		return nil, fmt.Errorf("%s cannot be printed; export it as a JPEG", kind)
	}
	return nil, errors.New("neither a JPEG nor a PNG; export it as a JPEG")
}

// otherKind names the kinds that people try, by the marks at their beginning.
func otherKind(b []byte) string {
	kinds := []struct {
		at   int
		mark string
		name string
	}{
		{0, "II*\x00", "a TIFF or camera raw file"},
		{0, "MM\x00*", "a TIFF or camera raw file"},
		{0, "IIRO", "a camera raw file"},
		{0, "IIU\x00", "a camera raw file"},
		{0, "FUJIFILMCCD-RAW", "a camera raw file"},
		{4, "ftypcrx", "a camera raw file"},
		{8, "WEBP", "a WebP picture"},
		{4, "ftypavif", "an AVIF picture"},
		{4, "ftypheic", "a HEIC picture"},
		{4, "ftypheix", "a HEIC picture"},
		{4, "ftypmif1", "a HEIC picture"},
		{4, "ftypmsf1", "a HEIC picture"},
		{4, "ftyp", "a film"},
		{0, "GIF8", "a GIF"},
		{0, "BM", "a BMP"},
		{0, "8BPS", "a layered picture"},
		{0, "%PDF", "a PDF"},
		{0, "<svg", "an SVG drawing"},
		{0, "<?xml", "an SVG drawing"},
	}
	for _, k := range kinds {
		if len(b) > k.at && bytes.HasPrefix(b[k.at:], []byte(k.mark)) {
			return k.name
		}
	}
	return ""
}

func checkSize(w, h int) error {
	if w <= 0 || h <= 0 {
		return errors.New("the picture has no size")
	}
	if int64(w)*int64(h) > MaxPixels {
		return fmt.Errorf("%d x %d pixels are more than %d megapixels; export a smaller JPEG", w, h, MaxPixels/1_000_000)
	}
	return nil
}
