package compare

import (
	"fmt"
	"math"
	"strings"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
	"stopleaf/setup"
)

// set gathers the facts of the parts that both have once.
func (c *comparison) set() []Group {
	var out []Group
	part := func(name string, gather func(f *facts)) {
		f := c.newFacts()
		gather(f)
		out = append(out, Group{name, f.list})
	}
	part("exposure", c.exposure)
	part("camera", c.camera)
	part("subject", c.subject)
	part("background", c.background)
	part("room", c.room)
	return out
}

func (c *comparison) exposure(f *facts) {
	a, b := c.a.Exposure, c.b.Exposure
	f.speed("iso", "ISO", a.ISO, b.ISO, trim)
	f.speed("shutter_s", "shutter", a.ShutterS, b.ShutterS, func(s float64) string { return strings.TrimSuffix(apex.FormatTime(s), " s") + " s" })
	name := "key reads"
	if c.ref[0] != nil && c.ref[0].Role != "key" {
		name = c.ref[0].Name + " reads"
	}
	key := f.stops("key_av", name, c.refAv(0), c.refAv(1), c.style.Reading)
	camera := f.stops("aperture_av", "aperture", a.ApertureAv, b.ApertureAv, c.style.Base)
	camera.TextA, camera.TextB = markOf(&a, a.ApertureAv), markOf(&b, b.ApertureAv)
	placing := f.stops("placing", "camera", c.over(a.ApertureAv, 0), c.over(b.ApertureAv, 1), placingText)
	f.list[len(f.list)-2].echo = placing.Same != nil && *placing.Same // it went with what the key reads
	f.stops("ambient_delta", "ambient", c.over(a.AmbientAv, 0), c.over(b.AmbientAv, 1), apex.FormatDelta)
	f.plain("white_balance_k", "white balance", " K", a.WhiteBalance, b.WhiteBalance, 50)
	ratio := f.speed("key_to_fill", "key : fill", c.A.Numbers.Ratios.KeyToFill, c.B.Numbers.Ratios.KeyToFill, func(r float64) string { return apexDecimal(r) + " : 1" })
	if c.compares() {
		c.lacksReading(key)
		return
	}
	for _, key := range []string{"key_av", "placing", "ambient_delta"} {
		get(f.list, key).incomparable()
	}
	ratio.incomparable()
}

// lacksReading notes that one does not say what the key read.
func (c *comparison) lacksReading(key *Fact) {
	if who := key.OnlyOne(); who != "" {
		other := map[string]string{"A": "B", "B": "A"}[who]
		c.note("no-reading", "%s does not say what the %s: what lights read does not compare", other, key.Name)
	}
}

// over is a reading from the reference of its side, stops.
func (c *comparison) over(av *float64, side int) *float64 {
	ref := c.refAv(side)
	if av == nil || ref == nil {
		return nil
	}
	return at(*av - *ref)
}

func markOf(e *setup.Exposure, av *float64) string {
	if av == nil {
		return ""
	}
	return e.CameraMark(*av)
}

func placingText(stops float64) string {
	n, way, ok := strings.Cut(apex.FormatDelta(stops), " ")
	switch {
	case !ok:
		return "on the reading"
	case way == "over":
		return n + " closed"
	}
	return n + " opened"
}

func (c *comparison) camera(f *facts) {
	a, b := c.a.Camera, c.b.Camera
	f.length("distance_m", "distance", a.Distance, b.Distance)
	f.length("height_m", "height", a.Height, b.Height)
	f.plain("lens_mm", "lens", " mm", a.FocalMM, b.FocalMM, 0.5)
	frame := func(cam *setup.Camera) string {
		switch {
		case !cam.FrameGiven:
			return ""
		case cam.Upright:
			return "upright"
		}
		return "level"
	}
	f.word("frame", "frame", frame(&a), frame(&b), strings.EqualFold)
	format := func(cam *setup.Camera) string {
		if !cam.FormatGiven {
			return ""
		}
		return trim(cam.FormatW) + " x " + trim(cam.FormatH) + " mm"
	}
	f.word("format", "format", format(&a), format(&b), strings.EqualFold)
}

func (c *comparison) subject(f *facts) {
	a, b := c.a.Subject, c.b.Subject
	given := func(s *setup.Subject, key, text string) string {
		if _, ok := s.Where.Keys[key]; !ok {
			return ""
		}
		return text
	}
	face := func(s *setup.Subject) *float64 {
		if !s.FaceGiven {
			return nil
		}
		return &s.Face
	}
	turned := func(s *setup.Subject) *float64 {
		if given(s, "turned", "yes") == "" {
			return nil
		}
		return &s.Turned
	}
	f.word("kind", "kind", given(&a, "kind", a.Kind), given(&b, "kind", b.Kind), strings.EqualFold)
	f.word("posture", "posture", given(&a, "posture", a.Posture), given(&b, "posture", b.Posture), strings.EqualFold)
	f.length("face_m", "face", face(&a), face(&b))
	f.angle("turned_deg", "turned", turned(&a), turned(&b), turnedText, Angle)
	f.length("height_m", "height", a.Height, b.Height)
	f.length("top_m", "top", a.Top, b.Top)
	f.length("width_m", "width", a.Width, b.Width)
	f.length("depth_m", "depth", a.Depth, b.Depth)
}

