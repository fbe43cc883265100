package files

import (
	"bytes"
	"compress/zlib"
	"errors"
	"fmt"
	"image"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"golang.org/x/image/ccitt"

	"stopleaf/setup/photo"
)

// The bounds of the pictures in a PDF. All together are fifty pages of A4 at 600 dpi,
// or two hundred at 300.
const (
	mostImages = 400
	mostPixels = 2_000_000_000
)

var (
	imageMark = lazy(`/Subtype\s*/Image\b`)
	filters   = lazy(`/Filter\s*(\[[^\]]*\]|/\w+)`)
	names     = lazy(`/(\w+)`)
	inverted  = lazy(`/Decode\s*\[\s*1(\.0*)?\s+0`)
)

// readImages reads the codes that the raster images in a PDF show: what a scanner
// makes. Each is a stream object of its own (ISO 32000-1, 8.9.5), so the file's tables
// are not needed. The error says why pictures could not be looked at.
func readImages(data []byte) (texts []string, errs []error) {
	s := sights{}
	left := mostPixels
	for n, at := range imageMark().FindAllIndex(data, mostImages+1) {
		if n == mostImages {
			errs = append(errs, fmt.Errorf("it has more than %d pictures; the further ones were not looked at", mostImages))
			break
		}
		img, err := pdfImage(data, at[1], left)
		if err != nil {
			if !slices.ContainsFunc(errs, func(e error) bool { return e.Error() == err.Error() }) && len(errs) < mostErrs {
				errs = append(errs, err)
			}
			continue
		}
		left -= img.Rect.Dx() * img.Rect.Dy()
		s.look(img)
	}
	if len(s.texts) > 0 {
		errs = nil // what was not looked at was a logo, a mask
	}
	errs = append(errs, s.errors()...)
	if len(s.texts)+len(errs) == 0 && s.pictures > 0 {
		errs = append(errs, errNoCode)
	}
	return s.texts, errs
}

var (
	errNoCode      = errors.New("no setup is in it, and none of its pictures shows a code of stopleaf")
	errBrokenImage = errors.New("a picture in it is damaged or cut short")
)

// stream is one stream object of a PDF that holds a picture.
type stream struct {
	dict    string
	filters []string
	w, h    int
	bits    int
}

// pdfImage reads the picture whose dictionary is around pos, in grey.
func pdfImage(data []byte, pos, left int) (*image.Gray, error) {
	from := max(0, pos-mostDict)
	if i := bytes.LastIndex(data[from:pos], []byte(" obj")); i >= 0 {
		from += i
	}
	after := data[pos:min(len(data), pos+mostDict)]
	end := bytes.Index(after, []byte("stream"))
	if end < 0 {
		return nil, errBrokenImage
	}
	dict := string(data[from : pos+end])
	s := stream{dict: dict, w: number(dict, "Width", 0), h: number(dict, "Height", 0), bits: number(dict, "BitsPerComponent", 1)}
	if m := filters().FindStringSubmatch(dict); m != nil {
		for _, f := range names().FindAllStringSubmatch(m[1], -1) {
			s.filters = append(s.filters, f[1])
		}
	}
	body := data[pos+end+len("stream"):]
	body = bytes.TrimPrefix(bytes.TrimPrefix(body, []byte("\r")), []byte("\n"))
	size := number(dict, "Length", -1)
	if m := length().FindStringSubmatch(dict); size < 0 || m != nil && m[2] != "" {
		size = bytes.Index(body, []byte("endstream"))
	}
	switch {
	case size < 0 || size > len(body) || s.w <= 0 || s.h <= 0:
		return nil, errBrokenImage
	case s.w > photo.MaxPixels || s.h > photo.MaxPixels || int64(s.w)*int64(s.h) > photo.MaxPixels:
		return nil, fmt.Errorf("a picture in it has %d x %d pixels, more than %d megapixels", s.w, s.h, photo.MaxPixels/1_000_000)
	case s.w*s.h > left:
		return nil, errors.New("its pictures have too many pixels together; hand in some of its pages alone")
	}
	return s.decode(body[:size])
}

// number is the whole number behind a key of a dictionary.
func number(dict, key string, none int) int {
	m := regexp.MustCompile(`/` + key + `\s+(-?\d{1,10})\b`).FindStringSubmatch(dict)
	if m == nil {
		return none
	}
	n, _ := strconv.Atoi(m[1]) // the largest there is for one that an int does not hold
	return n
}

// decode undoes the filters, the last of which may be a picture's own.
func (s *stream) decode(body []byte) (*image.Gray, error) {
	var in io.Reader = bytes.NewReader(body)
	most := int64(4*s.w*s.h+s.h) + 1<<20 // bytes that the picture can have, unpacked
	for i, f := range s.filters {
		last := i == len(s.filters)-1
		switch {
		case f == "FlateDecode" || f == "Fl":
			z, err := zlib.NewReader(in)
			if err != nil {
				return nil, errBrokenImage
			}
			in = io.LimitReader(z, most)
		case last && (f == "DCTDecode" || f == "DCT"):
			jpeg, err := io.ReadAll(in)
			if err != nil {
				return nil, errBrokenImage
			}
			return fromJPEG(jpeg)
		case last && (f == "CCITTFaxDecode" || f == "CCF"):
			return s.fax(in)
		default:
			return nil, fmt.Errorf("a picture in it is packed as %s, which is not read; save its pages as PNG or JPEG and hand in those", strings.TrimSuffix(f[:min(len(f), 30)], "Decode"))
		}
	}
	return s.plain(in)
}

