package edit

import (
	"math"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stopleaf/internal/randomset"
	"stopleaf/setup"
)

// polar is a place by angle, side and distance along the floor.
func polar(deg float64, side int, d, height float64) setup.Place {
	sin, cos := math.Sincos(deg * math.Pi / 180)
	return setup.Place{Right: float64(side) * d * sin, Front: d * cos, Height: &height}
}

func square(right, front, height float64) setup.Place {
	return setup.Place{Right: right, Front: front, Height: &height}
}

// TestSetPlace holds the text of places written anew; what they should be is
// worked out by hand (3-4-5 triangles, the face at 1.5 m).
func TestSetPlace(t *testing.T) {
	lower := 1.8
	edge := square(-1, 1, 2)
	edge.Lower = &lower
	for name, c := range map[string]struct {
		was  string
		to   setup.Place
		want string
		note string
	}{
		"line, height":         {"55 left, 1.4 m, 2.15 high", polar(55, -1, 1.4, 2), "55 left, 1.4 m, 2.00 high", ""},
		"line, distance":       {"55 left, 1.4 m, 2.15 high", polar(55, -1, 1.6, 2.15), "55 left, 1.6 m, 2.15 high", ""},
		"line, side":           {"55 left, 1.4 m, 2.15 high", polar(55, 1, 1.4, 2.15), "55 right, 1.4 m, 2.15 high", ""},
		"line, nothing":        {"55 left,1.4 m ,  2.15 high", polar(55, -1, 1.4, 2.15), "55 left,1.4 m ,  2.15 high", ""},
		"line, commas":         {"55 left, 1,4 m, 2,15 high", polar(30, -1, 1.65, 2.15), "30 left, 1,65 m, 2,15 high", ""},
		"line, no height":      {"55 left, 1.4 m", setup.Place{Right: -2}, "90 left, 2.0 m", ""},
		"line, lower edge":     {"1 m left, 1 front, 1.5 to lower edge", edge, "1 m left, 1 front, 1.8 to lower edge", ""},
		"line, clock":          {"7:30, 1.4 m, 2 high", polar(90, -1, 1.4, 2), "9:00, 1.4 m, 2 high", ""},
		"line, clock by min":   {"7:30, 1.4 m, 2 high", polar(46, -1, 1.4, 2), "7:32, 1.4 m, 2 high", ""},
		"line, clock off":      {"7:30, 1.4 m, 2 high", polar(46.2, -1, 1.4, 2), "7:32, 1.4 m, 2 high", "the minute of the clock is 5 mm off the place"},
		"line, clock far":      {"7:30, 4 m, 2 high", polar(46.2, -1, 4, 2), "46.2 left, 4 m, 2 high", "no minute of the clock is within a centimetre of the place: it is written as an angle"},
		"line, lengths":        {"1.3 left, 0.9 behind, 1.2 high", square(0.4, 0.2, 1), "0.4 right, 0.2 front, 1.0 high", ""},
		"line, one length":     {"1.3 m left, 1.2 high", square(-1.3, 0.5, 1.2), "1.3 m left, 0.5 front, 1.2 high", ""},
		"line, feet":           {"4 ft 6 in left, 1 ft front, 7 ft high", square(-1.524, 0.3048, 2.1336), "5 ft left, 1 ft front, 7 ft high", ""},
		"line, under":          {"under Key, 1.1 high", square(3, 0, 1.2), "under Key, 1.2 high", ""},
		"line, under no more":  {"under Key, 1.1 high", square(0, -2, 1.1), "180, 2, 1.1 high", `it is no longer under "Key": the place is written by angle and distance`},
		"angle":                {"{angle: 55 left, distance: 1.4, height: 2.15}", polar(55, -1, 1.4, 2), "{angle: 55 left, distance: 1.4, height: 2.00}", ""},
		"angle moved":          {"{height: 2.15, distance: 1.4, angle: 55 left}", polar(30, 1, 2, 2.15), "{height: 2.15, distance: 2.0, angle: 30 right}", ""},
		"slant":                {"{angle: 90 left, slant: 1.6, height: 1.5}", square(-0.4, 0, 1.8), "{angle: 90 left, slant: 0.5, height: 1.8}", ""},
		"clock":                {"{clock: \"7:30\", distance: 1.4, height: 2}", polar(60, 1, 1.4, 2), "{clock: \"4:00\", distance: 1.4, height: 2}", ""},
		"clock to angle":       {"{clock: \"7:30\", distance: 4, height: 2}", polar(46.2, -1, 4, 2), "{angle: \"46.2 left\", distance: 4, height: 2}", "no minute of the clock is within a centimetre of the place: it is written as an angle"},
		"left and front":       {"{left: 1.2, front: 0.8, height: 1}", square(-1, 0.8, 1), "{left: 1.0, front: 0.8, height: 1}", ""},
		"left to right":        {"{left: 1.2, front: 0.8, height: 1}", square(1, -0.8, 1), "{right: 1.0, behind: 0.8, height: 1}", ""},
		"left to none":         {"{left: 1.2, front: 0.8, height: 1}", square(0, 0.8, 1), "{left: 0.0, front: 0.8, height: 1}", ""},
		"front added":          {"{left: 1.2, height: 1}", square(-1.2, 0.8, 1), "{left: 1.2, front: 0.8, height: 1}", ""},
		"lower edge":           {"{left: 1, front: 1, height: 1.5, height to: lower edge}", edge, "{left: 1, front: 1, height: 1.8, height to: lower edge}", ""},
		"tapes":                {"{tape: {subject: 1.2, camera: 2.6}, side: left, height: 1}", square(3, 0, 1), "{tape: {subject: 3.0, camera: 5.0}, side: right, height: 1}", ""},
		"tape from a wall":     {"{tape: {subject: 1.2, background: 2.6}, side: left}", setup.Place{Right: -4, Front: 3}, "{tape: {subject: 5.0, background: 5.0}, side: left}", ""},
		"tape from nowhere":    {"{tape: {subject: 1.2, Nobody: 2.6}, side: left, height: 1}", square(-2, 0, 1), "{angle: 90 left, distance: 2, height: 1}", "tapes no longer hold the place: it is written by angle and distance"},
		"tapes nearly in line": {"{tape: {subject: 1.2, camera: 2.8}, side: left}", setup.Place{Right: -0.01, Front: 1.2}, "{tape: {subject: 1.20004, camera: 2.80002}, side: left}", ""},
		"tapes from one spot":  {"{tape: {subject: 1.2, mark: 1.2}, side: left}", setup.Place{Front: -1}, "{angle: 180, distance: 1}", "tapes no longer hold the place: it is written by angle and distance"},
		"under":                {"{under: Key, height: 1.1}", square(3, 0, 1), "{under: Key, height: 1.0}", ""},
		"under no more":        {"{under: Key, height: 1.1}", square(2, 0, 1.1), "{angle: 90 right, distance: 2, height: 1.1}", `it is no longer under "Key": the place is written by angle and distance`},
		"none":                 {"", polar(30, 1, 2, 1.5), "{angle: 30 right, distance: 2, height: 1.5}", ""},
	} {
		t.Run(name, func(t *testing.T) {
			s, err := Open("a.yaml", []byte("a: 1\nplace: "+c.was+"   # here\n"))
			require.NoError(t, err)
			on := Floor{Units: "m", Face: 1.5, At: func(name string) (float64, float64, bool) {
				p, ok := map[string][2]float64{"subject": {0, 0}, "mark": {0, 0}, "camera": {0, 4}, "background": {0, -2}, "Key": {3, 0}}[name]
				return p[0], p[1], ok
			}}
			note, err := s.SetPlace(Path{"place"}, c.to, on)
			require.NoError(t, err)
			assert.Equal(t, c.note, note)
			got, _ := s.Bytes()
			again, err := Open("a.yaml", got)
			require.NoError(t, err)
			if text, ok := again.Text(Path{"place"}); ok {
				assert.Equal(t, c.want, text)
				return
			}
			assert.Contains(t, string(got), "place: "+c.want+" ")
		})
	}
}

