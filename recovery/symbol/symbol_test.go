package symbol

import (
	"image"
	"image/color"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
	"github.com/makiuchi-d/gozxing/qrcode/decoder"
	"github.com/makiuchi-d/gozxing/qrcode/encoder"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const alphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"

// random is a text of so many characters.
func random(r *rand.Rand, n int) string {
	b := []byte("STOPLEAF:")
	for len(b) < n {
		b = append(b, alphabet[r.IntN(len(alphabet))])
	}
	return string(b[:n])
}

// picture is a matrix at four dots a module, with its quiet zone.
func picture(m *Matrix) image.Image {
	n := 4 * (m.Size + 2*Quiet)
	img := image.NewGray(image.Rect(0, 0, n, n))
	for y := range n {
		for x := range n {
			mx, my := x/4-Quiet, y/4-Quiet
			if mx < 0 || my < 0 || mx >= m.Size || my >= m.Size || !m.Dark(mx, my) {
				img.SetGray(x, y, color.Gray{Y: 255})
			}
		}
	}
	return img
}

// The reader is the library gozxing, a translation of ZXing.
func TestReadBack(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{9, 20, 77, 250, 600, 1000, 1251, 1352, 2000, 4296} {
		text := random(r, n)
		m, err := Draw(text, 177)
		require.NoError(t, err)
		assert.Equal(t, 17+4*m.Version, m.Size)
		bitmap, err := gozxing.NewBinaryBitmapFromImage(picture(m))
		require.NoError(t, err)
		got, err := qrcode.NewQRCodeReader().Decode(bitmap, map[gozxing.DecodeHintType]interface{}{gozxing.DecodeHintType_PURE_BARCODE: true})
		require.NoError(t, err, "%d characters, version %d", n, m.Version)
		assert.Equal(t, text, got.GetText())
	}
}

// Capacities of the alphanumeric mode at level L from ISO/IEC 18004, table 7 (from
// memory): versions 1, 10, 20, 21, 27 and 40.
func TestRoom(t *testing.T) {
	for most, want := range map[int]int{20: 0, 21: 25, 57: 395, 97: 1249, 101: 1352, 104: 1352, 125: 2132, 177: 4296, 999: 4296} {
		assert.Equal(t, want, Room(most), "%d modules", most)
	}
	for _, most := range []int{21, 45, 57, 101, 177} {
		m, err := Draw(strings.Repeat("A", Room(most)), most)
		require.NoError(t, err)
		assert.Equal(t, "L", m.Level)
		_, err = Draw(strings.Repeat("A", Room(most)+1), most)
		assert.ErrorContains(t, err, "do not fit")
	}
	_, err := Draw("stopleaf", 177)
	assert.Error(t, err, "small letters are not of the mode")
}

// Level M holds 16 characters less in version 5: 122 of 154 (table 7, from memory).
func TestLevel(t *testing.T) {
	m, err := Draw(strings.Repeat("A", 122), 37)
	require.NoError(t, err)
	assert.Equal(t, "M", m.Level)
	m, err = Draw(strings.Repeat("A", 123), 37)
	require.NoError(t, err)
	assert.Equal(t, "L", m.Level)
	m, err = Draw(strings.Repeat("A", 123), 41)
	require.NoError(t, err)
	assert.Equal(t, "M", m.Level, "level M comes before a smaller code")
	m, err = Between("A", 57, 177)
	require.NoError(t, err)
	assert.Equal(t, 57, m.Size)
}

// The same code, module for module, as ZXing's encoder draws at the version that ours
// chose: so the mask is the one that the standard's rules choose.
func TestAgainstEncoder(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	agree, all := 0, 0
	for range 40 {
		text := random(r, 20+r.IntN(1200))
		m, err := Draw(text, 101)
		require.NoError(t, err)
		ec := map[string]decoder.ErrorCorrectionLevel{"L": decoder.ErrorCorrectionLevel_L, "M": decoder.ErrorCorrectionLevel_M}[m.Level]
		code, err := encoder.Encoder_encode(text, ec, map[gozxing.EncodeHintType]interface{}{gozxing.EncodeHintType_QR_VERSION: m.Version})
		require.NoError(t, err)
		require.Equal(t, m.Size, code.GetMatrix().GetWidth())
		same := true
		for y := range m.Size {
			for x := range m.Size {
				same = same && m.Dark(x, y) == (code.GetMatrix().Get(x, y) == 1)
			}
		}
		all++
		if same {
			agree++
		}
	}
	assert.Equal(t, all, agree)
}

func BenchmarkDraw(b *testing.B) {
	text := random(rand.New(rand.NewPCG(5, 6)), 1251)
	for b.Loop() {
		if _, err := Draw(text, 104); err != nil {
			b.Fatal(err)
		}
	}
}
