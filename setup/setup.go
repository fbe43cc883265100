// Package setup reads a setup file: first as written (each value with its line
// and column), then as meant (SI units, places solved, pairs expanded, gear
// looked up). It reports every mistake at once.
//
// It belongs here when it is about what the file says or whether that adds up.
// Arithmetic over the meant values belongs to package exposure, dangers to
// package safety, anything drawn to package layout.
//
// Axes, everywhere: X ("right") to the camera's right, Y ("front") from the
// subject toward the camera, Z up; origin on the floor at the subject mark.
// Metres, seconds, kilograms, amperes, stops. A nil pointer is "not known".
package setup

import (
	"math"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
	"stopleaf/setup/photo"
)

// Units are what bare lengths were written in; pages print in them.
type Units string

// The units.
const (
	Metres      Units = "m"
	Centimetres Units = "cm"
	Feet        Units = "ft"
	Inches      Units = "in"
)

// Where remembers the places in the file of an item and of its keys, so that a
// warning found later still points at the line.
type Where struct {
	Item Pos
	Keys map[string]Pos // by canonical key, "height to", "place"
}

// Key gives the place of one key, or of the item when the key is not there.
func (w Where) Key(k string) Pos {
	if p, ok := w.Keys[k]; ok {
		return p
	}
	return w.Item
}

// Setup is one setup as meant.
type Setup struct {
	File string // as named on the command line; "-" for standard input
	Root string // the folder no photo or gear path may leave

	Title         string
	Code          string // default: the file's name without its ending
	Made          string // "2026-03-14", or ""
	By            string // owner
	Tags          []string
	Units         Units
	Notes         string
	Private       string // never printed
	Hazards       []string
	Gear          string     // the gear file as written, or ""
	GearHeads     []Head     // all of the gear file's
	GearModifiers []Modifier // and its modifiers
	Packs         []*Pack    // those that lights hang on, in the order of the lights
	Looks         []Look     // variants of the set, as the file names them
	Look          string     // the look this is, which WithLook gave; "" for the set as written
	titled        string     // the title without the look

	Exposure   Exposure
	Camera     Camera
	Subject    Subject
	Background *Background
	Room       *Room
	Mains      *Mains
	Photos     []Photo
	Lights     []Light
	Grip       []Grip

	House *House // the house settings over this setup; nil for none

	Where Where
	Files []string // every file that was read: setup, gear, photos; for --watch

	top     *written // the file as written
	gearTop *written // the gear as written; nil for none
	source  []byte   // the file's own bytes
	gearSrc []byte   // those of the gear file; nil for none

	canonical []byte // in place of these; see Lean
}

// Exposure is what was recorded of the exposure.
type Exposure struct {
	ISO          *float64
	ShutterS     *float64 // exact step
	SyncS        *float64
	KeyAv        *float64 // of the zero, where there is no key
	Zero         string   // what every difference is from where there is no key: a light's name, or exposure.Ambient
	ApertureAv   *float64
	AmbientAv    *float64
	Bases        []exposure.Base // as written in the file; empty when absent
	WhiteBalance *float64        // kelvin
	Halves       bool            // the camera moves in half stops, not thirds
	notation     apex.Notation   // how bare figures are meant in this file
	Where        Where
}

// Notation is how bare figures are meant in this file, and in readings that are
// told beside it.
func (e *Exposure) Notation() apex.Notation { return e.notation }

// CameraMark prints an aperture as the camera would show it: the nearest mark of
// the series it moves in.
func (e *Exposure) CameraMark(av float64) string {
	if e.Halves {
		return apex.Half(av)
	}
	return apex.Third(av)
}

// Camera is the camera as recorded; every member may be unknown.
type Camera struct {
	Given       bool
	Distance    *float64 // m from the subject mark, along the floor
	Height      *float64 // m, lens axis above the floor
	FocalMM     *float64
	WidestAv    *float64
	FormatW     float64 // mm, the long side; 36 unless said
	FormatH     float64 // mm, the short side; 24 unless said
	FormatGiven bool
	Upright     bool // frame held upright
	FrameGiven  bool
	Note        string
	LookFor     string
	Mark        string
	Trigger     string
	Private     string // never printed
	Where       Where
}

