package setup

import (
	"bytes"
	"image"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestBreadMaker reads a whole setup; its photographs are elsewhere.
func TestBreadMaker(t *testing.T) {
	s := clean2(t, "bread-maker", "photo-missing")
	require.Len(t, s.Lights, 5)
	key := s.Lights[0]
	is(t, -1.8, key.Power) // 1/4 and two tenths
	assert.Equal(t, "boom", key.Stand.Kind)
	assert.InDelta(t, -1.9, key.Stand.Base.Right, 1e-12)
	is(t, 6.4, s.Exposure.KeyAv)
	hair := light(t, s, "Hair")
	assert.InDelta(t, 16.0/3-6.4, hair.Delta, 1e-9) // f/6.3 against f/8 and four tenths
	assert.Equal(t, "Key", s.Lights[1].LitBy)
	assert.Equal(t, 6, s.Grip[0].Number)
	require.Len(t, s.Photos, 2)
	assert.Error(t, s.Photos[0].Err)
	assert.Nil(t, s.Photos[0].Picture)
	assert.Equal(t, "boom over the flour table", s.Photos[1].Caption)
	assert.Equal(t, "dark olive", s.Background.Tone)
}

// The slack of two tapes is 5 cm: within it the point between is taken and
// said, beyond it is an error.
func TestTapeSlack(t *testing.T) {
	read := func(subject, camera string) (*Setup, Problems) {
		return parse("title: T\ncamera: {distance: 3}\nlights:\n  - {role: key, place: {tape: {subject: " + subject + ", camera: " + camera + "}, side: left}}\n")
	}
	s, problems := read("1.00", "1.951") // 4.9 cm short of meeting
	require.NotNil(t, s, "%v", problems)
	assert.Equal(t, []string{"tape-off"}, codes(problems))
	assert.InDelta(t, 1.0245, s.Lights[0].Place.Front, 1e-9)
	_, problems = read("1.00", "1.949")
	assert.Equal(t, []string{"tapes-apart"}, codes(problems))
	s, problems = read("4.04", "1") // one within the other, 4 cm apart
	require.NotNil(t, s, "%v", problems)
	assert.InDelta(t, 4.02, s.Lights[0].Place.Front, 1e-9)
	_, problems = read("1", "4.06")
	assert.Equal(t, []string{"tapes-apart"}, codes(problems))
	s, problems = read("1.00", "2.00") // they just touch
	require.NotNil(t, s, "%v", problems)
	assert.Empty(t, problems)
}

func TestSlantBound(t *testing.T) {
	read := func(slant string) (*Setup, Problems) {
		return parse("title: T\nsubject: {posture: seated}\nlights:\n  - {role: key, place: {angle: 90 left, slant: " + slant + ", height: 2.2}}\n")
	}
	s, problems := read("1.0") // straight above a seated face at 1.20
	require.NotNil(t, s, "%v", problems)
	assert.InDelta(t, 0, s.Lights[0].Place.Right, 1e-6)
	assert.Equal(t, "slant", s.Lights[0].Place.Form)
	_, problems = read("0.99")
	assert.Equal(t, []string{"slant-short"}, codes(problems))
}

func TestStackedTheWrongWayUp(t *testing.T) {
	s, problems := parse(`title: T
lights:
  - {role: key, place: "0, 2 m, 2 high"}
  - {role: fill, delta: -1, place: {under: Key, height: 2.5}}
  - {role: hair, delta: -1, place: {over: Key, height: 1}}
  - {role: eye, delta: -1, pair: each, place: "180, 1 m, 1 high"}
`)
	require.NotNil(t, s)
	assert.Equal(t, []string{"wrong-way-up", "wrong-way-up", "pair-in-one-spot"}, codes(problems))
}

// A mirrored pair by tapes: the anchors off the line are mirrored too.
func TestPairByTapes(t *testing.T) {
	s, problems := parse(`title: T
lights:
  - {role: key, place: {left: 1, front: 1}}
  - {name: Rim, role: rim, delta: -1, pair: each, place: {tape: {subject: 2, Key: 2.2}, side: right}}
  - {name: Low, role: kicker, delta: -1, pair: each, place: {tape: {Rim: 1, subject: 1.5}}}
`)
	require.NotNil(t, s, "%v", problems)
	for _, of := range []string{"Rim", "Low"} {
		l, r := light(t, s, of+" L").Place, light(t, s, of+" R").Place
		assert.Less(t, l.Right, 0.0)
		assert.InDelta(t, -l.Right, r.Right, 1e-9, of)
		assert.InDelta(t, l.Front, r.Front, 1e-9, of)
	}
	r := light(t, s, "Rim R").Place // written for the right: taped from the key itself
	assert.InDelta(t, 2, r.Distance(), 1e-9)
	assert.InDelta(t, 2.2, math.Hypot(r.Right+1, r.Front-1), 1e-9)
}

func TestBackgroundAimIsLevel(t *testing.T) {
	s, problems := parse(`title: T
background: {distance: 2}
lights:
  - role: key
  - {role: background, delta: 0, place: {left: 1, behind: 1, height: 0.7}}
`)
	require.NotNil(t, s, "%v", problems)
	assert.InDelta(t, 0.7, s.Lights[1].Aim.Height, 1e-12)
}

func TestPhotoIsLoaded(t *testing.T) {
	dir := t.TempDir()
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 20, 10)), nil))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "result.jpg"), b.Bytes(), 0o644))
	path := filepath.Join(dir, "s.yaml")
	require.NoError(t, os.WriteFile(path, []byte("photos: [result.jpg]\n"+smallest), 0o644))
	s, problems := Read(path, Options{})
	require.NotNil(t, s, "%v", problems)
	require.NotNil(t, s.Photos[0].Picture)
	assert.Equal(t, 20, s.Photos[0].Picture.Width)
	assert.NoError(t, s.Photos[0].Err)
	assert.Equal(t, "result", s.Photos[0].Shows)
	assert.Equal(t, filepath.Join(dir, "result.jpg"), s.Photos[0].Path)
	assert.Contains(t, s.Files, s.Photos[0].Path)
	s, _ = Read(path, Options{NoPhotos: true})
	assert.Nil(t, s.Photos[0].Picture)
}

func BenchmarkParse(b *testing.B) {
	src, err := os.ReadFile("../testdata/ok/bread-maker.yaml")
	require.NoError(b, err)
	for b.Loop() {
		if s, p := Parse("../testdata/ok/bread-maker.yaml", src, Options{NoPhotos: true}); s == nil {
			b.Fatal(p)
		}
	}
}

// Two tapes whose points lie 6 mm apart, astride the axis: either side is
// taken as written, and none need be written.
func TestTapesNearlyInLine(t *testing.T) {
	for side, right := range map[string]float64{", side: right": 0.003, ", side: left": -0.003, "": 0} {
		src := "title: x\nunits: cm\ncamera: {distance: 45.04}\nlights:\n" +
			"  - {name: K, role: key, place: {tape: {subject: 20, camera: 65.0379}" + side + ", height: 100}}\n"
		s, ps := Parse("x.yaml", []byte(src), Options{})
		require.NotNil(t, s, "%q: %v", side, ps)
		p := s.Lights[0].Place
		assert.InDelta(t, -0.20, p.Front, 0.0005)
		assert.InDelta(t, right, p.Right, 0.0035)
		if right != 0 {
			assert.Positive(t, p.Right*right)
		}
	}
}
