package safety

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"stopleaf/setup"
)

// item is a light or a grip item as a caution names it.
type item struct {
	number int
	name   string
	pair   *setup.Pair
}

func itemOf(l *setup.Light) item { return item{l.Number, l.Name, l.Pair} }

func itemsOf(ls []*setup.Light) []item {
	items := make([]item, len(ls))
	for i, l := range ls {
		items[i] = itemOf(l)
	}
	return items
}

// list gives the places {list}, {numbers} and {count} for some items: by name
// while that stays under 48 characters, by number, by count.
func (c *set) list(items []item) []string {
	long := names(items)
	numbers := c.w.T("safety.numbers", "list", spans(items))
	count := c.w.T("safety.count", "n", strconv.Itoa(len(items)))
	if len(items) == 1 {
		numbers = c.w.T("safety.number", "list", spans(items))
		count = numbers
	}
	if length(long) > 48 {
		long = numbers
	}
	if length(long) > 48 {
		long = count
	}
	return []string{"list", long, "numbers", numbers, "count", count}
}

// only gives the name when there is a single item, for Note.Light.
func only(items []item) string {
	if len(items) == 1 {
		return items[0].name
	}
	return ""
}

// names joins names with commas; both of a pair that stand one after another
// become "Wall L, R".
func names(items []item) string {
	var parts []string
	for i, it := range items {
		if i > 0 && it.pair != nil && items[i-1].pair != nil && it.pair.Of == items[i-1].pair.Of {
			parts = append(parts, it.pair.Side)
			continue
		}
		parts = append(parts, it.name)
	}
	return strings.Join(parts, ", ")
}

// spans gives balloon numbers, runs closed up: "1, 3–6, 9".
func spans(items []item) string {
	var parts []string
	for i := 0; i < len(items); {
		j := i
		for j+1 < len(items) && items[j+1].number == items[j].number+1 {
			j++
		}
		switch {
		case j >= i+2:
			parts = append(parts, fmt.Sprintf("%d–%d", items[i].number, items[j].number))
		case j == i+1:
			parts = append(parts, strconv.Itoa(items[i].number), strconv.Itoa(items[j].number))
		default:
			parts = append(parts, strconv.Itoa(items[i].number))
		}
		i = j + 1
	}
	return strings.Join(parts, ", ")
}

// num prints a figure with at most the given decimal places, no trailing
// zeros.
func num(v float64, places int) string {
	s := strconv.FormatFloat(v+math.Copysign(1e-9, v), 'f', places, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// up prints a figure rounded up in its last place, for what must suffice.
func up(v float64, places int) string {
	p := math.Pow(10, float64(places))
	return num(math.Ceil(v*p-1e-6)/p, places)
}

// metres prints a length in the setup's own units.
func (c *set) metres(m float64) string {
	switch c.s.Units {
	case setup.Feet, setup.Inches:
		in := int(math.Round(m / 0.0254))
		if in < 24 {
			return fmt.Sprintf("%d in", in)
		}
		if in%12 == 0 {
			return fmt.Sprintf("%d ft", in/12)
		}
		return fmt.Sprintf("%d ft %d in", in/12, in%12)
	case setup.Centimetres:
		return num(m*100, 0) + " cm"
	}
	return num(m, 2) + " m"
}
