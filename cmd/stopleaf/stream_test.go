package main

import (
	"bytes"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A binder is the same file by name, on standard output and through a link, which
// stays one; a device stays a device. Nothing else is left behind, and a file that
// was there keeps its permissions.
func TestBinderGoesWhereItIsSent(t *testing.T) {
	dir := sample(t)
	setup := filepath.Join(dir, "full.yaml")
	out := filepath.Join(t.TempDir(), "b.pdf")
	require.NoError(t, os.WriteFile(out, []byte("old"), 0o600))
	code, _, stderr := ran("binder", setup, "--photos", "skip", "-o", out)
	require.Equal(t, exitDone, code, stderr)
	assert.Contains(t, stderr, "wrote "+out)
	info, err := os.Stat(out)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o600), info.Mode())

	code, stdout, stderr := ran("binder", setup, "--photos", "skip", "-o", "-")
	require.Equal(t, exitDone, code, stderr)
	assert.NotContains(t, stderr, "wrote")
	require.True(t, read(t, out) == stdout)

	link := filepath.Join(filepath.Dir(out), "link.pdf")
	require.NoError(t, os.Symlink("b.pdf", link))
	require.NoError(t, os.WriteFile(out, nil, 0o600))
	code, _, stderr = ran("binder", setup, "--photos", "skip", "-o", link)
	require.Equal(t, exitDone, code, stderr)
	require.True(t, read(t, out) == stdout)
	assert.Equal(t, []string{"b.pdf", "link.pdf"}, entries(t, filepath.Dir(out)))

	null := filepath.Join(filepath.Dir(out), "null.pdf")
	require.NoError(t, os.Symlink(os.DevNull, null))
	code, _, stderr = ran("binder", setup, "--photos", "skip", "-o", null)
	require.Equal(t, exitDone, code, stderr)
	info, err = os.Stat(os.DevNull)
	require.NoError(t, err)
	assert.False(t, info.Mode().IsRegular())
}

// A disk that fills while a binder is written, or a mistake in a photo that shows
// only when it is drawn, under --strict, leaves what was there and nothing else.
func TestBinderThatFailsLeavesNothing(t *testing.T) {
	dir := sample(t)
	disk := filepath.Join(dir, "disk")
	require.NoError(t, os.Mkdir(disk, 0o777))
	mount(t, disk, "size=16k")
	out := filepath.Join(disk, "b.pdf")
	require.NoError(t, os.WriteFile(out, []byte("the old binder"), 0o666))
	code, _, stderr := ran("binder", filepath.Join(dir, "full.yaml"), "--photos", "skip", "-o", out)
	assert.Equal(t, exitFiles, code)
	assert.Contains(t, stderr, "could not write")
	assert.Contains(t, stderr, "no space left")
	assert.Equal(t, []string{"b.pdf"}, entries(t, disk))
	assert.Equal(t, "the old binder", read(t, out))
}

func TestStrictBinderWithABrokenPhoto(t *testing.T) {
	whole := largePhoto(t)
	scan := bytes.Index(whole, []byte{0xFF, 0xDA})
	dir, setup := photoCase(t, append(bytes.Clone(whole[:scan+2000]), 0xFF, 0xD9))
	for _, out := range []string{filepath.Join(dir, "b.pdf"), "-"} {
		code, stdout, stderr := ran("binder", setup, "--strict", "-o", out)
		assert.Equal(t, exitInput, code, stderr)
		assert.Contains(t, stderr, "cannot be used")
		assert.Zero(t, len(stdout))
	}
	assert.Equal(t, []string{"seat.jpg", "seat.yaml"}, entries(t, dir))
}

// A photo is in a binder once, however many setups have it and however large it is
// in each place: on the cover, on a sheet's first page, and larger on another.
func TestPhotoIsInABinderOnce(t *testing.T) {
	var small bytes.Buffer
	require.NoError(t, jpeg.Encode(&small, image.NewGray(image.Rect(0, 0, 2000, 1300)), nil))
	for _, photo := range [][]byte{small.Bytes(), largePhoto(t)} {
		dir, _ := photoCase(t, photo)
		require.NoError(t, os.WriteFile(filepath.Join(dir, "other.yaml"), []byte("code: OTHER\n"+photoSetup), 0o600))
		for _, as := range []string{"sheet", "card"} {
			code, stdout, stderr := ran("binder", dir, "--as", as, "-o", "-")
			require.Equal(t, exitDone, code, stderr)
			assert.Equal(t, 1, bytes.Count([]byte(stdout), []byte("/DCTDecode")))
			assert.Equal(t, 1+2, bytes.Count([]byte(stdout), []byte("/Subtype /Image")), "and each setup's code once")
			if len(photo) == small.Len() {
				assert.True(t, bytes.Contains([]byte(stdout), photo), "what is small enough is as it was")
			}
		}
	}
}
