package layout

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// onPage is a page of 100 by 80 mm with a margin of 5.
func onPage(items ...Item) []string {
	return Check(&Page{W: Mm(100), H: Mm(80), Margin: Mm(5), Items: items})
}

func says(x, y float64, s string, cap Um) *Text {
	st := style{cap: cap}
	return &Text{X: Mm(x), Y: Mm(y), S: s, Cap: cap, W: width(s, st)}
}

func lineOf(kind, of string, w Um, mm ...float64) *Path {
	var pts []Point
	for i := 0; i+1 < len(mm); i += 2 {
		pts = append(pts, Point{Mm(mm[i]), Mm(mm[i+1])})
	}
	return &Path{Segs: segsOf(pts, false), Stroke: Stroke{Width: w}, Kind: kind, Of: of}
}

func boxOf(kind string, w Um, fill *Grey, x, y, wide, high float64) *Path {
	p := &pen{}
	return p.rect(kind, w, fill, Rect{Mm(x), Mm(y), Mm(wide), Mm(high)})
}

func pictureAt(alt string, x, y, w, h float64) *Image {
	return &Image{Rect: Rect{Mm(x), Mm(y), Mm(w), Mm(h)}, Alt: alt}
}

func used(t *Text) *Text { t.Used = true; return t }
func apart(t *Text, space int64) *Text {
	t.Space = space
	t.W = width(t.S, style{cap: t.Cap, space: space})
	return t
}
func turned(t *Text) *Text { t.Turn = 90; return t }

func ring(of string, x, y, r float64) *Path {
	p := &pen{of: of}
	return p.circle("balloon", Point{Mm(x), Mm(y)}, Mm(r), 350, grey(White))
}

// bent is a filled shape about a bay that is open to the left.
func bent(fill *Grey) *Path {
	var pts []Point
	for _, p := range [][2]float64{{15, 10}, {50, 10}, {50, 40}, {15, 40}, {15, 28}, {40, 28}, {40, 12}, {15, 12}} {
		pts = append(pts, Point{Mm(p[0]), Mm(p[1])})
	}
	return (&pen{}).polygon("outline", 0, fill, pts...)
}

