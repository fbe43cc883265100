package adapt

import (
	"math"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
	"stopleaf/setup"
)

// The times a shutter is set to when it follows, Tv: 30 s to 1/8000 s.
const slowest, fastest = -5.0, 13.0

// moved is by how much the settings change, stops.
type moved struct {
	base  float64 // what the zero reads
	speed float64 // more speed
	gain  float64 // what follows the shutter reads more than before
}

// settings works out base, speed and shutter, and what each light must give for
// them. Flash follows the aperture and the speed; ambient, daylight and continuous
// light follow the shutter too.
func (p *plan) settings() error {
	was, e := &p.was.Exposure, &p.s.Exposure
	if err := p.unwritten(); err != nil {
		return err
	}
	var m moved
	if p.o.ISO != nil && was.ISO != nil {
		m.speed = math.Log2(*p.o.ISO / *was.ISO)
		e.ISO = p.o.ISO
	}
	if p.o.BaseAv != nil {
		m.base = *p.o.BaseAv - *was.KeyAv
	}
	slow := p.zeroFollows()
	if slow && p.o.BaseAv == nil && p.o.ShutterS != nil && was.ShutterS != nil { // the base goes with it
		m.base = m.speed + math.Log2(*p.o.ShutterS / *was.ShutterS)
	}
	m.gain = m.speed + p.shutter(m)
	if rest := m.base - m.gain; slow && math.Abs(rest) > 1e-9 {
		p.zeroMissed(&m, rest)
	}
	if m.base == 0 && m.speed == 0 && m.gain == 0 {
		return nil
	}
	p.shift(m)
	p.followers(m)
	return nil
}

// unwritten refuses what cannot be worked out, for want of what it was before.
func (p *plan) unwritten() error {
	e := &p.was.Exposure
	const unknown = " is not written: by how much the powers change is not known"
	switch {
	case p.o.BaseAv != nil && e.KeyAv == nil && e.Zero == "":
		return p.lacks("base", e.Where.Key("key"), "what the key reads"+unknown, "write key: f/8 under \"exposure\"")
	case p.o.BaseAv != nil && e.KeyAv == nil:
		return p.lacks("base", e.Where.Key("zero"), "what "+quoted(e.Zero)+" reads"+unknown, "write its reading")
	case p.o.ISO != nil && e.ISO == nil:
		return p.lacks("iso", e.Where.Key("iso"), "the speed"+unknown, "write iso: 100 under \"exposure\"")
	case p.o.ShutterS != nil && e.ShutterS == nil && p.slowLight():
		return p.lacks("shutter", e.Where.Item, "the shutter is not written: by how much what follows it changes is not known", "write shutter: 1/125 under \"exposure\"")
	}
	return nil
}

// zeroFollows reports whether what every difference is from follows the shutter.
func (p *plan) zeroFollows() bool {
	if p.was.Exposure.Zero == exposure.Ambient {
		return true
	}
	for i := range p.was.Lights {
		if l := &p.was.Lights[i]; p.was.IsZero(l) {
			return slow(l)
		}
	}
	return false
}

func slow(l *setup.Light) bool {
	return l.Source == exposure.Continuous || l.Source == exposure.Daylight
}

// slowLight reports whether anything in the set follows the shutter.
func (p *plan) slowLight() bool {
	if p.was.Exposure.AmbientAv != nil {
		return true
	}
	for i := range p.was.Lights {
		if slow(&p.was.Lights[i]) {
			return true
		}
	}
	return false
}

func (p *plan) flash() bool {
	for i := range p.was.Lights {
		if p.was.Lights[i].Source == exposure.Flash {
			return true
		}
	}
	return false
}

