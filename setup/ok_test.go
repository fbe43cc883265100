package setup

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stopleaf/exposure"
)

// read reads a file of testdata/ok and fails on any error.
func read(t *testing.T, name string) (*Setup, Problems) {
	t.Helper()
	s, problems := Read(filepath.Join("..", "testdata", "ok", name+".yaml"), Options{})
	require.NotNil(t, s, "%v", problems)
	return s, problems
}

// clean is read without a warning either.
func clean(t *testing.T, name string) *Setup {
	t.Helper()
	s, problems := read(t, name)
	require.Empty(t, problems)
	return s
}

func light(t *testing.T, s *Setup, name string) *Light {
	t.Helper()
	for i := range s.Lights {
		if s.Lights[i].Name == name {
			return &s.Lights[i]
		}
	}
	require.Fail(t, "no light "+name)
	return nil
}

func is(t *testing.T, want float64, got *float64, what ...any) {
	t.Helper()
	require.NotNil(t, got, what...)
	assert.InDelta(t, want, *got, 1e-6, what...)
}

func TestOKFilesRead(t *testing.T) {
	files, err := filepath.Glob("../testdata/ok/*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, f := range files {
		s, problems := Read(f, Options{})
		assert.NotNil(t, s, "%s: %v", f, problems)
	}
}

func TestSmallest(t *testing.T) {
	s := clean(t, "smallest")
	assert.Equal(t, "Two lights", s.Title)
	assert.Equal(t, "smallest", s.Code)
	require.Len(t, s.Lights, 2)
	assert.Equal(t, "Key", s.Lights[0].Name)
	assert.Equal(t, "Fill", s.Lights[1].Name)
	assert.Equal(t, exposure.Flash, s.Lights[1].Source)
	assert.InDelta(t, -1.6, s.Lights[1].Delta, 1e-12)
	assert.Equal(t, "1.6 under", s.Lights[1].DeltaText)
	assert.Nil(t, s.Lights[1].Place)
	assert.Equal(t, "face", s.Lights[1].Aim.Target)
	assert.InDelta(t, 1.55, s.Lights[1].Aim.Height, 1e-12) // standing
	assert.Equal(t, Meter{At: "face", Toward: "light"}, s.Lights[1].Meter)
	assert.Equal(t, 36.0, s.Camera.FormatW)
	assert.False(t, s.Camera.Given)
}

// The exact steps of marks: Exif 2.31, CIPA DC-008 Annex C, Av = 2 log2 N and
// Tv = -log2 t.
func TestNotations(t *testing.T) {
	s := clean2(t, "notations", "bare-decimal")
	e := s.Exposure
	is(t, 200, e.ISO)
	is(t, 1.0/128, e.ShutterS)         // marked 1/125
	is(t, math.Exp2(-22.0/3), e.SyncS) // marked 1/160
	is(t, 6.5, e.KeyAv)                // eight and five tenths
	is(t, 22.0/3, e.ApertureAv)        // f/13 of the third-stop series is 12.699
	is(t, 5400, e.WhiteBalance)        //
	is(t, 2, e.AmbientAv)              // EV 9 at Tv 7
	require.Len(t, e.Bases, 3)         //
	assert.Equal(t, "f/5.6", e.Bases[0].Mark)
	assert.InDelta(t, 19.0/3, e.Bases[1].Av, 1e-9)
	assert.Equal(t, "f/9", e.Bases[1].Mark)
	assert.InDelta(t, 7.3, e.Bases[2].Av, 1e-9)
	assert.Equal(t, "f/11 +0.3", e.Bases[2].Mark)
	for name, delta := range map[string]float64{
		"F1": 5.3 - 6.5, "F2": 5 - 6.5, "F3": 2*math.Log2(9.7) - 6.5, "F4": 5 - 6.5,
		"D1": -5.0 / 3, "D2": 0.4, "D3": 0, "D4": 0.4,
	} {
		assert.InDelta(t, delta, light(t, s, name).Delta, 1e-9, name)
	}
	is(t, 5.3, light(t, s, "F1").ReadingAv)
	assert.Nil(t, light(t, s, "D1").ReadingAv)
}