// Subject is who or what is lit.
type Subject struct {
	Given     bool
	Kind      string  // person, group, object, animal
	Posture   string  // standing, seated, lying
	Face      float64 // m, aim height above the mark; default by posture, used for geometry
	FaceGiven bool
	Turned    float64  // degrees, positive to camera right
	Height    *float64 // m
	Top       *float64 // m, highest point above the floor
	Width     *float64 // m
	Depth     *float64 // m
	Note      string
	LookFor   string
	Mark      string
	Trigger   string
	Private   string // never printed
	Where     Where
}

// Background is the plane behind the subject.
type Background struct {
	Kind      string
	Tone      string
	Distance  *float64 // m straight behind the mark
	Width     *float64 // m
	Height    *float64 // m
	ReadingAv *float64
	Note      string
	LookFor   string
	Mark      string
	Trigger   string
	Private   string // never printed
	Where     Where
}

// Room is the distance from the subject mark to each wall, and the ceiling.
type Room struct {
	Left, Right, Front, Behind, Ceiling *float64
	Where                               Where
}

// Mains is the supply.
type Mains struct {
	Volts    float64
	Circuits []Circuit
	Where    Where
}

// Circuit is one breaker and the lead laid from it.
type Circuit struct {
	Name    string
	Breaker *float64 // A
	Lead    *Lead
	Where   Where
}

// Lead is an extension lead: one-way length and conductor section.
type Lead struct {
	Length  *float64 // m
	Section *float64 // mm²
}

// Photo is a picture named by the file.
type Photo struct {
	File    string // as written
	Path    string // resolved
	Shows   string // "result", "set"
	Caption string
	Picture *photo.Picture // nil when it was not loaded
	Err     error          // why not
	Where   Where
	at      Pos // of the file's name
}

// Place is where an item stands.
type Place struct {
	Right  float64  // m, positive to the camera's right
	Front  float64  // m, positive toward the camera
	Height *float64 // m, centre of what shines above the floor
	Lower  *float64 // m, its lower edge above the floor
	Form   string   // how it was written: "angle", "clock", "slant", "cartesian", "tape", "under", "over"
	Ref    string   // the light it stands under or over
	Slant  *float64 // m, the tape from the face as written
	Tapes  []Tape   // as written
}

// Tape is one recorded tape along the floor.
type Tape struct {
	From   string // "subject", "camera", an item's name, "background"
	Length float64
}

// Distance is along the floor from the subject mark, m.
func (p Place) Distance() float64 { return math.Hypot(p.Right, p.Front) }

// Angle is 0 toward the camera, 180 behind; side is "left", "right" or "" on
// the axis (within 0.05 degrees).
func (p Place) Angle() (deg float64, side string) {
	deg = math.Abs(math.Atan2(p.Right, p.Front)) * 180 / math.Pi
	switch {
	case deg < 0.05 || deg > 179.95:
		return deg, ""
	case p.Right < 0:
		return deg, "left"
	}
	return deg, "right"
}

// Aim is what a light points at: the point before any feathering. Feather then
// turns the light off it.
type Aim struct {
	Target               string  // "face", "crown", "chest", "hands", "background", an item's name, "place"
	Right, Front, Height float64 // the point, m
	Feather              *Feather
	Given                bool
	Unknown              bool // the point cannot be known: its target has no place
}

// Feather turns the light off its aim.
type Feather struct {
	Deg    float64
	Toward string // "camera", "background", "left", "right", "up", "down"
}

// Modifier is what shapes the light.
type Modifier struct {
	Text      string // as printed, the kind with its size: "octabox 1.2 m"
	Kind      string
	Known     bool // a kind we know
	Shines    exposure.Shape
	Width     *float64 // m; for a disc the diameter
	Height    *float64 // m; for a disc the diameter
	Diameter  *float64 // m, when given as such
	Grid      *float64 // degrees; 0 when a grid is named without a size
	Gel       *Gel
	Diffusers []string // "inner", "front"
	Mass      *float64 // kg
	Gear      string   // its name in the gear file, or ""
	Where     Where
}

