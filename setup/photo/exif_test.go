package photo

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/bep/imagemeta"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// exifOf reads the first Exif block of a file, whole or cut off.
func exifOf(b []byte) (int, Exif) {
	_, block, found := bytes.Cut(b, []byte(exifMagic))
	if !found {
		return 1, Exif{}
	}
	return readExif(block)
}

func value(v *float64) float64 {
	if v == nil {
		return math.NaN()
	}
	return *v
}

// What cameras wrote, as github.com/rwcarlsen/goexif lists it in its
// exif/regress_expected_test.go. Most of these files end behind the metadata.
func TestExifOfCameras(t *testing.T) {
	no := math.NaN()
	cases := []struct {
		file                string
		orientation         int
		f, time, iso, focal float64
		taken               string
	}{
		{"../sample1.jpg", 1, 4.5, 1.0 / 125, no, 23.33, "2003-11-23"},
		{"has-lens-info.jpg", 6, 12.0 / 5, 1.0 / 1284, 50, 107.0 / 25, "2014-09-01"},
		{"2006-08-03-16-29-38*", 6, 2.8, 1.0 / 1500, no, no, "2006-08-03"},
		{"2007-08-24-02-40-42*", 1, 10, 1.0 / 400, no, no, "2007-08-24"},
		{"2007-01-01-12-00-00*", 1, 2.7, 0.008942, no, no, "2007-01-01"},
		// no FNumber: 2^(6.91887/2), written by one who took 11 for the exact value
		{"2009-06-11-19-23-18*", 1, math.Exp2(11257.0 / 1627 / 2), no, no, no, "2009-06-11"},
		{disputed + "*", 1, 3, 23697424.0 / 268435456, no, no, "2007-06-26"},
		{"2012-12-21-11-15-19*", 1, 4.5, 1.0 / 30, no, no, "2012-12-21"},
		{"2007-11-07-*", 1, no, 1.0 / 200, no, no, "2007-11-07"},
		{"2007-05-26-*", 1, no, 10.0 / 3486, no, no, "2007-05-26"},
		// no FNumber, an exposure time of 0/1024
		{"geodegrees_as_string.jpg", 1, 2, no, 125, 3, "2014-04-26"},
	}
	for _, c := range cases {
		o, e := exifOf(sample(t, c.file))
		assert.Equal(t, c.orientation, o, c.file)
		for _, v := range []struct {
			want float64
			got  *float64
		}{{c.f, e.FNumber}, {c.time, e.ExposureS}, {c.iso, e.ISO}, {c.focal, e.FocalMM}} {
			if !math.IsNaN(v.want) {
				assert.InEpsilon(t, v.want, value(v.got), 1e-12, c.file)
			}
		}
		assert.Equal(t, c.taken, e.Taken, c.file)
	}
	_, e := exifOf(sample(t, "2009-06-11-19-23-18*"))
	assert.InDelta(t, 11.0, *e.FNumber, 0.001)
	_, e = exifOf(sample(t, "geodegrees_as_string.jpg"))
	assert.Nil(t, e.ExposureS, "0/1024 s is no exposure time")
	_, e = exifOf(sample(t, "../sample1.jpg"))
	assert.Nil(t, e.ISO)
}

// disputed is the sample whose exposure time the two other readers give
// differently; goexif's, which is in the table above, is what the file says.
const disputed = "2007-06-26-10-13-04"

// Another reader, github.com/bep/imagemeta, finds the same in every sample.
// (It reads 22 kB of JSON at start-up, which is why it is not used itself.)
func TestExifEqualsAnotherReader(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(samples(t), "*.jpg"))
	require.NoError(t, err)
	require.Greater(t, len(files), 50)
	compared := 0
	for _, f := range files {
		b, err := os.ReadFile(f)
		require.NoError(t, err)
		want := map[string]any{}
		_, _ = imagemeta.Decode(imagemeta.Options{
			R: bytes.NewReader(b), ImageFormat: imagemeta.JPEG, Sources: imagemeta.EXIF,
			ShouldHandleTag: func(imagemeta.TagInfo) bool { return true },
			HandleTag: func(i imagemeta.TagInfo) error {
				if _, there := want[i.Tag]; !there {
					want[i.Tag] = i.Value
				}
				return nil
			},
		})
		o, e := exifOf(b)
		if w, ok := asFloat(want["Orientation"]); ok && w >= 1 && w <= 8 {
			assert.EqualValues(t, w, o, f)
			compared++
		}
		for _, v := range []struct {
			tag string
			got *float64
		}{{"FNumber", e.FNumber}, {"ExposureTime", e.ExposureS}, {"ISO", e.ISO}, {"FocalLength", e.FocalMM}} {
			if w, ok := asFloat(want[v.tag]); ok && w > 0 && !strings.Contains(f, disputed) {
				assert.InEpsilon(t, w, value(v.got), 1e-6, "%s %s", f, v.tag)
				compared++
			}
		}
	}
	assert.Greater(t, compared, 150)
}

