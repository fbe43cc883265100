package setup

import (
	"strings"

	"stopleaf/exposure/apex"
)

// SplitMessage parts an error of a parser, "what is wrong: what to write", into
// message and hint. What the person wrote stands quoted at the front and may
// hold a colon of its own.
func SplitMessage(err error) (message, hint string) {
	said := err.Error()
	from := 0
	if strings.HasPrefix(said, "\"") {
		for i := 1; i < len(said); i++ {
			if said[i] == '\\' {
				i++
			} else if said[i] == '"' {
				from = i
				break
			}
		}
	}
	if i := strings.Index(said[from:], ": "); i >= 0 {
		return said[:from+i], said[from+i+2:]
	}
	return said, ""
}

// reading understands an aperture or exposure value as the file's own words
// (steps, readings) and its recorded time and speed say.
func (m *meaning) reading(w *written) *float64 {
	if !m.isText(w, "reading") {
		return nil
	}
	if err := leadingZero(w.text, w.text); err != nil {
		m.bad(w.pos, "reading", err)
		return nil
	}
	n := m.notation
	n.Comma = true // a scalar: a comma cannot mean a list here
	r, err := apex.ParseReading(w.text, n)
	if err != nil {
		m.bad(w.pos, "reading", err)
		return nil
	}
	if r.Warning != "" {
		m.warn(w.pos, "bare-decimal", r.Warning, "write the mark and the tenths, or settle it with \"readings: tenths\" or \"readings: decimal\" under \"exposure\"")
	}
	tv, sv := 0.0, 0.0
	if r.NeedsTime() {
		if m.s.Exposure.ShutterS == nil {
			m.err(w.pos, "reading", quote(w.text)+" is an exposure value, and the shutter is not known", "write \"shutter\" under \"exposure\", or the reading as an f-number")
			return nil
		}
		tv = apex.Tv(*m.s.Exposure.ShutterS)
	}
	if r.NeedsISO() {
		if m.s.Exposure.ISO == nil {
			m.err(w.pos, "reading", quote(w.text)+" is an exposure value at ISO 100, and the file's \"iso\" is not known", "write \"iso\" under \"exposure\"")
			return nil
		}
		sv = apex.Sv(*m.s.Exposure.ISO)
	}
	av := r.Av(tv, sv)
	if !(av >= -10 && av <= 20) {
		m.err(w.pos, "reading", quote(w.text)+" is no aperture at this shutter", "check the shutter and the reading")
		return nil
	}
	return &av
}

func (m *meaning) time(w *written) *float64 {
	return parsed(m, w, "time", func(s string) (float64, error) {
		n := m.notation
		n.Comma = true
		return apex.ParseTime(s, n)
	})
}

func (m *meaning) speed(w *written) *float64 {
	return parsed(m, w, "speed", apex.ParseISO)
}

func (m *meaning) stops(w *written) *float64 {
	return parsed(m, w, "stops", apex.ParseStops)
}

func (m *meaning) delta(w *written) *float64 {
	return parsed(m, w, "delta", apex.ParseDelta)
}

func (m *meaning) power(w *written, h *Head) *float64 {
	return parsed(m, w, "power", func(s string) (float64, error) {
		if h == nil {
			return apex.ParsePower(s, nil, apex.Dial{})
		}
		return apex.ParsePower(s, h.EnergyWs, apex.Dial{Kind: h.Dial.Kind, Full: h.Dial.Full})
	})
}

// parsed runs a parser over a text; nil when there is none or it is wrong.
func parsed(m *meaning, w *written, code string, parse func(string) (float64, error)) *float64 {
	if !m.isText(w, code) {
		return nil
	}
	if err := leadingZero(w.text, w.text); err != nil {
		m.bad(w.pos, code, err)
		return nil
	}
	v, err := parse(w.text)
	if err != nil {
		m.bad(w.pos, code, err)
		return nil
	}
	return &v
}

func (m *meaning) bad(at Pos, code string, err error) {
	message, hint := SplitMessage(err)
	m.err(at, "bad-"+code, message, hint)
}

// isText reports whether there is a text to understand; an empty one is an
// error.
func (m *meaning) isText(w *written, code string) bool {
	if w == nil || w.kind != isText {
		return false
	}
	if w.text == "" {
		m.err(w.pos, "bad-"+code, "an empty text stands here", "write a value, or take the line out")
		return false
	}
	return true
}
