package main

import (
	"fmt"
	"math"

	"stopleaf/exposure"
	"stopleaf/setup"
)

// degrees gives the cosine of an angle in degrees.
func degrees(d float64) float64 { return math.Cos(d * math.Pi / 180) }

// known are shifts in mired of gels that a file names without one (the half
// blue of the trade is about -78 mired; makers differ).
var known = map[string]float64{"half blue": -78}

// lampsOf turns the lights of a setup into surfaces that shine, each scaled to
// its difference. Lights without a place are not seen.
func lampsOf(s *setup.Setup) ([]lamp, error) {
	var out []lamp
	for i := range s.Lights {
		l := &s.Lights[i]
		if l.Place == nil || l.Place.Height == nil || l.Aim.Unknown {
			return nil, fmt.Errorf("light %q has no place", l.Name)
		}
		p := lamp{
			name: l.Name, number: l.Number, delta: l.Delta, tint: grey(1),
			at:  vec{l.Place.Right, l.Place.Front, *l.Place.Height},
			aim: vec{l.Aim.Right, l.Aim.Front, l.Aim.Height},
		}
		p.facing = p.aim.sub(p.at).unit()
		if f := l.Aim.Feather; f != nil {
			p.facing = lean(p.facing, awayTo(f.Toward, s, p.at), f.Deg)
		}
		p.across, p.up = frame(p.facing)
		shape(&p, l.Modifier)
		if l.Meter.Toward == "camera" {
			p.toward = lensOf(s).sub(p.aim).unit()
		}
		p.balance()
		out = append(out, p)
	}
	return out, nil
}

// shape takes the size and the beam from the modifier.
func shape(p *lamp, m *setup.Modifier) {
	p.disc, p.halfW, p.halfH = true, 0.09, 0.09
	if m == nil {
		return
	}
	if m.Shines == exposure.Rectangle {
		p.disc = false
	}
	if m.Width != nil && m.Height != nil && *m.Width > 0 && *m.Height > 0 {
		p.halfW, p.halfH = *m.Width/2, *m.Height/2
	}
	if m.Grid != nil {
		deg := *m.Grid
		if deg <= 0 {
			deg = 40
		}
		p.gridTan = math.Tan(deg * math.Pi / 180)
	}
	switch m.Kind {
	case "bowl":
		p.inner, p.outer = degrees(20), degrees(65)
	case "fresnel":
		p.inner, p.outer = degrees(4), degrees(12)
	}
	if g := m.Gel; g != nil {
		shift, ok := known[g.Name]
		if g.Mired != nil {
			shift, ok = *g.Mired, true
		}
		if ok {
			p.tint = warmth(shift)
		}
	}
}

// lensOf is where the camera's lens is.
func lensOf(s *setup.Setup) vec {
	c := vec{0, 3, s.Subject.Face}
	if s.Camera.Distance != nil {
		c.y = *s.Camera.Distance
	}
	if s.Camera.Height != nil {
		c.z = *s.Camera.Height
	}
	return c
}

// awayTo is the direction that a feather turns to.
func awayTo(toward string, s *setup.Setup, at vec) vec {
	switch toward {
	case "camera":
		return lensOf(s).sub(at).unit()
	case "background":
		return vec{0, -1, 0}
	case "left":
		return vec{-1, 0, 0}
	case "right":
		return vec{1, 0, 0}
	case "up":
		return vec{0, 0, 1}
	}
	return vec{0, 0, -1}
}

// lean turns a by so many degrees toward b.
func lean(a, b vec, deg float64) vec {
	side := b.sub(a.by(a.dot(b)))
	if side.len() < 1e-9 {
		return a
	}
	sin, cos := math.Sincos(deg * math.Pi / 180)
	return a.by(cos).add(side.unit().by(sin))
}

// through is the camera of the setup: level, at its place, with its lens, its
// frame and its aperture, long pixels on the long side.
func through(s *setup.Setup, long int) view {
	focal, wide, tall := 50.0, 36.0, 24.0
	if s.Camera.FocalMM != nil {
		focal = *s.Camera.FocalMM
	}
	wide, tall = s.Camera.FormatW, s.Camera.FormatH
	if s.Camera.Upright {
		wide, tall = tall, wide
	}
	v := view{eye: lensOf(s), forward: vec{0, -1, 0}, right: vec{1, 0, 0}, up: vec{0, 0, 1}}
	v.focus = v.eye.y
	enlarge := (v.focus*1000 - focal) / focal // object over image at the sharp plane
	v.halfW, v.halfH = wide/2000*enlarge, tall/2000*enlarge
	v.width, v.height = long, int(math.Round(float64(long)*tall/wide))
	if tall > wide {
		v.width, v.height = int(math.Round(float64(long)*wide/tall)), long
	}
	v.exposure = math.Pi
	e := s.Exposure
	if e.ApertureAv != nil {
		v.lens = focal / 1000 / math.Exp2(*e.ApertureAv/2) / 2
		if e.KeyAv != nil {
			v.exposure *= math.Exp2(*e.KeyAv - *e.ApertureAv)
		}
	}
	return v
}

// airOf is the room's own light as an even glow all round.
func airOf(s *setup.Setup) vec {
	if s.Exposure.AmbientAv == nil || s.Exposure.KeyAv == nil {
		return vec{}
	}
	return grey(math.Exp2(*s.Exposure.AmbientAv-*s.Exposure.KeyAv) / math.Pi)
}
