package text

import (
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// OutlineOp is a step of a glyph's outline.
type OutlineOp uint8

// The steps: a move, a line, a quadratic curve (control, end). Each contour is
// closed by the next move or the end.
const (
	OutlineMove OutlineOp = iota
	OutlineLine
	OutlineQuad
)

// OutlinePoint is a place in font units (UnitsPerEm to the em), x right, y down
// as on a page, the origin at the left end of the baseline.
type OutlinePoint struct{ X, Y float64 }

// OutlineSeg is one step; Quad uses both points, the others the first.
type OutlineSeg struct {
	Op OutlineOp
	P  [2]OutlinePoint
}

// UnitsPerEm is the size of the em in font units.
const UnitsPerEm = unitsPerEm

// outliner holds one face parsed; sfnt's buffer may be used by one at a time.
type outliner struct {
	once sync.Once
	mu   sync.Mutex
	font *sfnt.Font
	buf  sfnt.Buffer
}

var outliners [2]outliner

// Outline gives a rune's outline and its advance, both in font units. A rune
// that the fonts do not hold gives Box. The advance is the font's own; text is
// placed by Advance.
func Outline(r rune, bold bool) (segs []OutlineSeg, advance int) {
	if !Has(r) {
		r = Box
	}
	o := &outliners[face(bold)]
	o.once.Do(func() { o.font, _ = sfnt.Parse(Font(bold)) })
	o.mu.Lock()
	defer o.mu.Unlock()
	glyph, err := o.font.GlyphIndex(&o.buf, r)
	if err != nil {
		return nil, 0
	}
	em := fixed.I(unitsPerEm)
	adv, err := o.font.GlyphAdvance(&o.buf, glyph, em, font.HintingNone)
	if err != nil {
		return nil, 0
	}
	loaded, err := o.font.LoadGlyph(&o.buf, glyph, em, nil)
	if err != nil {
		return nil, adv.Round()
	}
	segs = make([]OutlineSeg, 0, len(loaded))
	for _, s := range loaded {
		segs = append(segs, outlineSeg(s))
	}
	return segs, adv.Round()
}

// outlineSeg translates one step. TrueType outlines have no cubic curves.
func outlineSeg(s sfnt.Segment) OutlineSeg {
	out := OutlineSeg{}
	switch s.Op {
	case sfnt.SegmentOpLineTo:
		out.Op = OutlineLine
	case sfnt.SegmentOpQuadTo:
		out.Op = OutlineQuad
	}
	for i := range out.P {
		out.P[i] = OutlinePoint{X: float64(s.Args[i].X) / 64, Y: float64(s.Args[i].Y) / 64}
	}
	return out
}