// Gel is a colour filter on the light.
type Gel struct {
	Name  string
	Mired *float64
	Loss  *float64 // stops, positive
}

// Head is a flash head or panel, from the gear file or written out.
type Head struct {
	Name      string // its name in the gear file, or ""
	Kind      string
	EnergyWs  *float64
	Range     *float64 // stops from full to least, positive
	Step      *float64 // stops
	Dial      exposure.Dial
	Modelling *Modelling
	Supply    string   // "mains", "battery", ""
	Mass      *float64 // kg
	Current   *float64 // A, the maker's figure
	Watts     *float64 // W, a continuous lamp's own consumption
	Outputs   []Output
	Where     Where
}

// Modelling is the lamp one sees by.
type Modelling struct {
	Watts *float64
	Lamp  string // "halogen", "led", ""
}

// Output is what was once metered from a head.
type Output struct {
	ReadsAv    float64
	At         float64 // m
	ISO        float64
	With       string    // modifier, as written; "" for a bare head
	PowerStops float64   // from full; 0 unless said
	Modifier   *Modifier // what With names; nil for none, and where it is not understood
	Pos        Pos
}

// Stand is what a light hangs on.
type Stand struct {
	Name          string
	Kind          string   // stand, boom, floor, hanging
	Footprint     *float64 // m, diameter of the circle of its feet
	Mass          *float64 // kg
	Bag           *float64 // kg, the bag recorded on it
	Reach         *float64 // m, boom: column to head
	Behind        *float64 // m, boom: column to counterweight
	Counterweight *float64 // kg
	Base          *Place   // boom: where its column stands
	Where         Where
}

// Meter is where and how the light was metered.
type Meter struct {
	At     string // "face" unless said
	Dome   string // "out", "in", ""
	Toward string // "light" unless said, "camera", ...
	Given  bool
}

// Pair says how a light came out of a mirrored pair.
type Pair struct {
	Of      string // the name in the file
	Side    string // "L" or "R"
	Metered string // "each" or "both"
}

// Light is one light, pairs expanded.
type Light struct {
	Number    int
	Name      string
	Role      string
	Source    exposure.Source
	LitBy     string // bounce: the light that feeds it
	Delta     float64
	DeltaText string   // as written, when the file gave a difference
	ReadingAv *float64 // as written, when the file gave a reading
	Place     *Place
	Aim       Aim
	Modifier  *Modifier
	Head      *Head
	Pack      *PackUse // the power pack it hangs on
	Off       bool     // off in this look
	Power     *float64 // stops from full, 0 or less; a look may ask for more than full
	PowerText string   // as written
	Dimmer    *float64 // percent, a panel's
	Stand     *Stand
	Meter     Meter
	Pair      *Pair
	Front     *bool
	Tolerance *float64
	Trigger   string
	Circuit   string
	Mark      string
	LookFor   string
	Note      string
	Private   string // never printed
	Where     Where
}

// Grip is an item that shapes light without making any.
type Grip struct {
	Number  int // counts on after the lights
	Name    string
	Kind    string
	Colour  string
	Place   *Place
	Width   *float64
	Height  *float64 // of the item itself, m
	Turned  *float64 // degrees; nil: it faces the subject
	Stand   *Stand
	Mark    string
	LookFor string
	Note    string
	Trigger string
	Private string // never printed
	Where   Where
}

// Circuit finds a circuit by name; nil when there is none.
func (m *Mains) Circuit(name string) *Circuit {
	if m == nil {
		return nil
	}
	for i := range m.Circuits {
		if m.Circuits[i].Name == name {
			return &m.Circuits[i]
		}
	}
	return nil
}

// IsZero reports whether a light is what every difference is from: the key, or
// the light that "zero" names where there is no key.
func (s *Setup) IsZero(l *Light) bool {
	if s.Exposure.Zero == "" {
		return l.Role == "key"
	}
	return l.Name == s.Exposure.Zero
}

// Key is the key light, or nil.
func (s *Setup) Key() *Light {
	for i := range s.Lights {
		if s.Lights[i].Role == "key" {
			return &s.Lights[i]
		}
	}
	return nil
}
