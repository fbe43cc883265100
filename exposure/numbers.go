package exposure

// Numbers is every derived figure. The JSON names are a published contract:
// keys may be added, never changed. Nil means "cannot be derived from the
// file"; lists are never nil.
type Numbers struct {
	Exposure  Exposure   `json:"exposure"`
	Bases     []BaseOut  `json:"bases"`
	Lights    []LightOut `json:"lights"`
	Ratios    Ratios     `json:"ratios"`
	Together  Together   `json:"together"`
	BaseRange BaseRange  `json:"base_range"`
	Ambient   AmbientOut `json:"ambient"`
	Camera    CameraOut  `json:"camera"`
}

// Exposure repeats what was recorded, in APEX.
type Exposure struct {
	ISO        *float64 `json:"iso"`
	ShutterS   *float64 `json:"shutter_s"`
	KeyAv      *float64 `json:"key_av"` // the zero's where there is no key
	Zero       *string  `json:"zero"`   // the light every difference is from, or "ambient"
	ApertureAv *float64 `json:"aperture_av"`
	Placing    *float64 `json:"placing"` // aperture_av - key_av
}

// BaseOut is one base aperture and what the camera is then set to.
type BaseOut struct {
	Mark     string  `json:"mark"`
	Av       float64 `json:"av"`
	F        float64 `json:"f"`
	CameraAv float64 `json:"camera_av"`
}

// LightOut is one light's figures.
type LightOut struct {
	Number     int      `json:"number"`
	Name       string   `json:"name"`
	Role       string   `json:"role"`
	Source     Source   `json:"source"`
	Delta      float64  `json:"delta"`        // from the zero, which is the key unless the file says otherwise
	RatioToKey float64  `json:"ratio_to_key"` // to the zero
	Off        bool     `json:"off"`          // off in this look: delta is what it has when it is on; no targets, no dials
	Place      PlaceOut `json:"place"`
	ThrowM     *float64 `json:"throw_m"`
	TiltDeg    *float64 `json:"tilt_deg"` // above (+) or below (-) the horizontal
	Targets    []Target `json:"targets"`
	Dials      []DialAt `json:"dials"`
	Pack       *PackOut `json:"pack"` // null for a head on no pack
	Hold       []HoldAt `json:"hold"` // continuous light and daylight only
	DriftM     Drift    `json:"drift_m"`
	LooksDeg   Looks    `json:"looks_deg"`
	Falloff    Falloff  `json:"falloff"`
}

// PackOut is a PackShare with its figures rounded.
type PackOut PackShare

// PlaceOut is where the centre of what shines is. Side is "left", "right", or
// "" on the axis; null without a place.
type PlaceOut struct {
	RightM    *float64 `json:"right_m"`
	FrontM    *float64 `json:"front_m"`
	HeightM   *float64 `json:"height_m"`
	DistanceM *float64 `json:"distance_m"`
	AngleDeg  *float64 `json:"angle_deg"` // 0 toward the camera, 180 behind
	Side      *string  `json:"side"`
}

// Target is what the meter must show for a light at one base, in three
// notations.
type Target struct {
	Base    string  `json:"base"`
	Av      float64 `json:"av"`
	F       float64 `json:"f"`
	Tenths  string  `json:"tenths"`
	Third   string  `json:"third"`
	Decimal string  `json:"decimal"`
}

// DialAt is a head's setting at one base. Possible is nil where the head's
// range is unknown and the setting is not above full.
type DialAt struct {
	Base     string   `json:"base"`
	Stops    float64  `json:"stops"` // from full
	Text     string   `json:"text"`
	EnergyWs *float64 `json:"energy_ws"`
	Possible *bool    `json:"possible"`
	Just     bool     `json:"just"` // not possible, but within a tenth of a stop of full
}

// HoldAt is the exposure time at which a light that follows the shutter keeps
// its difference at one base, and whether it is longer than the camera's
// fastest with flash (nil when that is not known).
type HoldAt struct {
	Base           string   `json:"base"`
	ShutterS       *float64 `json:"shutter_s"`
	SlowerThanSync *bool    `json:"slower_than_sync"`
}

// Drift is the move along the aim line that changes the light by a tenth of a
// stop, metres.
type Drift struct {
	Closer  *float64 `json:"closer"`
	Further *float64 `json:"further"`
}

// Looks is how wide and tall the source is, seen from where it is aimed.
type Looks struct {
	Width  *float64 `json:"width"`
	Height *float64 `json:"height"`
}

// Falloff is in stops, positive = darker; an estimate.
type Falloff struct {
	Cheek      *float64 `json:"cheek"`
	Background *float64 `json:"background"`
}

// Ratios are the two named lighting ratios.
type Ratios struct {
	KeyToFill      *float64 `json:"key_to_fill"`
	LitToShadow    *float64 `json:"lit_to_shadow"`
	LitToShadowEst bool     `json:"lit_to_shadow_est"`
}

// Together is the frontal lights burning at once.
type Together struct {
	Delta        *float64 `json:"delta"`
	Av           *float64 `json:"av"`
	DomeToCamera *float64 `json:"dome_to_camera"`
	AllToCamera  bool     `json:"all_toward_camera"` // paper shows delta only then
}

// BaseRange is the lowest and highest base every flash head can do.
type BaseRange struct {
	LowAv  *float64 `json:"low_av"`
	HighAv *float64 `json:"high_av"`
	LowBy  []string `json:"low_by"`
	HighBy []string `json:"high_by"`
}

// AmbientOut is the room's own light.
type AmbientOut struct {
	Delta *float64    `json:"delta"`
	At    []AmbientAt `json:"at"`
}

// AmbientAt is the room's light at one base.
type AmbientAt struct {
	Base           string   `json:"base"`
	Delta          float64  `json:"delta"`
	HoldShutterS   *float64 `json:"hold_shutter_s"`
	SlowerThanSync *bool    `json:"slower_than_sync"`
}

// CameraOut is the camera's geometry.
type CameraOut struct {
	ViewDeg       Looks     `json:"view_deg"`
	FrameM        Frames    `json:"frame_m"`
	DepthOfField  []DepthAt `json:"depth_of_field"`
	Magnification *float64  `json:"magnification"` // only beyond 1:5
	LossStops     *float64  `json:"loss_stops"`    // 2 log2(1+m), only beyond 1:5
}

// Frames is the frame's size at two planes.
type Frames struct {
	AtSubject    Size `json:"at_subject"`
	AtBackground Size `json:"at_background"`
}

// Size in metres.
type Size struct {
	Width  *float64 `json:"width"`
	Height *float64 `json:"height"`
}

// DepthAt is the depth of field at one base, metres from the camera. FarM is
// nil for infinity; both are nil when it cannot be derived.
type DepthAt struct {
	Base  string   `json:"base"`
	NearM *float64 `json:"near_m"`
	FarM  *float64 `json:"far_m"`
}