// shutter sets the time, and gives by how much more light it lets in.
func (p *plan) shutter(m moved) float64 {
	was, e := p.was.Exposure.ShutterS, &p.s.Exposure
	if p.o.ShutterS != nil {
		e.ShutterS = p.o.ShutterS
		p.outOfSync(was)
		if was == nil {
			return 0
		}
		return math.Log2(*e.ShutterS / *was)
	}
	wanted := m.base - m.speed
	if was == nil || !p.slowLight() || math.Abs(wanted) < 1e-9 || p.dimmable(wanted) {
		return 0
	}
	tv := p.shutterMark(apex.Tv(*was) - wanted)
	limit := fastest
	if p.flash() {
		limit = math.Min(fastest, apex.Tv(*was))
		if e.SyncS != nil {
			limit = apex.Tv(*e.SyncS)
		}
		limit = math.Max(limit, apex.Tv(*was)) // it was used before
	}
	tv = math.Max(math.Min(tv, limit), math.Min(slowest, apex.Tv(*was)))
	if math.Abs(tv-apex.Tv(*was)) < 1e-9 {
		return 0
	}
	e.ShutterS = ptr(apex.Seconds(tv))
	p.why["exposure shutter"] = "to hold what follows the shutter"
	p.outOfSync(was)
	return apex.Tv(*was) - tv
}

// dimmable reports whether all that follows the shutter can be set to so much more
// itself; then the shutter stays.
func (p *plan) dimmable(more float64) bool {
	if p.was.Exposure.AmbientAv != nil {
		return false
	}
	in := p.was.Input(nil)
	for i := range p.was.Lights {
		l := &p.was.Lights[i]
		switch {
		case !slow(l):
		case l.Source == exposure.Daylight:
			return false
		case l.Power != nil:
			h := in.Lights[i].Head
			if to := *l.Power + more; to > 1e-9 || to < -12 || h != nil && h.Range != nil && to < -*h.Range-1e-9 {
				return false
			}
		case l.Dimmer != nil:
			if to := *l.Dimmer * math.Exp2(more); to > 100 || to < 1 {
				return false
			}
		default:
			return false
		}
	}
	return true
}

// shutterMark is the nearest time of the series that the camera moves in.
func (p *plan) shutterMark(tv float64) float64 {
	steps := 3.0
	if p.s.Exposure.Halves {
		steps = 2
	}
	return math.Round(tv*steps) / steps
}

// outOfSync says where the new shutter is on another side of the sync than the
// old one.
func (p *plan) outOfSync(was *float64) {
	e := &p.s.Exposure
	if e.SyncS == nil || !p.flash() {
		return
	}
	now, sync := *e.ShutterS, *e.SyncS
	at := e.Where.Key("shutter")
	switch {
	case now < sync*(1-1e-9):
		p.warn(at, "faster-than-sync", "", "the shutter would be %s, and the fastest with flash is %s", apex.FormatTime(now), apex.FormatTime(sync))
	case now > sync*(1+1e-9) && (was == nil || now > *was*(1+1e-9)):
		p.warn(at, "slower-than-sync", "say --shutter to keep it, and let what follows it go", "the shutter would be %s, %s slower than the sync: what moves may show twice",
			apex.FormatTime(now), stops(math.Log2(now/sync)))
	}
}

// zeroMissed takes what the zero can be made to read, where it follows the
// shutter and the shutter does not go so far.
func (p *plan) zeroMissed(m *moved, rest float64) {
	for i := range p.was.Lights {
		if l := &p.was.Lights[i]; p.was.IsZero(l) && l.Source == exposure.Continuous && (l.Dimmer != nil || l.Power != nil) {
			return // its dimmer takes the rest
		}
	}
	if p.o.BaseAv != nil && math.Abs(rest) > tenth {
		p.warn(p.was.Exposure.Where.Key("zero"), "base", "say --iso or --shutter",
			"%s follows the shutter, and at %s reads %s, not %s", quoted(p.was.Exposure.Zero), p.time(),
			p.reading(*p.was.Exposure.KeyAv+m.gain), p.reading(*p.o.BaseAv))
	}
	m.base = m.gain
}

func (p *plan) time() string {
	if t := p.s.Exposure.ShutterS; t != nil {
		return apex.FormatTime(*t)
	}
	return "a shutter that is not written"
}
