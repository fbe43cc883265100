package edit

import (
	"bytes"
	"math"
	"strconv"
	"testing"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
	"stopleaf/setup"
)

// paths are those of every value of a file, by index in lists.
func paths(n *yaml.Node, at Path, all *[]Path) {
	if len(at) > 0 {
		*all = append(*all, at)
	}
	n = follow(n)
	for i, c := range n.Content {
		step := strconv.Itoa(i)
		if n.Kind == yaml.MappingNode {
			if i%2 == 0 {
				continue
			}
			step = follow(n.Content[i-1]).Value
		}
		if len(*all) < 500 {
			paths(c, append(at[:len(at):len(at)], step), all)
		}
	}
}

// FuzzEdit: whatever the file and the edit, nothing panics; the edit is refused
// with a place and the file is as it was, or gopkg.in/yaml.v3 by itself reads a
// file in which the value stands.
func FuzzEdit(f *testing.F) {
	for _, src := range corpus(f) {
		f.Add(src, uint16(7), uint8(0), "8.5")
	}
	for i, src := range []string{
		"a: |+\n  x\n\n# c\nb: >-\n x\n  y\n z\n", "? a\n: b\n? [c]\n: - d\n", "a: &x {l: 1}\nb: *x\nc: [*x, *x]\n", "{a: 1, b: [c, d: e], f}\n",
		"\xef\xbb\xbf%YAML 1.1\n---\r\na: 'x\r\n  y'\r\nb:\r\n- 1\r\n-\r\n", "a: \"\\\n  x\\ty\"\nb:\n    c: d # e\n    # f\n", "a:\tb\t# c\nd: x y\u2028z\n", "a: 1\rb: 2\r",
		"a: [1, # c\n 2,\n ]\nb: {c: 1, # d\n e: {}, }\n", "a: !t {b: &c }\nd: *c\n", "- a\n", "a: {<<: {b: 1}, c: 2}\n", "a:\n\u00a0\u00a0b: 1\n\u00a0\u00a0c: 2\n",
	} {
		for op := range uint8(5) {
			f.Add([]byte(src), uint16(i), op, "[x, {y: 1}]")
		}
	}
	f.Fuzz(func(t *testing.T, src []byte, which uint16, op uint8, text string) {
		s, err := Open("f.yaml", src)
		if err != nil {
			placed(t, err)
			return
		}
		before := bytes.Clone(src)
		var all []Path
		paths(s.now.root, nil, &all)
		p := Path{"new"}
		if len(all) > 0 {
			p = all[int(which)%len(all)]
		}
		switch op % 5 {
		case 0:
			err = s.Set(p, text)
		case 1:
			err = s.SetYAML(p, text)
		case 2:
			err = s.Delete(p)
		case 3:
			err = s.Rename(p, text)
		case 4:
			p = append(p, "new key")
			err = s.Set(p, text)
		}
		got, _ := s.Bytes()
		if !bytes.Equal(src, before) {
			t.Fatal("the caller's bytes were written to")
		}
		if err != nil {
			placed(t, err)
			if !bytes.Equal(got, before) {
				t.Fatalf("refused with %v, and changed %q to %q", err, src, got)
			}
			return
		}
		var n yaml.Node
		if err := yaml.Unmarshal(setup.PlainLines(got), &n); err != nil {
			t.Fatalf("%q: %v", got, err)
		}
		if now, ok := s.Text(p); op%5 == 0 && (!ok || now != text) {
			t.Fatalf("%v is %q, not %q, in %q", p, now, text, got)
		}
		if op%5 == 2 && s.Has(p) && len(p) == 1 {
			t.Fatalf("%v is still there in %q", p, got)
		}
	})
}

func placed(t *testing.T, err error) {
	problems, ok := err.(setup.Problems)
	if !ok || len(problems) == 0 || problems[0].Message == "" || problems[0].Pos.File != "f.yaml" || !utf8.ValidString(problems[0].Message) {
		t.Fatalf("badly worded or placed: %v", err)
	}
}

