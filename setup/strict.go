package setup

import (
	"fmt"
	"strings"

	"stopleaf/setup/grammar"
)

// Strict is a YAML file of one of our kinds other than a setup, read as strictly
// as one: every key by its table, every mistake with its place. What its values
// mean is for the reader to say, who adds problems of his own.
type Strict struct {
	m   *meaning
	top *written
}

// ReadStrict reads bytes by the object of the grammar of that name; kind is what
// people call such a file, "page format". It never panics, whatever the bytes.
func ReadStrict(file string, src []byte, object, kind string) *Strict {
	s := &Strict{m: &meaning{log: &log{}, units: Metres, s: &Setup{File: file, Units: Metres}}}
	root, problems := document(file, src, kind)
	if problems != nil {
		s.m.problems = problems
		return s
	}
	w := writer{log: s.m.log, file: file, top: object}
	w.anchors(root)
	s.top = w.mapping(root, grammar.Find(object), "the file")
	return s
}

// Top is the whole file; it has no keys when it could not be read.
func (s *Strict) Top() Value { return Value{s.top} }

// Problems are all mistakes so far, sorted.
func (s *Strict) Problems() Problems {
	s.m.problems.Sort()
	return s.m.problems
}

// Err adds an error.
func (s *Strict) Err(at Pos, code, message, hint string) { s.m.err(at, code, message, hint) }

// Value is one value of a strict file as it is written. One that is not there,
// or was wrong and is reported, is empty.
type Value struct{ w *written }

// Given says whether there is one.
func (v Value) Given() bool { return v.w != nil }

// Pos is its place in the file.
func (v Value) Pos() Pos {
	if v.w == nil {
		return Pos{}
	}
	return v.w.pos
}

// IsText says whether it is a plain text or figure.
func (v Value) IsText() bool { return v.w != nil && v.w.kind == isText }

// IsList says whether it is a list.
func (v Value) IsList() bool { return v.w != nil && v.w.kind == isList }

// Whole says whether no member of a list was wrong.
func (v Value) Whole() bool { return v.w != nil && (v.w.kind != isList || v.w.whole) }

// Text is the text on one line.
func (v Value) Text() string { return line(v.w) }

// Items are the members of a list, or a text parted at its commas.
func (v Value) Items() []Value {
	if v.w == nil {
		return nil
	}
	items := v.w.items
	if v.w.kind == isText {
		items = (&meaning{}).texts(v.w)
	}
	out := make([]Value, len(items))
	for i, w := range items {
		out[i] = Value{w}
	}
	return out
}

// Get is the value of a key.
func (v Value) Get(key string) Value { return Value{v.w.get(key)} }

// Has says whether a key is there, rightly written or not.
func (v Value) Has(key string) bool { return v.w.has(key) }

// KeyPos is the place of a key, or of the whole mapping.
func (v Value) KeyPos(key string) Pos {
	if v.w == nil {
		return Pos{}
	}
	return v.w.keyPos(key)
}

// Word is one of the known words; "" when there is none or it is wrong.
func (s *Strict) Word(v Value, known []string) string { return s.m.word(v.w, known) }

// YesNo is yes or no; nil when there is none or it is wrong.
func (s *Strict) YesNo(v Value) *bool { return s.m.yesNo(v.w) }

// Number is a number between two bounds, with or without its unit; nil when
// there is none or it is wrong. what begins the sentence that says so: "a share
// of".
func (s *Strict) Number(v Value, what, unit string, least, most float64) *float64 {
	return s.m.number(v.w, what, unit, least, most)
}

// Millimetres is a length between two bounds, bare in millimetres, or in any
// unit of a setup's.
func (s *Strict) Millimetres(v Value, what string, least, most float64) *float64 {
	if !s.m.isText(v.w, "length") {
		return nil
	}
	mm, err := parseNumber(v.w.text, "mm")
	if err != nil {
		if m, other := ParseLength(v.w.text, ""); other == nil {
			mm, err = m*1000, nil
		} else {
			err = fmt.Errorf("%s is not a length on paper: write it in millimetres, 210 or 210 mm, or with its unit, 8.5 in", quote(v.w.text))
		}
	}
	if err == nil && !(mm >= least-1e-9 && mm <= most+1e-9) {
		err = fmt.Errorf("%s %s is not between %s and %s mm", what, quote(v.w.text), short(least), short(most))
	}
	if err != nil {
		s.m.bad(v.w.pos, "length", err)
		return nil
	}
	return &mm
}

// Known are the words of a list, each one of the known; Whole is false where one
// was not. One that stands twice is an error.
func (s *Strict) Known(v Value, known []string) (words []string, whole bool) {
	whole = v.Whole()
	for _, item := range v.Items() {
		w := s.Word(item, known)
		if w == "" {
			whole = false
			continue
		}
		for _, before := range words {
			if before == w {
				s.Err(item.Pos(), "twice", fmt.Sprintf("%q stands here twice", w), "take one out")
			}
		}
		words = append(words, w)
	}
	return words, whole
}

// Suggest is the hint for a word that is not among the known ones: the nearest,
// and all of them.
func Suggest(word string, known []string) string { return suggest(strings.TrimSpace(word), known) }
