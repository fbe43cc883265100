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
)

// Given is one reading of today, understood.
type Given struct {
	Lights     []int    // indices into Setup.Lights: one, two for both of a pair burning together, none for the room's own light
	Av         *float64 // what the meter read, at today's ISO and shutter
	Difference *float64 // or stops from the zero
	Text       string   // the reading as written
	Pos        setup.Pos
}

// Ambient reports whether it is a reading of the room's own light.
func (g *Given) Ambient() bool { return len(g.Lights) == 0 }

// Reader understands readings as people type them, and collects what is wrong
// with them.
type Reader struct {
	s        *setup.Setup
	iso      *float64
	shutter  *float64
	given    []Given
	problems setup.Problems
	taken    map[int]setup.Pos // by index; ambient is -1
}

// NewReader reads for a setup at today's ISO and shutter (s), which are the
// record's where nil.
func NewReader(s *setup.Setup, iso, shutter *float64) *Reader {
	if iso == nil {
		iso = s.Exposure.ISO
	}
	if shutter == nil {
		shutter = s.Exposure.ShutterS
	}
	return &Reader{s: s, iso: iso, shutter: shutter, taken: map[int]setup.Pos{}}
}

// Readings gives what was understood and what is wrong, in the order read.
func (r *Reader) Readings() ([]Given, setup.Problems) { return r.given, r.problems }

func (r *Reader) err(at setup.Pos, code, message, hint string) {
	r.problems = append(r.problems, setup.Problem{Pos: at, Level: setup.Error, Code: code, Message: message, Hint: hint})
}

// Word reads NAME=READING, one word of a command line; it is called by itself in
// problems.
func (r *Reader) Word(word string) {
	at := setup.Pos{File: word}
	name, value, ok := r.part(word, "=")
	switch {
	case !ok && (signed(word) || isReading(word) || isWay(word)):
		r.err(at, "no-name", fmt.Sprintf("%q stands alone, without a light", word), "put what has a space in it in quotes: 'Fill=f/5.6 +0.3'")
	case !ok:
		r.err(at, "no-reading", fmt.Sprintf("%q is no reading", word), "write NAME=READING, such as Fill=f/5.6, without a space at the =; in quotes where the name has one: 'Rim L=f/8'")
	default:
		r.reading(at, at, name, value)
	}
}

// signed reports whether a word begins as a difference does.
func signed(s string) bool { return strings.IndexAny(s, "+-−") == 0 }

func isReading(s string) bool {
	_, err := apex.ParseReading(s, apex.Notation{Comma: true})
	return err == nil
}

// isWay reports whether a word says which way a difference goes.
func isWay(s string) bool {
	low := strings.ToLower(s)
	return low == "under" || low == "over"
}

// The bounds of a file of readings.
const (
	mostBytes = 1 << 20
	mostLine  = 1000
)

// File reads a file of readings: one NAME: READING a line, empty lines and lines
// that begin with # left out. Mistakes are told with their line and column.
func (r *Reader) File(name string, src []byte) {
	whole := setup.Pos{File: name}
	if len(src) > mostBytes {
		r.err(whole, "too-long", "this is no file of readings: it is too long", "one NAME: READING a line")
		return
	}
	before := len(r.given) + len(r.problems)
	text := strings.TrimPrefix(string(src), "\ufeff")
	text = strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text)
	for i, line := range strings.Split(text, "\n") {
		body := strings.TrimSpace(line)
		if body == "" || strings.HasPrefix(body, "#") || body == "---" {
			continue
		}
		r.line(name, i+1, line)
	}
	if len(r.given)+len(r.problems) == before {
		r.err(whole, "empty", "there are no readings in it", "write one NAME: READING a line, such as Fill: f/5.6")
	}
}

func (r *Reader) line(file string, number int, line string) {
	at := setup.Pos{File: file, Line: number, Col: 1 + utf8.RuneCountInString(line[:len(line)-len(strings.TrimLeft(line, " \t"))])}
	switch {
	case !utf8.ValidString(line):
		r.err(at, "not-text", "the line is not text", "save the file as UTF-8")
		return
	case len(line) > mostLine:
		r.err(at, "too-long", "the line is too long for a reading", "one NAME: READING a line")
		return
	}
	name, value, ok := r.part(line, ":=")
	if !ok {
		r.err(at, "no-reading", fmt.Sprintf("%s is no reading", quoted(strings.TrimSpace(line))), "write NAME: READING, such as Fill: f/5.6")
		return
	}
	valueAt := at
	valueAt.Col = 1 + utf8.RuneCountInString(line[:len(line)-len(strings.TrimLeft(value, " \t"))])
	if i := strings.Index(value, " #"); i >= 0 {
		value = value[:i]
	}
	r.reading(at, valueAt, name, value)
}

