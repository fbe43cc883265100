// Package heads learns from a binder of setups what each head gives through
// each modifier: the aperture at 1 m, at full power and ISO 100.
//
// Two things say so: the lines of "output" in the gear file, and every light
// whose head, power, place and reading were written down. A light counts only
// where nothing about it has to be guessed; the others are listed with what
// they lack. The arithmetic is exposure.Light.Carry: at 1 m a softbox is no
// point, so each record is carried there by the emission of its own shape.
//
// It belongs here when it is about what a head was found to give. Whether one
// setup adds up belongs to package setup.
package heads

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"stopleaf/exposure"
	"stopleaf/setup"
)

// Table is what heads were found to give.
type Table struct {
	Outputs []Output  // by head, then modifier
	LeftOut []LeftOut // flash lights that do not count, by file and line
	Setups  int       // how many were learned from
	Units   setup.Units
}

// Output is what one head gives through one modifier.
type Output struct {
	Head     string   // its name, as first written
	EnergyWs *float64 // of the head at full; heads of one name and another energy are others
	Modifier string   // its shorthand: "octabox 1.2 m, grid 40, inner and front diffuser"
	Av       float64  // at 1 m, full power, ISO 100, no gel: of the lines of "output", else the median of the lights
	Written  bool     // a line of "output" says so
	Spread   *float64 // stops from Av to the record furthest from it; nil with fewer than two records
	Records  []Record // by file and line
	head     headID
	sameName bool // there are two heads of its name, with different energies
	id       modifierID
	gear     string         // what lights call the modifier by in the gear file, the only name; "" for none
	split    bool           // there is another output of this head, kind and size, by another name
	light    exposure.Light // its shape and size
}

// Record is one reading, carried to 1 m, full power and ISO 100.
type Record struct {
	Pos     setup.Pos
	Setup   string // the code of its setup; "" for a line of "output"
	Light   string // "" for a line of "output"
	Written bool   // a line of "output"
	Av      float64
	Off     float64 // stops from the output's Av, positive where it reads more
	head    headID
	name    string
	id      modifierID
	mod     *setup.Modifier // nil for a bare head
}

// LeftOut is a flash that does not count.
type LeftOut struct {
	Pos   setup.Pos
	Light string // "" for a line of "output"
	Why   string // "no power is written"
}

// headID tells heads apart: by name whatever its case, and energy.
type headID struct {
	name   string
	energy float64
}

func idOfHead(h *setup.Head) headID {
	id := headID{name: strings.ToLower(h.Name)}
	if h.EnergyWs != nil {
		id.energy = *h.EnergyWs
	}
	return id
}

// SameName reports whether there is another head of its name, of another energy.
func (o *Output) SameName() bool { return o.sameName }

// Called is the head's name, with its energy where another has the name too.
func (o *Output) Called() string {
	if o.sameName && o.EnergyWs != nil {
		return fmt.Sprintf("%s, %s Ws", o.Head, strconv.FormatFloat(*o.EnergyWs, 'f', -1, 64))
	}
	return o.Head
}

// Learn takes what the setups say, in any order. A setup in a look is left out
// as a whole: a look need not be what was metered.
func Learn(setups []*setup.Setup) *Table {
	t := &Table{Units: commonUnits(setups)}
	l := &learner{seen: map[line]bool{}}
	for _, s := range slices.SortedStableFunc(slices.Values(setups), func(a, b *setup.Setup) int { return cmp.Compare(a.File, b.File) }) {
		if s.Look == "" {
			t.Setups++
			l.setup(s)
		}
	}
	t.LeftOut = l.leftOut
	sortByPlace(t.LeftOut, func(o LeftOut) (setup.Pos, string) { return o.Pos, o.Light })
	sortByPlace(l.records, func(r Record) (setup.Pos, string) { return r.Pos, r.Light })
	twice := settleHeads(l.records)
	for _, o := range grouped(l.records) {
		o.settle(t.Units)
		o.sameName = twice[o.head.name]
		t.Outputs = append(t.Outputs, *o)
	}
	slices.SortStableFunc(t.Outputs, func(a, b Output) int {
		return cmp.Or(cmp.Compare(strings.ToLower(a.Head), strings.ToLower(b.Head)), cmp.Compare(energy(a), energy(b)),
			cmp.Compare(a.Modifier, b.Modifier))
	})
	return t
}

func energy(o Output) float64 {
	if o.EnergyWs == nil {
		return 0
	}
	return *o.EnergyWs
}