// turnedText is the way the subject faces.
func turnedText(deg float64) string {
	off := trim(round0(math.Abs(deg)))
	switch {
	case off == "0":
		return "to the camera"
	case deg < 0:
		return off + "° left"
	}
	return off + "° right"
}

func (c *comparison) background(f *facts) {
	a, b := c.a.Background, c.b.Background
	if a == nil {
		a = &setup.Background{}
	}
	if b == nil {
		b = &setup.Background{}
	}
	f.word("kind", "kind", a.Kind, b.Kind, strings.EqualFold)
	f.word("tone", "tone", a.Tone, b.Tone, strings.EqualFold)
	f.length("distance_m", "distance", a.Distance, b.Distance)
	f.length("width_m", "width", a.Width, b.Width)
	f.length("height_m", "height", a.Height, b.Height)
	delta := f.stops("delta", "reads", c.over(a.ReadingAv, 0), c.over(b.ReadingAv, 1), apex.FormatDelta)
	if !c.compares() {
		delta.incomparable()
	}
}

func (c *comparison) room(f *facts) {
	a, b := c.a.Room, c.b.Room
	if a == nil {
		a = &setup.Room{}
	}
	if b == nil {
		b = &setup.Room{}
	}
	f.length("left_m", "left", a.Left, b.Left)
	f.length("right_m", "right", a.Right, b.Right)
	f.length("front_m", "front", a.Front, b.Front)
	f.length("behind_m", "behind", a.Behind, b.Behind)
	f.length("ceiling_m", "ceiling", a.Ceiling, b.Ceiling)
}

// gripItem gathers the facts of one grip item.
func (c *comparison) gripItem(p matched) Pair {
	out := Pair{How: p.how}
	var a, b *setup.Grip
	if p.a >= 0 {
		a = &c.a.Grip[p.a]
		out.A = &Item{Number: a.Number, Name: a.Name, Role: a.Kind}
	}
	if p.b >= 0 {
		b = &c.b.Grip[p.b]
		out.B = &Item{Number: b.Number, Name: b.Name, Role: b.Kind}
	}
	none := &setup.Grip{}
	if a == nil {
		a = none
	}
	if b == nil {
		b = none
	}
	f := c.newFacts()
	out.Moved = f.place(a.Place, b.Place)
	f.word("kind", "kind", a.Kind, b.Kind, strings.EqualFold)
	f.word("colour", "colour", a.Colour, b.Colour, strings.EqualFold)
	f.length("width_m", "width", a.Width, b.Width)
	f.length("its_height_m", "its height", a.Height, b.Height)
	f.plain("turned_deg", "turned", "°", a.Turned, b.Turned, Angle)
	out.Facts = f.list
	return out
}

// mirrored looks whether every light that stands off the axis of A stands on its
// other side in B, and not where it stood.
func (c *comparison) mirrored() {
	const offAxis, within = 0.15, 0.15             // m
	partner := func(l *setup.Light) *setup.Light { // the other one of a pair
		for i := range c.b.Lights {
			o := &c.b.Lights[i]
			if l.Pair != nil && o.Pair != nil && o.Pair.Of == l.Pair.Of && o.Pair.Side != l.Pair.Side {
				return o
			}
		}
		return l
	}
	moved, all := false, true
	for _, p := range c.ofLights {
		if p.a < 0 || p.b < 0 {
			continue
		}
		a, b := &c.a.Lights[p.a], &c.b.Lights[p.b]
		if a.Place == nil || b.Place == nil || max(math.Abs(a.Place.Right), math.Abs(b.Place.Right)) < offAxis {
			continue
		}
		least := max(within, 0.1*a.Place.Distance(), 0.1*b.Place.Distance())
		moved = moved || apart(a.Place, b.Place) > least
		if a.Pair != nil && partner(b).Place != nil {
			b = partner(b)
		}
		other := *a.Place
		other.Right = -other.Right
		all = all && apart(&other, b.Place) <= least
	}
	if c.Mirrored = moved && all; c.Mirrored {
		c.note("mirrored", "B looks like A mirrored: what is left in one is right in the other")
	}
}

// Zero names what stops are from, for a head of a table: "the key".
func (r *Result) Zero() string {
	switch {
	case r.From[0] == "":
		return ""
	case r.From[0] == exposure.Ambient:
		return "ambient"
	}
	return both(r.From[0], r.From[1])
}

func trim(v float64) string {
	s := fmt.Sprintf("%.1f", v)
	return strings.TrimSuffix(s, ".0")
}

func apexDecimal(v float64) string { return fmt.Sprintf("%.1f", math.Floor(v*10+0.5+1e-9)/10) }
