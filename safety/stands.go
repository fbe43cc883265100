package safety

import (
	"math"
	"strconv"

	"stopleaf/exposure"
	"stopleaf/setup"
)

// highM is the height over which a stand is always bagged, 2 m: the plain
// rule, common practice.
const highM = 2.0

// maxNamed is how many stands the plain rule names; it then stands alone.
const maxNamed = 6

// mostBagKg is the most that is hung on one stand; beyond it the feet are too
// narrow. A choice of this project.
const mostBagKg = 50.0

// bagNeed is what one light's stand needs.
type bagNeed struct {
	light *setup.Light
	kg    float64 // computed
	bags  int
	known bool // kg was computed; else the plain rule
	wider bool // no bag does it
}

// onLegs says whether a light stands on legs that a bag can hold. A light
// without a stand in the file most likely does.
func onLegs(l *setup.Light) bool {
	if l.Source == exposure.Daylight {
		return false
	}
	return l.Stand == nil || l.Stand.Kind == "" || l.Stand.Kind == "stand" || l.Stand.Kind == "boom"
}

func isBoom(l *setup.Light) bool { return l.Stand != nil && l.Stand.Kind == "boom" }

// isHigh says whether what shines is over 2 m; known is false without a
// height.
func isHigh(l *setup.Light) (high, known bool) {
	if l.Place == nil || l.Place.Height == nil {
		return false, false
	}
	return *l.Place.Height > highM, true
}

// headKg is the mass up high: head and modifier. known is false when either
// is not given.
func headKg(l *setup.Light) (kg float64, known bool) {
	if l.Head == nil || l.Head.Mass == nil {
		return 0, false
	}
	kg = *l.Head.Mass
	if m := l.Modifier; m != nil && m.Kind != "" && m.Kind != "bare" {
		if m.Mass == nil {
			return 0, false
		}
		kg += *m.Mass
	}
	return kg, true
}

// overhang is how far the head is from the column along the floor, m: the
// distance from the boom's base where that is given, else its whole reach.
func overhang(l *setup.Light) (m float64, known bool) {
	if !isBoom(l) {
		return 0, true
	}
	if b := l.Stand.Base; b != nil && l.Place != nil {
		return math.Hypot(l.Place.Right-b.Right, l.Place.Front-b.Front), true
	}
	if l.Stand.Reach != nil {
		return *l.Stand.Reach, true
	}
	return 0, false
}

// load gathers a stand's figures; ok is false where one is missing.
func load(l *setup.Light) (Load, bool) {
	head, okHead := headKg(l)
	out, okOut := overhang(l)
	if l.Stand == nil || l.Stand.Footprint == nil || l.Stand.Mass == nil || l.Place == nil || l.Place.Height == nil || !okHead || !okOut {
		return Load{}, false
	}
	h := *l.Place.Height
	return Load{
		StandKg: *l.Stand.Mass, StandHeightM: h * StandCentre,
		HeadKg: head, HeadHeightM: h,
		OverhangM: out, ArmM: TipArm(*l.Stand.Footprint/2, Legs),
	}, true
}

// need works out one light's bag, in whole bags of sizeKg. Booms and anything over 2 m get one bag even
// where the figures ask for none.
func need(l *setup.Light, sizeKg float64) bagNeed {
	high, _ := isHigh(l)
	ld, ok := load(l)
	if !ok {
		return bagNeed{light: l}
	}
	kg, can := Bag(ld)
	n := bagNeed{light: l, kg: kg, known: true, wider: !can || kg > mostBagKg, bags: WholeBags(kg, sizeKg)}
	if n.bags == 0 && (isBoom(l) || high) {
		n.bags = 1
	}
	return n
}