// FuzzNotation: whatever stands there, nothing panics, and what is written reads
// as the value; a place in one line of any kind reads as a place again.
func FuzzNotation(f *testing.F) {
	for _, was := range []string{"", "1.4 m", "4 ft 6 1/2 in", "4'6\"", "1 m 40 cm", "6½ in", "1/4 +0.2", "full", "62 Ws", "-3 1/3", "50 %", "8.5", "f/8 +0.4", "8 5", "5,6", "EV100 9", "12 EV", "1/200 s", "0\"5",
		"1.6 stops under", "55° camera left", "55 L", "7:30", "07 o'clock", "+1", "55 left, 1,4 m, 2.15 high", "7:30, 1.4 m, 2 up", "1.3 m left, 0.9 behind, 1.2 to lower edge", "under Key, 1.1 high", ",", "left", "1 front", " high", "0 left, 0 front"} {
		f.Add(was, 1.234, int8(1))
		f.Add(was, -2.5, int8(-1))
	}
	f.Fuzz(func(t *testing.T, was string, v float64, side int8) {
		if !utf8.ValidString(was) || len(was) > 200 {
			return
		}
		second := 1.0 / 60
		meter := Meter{ShutterS: &second, ISO: &second, Notation: apex.Notation{Bare: "tenths", Halves: v > 3}}
		if text, err := Length(was, v, setup.Feet); err == nil {
			if m, err := setup.ParseLength(text, setup.Feet); err != nil || math.Abs(m-v) > sameLength+1e-8 {
				t.Fatalf("%q for %v: %q", was, v, text)
			}
		}
		if text, err := Delta(was, v); err == nil {
			if d, err := apex.ParseDelta(text); err != nil || math.Abs(d-v) > sameStops+1e-8 {
				t.Fatalf("%q for %v: %q", was, v, text)
			}
		}
		if text, err := Reading(was, v, meter); err == nil {
			if av, _, ok := meter.av(text); !ok || math.Abs(av-v) > sameStops+1e-8 {
				t.Fatalf("%q for %v: %q", was, v, text)
			}
		}
		if _, err := Power(was, v, nil); err == nil && (v > 0.01 || v < -13) {
			t.Fatalf("%q for %v", was, v)
		}
		_, _ = Power(was, v, &exposure.Head{EnergyWs: &second, Dial: exposure.Dial{Kind: "number", Full: v}})
		_, _ = Time(was, v, meter.Notation)
		_ = Number(was, v, 0.01)
		way := int(min(max(side, -1), 1))
		_, _ = Angle(was, v, way, 0.1)
		text, _ := Clock(was, math.Mod(math.Abs(v), 180), way)
		if _, _, err := setup.ParseClock(text); err != nil && !math.IsNaN(v) && !math.IsInf(v, 0) {
			t.Fatalf("%q for %v: %q", was, v, text)
		}
		s, err := Open("f.yaml", []byte("place: "+setup.Quoted(was)+"\n"))
		if err != nil {
			return
		}
		height := 1.5
		if _, err := s.SetPlace(Path{"place"}, setup.Place{Right: v, Front: float64(side) / 10, Height: &height}, FloorOf(&setup.Setup{Units: setup.Metres}, "")); err != nil {
			return
		}
		got, _ := s.Bytes()
		src := append([]byte("subject: {face: 1.5}\nlights:\n  - role: key\n    "), got...)
		before := append([]byte("subject: {face: 1.5}\nlights:\n  - role: key\n    place: "), setup.Quoted(was)...)
		if now, _ := setup.Parse("f.yaml", before, setup.Options{}); now == nil || now.Lights[0].Place == nil {
			return // it was no place before
		}
		now, problems := setup.Parse("f.yaml", src, setup.Options{})
		if now == nil {
			t.Fatalf("%q became %q: %v", was, got, problems)
		}
		p := now.Lights[0].Place
		if p == nil || math.Hypot(p.Right-v, p.Front-float64(side)/10) > sameMinute+1e-4 {
			t.Fatalf("%q became %q: %+v, not %v", was, got, p, v)
		}
	})
}