// Each kind of fault is found, and what comes near it is not taken for one.
func TestCheckFinds(t *testing.T) {
	clip := Rect{Mm(10), Mm(10), Mm(20), Mm(20)}
	for name, c := range map[string]struct {
		items []Item
		want  string // "" is a page without fault
	}{
		"nothing": {nil, ""},
		"text":    {[]Item{says(20, 20, "Key", 2500)}, ""},

		"text past the right margin":   {[]Item{says(93, 20, "Key", 2500)}, `text "Key" reaches outside the margin`},
		"text at the right margin":     {[]Item{says(95-width("Key", style{cap: 2500}).Mm(), 20, "Key", 2500)}, ""},
		"text over the top margin":     {[]Item{says(20, 7, "Key", 2500)}, `text "Key" reaches outside the margin`},
		"text under the top margin":    {[]Item{says(20, 7.8, "Kex", 2500)}, ""},
		"descender under the foot":     {[]Item{says(20, 74.8, "Kgy", 2500)}, `text "Kgy" reaches outside the margin`},
		"no descender at the foot":     {[]Item{says(20, 74.8, "Kex", 2500)}, ""},
		"accent over the top margin":   {[]Item{says(20, 7.8, "É", 2500)}, `text "É" reaches outside the margin`},
		"turned text over the top":     {[]Item{turned(says(20, 9, "Key light", 2500))}, `text "Key light" reaches outside the margin`},
		"turned text inside":           {[]Item{turned(says(20, 30, "Key light", 2500))}, ""},
		"line past the margin":         {[]Item{lineOf("wall", "room", 500, 10, 10, 96, 10)}, "wall room reaches outside the margin"},
		"half a line past the margin":  {[]Item{lineOf("wall", "room", 500, 10, 5, 90, 5)}, "wall room reaches outside the margin"},
		"line inside by half a line":   {[]Item{lineOf("wall", "room", 500, 10, 5.25, 90, 5.25)}, ""},
		"line cut by its group":        {[]Item{&Group{Clip: &clip, Items: []Item{lineOf("aim", "light 1", 250, 20, 20, 200, 20)}}}, ""},
		"line not cut by its group":    {[]Item{&Group{Items: []Item{lineOf("aim", "light 1", 250, 20, 20, 200, 20)}}}, "aim light 1 reaches outside the margin"},
		"picture past the margin":      {[]Item{pictureAt("set", 80, 10, 16, 10)}, `picture "set" reaches outside the margin`},
		"picture at the margin":        {[]Item{pictureAt("set", 79, 10, 16, 10)}, ""},
		"shape past the margin":        {[]Item{boxOf("outline", 350, nil, 2, 10, 10, 10)}, "outline  reaches outside the margin"},
		"filled shape past the margin": {[]Item{boxOf("tint", 0, grey(Tint), 2, 10, 10, 10)}, "tint  reaches outside the margin"},

		"type under the smallest":      {[]Item{says(20, 20, "x", 1700)}, `text "x" is 1.7 mm high, under 1.8`},
		"smallest type":                {[]Item{says(20, 20, "x", 1800)}, ""},
		"used type under its smallest": {[]Item{used(says(20, 20, "x", 2400))}, `text "x" is 2.4 mm high, under 2.5`},
		"smallest used type":           {[]Item{used(says(20, 20, "x", 2500))}, ""},
		"small type inside a group":    {[]Item{&Group{Items: []Item{&Group{Items: []Item{says(20, 20, "x", 1700)}}}}}, `text "x" is 1.7 mm high, under 1.8`},

		"text over text":                 {[]Item{says(20, 20, "Key", 2500), says(22, 21, "Hair", 2500)}, `text "Key" touches text "Hair"`},
		"text under text":                {[]Item{says(20, 20, "Key", 2500), says(20, 24, "Hair", 2500)}, ""},
		"text beside text":               {[]Item{says(20, 20, "Key", 2500), says(20.1+width("Key", style{cap: 2500}).Mm(), 20, "Hair", 2500)}, ""},
		"text over text in a group":      {[]Item{says(20, 20, "Key", 2500), &Group{Items: []Item{says(22, 21, "Hair", 2500)}}}, `text "Key" touches text "Hair"`},
		"descender into capital":         {[]Item{says(20, 20, "ggg", 2500), says(20, 23, "HHH", 2500)}, `text "ggg" touches text "HHH"`},
		"text over turned text":          {[]Item{turned(says(25, 30, "upward", 2500)), says(20, 22, "across it", 2500)}, `text "upward" touches text "across it"`},
		"text beside turned text":        {[]Item{turned(says(25, 30, "upward", 2500)), says(27, 22, "beside", 2500)}, ""},
		"text over a picture":            {[]Item{pictureAt("set", 10, 10, 30, 30), says(20, 20, "Key", 2500)}, `text "Key" touches picture "set"`},
		"text beside a picture":          {[]Item{pictureAt("set", 10, 10, 30, 30), says(41, 20, "Key", 2500)}, ""},
		"line through text":              {[]Item{lineOf("aim", "light 1", 250, 10, 19, 40, 19), says(20, 20, "Key", 2500)}, `text "Key" touches aim light 1`},
		"line close under text":          {[]Item{lineOf("rule", "", 180, 10, 20.3, 40, 20.3), says(20, 20, "Kex", 2500)}, ""},
		"line through a descender":       {[]Item{lineOf("rule", "", 180, 10, 20.4, 40, 20.4), says(20, 20, "gyp", 2500)}, `text "gyp" touches rule `},
		"line between words apart":       {[]Item{lineOf("wall", "", 250, 25, 10, 25, 40), apart(says(20, 20, "f/8 +0.4", 2500), 1000)}, ""},
		"line between words":             {[]Item{lineOf("wall", "", 250, 25, 10, 25, 40), says(20, 20, "f/8 +0.4", 2500)}, `text "f/8 +0.4" touches wall `},
		"line through words apart":       {[]Item{lineOf("wall", "", 250, 33, 10, 33, 40), apart(says(20, 20, "f/8 +0.4", 2500), 1000)}, `text "f/8 +0.4" touches wall `},
		"slant line past text":           {[]Item{lineOf("aim", "light 1", 250, 10, 10, 19, 40), says(20, 20, "Key", 2500)}, ""},
		"slant line into text":           {[]Item{lineOf("aim", "light 1", 250, 10, 10, 26, 26), says(20, 20, "Key", 2500)}, `text "Key" touches aim light 1`},
		"half a thick line into text":    {[]Item{lineOf("frame", "", 1500, 10, 20.6, 40, 20.6), says(20, 20, "Kex", 2500)}, `text "Kex" touches frame `},
		"text in a circle":               {[]Item{(&pen{}).circle("balloon", Point{Mm(21), Mm(19)}, Mm(3), 350, grey(White)), says(20.3, 20, "1", 2500)}, ""},
		"text on a circle":               {[]Item{(&pen{}).circle("balloon", Point{Mm(21), Mm(19)}, Mm(1), 350, grey(White)), says(20, 20, "12", 2500)}, `text "12" touches balloon `},
		"text on the tint":               {[]Item{boxOf("tint", 0, grey(Tint), 10, 15, 40, 10), says(20, 20, "Key", 2500)}, ""},
		"text on a dark shape":           {[]Item{boxOf("outline", 0, grey(120), 10, 15, 40, 10), says(20, 20, "Key", 2500)}, `text "Key" stands on dark outline `},
		"text beside a dark shape":       {[]Item{boxOf("outline", 0, grey(Black), 10, 15, 9, 10), says(20, 20, "Key", 2500)}, ""},
		"text under a white shape":       {[]Item{says(20, 20, "Key", 2500), boxOf("outline", 0, grey(White), 10, 15, 40, 10)}, `text "Key" is hidden under outline `},
		"its end under a white shape":    {[]Item{says(20, 20, "Key", 2500), boxOf("outline", 0, grey(White), 23, 15, 40, 10)}, `text "Key" is hidden under outline `},
		"text under the tint":            {[]Item{says(20, 20, "Key", 2500), boxOf("tint", 0, grey(Tint), 10, 15, 40, 10)}, `text "Key" is hidden under tint `},
		"text beside a white shape":      {[]Item{says(20, 20, "Key", 2500), boxOf("outline", 0, grey(White), 10, 15, 10, 10)}, ""},
		"text under an open shape":       {[]Item{says(20, 20, "Key", 2500), boxOf("outline", 0, nil, 10, 15, 40, 10)}, ""},
		"text inside the bend of a fill": {[]Item{says(20, 20, "Key", 2500), bent(grey(White))}, ""},
		"descender under a white shape":  {[]Item{says(20, 20, "gyp", 2500), boxOf("outline", 0, grey(White), 10, 20.2, 40, 10)}, `text "gyp" is hidden under outline `},
		"no descender there":             {[]Item{says(20, 20, "Kex", 2500), boxOf("outline", 0, grey(White), 10, 20.2, 40, 10)}, ""},
		"text under a white balloon":     {[]Item{says(20, 20, "1", 2500), ring("light 1", 21, 19, 6)}, `text "1" is hidden under balloon light 1`},
		"white shape cut by its group":   {[]Item{says(32, 20, "Key", 2500), &Group{Clip: &clip, Items: []Item{boxOf("outline", 0, grey(White), 10, 10, 70, 15)}}}, ""},
		"white shape larger than its group": {[]Item{says(15, 20, "Key", 2500), &Group{Clip: &clip, Items: []Item{boxOf("outline", 0, grey(White), 6, 6, 70, 60)}}},
			`text "Key" is hidden under outline `},
		"text cut off by its group": {[]Item{&Group{Clip: &clip, Items: []Item{says(28, 20, "Key", 2500)}}}, `text "Key" is cut off`},
		"text inside its group":     {[]Item{&Group{Clip: &clip, Items: []Item{says(20, 20, "Key", 2500)}}}, ""},
		"picture over text":         {[]Item{says(20, 20, "Key", 2500), pictureAt("set", 10, 10, 30, 30)}, `text "Key" touches picture "set"`},

		"picture over picture":   {[]Item{pictureAt("a", 10, 10, 30, 30), pictureAt("b", 39, 10, 30, 30)}, `picture "a" overlaps picture "b"`},
		"picture beside picture": {[]Item{pictureAt("a", 10, 10, 30, 30), pictureAt("b", 40, 10, 30, 30)}, ""},

		"balloon on balloon":        {[]Item{ring("light 1", 20, 20, 3), ring("light 2", 25.9, 20, 3)}, "balloon of light 1 touches balloon of light 2"},
		"balloon beside balloon":    {[]Item{ring("light 1", 20, 20, 3), ring("light 2", 26.4, 20, 3)}, ""},
		"balloons corner to corner": {[]Item{ring("light 1", 20, 20, 3), ring("light 2", 24.6, 24.6, 3)}, ""},
		"leader through a balloon":  {[]Item{ring("light 1", 20, 20, 3), lineOf("leader", "light 2", 250, 10, 10, 40, 31)}, "leader of light 2 runs through balloon of light 1"},
		"leader from a balloon":     {[]Item{ring("light 1", 20, 20, 3), lineOf("leader", "light 1", 250, 23, 20, 40, 20)}, ""},

		"leader across leader":  {[]Item{lineOf("leader", "light 1", 250, 10, 10, 40, 40), lineOf("leader", "light 2", 250, 10, 40, 40, 10)}, "leader of light 1 crosses leader of light 2"},
		"leader beside leader":  {[]Item{lineOf("leader", "light 1", 250, 10, 10, 40, 40), lineOf("leader", "light 2", 250, 10, 20, 30, 40)}, ""},
		"leaders to one point":  {[]Item{lineOf("leader", "light 1", 250, 10, 10, 40, 40), lineOf("leader", "light 2", 250, 10, 40, 40, 40)}, ""},
		"leader across an aim":  {[]Item{lineOf("leader", "light 1", 250, 10, 10, 40, 40), lineOf("aim", "light 2", 250, 10, 40, 40, 10)}, ""},
		"leader on to a leader": {[]Item{lineOf("leader", "light 1", 250, 10, 10, 40, 40), lineOf("leader", "light 2", 250, 10, 40, 25, 25)}, "leader of light 1 crosses leader of light 2"},
	} {
		found := onPage(c.items...)
		if c.want == "" {
			assert.Empty(t, found, name)
			continue
		}
		assert.Contains(t, found, c.want, name)
	}
}

func TestCheckFindsAllAtOnce(t *testing.T) {
	found := onPage(says(93, 20, "one", 1700), says(93, 40, "two", 2500), lineOf("wall", "room", 500, 1, 50, 40, 50))
	assert.Len(t, found, 4)
}