// clean2 allows warnings of one code.
func clean2(t *testing.T, name, code string) *Setup {
	t.Helper()
	s, problems := read(t, name)
	for _, p := range problems {
		assert.Equal(t, code, p.Code, p.String())
	}
	return s
}

func TestHalfStepsAndTenths(t *testing.T) {
	s := clean(t, "half-steps")
	is(t, 7.5, s.Exposure.KeyAv)      // 13 of the half-stop series is 13.454
	is(t, 6.5, s.Exposure.ApertureAv) // f/8 and five tenths
	is(t, 0.5, s.Lights[1].ReadingAv) // 1.2 of the half-stop series is 1.189
}

func TestKeyReadingOnTheLight(t *testing.T) {
	s := clean(t, "key-reading")
	is(t, 6.4, s.Exposure.KeyAv)
	assert.InDelta(t, -1.4, s.Lights[1].Delta, 1e-9)
}

func TestPlaces(t *testing.T) {
	s := clean(t, "places")
	at := func(name string, right, front float64, height ...float64) {
		t.Helper()
		p := light(t, s, name).Place
		require.NotNil(t, p, name)
		assert.InDelta(t, right, p.Right, 2e-4, name)
		assert.InDelta(t, front, p.Front, 2e-4, name)
		if len(height) == 0 {
			assert.Nil(t, p.Height, name)
		} else {
			is(t, height[0], p.Height, name)
		}
	}
	at("Angle", -1.146813, 0.803007, 2.15) // 1.4 sin 55, 1.4 cos 55
	at("Long", -1.146813, 0.803007, 2.15)
	at("Clock", -math.Sqrt2, math.Sqrt2, 2)                                // half past seven is 45 left
	at("Clock short", math.Sqrt2, math.Sqrt2, 1.9812)                      // 6 ft 6 in
	at("Slant", 1.2, 0, 2.45)                                              // 0.9 up, 1.2 along, 1.5 taped
	at("Floor", 0.9, -0.3, 1.3)                                            //
	at("Floor short", -1.3, -0.9, 1.2)                                     //
	at("Tapes", -math.Sqrt(2.25-0.975*0.975), 0.975, 2)                    // y = (1.5² - 2.5² + 3.2²) / 6.4
	at("Wall tape", 1.2, -0.9)                                             // 1.5 before the wall at -2.4
	at("Three", 1, 1)                                                      //
	at("Under", -1.146813, 0.803007, 1)                                    //
	at("Over", -1.146813, 0.803007, 2.6)                                   //
	at("Straight on", 0, 3)                                                //
	at("Behind", 0, -2, 1)                                                 //
	at("Comma", -1.146813, 0.803007, 2.15)                                 //
	assert.Nil(t, light(t, s, "Nowhere").Place)                            //
	assert.Equal(t, "Angle", light(t, s, "Under").Place.Ref)               //
	assert.Equal(t, "under", light(t, s, "Under").Place.Form)              //
	assert.Equal(t, "tape", light(t, s, "Three").Place.Form)               //
	assert.Equal(t, "Floor", light(t, s, "Three").Place.Tapes[1].From)     //
	assert.Equal(t, "clock", light(t, s, "Clock short").Place.Form)        //
	assert.Equal(t, "cartesian", light(t, s, "Floor short").Place.Form)    //
	is(t, 1.5, light(t, s, "Slant").Place.Slant)                           //
	deg, side := light(t, s, "Angle").Place.Angle()                        //
	assert.InDelta(t, 55, deg, 1e-9)                                       //
	assert.Equal(t, "left", side)                                          //
	assert.InDelta(t, 1.4, light(t, s, "Angle").Place.Distance(), 1e-9)    //
	assert.False(t, math.Signbit(light(t, s, "Behind").Place.Right), "-0") //
}

