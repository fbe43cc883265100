// Package grammar is the one table of what a setup file, a gear file, a house
// file and a page format may say: every key, what it takes, the words it knows
// and one sentence on each. The decoder, the "did you mean" hints and the schema
// that editors complete from all read this table, so they cannot drift apart.
//
// It is data: constants in slices, laid out by the compiler, no work at start.
package grammar

// Form is a set of the shapes a value may be written in.
type Form uint8

// The forms. Names is a mapping whose keys are names of the set, not keys of
// the format: a tape's anchors.
const (
	Text Form = 1 << iota
	Map
	List
	Names
)

// Has reports whether the set holds all of want.
func (f Form) Has(want Form) bool { return f&want == want }

// Notation is how a text is to be understood.
type Notation uint8

// The notations.
const (
	Words       Notation = iota // free text
	Word                        // one of Key.Words; others are refused
	OpenWord                    // one of Key.Words, or the user's own, kept with a warning
	Length                      // "1.2 m", bare in the file's units
	Millimetres                 // "85 mm", bare in mm
	Reading                     // "f/8 +0.4", "EV 13.3"
	Time                        // "1/200"
	Speed                       // ISO, 200
	Stops                       // a positive count of stops
	Delta                       // a signed difference in stops
	Power                       // "1/4 +0.2", "62 Ws", "-3.3"
	Number                      // a plain number, with the unit named in Key.Unit allowed after it
	YesNo                       // yes or no
	Date                        // 2026-03-14
	Angle                       // "55 left"
	Clock                       // "7:30"
	Frame                       // "36x24"
	Shorthand                   // the one-line form of the object named in Key.Of
)

// Key is one key of one object.
type Key struct {
	Name   string   // canonical: lower case, words apart by one space
	Also   []string // other spellings that mean the same
	Takes  Form
	Items  Form                     // what the members of a list may be
	Of     string                   // the object that a Map, or a Map in a List, is
	As     Notation                 // how the text, or a text in a list, is understood
	Unit   string                   // for Number: the unit that may follow
	Words  []string                 // for Word and OpenWord
	Yes    bool                     // yes and no are understood as well
	For    []string                 // of a page format: the documents that have it; nil is all
	About  func(word string) string // a sentence on each of Words; nil for none
	Needed bool                     // a file without it is refused
	Doc    string
}

// Object is one kind of mapping.
type Object struct {
	Name string
	Doc  string
	Keys []Key
}

// Find gives the object of that name, or nil.
func Find(name string) *Object {
	for _, table := range [...][]Object{objects, house, format, binder} {
		for i := range table {
			if table[i].Name == name {
				return &table[i]
			}
		}
	}
	return nil
}

// Objects gives the objects of setup and gear files, in a fixed order, the
// setup file first.
func Objects() []Object { return objects }

// Key finds a key by a name already in canonical form, other spellings
// included; nil when there is none.
func (o *Object) Key(name string) *Key {
	for i := range o.Keys {
		k := &o.Keys[i]
		if k.Name == name {
			return k
		}
		for _, a := range k.Also {
			if a == name {
				return k
			}
		}
	}
	return nil
}

// SameKey reports whether two keys mean the same: spelled alike but for case,
// spaces, hyphens and underscores, or two spellings of one key of some object.
func SameKey(a, b string) bool {
	a, b = Canonical(a), Canonical(b)
	if a == b {
		return true
	}
	for _, table := range [...][]Object{objects, house, format, binder} {
		for i := range table {
			if k := table[i].Key(a); k != nil && k == table[i].Key(b) {
				return true
			}
		}
	}
	return false
}

// Names gives the names of the keys in the order of the table.
func (o *Object) Names() []string {
	out := make([]string, 0, len(o.Keys))
	for _, k := range o.Keys {
		out = append(out, k.Name)
	}
	return out
}

// Canonical lowers a key and makes hyphens, underscores and runs of spaces one
// space.
func Canonical(s string) string {
	out := make([]byte, 0, len(s))
	gap := false
	for i := 0; i < len(s); i++ {
		c := s[i]
		if c == ' ' || c == '-' || c == '_' {
			gap = len(out) > 0
			continue
		}
		if gap {
			out = append(out, ' ')
			gap = false
		}
		if c >= 'A' && c <= 'Z' {
			c += 'a' - 'A'
		}
		out = append(out, c)
	}
	return string(out)
}
