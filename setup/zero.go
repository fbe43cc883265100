package setup

import (
	"fmt"
	"math"
	"strings"

	"stopleaf/exposure"
)

// differences works out each light's difference from the zero: the key, or what
// "zero" names where there is no key.
func (m *meaning) differences(drafts []draft) {
	zero := m.zero(drafts)
	m.amounts(drafts, zero)
	m.zeroReading(zero)
	for i := range drafts {
		d := &drafts[i]
		switch {
		case d == zero || d.Role == "key":
			if len(d.readings) == 1 {
				d.ReadingAv = d.readings[0]
			}
			continue
		case d.delta != nil:
			d.Delta = *d.delta
		case len(d.readings) == 1 && d.readings[0] != nil:
			d.ReadingAv = d.readings[0]
			m.fromReading(d)
		}
		if d.Pair != nil && d.Pair.Metered == "both" {
			d.Delta-- // each alone gives half of what both give
		}
		if !(math.Abs(d.Delta) <= maxDelta) {
			m.err(d.w.pos, "bad-delta", fmt.Sprintf("%s is %.1f stops from %s; 20 is the most", quote(d.Name), math.Abs(d.Delta), m.zeroInWords()), "check its reading and "+m.zeroInWords()+"'s")
		}
	}
}

// zeroInWords is "the key", "the room's own light" or the light's name.
func (m *meaning) zeroInWords() string {
	switch z := m.s.Exposure.Zero; z {
	case "":
		return "the key"
	case exposure.Ambient:
		return "the ambient"
	default:
		return quote(z)
	}
}

// zeroReading finds what the zero reads: "key" under "exposure", the light's own
// reading, or that of the ambient.
func (m *meaning) zeroReading(zero *draft) {
	e := &m.s.Exposure
	if e.Zero == exposure.Ambient {
		if e.Where.Keys["key"].Line > 0 {
			m.err(e.Where.Key("key"), "key-without-key", "\"key\" is what the key reads, and there is none: ambient is the zero", "write what it reads under \"ambient\"")
			return
		}
		e.KeyAv = e.AmbientAv
		return
	}
	if zero == nil || len(zero.readings) != 1 || zero.readings[0] == nil {
		return
	}
	r := *zero.readings[0]
	whose := "the key's"
	if e.Zero != "" {
		whose = quote(zero.Name) + "'s"
	}
	switch {
	case e.KeyAv == nil && e.Where.Keys["key"].Line == 0:
		e.KeyAv = &r
	case e.KeyAv != nil && math.Abs(*e.KeyAv-r) > 0.05:
		m.warn(zero.w.keyPos("reading"), "key-twice", fmt.Sprintf("%s reading is not that of \"key\" under \"exposure\", which is taken; they are %.1f stops apart", whose, math.Abs(*e.KeyAv-r)), "keep one")
	}
}

func (m *meaning) fromReading(d *draft) {
	e := &m.s.Exposure
	if e.KeyAv != nil {
		d.Delta = *d.ReadingAv - *e.KeyAv
		return
	}
	if e.Where.Keys["key"].Line > 0 || e.Zero == exposure.Ambient && e.Where.Keys["ambient"].Line > 0 {
		return // written wrongly, and said so
	}
	hint := "write \"key: f/8\" under \"exposure\", or the difference with \"delta\""
	switch e.Zero {
	case "":
	case exposure.Ambient:
		hint = "write \"ambient: f/2\" under \"exposure\", or the difference with \"delta\""
	default:
		hint = fmt.Sprintf("write the \"reading\" of %s, or the difference with \"delta\"", quote(e.Zero))
	}
	m.err(d.w.keyPos("reading"), "no-key-reading", fmt.Sprintf("%s has a \"reading\", and what %s reads is not known", quote(d.Name), m.zeroInWords()), hint)
}

// zero finds the one light that every difference is from, nil for ambient: the
// key, or where there is none what "zero" names.
func (m *meaning) zero(drafts []draft) *draft {
	key := m.keyOf(drafts)
	e := &m.s.Exposure
	written := e.Where.Keys["zero"].Line > 0
	switch {
	case len(drafts) == 0:
	case key != nil && written:
		m.err(e.Where.Key("zero"), "zero-and-key", fmt.Sprintf("there is a \"zero\", and %s is the key", quote(key.Name)), "the key is the zero of every difference: take \"zero\" out, or give that light another role")
	case key == nil && !written:
		m.err(m.s.Where.Key("lights"), "no-key", "no light is the key", "write role: key on one light, the zero of every difference, or name another under \"exposure\": zero: Window")
	case key == nil && e.Zero != "":
		return m.namedZero(drafts)
	}
	e.Zero = ""
	return key
}

// namedZero finds the light that "zero" names.
func (m *meaning) namedZero(drafts []draft) *draft {
	e := &m.s.Exposure
	at := e.Where.Key("zero")
	known := []string{exposure.Ambient}
	for i := range drafts {
		d := &drafts[i]
		isAmbient := strings.EqualFold(e.Zero, exposure.Ambient)
		switch {
		case strings.EqualFold(d.Name, e.Zero) && isAmbient:
			m.err(at, "zero-twofold", "a light is called "+quote(d.Name)+", and as a \"zero\" that is the room's own light", "give the light another name")
			return nil
		case strings.EqualFold(d.Name, e.Zero) && d.Pair == nil:
			e.Zero = d.Name
			return d
		case d.Pair != nil && (strings.EqualFold(d.Pair.Of, e.Zero) || strings.EqualFold(d.Name, e.Zero)):
			m.err(at, "two-keys", "a pair cannot be the zero", "the zero is one light, or ambient")
			e.Zero = d.Name
			return d
		}
		if d.Pair == nil {
			known = append(known, d.Name)
		}
	}
	if strings.EqualFold(e.Zero, exposure.Ambient) {
		e.Zero = exposure.Ambient
		return nil
	}
	m.err(at, "unknown-name", fmt.Sprintf("the zero is %s, and there is no such light", quote(e.Zero)), suggest(e.Zero, known))
	return nil
}

// keyOf finds the one key.
func (m *meaning) keyOf(drafts []draft) *draft {
	var key *draft
	for i := range drafts {
		d := &drafts[i]
		switch {
		case d.Role != "key":
		case key != nil && d.Pair != nil && d.w == key.w:
			m.err(d.Where.Key("pair"), "two-keys", "a pair cannot be the key", "the key is one light: the zero of every difference")
		case key != nil:
			m.err(d.Where.Key("role"), "two-keys", fmt.Sprintf("%s is a second key; %s is the key already", quote(d.Name), quote(key.Name)), "one light is the key: the zero of every difference")
		default:
			key = d
		}
	}
	return key
}