// bags tells how many bags each stand needs, whose recorded bag is too light,
// and the plain rule for stands without figures.
func bags(c *set) []Note {
	var known, plain, wider, light []bagNeed
	legs := 0
	for i := range c.s.Lights {
		l := &c.s.Lights[i]
		if !onLegs(l) {
			continue
		}
		legs++
		n := need(l, BagSize(c.s))
		high, okHeight := isHigh(l)
		switch {
		case !n.known:
			if isBoom(l) || high || !okHeight {
				plain = append(plain, n)
			}
		case n.wider:
			wider = append(wider, n)
		case n.bags > 0:
			known = append(known, n)
			if b := l.Stand.Bag; b != nil && *b < n.kg-0.05 {
				light = append(light, n)
			}
		}
	}
	var out []Note
	if len(wider) > 0 {
		items := needItems(wider)
		out = append(out, c.note("bag-wider", 1, only(items), "safety.bag-wider", c.list(items)...))
	}
	if len(known) > 0 {
		out = append(out, c.bagged(known))
	}
	for _, n := range light {
		out = append(out, c.note("bag-light", 1, n.light.Name, "safety.bag-light", append(c.list([]item{itemOf(n.light)}),
			"light", n.light.Name, "has", num(*n.light.Stand.Bag, 1), "need", up(n.kg, 1))...).figures(map[string]float64{
			"bag_given_kg": *n.light.Stand.Bag, "bag_kg": n.kg}))
	}
	switch {
	case len(plain) > 0 && len(plain) < legs && len(plain) <= maxNamed:
		items := needItems(plain)
		out = append(out, c.note("bag-plain", 2, only(items), "safety.bag-plain",
			append(c.list(items), "height", c.metres(highM))...))
	case len(plain) > 0 || (legs > 0 && len(known)+len(wider) == 0):
		out = append(out, c.note("bag-plain", 2, "", "safety.bag-rule", "height", c.metres(highM)))
	}
	return out
}

// bagged is the one note of all computed bags: "Key 2, Hair 1".
func (c *set) bagged(known []bagNeed) Note {
	fig := map[string]float64{}
	var byName, byNumber []item
	total, kg := 0, 0.0
	for _, n := range known {
		count := strconv.Itoa(n.bags)
		byName = append(byName, item{name: n.light.Name + " " + count})
		byNumber = append(byNumber, item{name: "no. " + strconv.Itoa(n.light.Number) + " " + count})
		total += n.bags
		kg += n.kg
		if len(known) > 1 {
			fig["bags."+n.light.Name] = float64(n.bags)
			fig["bag_kg."+n.light.Name] = n.kg
		}
	}
	fig["bags"], fig["bag_kg"], fig["bag_size_kg"] = float64(total), kg, BagSize(c.s)
	size := num(BagSize(c.s), 1)
	if len(known) == 1 {
		return c.note("bag", 2, known[0].light.Name, "safety.bag-one", append(c.list(needItems(known)),
			"light", known[0].light.Name, "bags", strconv.Itoa(total), "size", size)...).figures(fig)
	}
	list, numbers := names(byName), names(byNumber)
	count := c.w.T("safety.bags-in-all", "bags", strconv.Itoa(total), "n", strconv.Itoa(len(known)))
	if length(list) > 70 {
		list = numbers
	}
	if length(list) > 70 {
		list = count
	}
	return c.note("bag", 2, "", "safety.bag", "list", list, "numbers", numbers, "count", count, "size", size).figures(fig)
}

func needItems(ns []bagNeed) []item {
	items := make([]item, len(ns))
	for i, n := range ns {
		items[i] = itemOf(n.light)
	}
	return items
}

// tallFlatM is the height from which a flat or panel on its own feet is named,
// m: a choice of this project.
const tallFlatM = 1.5

// flats names grip that can fall: tall, or on a stand.
func flats(c *set) []Note {
	var items []item
	for i := range c.s.Grip {
		g := &c.s.Grip[i]
		tall := g.Height != nil && *g.Height >= tallFlatM
		high := g.Place != nil && g.Place.Height != nil && *g.Place.Height >= tallFlatM
		if tall || high || g.Stand != nil {
			items = append(items, item{number: g.Number, name: g.Name})
		}
	}
	if len(items) == 0 {
		return nil
	}
	return []Note{c.note("flats", 3, only(items), "safety.flats", c.list(items)...)}
}
