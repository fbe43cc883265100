package layout

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/setup"
)

func TestGlyphsNameTheirPlace(t *testing.T) {
	s, problems := setup.Parse("x.yaml", []byte("title: 花 and Ångström\nlights:\n  - {name: Key, role: key, note: \"sun ☀ left, Ø ½ ≥\"}\n"), setup.Options{})
	require.NotNil(t, s, "%v", problems)
	var got []string
	for _, p := range Glyphs(s) {
		got = append(got, p.Pos.String()+" "+p.Message)
	}
	assert.Equal(t, []string{
		`x.yaml:1:1 the pages cannot show "花" and print a box in its place`,
		`x.yaml:3:28 the pages cannot show "☀" and print a box in its place`,
	}, got)
}
