package adapt

import (
	"errors"
	"testing"

	"stopleaf/setup"
)

// Whatever can be read can be adapted to anything, or is refused in words: nothing
// panics, and what is made reads without errors.
func FuzzAdapt(f *testing.F) {
	f.Add("lights: [{role: key, pair: no, place: {under: Fill}, power: 0.5}, {name: Fill, role: fill, reading: EV 3, place: \"7:30, 1,4 m\"}]\nexposure: {key: 8 5, shutter: 1/60}\n", uint16(3), 5.0, 2.0, 0.3)
	f.Add("title: T\nexposure: {zero: ambient, ambient: EV100 4, iso: 100, shutter: 2 s}\nlights: [{name: L, role: rim, delta: 1 over, pair: both, place: 180, aim: L}]\n", uint16(7), 1.0, 0.5, 2.0)
	f.Fuzz(func(t *testing.T, src string, which uint16, base, scale, face float64) {
		read := setup.Options{NoPhotos: true}
		s, _ := setup.Parse("set.yaml", []byte(src), read)
		if s == nil || len(s.Files) > 1 {
			return
		}
		has := func(bit uint16) bool { return which&(1<<bit) != 0 }
		o := Options{Read: read, Mirror: has(0)}
		if has(1) && base >= -1 && base <= 13 {
			o.BaseAv = &base
		}
		if has(2) {
			o.ISO = v(400)
		}
		if has(3) {
			o.ShutterS = v(1. / 64)
		}
		if has(4) && scale >= 0.1 && scale <= 10 {
			o.Scale = scale
		}
		if has(5) && face >= 0.1 && face <= 100 {
			o.FaceM = &face
		}
		if has(6) {
			o.LensMM = v(50)
		}
		if has(7) {
			o.Room = setup.Room{Left: v(2), Behind: v(1.5), Ceiling: v(2.4)}
		}
		r, err := Adapt(s, []byte(src), o)
		var no *Refusal
		var problems setup.Problems
		switch {
		case errors.As(err, &no) && no.Message != "":
		case errors.As(err, &problems) && len(problems) > 0: // written in a way that cannot be edited
		case err != nil:
			t.Fatalf("%v\n%s", err, src)
		default:
			if s, problems := setup.Parse("new.yaml", r.Source, read); s == nil {
				t.Fatalf("%v\n%s", problems, r.Source)
			}
		}
	})
}