// commonUnits are those of every setup, or metres.
func commonUnits(setups []*setup.Setup) setup.Units {
	for _, s := range setups {
		if s.Units != setups[0].Units {
			return setup.Metres
		}
	}
	if len(setups) == 0 {
		return setup.Metres
	}
	return setups[0].Units
}

func sortByPlace[T any](list []T, place func(T) (setup.Pos, string)) {
	slices.SortStableFunc(list, func(x, y T) int {
		a, nameA := place(x)
		b, nameB := place(y)
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Col, b.Col), cmp.Compare(nameA, nameB))
	})
}

// settleHeads gives a head whose energy is not written that of the one head of
// its name, and says which names several energies go by.
func settleHeads(records []Record) (several map[string]bool) {
	energies := map[string][]float64{}
	for _, r := range records {
		if e := r.head.energy; e > 0 && !slices.Contains(energies[r.head.name], e) {
			energies[r.head.name] = append(energies[r.head.name], e)
		}
	}
	several = map[string]bool{}
	for i := range records {
		switch h := &records[i].head; len(energies[h.name]) {
		case 0:
		case 1:
			h.energy = energies[h.name][0]
		default:
			several[h.name] = true
		}
	}
	return several
}

// grouped puts records of one head and modifier together, in order. Modifiers of
// one kind and size are one, unless lights call them by two names of the gear.
func grouped(records []Record) []*Output {
	type pair struct {
		head headID
		id   modifierID
	}
	names := map[pair][]string{}
	for _, r := range records {
		p := pair{r.head, r.id.unnamed()}
		if r.id.gear != "" && !slices.Contains(names[p], r.id.gear) {
			names[p] = append(names[p], r.id.gear)
		}
	}
	at := map[pair]*Output{}
	var list []*Output
	for _, r := range records {
		p := pair{r.head, r.id.unnamed()}
		named := names[p]
		if len(named) > 1 {
			p.id = r.id
		} else if len(named) == 1 {
			r.id.gear = named[0]
		}
		o := at[p]
		if o == nil {
			o = &Output{id: p.id, gear: r.id.gear, split: len(named) > 1}
			at[p] = o
			list = append(list, o)
		}
		o.Records = append(o.Records, r)
	}
	return list
}

// settle works out what the records of one head and modifier come to.
func (o *Output) settle(units setup.Units) {
	first := o.Records[0]
	o.head, o.Head, o.Modifier, o.light = first.head, first.name, o.id.text(first.mod, units), shapeOf(first.mod)
	if first.head.energy > 0 {
		o.EnergyWs = &first.head.energy
	}
	var lines, lights []float64
	for _, r := range o.Records {
		if r.Written {
			lines = append(lines, r.Av)
		} else {
			lights = append(lights, r.Av)
		}
	}
	o.Written = len(lines) > 0
	if o.Written {
		o.Av = median(lines)
	} else {
		o.Av = median(lights)
	}
	for i := range o.Records {
		o.Records[i].Off = o.Records[i].Av - o.Av
	}
	if far := o.furthest(); len(o.Records) > 1 {
		spread := math.Abs(far.Off)
		o.Spread = &spread
	}
}

// median of one or more; of an even number the middle of the two in the middle.
func median(list []float64) float64 {
	s := slices.Sorted(slices.Values(list))
	return (s[(len(s)-1)/2] + s[len(s)/2]) / 2
}

// furthest is the record furthest from Av, the first of those as far.
func (o *Output) furthest() *Record {
	far := &o.Records[0]
	for i := range o.Records {
		if math.Abs(o.Records[i].Off) > math.Abs(far.Off)+1e-9 {
			far = &o.Records[i]
		}
	}
	return far
}

// Furthest is the record that disagrees most; nil where none can be told: with
// one record, and with two lights, of which either may be the one that is wrong.
func (o *Output) Furthest() *Record {
	if len(o.Records) < 2 || len(o.Records) == 2 && o.Records[0].Written == o.Records[1].Written {
		return nil
	}
	return o.furthest()
}

// Lights counts the records that are lights of a setup, and the setups they are
// in; the others are lines of "output".
func (o *Output) Lights() (lights, setups int) {
	files := map[string]bool{}
	for _, r := range o.Records {
		if !r.Written {
			lights++
			files[r.Pos.File] = true
		}
	}
	return lights, len(files)
}

// OfLights is what the lights alone say, whatever the gear file does.
func (o *Output) OfLights() (av float64, ok bool) {
	var lights []float64
	for _, r := range o.Records {
		if !r.Written {
			lights = append(lights, r.Av)
		}
	}
	if len(lights) == 0 {
		return 0, false
	}
	return median(lights), true
}
