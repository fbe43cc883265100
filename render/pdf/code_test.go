package pdf

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/layout"
	"stopleaf/recovery/symbol"
)

// A code is one picture of a bit a dot, 0 for dark, wherever and however often it
// stands; ISO 32000-1, 8.9.3: a row begins on a byte, its first sample in the high bit.
func TestCodeIsAPictureOfItsModules(t *testing.T) {
	m, err := symbol.Draw("STOPLEAF:1:A TEXT OF NO MEANING", 60)
	require.NoError(t, err)
	c := &layout.Code{Rect: layout.Rect{X: 20000, Y: 30000, W: 30000, H: 30000}, Modules: m}
	again := *c
	again.X += 50000
	doc := &layout.Document{Pages: []layout.Page{{W: 210000, H: 297000, Items: []layout.Item{c, &again}}, {W: 210000, H: 297000, Items: []layout.Item{c}}}}
	var b bytes.Buffer
	require.NoError(t, WriteWith(&b, doc, Options{Plain: true}))
	_, after, found := bytes.Cut(b.Bytes(), []byte("/ColorSpace /DeviceGray /BitsPerComponent 1 /Length "))
	require.True(t, found)
	assert.NotContains(t, string(after), "/BitsPerComponent", "it is there once")
	assert.Equal(t, 3, bytes.Count(b.Bytes(), []byte(" Do Q")))
	_, bits, _ := bytes.Cut(after, []byte("stream\n"))
	const dots = 4 // a module
	n := dots * c.Side()
	for y := range n {
		for x := range n {
			bit := bits[y*((n+7)/8)+x/8] >> (7 - x%8) & 1
			require.Equal(t, c.Dark(x/dots, y/dots), bit == 0, "%d, %d", x, y)
		}
	}
}
