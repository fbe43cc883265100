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
	if rawEnding(path) && !usual(b) {
		return nil, errRaw
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
	b := make([]byte, 0, info.Size()+bytes.MinRead) // so that it need not grow to see the end
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
		return whole(loadPNG(b))
	case bytes.HasPrefix(b, []byte("RIFF")) && len(b) >= 12 && string(b[8:12]) == "WEBP":
		return whole(loadWebP(b))
	case bytes.HasPrefix(b, []byte("II*\x00")) || bytes.HasPrefix(b, []byte("MM\x00*")):
		return whole(loadTIFF(b))
	}
	if err := otherKind(b); err != nil {
		return nil, err
	}
	return nil, errors.New("neither a JPEG, PNG, TIFF nor WebP; export it as a JPEG")
}

// whole drops a picture that comes with an error.
func whole(p *Picture, err error) (*Picture, error) {
	if err != nil {
		return nil, err
	}
	return p, nil
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