func TestHeights(t *testing.T) {
	s, problems := read(t, "heights")
	require.Len(t, problems, 1)
	assert.Equal(t, "no-centre", problems[0].Code)
	key := s.Lights[0].Place // level with the face: no tilt
	is(t, 1.55, key.Height)
	is(t, 0.95, key.Lower)

	edge := light(t, s, "Edge") // 5 m along the floor; the centre is above its edge by 0.6 cos tilt
	is(t, 1.8, edge.Place.Lower)
	c := *edge.Place.Height
	tilt := math.Atan2(1.55-c, 5)
	assert.InDelta(t, 1.8+0.6*math.Cos(tilt), c, 1e-9)
	is(t, 1.1, light(t, s, "Short edge").Place.Lower)

	wall := light(t, s, "Wall") // aimed level at the background
	is(t, 1.3, wall.Place.Height)
	assert.InDelta(t, 1.3, wall.Aim.Height, 1e-9)
	assert.InDelta(t, -2, wall.Aim.Front, 1e-9)

	none := light(t, s, "No size")
	is(t, 1, none.Place.Lower)
	assert.Nil(t, none.Place.Height)

	slant := light(t, s, "Slant edge").Place // the tape closes on the centre
	is(t, 2, slant.Lower)
	assert.InDelta(t, 1.6, math.Hypot(slant.Distance(), *slant.Height-1.55), 1e-9)

	flag := s.Grip[0]
	is(t, 1.3, flag.Place.Lower)
	assert.Equal(t, "Flag", flag.Name)
	assert.Equal(t, 7, flag.Number)
}

func TestAims(t *testing.T) {
	s := clean(t, "aims")
	aim := func(name, target string, right, front, height float64) {
		t.Helper()
		a := light(t, s, name).Aim
		assert.Equal(t, target, a.Target, name)
		assert.InDelta(t, right, a.Right, 1e-9, name)
		assert.InDelta(t, front, a.Front, 1e-9, name)
		assert.InDelta(t, height, a.Height, 1e-9, name)
		assert.False(t, a.Unknown, name)
	}
	aim("Key", "face", 0, 0, 1.20) // seated
	aim("Crown", "crown", 0, 0, 1.35)
	aim("Chest", "chest", 0, 0, 0.85)
	aim("Hands", "hands", 0, 0, 0.65)
	aim("Wall", "background", 0, -2.4, 1.2)
	aim("At key", "Key", -0.7, 1.4*math.Cos(math.Pi/6), 2)
	aim("At place", "place", 0.2, 0.1, 0.9)
	aim("At short place", "place", 1, 0, 0.5)
	aim("At table", "Table", 0, 0.4, 0.75)
	assert.Equal(t, &Feather{20, "camera"}, light(t, s, "Feathered").Aim.Feather)
	assert.Equal(t, &Feather{10, "up"}, light(t, s, "Feathered long").Aim.Feather)
	assert.False(t, light(t, s, "Wall").Aim.Given)
	assert.True(t, light(t, s, "Hands").Aim.Given)
}

func TestPairs(t *testing.T) {
	s := clean(t, "pairs")
	var names []string
	for i, l := range s.Lights {
		names = append(names, l.Name)
		assert.Equal(t, i+1, l.Number)
	}
	assert.Equal(t, "Key, Wall L, Wall R, Rim L, Rim R, Kick L, Kick R, Booms L, Booms R, Accent L, Accent R, Accent 2", strings.Join(names, ", "))
	for _, of := range []string{"Wall", "Rim", "Kick", "Booms"} {
		l, r := light(t, s, of+" L"), light(t, s, of+" R")
		assert.Less(t, l.Place.Right, 0.0, of)
		assert.InDelta(t, -l.Place.Right, r.Place.Right, 1e-12, of)
		assert.InDelta(t, l.Place.Front, r.Place.Front, 1e-12, of)
		assert.Equal(t, &Pair{Of: of, Side: "R", Metered: r.Pair.Metered}, r.Pair)
	}
	assert.InDelta(t, 0.4, light(t, s, "Wall L").Delta, 1e-12)
	assert.InDelta(t, -2, light(t, s, "Rim L").Delta, 1e-12) // metered both: each is a stop under
	assert.Equal(t, "left", light(t, s, "Rim L").Aim.Feather.Toward)
	assert.Equal(t, "right", light(t, s, "Rim R").Aim.Feather.Toward)
	assert.InDelta(t, -1, light(t, s, "Kick L").Delta, 1e-9)
	assert.InDelta(t, 16.0/3-6, light(t, s, "Kick R").Delta, 1e-9)
	assert.Equal(t, "Rim R", light(t, s, "Kick R").Place.Ref)
	assert.InDelta(t, -2, light(t, s, "Booms L").Stand.Base.Right, 1e-12) // written for the right
	assert.InDelta(t, 2, light(t, s, "Booms R").Stand.Base.Right, 1e-12)
	is(t, 1.5, s.Mains.Circuits[0].Lead.Section)
	is(t, 20, s.Mains.Circuits[0].Lead.Length)
	assert.Equal(t, "B", s.Mains.Circuits[1].Name)
}

