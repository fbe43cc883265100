package layout

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// slab is a block of a fixed least height, 0 for one with nothing to say.
type slab struct {
	high    Um
	grows   bool
	limit   Um // 0: none
	at      *Rect
	touched *int
}

func (s slab) empty() bool     { return s.high == 0 }
func (s slab) least(Um) Um     { return s.high }
func (s slab) stretches() bool { return s.grows }
func (s slab) draw(_ *pen, r Rect) {
	if s.at != nil {
		*s.at = r
		*s.touched++
	}
}

// leaf is a box that holds one block.
func leaf(b block) box { return box{block: b, known: map[Um]Um{}, share: 1} }

func wide(b box, w Um) box         { b.width = w; return b }
func share(b box, s float64) box   { b.share = s; return b }
func named(b box, name string) box { b.name = name; return b }

type cappedSlab struct{ slab }

func (s cappedSlab) most(Um) Um { return s.limit }

func TestWidthsAreShared(t *testing.T) {
	full := slab{high: 10}
	row := box{across: true, gap: 2000, parts: []box{
		wide(leaf(full), Mm(40)), leaf(full), share(leaf(slab{}), 5), share(leaf(full), 3),
	}}
	// 100 mm less 40 and two gaps of 2 leaves 56: a quarter and three quarters.
	assert.Equal(t, []Um{40000, 14000, 0, 42000}, row.widths(Mm(100)))

	fixed := box{across: true, gap: 1000, parts: []box{wide(leaf(full), Mm(40)), wide(leaf(full), Mm(20))}}
	assert.Equal(t, []Um{40000, 59000}, fixed.widths(Mm(100)), "the last of fixed parts takes what is left")
	alone := box{across: true, gap: 1000, parts: []box{wide(leaf(slab{}), Mm(40)), wide(leaf(full), Mm(20))}}
	assert.Equal(t, []Um{0, 100000}, alone.widths(Mm(100)), "no gap beside an empty part")
}

func TestHeightsAreShared(t *testing.T) {
	column := func(parts ...box) *box { return &box{gap: 1000, parts: parts} }
	still := leaf(slab{high: 20000})
	grows := func(s float64) box { return share(leaf(slab{high: 10000, grows: true}), s) }
	upTo := func(limit Um) box {
		return leaf(cappedSlab{slab{high: 10000, grows: true, limit: limit}})
	}
	assert.Equal(t, []Um{20000, 20000}, column(still, still).heights(0, Mm(100)), "what does not stretch stays")
	assert.Equal(t, []Um{20000, 79000}, column(still, grows(1)).heights(0, Mm(100)))
	// 102 less 20 and one gap leaves 81 for both; each has 10, and 60 are spare: 1 to 2.
	assert.Equal(t, []Um{20000, 30000, 50000}, column(still, grows(1), grows(2)).heights(0, Mm(102)))
	// A part that can use no more leaves the rest to the other.
	assert.Equal(t, []Um{15000, 84000}, column(upTo(15000), grows(1)).heights(0, Mm(100)))
	assert.Equal(t, []Um{15000, 20000}, column(upTo(15000), upTo(20000)).heights(0, Mm(100)))
	assert.Equal(t, []Um{0, 100000}, column(leaf(slab{}), grows(1)).heights(0, Mm(100)), "no gap beside an empty part")
	assert.Equal(t, Um(41000), column(still, leaf(slab{}), still).least(0))
	assert.Equal(t, Um(0), column(leaf(slab{}), leaf(slab{})).least(0))
	assert.Equal(t, Um(30000), (&box{block: slab{high: 20000, grows: true}, known: map[Um]Um{}, min: 30000}).least(0))
}

// Whatever the tree, its blocks stand inside its box, apart by the gap, and each
// has at least what it needs.
func TestBoxesStandApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var rects []*Rect
		var leaves []slab
		drawn := 0
		var tree func(depth int) box
		tree = func(depth int) box {
			b := box{share: float64(rapid.IntRange(1, 3).Draw(t, "share")), gap: 1000}
			if depth == 0 || rapid.Bool().Draw(t, "leaf") {
				r := &Rect{}
				s := slab{high: Um(rapid.IntRange(0, 20).Draw(t, "high")) * 1000, grows: rapid.Bool().Draw(t, "grows"), at: r, touched: &drawn}
				if s.high > 0 {
					rects, leaves = append(rects, r), append(leaves, s)
				}
				b.block, b.known = s, map[Um]Um{}
				return b
			}
			b.across = rapid.Bool().Draw(t, "across")
			for range rapid.IntRange(1, 4).Draw(t, "n") {
				b.parts = append(b.parts, tree(depth-1))
			}
			return b
		}
		b := tree(3)
		page := Rect{5000, 7000, Mm(400), b.least(Mm(400)) + Um(rapid.IntRange(0, 50).Draw(t, "spare"))*1000}
		b.draw(&pen{}, page)
		require.Equal(t, len(rects), drawn, "each block is drawn once")
		for i, r := range rects {
			require.True(t, page.contains(*r), "%v is outside", *r)
			require.GreaterOrEqual(t, r.H, leaves[i].high)
			for _, o := range rects[i+1:] {
				require.False(t, r.grow(400).overlaps(o.grow(400)), "%v and %v", *r, *o)
			}
		}
	})
}

func TestWithoutAndHas(t *testing.T) {
	full := slab{high: 10}
	b := box{parts: []box{named(leaf(full), "photo"), {across: true, parts: []box{named(leaf(full), "plan"), named(leaf(slab{}), "notes")}}}}
	assert.True(t, b.has("plan"))
	assert.False(t, b.has("notes"), "it has nothing to say")
	assert.False(t, b.has("lights"))
	rest, gone := b.without("plan")
	require.NotNil(t, gone)
	assert.Equal(t, "plan", gone.name)
	assert.False(t, rest.has("plan"))
	assert.True(t, rest.has("photo"))
	assert.True(t, b.has("plan"), "the box itself is as it was")
	_, gone = b.without("lights")
	assert.Nil(t, gone)
}
