package scan_test

import (
	"fmt"
	"image"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/internal/ours"
	"stopleaf/internal/randomset"
	"stopleaf/recovery"
	"stopleaf/recovery/scan"
	"stopleaf/recovery/symbol"
	"stopleaf/setup"
)

// modules are those of a code as symbol.Read takes them.
func modules(m *symbol.Matrix) []float32 {
	out := make([]float32, m.Size*m.Size)
	for i := range out {
		out[i] = -1
		if m.Dark(i%m.Size, i/m.Size) {
			out[i] = 1
		}
	}
	return out
}

// strip is a picture of codes beside each other, so many pixels a module.
func strip(codes []*symbol.Matrix, dot int) *image.Gray {
	wide, high := symbol.Quiet, 0
	for _, m := range codes {
		wide, high = wide+m.Size+symbol.Quiet, max(high, m.Size+2*symbol.Quiet)
	}
	img := image.NewGray(image.Rect(0, 0, wide*dot, high*dot))
	for i := range img.Pix {
		img.Pix[i] = 255
	}
	left := symbol.Quiet
	for _, m := range codes {
		for y := range m.Size * dot {
			for x := range m.Size * dot {
				if m.Dark(x/dot, y/dot) {
					img.Pix[(symbol.Quiet*dot+y)*img.Stride+left*dot+x] = 0
				}
			}
		}
		left += m.Size + symbol.Quiet
	}
	return img
}

// comesBack asserts that a setup comes back from its codes, through the modules and
// in some cases through pixels: the same canonical file, which is all there is to
// derive figures and to draw from. It says whether it was spread.
func comesBack(t *testing.T, name string, s *setup.Setup, most int, pixels bool) bool {
	t.Helper()
	want := s.Canonical(setup.Nothing)
	texts, err := recovery.Texts(want, symbol.Room(most))
	require.NoError(t, err, name)
	var read []string
	var codes []*symbol.Matrix
	for _, text := range texts {
		m, err := symbol.Draw(text, most)
		require.NoError(t, err, name)
		codes = append(codes, m)
		got, err := symbol.Read(modules(m), m.Size)
		require.NoError(t, err, name)
		read = append(read, got)
	}
	if pixels {
		r := scan.Read(strip(codes, 4))
		require.ElementsMatch(t, texts, r.Texts, name)
		require.Zero(t, r.Unread, name)
		read = r.Texts
	}
	found, errs := recovery.Read(read)
	require.Empty(t, errs, name)
	require.Len(t, found, 1, name)
	require.Equal(t, string(want), string(found[0].File), name)
	back, problems := setup.Parse(filepath.Join(t.TempDir(), "back.yaml"), found[0].File, setup.Options{NoPhotos: true})
	require.NotNil(t, back, "%s: %v", name, problems)
	require.Equal(t, string(want), string(back.Canonical(setup.Nothing)), name)
	return len(texts) > 1
}

func TestRoundTripOfDemosAndStarters(t *testing.T) {
	for _, name := range ours.Files(t, "../..") {
		s, problems := setup.Read(name, setup.Options{NoPhotos: true})
		require.NotNil(t, s, "%v", problems)
		assert.False(t, comesBack(t, name, s, 104, true), "%s needs more than one code of 45 mm", name)
		comesBack(t, name, s, 61, true)
	}
}

func TestRoundTripOfRandomSets(t *testing.T) {
	all := 100
	if os.Getenv("STOPLEAF_CI") == "1" {
		all = 2000
	}
	used, spread := 0, 0
	for i := 0; used < all; i++ {
		src := randomset.Setups(1, 12).Example(i).YAML()
		s, _ := setup.Parse("random.yaml", []byte(src), setup.Options{NoPhotos: true})
		if s == nil {
			continue
		}
		used++
		if comesBack(t, fmt.Sprintf("set %d", i), s, []int{104, 104, 81}[i%3], i%20 == 0) {
			spread++
		}
	}
	assert.Greater(t, spread, all/20, "some need several codes")
}

// Whatever is done to the modules of a good code, there is the setup, or none.
func TestMutationsOfModules(t *testing.T) {
	all := 1000
	if os.Getenv("STOPLEAF_CI") == "1" {
		all = 10_000
	}
	text, err := os.ReadFile("../testdata/v1-smallest.txt")
	require.NoError(t, err)
	want, err := os.ReadFile("../testdata/v1-smallest.yaml")
	require.NoError(t, err)
	m, err := symbol.Draw(strings.TrimSpace(string(text)), 177)
	require.NoError(t, err)
	good := modules(m)
	r := rand.New(rand.NewPCG(18004, 7))
	read, lost := 0, 0
	for range all {
		changed := append([]float32(nil), good...)
		switch r.IntN(3) {
		case 0: // single modules
			for range r.IntN(len(good) / 4) {
				changed[r.IntN(len(good))] *= -1
			}
		case 1: // a stain, of which it is known or not that it is one
			x, y, side := r.IntN(m.Size), r.IntN(m.Size), 2+r.IntN(m.Size/2)
			sure := r.Float32()
			for j := y; j < min(y+side, m.Size); j++ {
				for i := x; i < min(x+side, m.Size); i++ {
					changed[j*m.Size+i] = (2*float32(r.IntN(2)) - 1) * sure
				}
			}
		default: // rows and columns out of place
			from, by := r.IntN(m.Size), 1+r.IntN(2)
			for j := range m.Size {
				for i := from; i < m.Size; i++ {
					changed[j*m.Size+i] = good[j*m.Size+max(i-by, 0)]
				}
			}
		}
		got, err := symbol.Read(changed, m.Size)
		if err != nil {
			lost++
			continue
		}
		found, errs := recovery.Read([]string{got})
		for _, f := range found {
			require.Equal(t, string(want), string(f.File))
			read++
		}
		if len(found) == 0 {
			lost++
			if strings.HasPrefix(got, recovery.Mark+":") {
				require.NotEmpty(t, errs)
			}
		}
	}
	t.Logf("of %d, %d still read, %d lost", all, read, lost)
	assert.Greater(t, read, all/10)
	assert.Greater(t, lost, all/10)
}

// Whatever the pixels are, nothing breaks, and a text that is given is one that a code can
// hold.
func FuzzScan(f *testing.F) {
	m, err := symbol.Draw("STOPLEAF:0123456789", 25)
	require.NoError(f, err)
	good := strip([]*symbol.Matrix{m}, 4)
	f.Add(good.Pix, good.Rect.Dx())
	f.Add([]byte{0, 255, 0, 0, 0, 255, 0}, 7)
	f.Fuzz(func(t *testing.T, pix []byte, wide int) {
		if wide < 1 || wide > 2000 || len(pix) > 1<<18 {
			return
		}
		high := len(pix) / wide
		for _, text := range scan.Read(&image.Gray{Pix: pix, Stride: wide, Rect: image.Rect(0, 0, wide, high)}).Texts {
			if strings.Trim(text, alphabet) != "" || text == "" {
				t.Fatalf("%q", text)
			}
		}
	})
}