func fromJPEG(data []byte) (*image.Gray, error) {
	p, err := photo.LoadBytes(data)
	if err != nil {
		return nil, fmt.Errorf("a picture in it: %w", err)
	}
	return p.Grey()
}

// fax reads a picture of ITU-T T.6, or of T.4 in one dimension.
func (s *stream) fax(in io.Reader) (img *image.Gray, err error) {
	defer func() {
		if recover() != nil { // the library is not made for hostile data
			img, err = nil, errBrokenImage
		}
	}()
	kind := ccitt.Group4
	switch k := number(s.dict, "K", 0); {
	case k == 0:
		kind = ccitt.Group3
	case k > 0:
		return nil, errors.New("a picture in it is packed as CCITT group 3 in two dimensions, which is not read; save its pages as PNG or JPEG and hand in those")
	}
	w := number(s.dict, "Columns", 1728)
	if w != s.w {
		return nil, errBrokenImage
	}
	align := strings.Contains(s.dict, "/EncodedByteAlign true")
	s.bits = 1
	return s.samples(ccitt.NewReader(in, ccitt.MSB, kind, w, s.h, &ccitt.Options{Align: align}), 1, 0)
}

// plain reads a picture of samples, row by row: grey, RGB or four inks, by how many
// bytes there are.
func (s *stream) plain(in io.Reader) (*image.Gray, error) {
	data, err := io.ReadAll(in)
	if err != nil && len(data) == 0 {
		return nil, errBrokenImage
	}
	predictor := number(s.dict, "Predictor", 1)
	extra := 0
	if predictor >= 10 {
		extra = 1
	}
	for _, n := range []int{4, 3, 1} {
		if row := (s.w*n*s.bits + 7) / 8; len(data) >= (row+extra)*s.h {
			return s.samples(bytes.NewReader(data), n, predictor)
		}
	}
	return nil, errBrokenImage
}

// samples reads rows of n samples a pixel.
func (s *stream) samples(in io.Reader, n, predictor int) (*image.Gray, error) {
	if s.bits != 1 && s.bits != 2 && s.bits != 4 && s.bits != 8 {
		return nil, fmt.Errorf("a picture in it has %d bits a sample, which is not read; save its pages as PNG or JPEG and hand in those", s.bits)
	}
	if predictor == 2 && s.bits != 8 {
		return nil, errBrokenImage
	}
	out := image.NewGray(image.Rect(0, 0, s.w, s.h))
	size := (s.w*n*s.bits + 7) / 8
	row, above := make([]byte, size+1), make([]byte, size+1)
	step := max(n*s.bits/8, 1)
	sum := 0
	for y := range s.h {
		r := row[1:]
		if predictor >= 10 {
			r = row
		}
		if _, err := io.ReadFull(in, r); err != nil {
			if y < s.h/2 {
				return nil, errBrokenImage
			}
			for i := y * out.Stride; i < len(out.Pix); i++ { // what is missing is white
				out.Pix[i] = 255
			}
			break
		}
		switch {
		case predictor >= 10:
			undo(row, above, step)
		case predictor == 2:
			for i := step + 1; i <= size; i++ {
				row[i] += row[i-step]
			}
		}
		dst := out.Pix[y*out.Stride:][:s.w]
		s.grey(dst, row[1:], n)
		for _, v := range dst {
			sum += int(v)
		}
		row, above = above, row
	}
	// Of one bit it may be the other way round, by more keys than one: paper is light.
	if s.bits == 1 && sum < 255*s.w*s.h/2 || s.bits > 1 && inverted().MatchString(s.dict) {
		for i := range out.Pix {
			out.Pix[i] = 255 - out.Pix[i]
		}
	}
	return out, nil
}

// grey turns a row of samples into light.
func (s *stream) grey(dst, row []byte, n int) {
	if s.bits < 8 {
		most := 1<<s.bits - 1
		for x := range dst {
			at := x * n * s.bits
			dst[x] = uint8(int(row[at/8]) >> (8 - s.bits - at%8) & most * 255 / most)
		}
		return
	}
	for x := range dst {
		p := row[x*n:]
		switch n {
		case 1:
			dst[x] = p[0]
		case 3:
			dst[x] = uint8((int(p[0]) + 2*int(p[1]) + int(p[2]) + 2) / 4)
		default: // inks
			dst[x] = uint8(max(0, 255-int(p[3])-(int(p[0])+2*int(p[1])+int(p[2]))/4))
		}
	}
}

// undo undoes a PNG's filter of a row, whose first byte names it (W3C PNG, 9.2).
func undo(row, above []byte, step int) {
	for i := 1; i < len(row); i++ {
		var left, corner byte
		if i > step {
			left, corner = row[i-step], above[i-step]
		}
		switch row[0] {
		case 1:
			row[i] += left
		case 2:
			row[i] += above[i]
		case 3:
			row[i] += byte((int(left) + int(above[i])) / 2)
		case 4:
			row[i] += paeth(int(left), int(above[i]), int(corner))
		}
	}
}

func paeth(a, b, c int) byte {
	p := a + b - c
	pa, pb, pc := abs(p-a), abs(p-b), abs(p-c)
	switch {
	case pa <= pb && pa <= pc:
		return byte(a)
	case pb <= pc:
		return byte(b)
	}
	return byte(c)
}

func abs(n int) int { return max(n, -n) }
