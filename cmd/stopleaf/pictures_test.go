package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/draw"
	"image/jpeg"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/internal/outside"
)

// demoCopy is a folder with the demo setups and their photographs.
func demoCopy(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(dir, os.DirFS("../../templates/demo")))
	return dir
}

func done(t *testing.T, args ...string) {
	t.Helper()
	code, _, stderr := ran(args...)
	require.Equal(t, exitDone, code, stderr)
}

func readPNG(t *testing.T, path string) image.Image {
	t.Helper()
	img, err := png.Decode(bytes.NewReader([]byte(read(t, path))))
	require.NoError(t, err)
	return img
}

// readPGM reads a picture in grey as pdftoppm writes it when nothing is said.
func readPGM(t *testing.T, path string) *image.Gray {
	t.Helper()
	file := read(t, path)
	var w, h int
	_, err := fmt.Sscanf(file, "P5\n%d %d\n255\n", &w, &h)
	require.NoError(t, err)
	img := image.NewGray(image.Rect(0, 0, w, h))
	copy(img.Pix, file[len(file)-w*h:])
	return img
}

func inGrey(img image.Image) *image.Gray {
	out := image.NewGray(img.Bounds())
	switch v := img.(type) {
	case *image.Gray:
		return v
	case *image.RGBA:
		for i := range out.Pix {
			p := v.Pix[4*i:]
			out.Pix[i] = uint8((299*int(p[0]) + 587*int(p[1]) + 114*int(p[2])) / 1000) // ITU-R BT.601
		}
	default:
		draw.Draw(out, out.Rect, img, image.Point{}, draw.Src)
	}
	return out
}

// Each side of each demo's card, and its plan, is the PDF as another program
// draws it: the mean difference of their greys is that of smoothed edges.
func TestPicturesLookLikeThePDF(t *testing.T) {
	dir := demoCopy(t)
	at := func(name string) string { return filepath.Join(dir, name) }
	for _, name := range []string{"bread", "coat", "ink"} {
		for _, command := range []string{"card", "plan"} {
			base := name + "-" + command
			done(t, command, at(name+".yaml"), "-o", at(base+".pdf"), "--paper", "a5")
			done(t, command, at(name+".yaml"), "-o", at(base+".png"), "--paper", "a5")
			outside.Run(t, "pdftoppm", "-r", "200", "-gray", at(base+".pdf"), at(base+"-pdf"))
			want, err := filepath.Glob(at(base + "-pdf-*.pgm"))
			require.NoError(t, err)
			for i, path := range want {
				got := readPNG(t, at(pageName(base+".png", i, len(want))))
				other := readPGM(t, path)
				assert.InDelta(t, other.Bounds().Dy(), got.Bounds().Dy(), 1)
				size := got.Bounds().Intersect(other.Bounds()).Size()
				sum := 0
				ours := inGrey(got)
				for y := range size.Y {
					for x := range size.X {
						d := int(ours.GrayAt(x, y).Y) - int(other.GrayAt(x, y).Y)
						sum += max(d, -d)
					}
				}
				most := 7.0
				if command == "card" && i == 1 { // its code: the other program does not smooth the edges of a picture's dots
					most = 9
				}
				assert.Less(t, float64(sum)/float64(size.X*size.Y), most, "%s, page %d", base, i+1)
			}
			_, err = os.Stat(at(pageName(base+".png", len(want), len(want)+1)))
			assert.Error(t, err, "a picture more than the PDF has pages")
		}
	}
}

// A catalogue finds the setup's own words, and nothing of where a photograph was
// taken or with what.
func TestPictureMetadata(t *testing.T) {
	dir := demoCopy(t)
	for _, format := range []string{"png", "jpg"} {
		out := filepath.Join(dir, "card."+format)
		done(t, "card", filepath.Join(dir, "bread.yaml"), "-o", out, "--paper", "a4", "--dpi", "150")
		first := filepath.Join(dir, "card-1."+format)
		if _, err := os.Stat(first); err != nil {
			first = out
		}
		var list []map[string]any
		said := outside.Run(t, "exiftool", "-json", "-G1", "-a", "-validate", "-all", first)
		require.NoError(t, json.Unmarshal([]byte(said), &list))
		got := list[0]
		assert.Equal(t, "OK", got["ExifTool:Validate"])
		assert.Equal(t, "Bread maker, flour in the air", got["XMP-dc:Title"])
		assert.Equal(t, "Halvard Studio", got["XMP-dc:Creator"])
		assert.Equal(t, "2026:03:14", got["XMP-xmp:CreateDate"])
		assert.Contains(t, got["XMP-dc:Description"], "Bread maker, flour in the air")
		for _, word := range []string{"low key", "hair", "octabox"} { // a tag, a role, a modifier
			assert.Contains(t, got["XMP-dc:Subject"], word)
		}
		for key := range got {
			group, tag, _ := strings.Cut(key, ":")
			assert.False(t, group == "GPS" || group == "IFD0" || group == "ExifIFD" || strings.Contains(tag, "Serial"), key)
		}
	}
}

// Each page of the cards of several setups is said to be of its own.
func TestPicturesOfSeveralSetups(t *testing.T) {
	dir := demoCopy(t)
	done(t, "card", filepath.Join(dir, "bread.yaml"), filepath.Join(dir, "ink.yaml"), "-o", filepath.Join(dir, "both.jpg"), "--dpi", "72")
	pages, err := filepath.Glob(filepath.Join(dir, "both-*.jpg"))
	require.NoError(t, err)
	said := ""
	for _, page := range pages {
		file := read(t, page)
		_, err := jpeg.Decode(strings.NewReader(file))
		require.NoError(t, err)
		bread := strings.Contains(file, "<rdf:li>low key</rdf:li>")
		ink := strings.Contains(file, "<rdf:li>product</rdf:li>")
		assert.True(t, bread != ink, page)
		if bread {
			said += "b"
		} else {
			said += "i"
		}
	}
	assert.Contains(t, said, "bi")
	assert.Equal(t, len(pages), strings.Count(said, "b")+strings.Count(said, "i"))
}

// A photograph that a setup shows is never written over.
func TestPictureOverAPhotograph(t *testing.T) {
	dir := demoCopy(t)
	photo := filepath.Join(dir, "bread-result.jpg")
	before := read(t, photo)
	for _, command := range []string{"card", "plan"} {
		code, _, stderr := ran(command, filepath.Join(dir, "bread.yaml"), "-o", photo)
		assert.Equal(t, exitUsage, code)
		assert.Contains(t, stderr, "is a file that was read")
	}
	// nor by the number that a page's name gets
	require.NoError(t, os.Rename(photo, filepath.Join(dir, "card-1.jpg")))
	setup := strings.ReplaceAll(read(t, filepath.Join(dir, "bread.yaml")), "bread-result.jpg", "card-1.jpg")
	require.NoError(t, os.WriteFile(filepath.Join(dir, "bread.yaml"), []byte(setup), 0o666))
	code, _, stderr := ran("card", filepath.Join(dir, "bread.yaml"), "-o", filepath.Join(dir, "card.jpg"))
	assert.Equal(t, exitUsage, code)
	assert.Contains(t, stderr, "is a file that was read")
	assert.True(t, before == read(t, filepath.Join(dir, "card-1.jpg")))
}
