package safety

import (
	"stopleaf/exposure"
	"stopleaf/setup"
)

// nearEyesM is how near to the face a light without a diffuser is named, m: a
// choice of this project.
const nearEyesM = 1.0

// heads is the rule on opening them and on changing what is in or on them.
func heads(c *set) []Note {
	flash, lamp := false, false
	for i := range c.s.Lights {
		l := &c.s.Lights[i]
		flash = flash || isFlash(l)
		lamp = lamp || isLamp(l)
	}
	switch {
	case flash:
		return []Note{c.note("open-heads", 3, "", "safety.open-heads")}
	case lamp:
		return []Note{c.note("open-heads", 3, "", "safety.open-lamps")}
	}
	return nil
}

// people is eyes, warning and photosensitivity; it names hard lights close to
// the face where the numbers give their throw.
func people(c *set) []Note {
	flash := false
	var near []*setup.Light
	for i := range c.s.Lights {
		l := &c.s.Lights[i]
		flash = flash || isFlash(l)
		if isLamp(l) && c.nearFace(l) {
			near = append(near, l)
		}
	}
	var out []Note
	if flash {
		out = append(out, c.note("pop", 7, "", "safety.pop"))
	}
	if len(near) > 0 {
		items := itemsOf(near)
		out = append(out, c.note("eyes", 7, only(items), "safety.eyes", c.list(items)...))
	}
	return out
}

// nearFace says whether a light without a diffuser is aimed at a face from
// under a metre.
func (c *set) nearFace(l *setup.Light) bool {
	if c.n == nil || c.s.Subject.Kind == "object" || (l.Aim.Target != "" && l.Aim.Target != "face") {
		return false
	}
	if l.Modifier != nil && l.Modifier.Shines != exposure.Hard && l.Modifier.Shines != exposure.Lens {
		return false
	}
	for i := range c.n.Lights {
		if o := &c.n.Lights[i]; o.Number == l.Number {
			return o.ThrowM != nil && *o.ThrowM < nearEyesM
		}
	}
	return false
}

// lifting and standing end every list.
func lifting(c *set) []Note { return []Note{c.note("lifting", 8, "", "safety.lifting")} }

func standing(c *set) []Note { return []Note{c.note("local-rules", 9, "", "safety.local-rules")} }
