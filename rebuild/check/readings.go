package check

import (
	"fmt"
	"math"
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
