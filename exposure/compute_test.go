package exposure

import (
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func p(x float64) *float64 { return &x }

// portrait is a key, a card and a hair light before a canvas: an 85 mm lens
// held upright, the key at f/8 +0.4 and 55 degrees left, the face 20 degrees
// left.
func portrait() Input {
	face := Vec{0, 0, 1.55}
	sin, cos := math.Sincos(55 * math.Pi / 180)
	head := &Head{EnergyWs: p(400), Range: p(7)}
	return Input{
		ISO: p(200), ShutterS: p(math.Exp2(-23. / 3)), SyncS: p(math.Exp2(-23. / 3)),
		KeyAv: p(6.4), ApertureAv: p(19. / 3), AmbientAv: p(1), WidestAv: p(5. / 3),
		Bases: []Base{{"f/5.6", 5}, {"f/8", 6}, {"f/11", 7}},
		Lights: []Light{
			{Number: 1, Name: "Key", Role: "key", Source: Flash, At: &Vec{-1.4 * sin, 1.4 * cos, 2.15}, Aim: &face,
				Shape: Disc, Width: p(1.2), Height: p(1.2), Power: p(-1.8), Head: head},
			{Number: 2, Name: "Card", Role: "fill", Source: Bounce, Delta: -1.6, At: &Vec{0.9, 0.3, 1.3}, Aim: &face,
				Shape: Rectangle, Width: p(1), Height: p(1.5)},
			{Number: 3, Name: "Hair", Role: "hair", Source: Flash, Delta: -1.0667, At: &Vec{0.3365, -1.2557, 2.4},
				Aim: &Vec{0, 0, 1.7}, Shape: Rectangle, Width: p(0.3), Height: p(0.9), Power: p(-5), Head: head},
		},
		Camera:     &Camera{DistanceM: p(3.2), HeightM: p(1.4), FocalMM: p(85), FrameWMM: 24, FrameHMM: 36},
		FaceHeight: 1.55, TurnedDeg: -20, Background: &Background{DistanceM: 2.4},
	}
}

// The figures are worked by hand from the formulas beside each.
func TestPortraitFigures(t *testing.T) {
	n := Compute(portrait())
	near := func(want float64, got *float64, tol float64, what string) {
		t.Helper()
		if assert.NotNil(t, got, what) {
			assert.InDelta(t, want, *got, tol, what)
		}
	}
	near(-0.0667, n.Exposure.Placing, 5e-5, "placing: Av 19/3 - 6.4")
	near(0.0049216, n.Exposure.ShutterS, 5e-8, "1/200 is 2^(-23/3) s")
	assert.InDelta(t, 5.9333, n.Bases[1].CameraAv, 5e-5)
	assert.InDelta(t, 8, n.Bases[1].F, 1e-9)

	key := n.Lights[0]
	near(-1.1468, key.Place.RightM, 5e-5, "right")
	near(0.8030, key.Place.FrontM, 5e-5, "front")
	near(1.4, key.Place.DistanceM, 1e-9, "distance")
	near(55, key.Place.AngleDeg, 1e-9, "angle")
	assert.Equal(t, "left", *key.Place.Side)
	near(1.523, key.ThrowM, 5e-4, "throw: sqrt(1.4² + 0.6²)")
	near(-23.2, key.TiltDeg, 0.05, "tilt: atan(-0.6/1.4)")
	near(0.060, key.DriftM.Closer, 5e-4, "r²+d² falls by 2^0.1")
	near(0.062, key.DriftM.Further, 5e-4, "r²+d² rises by 2^0.1")
	near(43.0, key.LooksDeg.Width, 0.05, "2 atan(0.6/1.523)")
	near(43.0, key.LooksDeg.Height, 0.05, "2 atan(0.6/1.523)")
	near(0.14, key.Falloff.Cheek, 5e-3, "1.523 to 1.523 + 0.15 sin 35°")
	near(2.2, key.Falloff.Background, 5e-3, "1.523 to 3.455 m")

	assert.Equal(t, Target{Base: "f/8", Av: 6, F: 8, Tenths: "f/8", Third: "f/8", Decimal: "8.0"}, key.Targets[1])
	yes := true
	dial := key.Dials[1]
	near(87.06, dial.EnergyWs, 0.005, "400 x 2^-2.2")
	dial.EnergyWs = nil
	assert.Equal(t, DialAt{Base: "f/8", Stops: -2.2, Text: "1/8 +0.8", Possible: &yes}, dial)

	assert.Empty(t, n.Lights[1].Dials, "a bounce has no dial")
	assert.NotNil(t, n.Lights[1].Dials)
	assert.Nil(t, n.Lights[2].Falloff.Background, "a light behind the subject")

	near(3.031, n.Ratios.KeyToFill, 5e-4, "2^1.6")
	near(4.031, n.Ratios.LitToShadow, 5e-4, "2^1.6 + 1")
	assert.True(t, n.Ratios.LitToShadowEst, "the card stands 71 degrees off the lens")

	near(0.411, n.Together.Delta, 5e-4, "log2(1 + 2^-1.6)")
	near(6.811, n.Together.Av, 5e-4, "6.4 + 0.411")
	near(-0.04, n.Together.DomeToCamera, 5e-3, "weights 0.754 and 0.659")
	assert.False(t, n.Together.AllToCamera)

	near(8.2, n.BaseRange.HighAv, 1e-9, "6.4 + 1.8")
	near(4.4, n.BaseRange.LowAv, 1e-9, "6.4 + 5 - 7")
	assert.Equal(t, []string{"Key"}, n.BaseRange.HighBy)
	assert.Equal(t, []string{"Hair"}, n.BaseRange.LowBy)

	near(-5.4, n.Ambient.Delta, 1e-9, "1 - 6.4")
	assert.InDelta(t, -5, n.Ambient.At[1].Delta, 1e-9)
	near(0.00373, n.Ambient.At[1].HoldShutterS, 5e-6, "shutter x 2^-0.4")
	assert.False(t, *n.Ambient.At[1].SlowerThanSync)
	assert.True(t, *n.Ambient.At[2].SlowerThanSync, "2^0.6 longer than the sync")

	near(16.07, n.Camera.ViewDeg.Width, 5e-3, "2 atan(12/85)")
	near(23.91, n.Camera.ViewDeg.Height, 5e-3, "2 atan(18/85)")
	near(0.88, n.Camera.FrameM.AtSubject.Width, 5e-3, "24 x 3115/85")
	near(1.32, n.Camera.FrameM.AtSubject.Height, 5e-3, "36 x 3115/85")
	near(1.56, n.Camera.FrameM.AtBackground.Width, 5e-3, "24 x 5515/85")
	near(2.34, n.Camera.FrameM.AtBackground.Height, 5e-3, "36 x 5515/85")
	near(2.9165, n.Camera.DepthOfField[1].NearM, 5e-4, "N = 2^(5.9333/2), c = 43.27/1500 mm")
	near(3.5446, n.Camera.DepthOfField[1].FarM, 5e-4, "the same")
	assert.Nil(t, n.Camera.Magnification)
}

// Lighting ratio as encyclopaedias give it: 200 and 100 foot-candles, 1 stop,
// are 2:1 and, key and fill together over fill, 3:1; 800 and 200 are 5:1.
// "Ratio is twice the stops" is in circulation and wrong: 5:1 is 2.322 stops.
func TestRatios(t *testing.T) {
	for _, c := range []struct{ d, key, both, tol float64 }{
		{0, 1, 2, 1e-9}, {1. / 3, 1.260, 2.260, 5e-4}, {0.5, 1.414, 2.414, 5e-4}, {2. / 3, 1.587, 2.587, 5e-4},
		{1, 2, 3, 1e-9}, {1.5, 2.828, 3.828, 5e-4}, {1.585, 3, 4, 5e-4}, {2, 4, 5, 1e-9}, {2.322, 5, 6, 5e-4},
		{3, 8, 9, 1e-9}, {4, 16, 17, 1e-9},
	} {
		n := Compute(Input{Lights: []Light{{Role: "key"}, {Role: "fill", Delta: -c.d}}})
		assert.InDelta(t, c.key, *n.Ratios.KeyToFill, c.tol, "%v stops", c.d)
		assert.InDelta(t, c.both, *n.Ratios.LitToShadow, c.tol, "%v stops", c.d)
		assert.InDelta(t, math.Log2(1+math.Exp2(-c.d)), *n.Together.Delta, 1e-9)
		if c.d != 1 && c.d != 2 {
			assert.Greater(t, math.Abs(2*c.d-*n.Ratios.KeyToFill), 0.15, "the wrong rule at %v stops", c.d)
		}
	}
	assert.InDelta(t, 2.322, math.Log2(5), 5e-4, "5:1")
	assert.Nil(t, Compute(Input{Lights: []Light{{Role: "key"}}}).Ratios.KeyToFill)
}

func TestFillFromTheLensIsNoEstimate(t *testing.T) {
	in := portrait()
	in.Lights[1].At = &Vec{0.3, 2.5, 1.6}
	assert.False(t, Compute(in).Ratios.LitToShadowEst)
	in.Lights[1].At = nil
	assert.True(t, Compute(in).Ratios.LitToShadowEst, "a fill without a place")
}

// The cosine law of a flat receptor and the dome's (1 + cos θ)/2: on axis all,
// from the side half, from behind none.
func TestDomeToCamera(t *testing.T) {
	face := Vec{0, 0, 1.5}
	in := Input{FaceHeight: 1.5, Camera: &Camera{DistanceM: p(3), HeightM: p(1.5)}}
	for _, c := range []struct {
		at   Vec
		want float64
	}{{Vec{0, 2, 1.5}, 0}, {Vec{2, 0, 1.5}, -1}, {Vec{math.Sqrt(3), 1, 1.5}, math.Log2(0.75)}} {
		in.Lights = []Light{{Role: "key", At: &c.at, Aim: &face}}
		assert.InDelta(t, c.want, *Compute(in).Together.DomeToCamera, 1e-9)
	}
	in.Lights = []Light{{Role: "key", TowardCamera: true}}
	n := Compute(in)
	assert.InDelta(t, 0, *n.Together.DomeToCamera, 1e-9)
	assert.True(t, n.Together.AllToCamera)
	in.Lights = []Light{{Role: "key"}}
	assert.Nil(t, Compute(in).Together.DomeToCamera, "no place, no figure")
}

func TestFrontOverridesRole(t *testing.T) {
	yes, no := true, false
	n := Compute(Input{Lights: []Light{{Role: "key"}, {Role: "fill", Front: &no}, {Role: "eye", Delta: -1, Front: &yes}}})
	assert.InDelta(t, math.Log2(1.5), *n.Together.Delta, 1e-9)
}

// Published field-of-view table for 36 x 24 mm, focus at infinity, degrees.
func TestAngleOfViewTable(t *testing.T) {
	for _, c := range []struct{ f, across, tall float64 }{
		{12, 112.6, 90.0}, {18, 90.0, 67.4}, {24, 73.7, 53.1}, {35, 54.4, 37.8}, {50, 39.6, 27.0}, {85, 23.9, 16.1},
		{100, 20.4, 13.7}, {135, 15.2, 10.2},
	} {
		n := Compute(Input{Camera: &Camera{FocalMM: &c.f, FrameWMM: 36, FrameHMM: 24}})
		assert.InDelta(t, c.across, *n.Camera.ViewDeg.Width, 0.0501, "%v mm", c.f)
		assert.InDelta(t, c.tall, *n.Camera.ViewDeg.Height, 0.0501, "%v mm", c.f)
	}
}

// Hyperfocal distances: an encyclopaedia's worked example (50 mm, f/8,
// 0.03 mm: 10467 mm) and US Army subcourse SS0507, p. 58 (2 in, f/8, 0.002 in:
// 20.8 ft); depths computed from the same formulas, mm.
func TestDepthOfField(t *testing.T) {
	assert.InDelta(t, 10467, Hyperfocal(50, 8, 0.03), 0.5)
	assert.InDelta(t, 20.8, (Hyperfocal(2, 8, 0.002)-2)/12, 0.05)
	assert.InDelta(t, 3712.12, Hyperfocal(35, 11, 0.03)-35, 0.005)
	assert.InDelta(t, 15625, Hyperfocal(50, 8, 0.02)-50, 1e-9)
	for _, c := range []struct{ f, n, s, near, far float64 }{
		{50, 8, 3000, 2337.9, 4185.3}, {85, 8, 2500, 2314.3, 2718.1}, {85, 2.8, 2000, 1956.4, 2045.5},
		{100, 8, 1500, 1451.2, 1552.2},
	} {
		near, far := DepthOfField(c.f, c.n, 0.03, c.s)
		assert.InDelta(t, c.near, *near, 0.06)
		assert.InDelta(t, c.far, *far, 0.06)
	}
	near, far := DepthOfField(50, 8, 0.03, Hyperfocal(50, 8, 0.03))
	assert.InDelta(t, 5233, *near, 0.5, "near limit at H is H/2")
	assert.Nil(t, far)
}

// Circle of confusion is the diagonal over 1500: 0.02884 mm for 36 x 24.
func TestCloseUpGivesMagnification(t *testing.T) {
	in := Input{Bases: DefaultBases(nil), Camera: &Camera{DistanceM: p(0.3), FocalMM: p(100), FrameWMM: 36, FrameHMM: 24}}
	n := Compute(in)
	assert.InDelta(t, 0.5, *n.Camera.Magnification, 1e-9, "100/(300-100)")
	assert.InDelta(t, 1.16993, *n.Camera.LossStops, 5e-6, "2 log2 1.5")
	require.Len(t, n.Camera.DepthOfField, 3)
	for _, d := range n.Camera.DepthOfField {
		assert.Nil(t, d.NearM)
		assert.Nil(t, d.FarM)
	}
	in.Camera.DistanceM = p(0.6) // 1:5 itself
	n = Compute(in)
	assert.Nil(t, n.Camera.Magnification)
	assert.NotNil(t, n.Camera.DepthOfField[0].NearM)
	in.Camera.DistanceM = p(0.05)
	assert.Nil(t, Compute(in).Camera.FrameM.AtSubject.Width, "nearer than the lens is long")
}

func TestDialsSayWhatIsPossible(t *testing.T) {
	in := Input{KeyAv: p(6), Bases: []Base{{"a", 6}, {"b", 7}, {"c", 7.05}, {"d", 7.2}, {"e", 2}, {"f", 1}},
		Lights: []Light{{Source: Flash, Power: p(-1), Head: &Head{Range: p(5)}}}}
	type row struct {
		can  bool
		just bool
	}
	want := []row{{true, false}, {true, false}, {false, true}, {false, false}, {true, false}, {false, false}}
	for i, d := range Compute(in).Lights[0].Dials {
		assert.Equal(t, want[i], row{*d.Possible, d.Just}, d.Base)
	}
	in.Lights[0].Head = nil
	dials := Compute(in).Lights[0].Dials
	assert.Nil(t, dials[0].Possible, "the range is not known")
	assert.False(t, *dials[3].Possible, "no head gives more than full")
	in.KeyAv = nil
	assert.Empty(t, Compute(in).Lights[0].Dials)
}

func TestBaseRange(t *testing.T) {
	head := func(r float64) *Head { return &Head{Range: &r} }
	light := func(name string, power, rng float64) Light {
		return Light{Name: name, Source: Flash, Power: &power, Head: head(rng)}
	}
	in := Input{KeyAv: p(6), Lights: []Light{light("A", -2, 5), light("B", -1, 5), light("C", -2, 4)}}
	r := Compute(in).BaseRange
	assert.Equal(t, 4.0, *r.LowAv)
	assert.Equal(t, 7.0, *r.HighAv)
	assert.Equal(t, []string{"C"}, r.LowBy)
	assert.Equal(t, []string{"B"}, r.HighBy)

	in.WidestAv, in.ApertureAv = p(3.8), p(5.5) // the camera half a stop wider than the key
	r = Compute(in).BaseRange
	assert.InDelta(t, 4.3, *r.LowAv, 1e-9)
	assert.Equal(t, []string{"lens"}, r.LowBy)

	in.Lights = []Light{light("A", 0, 2), light("B", -6, 7)}
	in.WidestAv = nil
	r = Compute(in).BaseRange
	assert.Equal(t, 5.0, *r.LowAv)
	in.Lights = []Light{light("A", 0, 2), light("B", -6, 5), light("C", 0, 9)}
	r = Compute(in).BaseRange
	assert.Nil(t, r.LowAv)
	assert.Nil(t, r.HighAv)
	assert.Equal(t, []string{"B"}, r.LowBy)
	assert.Equal(t, []string{"A", "C"}, r.HighBy)

	r = Compute(Input{KeyAv: p(6), WidestAv: p(3), Lights: []Light{{Source: Flash, Power: p(-1)}}}).BaseRange
	assert.Equal(t, BaseRange{LowBy: []string{}, HighBy: []string{}}, r)
}

func TestBaseRangeRoundsInward(t *testing.T) {
	r := BaseRange{LowAv: p(3.04), HighAv: p(8.19)}
	low, high, ok := r.Inward(10)
	assert.True(t, ok)
	assert.InDelta(t, 3.1, low, 1e-9)
	assert.InDelta(t, 8.1, high, 1e-9)
	low, high, _ = BaseRange{LowAv: p(3.1), HighAv: p(8.2)}.Inward(10)
	assert.InDelta(t, 3.1, low, 1e-9)
	assert.InDelta(t, 8.2, high, 1e-9)
	_, _, ok = BaseRange{LowAv: p(6.02), HighAv: p(6.08)}.Inward(10)
	assert.False(t, ok)
	_, _, ok = BaseRange{}.Inward(10)
	assert.False(t, ok)
}

func TestDefaultBases(t *testing.T) {
	marks := func(key *float64) string {
		s := ""
		for _, b := range DefaultBases(key) {
			s += fmt.Sprintf("%s=%v ", b.Mark, b.Av)
		}
		return s
	}
	assert.Equal(t, "f/5.6=5 f/8=6 f/11=7 ", marks(nil))
	assert.Equal(t, "f/5.6=5 f/8=6 f/11=7 ", marks(p(6.4)))
	assert.Equal(t, "f/8=6 f/11=7 f/16=8 ", marks(p(6.5)), "a tie goes to the smaller aperture")
	assert.Equal(t, "f/0.7=-1 f/1=0 f/1.4=1 ", marks(p(-1)))
	assert.Equal(t, "f/45=11 f/64=12 f/90=13 ", marks(p(13.7)))
}

func TestContinuousLightFollowsTheShutter(t *testing.T) {
	in := portrait()
	in.Lights[2].Source = Continuous
	n := Compute(in)
	assert.Empty(t, n.Lights[0].Hold)
	assert.Empty(t, n.Lights[2].Dials)
	require.Len(t, n.Lights[2].Hold, 3)
	assert.InDelta(t, 0.0049216*math.Exp2(0.6), *n.Lights[2].Hold[2].ShutterS, 1e-7)
}

func TestNothingKnownGivesNull(t *testing.T) {
	n := Compute(Input{})
	b, err := json.Marshal(n)
	require.NoError(t, err)
	assert.JSONEq(t, `{
		"exposure": {"iso":null,"shutter_s":null,"key_av":null,"zero":null,"aperture_av":null,"placing":null},
		"bases": [], "lights": [],
		"ratios": {"key_to_fill":null,"lit_to_shadow":null,"lit_to_shadow_est":false},
		"together": {"delta":null,"av":null,"dome_to_camera":null,"all_toward_camera":false},
		"base_range": {"low_av":null,"high_av":null,"low_by":[],"high_by":[]},
		"ambient": {"delta":null,"at":[]},
		"camera": {"view_deg":{"width":null,"height":null},
			"frame_m":{"at_subject":{"width":null,"height":null},"at_background":{"width":null,"height":null}},
			"depth_of_field":[],"magnification":null,"loss_stops":null}}`, string(b))

	n = Compute(Input{Bases: DefaultBases(nil), Lights: []Light{{Number: 1, Name: "Key", Role: "key", Source: Flash}}})
	b, err = json.Marshal(n.Lights[0])
	require.NoError(t, err)
	assert.JSONEq(t, `{"number":1,"name":"Key","role":"key","source":"flash","delta":0,"ratio_to_key":1,"off":false,"pack":null,
		"place":{"right_m":null,"front_m":null,"height_m":null,"distance_m":null,"angle_deg":null,"side":null},
		"throw_m":null,"tilt_deg":null,
		"targets":[
			{"base":"f/5.6","av":5,"f":5.656854249,"tenths":"f/5.6","third":"f/5.6","decimal":"5.7"},
			{"base":"f/8","av":6,"f":8,"tenths":"f/8","third":"f/8","decimal":"8.0"},
			{"base":"f/11","av":7,"f":11.313708499,"tenths":"f/11","third":"f/11","decimal":"11.3"}],
		"dials":[],"hold":[],"drift_m":{"closer":null,"further":null},"looks_deg":{"width":null,"height":null},
		"falloff":{"cheek":null,"background":null}}`, string(b))
}

func TestPlaceWithoutHeight(t *testing.T) {
	in := portrait()
	in.Lights[0].NoHeight = true
	l := Compute(in).Lights[0]
	assert.NotNil(t, l.Place.RightM)
	assert.Nil(t, l.Place.HeightM)
	assert.Nil(t, l.ThrowM)
	assert.Nil(t, l.DriftM.Further)
	assert.Nil(t, Compute(in).Together.DomeToCamera)
}

func TestLightsNotOnTheSubjectHaveNoFalloff(t *testing.T) {
	in := portrait()
	in.Lights[0].Aim = &Vec{-1.3, -2.4, 1.2}
	f := Compute(in).Lights[0].Falloff
	assert.Nil(t, f.Cheek)
	assert.Nil(t, f.Background)
	in.Lights[0].Aim = &Vec{0, 0, 1.55}
	in.Lights[0].At = &Vec{0, 0, 3}
	assert.Nil(t, Compute(in).Lights[0].Falloff.Cheek, "overhead there is no far cheek")
}
