// Package adapt makes a setup fit another day: another base aperture, speed or
// shutter, another room, other heads and modifiers, the sitter's other side, a
// lower face, another lens.
//
// It works in two halves. What is to be is worked out on meant values, in metres
// and stops, on a copy of the setup. Then the text of the file is edited until it
// means that: values that changed, in the notation they had, and nothing else.
// What could not be kept is a warning with figures.
//
// It belongs here when it is about what follows from another day. What stands
// where in the text of a file belongs to setup/edit, the arithmetic to exposure.
package adapt

import (
	"stopleaf/rebuild/heads"
	"stopleaf/setup"
)

// Options is what to adapt to. What is nil or empty stays as it is.
type Options struct {
	BaseAv    *float64   // what the key is to read
	ISO       *float64   // film speed
	ShutterS  *float64   // s; when it is not given, it follows, to hold what follows it
	Room      setup.Room // m: the walls and the ceiling that are given
	Scale     float64    // of how far the lights stand from what they light; 0 is 1
	Heads     []Swap     // other heads, by light
	Modifiers []Swap     // other modifiers, by light
	Mirror    bool       // the sitter's other side
	FaceM     *float64   // m, the height of the face
	LensMM    *float64   // mm

	Learned  *heads.Table   // what heads were found to give; nil for nothing
	Said     string         // the options as they were given, for the head of the file
	Made     string         // the day, for the head of the file; "" for none
	Name     string         // the new file, for paths and problems; "" and "-" stay in the old one's folder
	Read     setup.Options  // how the old file was read
	Problems setup.Problems // what was said of the old file when it was read
}

// Swap is what one light gets in place of what it had, by its name in the gear.
type Swap struct{ Light, Gear string }

// Change is one value of the file that changed, as it is written.
type Change struct {
	Item string `json:"item"` // "Key", "exposure", "room"
	What string `json:"what"` // the key: "power", "place"
	From string `json:"from"` // "" for what was not there
	To   string `json:"to"`   // "" for what was taken out
	Why  string `json:"why"`
}

// Result is the new file.
type Result struct {
	Source  []byte
	Setup   *setup.Setup // as the new file reads
	Changes []Change     // in the order of the old file
	Warned  setup.Problems
}

// Refusal is an option that cannot be carried out at all; nothing is made then.
type Refusal struct {
	Option  string // "base", "swap"
	Message string
	Hint    string
	Pos     setup.Pos // where the file lacks something; no line when the option itself is wrong
}

func (r *Refusal) Error() string { return r.Message }
