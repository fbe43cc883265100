package setup

import (
	"fmt"
	"math"
	"strings"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
	"stopleaf/setup/grammar"
)

// faceOf is the height of the face by posture, metres: what geometry uses
// until the file says better.
func faceOf(posture string) float64 {
	switch posture {
	case "seated":
		return 1.20
	case "lying":
		return 0.30
	}
	return 1.55
}

// section takes a conductor's section in mm², or its American wire gauge, whose
// diameter is 0.127 mm x 92^((36-n)/39) (ASTM B258, from memory).
func (m *meaning) section(w *written) *float64 {
	if w != nil && w.kind == isText {
		if text, ok := strings.CutSuffix(strings.ToLower(strings.TrimSpace(w.text)), "awg"); ok {
			gauge := m.number(&written{pos: w.pos, kind: isText, text: strings.TrimSpace(text)}, "a gauge of", "", 0, 24)
			if gauge == nil {
				return nil
			}
			d := 0.127 * math.Pow(92, (36-*gauge)/39)
			area := math.Pi / 4 * d * d
			return &area
		}
	}
	return m.number(w, "a section of", "mm²", 0.1, 100)
}

func (m *meaning) exposure(w *written) {
	e := &m.s.Exposure
	e.Where = w.where()
	m.notation.Halves = m.word(w.get("steps"), wordsOf("exposure", "steps")) == "half"
	e.Halves = m.notation.Halves
	if bare := m.word(w.get("readings"), wordsOf("exposure", "readings")); bare != "" {
		m.notation.Bare = bare
	}
	e.notation = m.notation
	e.ISO = m.speed(w.get("iso"))
	e.ShutterS = m.time(w.get("shutter"))
	e.SyncS = m.time(w.get("sync"))
	e.KeyAv = m.reading(w.get("key"))
	e.Zero = line(w.get("zero"))
	e.ApertureAv = m.reading(w.get("aperture"))
	e.WhiteBalance = m.number(w.get("white balance"), "a white balance of", "K", 1000, 40000)
	if a := w.get("ambient"); a != nil {
		if a.kind == isMap {
			a = a.get("reading")
		}
		e.AmbientAv = m.reading(a)
	}
	e.Bases = m.bases(w.get("bases"))
	if e.ShutterS != nil && e.SyncS != nil && *e.ShutterS < *e.SyncS*(1-1e-9) {
		m.warn(w.keyPos("shutter"), "faster-than-sync", "the shutter is faster than \"sync\", the fastest with flash", "is one of the two written wrongly?")
	}
}

const maxBases = 12

// bases takes the apertures the key may be set to read, each once, in the order
// given.
func (m *meaning) bases(w *written) []exposure.Base {
	var out []exposure.Base
	for _, t := range m.texts(w) {
		av := m.reading(t)
		if av == nil {
			continue
		}
		if hasBase(out, *av) {
			m.warn(t.pos, "base-twice", "the base "+quote(t.text)+" is given twice", "")
			continue
		}
		out = append(out, exposure.Base{Mark: apex.Mark(*av), Av: *av})
	}
	if len(out) > maxBases {
		m.err(w.pos, "too-many-bases", fmt.Sprintf("%d bases are given; a page holds %d at most", len(out), maxBases), "keep those that will be used")
	}
	return out
}

func hasBase(bases []exposure.Base, av float64) bool {
	for _, b := range bases {
		if d := b.Av - av; d < 1e-6 && d > -1e-6 {
			return true
		}
	}
	return false
}

func (m *meaning) camera(w *written) {
	c := &m.s.Camera
	c.FormatW, c.FormatH = 36, 24
	if w == nil {
		return
	}
	c.Given, c.Where = true, w.where()
	c.Distance = m.length(w.get("distance"))
	c.Height = m.length(w.get("height"))
	c.FocalMM = m.number(w.get("lens"), "a focal length of", "mm", 1, 5000)
	c.WidestAv = m.reading(w.get("widest"))
	if f := w.get("format"); m.isText(f, "format") {
		if a, b, ok := parseFormat(f.text); ok {
			c.FormatW, c.FormatH, c.FormatGiven = max(a, b), min(a, b), true
			if c.FormatW < 13 && c.FormatW >= 4 {
				m.warn(f.pos, "small-format", fmt.Sprintf("a frame of %s x %s mm is that of a very small sensor", short(c.FormatW), short(c.FormatH)), "write the frame in mm, 36x24 or 69x56")
			}
		} else {
			m.err(f.pos, "bad-format", quote(f.text)+" is not a frame", "write width x height in mm, 36x24")
		}
	}
	switch m.word(w.get("frame"), wordsOf("camera", "frame")) {
	case "upright", "vertical", "portrait":
		c.Upright, c.FrameGiven = true, true
	case "level", "horizontal", "landscape":
		c.FrameGiven = true
	}
	c.Note, c.LookFor, c.Mark = block(w.get("note")), block(w.get("look for")), line(w.get("mark"))
	c.Trigger, c.Private = line(w.get("trigger")), block(w.get("private"))
}

