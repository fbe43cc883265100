package setup

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// seeds adds the files of a folder of testdata.
func seeds(f *testing.F, pattern string) {
	files, err := filepath.Glob(pattern)
	if err != nil || len(files) == 0 {
		f.Fatal("no seeds", pattern, err)
	}
	for _, file := range files {
		b, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b)
	}
}

// FuzzParse: whatever the bytes, there is a setup or an error with a place,
// every figure of the setup is finite, and nothing panics.
func FuzzParse(f *testing.F) {
	seeds(f, "../testdata/err/*.yaml")
	seeds(f, "../testdata/ok/*.yaml")
	dir := f.TempDir()
	f.Fuzz(func(t *testing.T, src []byte) {
		s, problems := Parse(filepath.Join(dir, "f.yaml"), src, Options{NoPhotos: true})
		if (s == nil) != problems.HasErrors() {
			t.Fatalf("setup %v, problems %v", s != nil, problems)
		}
		lines := strings.Count(string(src), "\n") + strings.Count(string(src), "\r") + 1
		for _, p := range problems {
			if p.Message == "" || p.Code == "" || p.Pos.Line > lines || p.Pos.Line > 0 && p.Pos.Col < 1 || strings.Contains(p.Message, "yaml:") {
				t.Fatalf("badly worded or placed: %q %+v", p.String(), p.Pos)
			}
		}
		if s == nil {
			return
		}
		checkFinite(t, s)
		bases, err := s.ChooseBases("")
		if err != nil || len(bases) == 0 {
			t.Fatalf("no bases: %v", err)
		}
		s.Input(bases)
		if !IsSetup(src) {
			t.Fatal("read as a setup, and is none")
		}
	})
}

func checkFinite(t *testing.T, s *Setup) {
	bad := func(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) }
	place := func(p *Place) {
		if p == nil {
			return
		}
		if bad(p.Right) || bad(p.Front) || p.Height != nil && bad(*p.Height) || p.Lower != nil && (bad(*p.Lower) || *p.Lower < 0) {
			t.Fatalf("place %+v", *p)
		}
	}
	for _, l := range s.Lights {
		place(l.Place)
		if bad(l.Delta) || math.Abs(l.Delta) > maxDelta || bad(l.Aim.Right) || bad(l.Aim.Front) || bad(l.Aim.Height) {
			t.Fatalf("light %+v", l)
		}
		if l.Name == "" || l.Number == 0 {
			t.Fatalf("light without a name or number: %+v", l)
		}
		if l.Stand != nil {
			place(l.Stand.Base)
		}
	}
	for _, g := range s.Grip {
		place(g.Place)
	}
}

// FuzzLength: a length is an error, or finite and within its bounds, and what
// is printed of it reads back.
func FuzzLength(f *testing.F) {
	for _, s := range []string{"1.2 m", "120 cm", "4 ft 6 in", "4'6\"", "6½ in", "1 m 40 cm", "010", "1e9", "-3", "", "¾ ft", "1,2"} {
		f.Add(s, "m")
		f.Add(s, "ft")
	}
	f.Fuzz(func(t *testing.T, s, units string) {
		v, err := ParseLength(s, Units(units))
		if err != nil {
			if v != 0 || err.Error() == "" {
				t.Fatalf("%q: %v with an error", s, v)
			}
			return
		}
		if !(v >= 0 && v <= maxLength) {
			t.Fatalf("%q is %v", s, v)
		}
		for _, u := range []Units{Metres, Centimetres, Feet, Inches} {
			back, err := ParseLength(FormatLength(v, u), Metres)
			if v < 99.9 && (err != nil || math.Abs(back-v) > 0.0065) {
				t.Fatalf("%q: %v prints as %q and reads back as %v, %v", s, v, FormatLength(v, u), back, err)
			}
		}
	})
}

// FuzzPlace: the shorthand of a place is an error, or a point within reach.
func FuzzPlace(f *testing.F) {
	for _, s := range []string{"55 left, 1.4 m, 2.15 high", "7:30, 1,4, 2,15 high", "1.3 m left, 0.9 behind", "under Key, 1 high",
		"180, 2 m", "12:00, 1 m", "over B, 2 m to lower edge", ",,,", "0 left, 0, 0 high", "{left: 1}"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, place string) {
		quoted := "'" + strings.ReplaceAll(place, "'", "''") + "'"
		src := "title: T\nlights:\n  - {role: key, name: A, place: " + quoted + "}\n  - {role: fill, delta: -1, name: B, place: {left: 1, front: 2, height: 1}, aim: " + quoted + "}\n"
		s, problems := Parse("t.yaml", []byte(src), Options{NoPhotos: true})
		if (s == nil) != problems.HasErrors() {
			t.Fatal(problems)
		}
		if s == nil {
			return
		}
		checkFinite(t, s)
		if p := s.Lights[0].Place; p != nil && p.Distance() > maxLength*math.Sqrt2+1e-9 {
			t.Fatalf("%q is %v m away", place, p.Distance())
		}
	})
}
