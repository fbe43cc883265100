package setup

import (
	"math"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
)

// placingSlack is how far a camera is set off its key on purpose, in stops;
// more is likelier a slip of the pen.
const placingSlack = 2.5

// placing compares what the camera was set to with what the key read.
func (c *checker) placing() {
	e := &c.s.Exposure
	if e.KeyAv == nil || e.ApertureAv == nil {
		return
	}
	if d := *e.ApertureAv - *e.KeyAv; math.Abs(d) > placingSlack {
		c.warn(e.Where, "aperture", "far-from-key", "one of the two may be written wrongly; the offset is kept at every base",
			"the camera was at %s and the key read %s, %.1f stops apart", e.CameraMark(*e.ApertureAv), apex.Tenths(*e.KeyAv), math.Abs(d))
	}
}

// subject says where the height that lights are aimed at is only taken.
func (c *checker) subject() {
	s := &c.s.Subject
	if s.Given && (s.Kind == "object" || s.Kind == "animal") && !s.FaceGiven && s.Top == nil {
		c.warn(s.Where, "kind", "no-height", "write top: with its highest point above the floor, or face: with the height lights are aimed at",
			"how high the %s stands is not written, and lights are aimed at %s", s.Kind, FormatLength(s.Face, c.s.Units))
	}
	if s.FaceGiven && s.Kind != "object" && s.Face > 2.6 {
		c.warn(s.Where, "face", "high-face", "a bare length is in the file's units", "a face %s above the floor is higher than a person stands", FormatLength(s.Face, c.s.Units))
	}
}

// behind names lights that stand behind the background's plane, where nothing
// of them reaches the subject.
func (c *checker) behind() {
	b := c.s.Background
	if b == nil || b.Distance == nil {
		return
	}
	for i := range c.s.Lights {
		l := &c.s.Lights[i]
		if l.Place == nil || l.Source == exposure.Daylight || l.Place.Front >= -*b.Distance-wallSlack {
			continue
		}
		if b.Width != nil && math.Abs(l.Place.Right) > *b.Width/2 {
			continue // beside it
		}
		c.warn(l.Where, "place", "behind-background", "the background's distance is from the subject mark",
			"%q stands %s behind the background", l.Name, FormatLength(-*b.Distance-l.Place.Front, c.s.Units))
	}
}

// camera says when the camera would stand through the ceiling; the walls are
// compared in ends.
func (c *checker) camera() {
	cam, r := &c.s.Camera, c.s.Room
	if r == nil {
		return
	}
	if cam.Height != nil && r.Ceiling != nil && *cam.Height > *r.Ceiling {
		c.warn(cam.Where, "height", "camera-above-ceiling", "a bare length is in the file's units",
			"the camera would be %s high, and the ceiling is at %s", FormatLength(*cam.Height, c.s.Units), FormatLength(*r.Ceiling, c.s.Units))
	}
}
