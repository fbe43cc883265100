package main

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/exposure"
	"stopleaf/setup"
)

func read(t *testing.T, name string) *setup.Setup {
	t.Helper()
	s, problems := setup.Read(filepath.Join("..", "..", "templates", "demo", name+".yaml"), setup.Options{NoPhotos: true})
	require.NotNil(t, s, problems)
	return s
}

// meterCard is a small even white disc at the lamp's aim point, square to the
// lamp or to the way the meter looked; it is what the light is measured by.
func meterCard(l *lamp) (mesh, vec) {
	white := &material{colour: grey(1)}
	n := l.at.sub(l.aim).unit()
	a, b := frame(n)
	var m mesh
	const half = 0.004
	m.flat(l.aim.add(a.by(-half)).add(b.by(-half)), l.aim.add(a.by(half)).add(b.by(-half)),
		l.aim.add(a.by(half)).add(b.by(half)), l.aim.add(a.by(-half)).add(b.by(half)), white)
	return m, n
}

// measured is the mean linear radiance that the tracer sees on the card with
// this lamp alone, times pi: its irradiance, as any pixel would get it.
func measured(l lamp) float64 {
	m, n := meterCard(&l)
	st := &stage{things: plant(m), lamps: []lamp{l}, strata: 24}
	across, up := frame(n)
	eye := l.aim.add(n.by(0.3)).add(across.by(0.2))
	d := l.aim.add(across.by(0.0011)).add(up.by(0.0005)).sub(eye).unit() // not where two triangles meet
	r := random(77)
	sum := 0.0
	for k := 0; k < st.strata*st.strata; k++ {
		s := &sample{k: k, hash: 5, r: &r}
		sum += st.seen(eye, d, s, 0, false).y
	}
	return sum / float64(st.strata*st.strata) * math.Pi / l.tint.y
}

// The pictures prove the numbers: the light that the tracer sees at each
// light's aim point, that light alone, is 2^delta of the key's, within 2 %.
// The level is set by an even grid over the lamp; it is read here by the
// tracer's own scattered rays off a card.
func TestEachLightAloneIsItsDifference(t *testing.T) {
	for _, sc := range scenes {
		s := read(t, sc.name)
		lamps, err := lampsOf(s)
		require.NoError(t, err)
		key := 0.0
		for i := range lamps {
			if s.Lights[i].Role == "key" {
				key = measured(lamps[i])
			}
		}
		require.Greater(t, key, 0.0)
		for i := range lamps {
			got := measured(lamps[i]) * lamps[i].dome() / key
			want := math.Exp2(s.Lights[i].Delta)
			assert.InEpsilon(t, want, got, 0.02, "%s: %s", sc.name, lamps[i].name)
		}
	}
}

// The level of an even lamp that faces its aim squarely is the closed form of
// an even disc, r2/(r2+d2), or of four corners of a rectangle (Howell's
// catalogue, B-3).
func TestLevelsAreTheClosedForms(t *testing.T) {
	for _, c := range []struct {
		disc bool
		w, h float64
		d    float64
		want float64
	}{
		{true, 1, 1, 0.5, 0.5}, {true, 1, 1, 1, 0.2}, {true, 1, 1, 5, 0.009901},
		{false, 1, 1, 1, 0.239456}, {false, 0.6, 0.9, 1.5, 0.070344}, {false, 1.2, 0.3, 1, 0.092472},
	} {
		l := lamp{at: vec{0, c.d, 1}, facing: vec{0, -1, 0}, disc: c.disc, halfW: c.w / 2, halfH: c.h / 2}
		l.across, l.up = frame(l.facing)
		assert.InEpsilon(t, c.want, l.falls(vec{0, 0, 1}, vec{0, 1, 0})/math.Pi, 1e-3)
	}
}

// A card that the key lights squarely comes out as the grey it is: 18 % at the
// recorded offset of camera from key, 118 in 8 bits of sRGB when there is none.
func TestGreyIsGrey(t *testing.T) {
	s := read(t, "bread")
	lamps, err := lampsOf(s)
	require.NoError(t, err)
	v := through(s, 100)
	got := measured(lamps[0]) / math.Pi * 0.18 * v.exposure
	assert.InEpsilon(t, 0.18*math.Exp2(*s.Exposure.KeyAv-*s.Exposure.ApertureAv), got, 0.02)
	assert.Equal(t, 118, int(math.Round(255*encode(tone(0.18)))))
}

// The frame is the one that package exposure derives for the same camera.
func TestFrameIsTheCameras(t *testing.T) {
	for _, sc := range scenes {
		s := read(t, sc.name)
		bases, err := s.ChooseBases("")
		require.NoError(t, err)
		n := exposure.Compute(s.Input(bases))
		v := through(s, 1200)
		require.NotNil(t, n.Camera.FrameM.AtSubject.Width)
		assert.InDelta(t, *n.Camera.FrameM.AtSubject.Width, 2*v.halfW, 1e-6)
		assert.InDelta(t, *n.Camera.FrameM.AtSubject.Height, 2*v.halfH, 1e-6)
	}
}

// Axes: what stands to the right of the mark comes out on the right, through
// the setup's camera and from the door.
func TestRightIsRight(t *testing.T) {
	side := func(v view) float64 {
		d := vec{0.2, 0, 1.2}.sub(v.eye)
		return d.dot(v.right) / d.dot(v.forward)
	}
	through := through(read(t, "bread"), 100)
	assert.Greater(t, side(through), 0.0)
	assert.Greater(t, side(look(vec{0, 4, 1.5}, vec{0, 0, 1.2}, 50, 90, 60)), 0.0)
	assert.Less(t, side(look(vec{0, -4, 1.5}, vec{0, 0, 1.2}, 50, 90, 60)), 0.0)
}

func TestTheSamePictureTwice(t *testing.T) {
	lamps, err := lampsOf(read(t, "ink"))
	require.NoError(t, err)
	m, _ := meterCard(&lamps[0])
	v := look(lamps[0].at, lamps[0].aim, 1, 24, 16)
	v.exposure, v.strata = math.Pi, 2
	st := &stage{things: plant(m), lamps: lamps, air: grey(0.01)}
	a, b := v.picture(st), v.picture(st)
	assert.Equal(t, a.Pix, b.Pix)
}

// The committed pictures: small, and with what the setup's camera recorded.
func TestCommittedPictures(t *testing.T) {
	for _, sc := range scenes {
		dir := filepath.Join("..", "..", "templates", "demo")
		for _, kind := range []string{"-result.jpg", "-set.jpg"} {
			info, err := os.Stat(filepath.Join(dir, sc.name+kind))
			require.NoError(t, err)
			assert.Less(t, info.Size(), int64(200_000))
		}
		s, problems := setup.Read(filepath.Join(dir, sc.name+".yaml"), setup.Options{})
		require.NotNil(t, s, problems)
		assert.Empty(t, problems)
		p := s.Photos[0].Picture
		require.NotNil(t, p)
		want := recorded(s, sc.turned)
		require.NotNil(t, p.Exif.FNumber)
		assert.InDelta(t, want.fNumber, *p.Exif.FNumber, 1e-9)
		assert.InDelta(t, want.shutterS, *p.Exif.ExposureS, 1e-9)
		assert.InDelta(t, want.iso, *p.Exif.ISO, 1e-9)
		assert.InDelta(t, want.focalMM, *p.Exif.FocalMM, 1e-9)
		assert.Equal(t, s.Made, p.Exif.Taken)
		assert.Equal(t, sc.turned, p.Orientation)
		w, h := p.Size()
		assert.Equal(t, s.Camera.Upright, h > w, sc.name)
	}
}