// parseFormat reads "36x24" in millimetres.
func parseFormat(s string) (a, b float64, ok bool) {
	s = strings.TrimSuffix(strings.ToLower(strings.TrimSpace(s)), "mm")
	x, y, found := strings.Cut(strings.ReplaceAll(s, "×", "x"), "x")
	a, errA := parseNumber(x, "mm")
	b, errB := parseNumber(y, "mm")
	ok = found && errA == nil && errB == nil && a >= 1 && b >= 1 && a <= 1000 && b <= 1000
	return a, b, ok
}

func (m *meaning) subject(w *written) {
	s := &m.s.Subject
	s.Kind, s.Posture = "person", "standing"
	s.Face = faceOf(s.Posture)
	if w == nil {
		return
	}
	s.Given, s.Where = true, w.where()
	if k := m.openWord(w.get("kind"), wordsOf("subject", "kind"), "kind of subject"); k != "" {
		s.Kind = k
	}
	if p := m.word(w.get("posture"), grammar.Postures); p != "" {
		s.Posture = p
	}
	s.Height, s.Top = m.length(w.get("height")), m.length(w.get("top"))
	s.Width, s.Depth = m.length(w.get("width")), m.length(w.get("depth"))
	if face := m.length(w.get("face")); face != nil {
		s.Face, s.FaceGiven = *face, true
	} else {
		s.Face = aimHeight(*s)
	}
	if t := m.turned(w.get("turned")); t != nil {
		s.Turned = *t
	}
	s.Note, s.LookFor, s.Mark = block(w.get("note")), block(w.get("look for")), line(w.get("mark"))
	s.Trigger, s.Private = line(w.get("trigger")), block(w.get("private"))
}

// aimHeight is what lights are aimed at until "face" is written: by posture,
// and for an object whose top is known the middle of it.
func aimHeight(s Subject) float64 {
	if s.Kind != "object" || s.Top == nil {
		return faceOf(s.Posture)
	}
	if s.Height == nil || *s.Height > *s.Top {
		return *s.Top
	}
	return *s.Top - *s.Height/2
}

func (m *meaning) background(w *written) {
	if w == nil {
		return
	}
	m.s.Background = &Background{
		Kind: line(w.get("kind")), Tone: line(w.get("tone")),
		Distance: m.length(w.get("distance")), Width: m.length(w.get("width")), Height: m.length(w.get("height")),
		ReadingAv: m.reading(w.get("reading")),
		Note:      block(w.get("note")), LookFor: block(w.get("look for")), Mark: line(w.get("mark")),
		Trigger: line(w.get("trigger")), Private: block(w.get("private")), Where: w.where(),
	}
}

func (m *meaning) room(w *written) {
	if w == nil {
		return
	}
	m.s.Room = &Room{
		Left: m.length(w.get("left")), Right: m.length(w.get("right")), Front: m.length(w.get("front")),
		Behind: m.length(w.get("behind")), Ceiling: m.length(w.get("ceiling")), Where: w.where(),
	}
}

func (m *meaning) mains(w *written) {
	if w == nil {
		return
	}
	out := &Mains{Where: w.where()}
	if v := m.number(w.get("volts"), "a supply of", "V", 10, 1000); v != nil {
		out.Volts = *v
	}
	if list := w.get("circuits"); list != nil {
		for _, c := range list.items {
			m.circuit(out, c)
		}
	}
	m.s.Mains = out
}

func (m *meaning) circuit(mains *Mains, w *written) {
	c := Circuit{Where: w.where(), Name: line(w)}
	if w.kind == isMap {
		c.Name = line(w.get("name"))
		c.Breaker = m.number(w.get("breaker"), "a breaker of", "A", 0.1, 1000)
		c.Lead = m.lead(w.get("lead"))
	}
	switch {
	case c.Name == "":
		m.err(w.pos, "no-name", "a circuit has no \"name\"", "lights say which circuit they are on by its name")
		return
	case mains.Circuit(c.Name) != nil:
		m.err(w.keyPos("name"), "name-twice", "two circuits are called "+quote(c.Name), "give each a name of its own")
		return
	}
	mains.Circuits = append(mains.Circuits, c)
}

// lead takes "20 m, 1.5 mm²" or the mapping.
func (m *meaning) lead(w *written) *Lead {
	if w == nil {
		return nil
	}
	out := &Lead{}
	length, section := w.get("length"), w.get("section")
	if w.kind == isText {
		p := parts(w.text)
		if len(p) > 2 {
			m.err(w.pos, "bad-lead", quote(w.text)+" is not a lead", "write its length and section, 20 m, 1.5 mm²")
			return nil
		}
		length = &written{pos: w.pos, kind: isText, text: p[0]}
		if len(p) == 2 {
			section = &written{pos: w.pos, kind: isText, text: p[1]}
		}
	}
	out.Length = m.length(length)
	out.Section = m.section(section)
	if out.Length != nil && *out.Length < 0.5 {
		m.warn(w.pos, "short-lead", "the lead is only "+FormatLength(*out.Length, m.s.Units)+" long", "a bare length is in the file's \"units\"; write 20 m")
	}
	return out
}
