package setup

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// number writes a figure so that nothing is lost.
func num(v float64) string { return fmt.Sprintf("%.12f", v) }

// where parses one light's place in a set with a camera and a background.
func where(t require.TestingT, place string) *Place {
	src := "title: T\ncamera: {distance: 3.3}\nbackground: {distance: 40}\nsubject: {face: 1.4}\nlights:\n  - {role: key, place: " + place + "}\n"
	s, problems := Parse("t.yaml", []byte(src), Options{NoPhotos: true})
	require.NotNil(t, s, "%s\n%v", src, problems)
	return s.Lights[0].Place
}

// TestPlacesRoundTrip writes one point in every form and reads the same point
// back from each.
func TestPlacesRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(0.05, 8).Draw(t, "x")
		side := rapid.SampledFrom([]string{"left", "right"}).Draw(t, "side")
		y := rapid.Float64Range(-8, 8).Draw(t, "y") + 0
		z := rapid.Float64Range(0, 4).Draw(t, "z")
		if side == "left" {
			x = -x
		}
		d := math.Hypot(x, y)
		deg := math.Abs(math.Atan2(x, y)) * 180 / math.Pi
		way, front := "front", y
		if y < 0 {
			way, front = "behind", -y
		}
		slant := math.Hypot(d, z-1.4)
		forms := []string{
			fmt.Sprintf("{angle: %s %s, distance: %s, height: %s}", num(deg), side, num(d), num(z)),
			fmt.Sprintf("\"%s %s, %s m, %s high\"", num(deg), side, num(d), num(z)),
			fmt.Sprintf("{%s: %s, %s: %s, height: %s}", side, num(math.Abs(x)), way, num(front), num(z)),
			fmt.Sprintf("{angle: %s %s, slant: %s, height: %s}", num(deg), side, num(slant), num(z)),
			fmt.Sprintf("{tape: {subject: %s, camera: %s}, side: %s, height: %s}", num(d), num(math.Hypot(x, y-3.3)), side, num(z)),
			fmt.Sprintf("{tape: {subject: %s, background: %s}, side: %s, height: %s}", num(d), num(y+40), side, num(z)),
			fmt.Sprintf("{tape: {subject: %s, background: %s, camera: %s}, side: %s, height: %s}", num(d), num(y+40), num(math.Hypot(x, y-3.3)), side, num(z)),
		}
		for _, form := range forms {
			p := where(t, form)
			// A tape nearly in line with its anchors leaves the point loose.
			slack := 1e-6
			if strings.Contains(form, "tape") {
				slack = 1e-4
			}
			require.InDelta(t, x, p.Right, slack, form)
			require.InDelta(t, y, p.Front, slack, form)
			require.InDelta(t, z, *p.Height, 1e-9, form)
			gotDeg, gotSide := p.Angle()
			require.InDelta(t, deg, gotDeg, 0.2)
			if gotSide != "" {
				require.Equal(t, side, gotSide)
			}
		}
	})
}

// TestClockAndAngle: each minute of the clock is half a degree.
func TestClockAndAngle(t *testing.T) {
	for h := 1; h <= 12; h++ {
		for m := 0; m < 60; m++ {
			deg, side, err := parseClock(fmt.Sprintf("%d:%02d", h, m))
			require.NoError(t, err)
			require.GreaterOrEqual(t, deg, 0.0)
			require.LessOrEqual(t, deg, 180.0)
			if deg == 180 {
				side = 1 // neither side: straight behind, at twelve
			}
			back := math.Mod(180+float64(-side)*deg+360, 360) // clockwise from twelve
			require.InDelta(t, math.Mod(float64(h)*30+float64(m)/2, 360), back, 1e-9, "%d:%02d", h, m)
		}
	}
	for text, want := range map[string]float64{"6": 0, "6:00": 0, "12": 180, "9 o'clock": -90, "3:00": 90, "7:30": -45, "4:30": 45} {
		deg, side, err := parseClock(text)
		require.NoError(t, err)
		if side != 0 {
			deg *= float64(side)
		}
		assert.Equal(t, want, deg, text)
	}
}

func TestLengthsRoundTrip(t *testing.T) {
	slack := map[Units]float64{Metres: 0.005, Centimetres: 0.005, Feet: 0.0254 / 4, Inches: 0.0254 / 4}
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(0, 99).Draw(t, "metres")
		for _, u := range []Units{Metres, Centimetres, Feet, Inches} {
			text := FormatLength(v, u)
			got, err := ParseLength(text, Metres)
			require.NoError(t, err, text)
			require.InDelta(t, v, got, slack[u]+1e-9, text)
			require.Equal(t, text, FormatLength(got, u))
			bare := strings.TrimSuffix(strings.TrimSuffix(text, " m"), " cm")
			if u == Metres || u == Centimetres {
				again, err := ParseLength(bare, u)
				require.NoError(t, err, bare)
				require.InDelta(t, got, again, 1e-12)
				comma, err := ParseLength(strings.Replace(bare, ".", ",", 1), u)
				require.NoError(t, err)
				require.InDelta(t, got, comma, 1e-12)
			}
		}
	})
}