// part cuts a name from its reading at one of the signs. Where there are several
// the longest part that is a name counts, for a name may have the sign in it.
func (r *Reader) part(s, signs string) (name, value string, ok bool) {
	first := -1
	for i := len(s) - 1; i >= 0; i-- {
		if !strings.ContainsRune(signs, rune(s[i])) {
			continue
		}
		first = i
		if found, _ := r.find(bare(s[:i])); found != nil {
			return bare(s[:i]), s[i+1:], true
		}
	}
	if first < 0 {
		return "", "", false
	}
	return bare(s[:first]), s[first+1:], true
}

// bare is a text without spaces about it, or the quotes that YAML has.
func bare(s string) string {
	s = strings.TrimSpace(s)
	if n := len(s); n >= 2 && (s[0] == '"' || s[0] == '\'') && s[n-1] == s[0] {
		s = strings.TrimSpace(s[1 : n-1])
	}
	return strings.Join(strings.Fields(s), " ")
}

func quoted(s string) string {
	if r := []rune(s); len(r) > 60 {
		s = string(r[:57]) + "..."
	}
	return strconv.Quote(s)
}

// target is what a name stands for.
type target struct {
	lights []int // none for the room's own light
	pair   *setup.Pair
}

// find looks a light up by its name, a pair by the name of both, then by number;
// else it says why there is none.
func (r *Reader) find(name string) (found *target, problem string) {
	var both []int
	for i := range r.s.Lights {
		l := &r.s.Lights[i]
		if strings.EqualFold(l.Name, name) {
			return &target{lights: []int{i}}, ""
		}
		if l.Pair != nil && strings.EqualFold(l.Pair.Of, name) {
			both = append(both, i)
		}
	}
	if len(both) > 0 {
		return &target{lights: both, pair: r.s.Lights[both[0]].Pair}, ""
	}
	if strings.EqualFold(name, exposure.Ambient) {
		return &target{}, ""
	}
	number, err := strconv.Atoi(strings.TrimPrefix(name, "#"))
	if err == nil {
		for i := range r.s.Lights {
			if r.s.Lights[i].Number == number {
				return &target{lights: []int{i}}, ""
			}
		}
	}
	for i := range r.s.Lights { // the key by its part, whatever it is called
		if r.s.Lights[i].Role == "key" && strings.EqualFold(name, "key") {
			return &target{lights: []int{i}}, ""
		}
	}
	for _, g := range r.s.Grip {
		if strings.EqualFold(g.Name, name) || err == nil && g.Number == number {
			return nil, fmt.Sprintf("%s gives no light, and has no reading", quoted(g.Name))
		}
	}
	return nil, fmt.Sprintf("there is no light %s", quoted(name))
}

// names are the lights in metering order, for hints.
func (r *Reader) names() []string {
	var out []string
	for _, i := range r.s.MeteringOrder() {
		out = append(out, r.s.Lights[i].Name)
	}
	return out
}

func (r *Reader) nearest(name string) string {
	known := r.names()
	for i := range r.s.Lights {
		if p := r.s.Lights[i].Pair; p != nil && !slices.Contains(known, p.Of) {
			known = append(known, p.Of)
		}
	}
	if n := setup.Nearest(name, append(known, "Ambient")); n != "" {
		return fmt.Sprintf("did you mean %q?", n)
	}
	return "the lights are " + strings.Join(r.names(), ", ") + "; a number of the table does too"
}

// reading takes one reading of what name stands for.
func (r *Reader) reading(at, valueAt setup.Pos, name, value string) {
	found, problem := r.find(name)
	if found == nil {
		r.err(at, "unknown-light", problem, r.nearest(name))
		return
	}
	g := Given{Lights: found.lights, Text: bare(value), Pos: at}
	if !r.free(at, name, found) || !r.recorded(at, found) || !r.value(valueAt, name, &g) {
		return
	}
	if g.Difference != nil && r.zero(&g) {
		if math.Abs(*g.Difference) > near {
			r.err(valueAt, "zero-difference", fmt.Sprintf("%s is what every difference is from, and has none of its own", quoted(name)), "give what it reads, such as "+name+"=f/8")
		}
		return // 0 says nothing
	}
	if found.pair != nil && found.pair.Metered == "each" { // one figure for each alone
		for _, i := range found.lights {
			one := g
			one.Lights = []int{i}
			r.given = append(r.given, one)
		}
		return
	}
	r.given = append(r.given, g)
}

