package symbol

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"rsc.io/qr/coding"
	"rsc.io/qr/gf256"
)

// sure are the modules of a code as a reader sees them that is sure of each.
func sure(m *Matrix) []float32 {
	out := make([]float32, m.Size*m.Size)
	for i := range out {
		out[i] = -1
		if m.dark[i] {
			out[i] = 1
		}
	}
	return out
}

func TestRead(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for _, n := range []int{9, 20, 33, 77, 250, 600, 1000, 1251, 1352, 2000, 4296} {
		text := random(r, n)
		m, err := Draw(text, 177)
		require.NoError(t, err)
		got, err := Read(sure(m), m.Size)
		require.NoError(t, err, "%d characters, version %d", n, m.Version)
		assert.Equal(t, text, got)
	}
}

// Whatever 2e+f <= check allows is corrected (ISO/IEC 18004: e errors, f erasures);
// beyond it nothing is changed unless it becomes a word of the code. The encoder is
// that of rsc.io/qr/gf256.
func TestCorrect(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for range 3000 {
		check := 7 + r.IntN(24)
		data := 5 + r.IntN(120)
		block := make([]byte, data+check)
		for i := range data {
			block[i] = byte(r.Uint32())
		}
		gf256.NewRSEncoder(coding.Field, check).ECC(block[:data], block[data:])
		places := r.Perm(len(block))
		f := r.IntN(check + 1)
		e := (check - f) / 2
		bad := slices.Clone(block)
		for i, at := range places[:min(e+f, len(places))] {
			if i < f { // a lost one may be right
				bad[at] = byte(r.Uint32())
			} else {
				bad[at] ^= byte(1 + r.IntN(255))
			}
		}
		require.True(t, correct(bad, places[:f], check), "check %d, lost %d, wrong %d", check, f, e)
		require.Equal(t, block, bad)
	}
	wrong := 0
	for range 2000 {
		block := make([]byte, 60)
		for i := range 40 {
			block[i] = byte(r.Uint32())
		}
		gf256.NewRSEncoder(coding.Field, 20).ECC(block[:40], block[40:])
		bad := slices.Clone(block)
		for _, at := range r.Perm(60)[:14] {
			bad[at] ^= byte(1 + r.IntN(255))
		}
		before := slices.Clone(bad)
		if correct(bad, nil, 20) {
			wrong++
		} else {
			require.Equal(t, before, bad)
		}
	}
	assert.Less(t, wrong, 5)
}

// Codewords that are known to be unsure are given up: twice as many as can be wrong.
func TestReadUnsure(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	text := random(r, 900)
	m, err := Draw(text, 101)
	require.NoError(t, err)
	for _, unsure := range []bool{true, false} {
		modules := sure(m)
		for y := 30; y < 43; y++ { // a stain
			for x := 30; x < 43; x++ {
				modules[y*m.Size+x] = 2*float32(r.IntN(2)) - 1
				if unsure {
					modules[y*m.Size+x] *= 0.1
				}
			}
		}
		got, err := Read(modules, m.Size)
		if unsure {
			require.NoError(t, err)
			assert.Equal(t, text, got)
		}
	}
}

// Changed modules give the text or an error, and whatever the modules are nothing
// breaks.
func FuzzRead(f *testing.F) {
	m, err := Draw("STOPLEAF:0123456789ABCDEF", 177)
	require.NoError(f, err)
	f.Add([]byte{1, 2, 3})
	f.Fuzz(func(t *testing.T, data []byte) {
		modules := sure(m)
		for i, b := range data {
			modules[(i*31+int(b))%len(modules)] *= float32(b)/64 - 1
		}
		_, _ = Read(modules, m.Size)
		_, _ = Read(modules[:min(len(data), len(modules))], len(data))
	})
}
