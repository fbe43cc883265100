package exposure

import (
	"math"

	"stopleaf/exposure/apex"
)

// NewBase makes a base of an aperture value, named by the shortest notation
// that keeps it to a tenth: "f/8", "f/6.3", "f/8 +0.4".
func NewBase(av float64) Base { return Base{Mark: apex.Mark(av), Av: av} }

// DefaultBases are the bases of a file that names none: the whole stop nearest
// the key's reading (ties to the smaller aperture) and its two neighbours, the
// widest first; f/5.6, f/8 and f/11 when the key's reading is not known.
func DefaultBases(keyAv *float64) []Base {
	middle := 6.0
	if keyAv != nil && !math.IsNaN(*keyAv) {
		_, middle = apex.Whole(math.Max(0, math.Min(12, *keyAv))) // neighbours stay marks
	}
	return []Base{NewBase(middle - 1), NewBase(middle), NewBase(middle + 1)}
}

// basesOut gives each base and the aperture the camera is set to there: the
// recorded offset of camera from key is kept at every base.
func basesOut(bases []Base, placing *float64) []BaseOut {
	out := make([]BaseOut, 0, len(bases))
	for _, b := range bases {
		out = append(out, BaseOut{
			Mark: b.Mark, Av: round(b.Av), F: round(apex.FNumber(b.Av)), CameraAv: round(b.Av + or(placing, 0)),
		})
	}
	return out
}

// baseRange finds the bases at which every flash head with a known dial and
// range can do its part: power + base - key must lie from -range to 0.
func baseRange(in Input, placing *float64) BaseRange {
	out := BaseRange{LowBy: []string{}, HighBy: []string{}}
	low, high := math.Inf(-1), math.Inf(1)
	for i := range in.Lights {
		l := &in.Lights[i]
		if l.Off || l.Source != Flash || l.Power == nil || in.KeyAv == nil || l.Head == nil || l.Head.Range == nil {
			continue
		}
		full := *in.KeyAv - *l.Power
		out.HighBy, high = bound(out.HighBy, l.Name, full, high, full < high)
		least := full - *l.Head.Range
		out.LowBy, low = bound(out.LowBy, l.Name, least, low, least > low)
	}
	if math.IsInf(high, 0) || math.IsInf(low, 0) {
		return out
	}
	if in.WidestAv != nil {
		if lens := *in.WidestAv - or(placing, 0); lens > low+same {
			low, out.LowBy = lens, []string{"lens"}
		}
	}
	if low > high+same {
		return out
	}
	out.LowAv, out.HighAv = value(low), value(high)
	return out
}

// same is the difference below which two bounds are one, in stops.
const same = 1e-9

func bound(by []string, name string, v, limit float64, tighter bool) ([]string, float64) {
	switch {
	case math.Abs(v-limit) <= same:
		return append(by, name), limit
	case tighter:
		return []string{name}, v
	}
	return by, limit
}

// Inward rounds the range inward to steps of 1/parts of a stop (10: tenths), as
// it may be promised in words; ok is false when there is no range or no step
// lies inside it.
func (r BaseRange) Inward(parts int) (low, high float64, ok bool) {
	if r.LowAv == nil || r.HighAv == nil || parts < 1 {
		return 0, 0, false
	}
	p := float64(parts)
	low = math.Ceil(*r.LowAv*p-same) / p
	high = math.Floor(*r.HighAv*p+same) / p
	return low + 0, high + 0, low <= high
}

func or(x *float64, otherwise float64) float64 {
	if x == nil {
		return otherwise
	}
	return *x
}
