// Package exposure is the arithmetic of a lighting setup: differences in stops
// become ratios, targets, dial marks, falloff, depth of field and the range of
// base apertures a set can be run at.
//
// It belongs here when it is computed from numbers alone. It does not belong
// here when it knows of files, YAML, pages or words: the package imports the
// standard library and exposure/apex, nothing else. Everything is in APEX
// steps, metres, seconds and degrees; one axis system is used throughout:
// X to the camera's right, Y from the subject toward the camera, Z up, with
// the origin on the floor at the subject mark.
package exposure

// Source says what makes the light, and so what it follows when the exposure
// changes.
type Source string

// The sources: flash follows aperture and ISO; bounce follows the light that
// feeds it; continuous and daylight follow the shutter too.
const (
	Flash      Source = "flash"
	Continuous Source = "continuous"
	Bounce     Source = "bounce"
	Daylight   Source = "daylight"
)

// Shape is how a source shines, for the emission model E(d).
type Shape string

// The shapes. Lens stands for fresnels and optical spots, whose near field
// follows no simple law: they count as Hard at a distance and get no falloff
// figure close in.
const (
	ShapeUnknown Shape = ""
	Rectangle    Shape = "rectangle"
	Disc         Shape = "disc"
	Hard         Shape = "hard"
	Lens         Shape = "lens"
)

// Vec is a point or direction in metres: X right (camera's right), Y front
// (toward the camera), Z up from the floor.
type Vec struct{ X, Y, Z float64 }

// Input is a whole setup as plain numbers. A nil pointer means "not known";
// nothing derived from it is then given.
type Input struct {
	ISO        *float64 // ISO 12232 speed, e.g. 200
	ShutterS   *float64 // seconds, exact step (1/128 for a marked 1/125)
	SyncS      *float64 // seconds, the camera's fastest with flash
	KeyAv      *float64 // the key alone, at the subject; the zero's where there is no key
	Zero       string   // what every difference is from: a light's name, or Ambient; "" is the key
	ApertureAv *float64 // what the camera was set to
	AmbientAv  *float64 // the room's own light at ShutterS and ISO
	WidestAv   *float64 // the lens' widest aperture

	Bases  []Base
	Lights []Light

	Camera     *Camera
	FaceHeight float64 // m, aim height over the subject mark
	TurnedDeg  float64 // way the subject faces, 0 at the camera, positive to camera right
	Background *Background
}

// Base is one base aperture: what the key is set to read.
type Base struct {
	Mark string  // as printed, "f/8"
	Av   float64 // exact step
}

// Light is one light, pairs already expanded.
type Light struct {
	Number int // balloon and table number, from 1
	Name   string
	Role   string
	Source Source

	Delta float64 // stops from the zero: the key's, unless Input.Zero says otherwise; 0 for the zero
	Off   bool    // off in this look: it stands, is metered nowhere and counts in no sum

	At *Vec // centre of what shines
	// NoHeight says that At is its place on the floor alone: At.Z means
	// nothing, and what needs a height is not given.
	NoHeight bool
	Aim      *Vec // the point it is aimed at

	Shape  Shape
	Width  *float64 // m; a disc's diameter
	Height *float64 // m; a disc's diameter

	Power *float64 // recorded power, stops from full: 0 full, -3 an eighth
	Head  *Head
	Pack  *PackShare // the power pack it hangs on

	Front        *bool // the file's own word on whether it counts among the frontal lights
	TowardCamera bool  // metered with the dome toward the camera
}

// Ambient is the room's own light as Input.Zero.
const Ambient = "ambient"

// PackShare is what a head gets of a power pack that several share.
type PackShare struct {
	Name     string   `json:"name"`
	Outlet   string   `json:"outlet"`    // "" where it was not said
	Share    float64  `json:"share"`     // of the pack's energy, over 0 to 1
	EnergyWs *float64 `json:"energy_ws"` // the most this head gets; nil where the pack's energy is not known
}

// Head is what a flash head's dial can do.
type Head struct {
	EnergyWs *float64 // at full; on a pack, what its outlet gives at full
	Range    *float64 // stops from full to least, positive
	Step     *float64 // stops per click of its dial
	Dial     Dial
}

// Dial is how the head shows its power.
type Dial struct {
	Kind string  // "fractions" (default), "number", "ws", "percent"
	Full float64 // what a "number" dial shows at full power, e.g. 10
}

// Camera is where the camera stands and what it sees.
type Camera struct {
	DistanceM *float64 // subject mark to camera, along the floor
	HeightM   *float64 // lens axis above the floor
	FocalMM   *float64
	FrameWMM  float64 // width of the frame as held
	FrameHMM  float64 // height of the frame as held
}

// Background is the plane behind the subject.
type Background struct {
	DistanceM float64 // from the subject mark, straight behind
}
