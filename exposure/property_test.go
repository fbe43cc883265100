package exposure

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func maybe(t *rapid.T, name string, low, high float64) *float64 {
	if rapid.Bool().Draw(t, name+" known") {
		x := rapid.Float64Range(low, high).Draw(t, name)
		return &x
	}
	return nil
}

func anyLight(t *rapid.T) Light {
	l := Light{
		Name:   rapid.SampledFrom([]string{"A", "B", "C"}).Draw(t, "name"),
		Role:   rapid.SampledFrom([]string{"key", "fill", "hair", "background", "other"}).Draw(t, "role"),
		Source: rapid.SampledFrom([]Source{Flash, Continuous, Bounce, Daylight}).Draw(t, "source"),
		Delta:  rapid.Float64Range(-20, 20).Draw(t, "delta"),
		Shape:  rapid.SampledFrom([]Shape{ShapeUnknown, Rectangle, Disc, Hard, Lens}).Draw(t, "shape"),
		Width:  maybe(t, "width", 0, 100), Height: maybe(t, "height", 0, 100), Power: maybe(t, "power", -12, 0),
		NoHeight: rapid.Bool().Draw(t, "no height"), TowardCamera: rapid.Bool().Draw(t, "dome"),
	}
	if rapid.Bool().Draw(t, "placed") {
		l.At, l.Aim = anyPoint(t), anyPoint(t)
	}
	if rapid.Bool().Draw(t, "head") {
		l.Head = &Head{EnergyWs: maybe(t, "energy", 0, 3000), Range: maybe(t, "range", 0, 12), Step: maybe(t, "step", 0, 1),
			Dial: Dial{Kind: rapid.SampledFrom([]string{"", "fractions", "number", "ws", "percent", "?"}).Draw(t, "dial"), Full: 10}}
	}
	return l
}

func anyPoint(t *rapid.T) *Vec {
	c := rapid.SampledFrom([]float64{-100, -1.3, -1e-9, 0, 1e-4, 0.5, 2.4, 100})
	return &Vec{c.Draw(t, "x"), c.Draw(t, "y"), c.Draw(t, "z")}
}

func anyInput(t *rapid.T) Input {
	in := Input{
		ISO: maybe(t, "iso", 1, 1e7), ShutterS: maybe(t, "shutter", 1e-5, 3600), SyncS: maybe(t, "sync", 1e-4, 1),
		KeyAv: maybe(t, "key", -2, 14), ApertureAv: maybe(t, "aperture", -2, 14), AmbientAv: maybe(t, "ambient", -12, 14),
		WidestAv: maybe(t, "widest", -2, 10), Lights: rapid.SliceOfN(rapid.Custom(anyLight), 0, 6).Draw(t, "lights"),
		FaceHeight: rapid.Float64Range(0, 2.5).Draw(t, "face"), TurnedDeg: rapid.Float64Range(-180, 180).Draw(t, "turned"),
	}
	in.Bases = DefaultBases(in.KeyAv)
	if rapid.Bool().Draw(t, "camera") {
		in.Camera = &Camera{DistanceM: maybe(t, "cd", 0, 100), HeightM: maybe(t, "ch", 0, 100), FocalMM: maybe(t, "f", 0, 2000),
			FrameWMM: rapid.Float64Range(0, 200).Draw(t, "fw"), FrameHMM: rapid.Float64Range(0, 200).Draw(t, "fh")}
	}
	if rapid.Bool().Draw(t, "bg") {
		in.Background = &Background{DistanceM: rapid.Float64Range(0, 100).Draw(t, "bd")}
	}
	return in
}

// What goes in must come out as JSON: no NaN, no infinity, no null list, no
// negative zero; and the same twice.
func TestAnyInputGivesWholeJSON(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput(t)
		a, err := json.Marshal(Compute(in))
		require.NoError(t, err)
		b, _ := json.Marshal(Compute(in))
		assert.Equal(t, string(a), string(b))
		assert.NotRegexp(t, `:-0[,}\]]`, string(a))
		assert.NotRegexp(t, `"(bases|lights|targets|dials|hold|low_by|high_by|at|depth_of_field)":null`, string(a))
	})
}

func TestTargetsShiftByTheBase(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput(t)
		in.KeyAv, in.ApertureAv = p(6.4), p(6)
		shift := rapid.Float64Range(-4, 4).Draw(t, "shift")
		in.Bases = []Base{{"a", 6}, {"b", 6 + shift}}
		n := Compute(in)
		assert.InDelta(t, shift, n.Bases[1].CameraAv-n.Bases[0].CameraAv, 2e-9)
		for i, l := range n.Lights {
			assert.InDelta(t, shift, l.Targets[1].Av-l.Targets[0].Av, 2e-9)
			assert.InDelta(t, in.Lights[i].Delta, l.Targets[0].Av-6, 2e-9)
			for j, d := range l.Dials {
				assert.InDelta(t, *in.Lights[i].Power+in.Bases[j].Av-6.4, d.Stops, 2e-9)
			}
		}
	})
}

// The differences, ratios and places do not depend on what the key read.
func TestDeltaIsInvariant(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput(t)
		in.KeyAv = p(6)
		a := Compute(in)
		in.KeyAv = p(6 + rapid.Float64Range(-5, 5).Draw(t, "key"))
		b := Compute(in)
		assert.Equal(t, a.Ratios, b.Ratios)
		assert.Equal(t, a.Together.Delta, b.Together.Delta)
		for i := range a.Lights {
			assert.Equal(t, a.Lights[i].Delta, b.Lights[i].Delta)
			assert.Equal(t, a.Lights[i].RatioToKey, b.Lights[i].RatioToKey)
			assert.Equal(t, a.Lights[i].Place, b.Lights[i].Place)
		}
	})
}

// A base range is exactly where every dial with a range says it is possible.
func TestBaseRangeAgreesWithTheDials(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput(t)
		in.WidestAv, in.KeyAv = nil, p(6)
		n := Compute(in)
		if n.BaseRange.LowAv == nil {
			return
		}
		low, high := *n.BaseRange.LowAv, *n.BaseRange.HighAv
		in.Bases = []Base{{"low", low}, {"middle", (low + high) / 2}, {"high", high}, {"under", low - 0.01}, {"over", high + 0.01}}
		bad := [2]bool{}
		for j, l := range Compute(in).Lights {
			if in.Lights[j].Head == nil || in.Lights[j].Head.Range == nil {
				continue // it does not bound the range
			}
			for i, d := range l.Dials {
				if i < 3 {
					assert.True(t, *d.Possible, "%s at %s", l.Name, d.Base)
				} else if !*d.Possible {
					bad[i-3] = true
				}
			}
		}
		assert.True(t, bad[0], "something stops it below")
		assert.True(t, bad[1], "something stops it above")
	})
}

func TestRoundKeepsNinePlaces(t *testing.T) {
	assert.Equal(t, 0.333333333, round(1./3))
	assert.False(t, math.Signbit(round(-1e-12)))
	assert.Equal(t, 0.0, round(math.NaN()))
	assert.Nil(t, value(math.Inf(1)))
}
