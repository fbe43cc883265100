package check

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
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
// as, in no look.
func Record(src []byte, s *setup.Setup, today Today) (*Recorded, error) {
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

// light sets down one item of the list, which is two lights for a pair.
func (r *recorder) light(item []int) {
	name := r.s.Lights[item[0]].Name
	if p := r.s.Lights[item[0]].Pair; p != nil {
		name = p.Of
	}
	at := edit.Path{"lights", name}
	var given []*Given
	for _, i := range item {
		if g := r.given([]int{i}); g != nil {
			given = append(given, g)
		}
	}
	switch {
	case r.isZero(item):
		named := r.s.Exposure.Zero != "" && !r.src.Has(edit.Path{"exposure", "key"})
		if r.base != nil && (named || r.src.Has(under(at, "reading"))) {
			r.amount(at, "reading", r.text(r.zeroGiven(), *r.base))
		}
	case len(given) < len(item):
		if len(given) > 0 {
			r.unwritten = append(r.unwritten, item...)
			r.asked = append(r.asked, fmt.Sprintf("%s, of which one was metered", name))
		}
		r.keep(at, name, item)
		given = nil
	case len(item) == 2:
		r.pair(at, name, given)
	default:
		r.one(at, given[0])
	}
	r.settings(at, name, item, given)
}

func under(p edit.Path, key ...string) edit.Path { return append(slices.Clone(p), key...) }

// amount writes a light's reading or its difference, in the place of the other.
func (r *recorder) amount(at edit.Path, key, text string) {
	other := map[string]string{"reading": "delta", "delta": "reading"}[key]
	if r.src.Has(under(at, other)) {
		r.do(r.src.Rename(under(at, other), key))
	}
	if r.err == nil {
		r.set(under(at, key), text)
	}
}

// one writes what one light, or both of a pair together, read.
func (r *recorder) one(at edit.Path, g *Given) {
	if g.Av == nil {
		r.amount(at, "delta", r.differenceText(g))
		return
	}
	r.amount(at, "reading", r.text(g, *g.Av))
}

// pair writes what both of a pair read: alike, or L and then R.
func (r *recorder) pair(at edit.Path, name string, given []*Given) {
	l, rt := given[0], given[1]
	if l == rt || len(l.Lights) == 2 {
		r.one(at, l)
		return
	}
	pair := r.s.Lights[l.Lights[0]].Pair
	alike := l.Av != nil && rt.Av != nil && same(l.Av, rt.Av) || l.Difference != nil && rt.Difference != nil && same(l.Difference, rt.Difference)
	if !alike && (math.IsNaN(r.av(l)) || math.IsNaN(r.av(rt))) {
		r.unwritten = append(r.unwritten, l.Lights[0], rt.Lights[0])
		r.asked = append(r.asked, name+", whose two differ by differences alone")
		return
	}
	if pair.Metered == "both" { // each was metered alone today
		p := under(at, "pair")
		if r.src.Has(under(p, "metered")) {
			p = under(p, "metered")
		}
		r.set(p, "each")
	}
	if alike {
		r.one(at, l)
		return
	}
	if r.src.Has(under(at, "delta")) {
		r.do(r.src.Rename(under(at, "delta"), "reading"))
	}
	if r.err == nil {
		r.do(r.src.SetYAML(under(at, "reading"), "["+yamlWord(r.text(l, r.av(l)))+", "+yamlWord(r.text(rt, r.av(rt)))+"]"))
	}
}

// yamlWord quotes what a list in brackets would take apart.
func yamlWord(s string) string {
	if strings.ContainsAny(s, ",[]{}#:\"'") {
		return strconv.Quote(s)
	}
	return s
}

// keep holds the difference of a light that was not metered, where its recorded
// reading would give it another.
func (r *recorder) keep(at edit.Path, name string, item []int) {
	if r.s.Lights[item[0]].Off {
		return
	}
	r.kept = append(r.kept, name)
	e := &r.s.Exposure
	if r.base == nil || e.KeyAv == nil || same(r.base, e.KeyAv) || !r.src.Has(under(at, "reading")) {
		return
	}
	first, last := &r.s.Lights[item[0]], &r.s.Lights[item[len(item)-1]]
	if math.Abs(first.Delta-last.Delta) > near { // two that differ cannot be written as one difference
		text := func(l *setup.Light) string { return yamlWord(r.text(nil, *l.ReadingAv+*r.base-*e.KeyAv)) }
		r.do(r.src.SetYAML(under(at, "reading"), "["+text(first)+", "+text(last)+"]"))
		return
	}
	delta := first.Delta
	if first.Pair != nil && first.Pair.Metered == "both" {
		delta++
	}
	r.amount(at, "delta", deltaText(delta))
}

// settings leaves out a power or a dimmer that was found at another reading than
// the one that now stands beside it.
func (r *recorder) settings(at edit.Path, name string, item []int, given []*Given) {
	e := &r.s.Exposure
	l := &r.s.Lights[item[0]]
	if e.KeyAv == nil || l.Source == exposure.Bounce || l.Source == exposure.Daylight {
		return
	}
	then := *e.KeyAv + r.difference(item[:1]) + r.moreISO
	if l.Source == exposure.Continuous {
		then += stopsOver(r.out.ShutterS, e.ShutterS)
	}
	base := *e.KeyAv
	if r.base != nil {
		base = *r.base
	}
	now := base + r.difference(item[:1])
	for n, g := range given {
		was := then
		if len(g.Lights) == 2 {
			was += r.difference(item) - r.difference(item[:1])
		} else if n > 0 {
			was += r.difference(item[1:]) - r.difference(item[:1])
		}
		now = then + r.av(g) - was
		if math.Abs(now-then) > unmoved {
			break
		}
	}
	if math.Abs(now-then) <= unmoved {
		return
	}
	r.drop("power of "+name, under(at, "power"))
	r.drop("dimmer of "+name, under(at, "dimmer"))
}

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
