package check

import (
	"fmt"
	"strings"

	"stopleaf/exposure/apex"
	"stopleaf/setup"
)

// value understands the reading itself.
func (r *Reader) value(at setup.Pos, name string, g *Given) bool {
	if g.Text == "" {
		hint := "write it after the name, without a space: " + name + "=f/5.6"
		if at.Line > 0 {
			hint = "write it after the name: " + name + ": f/5.6"
		}
		r.err(at, "no-reading", fmt.Sprintf("%s has no reading", quoted(name)), hint)
		return false
	}
	if d, err := apex.ParseDelta(g.Text); err == nil {
		g.Difference = &d
		return true
	} else if low := strings.ToLower(g.Text); signed(g.Text) || strings.HasSuffix(low, "under") || strings.HasSuffix(low, "over") {
		r.bad(at, err)
		return false
	}
	n := r.s.Exposure.Notation()
	n.Comma = true
	read, err := apex.ParseReading(g.Text, n)
	if err != nil {
		r.bad(at, err)
		return false
	}
	if read.Warning != "" {
		r.problems = append(r.problems, setup.Problem{Pos: at, Level: setup.Warning, Code: "bare-decimal", Message: read.Warning,
			Hint: "write the mark and the tenths, or settle it with \"readings\" under \"exposure\" in the setup"})
	}
	return r.aperture(at, read, g)
}

// aperture works out what a reading is as an aperture at today's exposure.
func (r *Reader) aperture(at setup.Pos, read apex.Reading, g *Given) bool {
	tv, sv := 0.0, 0.0
	if read.NeedsTime() {
		if r.shutter == nil {
			r.err(at, "no-shutter", fmt.Sprintf("%s is an exposure value, and the shutter is not known", quoted(g.Text)), "add --shutter 1/125, or give the reading as an f-number")
			return false
		}
		tv = apex.Tv(*r.shutter)
	}
	if read.NeedsISO() {
		if r.iso == nil {
			r.err(at, "no-iso", fmt.Sprintf("%s is an exposure value at ISO 100, and the ISO is not known", quoted(g.Text)), "add --iso 200, or give the reading as an f-number")
			return false
		}
		sv = apex.Sv(*r.iso)
	}
	av := read.Av(tv, sv)
	if !(av >= -10 && av <= 20) {
		r.err(at, "bad-reading", fmt.Sprintf("%s is no aperture at this shutter", quoted(g.Text)), "check the shutter and the reading")
		return false
	}
	g.Av = &av
	return true
}

// bad adds the error of a parser, "what is wrong: what to write".
func (r *Reader) bad(at setup.Pos, err error) {
	message, hint := setup.SplitMessage(err)
	r.err(at, "bad-reading", message, hint)
}
