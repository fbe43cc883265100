package photo

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/internal/outside"
)

// made is a picture that ImageMagick made from a scene, and the same as it
// reads it back itself, in 8-bit sRGB.
func made(t *testing.T, in image.Image, name string, args ...string) (path string, want image.Image) {
	t.Helper()
	dir := t.TempDir()
	src, back := filepath.Join(dir, "in.png"), filepath.Join(dir, "back.png")
	require.NoError(t, os.WriteFile(src, pngOf(t, in), 0o600))
	path = filepath.Join(dir, name)
	outside.Run(t, "convert", append(append([]string{src}, args...), path)...)
	outside.Run(t, "convert", path+"[0]", "-background", "white", "-flatten", "-colorspace", "sRGB", "-depth", "8", "-strip", "PNG24:"+back)
	f, err := os.Open(back)
	require.NoError(t, err)
	defer f.Close()
	want, err = png.Decode(f)
	require.NoError(t, err)
	return path, want
}

// Pictures of every kind that another program writes look as it reads them.
func TestKindsOfAnotherProgram(t *testing.T) {
	clear := image.NewNRGBA(image.Rect(0, 0, 60, 40))
	for y := range 40 {
		for x := range 60 {
			clear.SetNRGBA(x, y, color.NRGBA{uint8(4 * x), 120, uint8(6 * y), uint8(min(5*x, 255))})
		}
	}
	for _, c := range []struct {
		name   string
		in     image.Image
		args   string
		format string
		most   float64 // of the mean difference, in codes of 255
	}{
		{"a.jpg", scene(60, 40), "-quality 95", "jpeg", 2},
		{"grey.jpg", scene(60, 40), "-colorspace Gray -quality 95", "jpeg", 2},
		{"progressive.jpg", scene(60, 40), "-interlace JPEG -quality 95", "jpeg", 2},
		{"ink.jpg", scene(60, 40), "-colorspace CMYK -quality 98", "jpeg", 2},
		{"rgb.jpg", scene(60, 40), "-set colorspace RGB -define jpeg:colorspace=RGB -quality 95", "jpeg", 2},
		{"plain.tif", scene(60, 40), "-compress none", "jpeg", 2},
		{"lzw.tif", scene(60, 40), "-compress lzw", "jpeg", 2},
		{"zip.tif", scene(60, 40), "-compress zip", "jpeg", 2},
		{"big-endian.tif", scene(60, 40), "-endian MSB -compress lzw", "jpeg", 2},
		{"deep.tif", scene(60, 40), "-depth 16 -compress zip", "jpeg", 2},
		{"tiles.tif", scene(60, 40), "-define tiff:tile-geometry=32x32", "jpeg", 2},
		{"grey.tif", scene(60, 40), "-colorspace Gray -compress lzw", "jpeg", 2},
		{"deep-grey.tif", scene(60, 40), "-colorspace Gray -depth 16", "jpeg", 2},
		{"two.tif", scene(60, 40), "-monochrome -compress group4", "png", 0.1},
		{"alpha.tif", clear, "-compress lzw", "png", 1},
		{"ink.tif", scene(60, 40), "-colorspace CMYK -compress lzw", "jpeg", 2},
		{"deep-ink.tif", scene(60, 40), "-colorspace CMYK -depth 16", "jpeg", 2},
		{"lossless.webp", scene(60, 40), "-define webp:lossless=true", "jpeg", 2},
		{"lossy.webp", scene(60, 40), "-quality 95", "jpeg", 2.5},
		{"white.webp", image.White, "-crop 60x40+0+0 +repage -quality 95", "png", 0.5},
		{"alpha.webp", clear, "-quality 98", "png", 3},
		{"lossless-alpha.webp", clear, "-define webp:lossless=true", "png", 1},
		{"deep.png", scene(60, 40), "-depth 16", "png", 0.5},
		{"deep-alpha.png", clear, "-depth 16 -define png:bit-depth=16 -define png:color-type=6", "png", 0.6},
		{"deep-alpha.tif", clear, "-depth 16", "png", 0.6},
		{"interlaced.png", scene(60, 40), "-interlace PNG", "png", 0.1},
		{"palette.png", scene(60, 40), "-colors 16 -type Palette", "png", 0.1},
		{"grey-alpha.png", clear, "-colorspace Gray", "png", 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.in == image.White {
				white := image.NewRGBA(image.Rect(0, 0, 60, 40))
				for i := range white.Pix {
					white.Pix[i] = 255
				}
				c.in = white
			}
			path, want := made(t, c.in, c.name, strings.Fields(c.args)...)
			p, err := Load(path)
			require.NoError(t, err)
			q := fitted(t, p)
			assert.Equal(t, c.format, q.Format)
			mean, _ := apart(t, want, decoded(t, q))
			assert.Less(t, mean, c.most)
			assert.Equal(t, strings.Contains(c.name, "grey"), q.Channels == 1 && !strings.Contains(c.name, "two") && !strings.Contains(c.name, "white"))
		})
	}
}

