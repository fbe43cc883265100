package layout

import (
	"fmt"
	"slices"
	"strconv"

	"stopleaf/exposure"
	"stopleaf/safety"
)

// strikeOrder is the order in which a set comes down: power off and dumped,
// arms down with both ends unloaded in turn, heads off, panels down, and the
// bags last of all. What stands in front comes down first.
func strikeOrder(job Job) []step {
	b := stepper{job: job, bags: safety.StandBags(job.Setup), loads: safety.CircuitLoads(job.Setup)}
	s := job.Setup
	put := func(phase, act string, i int, text string) {
		l := &s.Lights[i]
		b.steps = append(b.steps, step{phase: phase, acts: []string{act}, light: l.Number, of: fmt.Sprintf("light %d", l.Number),
			lead: numbered(l.Number, l.Name), text: sentences(text)})
	}
	lamps, mains := false, len(b.loads) > 0
	for i := range s.Lights {
		lamps = lamps || s.Lights[i].Source != exposure.Daylight && s.Lights[i].Source != exposure.Bounce
	}
	if lamps {
		b.put("off", b.t("off-lead"), b.t("off"))
	}
	switch {
	case mains:
		b.put("off", b.t("unplug-lead"), b.t("unplug"))
	case lamps:
		b.put("off", b.t("wait-lead"), b.t("wait"))
	}
	order := standing(s)
	slices.Reverse(order)
	kind := func(i int) string {
		if s.Lights[i].Stand == nil {
			return ""
		}
		return s.Lights[i].Stand.Kind
	}
	for _, i := range order {
		if kind(i) == "boom" && s.Lights[i].Source != exposure.Daylight {
			put("arms", "arm-down", i, b.t("arm-down"))
		}
	}
	for _, i := range order {
		switch {
		case s.Lights[i].Source == exposure.Daylight || kind(i) == "boom":
		case kind(i) == "hanging":
			put("heads", "head-off", i, b.t("unhang"))
		case s.Lights[i].Source == exposure.Bounce:
			put("heads", "head-off", i, b.t("card-off"))
		default:
			put("heads", "head-off", i, b.t("head-off"))
		}
	}
	var flats []int
	for i := range s.Grip {
		if !isTable(&s.Grip[i]) {
			flats = append(flats, s.Grip[i].Number)
		}
	}
	if len(flats) > 0 {
		b.put("flats", b.t("flats-lead"), b.t("flats", "numbers", ranges(flats)))
	}
	b.bagsOff(order)
	if mains {
		b.put("last", b.t("coil-lead"), b.t("coil"))
	}
	if slices.Contains(s.Hazards, "haze") {
		b.put("last", b.t("alarms-lead"), b.t("alarms"))
	}
	b.put("last", b.t("count-lead"), b.t("count"))
	return b.steps
}

// bagsOff takes the bags off once every head is down.
func (b *stepper) bagsOff(order []int) {
	var parts []string
	var numbers []int
	for _, i := range order {
		bag := b.bags[i]
		if bag.Bags == 0 && !bag.Plain {
			continue
		}
		l := &b.job.Setup.Lights[i]
		numbers = append(numbers, l.Number)
		part := numbered(l.Number, l.Name)
		if bag.Bags > 1 {
			part += " (" + strconv.Itoa(bag.Bags) + ")"
		}
		parts = append(parts, part)
	}
	if len(parts) == 0 {
		return
	}
	list := listed(parts...)
	if len(list) > 160 {
		slices.Sort(numbers)
		list = b.t("numbers", "numbers", ranges(numbers))
	}
	st := step{phase: "last", acts: []string{"bag-off"}, lead: b.t("bags-lead"), text: sentences(b.t("bags", "list", list))}
	b.steps = append(b.steps, st)
}
