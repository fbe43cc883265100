package check

import (
	"math"
	"strconv"
	"strings"

	"stopleaf/exposure/apex"
	"stopleaf/setup"
)

func same(a, b *float64) bool { return a != nil && b != nil && math.Abs(*a-*b) <= near }

// text is a reading as it was typed, where the file would take it to be the same;
// else in the shortest notation that holds it. g is nil for one that nobody typed.
func (r *recorder) text(g *Given, av float64) string {
	e := &r.s.Exposure
	n := e.Notation()
	n.Comma = true
	means := func(s string) bool {
		read, err := apex.ParseReading(s, n)
		if err != nil || read.NeedsTime() && r.out.ShutterS == nil || read.NeedsISO() && r.out.ISO == nil || len(s) > 1 && s[0] == '0' && s[1] >= '0' && s[1] <= '9' {
			return false
		}
		tv, sv := 0.0, 0.0
		if read.NeedsTime() {
			tv = apex.Tv(*r.out.ShutterS)
		}
		if read.NeedsISO() {
			sv = apex.Sv(*r.out.ISO)
		}
		return math.Abs(read.Av(tv, sv)-av) <= 1e-6
	}
	texts := []string{apex.Mark(av), apex.Tenths(av)}
	if g != nil && g.Av != nil {
		texts = append([]string{g.Text}, texts...)
	}
	for _, s := range texts {
		if means(s) {
			return s
		}
	}
	return "f/" + plain(apex.FNumber(av))
}

// plain is a figure with up to eight digits.
func plain(v float64) string {
	s := strconv.FormatFloat(v, 'g', 8, 64)
	if strings.Contains(s, "e") {
		s = strconv.FormatFloat(v, 'f', 6, 64)
	}
	return s
}

func timeText(s float64, n apex.Notation) string {
	for _, text := range []string{apex.FormatTime(s), "1/" + plain(1/s)} {
		if v, err := apex.ParseTime(text, n); err == nil && math.Abs(v/s-1) < 1e-6 {
			return text
		}
	}
	return plain(s) + " s"
}

// deltaText is a difference in words, to as many places as hold it.
func deltaText(stops float64) string {
	for places := 1; places <= 4; places++ {
		text := overTo(stops, places)
		if v, err := apex.ParseDelta(text); err == nil && math.Abs(v-stops) <= 1e-6 {
			return text
		}
	}
	return overTo(stops, 4)
}

// differenceText is a difference as it was typed.
func (r *recorder) differenceText(g *Given) string {
	if v, err := apex.ParseDelta(g.Text); err == nil && same(&v, g.Difference) {
		return g.Text
	}
	return deltaText(*g.Difference)
}

// cameraText is an aperture as a camera shows it where that is near enough, else in
// tenths.
func cameraText(e *setup.Exposure, av float64) string {
	n := e.Notation()
	n.Comma = true
	mark := e.CameraMark(av)
	if read, err := apex.ParseReading(mark, n); err == nil && math.Abs(read.Value-av) <= unmoved {
		return mark
	}
	return apex.Tenths(av)
}
