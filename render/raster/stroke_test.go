package raster

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"stopleaf/layout"
	"stopleaf/render/internal/sample"
)

// stroked draws a path on 40 x 40 mm, ten pixels a millimetre, and gives the
// ink in square millimetres.
func stroked(p *layout.Path) (float64, *canvas) {
	c := newCanvas(400, 400, 0.01, false, newAlbum())
	c.path(p)
	return ink(c) / 100, c
}

func closed(p *layout.Path) *layout.Path {
	p.Segs = append(p.Segs, layout.Seg{Kind: layout.Close})
	return p
}

func styled(p *layout.Path, round bool, dash ...layout.Um) *layout.Path {
	p.Stroke.Round, p.Stroke.Dash = round, dash
	return p
}

// The ink of a stroke, from plane geometry. What a mitre adds at the outside of
// a corner is what the two sides share at the inside, so that a mitred line
// covers its length times its width.
func TestStrokes(t *testing.T) {
	const disc = math.Pi / 4 // of a line 1 mm wide
	for name, k := range map[string]struct {
		path *layout.Path
		want float64
	}{
		"a straight line":                 {sample.Line(1000, 5000, 5000, 25000, 5000), 20},
		"aslant":                          {sample.Line(1000, 5000, 5000, 17000, 21000), 20},
		"with round ends":                 {styled(sample.Line(1000, 5000, 5000, 25000, 5000), true), 20 + disc},
		"a square corner":                 {sample.Line(1000, 5000, 5000, 25000, 5000, 25000, 15000), 30},
		"the other way":                   {sample.Line(1000, 25000, 15000, 25000, 5000, 5000, 5000), 30},
		"a round corner":                  {styled(sample.Line(1000, 5000, 5000, 25000, 5000, 25000, 15000), true), 20 + 10 - 0.25 + disc/4 + disc},
		"a closed square":                 {closed(sample.Line(1000, 5000, 5000, 25000, 5000, 25000, 25000, 5000, 25000)), 80},
		"a corner of 45 degrees, mitred":  {sample.Line(1000, 5000, 25000, 25000, 25000, 11000, 11000), 20 + math.Hypot(14, 14)},
		"a dot":                           {styled(sample.Line(1000, 5000, 5000, 5000, 5000), true), disc},
		"a flat dot is nothing":           {sample.Line(1000, 5000, 5000, 5000, 5000), 0},
		"there and back, round":           {styled(sample.Line(1000, 5000, 5000, 25000, 5000, 15000, 5000), true), 20 + disc},
		"dashes of 3 and gaps of 1":       {styled(sample.Line(1000, 5000, 5000, 25000, 5000), false, 3000, 1000), 15},
		"three lengths go round twice":    {styled(sample.Line(1000, 5000, 5000, 25000, 5000), false, 3000, 1000, 1000), 2 * (3 + 1 + 1)},
		"round dots":                      {styled(sample.Line(1000, 5000, 5000, 25000, 5000), true, 0, 4000), 5 * disc},
		"a dash round a corner":           {styled(sample.Line(1000, 5000, 5000, 25000, 5000, 25000, 15000), false, 25000, 9000), 25},
		"one dash over the start":         {styled(closed(sample.Line(1000, 5000, 5000, 15000, 5000, 15000, 15000, 5000, 15000)), false, 5000, 2000), 6 * 5},
		"a dash longer than a closed run": {styled(closed(sample.Line(1000, 5000, 5000, 15000, 5000, 15000, 15000, 5000, 15000)), false, 90000, 2000), 40},
	} {
		got, _ := stroked(k.path)
		assert.InDelta(t, k.want, got, 0.08, name)
	}
}

// A corner too sharp for a mitre is cut off: no ink beyond half the width.
func TestMitreLimit(t *testing.T) {
	_, c := stroked(sample.Line(1000, 5000, 5000, 30000, 5000, 5000, 7000))
	at := func(x, y int) byte { return c.pix[y*c.stride+x] }
	assert.Zero(t, at(299, 50))
	assert.Equal(t, byte(255), at(306, 50))
	_, c = stroked(sample.Line(1000, 5000, 5000, 30000, 5000, 10000, 25000))
	assert.Zero(t, at(306, 46), "45 degrees are mitred")
}
