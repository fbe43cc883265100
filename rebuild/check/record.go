package check

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"stopleaf/exposure"
	"stopleaf/setup"
	"stopleaf/setup/edit"
)

// recorder writes today's readings into the text of a setup.
type recorder struct {
	*checker
	src   *edit.Source
	base  *float64 // what the zero reads in the new file; nil where it stays as recorded
	kept  []string // not metered: their differences stay
	gone  []string // left out, for it was found at other readings
	asked []string // could not be written down
	err   error

	unwritten []int // those lights
}

// Recorded is a setup file with today's readings.
type Recorded struct {
	Text    []byte
	Said    []string // what was not metered, and what was left out since it belonged to other readings
	Written Today    // the readings that stand in it
}

// Record writes today's readings into the text of a setup file, src, in the places
// of the recorded ones; comments and order stay. s is the setup that src was read
// as, in no look; to is the file that it is for, whose folder its paths start from.
func Record(src []byte, s *setup.Setup, to string, today Today) (*Recorded, error) {
	c := &checker{s: s, today: today}
	c.settle()
	c.findings()
	r := &recorder{checker: c, base: c.zeroAv}
	if r.base == nil {
		r.base = today.BaseAv
	}
	out := &Recorded{Written: today}
	var err error
	if r.src, err = edit.Open(s.File, src); err != nil {
		return nil, err
	}
	if _, err = r.src.RelativePaths(s.File, to); err != nil {
		return nil, err
	}
	r.exposure()
	for i := 0; i < len(s.Lights); i++ {
		item := []int{i}
		if p := s.Lights[i].Pair; p != nil && i+1 < len(s.Lights) && s.Lights[i+1].Pair != nil && s.Lights[i+1].Pair.Of == p.Of {
			i++
			item = append(item, i)
		}
		r.light(item)
	}
	if r.err != nil {
		return nil, r.err
	}
	out.Written.Readings = slices.DeleteFunc(slices.Clone(today.Readings), func(g Given) bool {
		return len(g.Lights) > 0 && slices.Contains(r.unwritten, g.Lights[0])
	})
	out.Said = r.told()
	r.src.Header(wrapped(append([]string{fmt.Sprintf("The readings of another day in the places of those of %s (stopleaf check --record).", s.Code)}, out.Said...))...)
	out.Text, err = r.src.Bytes()
	return out, err
}

// told sums up what a person must know.
func (r *recorder) told() []string {
	var out []string
	add := func(what string, list []string) {
		if len(list) > 0 {
			out = append(out, what+": "+strings.Join(list, ", ")+".")
		}
	}
	add("Not metered, with the difference that was recorded", r.kept)
	add("Left out, for it was found at other readings", r.gone)
	add("Not written down", r.asked)
	return out
}

// wrapped breaks lines for a comment at the head of a file.
func wrapped(lines []string) []string {
	var out []string
	for _, l := range lines {
		now := ""
		for _, word := range strings.Fields(l) {
			if now != "" && utf8.RuneCountInString(now)+1+utf8.RuneCountInString(word) > 100 {
				out, now = append(out, now), ""
			}
			now = strings.TrimSpace(now + " " + word)
		}
		out = append(out, now)
	}
	return out
}

func (r *recorder) do(err error) {
	if r.err == nil {
		r.err = err
	}
}

func (r *recorder) set(p edit.Path, text string) { r.do(r.src.Set(p, text)) }

// drop takes out what no longer holds, and remembers what it was.
func (r *recorder) drop(what string, p edit.Path) {
	if !r.src.Has(p) {
		return
	}
	if was, ok := r.src.Text(p); ok {
		what += " (" + was + ")"
	}
	r.gone = append(r.gone, what)
	r.do(r.src.Delete(p))
}

// exposure sets down the zero's reading, the ISO and the shutter, and what goes
// with them.
func (r *recorder) exposure() {
	e := &r.s.Exposure
	moved := math.Abs(r.moreISO) > 1e-6 || math.Abs(stopsOver(r.out.ShutterS, e.ShutterS)) > 1e-6
	if r.today.ISO != nil && !same(r.today.ISO, e.ISO) {
		r.set(edit.Path{"exposure", "iso"}, plain(*r.today.ISO))
	}
	if r.today.ShutterS != nil && !same(r.today.ShutterS, e.ShutterS) {
		r.set(edit.Path{"exposure", "shutter"}, timeText(*r.today.ShutterS, e.Notation()))
	}
	g := r.given(nil)
	switch {
	case e.Zero == exposure.Ambient && r.base != nil:
		r.set(r.ambientPath(), r.text(g, *r.base))
	case e.Zero != exposure.Ambient && g != nil:
		r.set(r.ambientPath(), r.text(g, r.av(g)))
	case e.Zero != exposure.Ambient && moved && e.AmbientAv != nil:
		r.drop("the room's own light", edit.Path{"exposure", "ambient"})
	}
	if r.base == nil {
		return
	}
	if e.Zero == "" || r.src.Has(edit.Path{"exposure", "key"}) {
		r.set(edit.Path{"exposure", "key"}, r.text(r.zeroGiven(), *r.base))
	}
	if e.KeyAv == nil || math.Abs(*r.base-*e.KeyAv) <= unmoved {
		return
	}
	switch at := *r.base - *e.KeyAv; { // the camera keeps its offset from the zero
	case e.ApertureAv == nil:
	case *e.ApertureAv+at < leastAv || *e.ApertureAv+at > mostAv:
		r.drop("the camera's aperture", edit.Path{"exposure", "aperture"})
	default:
		r.set(edit.Path{"exposure", "aperture"}, cameraText(e, *e.ApertureAv+at))
	}
	r.drop("the background's reading", edit.Path{"background", "reading"})
}

// What the file format takes for an aperture: f/0.5 to f/128.
const leastAv, mostAv = -2.0, 14.0

// unmoved is how far a reading may move with what was found with it still taken
// to hold, in stops.
const unmoved = 0.05

func (r *recorder) ambientPath() edit.Path {
	if r.src.Has(edit.Path{"exposure", "ambient", "reading"}) {
		return edit.Path{"exposure", "ambient", "reading"}
	}
	return edit.Path{"exposure", "ambient"}
}

// zeroGiven is the reading of the zero, nil for none.
func (r *recorder) zeroGiven() *Given {
	for i := range r.today.Readings {
		if g := &r.today.Readings[i]; r.isZero(g.Lights) {
			return g
		}
	}
	return nil
}

// av is what a reading is as an aperture, from a difference too.
func (r *recorder) av(g *Given) float64 {
	switch {
	case g.Av != nil:
		return *g.Av
	case r.base != nil:
		return *r.base + *g.Difference
	case r.s.Exposure.KeyAv != nil:
		return *r.s.Exposure.KeyAv + *g.Difference
	}
	return math.NaN()
}
