package files

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/recovery"
)

const title = "title: Bread maker\n"

// deflate packs as a PDF does.
func deflate(data []byte) []byte {
	var b bytes.Buffer
	z := zlib.NewWriter(&b)
	_, _ = z.Write(data)
	_ = z.Close()
	return b.Bytes()
}

// attached is a part of a PDF with an embedded file.
func attached(mark string, more string, body []byte) string {
	return fmt.Sprintf("%%PDF-1.7\n4 0 obj\n<< /XXStopleaf /%s %s >>\nstream\r\n%s\nendstream\nendobj\n", mark, more, body)
}

func fingerprint(text string) string {
	f := recovery.FingerprintOf([]byte(text))
	return fmt.Sprintf("%X", f[:])
}

func TestAttachment(t *testing.T) {
	packed := deflate([]byte(title))
	written := attached(markWritten+fingerprint(title), "", []byte("# ours\n"))
	for _, more := range []string{
		fmt.Sprintf("/Filter /FlateDecode /Length %d", len(packed)), fmt.Sprintf("/Length %d/Filter[/FlateDecode]", len(packed)), "/Length 9 0 R /Filter/FlateDecode",
	} {
		r := Read([]byte(attached(markCanonical+fingerprint(title), more, packed) + written))
		found := r.Found
		require.Empty(t, r.Errs, more)
		require.Len(t, found, 1)
		assert.Equal(t, title, string(found[0].File))
		assert.Equal(t, "# ours", strings.TrimSpace(string(found[0].Written)))
		assert.Empty(t, r.Codes)
	}
}

func TestHostile(t *testing.T) {
	packed, mark := deflate([]byte(title)), markCanonical+fingerprint(title)
	flate := func(body []byte) string { return fmt.Sprintf("/Filter /FlateDecode /Length %d", len(body)) }
	bomb := deflate(make([]byte, 64<<20))
	code := recovery.Text([]byte(title))
	png := "\x89PNG\r\n\x1a\n"
	for _, c := range []struct{ file, want string }{
		{"%PDF-1.7\n%%EOF\n", "no setup is in it"},
		{"%PDF-1.7\n/Encrypt 4 0 R\n", "encrypted"},
		{attached(mark, flate(bomb), bomb), "unfold to more"},
		{attached(mark, "/Length 999999", packed), "damaged or cut short"},
		{attached(mark, flate(packed), packed)[:90], "damaged or cut short"},
		{attached(mark, flate(packed[:9]), packed), "damaged or cut short"},
		{attached(markCanonical+"00000000", flate(packed), packed), "fingerprint is not 0000 0000"},
		{attached(markCanonical+"00", flate(packed), packed), "damaged"},
		{attached(markCanonical+"ZZZZZZZZ", flate(packed), packed), "damaged"},
		{attached("later-00000000", flate(packed), packed), "a newer stopleaf"},
		{attached(mark, "/Length 3 /Filter [/ASCII85Decode /FlateDecode]", packed), "ASCII85Decode"},
		{"<svg></svg>", "no setup is in it"},
		{"<svg><a>" + code[:len(code)-3] + "</a></svg>", "cut short"},
		{"<svg><a>" + code[:len(code)-9] + "AAA" + code[len(code)-6:] + "</a></svg>", "it"},
		{"<svg><a>STOPLEAF:N00</a></svg>", "cut short"},
		{png, "the file is cut off"},
		{png + "\xFF\xFF\xFF\xFFiTXt", "the file is cut off"},
		{"\xFF\xD8\xFF\xE1", "the file is cut off"},
		{"\x00\x00\x00\x18ftypheic", "a HEIC picture"},
		{strings.Repeat("x", mostChars+1), "longer than"},
	} {
		r := Read([]byte(c.file))
		assert.Empty(t, r.Found, "%.80q", c.file)
		assert.Empty(t, r.Codes)
		if assert.NotEmpty(t, r.Errs, "%.80q", c.file) {
			assert.Contains(t, r.Errs[0].Error(), c.want, "%.80q", c.file)
		}
	}
	many := strings.Repeat(attached(mark, flate(bomb), bomb), 300)
	errs := Read([]byte(many)).Errs
	require.NotEmpty(t, errs)
	assert.LessOrEqual(t, len(errs), mostErrs)
}

// A setup that is given has the fingerprint that it is given with.
func FuzzRead(f *testing.F) {
	packed := deflate([]byte(title))
	f.Add([]byte(attached(markCanonical+fingerprint(title), fmt.Sprintf("/Filter /FlateDecode /Length %d", len(packed)), packed)))
	f.Add([]byte("<svg><a>" + recovery.Text([]byte(title)) + "</a></svg>"))
	f.Add([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x06iTXta\x00\x00\x00\x00\x00\x00\x00\x00\x00"))
	f.Add([]byte("\xFF\xD8\xFF>" + recovery.Text([]byte(title)) + "<"))
	f.Fuzz(func(t *testing.T, data []byte) {
		r := Read(data)
		errs := r.Errs
		for _, x := range r.Found {
			if recovery.FingerprintOf(x.File) != x.Fingerprint {
				t.Fatal("a setup that is not its fingerprint's")
			}
		}
		if len(errs) > mostTexts {
			t.Fatal("too much said")
		}
	})
}