func asFloat(v any) (float64, bool) {
	switch n := v.(type) {
	case float64:
		return n, !math.IsNaN(n) && !math.IsInf(n, 0)
	case uint16:
		return float64(n), true
	case uint32:
		return float64(n), true
	case int:
		return float64(n), true
	case interface{ Float64() float64 }:
		f := n.Float64()
		return f, !math.IsNaN(f) && !math.IsInf(f, 0)
	}
	return 0, false
}

// The two APEX fall-backs: Av 5 is f/5.657 and Tv 7 is 1/128 s. Exif 2.31,
// CIPA DC-008, annex C, table 52.
func TestExifApexFallback(t *testing.T) {
	_, e := readExif(exifBlock(nil, []tag{
		rational(tagAperture, 5, 1),
		{tagShutter, typeSRational, 1, []byte{0, 0, 0, 7, 0, 0, 0, 1}},
	}))
	assert.InDelta(t, 5.65685425, *e.FNumber, 1e-8)
	assert.Equal(t, 1.0/128, *e.ExposureS)

	_, e = readExif(exifBlock(nil, []tag{
		rational(tagFNumber, 56, 10), rational(tagAperture, 99, 1),
		rational(tagExposureTime, 1, 125),
		{tagShutter, typeSRational, 1, []byte{255, 255, 255, 255, 0, 0, 0, 1}},
	}))
	assert.Equal(t, 5.6, *e.FNumber, "the f-number goes before")
	assert.Equal(t, 0.008, *e.ExposureS)

	// one second is Tv 0, two seconds Tv -1
	_, e = readExif(exifBlock(nil, []tag{{tagShutter, typeSRational, 1, []byte{255, 255, 255, 255, 0, 0, 0, 1}}}))
	assert.Equal(t, 2.0, *e.ExposureS)
}

func TestExifOddities(t *testing.T) {
	long := func(v byte) []byte { return []byte{0, 1, v, 0} }
	o, e := readExif(exifBlock([]tag{short(tagOrientation, 9)}, []tag{
		rational(tagFNumber, 0, 0), rational(tagExposureTime, 1, 0), rational(tagFocal, 0, 1),
		short(tagSensitivity, 65535), {tagIndexSens, typeLong, 1, long(0x90)},
		ascii(tagTaken, "0000:00:00 00:00:00"),
	}))
	assert.Equal(t, 1, o)
	assert.Nil(t, e.FNumber)
	assert.Nil(t, e.ExposureS)
	assert.Nil(t, e.FocalMM)
	assert.Equal(t, 65536.0+0x9000, *e.ISO, "65535 means that the number stands elsewhere")
	assert.Equal(t, "", e.Taken)

	for _, block := range [][]byte{nil, []byte("MM"), []byte("MM\x00*\xFF\xFF\xFF\xFF"), []byte("II\x00*\x08\x00\x00\x00"), []byte("XX\x00*\x00\x00\x00\x08\x00\x01")} {
		o, e := readExif(block)
		assert.Equal(t, 1, o)
		assert.Equal(t, Exif{}, e)
	}
}

func FuzzExif(f *testing.F) {
	f.Add(exifBlock([]tag{short(tagOrientation, 6)}, []tag{rational(tagFNumber, 56, 10), ascii(tagTaken, "2026:03:14 10:00:00")}))
	f.Fuzz(func(t *testing.T, b []byte) {
		o, e := readExif(b)
		if o < 1 || o > 8 {
			t.Fatal(o)
		}
		for _, v := range []*float64{e.FNumber, e.ExposureS, e.ISO, e.FocalMM} {
			if v != nil && !(*v > 0 && *v <= 1e8) {
				t.Fatal(*v)
			}
		}
	})
}