// Inks without Adobe's mark are taken as with it, as others do, and the person
// is told.
func TestInksWithoutMark(t *testing.T) {
	path, _ := made(t, scene(60, 40), "ink.jpg", "-colorspace", "CMYK", "-quality", "98")
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	at := bytes.Index(b, []byte("\xFF\xEE\x00\x0EAdobe"))
	require.Positive(t, at)
	require.NoError(t, os.WriteFile(path, append(b[:at:at], b[at+16:]...), 0o600))
	back := filepath.Join(t.TempDir(), "back.png")
	outside.Run(t, "convert", path, "-colorspace", "sRGB", "-depth", "8", "-strip", "PNG24:"+back)
	f, err := os.Open(back)
	require.NoError(t, err)
	defer f.Close()
	want, err := png.Decode(f)
	require.NoError(t, err)
	p, err := Load(path)
	require.NoError(t, err)
	assert.Equal(t, []string{"it does not say how its inks are meant; see that it is no negative, or export it in sRGB"}, p.Warnings)
	mean, _ := apart(t, want, decoded(t, fitted(t, p)))
	assert.Less(t, mean, 2.0)
}

// What the page gets says nothing of place, camera or maker, whatever kind the
// photo was, scaled or not.
func TestNothingPrivateOfAnyKind(t *testing.T) {
	for _, name := range []string{"a.jpg", "a.tif", "a.webp", "a.png"} {
		path, _ := made(t, scene(90, 60), name, "-quality", "95")
		outside.Run(t, "exiftool", "-overwrite_original", "-Make=Somemaker", "-Model=Somemodel", "-SerialNumber=SN-QX1", "-LensSerialNumber=SN-QX2",
			"-GPSLatitude=52.5", "-GPSLatitudeRef=N", "-GPSLongitude=13.4", "-GPSLongitudeRef=E", "-XMP:Creator=Someone", "-Comment=somewhere", path)
		p, err := Load(path)
		require.NoError(t, err, name)
		for _, size := range [][2]int{{90, 60}, {30, 20}} {
			q, err := p.Fit(size[0], size[1])
			require.NoError(t, err)
			out := filepath.Join(t.TempDir(), "out."+q.Format)
			require.NoError(t, os.WriteFile(out, q.Data, 0o600))
			said := outside.Run(t, "exiftool", "-G", "-a", "-u", out)
			for _, word := range []string{"[EXIF]", "[XMP]", "[IPTC]", "[MakerNotes]", "[ICC_Profile]", "GPS", "Serial", "Somemaker", "Somemodel", "Someone", "somewhere", "SN-QX"} {
				assert.NotContains(t, said, word, "%s at %v", name, size)
			}
		}
	}
}

// Orientation and exposure are read from every kind.
func TestExifOfEveryKind(t *testing.T) {
	for _, name := range []string{"a.jpg", "a.tif", "a.webp", "a.png"} {
		path, _ := made(t, scene(90, 60), name)
		outside.Run(t, "exiftool", "-overwrite_original", "-n", "-Orientation=6", "-FNumber=8", "-ISO=200", path)
		p, err := Load(path)
		require.NoError(t, err, name)
		assert.Equal(t, 6, p.Orientation, name)
		require.NotNil(t, p.Exif.FNumber, name)
		assert.Equal(t, 8.0, *p.Exif.FNumber, name)
		assert.Equal(t, 200.0, *p.Exif.ISO, name)
		q, err := p.Fit(40, 60)
		require.NoError(t, err)
		assert.Equal(t, [3]int{40, 60, 1}, [3]int{q.Width, q.Height, q.Orientation}, name)
		// stored bright at the top left, so displayed bright at the top right
		img := decoded(t, q)
		assert.Greater(t, lightOf(img, 36, 4), lightOf(img, 4, 56), name)
	}
}

func lightOf(img image.Image, x, y int) int {
	return int(color.GrayModel.Convert(img.At(x, y)).(color.Gray).Y)
}
