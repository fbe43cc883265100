package setup

import (
	"fmt"

	"stopleaf/exposure"
)

// Proof is what Check finds, then what someone who rebuilds the set would miss,
// the most valuable first: what cannot be found again by metering comes before
// what can.
func Proof(s *Setup, n *exposure.Numbers) Problems {
	p := &prover{s: s}
	p.key()
	p.lights()
	p.picture()
	p.settings()
	p.meters()
	p.photos()
	p.filing()
	return append(Check(s, n), p.found...)
}

type prover struct {
	s     *Setup
	found Problems
}

// miss adds what is missing, once: the two of a pair stand in the same line.
func (p *prover) miss(w Where, key, code, hint, format string, args ...any) {
	m := Problem{Pos: p.s.at(w, key), Level: Missing, Code: code, Message: fmt.Sprintf(format, args...), Hint: hint}
	for _, f := range p.found {
		if f == m {
			return
		}
	}
	p.found = append(p.found, m)
}

// top is the place of a key of the file itself; the file as a whole without it.
func (p *prover) top(key string) Where { return Where{Item: p.s.Where.Keys[key]} }

func (p *prover) key() {
	switch e := &p.s.Exposure; {
	case e.KeyAv != nil:
	case e.Zero == exposure.Ambient:
		p.miss(e.Where, "ambient", "no-key-reading", "write ambient: f/2 under \"exposure\"",
			"what ambient reads is not written: the differences are known, and not the aperture or the power they were found at")
	case e.Zero != "":
		p.miss(e.Where, "zero", "no-key-reading", "write its \"reading\"",
			"what %q reads is not written: the differences are known, and not the aperture or the power they were found at", e.Zero)
	default:
		p.miss(p.s.Exposure.Where, "key", "no-key-reading", "write key: f/8 under \"exposure\"",
			"the key's own reading is not written: the differences are known, and not the aperture or the power they were found at")
	}
}

// lightGap is one thing a light may lack.
type lightGap struct {
	key, code string
	lacks     func(*Light) bool
	says      string // after the light's name
	hint      string
}

func lightGaps() []lightGap {
	flash := func(l *Light) bool { return l.Source == exposure.Flash }
	lamp := func(l *Light) bool { return flash(l) || l.Source == exposure.Continuous }
	return []lightGap{
		{"place", "no-place", func(l *Light) bool { return l.Place == nil && l.Source != exposure.Daylight },
			"has no place: a rebuild must guess where it stood", "write place: 55 left, 1.4 m, 2.15 high"},
		{"place", "no-height", func(l *Light) bool { return l.Place != nil && l.Place.Height == nil && l.Place.Lower == nil },
			"has no height: a rebuild must guess it", "write \"height\" in its place, to the centre of what shines, or \"height to: lower edge\""},
		{"modifier", "no-modifier", func(l *Light) bool { return lamp(l) && l.Modifier == nil },
			"has no modifier: a rebuild must guess how soft it was", "write modifier: softbox 0.9 x 0.6, or bare"},
		{"modifier", "no-size", func(l *Light) bool { return l.Modifier != nil && unsized(l.Modifier) },
			"has a modifier without a size: a rebuild must guess how soft it was", "write its width and height, or its diameter"},
		{"lit by", "no-feeder", func(l *Light) bool { return l.Source == exposure.Bounce && l.LitBy == "" },
			"is a bounce and does not say what lights it", "write lit by: Key"},
		{"power", "no-power", func(l *Light) bool { return flash(l) && l.Power == nil },
			"has no power: its dial must be found again with the meter", "write power: 1/4 +0.2"},
		{"dimmer", "no-dimmer", func(l *Light) bool { return l.Source == exposure.Continuous && l.Dimmer == nil && l.Power == nil },
			"has no dimmer setting: it must be found again with the meter", "write dimmer: 35 %"},
		{"head", "no-head", func(l *Light) bool { return lamp(l) && l.Head == nil && l.Pack == nil },
			"has no head: its power says little without it", "write head: with its name in the gear file, or its energy and range"},
		{"head", "no-range", func(l *Light) bool {
			return flash(l) && l.Head != nil && l.Pack == nil && (l.Head.EnergyWs == nil || l.Head.Range == nil)
		},
			"has a head without its energy or its range: whether it can do another aperture is not known", "write energy: 400 and range: 7 on the head"},
		{"stand", "no-stand", func(l *Light) bool { return lamp(l) && l.Stand == nil && l.Place != nil },
			"has no stand: no bag can be worked out for it", "write stand: stand, boom, floor or hanging"},
	}
}

// meters asks how the meter was held: once for all where no light says.
func (p *prover) meters() {
	const hint = "write meter: {at: face, dome: out, toward: light} on each light"
	silent := 0
	for i := range p.s.Lights {
		if !p.s.Lights[i].Meter.Given {
			silent++
		}
	}
	for i := range p.s.Lights {
		switch l := &p.s.Lights[i]; {
		case l.Meter.Given:
		case silent == len(p.s.Lights):
			p.miss(p.top("lights"), "", "no-meter", hint, "no light says where the meter was held; at the face and toward the light is taken")
		default:
			p.miss(l.Where, "meter", "no-meter", hint, "light %q does not say where the meter was held; at the face and toward the light is taken", l.shared())
		}
	}
}

// shared is the name in the file: that of the pair for one of a pair.
func (l *Light) shared() string {
	if l.Pair != nil {
		return l.Pair.Of
	}
	return l.Name
}

