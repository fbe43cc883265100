package layout

import (
	"slices"
	"strconv"
	"strings"

	"stopleaf/exposure"
	"stopleaf/exposure/apex"
	"stopleaf/safety"
	"stopleaf/setup"
)

// kitItem is one line of the kit list: so many of a thing, and for which
// lights or grip items.
type kitItem struct {
	kind string // "pack", "head", "modifier", "gel", "stand", "boom", "counterweight", "fixing", "bag", "lead", "panel", "background", "lens"
	what string
	n    int
	more bool  // at least so many
	of   []int // their numbers
}

// kitKinds is the order of the list.
var kitKinds = []string{"pack", "head", "modifier", "gel", "panel", "stand", "boom", "counterweight", "fixing", "bag", "lead", "background", "lens"}

// kitList is what the setup needs, each thing once with its quantity, as far as
// the file names it. A head or a stand that the file does not describe is still
// counted.
func kitList(job Job) []kitItem {
	k := kit{job: job}
	s := job.Setup
	bags := safety.StandBags(s)
	for i := range s.Lights {
		k.light(&s.Lights[i])
		if b := bags[i]; b.Bags > 0 {
			k.put("bag", k.t("kit-bag", "size", trimFloat(safety.BagSize(s))), b.Bags, false, b.Light)
		} else if b.Plain {
			k.put("bag", k.t("kit-bag", "size", trimFloat(safety.BagSize(s))), 1, true, b.Light)
		}
	}
	for _, p := range s.Packs {
		var of []int
		for i := range s.Lights {
			if u := s.Lights[i].Pack; u != nil && u.Pack == p {
				of = append(of, s.Lights[i].Number)
			}
		}
		what := listed(p.Name, kindWord(p.Kind, job.Words))
		if p.EnergyWs != nil {
			what = listed(what, trimFloat(*p.EnergyWs)+" Ws")
		}
		k.put("pack", what, 1, false, of...)
	}
	for i := range s.Grip {
		g := &s.Grip[i]
		if what := gripText(g, job.Words, s.Units); what != "" {
			k.put("panel", what, 1, false, g.Number)
		} else {
			k.put("panel", g.Name, 1, false, g.Number)
		}
		if g.Stand != nil {
			k.stand(g.Stand, g.Number)
		}
	}
	for _, ld := range safety.CircuitLoads(s) {
		if ld.Circuit == nil || ld.Circuit.Lead == nil {
			continue
		}
		if what := leadText(ld.Circuit.Lead, job); what != "" {
			k.put("lead", k.t("kit-lead", "lead", what), 1, false)
		}
	}
	if s.Background != nil {
		if what := backgroundText(job); what != "" {
			k.put("background", what, 1, false)
		}
	}
	if what := lensText(job); what != "" {
		k.put("lens", what, 1, false)
	}
	slices.SortStableFunc(k.items, func(a, b kitItem) int {
		return slices.Index(kitKinds, a.kind) - slices.Index(kitKinds, b.kind)
	})
	return k.items
}

type kit struct {
	job   Job
	items []kitItem
}

func (k *kit) t(key string, pairs ...string) string { return k.job.Words.T("sheet."+key, pairs...) }

// put adds n of a thing to those that are there.
func (k *kit) put(kind, what string, n int, more bool, of ...int) {
	i := slices.IndexFunc(k.items, func(x kitItem) bool { return x.kind == kind && x.what == what })
	if i < 0 {
		k.items = append(k.items, kitItem{kind: kind, what: what})
		i = len(k.items) - 1
	}
	k.items[i].n += n
	k.items[i].more = k.items[i].more || more
	k.items[i].of = append(k.items[i].of, of...)
}

func (k *kit) light(l *setup.Light) {
	if l.Source == exposure.Daylight {
		return
	}
	if l.Source != exposure.Bounce {
		k.put("head", k.head(l), 1, false, l.Number)
	}
	if m := l.Modifier; m != nil && m.Kind != "bare" {
		kind := "modifier"
		if l.Source == exposure.Bounce {
			kind = "panel"
		}
		k.put(kind, k.modifier(m), 1, false, l.Number)
		if m.Gel != nil {
			k.put("gel", gelText(m.Gel, k.job.Words), 1, false, l.Number)
		}
	}
	k.stand(l.Stand, l.Number)
}

func (k *kit) head(l *setup.Light) string {
	h := l.Head
	if h == nil {
		if l.Source == exposure.Continuous {
			return k.t("kit-lamp-unknown")
		}
		return k.t("kit-head-unknown")
	}
	var parts []string
	if h.Name != "" {
		parts = append(parts, h.Name)
	}
	if h.Kind != "" {
		parts = append(parts, kindWord(h.Kind, k.job.Words))
	}
	if h.EnergyWs != nil {
		parts = append(parts, trimFloat(*h.EnergyWs)+" Ws")
	}
	if h.Supply == "battery" && !strings.Contains(h.Kind, "battery") {
		parts = append(parts, k.t("kit-battery"))
	}
	if len(parts) == 0 {
		return k.t("kit-head-unknown")
	}
	return strings.Join(parts, ", ")
}

// modifier is what goes on the head, with its size, grid and diffusers.
func (k *kit) modifier(m *setup.Modifier) string {
	w := k.job.Words
	parts := []string{shapeText(m, w)}
	if m.Grid != nil && *m.Grid > 0 {
		parts = append(parts, w.T("modifier.grid", "deg", trimFloat(*m.Grid)))
	} else if m.Grid != nil {
		parts = append(parts, w.T("modifier.grid-plain"))
	}
	if len(m.Diffusers) > 0 {
		parts = append(parts, w.T("modifier.diffuser", "which", strings.Join(fileWords(m.Diffusers, w), " + ")))
	}
	return strings.Join(parts, ", ")
}

func (k *kit) stand(st *setup.Stand, number int) {
	if st == nil {
		k.put("stand", k.t("kit-stand-unknown"), 1, false, number)
		return
	}
	u := k.job.Setup.Units
	size := func(what string, m *float64, key string) string {
		if m == nil {
			return what
		}
		return what + ", " + k.t(key, "d", setup.FormatLength(*m, u))
	}
	name := st.Name
	if name == "" {
		name = k.t("kit-" + standKind(st))
	}
	switch standKind(st) {
	case "hanging":
		k.put("fixing", k.t("kit-fixing", "what", name), 1, false, number)
	case "boom":
		k.put("boom", size(size(name, st.Footprint, "kit-feet"), st.Reach, "kit-reach"), 1, false, number)
		if st.Counterweight != nil {
			k.put("counterweight", k.t("kit-weight", "kg", oneDecimal(*st.Counterweight)), 1, false, number)
		} else {
			k.put("counterweight", k.t("kit-weight-unknown"), 1, false, number)
		}
	default:
		k.put("stand", size(name, st.Footprint, "kit-feet"), 1, false, number)
	}
}

func standKind(st *setup.Stand) string {
	if st.Kind == "" {
		return "stand"
	}
	return st.Kind
}

func lensText(job Job) string {
	c := &job.Setup.Camera
	if c.FocalMM == nil {
		return ""
	}
	s := job.Words.T("camera.lens", "mm", trimFloat(*c.FocalMM))
	if c.WidestAv != nil {
		s += " " + apex.Third(*c.WidestAv)
	}
	return s
}

// count is the quantity as printed: "2 ×", "at least 2 ×".
func (k kitItem) count(job Job) string {
	if k.more {
		return job.Words.T("sheet.kit-least", "n", strconv.Itoa(k.n))
	}
	return strconv.Itoa(k.n)
}
