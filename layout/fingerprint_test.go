package layout

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
)

// oneOfEach is a page with an item of each kind.
func oneOfEach() *Page {
	fill := Tint
	return &Page{W: 210000, H: 297000, Label: "B-014/1", Items: []Item{
		&Path{Segs: []Seg{{Kind: MoveTo, P: [3]Point{{1, 2}}}, {Kind: CubicTo, P: [3]Point{{3, 4}, {5, 6}, {7, 8}}}, {Kind: Close}},
			Stroke: Stroke{Width: 350, Dash: []Um{1000, 500}}, Fill: &fill},
		&Group{Clip: &Rect{1, 2, 3, 4}, Items: []Item{&Text{X: 10, Y: 20, S: "1.6 under", Cap: 2500}}},
		&Image{Rect: Rect{5, 6, 7, 8}, Format: "jpeg", Data: []byte("a picture"), Orientation: 1},
	}}
}

// Whatever changes what is seen changes the fingerprint; a link does not, nor
// what is only said of an item.
func TestFingerprintChangesWithWhatIsSeen(t *testing.T) {
	first := fingerprint(oneOfEach())
	assert.Regexp(t, `^[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}$`, first)
	seen := map[string]int{first: -1}
	for i, change := range []func(*Page, *Path, *Group, *Text, *Image){
		func(p *Page, _ *Path, _ *Group, _ *Text, _ *Image) { p.W++ },
		func(p *Page, _ *Path, _ *Group, _ *Text, _ *Image) { p.H++ },
		func(p *Page, _ *Path, _ *Group, _ *Text, _ *Image) { p.Label += "1" },
		func(p *Page, _ *Path, _ *Group, _ *Text, _ *Image) { p.Items = p.Items[:2] },
		func(p *Page, _ *Path, _ *Group, _ *Text, _ *Image) { p.Items[0], p.Items[1] = p.Items[1], p.Items[0] },
		func(_ *Page, v *Path, _ *Group, _ *Text, _ *Image) { v.Segs[0].P[0].X++ },
		func(_ *Page, v *Path, _ *Group, _ *Text, _ *Image) { v.Segs[1].P[2].Y-- },
		func(_ *Page, v *Path, _ *Group, _ *Text, _ *Image) { v.Segs[0].Kind = LineTo },
		func(_ *Page, v *Path, _ *Group, _ *Text, _ *Image) { v.Segs = v.Segs[:2] },
		func(_ *Page, v *Path, _ *Group, _ *Text, _ *Image) { v.Stroke.Width++ },
		func(_ *Page, v *Path, _ *Group, _ *Text, _ *Image) { v.Stroke.Dash = v.Stroke.Dash[:1] },
		func(_ *Page, v *Path, _ *Group, _ *Text, _ *Image) { v.Stroke.Grey++ },
		func(_ *Page, v *Path, _ *Group, _ *Text, _ *Image) { v.Stroke.Round = true },
		func(_ *Page, v *Path, _ *Group, _ *Text, _ *Image) { *v.Fill++ },
		func(_ *Page, v *Path, _ *Group, _ *Text, _ *Image) { v.Fill = nil },
		func(_ *Page, _ *Path, g *Group, _ *Text, _ *Image) { g.Clip.W++ },
		func(_ *Page, _ *Path, g *Group, _ *Text, _ *Image) { g.Clip = nil },
		func(p *Page, _ *Path, g *Group, v *Text, _ *Image) { g.Items = nil; p.Items = append(p.Items, v) },
		func(_ *Page, _ *Path, _ *Group, v *Text, _ *Image) { v.X++ },
		func(_ *Page, _ *Path, _ *Group, v *Text, _ *Image) { v.Y++ },
		func(_ *Page, _ *Path, _ *Group, v *Text, _ *Image) { v.S = "1.7 under" },
		func(_ *Page, _ *Path, _ *Group, v *Text, _ *Image) { v.Cap++ },
		func(_ *Page, _ *Path, _ *Group, v *Text, _ *Image) { v.Bold = true },
		func(_ *Page, _ *Path, _ *Group, v *Text, _ *Image) { v.Grey++ },
		func(_ *Page, _ *Path, _ *Group, v *Text, _ *Image) { v.Turn = 90 },
		func(_ *Page, _ *Path, _ *Group, v *Text, _ *Image) { v.Space++ },
		func(_ *Page, _ *Path, _ *Group, _ *Text, v *Image) { v.X++ },
		func(_ *Page, _ *Path, _ *Group, _ *Text, v *Image) { v.H++ },
		func(_ *Page, _ *Path, _ *Group, _ *Text, v *Image) { v.Orientation = 6 },
		func(_ *Page, _ *Path, _ *Group, _ *Text, v *Image) { v.Data = []byte("another") },
	} {
		p := oneOfEach()
		g := p.Items[1].(*Group)
		change(p, p.Items[0].(*Path), g, g.Items[0].(*Text), p.Items[2].(*Image))
		f := fingerprint(p)
		assert.NotContains(t, seen, f, "change %d", i)
		seen[f] = i
	}
	p := oneOfEach()
	g := p.Items[1].(*Group)
	g.Items = append(g.Items, &Link{Rect: Rect{1, 1, 1, 1}, To: "contents"})
	g.ID, g.Label, p.Title, p.Items[0].(*Path).Kind = "x", "y", "z", "aim"
	assert.Equal(t, first, fingerprint(p))
}

// Every field that is drawn is known to the fingerprint: a new one must be put in,
// or be named here as one that is not seen.
func TestFingerprintKnowsEveryField(t *testing.T) {
	for _, c := range []struct {
		of    any
		known []string
	}{
		{Path{}, []string{"Segs", "Stroke", "Fill", "Kind", "Of"}},
		{Stroke{}, []string{"Width", "Dash", "Grey", "Round"}},
		{Seg{}, []string{"Kind", "P"}},
		{Text{}, []string{"X", "Y", "S", "Cap", "Bold", "Grey", "Turn", "W", "Kind", "Of", "Used", "Space"}},
		{Image{}, []string{"Rect", "Format", "Data", "PxW", "PxH", "Channels", "Orientation", "Alt", "open", "made"}},
		{Group{}, []string{"ID", "Label", "Items", "Clip"}},
	} {
		kind := reflect.TypeOf(c.of)
		var fields []string
		for i := range kind.NumField() {
			fields = append(fields, kind.Field(i).Name)
		}
		assert.ElementsMatch(t, c.known, fields, kind.Name())
	}
}
