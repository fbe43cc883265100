package main

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const photoSetup = `title: Window seat
photos:
  - {file: seat.jpg, shows: result}
lights:
  - {name: Key, role: key}
`

// photoCase is a folder with a setup and the photo that it names.
func photoCase(t *testing.T, photo []byte) (dir, name string) {
	t.Helper()
	dir = t.TempDir()
	name = filepath.Join(dir, "seat.yaml")
	require.NoError(t, os.WriteFile(name, []byte(photoSetup), 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "seat.jpg"), photo, 0o600))
	return dir, name
}

// largePhoto has far more pixels than its place on a card.
func largePhoto(t *testing.T) []byte {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, 2400, 1600))
	for i := range 2400 * 1600 {
		x, y := i%2400, i/2400
		img.SetRGBA(x, y, color.RGBA{uint8(x * y / 10), uint8(y / 7), uint8((x + y) / 16), 255})
	}
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, img, &jpeg.Options{Quality: 100}))
	return b.Bytes()
}

// A photo that is damaged, at its head or only in its pixels, stops a card at
// its place in the file; with --photos skip the card comes out with a ruled
// space. One that is whole is drawn.
func TestDamagedPhoto(t *testing.T) {
	whole := largePhoto(t)
	scan := bytes.Index(whole, []byte{0xFF, 0xDA})
	for name, photo := range map[string][]byte{
		"at its head":    []byte("no picture at all"),
		"cut off":        whole[:len(whole)/2],
		"in its pixels":  append(bytes.Clone(whole[:scan+2000]), 0xFF, 0xD9),
		"not yet a JPEG": []byte("\x00\x00\x00\x18ftypheic\x00\x00"),
	} {
		t.Run(name, func(t *testing.T) {
			dir, setup := photoCase(t, photo)
			card := filepath.Join(dir, "card.svg")
			var out, errs bytes.Buffer
			require.Equal(t, exitInput, run([]string{"card", setup, "-o", card}, nil, &out, &errs))
			assert.Contains(t, errs.String(), "seat.yaml:3:12: the photo \"seat.jpg\" cannot be used: ")
			assert.NoFileExists(t, card)

			errs.Reset()
			require.Equal(t, exitDone, run([]string{"card", setup, "-o", card, "--photos", "skip"}, nil, &out, &errs), errs.String())
			assert.Contains(t, errs.String(), "seat.yaml:3:12: warning: the photo \"seat.jpg\" cannot be used: ")
			page, err := os.ReadFile(card)
			require.NoError(t, err)
			assert.Contains(t, string(page), "Put the photograph seat.jpg here")
		})
	}
}

func TestLargePhotoIsScaled(t *testing.T) {
	dir, setup := photoCase(t, largePhoto(t))
	card := filepath.Join(dir, "card.svg")
	var out, errs bytes.Buffer
	require.Equal(t, exitDone, run([]string{"card", setup, "-o", card, "--photos=ask"}, nil, &out, &errs), errs.String())
	info, err := os.Stat(card)
	require.NoError(t, err)
	assert.Less(t, info.Size(), int64(len(largePhoto(t))), "the photo is no larger than its place needs")
}