// The international foot is 0.3048 m, the inch 0.0254 m, exactly
// (international yard and pound agreement, 1959).
func TestLengths(t *testing.T) {
	for text, want := range map[string]float64{
		"1.2 m": 1.2, "120 cm": 1.2, "1200mm": 1.2, "1,2": 1.2, "1.2": 1.2, "0": 0, ".5": 0.5,
		"4 ft 6 in": 1.3716, "4'6\"": 1.3716, "4' 6": 1.3716, "4′6″": 1.3716, "4ft6": 1.3716, "4 feet": 1.2192, "6\"": 0.1524,
		"6 1/2 in": 0.1651, "6½ in": 0.1651, "½ in": 0.0127, "4 ft 7½ in": 1.4097, "1 m 40 cm": 1.4, "2 metres": 2, "100 m": 100,
	} {
		got, err := ParseLength(text, Metres)
		require.NoError(t, err, text)
		assert.InDelta(t, want, got, 1e-12, text)
	}
	for _, u := range []struct {
		units Units
		want  float64
	}{{Metres, 2}, {Centimetres, 0.02}, {Feet, 0.6096}, {Inches, 0.0508}} {
		got, err := ParseLength("2", u.units)
		require.NoError(t, err)
		assert.InDelta(t, u.want, got, 1e-12)
	}
	for _, text := range []string{
		"", " ", "-1", "m", "1.2.3", "1e3", "0x10", "010", ".nan", "NaN", "inf", "101 m", "1 m 40", "2 m 6 ft", "4 ft 6 ft",
		"1 2", "4 in 6 ft", "1 m 2 cm 3 mm", "1/0 in", "3/2/1 in", "99999999999999999999 m", "1.", "six feet", "1 m high",
	} {
		got, err := ParseLength(text, Metres)
		assert.Error(t, err, "%q gave %v", text, got)
	}
}

func TestFormatLength(t *testing.T) {
	for _, c := range []struct {
		m    float64
		u    Units
		want string
	}{
		{1.4, Metres, "1.40 m"}, {1.4, Centimetres, "140 cm"}, {1.4, Feet, "4 ft 7 in"}, {1.4, Inches, "55 in"},
		{0, Metres, "0.00 m"}, {0, Feet, "0 ft"}, {0.0127, Inches, "½ in"}, {1.4097, Feet, "4 ft 7½ in"},
		{1.2180, Feet, "4 ft"}, {1.005, Metres, "1.01 m"}, {-1.4, Metres, "\u22121.40 m"}, {-0.001, Metres, "0.00 m"},
		{0.2, Feet, "8 in"}, {math.NaN(), Metres, ""}, {math.Inf(1), Feet, ""},
	} {
		assert.Equal(t, c.want, FormatLength(c.m, c.u), "%v %s", c.m, c.u)
	}
}

// TestFaultyTapeIsNamed puts a light by four tapes, lengthens one by more than
// the slack and expects that one to be named, and the place to stay near.
func TestFaultyTapeIsNamed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := [2]float64{rapid.Float64Range(-3, 3).Draw(t, "x"), rapid.Float64Range(-3, 3).Draw(t, "y")}
		corners := [][2]float64{{-4, -4}, {4, -4}, {4, 4}, {-4, 4}}
		wrong := rapid.IntRange(0, 3).Draw(t, "wrong")
		by := rapid.Float64Range(0.08, 0.4).Draw(t, "by")
		var tapes []anchor
		var names []string
		for i, c := range corners {
			r := math.Hypot(p[0]-c[0], p[1]-c[1])
			if i == wrong {
				r += by
			}
			tapes = append(tapes, anchor{x: c[0], y: c[1], r: r})
			names = append(names, fmt.Sprint(i))
		}
		best, _, _, fault := bestMeeting(tapes, names, 0)
		require.Nil(t, fault)
		require.Less(t, math.Hypot(best[0]-p[0], best[1]-p[1]), by)
		which, miss := oddTapes(best, tapes)
		require.Equal(t, []int{wrong}, which)
		require.InDelta(t, -by, miss[0], 0.02)
	})
}

// TestOrderOfLights: the order in the file changes numbers, never places.
func TestOrderOfLights(t *testing.T) {
	items := []string{
		"{name: A, role: key, place: \"55 left, 1.4 m, 2.15 high\"}",
		"{name: B, role: fill, delta: -1, place: {under: A, height: 1}}",
		"{name: C, role: hair, delta: -1, modifier: octabox 1.2, aim: D, place: {right: 1, behind: 1, height: 2, height to: lower edge}}",
		"{name: D, role: rim, delta: -1, place: {tape: {B: 1, C: 3}, side: left, height: 0.5}}",
	}
	read := func(order []int) map[string]Place {
		src := "title: T\nlights:\n"
		for _, i := range order {
			src += "  - " + items[i] + "\n"
		}
		s, problems := Parse("t.yaml", []byte(src), Options{})
		require.NotNil(t, s, "%v", problems)
		out := map[string]Place{}
		for _, l := range s.Lights {
			p := *l.Place
			h := *p.Height
			p.Height, p.Lower, p.Slant, p.Tapes = nil, nil, nil, nil
			out[l.Name+fmt.Sprintf(" %.9f", h)] = p
		}
		return out
	}
	want := read([]int{0, 1, 2, 3})
	rapid.Check(t, func(t *rapid.T) {
		require.Equal(t, want, read(rapid.Permutation([]int{0, 1, 2, 3}).Draw(t, "order")))
	})
}