// TestPlacesReadBack moves a light or a grip item of random setups somewhere else:
// package setup reads it there, everything else as before, and moved back nothing
// is different.
func TestPlacesReadBack(t *testing.T) {
	dir := t.TempDir()
	opt := setup.Options{NoPhotos: true}
	rapid.Check(t, func(t *rapid.T) {
		src := []byte(randomset.Setups(1, 8).Draw(t, "set").YAML())
		file := filepath.Join(dir, "r.yaml")
		was, problems := setup.Parse(file, src, opt)
		if was == nil {
			t.Skip(problems)
		}
		i := rapid.IntRange(0, len(was.Lights)-1).Draw(t, "light")
		l := &was.Lights[i]
		if l.Place == nil || l.Pair != nil && (l.Pair.Side == "L") == (l.Place.Right > 0) {
			t.Skip("no place, or the file speaks of the other one")
		}
		to := polar(float64(rapid.IntRange(5, 1750).Draw(t, "deg"))/10, rapid.SampledFrom([]int{-1, 1}).Draw(t, "side"), float64(rapid.IntRange(50, 4000).Draw(t, "mm"))/1000, float64(rapid.IntRange(100, 2500).Draw(t, "height"))/1000)
		if l.Pair != nil && to.Right*l.Place.Right <= 0 {
			to.Right = -to.Right
		}
		if l.Place.Height == nil {
			to.Height = nil
		}
		s, err := Open(file, src)
		if err != nil {
			t.Fatal(err)
		}
		item, ok := s.PathAt(l.Where.Item.Line, l.Where.Item.Col)
		if !ok {
			t.Fatalf("no item at %v", l.Where.Item)
		}
		side := ""
		if l.Pair != nil {
			side = l.Pair.Side
		}
		at := append(item, "place")
		if _, err := s.SetPlace(at, to, FloorOf(was, side)); err != nil {
			t.Fatal(err)
		}
		got, _ := s.Bytes()
		now, problems := setup.Parse(file, got, opt)
		if now == nil {
			t.Fatalf("%s\n%s", problems, got)
		}
		p := now.Lights[i].Place
		if p == nil || math.Hypot(p.Right-to.Right, p.Front-to.Front) > 0.0101 || p.Form != "clock" && math.Hypot(p.Right-to.Right, p.Front-to.Front) > 0.0031 {
			t.Fatalf("%v at %+v, not %+v, in\n%s", l.Name, p, to, got)
		}
		if to.Height != nil && math.Abs(*p.Height-*to.Height) > 0.0006 {
			t.Fatalf("%v at %v high, not %v", l.Name, *p.Height, *to.Height)
		}
	})
}

func TestRelativePaths(t *testing.T) {
	src := "gear: ../gear.yaml   # ours\nphotos:\n  - a.jpg\n  - {file: sub/b c.jpg, shows: set}\n  - {file: /abs.jpg}\n"
	dir := t.TempDir()
	s, err := Open("x", []byte(src))
	require.NoError(t, err)
	changed, err := s.RelativePaths(filepath.Join(dir, "in", "x.yaml"), filepath.Join(dir, "out", "deep", "y.yaml"))
	require.NoError(t, err)
	assert.Len(t, changed, 3)
	got, _ := s.Bytes()
	assert.Equal(t, "gear: ../../gear.yaml  # ours\nphotos:\n  - ../../in/a.jpg\n  - {file: ../../in/sub/b c.jpg, shows: set}\n  - {file: /abs.jpg}\n", string(got))
	_, err = s.RelativePaths(filepath.Join(dir, "in", "x.yaml"), filepath.Join(dir, "in", "y.yaml"))
	require.NoError(t, err)
	again, _ := s.Bytes()
	assert.Equal(t, got, again)
}