func TestGear(t *testing.T) {
	s := clean(t, "gear")
	key := s.Lights[0]
	is(t, 400, key.Head.EnergyWs)
	is(t, 7, key.Head.Range)
	is(t, 0.1, key.Head.Step)
	is(t, 200, key.Head.Modelling.Watts)
	assert.Equal(t, "halogen", key.Head.Modelling.Lamp)
	is(t, math.Log2(62.0/400), key.Power)
	assert.Equal(t, "62 Ws", key.PowerText)
	assert.InDelta(t, 9, key.Head.Outputs[0].ReadsAv, 1e-9)
	assert.InDelta(t, 1, key.Head.Outputs[0].At, 1e-9, "the gear file's own units")
	assert.Equal(t, 100.0, key.Head.Outputs[0].ISO)
	assert.Equal(t, "big box", key.Modifier.Gear)
	is(t, 1.8, key.Modifier.Height)
	is(t, 40, key.Modifier.Grid)
	assert.Equal(t, "boom", key.Stand.Kind)
	is(t, 2, key.Stand.Reach)
	is(t, 4, key.Stand.Counterweight)
	is(t, 7, key.Stand.Bag)
	fill := s.Lights[1]
	is(t, -3, fill.Power) // 7 on a dial that shows 10 at full
	assert.Equal(t, exposure.Dial{Kind: "number", Full: 10}, fill.Head.Dial)
	assert.Equal(t, "led", fill.Head.Modelling.Lamp)
	assert.InDelta(t, -1, fill.Head.Outputs[0].PowerStops, 1e-9)
	assert.Equal(t, "floor", fill.Stand.Kind)
	rim := s.Lights[2]
	is(t, 35, rim.Dimmer)
	is(t, 60, rim.Head.Watts)
	require.Len(t, s.Files, 2)
	assert.Equal(t, "gear.yaml", filepath.Base(s.Files[1]))
}

func TestModifiers(t *testing.T) {
	s, problems := read(t, "modifiers")
	require.Empty(t, problems)
	for name, want := range map[string]struct {
		text   string
		shines exposure.Shape
		w, h   float64
	}{
		"A": {"octabox 1.2 m", exposure.Disc, 1.2, 1.2},
		"B": {"strip 0.3 x 0.91 m", exposure.Rectangle, 0.3, 0.9144},
		"C": {"dish 0.56 m", exposure.Disc, 0.56, 0.56},
		"D": {"giant pill 0.5 m", exposure.Disc, 0.5, 0.5},
		"E": {"reflector panel 1 x 1.5 m", exposure.Rectangle, 1, 1.5},
		"F": {"shoot-through umbrella 1 m", exposure.Disc, 1, 1},
		"G": {"bowl 0.18 m", exposure.Hard, 0.18, 0.18},
		"H": {"fresnel", exposure.Lens, 0, 0},
		"I": {"softbox 0.9 x 0.6 m", exposure.Rectangle, 0.9, 0.6},
		"J": {"softbox 0.61 x 0.91 m", exposure.Rectangle, 0.6096, 0.9144},
		"K": {"softbox 0.6 x 0.6 m", exposure.Rectangle, 0.6, 0.6},
		"L": {"window 1.2 x 1.5 m", exposure.Rectangle, 1.2, 1.5},
	} {
		m := light(t, s, name).Modifier
		assert.Equal(t, want.text, m.Text, name)
		assert.Equal(t, want.shines, m.Shines, name)
		if want.w == 0 {
			assert.Nil(t, m.Width, name)
			continue
		}
		is(t, want.w, m.Width, name)
		is(t, want.h, m.Height, name)
	}
	a := light(t, s, "A").Modifier
	is(t, 40, a.Grid)
	assert.Equal(t, []string{"inner", "front"}, a.Diffusers)
	assert.Equal(t, "half warm", a.Gel.Name)
	d := light(t, s, "D").Modifier
	assert.False(t, d.Known)
	is(t, -100, d.Gel.Mired)
	is(t, 2.0/3, d.Gel.Loss)
	is(t, 0.8, d.Mass)
	is(t, 0, light(t, s, "G").Modifier.Grid, "a grid without a size")
}

