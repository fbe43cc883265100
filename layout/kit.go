package layout

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"stopleaf/exposure/apex"
	"stopleaf/kit"
	"stopleaf/setup"
	"stopleaf/templates"
)

// KitRow is one item of a kit list in words.
type KitRow struct {
	Sort  string // what sort of thing, "heads"
	Count string // "2", "at least 2"
	What  string
	For   string // who asks for it
}

// KitRows words the items of a kit list, in their order.
func KitRows(l *kit.List, w templates.Words) []KitRow {
	k := kitWords{w, l.Units()}
	out := make([]KitRow, len(l.Items))
	for i := range l.Items {
		it := &l.Items[i]
		out[i] = KitRow{Sort: k.t("kind-" + string(it.Kind)), Count: strconv.Itoa(it.N), What: k.what(it), For: k.askedBy(l, it)}
		if it.AtLeast {
			out[i].Count = k.t("kit-least", "n", out[i].Count)
		}
	}
	return out
}

type kitWords struct {
	w templates.Words
	u setup.Units
}

func (k kitWords) t(key string, pairs ...string) string { return k.w.T("sheet."+key, pairs...) }

// fewNames is how long names in a row may be before numbers stand for them, in
// runes.
const fewNames = 48

// askedBy says who asks for an item: of one setup its lights and grip items; of
// several their codes, with how many where that is not all of them: "B-014, C-002
// (1)".
func (k kitWords) askedBy(l *kit.List, it *kit.Item) string {
	if len(l.Setups) == 1 {
		of := slices.Compact(slices.Sorted(slices.Values(it.Asked[0].Of)))
		names := strings.Join(kit.Names(l.Setups[0], of), ", ")
		if len(of) > 1 && utf8.RuneCountInString(names) > fewNames {
			return k.w.T("pack.numbers", "numbers", ranges(of))
		}
		return names
	}
	var out []string
	for _, a := range it.Asked {
		called := kit.Called(l.Setups[a.Setup])
		if a.N < it.N {
			called += " (" + strconv.Itoa(a.N) + ")"
		}
		out = append(out, called)
	}
	return strings.Join(out, ", ")
}

// what a thing is. A head or a stand that the file does not describe is said to
// be that.
func (k kitWords) what(it *kit.Item) string {
	t := &it.Thing
	switch it.Kind {
	case kit.Pack:
		return listed(t.Pack.Name, kindWord(t.Pack.Kind, k.w), energyText(t.Pack.EnergyWs))
	case kit.Head:
		return k.head(t)
	case kit.Gel:
		return gelText(t.Gel, k.w)
	case kit.Stand, kit.Boom, kit.Fixing:
		return k.stand(t.Stand)
	case kit.Counterweight:
		if t.Kg == nil {
			return k.t("kit-weight-unknown")
		}
		return k.t("kit-weight", "kg", oneDecimal(*t.Kg))
	case kit.Bag:
		return k.t("kit-bag", "size", trimFloat(*t.Kg))
	case kit.Lead:
		return k.t("kit-lead", "lead", leadText(t.Lead, k.u))
	case kit.Background:
		return backgroundText(t.Background, k.w, k.u)
	case kit.Lens:
		return lensText(t.Camera, k.w)
	}
	if t.Grip == nil {
		return k.modifier(t)
	}
	if what := gripText(t.Grip, k.w, k.u); what != "" {
		return what
	}
	return t.Grip.Name
}

func energyText(ws *float64) string {
	if ws == nil {
		return ""
	}
	return trimFloat(*ws) + " Ws"
}

func (k kitWords) head(t *kit.Thing) string {
	h := t.Head
	if h == nil {
		if t.Continuous {
			return k.t("kit-lamp-unknown")
		}
		return k.t("kit-head-unknown")
	}
	kind := kindWord(h.Kind, k.w)
	switch {
	case h.Name != "" || kind != "":
	case t.Continuous:
		kind = k.t("kit-lamp")
	default:
		kind = k.t("kit-head")
	}
	what := listed(h.Name, kind, energyText(h.EnergyWs))
	if h.Supply == "battery" && !strings.Contains(h.Kind, "battery") {
		return listed(what, k.t("kit-battery"))
	}
	return what
}

// modifier is what goes on a head, with its size, grid and diffusers, or a part
// of it.
func (k kitWords) modifier(t *kit.Thing) string {
	m := t.Modifier
	shape := kindWord(m.Kind, k.w)
	switch {
	case m.Diameter != nil:
		shape += " " + setup.FormatSize(*m.Diameter, k.u)
	case m.Width != nil && m.Height != nil:
		shape += " " + setup.FormatSides(*m.Width, *m.Height, k.u)
	}
	if t.Named {
		shape = m.Gear + ", " + shape
	}
	grid := ""
	if m.Grid != nil && *m.Grid > 0 {
		grid = k.w.T("modifier.grid", "deg", trimFloat(*m.Grid))
	} else if m.Grid != nil {
		grid = k.w.T("modifier.grid-plain")
	}
	diffuser := func(which ...string) string {
		return k.w.T("modifier.diffuser", "which", strings.Join(fileWords(which, k.w), " + "))
	}
	switch t.Part {
	case kit.Body:
		return shape
	case kit.Grid:
		return k.t("kit-part", "part", grid, "what", shape)
	case kit.Inner, kit.Front:
		return k.t("kit-part", "part", diffuser(string(t.Part)), "what", shape)
	}
	if len(m.Diffusers) > 0 {
		return listed(shape, grid, diffuser(m.Diffusers...))
	}
	return listed(shape, grid)
}

func (k kitWords) stand(st *setup.Stand) string {
	if st == nil {
		return k.t("kit-stand-unknown")
	}
	name := st.Name
	if name == "" {
		name = k.t("kit-" + standKind(st))
	}
	size := func(key string, m *float64) string {
		if m == nil {
			return ""
		}
		return k.t(key, "d", setup.FormatLength(*m, k.u))
	}
	switch standKind(st) {
	case "hanging":
		return k.t("kit-fixing", "what", name)
	case "boom":
		return listed(name, size("kit-feet", st.Footprint), size("kit-reach", st.Reach))
	}
	return listed(name, size("kit-feet", st.Footprint))
}

func standKind(st *setup.Stand) string {
	if st.Kind == "" {
		return "stand"
	}
	return st.Kind
}

func lensText(c *setup.Camera, w templates.Words) string {
	if c.FocalMM == nil {
		return ""
	}
	s := w.T("camera.lens", "mm", trimFloat(*c.FocalMM))
	if c.WidestAv != nil {
		s += " " + apex.Third(*c.WidestAv)
	}
	return s
}
