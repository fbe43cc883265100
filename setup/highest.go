package setup

import "stopleaf/exposure"

// Highest is the highest point of the set above the floor, m, as far as the file
// says: the tops of lights and grip turned as they are aimed, the background's
// height, the subject's top. Daylight counts for nothing, it needs no ceiling. nil
// where no light has a height.
func (s *Setup) Highest() *float64 {
	var top *float64
	raise := func(h float64) {
		if top == nil || h > *top {
			top = &h
		}
	}
	for i := range s.Lights {
		if l := &s.Lights[i]; l.Place != nil && l.Place.Height != nil && l.Source != exposure.Daylight {
			raise(l.Body().Top())
		}
	}
	if top == nil {
		return nil
	}
	for i := range s.Grip {
		if g := &s.Grip[i]; g.Place != nil && g.Place.Height != nil {
			raise(g.Body().Top())
		}
	}
	if s.Background != nil && s.Background.Height != nil {
		raise(*s.Background.Height)
	}
	if s.Subject.Top != nil {
		raise(*s.Subject.Top)
	}
	return top
}
