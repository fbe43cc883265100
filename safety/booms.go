package safety

import (
	"math"

	"stopleaf/setup"
)

// overheadM is the least height, and overheadReachM the furthest from the
// subject mark along the floor, at which a light counts as above a person.
const (
	overheadM      = 1.8
	overheadReachM = 0.6
)

// overhead names what hangs above people, and what a baby must not lie under.
func overhead(c *set) []Note {
	var above []*setup.Light
	unknown := false
	for i := range c.s.Lights {
		l := &c.s.Lights[i]
		high, okHeight := isHigh(l)
		switch {
		case isBoom(l) || (l.Stand != nil && l.Stand.Kind == "hanging") || overSubject(l):
			above = append(above, l)
		case l.Stand == nil && (high || !okHeight):
			unknown = true
		}
	}
	baby := has(c.s.Hazards, "baby")
	var out []Note
	switch {
	case len(above) > 0:
		items := itemsOf(above)
		out = append(out, c.note("overhead", 1, only(items), "safety.overhead", c.list(items)...))
	case unknown:
		out = append(out, c.note("overhead", 1, "", "safety.overhead-rule"))
	}
	if !baby {
		return out
	}
	if len(above) > 0 {
		items := itemsOf(above)
		return append(out, c.note("baby", 1, only(items), "safety.baby-move", c.list(items)...))
	}
	return append(out, c.note("baby", 1, "", "safety.baby"))
}

// overSubject says whether a light's centre is above where the subject is.
func overSubject(l *setup.Light) bool {
	return isLamp(l) && l.Place != nil && l.Place.Height != nil &&
		*l.Place.Height >= overheadM && l.Place.Distance() <= overheadReachM
}

// booms gives the balance of each boom and the order of working on one.
func booms(c *set) []Note {
	var plain []*setup.Light
	var out []Note
	any := false
	for i := range c.s.Lights {
		l := &c.s.Lights[i]
		if !isBoom(l) {
			continue
		}
		any = true
		if n, ok := c.balance(l); ok {
			out = append(out, n)
		} else {
			plain = append(plain, l)
		}
	}
	if len(plain) > 0 {
		items := itemsOf(plain)
		out = append(out, c.note("boom-balance", 1, only(items), "safety.boom-rule", c.list(items)...))
	}
	if any {
		out = append(out, c.note("boom-order", 1, "", "safety.boom-order"))
	}
	return out
}

// balanceWithin is how near the recorded counterweight must come to the
// computed one, as a part of it: the arm's own mass is not in the file.
const balanceWithin = 0.03

// No boom has an arm behind its column shorter or longer than these, m.
const (
	leastBehindM = 0.05
	mostBehindM  = 5.0
)

// BoomWeight is the counterweight of a light's boom, kg, and how far behind the column
// it hangs, m: as recorded, but what balances the boom where that can be worked out and
// the record has none or another; nil where neither says it.
func BoomWeight(l *setup.Light) (kg, behind *float64) {
	st := l.Stand
	kg, behind = st.Counterweight, st.Behind
	head, known := headKg(l)
	switch {
	case !known || st.Reach == nil:
	case behind == nil && kg != nil && *kg > 0:
		if at := head * *st.Reach / *kg; at <= mostBehindM {
			behind = &at
		}
	case behind != nil && *behind >= leastBehindM:
		if want := BoomBalance(head, *st.Reach, 0, 0, *behind); kg == nil || !balances(*kg, want) {
			kg = &want
		}
	}
	return kg, behind
}

func balances(kg, want float64) bool { return math.Abs(kg-want) <= balanceWithin*want }

// balance words one boom's counterweight; ok is false without the head's mass
// and the reach, or with nothing known of the other side.
func (c *set) balance(l *setup.Light) (Note, bool) {
	kg, okKg := headKg(l)
	st := l.Stand
	if !okKg || st.Reach == nil || (st.Behind == nil && st.Counterweight == nil) {
		return Note{}, false
	}
	words := append(c.list([]item{itemOf(l)}), "light", l.Name, "mass", num(kg, 1), "reach", c.metres(*st.Reach))
	fig := map[string]float64{"head_kg": kg, "reach_m": *st.Reach}
	if st.Counterweight != nil {
		words = append(words, "given", num(*st.Counterweight, 1))
		fig["counterweight_given_kg"] = *st.Counterweight
	}
	if st.Behind == nil {
		if *st.Counterweight <= 0 {
			return Note{}, false
		}
		behind := kg * *st.Reach / *st.Counterweight
		if behind > mostBehindM {
			return Note{}, false
		}
		fig["behind_m"] = behind
		words = append(words, "behind", c.metres(behind))
		return c.note("boom-balance", 1, l.Name, "safety.boom-behind", words...).figures(fig), true
	}
	if *st.Behind < leastBehindM {
		return Note{}, false
	}
	want := BoomBalance(kg, *st.Reach, 0, 0, *st.Behind)
	fig["behind_m"], fig["counterweight_kg"] = *st.Behind, want
	words = append(words, "behind", c.metres(*st.Behind), "need", num(want, 1))
	key := "safety.boom-needs"
	if st.Counterweight != nil {
		key = "safety.boom-wrong"
		if balances(*st.Counterweight, want) {
			key = "safety.boom-right"
		}
	}
	return c.note("boom-balance", 1, l.Name, key, words...).figures(fig), true
}