func TestEverythingElse(t *testing.T) {
	s := clean(t, "everything-else")
	assert.Equal(t, "Keys in any spelling", s.Title)
	assert.Equal(t, "B-014", s.Code)
	assert.Equal(t, "2026-03-14", s.Made)
	assert.Equal(t, []string{"portrait", "low key"}, s.Tags)
	assert.Equal(t, []string{"dust", "trip"}, s.Hazards)
	assert.Equal(t, "First line.\nSecond line.", s.Notes)
	assert.Equal(t, "not for print", s.Private)
	assert.Equal(t, Feet, s.Units)
	is(t, 3.048, s.Camera.Distance) // the international foot is 0.3048 m
	is(t, 85, s.Camera.FocalMM)
	is(t, 5.0/3, s.Camera.WidestAv)
	assert.True(t, s.Camera.Upright)
	assert.Equal(t, 36.0, s.Camera.FormatW)
	assert.InDelta(t, 2.5*0.3048, s.Subject.Face, 1e-9, "the middle of an object")
	assert.False(t, s.Subject.FaceGiven)
	assert.Equal(t, -20.0, s.Subject.Turned)
	is(t, 9.5*0.3048, s.Background.Width)
	is(t, 4, s.Background.ReadingAv)
	is(t, 9*0.3048, s.Room.Ceiling)
	key := s.Lights[0]
	assert.Equal(t, "a soft edge", key.LookFor)
	assert.Equal(t, "radio 1", key.Trigger)
	assert.Equal(t, "red cross", key.Mark)
	is(t, 0.2, key.Tolerance)
	require.NotNil(t, key.Front)
	assert.False(t, *key.Front)
	assert.Equal(t, Meter{At: "crown", Dome: "in", Toward: "camera", Given: true}, key.Meter)
	fill := s.Lights[1]
	assert.Equal(t, "Key", fill.LitBy)
	assert.Equal(t, exposure.Bounce, fill.Source)
	assert.Equal(t, Meter{At: "chin", Dome: "out", Toward: "camera", Given: true}, fill.Meter)
	assert.Equal(t, "black", s.Grip[0].Colour)
	is(t, 30, s.Grip[0].Turned)
	assert.Equal(t, "V-flat 2", s.Grip[1].Name)
	assert.Equal(t, 4, s.Grip[1].Number)
	assert.Equal(t, 19, s.Lights[0].Where.Key("look for").Line)
}

func TestAliases(t *testing.T) {
	s := clean(t, "aliases")
	assert.Equal(t, s.Lights[0].Modifier.Text, s.Lights[1].Modifier.Text)
	assert.Equal(t, s.Lights[0].Place.Right, s.Lights[1].Place.Right)
}

// TestOdd holds that what is odd is a warning, each with its place.
func TestOdd(t *testing.T) {
	s, problems := read(t, "warnings")
	var got []string
	for _, p := range problems {
		assert.Equal(t, Warning, p.Level, p.String())
		got = append(got, p.Code)
	}
	for _, want := range []string{
		"bare-decimal", "faster-than-sync", "base-twice", "unknown-word", "key-twice", "beyond-reach", "under-floor",
		"unknown-modifier", "unknown-name", "lit-by", "dimmer", "no-role", "pair-metered", "unknown-circuit", "tape-off",
		"aim-unknown", "bounce-power", "no-centre",
	} {
		assert.Contains(t, got, want)
	}
	assert.Equal(t, "sparkle", s.Lights[1].Role)
	assert.Equal(t, []string{"thunder"}, s.Hazards)
	assert.True(t, light(t, s, "Background").Aim.Unknown)
	assert.Nil(t, s.Input(nil).Lights[4].Aim)
	assert.InDelta(t, -light(t, s, "Loose L").Place.Right, light(t, s, "Loose R").Place.Right, 1e-9)
}
