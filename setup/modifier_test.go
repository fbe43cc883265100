package setup

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A forgotten comma before a grid, a diffuser or a gel changes nothing.
func TestModifiersWithoutCommas(t *testing.T) {
	for bare, commas := range map[string]string{
		"strip 0.3 x 1.2 grid 30":                        "strip 0.3 x 1.2, grid 30",
		"softbox grid 40":                                "softbox, grid 40",
		"octabox 1.2 inner and front diffuser grid 40":   "octabox 1.2, inner and front diffuser, grid 40",
		"octabox 1.2 front diffuser, gel half blue":      "octabox 1.2, front diffuser, gel half blue",
		"bowl 0.18 Grid":                                 "bowl 0.18, grid",
		"softbox 60 x 90 cm  inner diffuser gel quarter": "softbox 60 x 90 cm, inner diffuser, gel quarter",
		"fresnel gel half orange grid":                   "fresnel, gel half orange, grid",
	} {
		want := ParseModifier(commas, Metres)
		require.NotNil(t, want, commas)
		assert.Equal(t, want, ParseModifier(bare, Metres), bare)
	}
	for text, kind := range map[string]string{"cube front diffuser 0.6": "cube front diffuser", "cloud gel light 1": "cloud gel light"} {
		got := ParseModifier(text, Metres)
		require.NotNil(t, got)
		assert.Equal(t, kind, got.Kind, "of a kind that is not known nothing is parted")
		assert.Empty(t, got.Diffusers)
		assert.Nil(t, got.Gel)
	}
	for _, whole := range []string{"grid spot 0.2", "parabolic with a front 1.2", "window front", "window front and back", "gel"} {
		assert.Equal(t, []string{whole}, uncomma(whole))
	}
}
