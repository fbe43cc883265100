package photo

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// samples is the folder of photographs that the module
// github.com/rwcarlsen/goexif keeps for its own tests; what they say is in its
// exif/regress_expected_test.go.
func samples(t testing.TB) string {
	t.Helper()
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/rwcarlsen/goexif").Output()
	dir := strings.TrimSpace(string(out))
	if err != nil || dir == "" {
		t.Skip("the samples are not in the module cache")
	}
	return filepath.Join(dir, "exif", "samples")
}

func sample(t testing.TB, name string) []byte {
	t.Helper()
	matches, err := filepath.Glob(filepath.Join(samples(t), name))
	require.NoError(t, err)
	require.NotEmpty(t, matches, name)
	b, err := os.ReadFile(matches[0])
	require.NoError(t, err)
	return b
}

// picture is a small picture with something in it.
func picture(w, h int) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.SetRGBA(x, y, color.RGBA{uint8(x * 13), uint8(y * 17), uint8(x * y), 255})
		}
	}
	return img
}

func smallJPEG(t testing.TB) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, picture(24, 16), nil))
	return b.Bytes()
}

// fitted is the picture in its own size, ready to embed.
func fitted(t testing.TB, p *Picture) *Picture {
	t.Helper()
	q, err := p.Fit(p.Size())
	require.NoError(t, err)
	require.NotNil(t, q.Data)
	return q
}

// insert puts segments behind the start of a JPEG.
func insert(b []byte, segs ...[]byte) []byte {
	out := append([]byte{}, b[:2]...)
	for _, s := range segs {
		out = append(out, s...)
	}
	return append(out, b[2:]...)
}

func seg(mark byte, payload string) []byte {
	out := []byte{0xFF, mark, 0, 0}
	binary.BigEndian.PutUint16(out[2:], uint16(len(payload)+2))
	return append(out, payload...)
}

// tag is one entry of a made Exif directory.
type tag struct {
	id, kind uint16
	count    uint32
	value    []byte
}

func short(id, v uint16) tag {
	return tag{id, typeShort, 1, binary.BigEndian.AppendUint16(nil, v)}
}

func rational(id uint16, a, b uint32) tag {
	return tag{id, typeRational, 1, binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, a), b)}
}

func ascii(id uint16, s string) tag {
	return tag{id, typeASCII, uint32(len(s) + 1), []byte(s + "\x00")}
}

// exifBlock builds a TIFF block with a zeroth and an Exif directory.
func exifBlock(zeroth, exif []tag) []byte {
	out := []byte("MM\x00*\x00\x00\x00\x08")
	zeroth = append(zeroth, tag{tagExifPointer, typeLong, 1, make([]byte, 4)})
	pointer := 8 + 2 + 12*len(zeroth) - 4 // of the last entry's value
	out = directoryBytes(out, zeroth)
	binary.BigEndian.PutUint32(out[pointer:], uint32(len(out)))
	return directoryBytes(out, exif)
}

func directoryBytes(out []byte, tags []tag) []byte {
	out = binary.BigEndian.AppendUint16(out, uint16(len(tags)))
	behind := uint32(len(out) + 12*len(tags) + 4)
	var values []byte
	for _, t := range tags {
		out = binary.BigEndian.AppendUint16(out, t.id)
		out = binary.BigEndian.AppendUint16(out, t.kind)
		out = binary.BigEndian.AppendUint32(out, t.count)
		if len(t.value) <= 4 {
			out = append(out, append(t.value, 0, 0, 0, 0)[:4]...)
			continue
		}
		out = binary.BigEndian.AppendUint32(out, behind+uint32(len(values)))
		values = append(values, t.value...)
	}
	return append(append(out, 0, 0, 0, 0), values...)
}

// insertChunk puts a chunk behind the head of a PNG.
func insertChunk(b []byte, kind string, data []byte) []byte {
	const head = 8 + 25
	chunk := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
	chunk = append(append(chunk, kind...), data...)
	chunk = binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(chunk[4:]))
	out := append([]byte{}, b[:head]...)
	return append(append(out, chunk...), b[head:]...)
}
