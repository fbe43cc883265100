package scan

import (
	"image"
	"testing"

	"github.com/makiuchi-d/gozxing/qrcode/decoder"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/recovery/symbol"
)

// The places of alignment patterns and the words of versions are those of gozxing, a
// translation of ZXing, whose tables are the standard's.
func TestVersions(t *testing.T) {
	for v := 1; v <= 40; v++ {
		want, err := decoder.Version_GetVersionForNumber(v)
		require.NoError(t, err)
		var centres []int
		for _, x := range symbol.Alignment(17 + 4*v) {
			centres = append(centres, int(x))
		}
		assert.Equal(t, want.GetAlignmentPatternCenters(), append([]int{}, centres...), "version %d", v)
		if v >= 7 {
			back, err := decoder.Version_decodeVersionInformation(versionWord(v))
			require.NoError(t, err)
			assert.Equal(t, v, back.GetVersionNumber())
		}
	}
}

// A projection found from the places that another gives is that one.
func TestProject(t *testing.T) {
	want := projection{3, 0.4, 120, -0.3, 3.2, 90, 0.0004, -0.0007, 1}
	var list []pair
	for _, p := range []point{{3, 4}, {90, 2}, {5, 80}, {88, 91}, {40, 45}} {
		list = append(list, pair{p, want.at(p.x, p.y)})
	}
	got, ok := project(list)
	require.True(t, ok)
	for _, p := range []point{{0, 0}, {50, 20}, {97, 97}, {120, -10}} {
		assert.InDelta(t, want.at(p.x, p.y).x, got.at(p.x, p.y).x, 1e-6)
		assert.InDelta(t, want.at(p.x, p.y).y, got.at(p.x, p.y).y, 1e-6)
	}
	_, ok = project(list[:3])
	assert.False(t, ok)
	_, ok = project([]pair{list[0], list[0], list[0], list[0]})
	assert.False(t, ok)
}

// Pictures in which nothing is, of every small size.
func TestEmpty(t *testing.T) {
	for w := range 40 {
		for _, h := range []int{0, 1, 2, 7, 30} {
			img := image.NewGray(image.Rect(0, 0, w, h))
			for i := range img.Pix {
				img.Pix[i] = uint8(i * 37)
			}
			assert.Empty(t, Read(img).Texts)
		}
	}
}