// unsized is true of a modifier whose light depends on its size and that has
// none.
func unsized(m *Modifier) bool {
	switch m.Shines {
	case exposure.Rectangle:
		return !positive(m.Width) || !positive(m.Height)
	case exposure.Disc:
		return !positive(m.Width)
	}
	return false
}

func (p *prover) lights() {
	for _, g := range lightGaps() {
		for i := range p.s.Lights {
			l := &p.s.Lights[i]
			if !g.lacks(l) {
				continue
			}
			p.miss(l.Where, g.key, g.code, g.hint, "light %q %s", l.shared(), g.says)
		}
	}
	for _, k := range p.s.Packs {
		p.packKey(k, k.EnergyWs == nil || k.Range == nil, "energy", "no-range",
			"has no energy or no range: whether its heads can do another aperture is not known", "energy: 2400 and range: 7")
		p.packKey(k, k.Current == nil && k.Supply != "battery", "current", "no-current",
			"has no current: what its circuit carries is not known", "current: 10 A")
	}
	for i := range p.s.Grip {
		if g := &p.s.Grip[i]; g.Place == nil {
			p.miss(g.Where, "place", "no-place", "write place: {right: 0.8, front: 0.1, height: 1.0}", "%q has no place: a rebuild must guess where it stood", g.Name)
		}
	}
}

func (p *prover) packKey(k *Pack, lacks bool, key, code, says, example string) {
	if lacks {
		p.miss(k.Where, key, code, "write "+example+" on the pack", "the pack %q %s", k.Name, says)
	}
}

// picture is what makes the picture beside the light: camera, subject and
// background.
func (p *prover) picture() {
	c := &p.s.Camera
	if !c.Given {
		p.miss(c.Where, "camera", "no-camera", "write camera: {distance: 3.2, height: 1.4, lens: 85 mm, frame: upright}",
			"the camera is not written: its distance, height and lens make half the picture")
	} else {
		p.cameraKey(c.Distance == nil, "distance", "no-camera-distance", "has no distance from the subject: a rebuild must guess the perspective", "distance: 3.2")
		p.cameraKey(c.Height == nil, "height", "no-camera-height", "has no height: a rebuild must guess it", "height: 1.4")
		p.cameraKey(c.FocalMM == nil, "lens", "no-lens", "has no lens: the framing cannot be found again", "lens: 85 mm")
		p.cameraKey(!c.FrameGiven, "frame", "no-frame", "does not say how the frame was held; level is taken", "frame: upright")
	}
	s := &p.s.Subject
	if !s.FaceGiven && s.Kind != "object" {
		p.miss(s.Where, "face", "no-face", "write face: 1.55 under \"subject\", the height of the face above the floor",
			"the height of the face is not written; %s is taken, and lights are aimed there", FormatLength(s.Face, p.s.Units))
	}
	switch b := p.s.Background; {
	case b == nil:
		p.miss(Where{}, "", "no-background", "write background: {kind: canvas, tone: dark olive, distance: 2.4}", "the background is not written: what it is, and how far behind")
	case b.Distance == nil:
		p.miss(b.Where, "distance", "no-background-distance", "write distance: 2.4 under \"background\"", "the background has no distance: how dark it goes depends on it")
	}
}

func (p *prover) cameraKey(lacks bool, key, code, says, example string) {
	if lacks {
		p.miss(p.s.Camera.Where, key, code, "write "+example+" under \"camera\"", "the camera %s", says)
	}
}

func (p *prover) settings() {
	e := &p.s.Exposure
	for _, k := range []struct {
		lacks         bool
		key, code     string
		says, example string
	}{
		{e.ApertureAv == nil, "aperture", "no-aperture", "what aperture the camera was set to is not written: a base may be placed wrongly against the key", "aperture: f/9"},
		{e.ISO == nil, "iso", "no-iso", "the ISO is not written: powers mean nothing without it", "iso: 200"},
		{e.ShutterS == nil, "shutter", "no-shutter", "the shutter is not written: how much of the room's own light was in is not known", "shutter: 1/200"},
	} {
		if k.lacks {
			p.miss(e.Where, k.key, k.code, "write "+k.example+" under \"exposure\"", "%s", k.says)
		}
	}
}

func (p *prover) photos() {
	result, set := false, false
	for i := range p.s.Photos {
		result = result || p.s.Photos[i].Shows == "result"
		set = set || p.s.Photos[i].Shows == "set"
	}
	if !set {
		p.miss(p.top("photos"), "", "no-set-photo", "take one from the door, and write {file: set.jpg, shows: set} under \"photos\"",
			"no photo shows the set: nothing tells a tape that was misread")
	}
	if !result {
		p.miss(p.top("photos"), "", "no-result-photo", "write {file: result.jpg, shows: result} under \"photos\"",
			"no photo shows the result: nothing says what the light should look like")
	}
}

func (p *prover) filing() {
	if p.s.Room == nil || p.s.Room.Ceiling == nil {
		w := Where{}
		if p.s.Room != nil {
			w = p.s.Room.Where
		}
		p.miss(w, "ceiling", "no-room", "write room: {left: 2.2, right: 2.8, front: 4.6, behind: 3.1, ceiling: 2.9}",
			"the room, with its ceiling, is not written: whether the set fits another cannot be told, and a low white ceiling is a light of its own")
	}
	if p.s.Made == "" {
		p.miss(p.top("made"), "", "no-date", "write made: 2026-03-14", "the day it was made is not written")
	}
	if p.s.By == "" {
		p.miss(p.top("by"), "", "no-owner", "write by: with the name for the title block", "whose setup it is is not written")
	}
}
