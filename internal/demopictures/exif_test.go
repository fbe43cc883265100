package main

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"testing"

	"github.com/rwcarlsen/goexif/exif"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Another reader finds in the block what was put there.
func TestExifIsReadByAnother(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 8, 8)), nil))
	out, err := withExif(b.Bytes(), shot{fNumber: 9.5, shutterS: 1.0 / 160, iso: 200, focalMM: 70, taken: "2026:09:19 15:20:00", turned: 6})
	require.NoError(t, err)
	_, err = jpeg.Decode(bytes.NewReader(out))
	require.NoError(t, err)
	x, err := exif.Decode(bytes.NewReader(out))
	require.NoError(t, err)
	for name, want := range map[exif.FieldName]string{
		exif.FNumber: `"95/10"`, exif.ExposureTime: `"1/160"`, exif.ISOSpeedRatings: "200", exif.FocalLength: `"700/10"`,
		exif.DateTimeOriginal: `"2026:09:19 15:20:00"`, exif.Orientation: "6",
	} {
		tag, err := x.Get(name)
		require.NoError(t, err, name)
		assert.Equal(t, want, tag.String(), name)
	}
	_, err = x.Get(exif.Make)
	assert.Error(t, err)
	_, err = withExif([]byte("no"), shot{})
	assert.Error(t, err)
}

// Exif 2.31: orientation 6 has row 0 at the right of the scene and column 0 at
// its top, so the scene's top right corner is stored first.
func TestQuarter(t *testing.T) {
	img := image.NewRGBA(image.Rect(0, 0, 2, 3))
	img.Set(1, 0, color.White)
	got := quarter(img)
	assert.Equal(t, image.Rect(0, 0, 3, 2), got.Rect)
	assert.Equal(t, color.RGBA{255, 255, 255, 255}, got.RGBAAt(0, 0))
}