// zero reports whether a reading is of what every difference is from.
func (r *Reader) zero(g *Given) bool {
	if g.Ambient() {
		return r.s.Exposure.Zero == exposure.Ambient
	}
	return len(g.Lights) == 1 && r.s.IsZero(&r.s.Lights[g.Lights[0]])
}

// free takes what a name stands for, and refuses what was given before.
func (r *Reader) free(at setup.Pos, name string, t *target) bool {
	keys := t.lights
	if len(keys) == 0 {
		keys = []int{-1}
	}
	for _, k := range keys {
		if first, twice := r.taken[k]; twice {
			where := "at " + first.String()
			if first.Line == 0 {
				where = "as " + quoted(first.File)
			}
			called := name
			if k >= 0 {
				called = r.s.Lights[k].Name
			}
			r.err(at, "given-twice", fmt.Sprintf("%s is given twice, first %s", quoted(called), where), "keep the one that was metered last")
			return false
		}
	}
	for _, k := range keys {
		r.taken[k] = at
	}
	return true
}

// recorded refuses a reading that nothing in the record can be held against.
func (r *Reader) recorded(at setup.Pos, t *target) bool {
	for _, i := range t.lights {
		if l := &r.s.Lights[i]; l.Off {
			r.err(at, "light-off", fmt.Sprintf("%s is off in the look %s", quoted(l.Name), quoted(r.s.Look)), "take its reading out, or leave --look out")
			return false
		}
	}
	e := &r.s.Exposure
	if len(t.lights) == 0 && e.Zero != exposure.Ambient && (e.AmbientAv == nil || e.KeyAv == nil) {
		r.err(at, "no-ambient", "the record does not say what the room's own light read, with the key", "it has no \"ambient\" and \"key\" under \"exposure\" to hold this against")
		return false
	}
	return true
}

// value understands the reading itself.
func (r *Reader) value(at setup.Pos, name string, g *Given) bool {
	if g.Text == "" {
		hint := "write it after the name, without a space: " + name + "=f/5.6"
		if at.Line > 0 {
			hint = "write it after the name: " + name + ": f/5.6"
		}
		r.err(at, "no-reading", fmt.Sprintf("%s has no reading", quoted(name)), hint)
		return false
	}
	if d, err := apex.ParseDelta(g.Text); err == nil {
		g.Difference = &d
		return true
	} else if low := strings.ToLower(g.Text); signed(g.Text) || strings.HasSuffix(low, "under") || strings.HasSuffix(low, "over") {
		r.bad(at, err)
		return false
	}
	n := r.s.Exposure.Notation()
	n.Comma = true
	read, err := apex.ParseReading(g.Text, n)
	if err != nil {
		r.bad(at, err)
		return false
	}
	if read.Warning != "" {
		r.problems = append(r.problems, setup.Problem{Pos: at, Level: setup.Warning, Code: "bare-decimal", Message: read.Warning,
			Hint: "write the mark and the tenths, or settle it with \"readings\" under \"exposure\" in the setup"})
	}
	return r.aperture(at, read, g)
}

// aperture works out what a reading is as an aperture at today's exposure.
func (r *Reader) aperture(at setup.Pos, read apex.Reading, g *Given) bool {
	tv, sv := 0.0, 0.0
	if read.NeedsTime() {
		if r.shutter == nil {
			r.err(at, "no-shutter", fmt.Sprintf("%s is an exposure value, and the shutter is not known", quoted(g.Text)), "add --shutter 1/125, or give the reading as an f-number")
			return false
		}
		tv = apex.Tv(*r.shutter)
	}
	if read.NeedsISO() {
		if r.iso == nil {
			r.err(at, "no-iso", fmt.Sprintf("%s is an exposure value at ISO 100, and the ISO is not known", quoted(g.Text)), "add --iso 200, or give the reading as an f-number")
			return false
		}
		sv = apex.Sv(*r.iso)
	}
	av := read.Av(tv, sv)
	if !(av >= -10 && av <= 20) {
		r.err(at, "bad-reading", fmt.Sprintf("%s is no aperture at this shutter", quoted(g.Text)), "check the shutter and the reading")
		return false
	}
	g.Av = &av
	return true
}

// bad adds the error of a parser, "what is wrong: what to write".
func (r *Reader) bad(at setup.Pos, err error) {
	message, hint := setup.SplitMessage(err)
	r.err(at, "bad-reading", message, hint)
}
