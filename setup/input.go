package setup

import (
	"errors"
	"fmt"
	"strings"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
)

// Input turns the setup into the plain numbers that package exposure works on,
// for the given bases.
func (s *Setup) Input(bases []exposure.Base) exposure.Input {
	e := s.Exposure
	in := exposure.Input{
		ISO: e.ISO, ShutterS: e.ShutterS, SyncS: e.SyncS,
		KeyAv: e.KeyAv, Zero: e.Zero, ApertureAv: e.ApertureAv, AmbientAv: e.AmbientAv, WidestAv: s.Camera.WidestAv,
		Bases: bases, FaceHeight: s.Subject.Face, TurnedDeg: s.Subject.Turned,
	}
	if s.Camera.Given {
		c := s.Camera
		in.Camera = &exposure.Camera{DistanceM: c.Distance, HeightM: c.Height, FocalMM: c.FocalMM, FrameWMM: c.FormatW, FrameHMM: c.FormatH}
		if c.Upright {
			in.Camera.FrameWMM, in.Camera.FrameHMM = c.FormatH, c.FormatW
		}
	}
	if b := s.Background; b != nil && b.Distance != nil {
		in.Background = &exposure.Background{DistanceM: *b.Distance}
	}
	for i := range s.Lights {
		in.Lights = append(in.Lights, s.Lights[i].input())
	}
	return in
}

func (l *Light) input() exposure.Light {
	out := exposure.Light{
		Number: l.Number, Name: l.Name, Role: l.Role, Source: l.Source, Delta: l.Delta,
		Off: l.Off, Power: l.Power, Front: l.Front, TowardCamera: l.Meter.Toward == "camera",
	}
	if p := l.Place; p != nil {
		out.At, out.NoHeight = &exposure.Vec{X: p.Right, Y: p.Front}, p.Height == nil
		if p.Height != nil {
			out.At.Z = *p.Height
		}
	}
	if !l.Aim.Unknown {
		out.Aim = &exposure.Vec{X: l.Aim.Right, Y: l.Aim.Front, Z: l.Aim.Height}
	}
	if mod := l.Modifier; mod != nil {
		out.Shape, out.Width, out.Height = mod.Shines, mod.Width, mod.Height
	}
	if u := l.Pack; u != nil {
		out.Pack = &exposure.PackShare{Name: u.Pack.Name, Outlet: u.Outlet, Share: u.Share, EnergyWs: u.onPack(l.Head).EnergyWs}
	}
	if h := l.dialled(); h != nil {
		out.Head = &exposure.Head{EnergyWs: h.EnergyWs, Range: h.Range, Step: h.Step, Dial: h.Dial}
	}
	return out
}

// ChooseBases gives the bases to print targets for: those of override
// ("f/4,f/5.6"), else the file's own, else the house's, else the default ones
// about the key's reading. The error names the base that is not understood.
func (s *Setup) ChooseBases(override string) ([]exposure.Base, error) {
	if strings.TrimSpace(override) == "" {
		if len(s.Exposure.Bases) > 0 {
			return s.Exposure.Bases, nil
		}
		if s.House != nil && len(s.House.Bases) > 0 {
			return s.House.Bases, nil
		}
		return exposure.DefaultBases(s.Exposure.KeyAv), nil
	}
	n := s.Exposure.notation
	if n.Bare == "" {
		n.Bare = "decimal" // on a command line there is nowhere to warn
	}
	var out []exposure.Base
	for _, part := range strings.Split(override, ",") {
		part = strings.TrimSpace(part)
		r, err := apex.ParseReading(part, n)
		switch {
		case err != nil:
			return nil, err
		case r.NeedsTime():
			return nil, fmt.Errorf("%q is an exposure value: write a base as an aperture, such as f/8", part)
		case !hasBase(out, r.Value):
			out = append(out, exposure.Base{Mark: apex.Mark(r.Value), Av: r.Value})
		}
	}
	if len(out) > maxBases {
		return nil, errors.New("more bases than a page holds: give 12 at most")
	}
	return out, nil
}
